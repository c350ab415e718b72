package ifc_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"nogging/internal/exchange/ifc"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// model writes small IFC files. Each method adds an instance and returns its
// reference.
type model struct {
	schema string
	lines  []string
	storey string // reference of the placement on which walls stand
	floor  string // reference of the storey
}

func (m *model) put(format string, args ...any) string {
	ref := fmt.Sprintf("#%d", len(m.lines)+1)
	m.lines = append(m.lines, ref+"="+fmt.Sprintf(format, args...)+";")
	return ref
}

func (m *model) bytes() []byte {
	head := "ISO-10303-21;\nHEADER;\nFILE_SCHEMA(('" + m.schema + "'));\nENDSEC;\nDATA;\n"
	return []byte(head + strings.Join(m.lines, "\n") + "\nENDSEC;\nEND-ISO-10303-21;\n")
}

// newModel starts a file with lengths in the given unit: mm, m, in or ft.
func newModel(unit string) *model {
	m := &model{schema: "IFC4"}
	length := ""
	conversion := func(name string, metres string) {
		metre := m.put("IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.)")
		measure := m.put("IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(%s),%s)", metres, metre)
		length = m.put("IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'%s',%s)", name, measure)
	}
	switch unit {
	case "mm":
		length = m.put("IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.)")
	case "m":
		length = m.put("IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.)")
	case "in":
		conversion("thumb", "0.0254") // units are told by type, never by name
	case "ft":
		conversion("FOOT", "0.3048")
	}
	radian := m.put("IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.)")
	measure := m.put("IFCMEASUREWITHUNIT(IFCPLANEANGLEMEASURE(0.0174532925199433),%s)", radian)
	degree := m.put("IFCCONVERSIONBASEDUNIT($,.PLANEANGLEUNIT.,'x',%s)", measure)
	units := m.put("IFCUNITASSIGNMENT((%s,%s))", degree, length)
	m.put("IFCPROJECT('p',$,'Test house',$,$,$,$,$,%s)", units)
	m.storey = m.at("", m.place())
	return m
}

// floorAt adds a storey; walls that follow stand in it.
func (m *model) floorAt(name string, elevation float64) {
	m.storey = m.at("", m.place(0, 0, elevation))
	m.floor = m.put("IFCBUILDINGSTOREY('s',$,'%s',$,$,%s,$,$,.ELEMENT.,%s)", name, m.storey, real(elevation))
}

// real writes a number as STEP wants it, with a point.
func real(x float64) string {
	s := fmt.Sprintf("%.9f", x)
	return strings.TrimRight(s, "0")
}

func reals(x []float64) string {
	var s []string
	for _, v := range x {
		s = append(s, real(v))
	}
	return strings.Join(s, ",")
}

func (m *model) pt(x ...float64) string  { return m.put("IFCCARTESIANPOINT((%s))", reals(x)) }
func (m *model) dir(x ...float64) string { return m.put("IFCDIRECTION((%s))", reals(x)) }

// place adds an IfcAxis2Placement3D: origin, z axis and x axis, as far as they
// are given.
func (m *model) place(x ...float64) string {
	o, axes := []float64{0, 0, 0}, "$,$"
	if len(x) >= 3 {
		o = x[:3]
	}
	if len(x) == 9 {
		axes = m.dir(x[3:6]...) + "," + m.dir(x[6:]...)
	}
	return m.put("IFCAXIS2PLACEMENT3D(%s,%s)", m.pt(o...), axes)
}

// at adds an IfcLocalPlacement relative to another.
func (m *model) at(parent, placement string) string {
	if parent == "" {
		parent = "$"
	}
	return m.put("IFCLOCALPLACEMENT(%s,%s)", parent, placement)
}

func (m *model) polyline(points ...[]float64) string {
	var refs []string
	for _, p := range points {
		refs = append(refs, m.pt(p...))
	}
	return m.put("IFCPOLYLINE((%s))", strings.Join(refs, ","))
}

// slab adds a polygon in the plane of x and y that is drawn out along z.
func (m *model) extrusion(position string, depth float64, corners ...[]float64) string {
	profile := m.put("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", m.polyline(append(corners, corners[0])...))
	return m.put("IFCEXTRUDEDAREASOLID(%s,%s,%s,%s)", profile, position, m.dir(0, 0, 1), real(depth))
}

// block adds a box from one corner to the opposite.
func (m *model) block(x0, y0, z0, x1, y1, z1 float64) string {
	centre := m.put("IFCAXIS2PLACEMENT2D(%s,$)", m.pt((x0+x1)/2, (y0+y1)/2))
	profile := m.put("IFCRECTANGLEPROFILEDEF(.AREA.,$,%s,%s,%s)", centre, real(x1-x0), real(y1-y0))
	return m.put("IFCEXTRUDEDAREASOLID(%s,%s,%s,%s)", profile, m.place(0, 0, z0), m.dir(0, 0, 1), real(z1-z0))
}

// body adds a shape of one representation called Body.
func (m *model) body(items ...string) string { return m.shape("", items...) }

// shape adds a shape with an axis and a body, as far as they are given.
func (m *model) shape(axis string, items ...string) string {
	var reps []string
	if axis != "" {
		reps = append(reps, m.put("IFCSHAPEREPRESENTATION($,'Axis','Curve2D',(%s))", axis))
	}
	if len(items) > 0 {
		reps = append(reps, m.put("IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(%s))", strings.Join(items, ",")))
	}
	return m.put("IFCPRODUCTDEFINITIONSHAPE($,$,(%s))", strings.Join(reps, ","))
}

// wall adds a wall at a placement in the current storey.
func (m *model) wall(placement, shape string) string {
	w := m.put("IFCWALL('w',$,'Wall',$,$,%s,%s,'tag',$)", m.at(m.storey, placement), shape)
	m.contain(w)
	return w
}

func (m *model) contain(element string) {
	if m.floor != "" {
		m.put("IFCRELCONTAINEDINSPATIALSTRUCTURE('c',$,$,$,(%s),%s)", element, m.floor)
	}
}

// placementOf returns the reference of a product's placement.
func (m *model) placementOf(product string) string {
	var n int
	fmt.Sscanf(product, "#%d", &n)
	args := strings.Split(m.lines[n-1], ",")
	return args[5]
}

// layer is one layer of a wall in a test.
type layer struct {
	name      string
	thickness float64
}

// partition are the layers of a plain partition of 100 mm.
var partition = []layer{{"Plasterboard", 12.5}, {"Metal stud", 75}, {"Plasterboard", 12.5}}

// layers gives a wall a layer set usage.
func (m *model) layers(wall, sense string, offset float64, layers ...layer) {
	var refs []string
	for _, l := range layers {
		refs = append(refs, m.put("IFCMATERIALLAYER(%s,%s,$)", m.put("IFCMATERIAL('%s',$,$)", l.name), real(l.thickness)))
	}
	set := m.put("IFCMATERIALLAYERSET((%s),'Type 100',$)", strings.Join(refs, ","))
	usage := m.put("IFCMATERIALLAYERSETUSAGE(%s,.AXIS2.,.%s.,%s,$)", set, sense, real(offset))
	m.put("IFCRELASSOCIATESMATERIAL('m',$,$,$,(%s),%s)", wall, usage)
}

// opening adds an opening in a wall, in the wall's own axes.
func (m *model) opening(wall string, items ...string) string {
	o := m.put("IFCOPENINGELEMENT('o',$,'Opening',$,$,%s,%s,$,.OPENING.)", m.at(m.placementOf(wall), m.place()), m.body(items...))
	m.put("IFCRELVOIDSELEMENT('v',$,$,$,%s,%s)", wall, o)
	return o
}

// door adds a door of the given size that fills an opening.
func (m *model) door(opening string, width, height float64) string {
	d := m.put("IFCDOOR('d',$,'Door',$,$,%s,$,$,%s,%s,.DOOR.,$,$)", m.at(m.placementOf(opening), m.place()), real(height), real(width))
	m.put("IFCRELFILLSELEMENT('f',$,$,$,%s,%s)", opening, d)
	return d
}

// common gives an object the set Pset_WallCommon with properties such as
// 'FireRating',$,IFCLABEL('EI 60'),$.
func (m *model) common(object string, properties ...string) {
	var refs []string
	for _, p := range properties {
		refs = append(refs, m.put("IFCPROPERTYSINGLEVALUE(%s)", p))
	}
	set := m.put("IFCPROPERTYSET('x',$,'Pset_WallCommon',$,(%s))", strings.Join(refs, ","))
	m.put("IFCRELDEFINESBYPROPERTIES('r',$,$,$,(%s),%s)", object, set)
}

// plain adds a partition of 100 mm along x from the origin of a placement.
func (m *model) plain(placement string, length, height float64) string {
	w := m.wall(placement, m.shape(m.polyline([]float64{0, 0}, []float64{length, 0}), m.block(0, -50, 0, length, 50, height)))
	m.layers(w, "POSITIVE", -50, partition...)
	return w
}

func read(t *testing.T, m *model) (*plan.Plan, ifc.Stats, finding.List) {
	t.Helper()
	p, stats, found := ifc.Options{}.Read("test.ifc", m.bytes())
	balance(t, stats, found)
	return p, stats, found
}

// balance checks that every wall and opening of the file was read or is the
// object of a finding.
func balance(t *testing.T, s ifc.Stats, found finding.List) {
	t.Helper()
	if walls := named(found, "IfcWall"); s.Walls+s.Structure+walls != s.Entities.Walls {
		t.Errorf("walls: %d partitions, %d structure and %d named are not the %d of the file", s.Walls, s.Structure, walls, s.Entities.Walls)
	}
	if openings := named(found, "IfcOpening"); s.Openings+openings != s.Entities.Openings {
		t.Errorf("openings: %d read and %d named are not the %d of the file", s.Openings, openings, s.Entities.Openings)
	}
	if spaces := named(found, "IfcSpace"); s.Rooms+spaces != s.Entities.Spaces {
		t.Errorf("rooms: %d read and %d named are not the %d of the file", s.Rooms, spaces, s.Entities.Spaces)
	}
}

// named counts the entities of a kind that are the object of a finding.
func named(found finding.List, kind string) int {
	objects := map[string]bool{}
	for _, f := range found {
		if number, name, ok := strings.Cut(f.Object, " "); ok && strings.HasPrefix(number, "#") && strings.HasPrefix(name, kind) {
			objects[f.Object] = true
		}
	}
	return len(objects)
}

// has reports whether there is a finding of a code about an object.
func has(found finding.List, code, object string) bool {
	for _, f := range found {
		if f.Code == code && (object == "" || f.Object == object) {
			return true
		}
	}
	return false
}

// only returns the single wall of a plan.
func only(t *testing.T, p *plan.Plan, found finding.List) *plan.Wall {
	t.Helper()
	if len(p.Walls) != 1 {
		t.Fatalf("%d walls; findings:\n%v", len(p.Walls), found)
	}
	return &p.Walls[0]
}

func mm(v float64) quantity.Length { return quantity.MM(v) }

// near compares a length with one reckoned by hand, to the grain of 0.01 mm to
// which the reader rounds.
func near(t *testing.T, what string, got quantity.Length, want float64) {
	t.Helper()
	if math.Abs(got.MM()-want) > 0.0051 {
		t.Errorf("%s: %s mm, want %.3f mm", what, got, want)
	}
}

func line(t *testing.T, w *plan.Wall, x0, y0, x1, y1 float64) {
	t.Helper()
	near(t, w.ID+" start x", w.Line[0].X, x0)
	near(t, w.ID+" start y", w.Line[0].Y, y0)
	near(t, w.ID+" end x", w.Line[1].X, x1)
	near(t, w.ID+" end y", w.Line[1].Y, y1)
}
