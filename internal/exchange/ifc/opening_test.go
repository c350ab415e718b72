package ifc_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/plan"
)

// house starts a model with one plain partition of 6 m by 3 m along x.
func house() (m *model, wall string) {
	m = newModel("mm")
	m.floorAt("Ground floor", 0)
	return m, m.plain(m.place(), 6000, 3000)
}

func openings(t *testing.T, m *model) []plan.Opening {
	t.Helper()
	p, _, found := read(t, m)
	return only(t, p, found).Openings
}

// The profile of an opening may lie in any plane: only its corners count. Here
// it lies in the wall's plane, 2 m wide and 1 m high, and is drawn through it.
func TestOpeningDrawnThrough(t *testing.T) {
	m, w := house()
	centre := m.put("IFCAXIS2PLACEMENT2D(%s,$)", m.pt(0, 0))
	profile := m.put("IFCRECTANGLEPROFILEDEF(.AREA.,$,%s,1000.,2000.)", centre)
	// z across the wall, x of the profile up, so that its y runs along it.
	position := m.place(2500, -50, 1400, 0, 1, 0, 0, 0, 1)
	o := m.opening(w, m.put("IFCEXTRUDEDAREASOLID(%s,%s,%s,100.)", profile, position, m.dir(0, 0, 1)))
	window := m.put("IFCWINDOW('n',$,'Window',$,$,%s,$,$,1000.,2000.,.WINDOW.,$,$)", m.at(m.placementOf(o), m.place()))
	m.put("IFCRELFILLSELEMENT('f',$,$,$,%s,%s)", o, window)
	want := []plan.Opening{{Kind: plan.Window, At: mm(1500), Width: mm(2000), Height: mm(1000), Sill: mm(900)}}
	if diff := cmp.Diff(want, openings(t, m)); diff != "" {
		t.Error(diff)
	}
}

// A hole that goes through at 45 degrees is as wide as it is in the middle of
// the wall, not as wide as its extent.
func TestOpeningAtAnAngle(t *testing.T) {
	m, w := house()
	m.opening(w, m.extrusion(m.place(), 2000, []float64{1000, -200}, []float64{1900, -200}, []float64{2300, 200}, []float64{1400, 200}))
	want := []plan.Opening{{Kind: plan.Bare, At: mm(1200), Width: mm(900), Height: mm(2000)}}
	if diff := cmp.Diff(want, openings(t, m)); diff != "" {
		t.Error(diff)
	}
}

func TestMappedOpening(t *testing.T) {
	m, w := house()
	rep := m.put("IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(%s))", m.block(0, -100, 0, 1, 100, 1))
	source := m.put("IFCREPRESENTATIONMAP(%s,%s)", m.place(), rep)
	operator := m.put("IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM($,$,%s,900.,$,1.,2100.)", m.pt(500, 0, 0))
	m.opening(w, m.put("IFCMAPPEDITEM(%s,%s)", source, operator))
	want := []plan.Opening{{Kind: plan.Bare, At: mm(500), Width: mm(900), Height: mm(2100)}}
	if diff := cmp.Diff(want, openings(t, m)); diff != "" {
		t.Error(diff)
	}
}

// An opening whose placement turns about is told by its corners: the door lies
// on its side in the model and stands in the wall.
func TestTurnedOpening(t *testing.T) {
	m, w := house()
	placement := m.at(m.placementOf(w), m.place(3000, 0, 0, 0, -1, 0, 0, 0, 1)) // x up, y along -x
	o := m.put("IFCOPENINGELEMENT('o',$,'Opening',$,$,%s,%s,$,.OPENING.)", placement, m.body(m.block(0, 0, -100, 2100, 900, 100)))
	m.put("IFCRELVOIDSELEMENT('v',$,$,$,%s,%s)", w, o)
	m.door(o, 900, 2100)
	p, _, found := read(t, m)
	got := only(t, p, found).Openings
	want := []plan.Opening{{Kind: plan.Door, At: mm(2100), Width: mm(900), Height: mm(2100)}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestKindsOfOpening(t *testing.T) {
	m, w := house()
	hatch := m.opening(w, m.block(500, -50, 1000, 1100, 50, 1600))
	m.door(hatch, 600, 600)
	m.opening(w, m.block(2000, -50, 2500, 2200, 50, 2650))                                                   // a duct
	m.opening(w, m.put("IFCRIGHTCIRCULARCYLINDER(%s,200.,55.)", m.place(3000, -100, 300, 0, 1, 0, 1, 0, 0))) // a pipe
	m.opening(w, m.block(4000, -50, 0, 5000, 50, 2500))                                                      // a passage
	want := []plan.Opening{
		{Kind: plan.Hatch, At: mm(500), Width: mm(600), Height: mm(600), Sill: mm(1000)},
		{Kind: plan.Penetration, At: mm(2000), Width: mm(200), Height: mm(150), Sill: mm(2500)},
		{Kind: plan.Penetration, At: mm(2945), Width: mm(110), Height: mm(110), Sill: mm(245)},
		{Kind: plan.Bare, At: mm(4000), Width: mm(1000), Height: mm(2500)},
	}
	if diff := cmp.Diff(want, openings(t, m)); diff != "" {
		t.Error(diff)
	}
}

// One opening of two solids that lie apart makes two holes, and two that touch
// make one.
func TestOpeningOfSeveralSolids(t *testing.T) {
	m, w := house()
	m.opening(w, m.block(500, -50, 0, 1400, 50, 2000), m.block(500, -50, 2000, 1400, 50, 2100), m.block(3000, -50, 0, 3900, 50, 2100))
	p, stats, found := read(t, m)
	want := []plan.Opening{
		{Kind: plan.Bare, At: mm(500), Width: mm(900), Height: mm(2100)},
		{Kind: plan.Bare, At: mm(3000), Width: mm(900), Height: mm(2100)},
	}
	if diff := cmp.Diff(want, only(t, p, found).Openings); diff != "" {
		t.Error(diff)
	}
	if stats.Openings != 1 {
		t.Errorf("%d openings of the file, want 1", stats.Openings)
	}
}

// A door stands in the largest hole of its opening; what only dents the wall
// beside it is left out and told of.
func TestDoorWithNiche(t *testing.T) {
	m, w := house()
	o := m.put("IFCOPENINGELEMENT('o',$,'Opening',$,$,%s,%s,$,$)", m.at(m.placementOf(w), m.place()),
		m.body(m.block(1000, 20, 1000, 1300, 50, 1300), m.block(2000, -50, 0, 2900, 50, 2100)))
	m.put("IFCRELVOIDSELEMENT('v',$,$,$,%s,%s)", w, o)
	m.door(o, 900, 2100)
	p, _, found := read(t, m)
	want := []plan.Opening{{Kind: plan.Door, At: mm(2000), Width: mm(900), Height: mm(2100)}}
	if diff := cmp.Diff(want, only(t, p, found).Openings); diff != "" {
		t.Error(diff)
	}
	if !has(found, "opening-parts", "L1-01/1") || has(found, "opening-size", "") {
		t.Errorf("%v", found)
	}
}

func TestDoorWithoutFill(t *testing.T) {
	m, w := house()
	m.opening(w, m.block(1000, -50, 0, 1900, 50, 2100))
	m.opening(w, m.block(3000, -50, 0, 3900, 50, 2100))
	// A door stands in the second opening, another in the wall where there is
	// no opening, and one beside the wall.
	for i, x := range []float64{3000, 4500, 9000} {
		placement := m.at(m.storey, m.place(x, -20, 0))
		m.contain(m.put("IFCDOOR('d%d',$,'Door',$,$,%s,$,$,2100.,900.,.DOOR.,$,$)", i, placement))
	}
	p, stats, found := read(t, m)
	want := []plan.Opening{
		{Kind: plan.Bare, At: mm(1000), Width: mm(900), Height: mm(2100)},
		{Kind: plan.Door, At: mm(3000), Width: mm(900), Height: mm(2100)},
		{Kind: plan.Door, At: mm(4500), Width: mm(900), Height: mm(2100)},
	}
	if diff := cmp.Diff(want, only(t, p, found).Openings); diff != "" {
		t.Error(diff)
	}
	if stats.Doors != 2 || stats.Openings != 2 || stats.Holes != 1 {
		t.Errorf("%+v", stats)
	}
	if !has(found, "opening-matched", "L1-01/2") || !has(found, "opening-made", "L1-01/3") || named(found, "IfcDoor") != 1 {
		t.Errorf("%v", found)
	}
}

// Openings that are not in the plan are named, each once.
func TestOpeningsLeftOut(t *testing.T) {
	m, w := house()
	slab := m.put("IFCSLAB('l',$,'Slab',$,$,%s,%s,$,.FLOOR.)", m.at(m.storey, m.place()), m.body(m.block(0, 0, -200, 6000, 6000, 0)))
	inSlab := m.opening(slab, m.block(0, 0, -200, 500, 500, 0))
	homeless := m.put("IFCOPENINGELEMENT('o',$,'Opening',$,$,%s,%s,$,.OPENING.)", m.at(m.storey, m.place()), m.body(m.block(0, 0, 0, 1, 1, 1)))
	outside := m.opening(w, m.block(7000, -50, 0, 8000, 50, 2000))
	shapeless := m.put("IFCOPENINGELEMENT('o',$,'Opening',$,$,%s,$,$,.OPENING.)", m.at(m.placementOf(w), m.place()))
	m.put("IFCRELVOIDSELEMENT('v',$,$,$,%s,%s)", w, shapeless)
	recess := m.put("IFCOPENINGELEMENT('o',$,'Niche',$,$,%s,%s,$,$)", m.at(m.placementOf(w), m.place()), m.body(m.block(500, 10, 500, 1500, 50, 1500)))
	m.put("IFCRELVOIDSELEMENT('v',$,$,$,%s,%s)", w, recess)
	m.opening(w, m.block(3000, -50, 0, 4000, 50, 2000))
	twice := m.opening(w, m.block(3100, -50, 0, 3900, 50, 1900))
	p, stats, found := read(t, m)
	if got := only(t, p, found).Openings; len(got) != 1 || stats.Openings != 1 {
		t.Errorf("%+v", got)
	}
	for _, want := range []struct{ ref, code string }{
		{inSlab, "opening-elsewhere"}, {homeless, "opening-homeless"}, {outside, "opening-outside"},
		{shapeless, "opening-unread"}, {recess, "opening-recess"}, {twice, "opening-merged"},
	} {
		if !has(found, want.code, want.ref+" IfcOpeningElement") {
			t.Errorf("no finding %s about %s", want.code, want.ref)
		}
	}
}

func TestOpeningReachesBeyond(t *testing.T) {
	m, w := house()
	o := m.opening(w, m.block(5500, -50, -300, 6400, 50, 3100))
	m.door(o, 900, 2100)
	p, _, found := read(t, m)
	want := []plan.Opening{{Kind: plan.Door, At: mm(5500), Width: mm(500), Height: mm(3000)}}
	if diff := cmp.Diff(want, only(t, p, found).Openings); diff != "" {
		t.Error(diff)
	}
	if !has(found, "opening-clipped", "L1-01/1") || !has(found, "opening-size", "L1-01/1") {
		t.Errorf("%v", found)
	}
}

// A body that is cut already, up to its top, does not make the wall lower.
func TestOpeningCutTwice(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	profile := m.put("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", m.polyline([]float64{0, 0}, []float64{4000, 0}, []float64{4000, 2500},
		[]float64{3000, 2500}, []float64{3000, 1000}, []float64{2000, 1000}, []float64{2000, 2500}, []float64{0, 2500}, []float64{0, 0}))
	body := m.put("IFCEXTRUDEDAREASOLID(%s,%s,%s,100.)", profile, m.place(0, 50, 0, 0, -1, 0, 1, 0, 0), m.dir(0, 0, 1))
	w := m.wall(m.place(), m.shape(m.polyline([]float64{0, 0}, []float64{4000, 0}), body))
	m.layers(w, "POSITIVE", -50, partition...)
	m.opening(w, m.block(2000, -50, 1000, 3000, 50, 2500))
	p, _, found := read(t, m)
	got := only(t, p, found)
	near(t, "height", got.Height, 2500)
	want := []plan.Opening{{Kind: plan.Bare, At: mm(2000), Width: mm(1000), Height: mm(1500), Sill: mm(1000)}}
	if diff := cmp.Diff(want, got.Openings); diff != "" {
		t.Error(diff)
	}
}

func TestRatings(t *testing.T) {
	tests := []struct {
		properties []string
		want       plan.Requirements
		ignored    bool
	}{
		{[]string{"'FireRating',$,IFCLABEL('1 HR'),$", "'AcousticRating',$,IFCLABEL('Rw  53'),$"}, plan.Requirements{Fire: "1 h", Sound: "Rw 53"}, false},
		{[]string{"'FireRating',$,IFCLABEL('EI 60'),$", "'ThermalTransmittance',$,IFCTHERMALTRANSMITTANCEMEASURE(0.2359),$"}, plan.Requirements{Fire: "EI 60", UValue: "0.236"}, false},
		{[]string{"'FireRating',$,IFCLABEL('_FIRE-RATING_'),$"}, plan.Requirements{}, true},
		{[]string{"'FireRating',$,IFCLABEL('Fire Rating'),$", "'AcousticRating',$,IFCLABEL(''),$"}, plan.Requirements{}, true},
		{[]string{"'FireRating',$,$,$"}, plan.Requirements{}, false},
	}
	for _, test := range tests {
		m, w := house()
		m.common(w, test.properties...)
		p, _, found := read(t, m)
		if diff := cmp.Diff(test.want, only(t, p, found).Require); diff != "" {
			t.Errorf("%v: %s", test.properties, diff)
		}
		if has(found, "rating-ignored", "L1-01") != test.ignored {
			t.Errorf("%v: %v", test.properties, found)
		}
	}
}

// What a wall says of itself goes before what its type says.
func TestTypeDrivenProperties(t *testing.T) {
	m, w := house()
	fire := m.put("IFCPROPERTYSINGLEVALUE('FireRating',$,IFCLABEL('EI 30'),$)")
	sound := m.put("IFCPROPERTYSINGLEVALUE('AcousticRating',$,IFCLABEL('Rw 40'),$)")
	set := m.put("IFCPROPERTYSET('x',$,'Pset_WallCommon',$,(%s,%s))", fire, sound)
	of := m.put("IFCWALLTYPE('t',$,'Inner wall 100',$,$,(%s),$,$,$,.PARTITIONING.)", set)
	m.put("IFCRELDEFINESBYTYPE('r',$,$,$,(%s),%s)", w, of)
	m.common(w, "'FireRating',$,IFCLABEL('EI 90'),$")
	p, _, found := read(t, m)
	got := only(t, p, found)
	if diff := cmp.Diff(plan.Requirements{Fire: "EI 90", Sound: "Rw 40"}, got.Require); diff != "" {
		t.Error(diff)
	}
	if !strings.HasSuffix(got.Note, "type Inner wall 100") {
		t.Errorf("note %q", got.Note)
	}
}
