package catalogue

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/quantity"
)

// The products of a practice are those of its standards and of none.
func TestFor(t *testing.T) {
	p := practice(t, "us")
	c := Shipped().For(p)
	if len(c.Practices) != 1 || c.Practices[0].ID != "us" || !c.Known(KindBoard, "GWB-0.625") || c.Known(KindBoard, "GKB-12.5") || !c.Known(KindSundry, "ANCHOR-CONCRETE") {
		t.Errorf("%d practices, boards %v", len(c.Practices), c.IDs(KindBoard))
	}
	all := Shipped()
	for _, ids := range [][2]int{{len(c.Boards), len(all.Boards)}, {len(c.Profiles), len(all.Profiles)}, {len(c.Insulation), len(all.Insulation)}, {len(c.Screws), len(all.Screws)}} {
		if ids[0] == 0 || ids[0] >= ids[1] {
			t.Errorf("%d of %d entries", ids[0], ids[1])
		}
	}
}

// Every product has a row that says something in each column that has to.
func TestEntries(t *testing.T) {
	c := Shipped()
	for name, of := range map[string]struct {
		rows []Entry
		n    int
	}{
		"boards": {c.BoardEntries(), len(c.Boards)}, "profiles": {c.ProfileEntries(), len(c.Profiles)}, "insulation": {c.InsulationEntries(), len(c.Insulation)},
		"screws": {c.ScrewEntries(), len(c.Screws)}, "sundries": {c.SundryEntries(), len(c.Sundries)},
	} {
		if len(of.rows) != of.n {
			t.Errorf("%s: %d rows for %d products", name, len(of.rows), of.n)
		}
		for _, e := range of.rows {
			if e.ID == "" || e.Name == "" || e.Sizes == "" || e.Status == "" {
				t.Errorf("%s: %+v", name, e)
			}
		}
	}
	board := Board{
		ID: "B", Name: "Board", Standard: "EN 520", Thickness: quantity.MM(12.5), Width: quantity.MM(1200), Lengths: []Length{quantity.MM(2000), quantity.MM(2500)},
		Source: "EN 520", Status: quantity.Memory,
	}
	want := []Entry{{"B", "Board", "EN 520", "12.5 thick, 1200 wide, 2000/2500 long", "EN 520", quantity.Memory}}
	if diff := cmp.Diff(want, (&Catalogue{Boards: []Board{board}}).BoardEntries()); diff != "" {
		t.Error(diff)
	}
}
