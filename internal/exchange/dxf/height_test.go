package dxf

import (
	"testing"
)

// Words in the ways of several countries, common practice.
func TestHeightWords(t *testing.T) {
	for text, want := range map[string]float64{
		"H=2.70": 2700, "RH 2,70 m": 2700, "LH: 2.75m": 2750, "CH 2700": 2700, "h. 270": 2700, "OFFICE 12 H=3.00 m": 3000, "LRH 265 cm": 2650, "Höhe 2,50": 2500,
		"H=0.90": 0, "BH 1.20": 0, "H 12": 12000, "HALL 2.70": 0, "DIN 2.70": 0, "H=2.70.1": 0, "R'w 52": 0,
	} {
		g := &recogniser{drawing: &drawing{labels: []label{{text: text}}}}
		got := g.heights()
		if len(got) == 0 != (want == 0) || want > 0 && got[0].Height != length(want) {
			t.Errorf("%q gives %v, want %g", text, got, want)
		}
	}
	g := &recogniser{drawing: &drawing{labels: []label{{text: "OK FF ±0,00"}, {text: "UK RD +2,62"}}}}
	if got := g.heights(); len(got) != 1 || got[0].Height != length(2620) {
		t.Errorf("got %v", got)
	}
}

// What words tell most often is the level's height; a room with another one is told.
func TestHeights(t *testing.T) {
	text := func(x float64, s string) []any { return []any{0, "TEXT", 8, "T", 10, x, 20, 1000, 40, 100, 1, s} }
	data := entities(append(append(append(room(1), text(9000, "H=2.60")...), text(9500, "H=2.60")...), text(2000, "RH 2,40 m")...)...)
	p, stats, found := Mapping{Unit: "mm"}.Read("x.dxf", data)
	if p.Levels[0].ClearHeight != length(2600) || len(stats.Heights) != 3 {
		t.Fatalf("%s, %v", p.Levels[0].ClearHeight, stats.Heights)
	}
	told := false
	for _, f := range found {
		told = told || f.Code == "dxf-room-height" && f.Object == p.Rooms[0].ID
	}
	if !told {
		t.Errorf("not told: %v", found)
	}
}
