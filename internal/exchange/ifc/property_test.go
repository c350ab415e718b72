package ifc_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/exchange/ifc"
	"nogging/internal/geom"
	"nogging/internal/plan"
)

// A wall that stands anywhere, turned anyhow, on a storey anywhere, drawn in
// any unit, upright or upside down, by a box or by its faces, with or without
// an axis, comes out where it stands, with its openings.
func TestAnyWall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]string{"mm", "m", "in", "ft"}).Draw(t, "unit")
		k := map[string]float64{"mm": 1, "m": 1e-3, "in": 1 / 25.4, "ft": 1 / 304.8}[unit] // units in a millimetre
		size := func(name string, least, most int) float64 { return float64(rapid.IntRange(least, most).Draw(t, name)) }
		angle := func(name string) float64 { return size(name, 0, 3599) / 1800 * math.Pi }
		turn, siteTurn := angle("wall turn"), angle("site turn")
		x, y, z := size("x", -20000, 20000), size("y", -20000, 20000), size("storey", -9000, 30000)
		length, thickness, height := size("length", 2200, 15000), size("thickness", 75, 340), size("height", 2300, 5000)
		down := rapid.Bool().Draw(t, "upside down")
		faces := rapid.Bool().Draw(t, "by its faces")
		axis := rapid.Bool().Draw(t, "with an axis")
		// Openings side by side: each takes 100 mm of wall and 1000 mm of hole.
		n := rapid.IntRange(0, int(length-100)/1100).Draw(t, "openings")

		m := newModel(unit)
		site := m.at("", m.place(0, 0, 0, 0, 0, 1, math.Cos(siteTurn), math.Sin(siteTurn), 0))
		m.storey = m.at(site, m.place(0, 0, z*k))
		m.floor = m.put("IFCBUILDINGSTOREY('s',$,'Floor',$,$,%s,$,$,.ELEMENT.,$)", m.storey)
		up, base := 1.0, 0.0
		if down {
			up, base = -1, height // local z points down from the top
		}
		block := func(x0, y0, z0, x1, y1, z1 float64) string {
			if down {
				z0, z1 = height-z1, height-z0
			}
			if faces {
				return m.triangles(x0*k, y0*k, z0*k, x1*k, y1*k, z1*k)
			}
			return m.block(x0*k, y0*k, z0*k, x1*k, y1*k, z1*k)
		}
		line := ""
		if axis {
			line = m.polyline([]float64{0, 0}, []float64{length * k, 0})
		}
		w := m.wall(m.place(x*k, y*k, base*k, 0, 0, up, math.Cos(turn), math.Sin(turn), 0), m.shape(line, block(0, 0, 0, length, thickness, height)))
		m.put("IFCRELASSOCIATESMATERIAL('m',$,$,$,(%s),%s)", w, m.put("IFCMATERIAL('Drywall',$,$)"))
		var want []plan.Opening
		for i := range n {
			at := 100 + float64(i)*1100
			sill := float64(i%3) * 400
			m.opening(w, block(at, -20, sill, at+1000, thickness+20, 2100))
			want = append(want, plan.Opening{Kind: plan.Bare, At: mm(at), Width: mm(1000), Sill: mm(sill), Height: mm(2100 - sill)})
		}

		p, _, found := ifc.Options{}.Read("any.ifc", m.bytes())
		if len(p.Walls) != 1 {
			t.Fatalf("%d walls: %v", len(p.Walls), found)
		}
		got := p.Walls[0]
		start, end := place(siteTurn, turn, x, y, 0, up*thickness/2), place(siteTurn, turn, x, y, length, up*thickness/2)
		if far(got.Line[0], start) > 0.02 { // without an axis a wall may run either way
			start, end = end, start
			for i := range want {
				want[i].At = mm(length) - want[i].At - want[i].Width
			}
			slices.Reverse(want)
		}
		if far(got.Line[0], start) > 0.02 || far(got.Line[1], end) > 0.02 {
			t.Errorf("stands at %v, want %v to %v", got.Line, start, end)
		}
		same(t, "thickness", got.Thickness, mm(thickness))
		same(t, "height", got.Height, mm(height))
		same(t, "floor", p.Levels[0].Elevation, mm(z))
		if len(got.Openings) != n {
			t.Fatalf("%d openings, want %d: %v", len(got.Openings), n, found)
		}
		for i, o := range got.Openings {
			what := fmt.Sprintf("opening %d", i)
			same(t, what+" at", o.At, want[i].At)
			same(t, what+" width", o.Width, want[i].Width)
			same(t, what+" sill", o.Sill, want[i].Sill)
			same(t, what+" height", o.Height, want[i].Height)
		}
	})
}

// place returns where a point of a wall's own axes lies in plan.
func place(site, turn, x, y, u, v float64) plan.Pt {
	sin, cos := math.Sincos(turn)
	x, y = x+u*cos-v*sin, y+u*sin+v*cos
	sin, cos = math.Sincos(site)
	return plan.Pt{X: mm(x*cos - y*sin), Y: mm(x*sin + y*cos)}
}

// far returns how far apart two points are, in mm.
func far(a, b plan.Pt) float64 { return geom.Point(a).Dist(geom.Point(b)).MM() }

func same(t *rapid.T, what string, got, want plan.Length) {
	if (got - want).Abs() > mm(0.02) {
		t.Errorf("%s: %s mm, want %s mm", what, got, want)
	}
}
