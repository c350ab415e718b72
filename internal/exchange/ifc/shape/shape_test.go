package shape

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/exchange/ifc/step"
)

// degrees states millimetres and degrees, as most files do.
const degrees = "#901=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);#902=IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.);" +
	"#903=IFCMEASUREWITHUNIT(IFCPLANEANGLEMEASURE(0.0174532925199433),#902);#904=IFCCONVERSIONBASEDUNIT($,.PLANEANGLEUNIT.,'q',#903);" +
	"#905=IFCUNITASSIGNMENT((#901,#904));#906=IFCPROJECT('',$,$,$,$,$,$,$,#905);#907=IFCCARTESIANPOINT((0.,0.));#908=IFCAXIS2PLACEMENT2D(#907,$);"

func modelOf(text string) *Model {
	data := []byte(degrees + text)
	return New(step.Parse(data), len(data))
}

func close2(a, b Vec) bool { return a.Sub(b).Len() < 1e-6 }

func TestUnits(t *testing.T) {
	tests := []struct {
		text, name string
		length     float64
		imperial   bool
	}{
		{"", "millimetres", 1, false},
		{"#1=IFCUNITASSIGNMENT((#2));#2=IFCSIUNIT(*,.LENGTHUNIT.,.CENTI.,.METRE.);#3=IFCPROJECT('',$,$,$,$,$,$,$,#1);", "centimetres", 10, false},
		{"#1=IFCUNITASSIGNMENT((#2));#2=IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'zoll',#4);#4=IFCMEASUREWITHUNIT(IFCREAL(25.4),#5);" +
			"#5=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);#3=IFCPROJECT('',$,$,$,$,$,$,$,#1);", "inches", 25.4, true},
		{"#1=IFCUNITASSIGNMENT($);#3=IFCPROJECT('',$,$,$,$,$,$,$,#1);", "metres", 1000, false},
	}
	for _, test := range tests {
		text := test.text
		if text == "" {
			text = degrees
		}
		u := unitsOf(step.Parse([]byte(text)))
		if math.Abs(u.Length-test.length) > 1e-9 || u.String() != test.name || u.Imperial() != test.imperial {
			t.Errorf("%s: %+v %s", test.text, u, u)
		}
	}
	if u := modelOf("").Units(); math.Abs(u.Angle-math.Pi/180) > 1e-12 {
		t.Errorf("a degree is %v", u.Angle)
	}
}

// Arcs of a circle of radius 2 about (1, 0), given in all the ways there are.
func TestArcs(t *testing.T) {
	circle := "#1=IFCCIRCLE(#2,2.);#2=IFCAXIS2PLACEMENT2D(#3,$);#3=IFCCARTESIANPOINT((1.,0.));#4=IFCCARTESIANPOINT((3.,0.));#5=IFCCARTESIANPOINT((1.,2.));"
	tests := []struct {
		name, curve       string
		first, last, most Vec // most: the highest point
	}{
		{"a quarter by angles", "#9=IFCTRIMMEDCURVE(#1,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(90.)),.T.,.PARAMETER.);", Vec{X: 3}, Vec{X: 1, Y: 2}, Vec{X: 1, Y: 2}},
		{"a quarter by points", "#9=IFCTRIMMEDCURVE(#1,(#4),(#5),.T.,.CARTESIAN.);", Vec{X: 3}, Vec{X: 1, Y: 2}, Vec{X: 1, Y: 2}},
		{"the other three quarters", "#9=IFCTRIMMEDCURVE(#1,(IFCPARAMETERVALUE(90.)),(IFCPARAMETERVALUE(0.)),.T.,.PARAMETER.);", Vec{X: 1, Y: 2}, Vec{X: 3}, Vec{X: 1, Y: 2}},
		{"against the sense of the circle", "#9=IFCTRIMMEDCURVE(#1,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(180.)),.F.,.PARAMETER.);", Vec{X: 3}, Vec{X: -1}, Vec{X: 3}},
		{"over the start of the circle", "#9=IFCTRIMMEDCURVE(#1,(IFCPARAMETERVALUE(270.)),(IFCPARAMETERVALUE(90.)),.T.,.PARAMETER.);", Vec{X: 1, Y: -2}, Vec{X: 1, Y: 2}, Vec{X: 1, Y: 2}},
		{"through three points", "#9=IFCINDEXEDPOLYCURVE(#8,(IFCARCINDEX((1,2,3))),$);#8=IFCCARTESIANPOINTLIST2D(((3.,0.),(1.,2.),(-1.,0.)));", Vec{X: 3}, Vec{X: -1}, Vec{X: 1, Y: 2}},
		{"through three points, the other way", "#9=IFCINDEXEDPOLYCURVE(#8,(IFCARCINDEX((1,2,3))),$);#8=IFCCARTESIANPOINTLIST2D(((3.,0.),(1.,-2.),(-1.,0.)));", Vec{X: 3}, Vec{X: -1}, Vec{X: 3}},
	}
	for _, test := range tests {
		m := modelOf(circle + test.curve)
		c, err := m.curve(step.Value("#9"), 0)
		if err != nil || !c.Curved {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		top := c.Points[0]
		for _, p := range c.Points {
			if d := p.Sub(Vec{X: 1}).Len(); math.Abs(d-2) > 1e-9 {
				t.Errorf("%s: %v is not on the circle", test.name, p)
			}
			if p.Y > top.Y+1e-9 {
				top = p
			}
		}
		if !close2(c.Points[0], test.first) || !close2(c.Points[len(c.Points)-1], test.last) || !close2(top, test.most) {
			t.Errorf("%s: from %v to %v by %v", test.name, c.Points[0], c.Points[len(c.Points)-1], top)
		}
	}
}

func TestLinesAndComposites(t *testing.T) {
	text := "#1=IFCCARTESIANPOINT((1.,1.));#2=IFCDIRECTION((0.,3.));#3=IFCVECTOR(#2,2.);#4=IFCLINE(#1,#3);" +
		"#5=IFCTRIMMEDCURVE(#4,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(4.)),.T.,.PARAMETER.);" +
		"#6=IFCCARTESIANPOINT((5.,9.));#7=IFCCARTESIANPOINT((1.,9.));#8=IFCPOLYLINE((#6,#7));" +
		"#10=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#5);#11=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.F.,#8);#9=IFCCOMPOSITECURVE((#10,#11),.F.);"
	c, err := modelOf(text).curve(step.Value("#9"), 0)
	want := []Vec{{X: 1, Y: 1}, {X: 1, Y: 9}, {X: 5, Y: 9}}
	if err != nil || c.Curved || len(c.Points) != len(want) {
		t.Fatalf("%v %v", c, err)
	}
	for i, p := range c.Points {
		if !close2(p, want[i]) {
			t.Errorf("point %d: %v, want %v", i, p, want[i])
		}
	}
}

// The area of a profile is known from its dimensions.
func TestProfiles(t *testing.T) {
	point := "#1=IFCCARTESIANPOINT((0.,0.));#2=IFCCARTESIANPOINT((10.,0.));#3=IFCCARTESIANPOINT((10.,10.));#4=IFCCARTESIANPOINT((0.,10.));#5=IFCPOLYLINE((#1,#2,#3,#4,#1));" +
		"#6=IFCCARTESIANPOINT((2.,2.));#7=IFCCARTESIANPOINT((4.,2.));#8=IFCCARTESIANPOINT((4.,4.));#10=IFCPOLYLINE((#6,#7,#8,#6));#11=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,3.,4.);"
	chords := 24 * math.Sin(math.Pi/24) / math.Pi // area of a circle of 48 chords, per area of the circle
	tests := []struct {
		profile     string
		outer, hole float64
	}{
		{"IFCRECTANGLEPROFILEDEF(.AREA.,$,#908,3.,4.)", 12, 0},
		{"IFCROUNDEDRECTANGLEPROFILEDEF(.AREA.,$,#908,3.,4.,0.5)", 12, 0},
		{"IFCCIRCLEPROFILEDEF(.AREA.,$,#908,2.)", 4 * math.Pi * chords, 0},
		{"IFCELLIPSEPROFILEDEF(.AREA.,$,#908,2.,3.)", 6 * math.Pi * chords, 0},
		{"IFCTRAPEZIUMPROFILEDEF(.AREA.,$,#908,6.,2.,4.,1.)", 16, 0},
		{"IFCISHAPEPROFILEDEF(.AREA.,$,#908,3.,5.,0.5,0.5,$)", 15, 0},
		{"IFCCSHAPEPROFILEDEF(.AREA.,$,#908,5.,3.,0.5,1.,$,$)", 15, 0},
		{"IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#5)", 100, 0},
		{"IFCARBITRARYPROFILEDEFWITHVOIDS(.AREA.,$,#5,(#10))", 100, 2},
		{"IFCCOMPOSITEPROFILEDEF(.AREA.,$,(#11,#11),$)", 24, 0},
		{"IFCMIRROREDPROFILEDEF(.AREA.,$,#11,*,$)", 12, 0},
		{"IFCDERIVEDPROFILEDEF(.AREA.,$,#11,#12,$)", 48, 0},
	}
	for _, test := range tests {
		m := modelOf(point + "#12=IFCCARTESIANTRANSFORMATIONOPERATOR2D($,$,#1,2.);#9=" + test.profile + ";")
		areas, err := m.profile(step.Value("#9"), 0)
		if err != nil {
			t.Errorf("%s: %v", test.profile, err)
		}
		outer, hole := 0.0, 0.0
		for _, a := range areas {
			outer += math.Abs(ringArea(a.outer))
			for _, h := range a.holes {
				hole += math.Abs(ringArea(h))
			}
		}
		if math.Abs(outer-test.outer) > 1e-6 || math.Abs(hole-test.hole) > 1e-6 {
			t.Errorf("%s: area %v less %v, want %v less %v", test.profile, outer, hole, test.outer, test.hole)
		}
	}
}

func TestUnsupportedIsNamed(t *testing.T) {
	m := modelOf("#1=IFCSPHERE(#2,3.);#2=IFCAXIS2PLACEMENT3D(#907,$,$);")
	_, err := m.solid(1, Identity, 0)
	if !errors.Is(err, ErrUnsupported) || !strings.HasPrefix(err.Error(), "#1 IfcSphere: ") {
		t.Errorf("%v", err)
	}
}

func box(x0, y0, z0, x1, y1, z1 float64) *Solid {
	at := Identity
	at.O = Vec{x0, y0, z0}
	return Block(at, x1-x0, y1-y0, z1-z0)
}

// area returns the area of a section.
func (s Section) area() float64 {
	a := 0.0
	for _, strip := range s {
		for _, span := range strip.Spans {
			lo, hi := span.middle()
			a += (strip.To - strip.From) * (hi - lo)
		}
	}
	return a
}

var along = Frame{Dir: Vec{X: 1}}

func cut(t interface{ Fatal(...any) }, solids ...*Solid) Section {
	s, err := modelOf("").Cut(solids, along, 0)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// For any two boxes and any half space the areas of union, intersection and
// difference must add up, whichever way round they are taken.
func TestSectionsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := func(name string, least, most int) float64 { return float64(rapid.IntRange(least, most).Draw(t, name)) }
		a := box(size("ax", 0, 50), -1, size("az", 0, 50), 100, 1, 100)
		var b *Solid
		if rapid.Bool().Draw(t, "half space") {
			angle := size("angle", 0, 359) / 180 * math.Pi
			b = &Solid{op: halfSpace, point: Vec{size("px", 0, 100), 0, size("pz", 0, 100)}, normal: Vec{math.Cos(angle), 0, math.Sin(angle)}}
			frame := box(-1000, -1, -1000, 1000, 1, 1000) // so that its area is finite
			b = &Solid{op: intersection, first: frame, second: b}
		} else {
			b = box(size("bx", 0, 90), -1, size("bz", 0, 90), size("bX", 91, 200), 1, size("bZ", 91, 200))
		}
		both := func(op operation, x, y *Solid) float64 { return cut(t, &Solid{op: op, first: x, second: y}).area() }
		sa, sb := cut(t, a).area(), cut(t, b).area()
		u, i, d := both(union, a, b), both(intersection, a, b), both(difference, a, b)
		for what, off := range map[string]float64{
			"union and intersection": u + i - sa - sb, "difference": d + i - sa, "union the other way": u - both(union, b, a),
			"two solids of one body": u - cut(t, a, b).area(),
		} {
			if math.Abs(off) > 0.1 {
				t.Errorf("%s: %v off (a %v, b %v, union %v, intersection %v, difference %v)", what, off, sa, sb, u, i, d)
			}
		}
	})
}

// A bounded half space takes away only within its boundary.
func TestBoundedHalfSpace(t *testing.T) {
	text := "#1=IFCPLANE(#2);#2=IFCAXIS2PLACEMENT3D(#3,$,$);#3=IFCCARTESIANPOINT((0.,0.,40.));" +
		"#4=IFCCARTESIANPOINT((20.,-5.));#5=IFCCARTESIANPOINT((60.,-5.));#6=IFCCARTESIANPOINT((60.,5.));#7=IFCCARTESIANPOINT((20.,5.));#8=IFCPOLYLINE((#4,#5,#6,#7,#4));" +
		"#10=IFCCARTESIANPOINT((0.,0.,0.));#11=IFCAXIS2PLACEMENT3D(#10,$,$);#9=IFCPOLYGONALBOUNDEDHALFSPACE(#1,.F.,#11,#8);"
	half, err := modelOf(text).solid(9, Identity, 0)
	if err != nil {
		t.Fatal(err)
	}
	s := cut(t, &Solid{op: difference, first: box(0, -1, 0, 100, 1, 100), second: half})
	if got := s.area(); math.Abs(got-(100*100-40*60)) > 0.01 || len(s) != 3 {
		t.Errorf("area %v in %d strips", got, len(s))
	}
}

func TestSidesOf(t *testing.T) {
	sin, cos := math.Sincos(0.3)
	at := Transform{X: Vec{cos, sin, 0}, Y: Vec{-sin, cos, 0}, Z: Vec{Z: 1}}
	s := SidesOf([]*Solid{Block(at, 4000, 100, 2500)})
	if d := math.Abs(s.Along.X*cos + s.Along.Y*sin); math.Abs(d-1) > 1e-12 || math.Abs(s.Share-40.0/41) > 1e-9 || s.Leaning != 0 {
		t.Errorf("%+v", s)
	}
}

func TestHull(t *testing.T) {
	points := []Vec{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 2, Y: 1}, {X: 4, Y: 3}, {X: 0, Y: 3}, {X: 2, Y: 0}, {X: 4, Y: 0, Z: 5}}
	hull := Hull(points)
	if len(hull) != 4 || math.Abs(ringArea(hull)-12) > 1e-9 {
		t.Errorf("%v", hull)
	}
}

// Two triangles and a square that share sides make one outline.
func TestFootprintOfParts(t *testing.T) {
	a, b, c, d := Vec{X: 0, Y: 0}, Vec{X: 2, Y: 0}, Vec{X: 2, Y: 2}, Vec{X: 0, Y: 2}
	e, f := Vec{X: 4, Y: 0}, Vec{X: 4, Y: 2}
	s := &Solid{Faces: []Face{{{a, b, c}}, {{a, d, c}}, {{b, e, f, c}}}} // the second runs the other way round
	ring, ok := Footprint([]*Solid{s})
	if !ok || math.Abs(math.Abs(ringArea(ring))-8) > 1e-9 {
		t.Errorf("%v %v", ring, ok)
	}
}
