package ifc_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/exchange/ifc"
	"nogging/internal/geom"
	"nogging/internal/plan"
)

// polar is a point at an angle in degrees and a distance from a centre.
func polar(cx, cy, r, degrees float64) []float64 {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return []float64{cx + r*cos, cy + r*sin}
}

// sector adds the profile between two arcs about a point, as one curve of arcs
// and lines.
func (m *model) sector(cx, cy, inner, outer, from, to float64) string {
	mid := (from + to) / 2
	var points []string
	for _, p := range [][]float64{
		polar(cx, cy, outer, from), polar(cx, cy, outer, mid), polar(cx, cy, outer, to),
		polar(cx, cy, inner, to), polar(cx, cy, inner, mid), polar(cx, cy, inner, from),
	} {
		points = append(points, "("+reals(p)+")")
	}
	list := m.put("IFCCARTESIANPOINTLIST2D((%s))", strings.Join(points, ","))
	curve := m.put("IFCINDEXEDPOLYCURVE(%s,(IFCARCINDEX((1,2,3)),IFCLINEINDEX((3,4)),IFCARCINDEX((4,5,6)),IFCLINEINDEX((6,1))),$)", list)
	return m.put("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", curve)
}

func (m *model) upright(profile string, z, height float64) string {
	return m.put("IFCEXTRUDEDAREASOLID(%s,%s,%s,%s)", profile, m.place(0, 0, z), m.dir(0, 0, 1), real(height))
}

// arc adds part of a circle, from one angle to another as the file gives angles.
func (m *model) arc(cx, cy, r, from, to float64, sense string) string {
	circle := m.put("IFCCIRCLE(%s,%s)", m.put("IFCAXIS2PLACEMENT2D(%s,$)", m.pt(cx, cy)), real(r))
	return m.put("IFCTRIMMEDCURVE(%s,(IFCPARAMETERVALUE(%s)),(IFCPARAMETERVALUE(%s)),.%s.,.PARAMETER.)", circle, real(from), real(to), sense)
}

// quarter checks a wall of 5 m radius about (1000, 2000) from 0 to 90 degrees, 100 mm thick.
func quarter(t *testing.T, w *plan.Wall) {
	t.Helper()
	line(t, w, 6000, 2000, 1000, 7000)
	onRing(t, w, 1000, 2000, 5000)
	near(t, "thickness", w.Thickness, 100)
}

func onRing(t *testing.T, w *plan.Wall, cx, cy, r float64) {
	t.Helper()
	arc, ok := w.Arc()
	if !ok {
		t.Fatalf("%s is no arc: %+v", w.ID, w)
	}
	for what, off := range map[string]float64{"radius": arc.Radius.MM() - r, "centre": arc.Centre.Dist(geom.Pt(mm(cx), mm(cy))).MM()} {
		if math.Abs(off) > 0.05 { // the three points are rounded to 0.01 mm
			t.Errorf("%s: %v mm off", what, off)
		}
	}
}

// One wall in all the ways in which its axis and its body can be drawn.
func TestCurvedWall(t *testing.T) {
	body := func(m *model) string { return m.upright(m.sector(1000, 2000, 4950, 5050, 0, 90), 0, 2500) }
	tests := map[string]func(m *model) string{
		"part of a circle":  func(m *model) string { return m.shape(m.arc(1000, 2000, 5000, 0, 90, "T"), body(m)) },
		"over a whole turn": func(m *model) string { return m.shape(m.arc(1000, 2000, 5000, 360, 450, "T"), body(m)) },
		"two parts of a circle": func(m *model) string {
			a, b := m.arc(1000, 2000, 5000, 0, 40, "T"), m.arc(1000, 2000, 5000, 90, 40, "F")
			first := m.put("IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,%s)", a)
			second := m.put("IFCCOMPOSITECURVESEGMENT(.DISCONTINUOUS.,.F.,%s)", b)
			return m.shape(m.put("IFCCOMPOSITECURVE((%s,%s),.F.)", first, second), body(m))
		},
		"through three points": func(m *model) string {
			list := m.put("IFCCARTESIANPOINTLIST2D(((6000.,2000.),(%s),(1000.,7000.)))", reals(polar(1000, 2000, 5000, 30)))
			return m.shape(m.put("IFCINDEXEDPOLYCURVE(%s,(IFCARCINDEX((1,2,3))),$)", list), body(m))
		},
		"axis of chords": func(m *model) string {
			var points [][]float64
			for i := range 19 {
				points = append(points, polar(1000, 2000, 5000, float64(i)*5))
			}
			return m.shape(m.polyline(points...), body(m))
		},
		"no axis": func(m *model) string { return m.body(body(m)) },
		"straight axis": func(m *model) string {
			return m.shape(m.polyline([]float64{6000, 2000}, []float64{1000, 7000}), body(m))
		},
		"faces of ten degrees": func(m *model) string { return m.body(m.bent(1000, 2000, 4950, 5050, 0, 90, 9, 2500)) },
		"axis, and faces of ten degrees": func(m *model) string {
			return m.shape(m.arc(1000, 2000, 5000, 0, 90, "T"), m.bent(1000, 2000, 4950, 5050, 0, 90, 9, 2500))
		},
		"one axis, two halves of a body": func(m *model) string {
			return m.shape(m.arc(1000, 2000, 5000, 0, 90, "T"),
				m.upright(m.sector(1000, 2000, 4950, 5050, 0, 50), 0, 2500), m.upright(m.sector(1000, 2000, 4950, 5050, 50, 90), 0, 2500))
		},
	}
	for name, shape := range tests {
		t.Run(name, func(t *testing.T) {
			m := newModel("mm")
			m.floorAt("Ground floor", 0)
			m.layers(m.wall(m.place(), shape(m)), "POSITIVE", -50, partition...)
			p, stats, found := read(t, m)
			w := only(t, p, found)
			quarter(t, w)
			near(t, "height", w.Height, 2500)
			if doubtful := has(found, "wall-axis", "L1-01"); doubtful != (name == "straight axis") || has(found, "wall-gap", "") {
				t.Error(found)
			}
			if name == "part of a circle" && (stats.Types[0].Axis-mm(2500*math.Pi)).Abs() > mm(0.01) {
				t.Errorf("axis %s", stats.Types[0].Axis)
			}
		})
	}
}

// bent adds a boundary representation of a ring of flat panels.
func (m *model) bent(cx, cy, inner, outer, from, to float64, panels int, height float64) string {
	at := func(r, z float64, i int) []float64 {
		return append(polar(cx, cy, r, from+(to-from)*float64(i)/float64(panels)), z)
	}
	var faces [][][]float64
	var foot, head [][]float64
	for i := 0; i <= panels; i++ {
		foot, head = append(foot, at(outer, 0, i)), append(head, at(outer, height, i))
	}
	for i := panels; i >= 0; i-- {
		foot, head = append(foot, at(inner, 0, i)), append(head, at(inner, height, i))
	}
	for i, a := range foot {
		j := (i + 1) % len(foot)
		faces = append(faces, [][]float64{a, foot[j], head[j], head[i]})
	}
	return m.brep(append(faces, foot, head)...)
}

// A circle runs from 0 to half pi where angles are radians.
func TestCurvedInRadians(t *testing.T) {
	m := newModel("mm")
	m.lines = nil
	length, angle := m.put("IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.)"), m.put("IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.)")
	m.put("IFCPROJECT('p',$,'Test house',$,$,$,$,$,%s)", m.put("IFCUNITASSIGNMENT((%s,%s))", length, angle))
	m.storey = m.at("", m.place())
	m.floorAt("Ground floor", 0)
	w := m.wall(m.place(), m.shape(m.arc(1000, 2000, 5000, 0, math.Pi/2, "T"), m.upright(m.sector(1000, 2000, 4950, 5050, 0, 90), 0, 2500)))
	m.layers(w, "POSITIVE", -50, partition...)
	p, _, found := read(t, m)
	quarter(t, only(t, p, found))
}

// Upside down, the curve turns the other way: left is right. The lining's board
// lies on the right of the axis as drawn, which is on the left seen from above.
func TestCurvedMirrored(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	body := m.upright(m.sector(1000, 2000, 5000, 5070, 0, 90), 0, 2500)
	w := m.wall(m.place(0, 0, 2500, 0, 0, -1, 1, 0, 0), m.shape(m.arc(1000, 2000, 5000, 0, 90, "T"), body))
	m.layers(w, "NEGATIVE", 0, layer{"Metal stud", 50}, layer{"Plasterboard", 20})
	p, _, found := read(t, m)
	got := only(t, p, found)
	// Local +y is global -y: from (6035, -2000) clockwise to (1000, -7035).
	line(t, got, 6035, -2000, 1000, -7035)
	onRing(t, got, 1000, -2000, 5035)
	if b := p.BuildUps[0]; b.Frame.Kind != plan.Lining || got.Via.X < mm(1000) {
		t.Errorf("build-up %+v, via %v", b, got.Via)
	}
	if has(found, "wall-side", "") {
		t.Error(found)
	}
}

// Openings are measured 0.05 mm within the inner face.
//
// A door with parallel sides, 900 mm wide, stands across 45 degrees; a window
// with sides along radii spans 80 to 85 degrees. Widths are clear on the inside.
func TestCurvedOpenings(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	w := m.wall(m.place(), m.shape(m.arc(1000, 2000, 5000, 0, 90, "T"), m.upright(m.sector(1000, 2000, 4950, 5050, 0, 90), 0, 2500)))
	m.layers(w, "POSITIVE", -50, partition...)
	s := math.Sqrt2 / 2
	at := polar(1000, 2000, 5000, 45)
	profile := m.put("IFCRECTANGLEPROFILEDEF(.AREA.,$,$,900.,400.)")
	door := m.put("IFCEXTRUDEDAREASOLID(%s,%s,%s,2100.)", profile, m.place(at[0], at[1], 0, 0, 0, 1, -s, s, 0), m.dir(0, 0, 1))
	m.door(m.opening(w, door), 900, 2100)
	m.opening(w, m.upright(m.sector(1000, 2000, 4800, 5200, 80, 85), 900, 1200))
	p, _, found := read(t, m)
	got := only(t, p, found)
	half := math.Asin(450.0 / 4950.05) // of the door's angle, on the inside
	near(t, "door at", got.Openings[0].At, 5000*(math.Pi/4-half))
	near(t, "door's width", got.Openings[0].Width, 900)
	near(t, "window at", got.Openings[1].At, 5000*math.Pi*80/180)
	near(t, "window's width", got.Openings[1].Width, 2*4950.05*math.Sin(math.Pi*2.5/180))
	near(t, "window's sill", got.Openings[1].Sill, 900)
	if got.Openings[0].Kind != plan.Door || has(found, "opening-size", "") || has(found, "opening-shape", "") {
		t.Error(got.Openings, found)
	}
}

// Under a roof that falls along x by 1 in 4 from 3 m, a curved wall's top falls
// with the cosine of its angle.
func TestCurvedUnderRoof(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Attic", 0)
	body := m.put("IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,%s,%s)", m.upright(m.sector(0, 0, 3950, 4050, 0, 180), 0, 6000), m.halfSpace(0, 3000, 1, 4, false))
	m.layers(m.wall(m.place(), m.shape(m.arc(0, 0, 4000, 0, 180, "T"), body)), "POSITIVE", -50, partition...)
	p, _, found := read(t, m)
	got := only(t, p, found)
	for _, h := range got.Heights {
		want := 3000 - 4000*math.Cos(h.At.MM()/4000)/4
		if math.Abs(h.Height.MM()-want) > 2.2 { // chords lie up to 1 mm inside, the profile up to 0.5 mm off
			t.Errorf("at %s: %s, want %.1f", h.At, h.Height, want)
		}
	}
	if n := len(got.Heights); n < 8 || n > 60 {
		t.Errorf("%d points of the profile", n)
	}
}

// Structure keeps its curve as a line with corners on the arc.
func TestCurvedStructure(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	w := m.wall(m.place(), m.shape(m.arc(1000, 2000, 5000, 0, 90, "T"), m.upright(m.sector(1000, 2000, 4900, 5100, 0, 90), 0, 2500)))
	m.layers(w, "POSITIVE", -100, layer{"Concrete", 200})
	p, stats, found := read(t, m)
	if stats.Structure != 1 || len(p.Structure) != 1 {
		t.Fatal(found)
	}
	s := p.Structure[0]
	near(t, "thickness", s.Thickness, 200)
	for _, c := range s.Line {
		if off := geom.Point(c).Dist(geom.Pt(mm(1000), mm(2000))).MM() - 5000; math.Abs(off) > 0.02 {
			t.Errorf("a corner lies %v mm off", off)
		}
	}
	if n := len(s.Line); n < 10 || n > 40 {
		t.Errorf("%d corners", n)
	}
}

// Any curved wall anywhere, turned anyhow, in any unit, comes out on its arc.
func TestAnyCurvedWall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]string{"mm", "m", "ft"}).Draw(t, "unit")
		k := map[string]float64{"mm": 1, "m": 1e-3, "ft": 1 / 304.8}[unit]
		size := func(name string, least, most int) float64 { return float64(rapid.IntRange(least, most).Draw(t, name)) }
		turn := size("turn", 0, 359)
		x, y := size("x", -20000, 20000), size("y", -20000, 20000)
		thickness := size("thickness", 75, 300)
		r := size("radius", 600, 60000)
		from := size("from", 0, 359)
		sweep := size("sweep", 1, 300)
		flattest := math.Acos(1-3/r) * 360 / math.Pi // with a rise of 3 mm
		sweep = max(sweep, flattest, 500/r*180/math.Pi)
		axis, facets := rapid.Bool().Draw(t, "axis"), rapid.Bool().Draw(t, "facets")
		panels := max(int(sweep/rapid.Float64Range(2, 12).Draw(t, "facet")), 4)
		inner, outer := r-thickness/2, r+thickness/2

		m := newModel(unit)
		m.floorAt("Floor", 0)
		body := ""
		if facets {
			body = m.bent(0, 0, inner*k, outer*k, from, from+sweep, panels, 2500*k)
		} else {
			body = m.upright(m.sector(0, 0, inner*k, outer*k, from, from+sweep), 0, 2500*k)
		}
		line := ""
		if axis {
			line = m.arc(0, 0, r*k, from, from+sweep, "T")
		}
		sin, cos := math.Sincos(turn * math.Pi / 180)
		w := m.wall(m.place(x*k, y*k, 0, 0, 0, 1, cos, sin, 0), m.shape(line, body))
		m.put("IFCRELASSOCIATESMATERIAL('m',$,$,$,(%s),%s)", w, m.put("IFCMATERIAL('Drywall',$,$)"))
		p, _, found := ifc.Options{}.Read("any.ifc", m.bytes())
		if len(p.Walls) != 1 {
			t.Fatalf("%d walls: %v", len(p.Walls), found)
		}
		got := p.Walls[0]
		for i, degrees := range []float64{from, from + sweep} {
			q := polar(x, y, r, turn+degrees)
			if off := far(got.Line[i], plan.Pt{X: mm(q[0]), Y: mm(q[1])}); off > 0.05 {
				t.Errorf("end %d lies %v mm off", i, off)
			}
		}
		same(t, "thickness", got.Thickness, mm(thickness))
		same(t, "height", got.Height, mm(2500))
		if off := geom.Point(*got.Via).Dist(geom.Pt(mm(x), mm(y))).MM() - r; math.Abs(off) > 0.05 {
			t.Errorf("via lies %v mm off the arc", off)
		}
	})
}

// What is drawn as an arc but is none is named.
func TestNoArc(t *testing.T) {
	tests := map[string]struct {
		shape func(m *model) string
		want  string
	}{
		"too tight": {func(m *model) string {
			return m.shape(m.arc(0, 0, 120, 0, 180, "T"), m.upright(m.sector(0, 0, 70, 170, 0, 180), 0, 2500))
		}, "tighter"},
		"another body": {func(m *model) string {
			return m.shape(m.arc(0, 0, 3000, 0, 180, "T"), m.block(-3000, 0, 0, 3000, 2000, 2500))
		}, "does not follow"},
	}
	for name, test := range tests {
		m := newModel("mm")
		m.floorAt("Ground floor", 0)
		m.layers(m.wall(m.place(), test.shape(m)), "POSITIVE", -50, partition...)
		_, _, found := read(t, m)
		if named(found, "IfcWall") != 1 || !strings.Contains(fmt.Sprint(found), test.want) {
			t.Errorf("%s: %v", name, found)
		}
	}
}
