package ifc_test

import (
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/exchange/ifc"
	"nogging/internal/geom"
	"nogging/internal/plan"
)

// survey draws a small building: a straight wall with a door, a curved one with a window, a
// bent one, under a sloping slab, with a column and a room. It stands at (x, y) by its
// points, and is moved by (dx, dy) by its placement.
func survey(unit string, x, y, dx, dy, turn float64) []byte {
	k := map[string]float64{"mm": 1, "m": 1e-3}[unit]
	m := newModel(unit)
	cos, sin := polar(0, 0, 1, turn)[0], polar(0, 0, 1, turn)[1]
	site := m.at("", m.place(dx*k, dy*k, 0, 0, 0, 1, cos, sin, 0))
	m.storey = m.at(site, m.place())
	m.floor = m.put("IFCBUILDINGSTOREY('s',$,'Ground floor',$,$,%s,$,$,.ELEMENT.,0.)", m.storey)
	p := func(u, v float64) []float64 { return []float64{(x + u) * k, (y + v) * k} }
	box := func(u0, v0, z0, u1, v1, z1 float64) string {
		return m.extrusion(m.place(0, 0, z0*k), (z1-z0)*k, p(u0, v0), p(u1, v0), p(u1, v1), p(u0, v1))
	}
	drywall := func(w string) {
		m.put("IFCRELASSOCIATESMATERIAL('m',$,$,$,(%s),%s)", w, m.put("IFCMATERIAL('Drywall',$,$)"))
	}
	straight := m.wall(m.place(), m.shape(m.polyline(p(0, 0), p(5000, 0)), box(0, -50, 0, 5000, 50, 2600)))
	drywall(straight)
	m.door(m.opening(straight, box(1000, -80, 0, 1900, 80, 2100)), 900*k, 2100*k)
	c := p(0, 4000)
	curved := m.wall(m.place(), m.shape(m.arc(c[0], c[1], 3000*k, 10, 100, "T"), m.upright(m.sector(c[0], c[1], 2950*k, 3050*k, 10, 100), 0, 2600*k)))
	drywall(curved)
	m.opening(curved, m.upright(m.sector(c[0], c[1], 2900*k, 3100*k, 30, 45), 900*k, 1000*k))
	axis := m.polyline(p(9000, 0), p(9000, 3000), p(12000, 5000))
	drywall(m.wall(m.place(), m.shape(axis, m.upright(m.put("IFCCENTERLINEPROFILEDEF(.AREA.,$,%s,%s)", axis, real(100*k)), 0, 2600*k))))
	drywall(m.wall(m.place(), m.body(m.triangles((x+2000)*k, (y-3000)*k, 0, (x+2100)*k, (y-500)*k, 2600*k))))
	slab := m.put("IFCBOOLEANRESULT(.DIFFERENCE.,%s,%s)", box(-4000, -4000, 2000, 4000, 8000, 3000),
		m.put("IFCHALFSPACESOLID(%s,.F.)", m.put("IFCPLANE(%s)", m.place(p(0, 0)[0], p(0, 0)[1], 2300*k, -0.1, 0.05, -1, 1, 0, 0))))
	m.contain(m.put("IFCSLAB('l',$,'Slab',$,$,%s,%s,$,.ROOF.)", m.at(m.storey, m.place()), m.body(slab)))
	m.contain(m.put("IFCCOLUMN('k',$,'Column',$,$,%s,%s,'t',.COLUMN.)", m.at(m.storey, m.place()), m.body(box(7000, 7000, 0, 7300, 7400, 2600))))
	space := m.put("IFCSPACE('r',$,'101',$,$,%s,%s,'Office',.ELEMENT.,.SPACE.,$)", m.at(m.storey, m.place()), m.body(box(100, 100, 0, 4000, 3000, 2600)))
	m.put("IFCRELAGGREGATES('a',$,$,$,%s,(%s))", m.floor, space)
	return m.bytes()
}

// A building at real-world coordinates, given in its placement, in its points or in both,
// comes out as it does at the origin, within 0.1 mm.
func TestFarAway(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]string{"mm", "m"}).Draw(t, "unit")
		turn := float64(rapid.IntRange(0, 359).Draw(t, "turn"))
		east, north := float64(rapid.IntRange(-7e9, 7e9).Draw(t, "east")), float64(rapid.IntRange(-7e9, 7e9).Draw(t, "north"))
		var far []byte
		switch rapid.IntRange(0, 2).Draw(t, "by") {
		case 0:
			far = survey(unit, 0, 0, east, north, turn)
		case 1:
			far = survey(unit, east, north, 0, 0, turn)
		default: // the placement brings the points back
			o := polar(0, 0, 1, turn)
			far = survey(unit, east, north, -(east*o[0] - north*o[1]), -(east*o[1] + north*o[0]), turn)
		}
		want, _, _ := ifc.Options{}.Read("near.ifc", survey(unit, 0, 0, 0, 0, turn))
		got, _, found := ifc.Options{}.Read("far.ifc", far)
		if len(want.Walls) != 5 || len(got.Walls) != len(want.Walls) || len(got.Structure) != len(want.Structure) || len(got.Rooms) != len(want.Rooms) {
			t.Fatalf("%d walls, %d far away: %v", len(want.Walls), len(got.Walls), found)
		}
		move := geom.Point(got.Walls[0].Line[0]).Sub(geom.Point(want.Walls[0].Line[0]))
		apart := func(what string, a, b plan.Pt) {
			if off := geom.Point(a).Sub(move).Dist(geom.Point(b)); off > mm(0.1) {
				t.Errorf("%s lies %s mm off", what, off)
			}
		}
		close := func(what string, a, b plan.Length) {
			if (a - b).Abs() > mm(0.1) {
				t.Errorf("%s: %s mm, at the origin %s mm", what, a, b)
			}
		}
		for i, w := range want.Walls {
			g := got.Walls[i]
			for k := range w.Line {
				apart(w.ID, g.Line[k], w.Line[k])
			}
			if w.Via != nil {
				apart(w.ID+" via", *g.Via, *w.Via)
			}
			close(w.ID+" thickness", g.Thickness, w.Thickness)
			close(w.ID+" height", g.Height, w.Height)
			if len(g.Heights) != len(w.Heights) || len(g.Openings) != len(w.Openings) {
				t.Fatalf("%s: %+v, at the origin %+v", w.ID, g, w)
			}
			for k, h := range w.Heights {
				close(w.ID+" heights at", g.Heights[k].At, h.At)
				close(w.ID+" heights", g.Heights[k].Height, h.Height)
			}
			for k, o := range w.Openings {
				close(w.ID+" opening at", g.Openings[k].At, o.At)
				close(w.ID+" opening's width", g.Openings[k].Width, o.Width)
				close(w.ID+" opening's height", g.Openings[k].Height, o.Height)
			}
		}
		for i, s := range want.Structure {
			for k, c := range s.Outline {
				apart(s.ID, got.Structure[i].Outline[k], c)
			}
		}
		for k, c := range want.Rooms[0].Outline {
			apart("room", got.Rooms[0].Outline[k], c)
		}
	})
}
