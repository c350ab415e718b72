package order_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	_ "nogging/internal/draws"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/order"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
)

const mm = quantity.Millimetre

// input lays out and measures a plan.
func input(p *plan.Plan, cat *catalogue.Catalogue, overrides plan.Overrides) order.Input {
	base, _ := cat.PracticeByID("metric")
	pr, found := base.With(overrides)
	if len(found) > 0 {
		panic(found)
	}
	l := layout.Of(p, cat, &pr)
	return order.Input{Plan: p, Layout: l, Takeoff: takeoff.Of(p, l, cat, &pr), Catalogue: cat, Practice: &pr}
}

// reference is the reference wall of handbooks: 4.00 x 2.75 m, studs at 625, one
// layer of boards 1250 mm wide a face.
func reference(extra ...plan.Wall) *plan.Plan {
	return &plan.Plan{
		Levels:   []plan.Level{{ID: "L0", ClearHeight: 2750 * mm}, {ID: "L1", ClearHeight: 2750 * mm}},
		BuildUps: []plan.BuildUp{{ID: "plain", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: []string{"GKB-12.5x1250"}, Insulation: []plan.Insulation{{Product: "MW-60"}}}},
		Walls:    append([]plan.Wall{wall("L0-01", "L0", 0)}, extra...),
	}
}

func wall(id, level string, y quantity.Length) plan.Wall {
	return plan.Wall{ID: id, Level: level, BuildUp: "plain", Start: plan.ToStructure, End: plan.ToStructure, Line: []plan.Pt{{Y: y}, {X: 4000 * mm, Y: y}}}
}

var handbook = plan.Overrides{"stud_spacing": 625, "stud_shortfall": 0, "board_shortfall": 0, "board_floor_gap": 0}

// TestReferenceWall: per wall of 11.0 m² the geometry gives UW 8.00 m, CW 22.00 m
// (eight studs) and boards 22.0 m², which are the consumption tables of handbooks
// (0.7 m, 2.0 m and 2.0 m² per m²). Bought, by hand: two tracks out of bars of 4 m
// and eight studs out of bars of 2.75 m; a face takes three boards and a strip of
// 250 mm, 22.0 m² with 7.5 % waste are 23.65 m², 6.88 boards of 3.4375 m², so 7.
func TestReferenceWall(t *testing.T) {
	cat := catalogue.Shipped()
	o := order.Of(input(reference(), cat, handbook))
	want := []struct {
		product, size string
		net           float64
		packs         int
		bought        float64
	}{
		{"UW75", "4000", 8, 3, 12}, // 4 % waste on 8 m is a third bar until a cutting plan says better
		{"CW75", "2750", 22, 9, 24.75},
		{"GKB-12.5x1250", "1250 x 2750", 22, 7, 7 * 1.25 * 2.75},
	}
	for _, w := range want {
		l := line(t, o.Lines, w.product, w.size)
		if math.Abs(l.Net-w.net) > 1e-9 || l.Packs != w.packs || math.Abs(l.Bought-w.bought) > 1e-9 {
			t.Errorf("%s: net %v, %d packs, bought %v; want %+v", w.product, l.Net, l.Packs, l.Bought, w)
		}
	}
	board := line(t, o.Lines, "GKB-12.5x1250", "1250 x 2750")
	if want := 7 * 1.25 * 2.75 * 8.5; math.Abs(board.Mass-want) > 1e-9 || math.Abs(board.Volume-want/8.5*0.0125) > 1e-9 {
		t.Errorf("boards weigh %v kg and take %v m³", board.Mass, board.Volume)
	}
}

// TestCuttingPlan: where a cutting plan says what to buy, no percentage is added,
// and offcuts that it keeps are not waste.
func TestCuttingPlan(t *testing.T) {
	cat := catalogue.Shipped()
	in := input(reference(), cat, handbook)
	in.Cuts = []order.Cut{
		{Zone: "L0", Product: "UW75", Stock: order.Size{Length: 4000 * mm}, Count: 2, Net: 8, Method: "cutting plan, proven least"},
		{Zone: "L0", Product: "GKB-12.5x1250", Stock: order.Size{Length: 2750 * mm, Width: 1250 * mm}, Count: 7, Net: 22, Kept: 1.5, Method: "cutting plan"},
	}
	o := order.Of(in)
	if l := line(t, o.Lines, "UW75", "4000"); l.Packs != 2 || l.Gross != 8 || l.Surplus != 0 || l.Rule != "cutting plan, proven least" {
		t.Errorf("tracks: %+v", l)
	}
	l := line(t, o.Lines, "GKB-12.5x1250", "1250 x 2750")
	if l.Packs != 7 || math.Abs(l.Surplus-1.5) > 1e-9 {
		t.Errorf("boards: %+v", l)
	}
	gypsum := o.Waste[0]
	if want := (7*1.25*2.75 - 1.5 - 22) * 8.5; gypsum.Name != "gypsum board" || math.Abs(gypsum.Mass-want) > 1e-9 {
		t.Errorf("%.3f kg of gypsum waste, want %.3f", gypsum.Mass, want)
	}
}

// TestNoTwoFromOne: pieces longer than half a bar need one each, however little a
// percentage of waste would buy.
func TestNoTwoFromOne(t *testing.T) {
	p := reference()
	p.Walls[0].Line[1].X = 10 * quantity.Metre
	p.Levels[0].ClearHeight = 2550 * mm // of 17 studs, 43.35 m, or 15.8 bars of 2.75 m
	over := plan.Overrides{"stud_spacing": 625, "stud_shortfall": 0, "board_shortfall": 0, "board_floor_gap": 0, "waste_profiles": 0, "waste_boards": 0}
	o := order.Of(input(p, catalogue.Shipped(), over))
	for _, l := range o.Lines {
		if l.Product == "CW75" && (l.Packs != 17 || l.Size.Length < 2550*mm) {
			t.Errorf("17 studs of 2550 mm: %d bars of %s", l.Packs, l.Size)
		}
	}
}

// TestPacksAddUp: what is left of one call-off is used in the next, so a box of
// screws is bought once for two levels that need a third of it each.
func TestPacksAddUp(t *testing.T) {
	o := order.Of(input(reference(wall("L1-01", "L1", 0)), catalogue.Shipped(), handbook))
	if len(o.Zones) != 2 {
		t.Fatalf("%d zones", len(o.Zones))
	}
	first, second := line(t, o.Zones[0].Lines, "SP-3.5x25", ""), line(t, o.Zones[1].Lines, "SP-3.5x25", "")
	if first.Packs != 1 || second.Packs != 0 || first.Net != second.Net || first.Net < 200 {
		t.Errorf("boxes %d and %d for %v and %v screws", first.Packs, second.Packs, first.Net, second.Net)
	}
	if want := 1000 - 2*1.05*first.Net; math.Abs(second.Surplus-want) > 1e-9 {
		t.Errorf("%v screws are left, want %v", second.Surplus, want)
	}
}

// TestSums: the call-offs of zones sum to the order in every column, whatever the
// walls; nothing is bought short; and take-off and order agree on what is measured.
func TestSums(t *testing.T) {
	cat := catalogue.Shipped()
	rapid.Check(t, func(t *rapid.T) {
		p := plantest.Offices(rapid.IntRange(1, 12).Draw(t, "walls"))
		for i := range p.Walls {
			p.Walls[i].Zone = rapid.SampledFrom([]string{"", "east", "west"}).Draw(t, "zone")
		}
		in := input(p, cat, nil)
		o := order.Of(in)
		if err := addUp(o); err != "" {
			t.Fatal(err)
		}
		net := map[string]float64{}
		for _, l := range o.Lines {
			net[l.Product] += l.Net
			if l.Bought+1e-6 < l.Gross && l.Size.Length == 0 {
				t.Fatalf("%s: %v bought of %v", l.Product, l.Bought, l.Gross)
			}
		}
		for _, l := range in.Takeoff.Total {
			if _, ok := cat.Product(l.Code); ok && math.Abs(net[l.Code]-l.Quantity) > 1e-6 {
				t.Fatalf("%s: take-off %v, order %v", l.Code, l.Quantity, net[l.Code])
			}
		}
	})
}

// addUp says in which column zones do not sum to the order.
func addUp(o *order.Order) string {
	type columns struct{ net, gross, bought, mass, volume, packs, pallets float64 }
	of := func(l *order.Line) columns {
		return columns{l.Net, l.Gross, l.Bought, l.Mass, l.Volume, float64(l.Packs), float64(l.Pallets)}
	}
	sums := map[order.Key]columns{}
	mass := 0.0
	for _, z := range o.Zones {
		mass += z.Mass
		for i := range z.Lines {
			l := &z.Lines[i]
			s, c := sums[l.Key()], of(l)
			sums[l.Key()] = columns{s.net + c.net, s.gross + c.gross, s.bought + c.bought, s.mass + c.mass, s.volume + c.volume, s.packs + c.packs, s.pallets + c.pallets}
			if l.Packs < 0 || l.Surplus < -1e-6 {
				return fmt.Sprintf("%s in %s: %d packs, %v left", l.Product, z.ID, l.Packs, l.Surplus)
			}
		}
	}
	for i := range o.Lines {
		l := &o.Lines[i]
		s, c := sums[l.Key()], of(l)
		for _, d := range []float64{s.net - c.net, s.gross - c.gross, s.bought - c.bought, s.mass - c.mass, s.volume - c.volume, s.packs - c.packs, s.pallets - c.pallets} {
			if math.Abs(d) > 1e-6 {
				return fmt.Sprintf("%s: zones %v, order %v", l.Product, s, c)
			}
		}
	}
	if len(sums) != len(o.Lines) || math.Abs(mass-o.Mass) > 1e-6 {
		return fmt.Sprintf("%d lines in zones, %d in the order; %v and %v kg", len(sums), len(o.Lines), mass, o.Mass)
	}
	return ""
}

// TestCarbon: figures of OEKOBAUDAT 2020-II. 2 m² of fire board 12.5 mm of 10 kg/m²
// are 3.0826 kg CO2 eq.; 1 m² of 40 mm wool of 26.25 kg/m³ is 1.6122; 2.207 kg of
// steel are 5.9066.
func TestCarbon(t *testing.T) {
	cat := catalogue.Shipped()
	for _, c := range []struct {
		product string
		kg      float64
		want    float64
	}{{"GKF-12.5", 20, 3.0826}, {"MW-40", 26.25 * 0.04, 1.6122}, {"CW75", 2.207, 5.9066}} {
		p, _ := cat.Product(c.product)
		e, ok := cat.CarbonOf(p.Standard, p.Kinds[1])
		if got := c.kg * e.Factor; !ok || math.Abs(got-c.want) > 1e-4 {
			t.Errorf("%s: %.4f kg CO2 eq., want %.4f", c.product, got, c.want)
		}
	}
	o := order.Of(input(reference(), cat, handbook))
	built, waste := 0.0, 0.0
	for _, l := range o.Carbon.Lines {
		built, waste = built+l.Built, waste+l.Waste
	}
	if math.Abs(built-o.Carbon.Built) > 1e-9 || math.Abs(waste-o.Carbon.Waste) > 1e-9 || waste <= 0 {
		t.Errorf("%v and %v in all, lines make %v and %v", o.Carbon.Built, o.Carbon.Waste, built, waste)
	}
}

// TestUsersOwn: a user's packs and carbon factors count before the shipped ones, and
// figures of two data sets in one sum are told.
func TestUsersOwn(t *testing.T) {
	user, found := catalogue.Parse("own.yaml", []byte(`
packs: [{id: our-studs, name: bundle, of: [stud], amount: 10, unit: pcs}]
carbon: [{id: C-STEEL, name: steel, for: [EN 14195], factor: 1}]
`))
	cat, more := catalogue.Shipped().Merge(user)
	if len(found)+len(more) > 0 {
		t.Fatal(found, more)
	}
	o := order.Of(input(reference(), cat, handbook))
	if l := line(t, o.Lines, "CW75", "2750"); l.Packs != 1 || l.Pack != "bundle" || math.Abs(l.Bought-27.5) > 1e-9 || l.Pieces() != 10 {
		t.Errorf("%+v", l)
	}
	if !told(o.Findings, "carbon-mixed", "entered by the user") {
		t.Errorf("%v", o.Findings)
	}
}

// TestBadPacks: what is wrong with a user's packs is said with its
// place.
func TestBadPacks(t *testing.T) {
	for text, path := range map[string]string{
		"packs: [{id: a, name: box, of: [screw], amount: -1, unit: pcs}]":          "packs[0].amount",
		"packs: [{id: a, name: box, of: [], amount: 1, unit: pcs}]":                "packs[0].of",
		"packs: [{id: a, name: box, of: [screw], amount: 1, unit: dozen}]":         "packs[0].unit",
		"packs: [{id: a, name: box, of: [screw], amount: 1, unit: pcs, mass: -1}]": "packs[0].pallet",
	} {
		user, found := catalogue.Parse("own.yaml", []byte(text))
		_, more := catalogue.Shipped().Merge(user)
		found = append(found, more...)
		if len(found) != 1 || found[0].Path != path || found[0].Place.Line != 1 || found[0].Fix == "" {
			t.Errorf("%s: %+v", text, found)
		}
	}
}

// TestStacks: 7 boards of 8.5 kg/m² lay 0.58 kN/m² on the floor; a floor of 0.25
// kN/m² carries two (0.167) and not three (0.250 by 9.80665 m/s²: 250.07 Pa), so
// four stacks. A board of 29 kg takes two people by the practice's 25 kg (HSE).
func TestStacks(t *testing.T) {
	p := reference()
	p.Levels[0].Imposed = 0.25
	o := order.Of(input(p, catalogue.Shipped(), handbook))
	s := o.Zones[0].Stacks[0]
	if s.Boards != 7 || math.Abs(s.Load-7*8.5*9.80665/1000) > 1e-9 || s.Most != 2 || s.Stacks != 4 || s.Persons != 2 {
		t.Errorf("%+v", s)
	}
	p.Levels[0].Imposed = 0.05
	if o := order.Of(input(p, catalogue.Shipped(), handbook)); !told(o.Findings, "stack-too-heavy", "carries no board") {
		t.Errorf("%v", o.Findings)
	}
	if o := order.Of(input(reference(), catalogue.Shipped(), plan.Overrides{"lift_limit": 10})); !told(o.Findings, "lift-too-heavy", "kg") || !told(o.Findings, "floor-load-unknown", "floor") {
		t.Errorf("%v", o.Findings)
	}
}

func line(t *testing.T, lines []order.Line, product, size string) order.Line {
	t.Helper()
	for _, l := range lines {
		if l.Product == product && (l.Size.String() == size || size == "") {
			return l
		}
	}
	var all []string
	for _, l := range lines {
		all = append(all, l.Product+" "+l.Size.String())
	}
	t.Fatalf("no %s %s among %v", product, size, all)
	return order.Line{}
}

func told(found finding.List, code, words string) bool {
	return slices.ContainsFunc(found, func(f finding.Finding) bool {
		return f.Code == code && strings.Contains(f.What.String(), words)
	})
}

// What is left of a pack goes to the zone that is built next, whatever the plan's order.
func TestSequence(t *testing.T) {
	p := reference(wall("L1-02", "L1", 9000), wall("L1-03", "L1", 18000))
	p.Walls[1].Zone, p.Walls[2].Zone = "east", "west"
	in := input(p, catalogue.Shipped(), nil)
	plain := order.Of(in)
	if len(plain.Zones) != 3 {
		t.Fatalf("%d zones", len(plain.Zones))
	}
	for _, z := range plain.Zones {
		in.Sequence = append([]string{z.ID}, in.Sequence...)
	}
	turned := order.Of(in)
	for i, z := range turned.Zones {
		if z.ID != in.Sequence[i] {
			t.Errorf("zone %d is %s, want %s", i, z.ID, in.Sequence[i])
		}
	}
	for i := range plain.Lines {
		if plain.Lines[i].Packs != turned.Lines[i].Packs {
			t.Errorf("%s: %d packs, and %d in the other order", plain.Lines[i].Name, plain.Lines[i].Packs, turned.Lines[i].Packs)
		}
	}
}
