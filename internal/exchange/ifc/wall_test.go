package ifc_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/exchange/ifc"
	"nogging/internal/plan"
)

// All figures in this file are reckoned by hand from the models written in it.

func TestPlainWall(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	w := m.plain(m.place(1000, 2000, 0), 4000, 2750)
	o := m.opening(w, m.block(900, -50, 0, 1785, 50, 2135))
	m.door(o, 885, 2135)
	p, stats, found := read(t, m)
	got := only(t, p, found)
	want := plan.Wall{
		ID: "L1-01", Level: "L1", Line: []plan.Pt{{X: mm(1000), Y: mm(2000)}, {X: mm(5000), Y: mm(2000)}},
		BuildUp: "P1", Thickness: mm(100), Height: mm(2750), Note: "IFC " + w + ", tag tag, type Type 100",
		Openings: []plan.Opening{{Kind: plan.Door, At: mm(900), Width: mm(885), Height: mm(2135)}},
	}
	if diff := cmp.Diff(want, *got); diff != "" {
		t.Error(diff)
	}
	level := plan.Level{ID: "L1", Name: "Ground floor", ClearHeight: mm(2750)}
	if diff := cmp.Diff([]plan.Level{level}, p.Levels); diff != "" {
		t.Error(diff)
	}
	build := plan.BuildUp{
		ID: "P1", Name: "Type 100", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: []string{"GKB-12.5"},
	}
	if diff := cmp.Diff([]plan.BuildUp{build}, p.BuildUps); diff != "" {
		t.Error(diff)
	}
	if stats.Doors != 1 || stats.Openings != 1 || p.Practice != "metric" || p.Project.Name != "Test house" {
		t.Errorf("%+v, practice %s, project %s", stats, p.Practice, p.Project.Name)
	}
	if found.NeedsPerson() {
		t.Errorf("findings: %v", found)
	}
}

// The wall's placement is turned by 30 degrees in a building that is turned by
// 60: the wall runs along y. Its body is 10 mm shorter than its axis at each
// end, as where it meets other walls: the body counts.
func TestNestedAndTurned(t *testing.T) {
	c60, s60 := 0.5, math.Sqrt(3)/2
	m := newModel("m")
	building := m.at("", m.place(10, 20, 0, 0, 0, 1, c60, s60, 0))
	m.storey = m.at(building, m.place(0, 0, 3))
	m.floor = m.put("IFCBUILDINGSTOREY('s',$,'Upper floor',$,$,%s,$,$,.ELEMENT.,$)", m.storey)
	w := m.wall(m.place(0, 0, 0, 0, 0, 1, s60, c60, 0), m.shape(m.polyline([]float64{0, 0}, []float64{3, 0}), m.block(0.01, -0.125, 0, 2.99, 0, 2.5)))
	m.layers(w, "NEGATIVE", 0, layer{"Gypsum board", 0.025}, layer{"Stud", 0.1})
	p, _, found := read(t, m)
	got := only(t, p, found)
	// Local +y is global -x: the body lies 0 to 125 mm in front of the axis.
	line(t, got, 10062.5, 20010, 10062.5, 22990)
	near(t, "thickness", got.Thickness, 125)
	near(t, "height", got.Height, 2500)
	near(t, "elevation", p.Levels[0].Elevation, 3000)
}

// A wall whose z axis points down is the mirror image of one whose points up:
// its body is drawn downwards from 2.6 m, and its left is on the right.
func TestMirrored(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	w := m.wall(m.place(0, 0, 2600, 0, 0, -1, 1, 0, 0), m.shape(m.polyline([]float64{0, 0}, []float64{2000, 0}), m.block(0, 0, 0, 2000, 70, 2600)))
	m.layers(w, "POSITIVE", 0, layer{"Metal stud", 50}, layer{"Plasterboard", 20})
	o := m.opening(w, m.block(300, 0, 600, 1000, 70, 2600))
	m.door(o, 700, 2000)
	p, _, found := read(t, m)
	got := only(t, p, found)
	// Local +y is global -y: the board is on the right, so the line is turned
	// round for the lining's face A to be on its left.
	line(t, got, 2000, -35, 0, -35)
	near(t, "height", got.Height, 2600)
	want := []plan.Opening{{Kind: plan.Door, At: mm(1000), Width: mm(700), Height: mm(2000)}}
	if diff := cmp.Diff(want, got.Openings); diff != "" {
		t.Error(diff)
	}
	if b := p.BuildUps[0]; b.Frame.Kind != plan.Lining || len(b.FaceA) == 0 || b.FaceB != nil {
		t.Errorf("build-up %+v", b)
	}
}

// A mapped item is mirrored and stretched: x runs backwards, twice as long.
func TestMappedBody(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	block := m.block(0, 0, 0, 1000, 100, 2500)
	rep := m.put("IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(%s))", block)
	source := m.put("IFCREPRESENTATIONMAP(%s,%s)", m.place(0, 50, 0), rep)
	operator := m.put("IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM(%s,%s,%s,2.,%s,1.,1.)", m.dir(-1, 0, 0), m.dir(0, 1, 0), m.pt(3000, 0, 0), m.dir(0, 0, 1))
	w := m.wall(m.place(), m.shape(m.polyline([]float64{0, 0}, []float64{3000, 0}), m.put("IFCMAPPEDITEM(%s,%s)", source, operator)))
	m.layers(w, "POSITIVE", -50, partition...)
	p, _, found := read(t, m)
	line(t, only(t, p, found), 1000, 0, 3000, 0)
}

func TestInchesAndFeet(t *testing.T) {
	for unit, scale := range map[string]float64{"in": 1, "ft": 1.0 / 12} {
		m := newModel(unit)
		m.floorAt("Level 1", 0)
		w := m.wall(m.place(), m.shape(m.polyline([]float64{0, 0}, []float64{144 * scale, 0}), m.block(0, 0, 0, 144*scale, 4.875*scale, 108*scale)))
		m.layers(w, "POSITIVE", 0, layer{"Gypsum Wall Board", 0.625 * scale}, layer{"Metal Stud Layer", 3.625 * scale}, layer{"Gypsum Wall Board", 0.625 * scale})
		o := m.opening(w, m.block(24*scale, 0, 0, 62*scale, 5*scale, 86*scale))
		m.door(o, 38*scale, 86*scale)
		p, _, found := read(t, m)
		got := only(t, p, found)
		line(t, got, 0, 61.9125, 3657.6, 61.9125)
		near(t, "thickness", got.Thickness, 123.825)
		near(t, "height", got.Height, 2743.2)
		near(t, "opening width", got.Openings[0].Width, 965.2)
		if b := p.BuildUps[0]; p.Practice != "us" || b.Frame.Stud != "362S125-18" || b.FaceA[0] != "GWB-0.625X" {
			t.Errorf("%s: practice %s, build-up %+v", unit, p.Practice, b)
		}
		if has(found, "opening-size", "") {
			t.Errorf("%s: %v", unit, found)
		}
	}
}

// brep adds a boundary representation of the given faces.
func (m *model) brep(faces ...[][]float64) string {
	var all string
	for i, f := range faces {
		var loop string
		for j, p := range f {
			if j > 0 {
				loop += ","
			}
			loop += m.pt(p...)
		}
		bound := m.put("IFCFACEOUTERBOUND(%s,.T.)", m.put("IFCPOLYLOOP((%s))", loop))
		if i > 0 {
			all += ","
		}
		all += m.put("IFCFACE((%s))", bound)
	}
	return m.put("IFCFACETEDBREP(%s)", m.put("IFCCLOSEDSHELL((%s))", all))
}

// gable is a wall along the line from (0,0) to (3,4) m, 120 mm thick, that
// rises from 2 m to 3 m in the middle and falls again: 5 m long, with no axis.
func (m *model) gable() string {
	p := func(u, v, z float64) []float64 { return []float64{0.6*u - 0.8*v, 0.8*u + 0.6*v, z} }
	ring := [][2]float64{{0, 0}, {5000, 0}, {5000, 2000}, {2500, 3000}, {0, 2000}}
	var left, right [][]float64
	var faces [][][]float64
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		left = append(left, p(a[0], 60, a[1]))
		right = append(right, p(a[0], -60, a[1]))
		faces = append(faces, [][]float64{p(a[0], -60, a[1]), p(b[0], -60, b[1]), p(b[0], 60, b[1]), p(a[0], 60, a[1])})
	}
	return m.brep(append(faces, left, right)...)
}

func TestBrepWithoutAxis(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	w := m.wall(m.place(), m.body(m.gable()))
	m.put("IFCRELASSOCIATESMATERIAL('m',$,$,$,(%s),%s)", w, m.put("IFCMATERIAL('Drywall',$,$)"))
	p, _, found := read(t, m)
	got := only(t, p, found)
	line(t, got, 0, 0, 3000, 4000)
	near(t, "thickness", got.Thickness, 120)
	want := []plan.HeightAt{{At: 0, Height: mm(2000)}, {At: mm(2500), Height: mm(3000)}, {At: mm(5000), Height: mm(2000)}}
	if diff := cmp.Diff(want, got.Heights); diff != "" {
		t.Error(diff)
	}
	if got.BuildUp != "" {
		t.Errorf("a wall of one layer has no build-up, not %s", got.BuildUp)
	}
}

// halfSpace adds a half space below or above a sloping plane through a point.
func (m *model) halfSpace(x, z, dx, dz float64, agree bool) string {
	flag := ".F."
	if agree {
		flag = ".T."
	}
	plane := m.put("IFCPLANE(%s)", m.place(x, 0, z, dx, 0, dz, 0, 1, 0))
	return m.put("IFCHALFSPACESOLID(%s,%s)", plane, flag)
}

func TestClippedWall(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Attic", 0)
	// A body of 4 m by 3.5 m under a roof that falls from 3 m at x = 0 by 1 in
	// 4, with a cut of 45 degrees off its right end below, and a bounded half
	// space that takes everything above 2.8 m between x = -100 and x = 500.
	roof := m.halfSpace(0, 3000, 1, 4, false) // agreement false: material on the side of the normal, above
	first := m.put("IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,%s,%s)", m.block(0, -50, 0, 4000, 50, 3500), roof)
	plane := m.put("IFCPLANE(%s)", m.place(0, 0, 2800))
	ring := m.polyline([]float64{-100, -100}, []float64{500, -100}, []float64{500, 100}, []float64{-100, 100}, []float64{-100, -100})
	bounded := m.put("IFCPOLYGONALBOUNDEDHALFSPACE(%s,.F.,%s,%s)", plane, m.place(), ring)
	body := m.put("IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,%s,%s)", first, bounded)
	w := m.wall(m.place(), m.shape(m.polyline([]float64{0, 0}, []float64{4000, 0}), body))
	m.layers(w, "POSITIVE", -50, partition...)
	p, stats, found := read(t, m)
	got := only(t, p, found)
	want := []plan.HeightAt{
		{At: 0, Height: mm(2800)}, {At: mm(500), Height: mm(2800)}, {At: mm(500), Height: mm(2875)}, {At: mm(4000), Height: mm(2000)},
	}
	if diff := cmp.Diff(want, got.Heights); diff != "" {
		t.Error(diff)
	}
	if h := stats.Types[0].Heights; h[2] != mm(3500) {
		t.Errorf("height before it is cut: %v", h)
	}
}

// A mitred end is cut by an upright half space: a partition ends where the
// middle of it does, structure where its longer face does, so that corners are
// whole.
func TestMitre(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	plane := m.put("IFCPLANE(%s)", m.place(3000, 0, 0, 1, 1, 0, 0, 0, 1))
	cut := m.put("IFCHALFSPACESOLID(%s,.F.)", plane)
	body := m.put("IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,%s,%s)", m.block(0, -50, 0, 3200, 50, 2500), cut)
	w := m.wall(m.place(), m.shape(m.polyline([]float64{0, 0}, []float64{3000, 0}), body))
	m.layers(w, "POSITIVE", -50, partition...)
	p, _, found := read(t, m)
	line(t, only(t, p, found), 0, 0, 3000, 0)
	m.common(w, "'LoadBearing',$,IFCBOOLEAN(.T.),$")
	p, _, _ = read(t, m)
	if end := p.Structure[0].Line[1].X.MM(); math.Abs(end-3050) > 0.06 {
		t.Errorf("structure ends at %v mm, want 3050 mm", end)
	}
}

// A body that is a profile in elevation, drawn out across the wall and already
// cut by a door and a window of which the file says nothing.
func TestHiddenHoles(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	outer := m.polyline([]float64{0, 0}, []float64{1000, 0}, []float64{1000, 2100}, []float64{1900, 2100}, []float64{1900, 0},
		[]float64{5000, 0}, []float64{5000, 2700}, []float64{0, 2700}, []float64{0, 0})
	inner := m.polyline([]float64{3000, 900}, []float64{4000, 900}, []float64{4000, 1900}, []float64{3000, 1900}, []float64{3000, 900})
	profile := m.put("IFCARBITRARYPROFILEDEFWITHVOIDS(.AREA.,$,%s,(%s))", outer, inner)
	// z axis of the solid is -y, so that its y is up.
	body := m.put("IFCEXTRUDEDAREASOLID(%s,%s,%s,100.)", profile, m.place(0, 50, 0, 0, -1, 0, 1, 0, 0), m.dir(0, 0, 1))
	w := m.wall(m.place(), m.shape(m.polyline([]float64{0, 0}, []float64{5000, 0}), body))
	m.layers(w, "POSITIVE", -50, partition...)
	p, stats, found := read(t, m)
	got := only(t, p, found)
	want := []plan.Opening{
		{Kind: plan.Bare, At: mm(1000), Width: mm(900), Height: mm(2100)},
		{Kind: plan.Bare, At: mm(3000), Width: mm(1000), Height: mm(1000), Sill: mm(900)},
	}
	if diff := cmp.Diff(want, got.Openings); diff != "" {
		t.Error(diff)
	}
	near(t, "height", got.Height, 2700)
	if stats.Holes != 2 || stats.Openings != 0 || !has(found, "opening-hole", "L1-01/1") {
		t.Errorf("%+v\n%v", stats, found)
	}
}

// triangles adds an IfcTriangulatedFaceSet of a box.
func (m *model) triangles(x0, y0, z0, x1, y1, z1 float64) string {
	points := ""
	for i := range 8 {
		if i > 0 {
			points += ","
		}
		pick := func(bit int, a, b float64) float64 {
			if i>>bit&1 == 1 {
				return b
			}
			return a
		}
		points += "(" + reals([]float64{pick(0, x0, x1), pick(1, y0, y1), pick(2, z0, z1)}) + ")"
	}
	list := m.put("IFCCARTESIANPOINTLIST3D((%s))", points)
	return m.put("IFCTRIANGULATEDFACESET(%s,$,.T.,((1,2,4),(1,4,3),(5,6,8),(5,8,7),(1,2,6),(1,6,5),(3,4,8),(3,8,7),(1,3,7),(1,7,5),(2,4,8),(2,8,6)),$)", list)
}

// A wall of three solids, one a layer, as triangles: the faces between the
// layers are not the wall's faces.
func TestFaceSetsByLayer(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	w := m.wall(m.place(), m.body(m.triangles(0, 0, 0, 4000, 12.5, 2600), m.triangles(0, 12.5, 0, 4000, 87.5, 2700), m.triangles(0, 87.5, 0, 4000, 100, 2600)))
	m.put("IFCRELASSOCIATESMATERIAL('m',$,$,$,(%s),%s)", w, m.put("IFCMATERIAL('Drywall',$,$)"))
	p, _, found := read(t, m)
	got := only(t, p, found)
	line(t, got, 0, 50, 4000, 50)
	near(t, "thickness", got.Thickness, 100)
	near(t, "height", got.Height, 2700)
}

// What is no straight upright wall is named, and so are its openings; its
// outline stays for others to meet.
func TestCurvedBentAndLeaning(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	points := m.put("IFCCARTESIANPOINTLIST2D(((0.,0.),(1000.,1000.),(2000.,0.)))")
	arc := m.put("IFCINDEXEDPOLYCURVE(%s,(IFCARCINDEX((1,2,3))),$)", points)
	curved := m.wall(m.place(), m.shape(arc, m.block(0, 0, 0, 2000, 1000, 2500)))
	m.opening(curved, m.block(900, 900, 0, 1100, 1100, 2000))
	m.wall(m.place(0, 5000, 0), m.shape(m.polyline([]float64{0, 0}, []float64{1000, 0}, []float64{1000, 1000}),
		m.extrusion(m.place(), 2500, []float64{0, 0}, []float64{3000, 0}, []float64{3000, 1000}, []float64{2900, 1000}, []float64{2900, 100}, []float64{0, 100})))
	leaning := m.extrusion(m.place(0, 9000, 0, 1, 0, 0, 0, 1, 0), 3000, []float64{0, 0}, []float64{100, 0}, []float64{1100, 2500}, []float64{1000, 2500})
	m.wall(m.place(), m.body(leaning))
	p, stats, found := read(t, m)
	if len(p.Walls) != 0 || stats.Structure != 0 || named(found, "IfcWall") != 3 || named(found, "IfcOpening") != 1 {
		t.Errorf("%d walls, %+v\n%v", len(p.Walls), stats, found)
	}
	if len(p.Structure) != 3 {
		t.Errorf("%d outlines kept, want 3", len(p.Structure))
	}
}

// Coordinates of a survey are brought near to the origin.
func TestFarFromOrigin(t *testing.T) {
	m := newModel("m")
	m.storey = m.at("", m.place(3500000.25, 5400000.5, 100))
	m.floor = m.put("IFCBUILDINGSTOREY('s',$,'Ground floor',$,$,%s,$,$,.ELEMENT.,100.)", m.storey)
	w := m.wall(m.place(), m.shape(m.polyline([]float64{0, 0}, []float64{4, 0}), m.block(0, -0.05, 0, 4, 0.05, 2.5)))
	m.layers(w, "POSITIVE", -0.05, layer{"Gypsum board", 0.0125}, layer{"Stud", 0.075}, layer{"Gypsum board", 0.0125})
	p, _, found := read(t, m)
	line(t, only(t, p, found), 250, 500, 4250, 500)
	if !has(found, "origin-moved", "") {
		t.Error("nobody is told that the origin was moved")
	}
}

func TestAxisOnly(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	w := m.wall(m.place(0, 0, 0, 0, 0, 1, 0, 1, 0), m.shape(m.polyline([]float64{0, 0}, []float64{2500, 0})))
	m.layers(w, "NEGATIVE", 0, partition...)
	p, _, found := read(t, m)
	got := only(t, p, found)
	// The wall runs along y; its layers lie on its right, towards +x.
	line(t, got, 50, 0, 50, 2500)
	if got.Height != 0 || !has(found, "wall-height", "L1-01") {
		t.Errorf("height %s, findings %v", got.Height, found)
	}
}

// A stacked wall is made of walls that are read by themselves.
func TestStackedWall(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	whole := m.put("IFCWALL('w',$,'Stack',$,$,%s,$,'t',$)", m.at(m.storey, m.place()))
	m.contain(whole)
	placement := m.at(m.placementOf(whole), m.place())
	part := m.put("IFCWALL('w',$,'Part',$,$,%s,%s,'t',$)", placement, m.shape(m.polyline([]float64{0, 0}, []float64{3000, 0}), m.block(0, -50, 0, 3000, 50, 2500)))
	m.layers(part, "POSITIVE", -50, partition...)
	m.put("IFCRELAGGREGATES('a',$,$,$,%s,(%s))", whole, part)
	m.opening(whole, m.block(1000, -50, 0, 2000, 50, 2000)) // an opening in the stack is in its part
	p, _, found := read(t, m)
	if w := only(t, p, found); w.Level != "L1" || len(w.Openings) != 1 || !has(found, "wall-composite", whole+" IfcWall") {
		t.Errorf("findings %v", found)
	}
}

// A type's choice by the reader goes before all that the file says.
func TestOwnChoice(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	m.plain(m.place(), 3000, 2500)
	p, stats, _ := ifc.Options{Partitions: map[string]bool{"Type 100": false}}.Read("test.ifc", m.bytes())
	if len(p.Walls) != 0 || stats.Structure != 1 || len(p.Structure) != 1 {
		t.Errorf("%+v", stats)
	}
}
