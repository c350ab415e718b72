package cut

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	_ "nogging/internal/draws"
	"nogging/internal/layout"
	"nogging/internal/quantity"
)

const mm = quantity.Millimetre

// studs is a wall with studs of these lengths in millimetres.
func studs(id, level, product string, lengths ...int) *layout.Wall {
	w := &layout.Wall{ID: id, Level: level}
	for i, l := range lengths {
		w.Members = append(w.Members, layout.Member{Role: layout.Stud, Number: i + 1, Product: product, Cut: Length(l) * mm})
	}
	return w
}

func twoProfiles() *catalogue.Catalogue {
	return &catalogue.Catalogue{Profiles: []catalogue.Profile{
		{ID: "CW75", Name: "stud", Lengths: []Length{3000 * mm, 4000 * mm}},
		{ID: "UW75", Name: "track", Lengths: []Length{4000 * mm}},
	}}
}

// check trusts nothing: every member is cut once, bars are of lengths there are and
// hold their pieces, and the sums are those of the bars.
func check(walls []*layout.Wall, cat *catalogue.Catalogue, yard Yard, plans []Profile) error {
	want := map[string]Length{}
	for _, w := range walls {
		for i := range w.Members {
			want[w.ID+"/"+w.Members[i].Mark()] = w.Members[i].Cut
		}
	}
	for _, p := range plans {
		product, _ := cat.Profile(p.Product)
		var needed, bought, reused, kept, waste Length
		store := map[Length]int{}
		for _, o := range yard.Offcuts {
			if o.Product == p.Product {
				store[o.Length] += o.Count
			}
		}
		for i, b := range append(slices.Clone(p.Bars), p.Spare...) {
			used := 2 * yard.Trim
			for j, x := range b.Pieces {
				mark := x.Wall + "/" + x.Mark
				if l, ok := want[mark]; !ok || l != x.Length {
					return fmt.Errorf("%s is cut to %s, needed is %s", mark, x.Length, l)
				}
				delete(want, mark)
				used += x.Length
				needed += x.Length
				if j > 0 {
					used += yard.Kerf
				}
			}
			if b.Kept != nil {
				used += yard.Kerf
				kept += b.Rest
			}
			if used+b.Rest != b.Length || b.Rest < 0 {
				return fmt.Errorf("bar %d of %s: %s used and %s left of %s", i, p.Product, used, b.Rest, b.Length)
			}
			if b.Kept != nil && b.Rest < yard.Keep || b.Kept == nil && yard.Keep > 0 && b.Rest-yard.Kerf >= yard.Keep {
				return fmt.Errorf("bar %d of %s: a rest of %s is kept: %v", i, p.Product, b.Rest, b.Kept != nil)
			}
			switch b.Source {
			case FromOffcut:
				if store[b.Length]--; store[b.Length] < 0 {
					return fmt.Errorf("an offcut of %s is used that is not there", b.Length)
				}
				reused += b.Length
			case FromStock:
				if !slices.Contains(product.Lengths, b.Length) {
					return fmt.Errorf("%s is not sold in %s", p.Product, b.Length)
				}
				bought += b.Length
			default:
				bought += b.Length
			}
		}
		waste = bought + reused - needed - kept
		if needed != p.Needed || bought != p.Bought || reused != p.Reused || kept != p.Kept || waste != p.Waste {
			return fmt.Errorf("%s: the sums are not those of the bars: %+v", p.Product, p)
		}
		if p.Bound > p.Cost || p.Gap() < 0 {
			return fmt.Errorf("%s: bound %d, cost %d", p.Product, p.Bound, p.Cost)
		}
	}
	for mark := range want {
		return fmt.Errorf("%s is not cut", mark)
	}
	return nil
}

func TestProfiles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cat := twoProfiles()
		length := func(name string, from, to int) Length {
			return Length(rapid.IntRange(from*2, to*2).Draw(t, name)) * mm / 2
		}
		yard := Yard{Kerf: length("kerf", 0, 4), Trim: length("trim", 0, 10), Keep: length("keep", 0, 600), Effort: 2_000_000}
		for range rapid.IntRange(0, 2).Draw(t, "offcuts") {
			yard.Offcuts = append(yard.Offcuts, Offcut{Product: "CW75", Length: length("offcut", 400, 2000), Count: rapid.IntRange(1, 3).Draw(t, "count")})
		}
		if rapid.Bool().Draw(t, "made") {
			yard.Made = map[string]Made{"CW75": {2000 * mm, 6000 * mm, 5 * mm, 10, 100}}
		}
		var walls []*layout.Wall
		for i := range rapid.IntRange(1, 3).Draw(t, "walls") {
			id := []string{"CW75", "UW75"}[rapid.IntRange(0, 1).Draw(t, "product")]
			walls = append(walls, studs(fmt.Sprint("W", i), "L0", id, rapid.SliceOfN(rapid.IntRange(50, 2900), 1, 8).Draw(t, "lengths")...))
		}
		plans, found := Profiles(context.Background(), walls, cat, yard)
		if len(found) > 0 {
			t.Fatal(found)
		}
		if err := check(walls, cat, yard, plans); err != nil {
			t.Fatal(err)
		}
	})
}

// What the first zone leaves is used in the second, and both say so; the third finds
// nothing left. Zones are built in the order that is given, not as their walls stand.
func TestZones(t *testing.T) {
	walls := []*layout.Wall{studs("L1-01", "L1", "UW75", 1300), studs("L1-02", "L1 east", "UW75", 1300), studs("L0-01", "L0", "UW75", 2600)}
	zones := Zones(context.Background(), walls, twoProfiles(), Yard{Kerf: 3 * mm, Keep: 500 * mm, Order: []string{"L0", "L1"}})
	var ids []string
	for _, z := range zones {
		ids = append(ids, z.ID)
	}
	if !slices.Equal(ids, []string{"L0", "L1", "L1 east"}) {
		t.Fatal(ids)
	}
	first, second, third := zones[0].Profiles[0], zones[1].Profiles[0], zones[2].Profiles[0]
	if first.Kept != 1397*mm || second.Bought != 0 || second.Reused != 1397*mm || third.Bought != 4000*mm {
		t.Errorf("kept %s, then bought %s and reused %s, then bought %s", first.Kept, second.Bought, second.Reused, third.Bought)
	}
	want := Kept{Mark: "R01", Zone: "L0", Bar: 1, Stock: 4000 * mm, To: "L1", ToBar: 1}
	if first.Bars[0].Kept == nil || *first.Bars[0].Kept != want || second.Bars[0].From != first.Bars[0].Kept {
		t.Errorf("kept as %+v, used as %+v", first.Bars[0].Kept, second.Bars[0].From)
	}
	var out bytes.Buffer
	if err := WriteCSV(&out, zones); err != nil {
		t.Fatal(err)
	}
	for _, row := range []string{
		`L0,UW75,1,stock,4000,,,rest kept,1397,"R01 to L1, bar 1"`,
		`L1,UW75,1,offcut,1397,L1-01,S01,stud,1300,"R01 from L0, bar 1"`,
		`L1 east,UW75,1,stock,4000,,,rest kept,2697,R02 to store`,
	} {
		if !bytes.Contains(out.Bytes(), []byte(row+"\n")) {
			t.Errorf("no row %s in\n%s", row, out.String())
		}
	}
}

func TestTooLong(t *testing.T) {
	walls := []*layout.Wall{studs("W1", "L0", "UW75", 4001), studs("W2", "L0", "CW75", 2000)}
	plans, found := Profiles(context.Background(), walls, twoProfiles(), Yard{})
	if len(plans) != 1 || len(found) != 1 || found[0].Code != "cut-impossible" || found[0].Fix == "" {
		t.Errorf("%v, %v", plans, found)
	}
}

func TestMade(t *testing.T) {
	var lengths []int
	for range 60 {
		lengths = append(lengths, 2735)
	}
	walls := []*layout.Wall{studs("W1", "L0", "CW75", lengths...)}
	yard := Yard{Made: map[string]Made{"CW75": {2000 * mm, 6000 * mm, 5 * mm, 50, 102}}}
	plans, _ := Profiles(context.Background(), walls, twoProfiles(), yard)
	p := plans[0]
	if p.Bars[0].Source != ToMeasure || p.Waste != 0 || p.Gap() > 0.0201 {
		t.Errorf("%+v with gap %v", p.Bars[0], p.Gap())
	}
}

func TestWriteCSV(t *testing.T) {
	walls := []*layout.Wall{studs("W1", "L0", "CW75", 2600, 350)}
	var out bytes.Buffer
	if err := WriteCSV(&out, Zones(context.Background(), walls, twoProfiles(), Yard{})); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{
		{"zone", "profile", "bar", "source", "bar_mm", "wall", "mark", "role", "piece_mm", "offcut"},
		{"L0", "CW75", "1", "stock", "3000", "W1", "S01", "stud", "2600", ""},
		{"L0", "CW75", "1", "stock", "3000", "W1", "S02", "stud", "350", ""},
		{"L0", "CW75", "1", "stock", "3000", "", "", "rest", "50", ""},
	}
	if !slices.EqualFunc(rows, want, slices.Equal[[]string]) {
		t.Errorf("%q", rows)
	}
}
