package dxf

import (
	"strings"
	"testing"
)

// renamed gives layers of a drawing names that say nothing.
func renamed(data []byte, names ...string) []byte {
	return []byte(strings.NewReplacer(names...).Replace(string(data)))
}

// Layers whose names say nothing are told by what lies on them.
func TestRanked(t *testing.T) {
	var all []any
	for i := range 3 {
		x := float64(4200 * i)
		for _, g := range [][4]float64{
			{0, 0, 1000, 0}, {1900, 0, 4200, 0}, {100, 100, 1000, 100}, {1900, 100, 4100, 100}, {1000, 0, 1000, 100}, {1900, 0, 1900, 100},
			{4200, 0, 4200, 3200}, {4100, 100, 4100, 3100}, {4200, 3200, 0, 3200}, {4100, 3100, 100, 3100}, {0, 3200, 0, 0}, {100, 3100, 100, 100},
		} {
			all = append(all, line("L1", x+g[0], g[1], x+g[2], g[3])...)
		}
		all = append(all, 0, "ARC", 8, "L2", 10, x+1000, 20, 100, 40, 900, 50, 0, 51, 90)
		for k := range 8 { // treads
			all = append(all, line("L3", x+500+float64(k)*280, 500, x+500+float64(k)*280, 1500)...)
		}
		all = append(all, append(line("L4", x+500, 2000, x+1300, 2000), line("L4", x+500, 2100, x+1300, 2100)...)...) // a table's edge
	}
	for k := range 40 { // a list beside the plan
		all = append(all, line("L5", 20000, float64(k)*700, 23000, float64(k)*700)...)
	}
	p, stats, _ := Mapping{Unit: "mm"}.Read("mute.dxf", entities(all...))
	for _, l := range stats.Layers {
		if want := map[string]Role{"L1": Wall, "L2": Door, "L3": Other, "L4": Other, "L5": Other}[l.Layer]; l.As != want {
			t.Errorf("layer %s is read as %s, want %s", l.Layer, l.As, want)
		}
	}
	for _, r := range stats.Recognised {
		if r.Kind == "wall" && r.Signs[1] != Pure {
			t.Errorf("%s: %v", r.ID, r.Signs)
		}
	}
	// On one layer, treads and table are told from walls by what hangs together.
	flat := renamed(entities(all...), "L2", "L1", "L3", "L1", "L4", "L1", "L5", "L1")
	q, _, _ := Mapping{Unit: "mm"}.Read("flat.dxf", flat)
	if len(q.Walls) != len(p.Walls) || len(p.Walls) == 0 {
		t.Errorf("%d walls on one layer, %d by themselves", len(q.Walls), len(p.Walls))
	}
}

// Lines at even distances are treads or a pattern, three of them not yet; a line half way
// between two is glazing or an axis.
func TestRowsOfLines(t *testing.T) {
	row := func(n int, step float64) []any {
		var all []any
		for i := range n {
			all = append(all, line("WALL", 0, float64(i)*step, 4000, float64(i)*step)...)
		}
		return all
	}
	for _, c := range []struct {
		name  string
		lines []any
		thick []float64
	}{
		{"treads", row(8, 280), nil},
		{"a wall", row(2, 150), []float64{150}},
		{"with glazing", row(3, 75), []float64{150}},
		{"two walls", append(row(2, 150), append(line("WALL", 0, 3000, 4000, 3000), line("WALL", 0, 3150, 4000, 3150)...)...), []float64{150, 150}},
	} {
		p, _, _ := Mapping{Unit: "mm"}.Read("rows.dxf", entities(c.lines...))
		if len(p.Walls) != len(c.thick) {
			t.Errorf("%s: %d walls, want %d", c.name, len(p.Walls), len(c.thick))
			continue
		}
		for i, w := range p.Walls {
			if w.Thickness != length(c.thick[i]) {
				t.Errorf("%s: %s thick", c.name, w.Thickness)
			}
		}
	}
}

// Axes drawn in dashes are no faces of walls where layers do not tell.
func TestDashes(t *testing.T) {
	all := append(line("X", 0, 0, 4000, 0), line("X", 0, 100, 4000, 100)...)
	for _, y := range []float64{1000, 1100} {
		all = append(all, 0, "LINE", 8, "X", 6, "CENTER2", 10, 0, 20, y, 11, 4000, 21, y)
	}
	for k := range 40 { // so that much else lies on the layer
		all = append(all, line("X", 6000, float64(k)*700, 9000, float64(k)*700)...)
	}
	data := entities(all...)
	p, _, _ := Mapping{Unit: "mm"}.Read("axes.dxf", data)
	if len(p.Walls) != 1 || p.Walls[0].Thickness != length(100) {
		t.Errorf("got %+v", p.Walls)
	}
}
