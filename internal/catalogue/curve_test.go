package catalogue

import (
	"strings"
	"testing"

	"nogging/internal/quantity"
)

// Handbook tables for gypsum boards of EN 520 (radii of 12.5 and 9.5 mm boards
// bent along the board) and the table of bending radii in GA-216 give these
// radii; all are from memory.
func TestBendFor(t *testing.T) {
	const ft = quantity.Foot
	for _, c := range []struct {
		practice, board string
		along, wet      Length
	}{
		{"metric", "GKB-6.5", quantity.MM(1000), quantity.MM(300)},
		{"metric", "GKB-9.5", quantity.MM(2000), quantity.MM(500)},
		{"metric", "GKF-12.5", quantity.MM(2750), quantity.MM(1000)},
		{"us", "GWB-0.25", 5 * ft, 2 * ft},
		{"us", "GWB-0.5", 10 * ft, 4 * ft},
		{"us", "GWB-0.625X", 15 * ft, 0},
	} {
		b, ok := Shipped().Board(c.board)
		if !ok {
			t.Fatalf("no board %s", c.board)
		}
		if r, ok := practice(t, c.practice).BendFor(b); !ok || r.Along != c.along || r.AlongWet != c.wet || r.Across <= r.Along {
			t.Errorf("%s bends %v", c.board, r)
		}
	}
	for _, id := range []string{"GKF-25", "CB-12.5", "GF-12.5"} {
		b, _ := Shipped().Board(id)
		if r, ok := practice(t, "metric").BendFor(b); ok {
			t.Errorf("%s bends %v", id, r)
		}
	}
}

// Common practice: the tighter the curve, the closer the studs.
func TestCurveSpacingFor(t *testing.T) {
	for _, id := range []string{"metric", "us"} {
		p := practice(t, id)
		last := Length(0)
		for r := 300; r < 30_000; r += 100 {
			s := p.CurveSpacingFor(quantity.MM(float64(r)), p.StudSpacing.Value)
			if s < last || s > p.StudSpacing.Value {
				t.Fatalf("%s: %s mm at a radius of %d", id, s, r)
			}
			last = s
		}
		if last != p.StudSpacing.Value || p.CurveSpacingFor(quantity.Metre, quantity.MM(120)) != quantity.MM(120) {
			t.Errorf("%s: nearly straight walls have studs at %s mm", id, last)
		}
	}
}

func TestCurveOverrides(t *testing.T) {
	row := func(keys ...any) []any {
		m := map[string]any{}
		for i := 0; i < len(keys); i += 2 {
			m[keys[i].(string)] = keys[i+1]
		}
		return []any{m}
	}
	for _, c := range []struct {
		name  string
		value any
		wrong string
	}{
		{"bending", row("standard", "EN 520", "thickness", 10.0, "along", 1500.0), ""},
		{"bending", row("standard", "EN 520", "along", 1500.0), "row 1 has no standard or thickness"},
		{"bending", row("standard", "EN 520", "thickness", 10.0, "along", 1500.0, "along_wet", 1600.0), "less tightly than dry"},
		{"curve_spacing", row("radius", 3000.0, "spacing", 250.0), ""},
		{"curve_spacing", row("radius", 3000.0, "spacing", 25.0), "closer than 100 mm"},
		{"slit_spacing", 60.0, ""},
		{"slit_spacing", 6.0, "6"},
	} {
		_, found := practice(t, "metric").With(map[string]any{c.name: c.value})
		switch {
		case c.wrong == "" && len(found) > 0:
			t.Errorf("%s: %v", c.name, found)
		case c.wrong != "" && (len(found) != 1 || !strings.Contains(found[0].What.String(), c.wrong)):
			t.Errorf("%s: %v, want %q", c.name, found, c.wrong)
		}
	}
}
