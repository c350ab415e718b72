package plan

import (
	"fmt"
	"math"
	"strings"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"nogging/internal/geom"
	"nogging/internal/quantity"
)

// lineString gives points in metres to simplefeatures, an independent
// implementation of the OGC Simple Feature Access standard that the tests
// compare with.
func lineString(t interface{ Fatal(...any) }, points ...geom.Point) sf.LineString {
	var xy []string
	for _, p := range points {
		xy = append(xy, fmt.Sprintf("%v %v", p.X.Metres(), p.Y.Metres()))
	}
	g, err := sf.UnmarshalWKT("LINESTRING("+strings.Join(xy, ",")+")", sf.NoValidate{})
	if err != nil {
		t.Fatal(err)
	}
	return g.MustAsLineString()
}

func genWall(t *rapid.T, i int) Wall {
	c := func(what string) Length {
		return Length(rapid.IntRange(-20, 20).Draw(t, what)) * 500 * quantity.Millimetre
	}
	w := Wall{ID: fmt.Sprintf("L1-%02d", i), Level: "L1", Thickness: 300 * quantity.Millimetre, Line: []Pt{{c("x"), c("y")}, {c("x"), c("y")}}}
	if w.Length() == 0 {
		w.Line[1].X += quantity.Metre
	}
	return w
}

// expected says by simplefeatures whether two walls cross: their lines meet in
// one point that lies further from all ends than the walls are thick.
func expected(t *rapid.T, a, b *Wall) (bool, float64) {
	la := lineString(t, geom.Point(a.Line[0]), geom.Point(a.Line[1]))
	lb := lineString(t, geom.Point(b.Line[0]), geom.Point(b.Line[1]))
	both, err := sf.Intersection(la.AsGeometry(), lb.AsGeometry())
	if err != nil {
		t.Fatal(err)
	}
	if both.IsEmpty() || both.Type() != sf.TypePoint {
		return false, math.Inf(1)
	}
	da := geom.Vec{X: a.Line[1].X.Metres() - a.Line[0].X.Metres(), Y: a.Line[1].Y.Metres() - a.Line[0].Y.Metres()}
	db := geom.Vec{X: b.Line[1].X.Metres() - b.Line[0].X.Metres(), Y: b.Line[1].Y.Metres() - b.Line[0].Y.Metres()}
	sine := math.Abs(da.Cross(db)) / a.Length().Metres() / b.Length().Metres()
	nearest := math.Inf(1)
	for _, end := range []Pt{a.Line[0], a.Line[1], b.Line[0], b.Line[1]} {
		g, err := sf.UnmarshalWKT(fmt.Sprintf("POINT(%v %v)", end.X.Metres(), end.Y.Metres()))
		if err != nil {
			t.Fatal(err)
		}
		d, _ := sf.Distance(both, g)
		nearest = min(nearest, d)
	}
	return nearest > 0.3/sine, nearest - 0.3/sine
}

func TestCrossingsAgreeWithSimpleFeatures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := &Plan{Version: 1, Practice: Metric, Levels: []Level{{ID: "L1", ClearHeight: 3 * quantity.Metre}}}
		for i := range rapid.IntRange(2, 12).Draw(t, "walls") {
			p.Walls = append(p.Walls, genWall(t, i))
		}
		found := map[string]string{}
		for _, f := range p.Validate() {
			if f.Code == "walls-cross" || f.Code == "walls-overlap" {
				other := strings.FieldsFunc(f.What.String(), func(r rune) bool { return r == ' ' || r == ',' })
				for _, word := range other {
					if strings.HasPrefix(word, "L1-") {
						found[word+" "+f.Object] = f.Code
						break
					}
				}
			}
		}
		for j := range p.Walls {
			for i := range j {
				pair := p.Walls[i].ID + " " + p.Walls[j].ID
				want, margin := expected(t, &p.Walls[i], &p.Walls[j])
				if got := found[pair] == "walls-cross"; got != want && math.Abs(margin) > 1e-6 && found[pair] != "walls-overlap" {
					t.Fatalf("%s: crossing is %v, want %v (%v, %v)", pair, got, want, p.Walls[i].Line, p.Walls[j].Line)
				}
			}
		}
	})
}

func TestOutlinesAgreeWithSimpleFeatures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var corners []Pt
		for range rapid.IntRange(3, 8).Draw(t, "corners") {
			c := func(what string) Length { return Length(rapid.IntRange(0, 6).Draw(t, what)) * quantity.Metre }
			corners = append(corners, Pt{c("x"), c("y")})
		}
		outline := polygon(corners)
		if len(outline) < 3 {
			return
		}
		_, _, crosses := crossing(outline)
		simple := lineString(t, append(outline, outline[0])...).IsSimple()
		if crosses == simple {
			t.Fatalf("%v: crosses is %v, simple is %v", outline, crosses, simple)
		}
	})
}

// Walls that run through each other are found wherever they lie on a large
// plan, and nothing else is.
func TestCrossingsOnLargePlan(t *testing.T) {
	p, _ := Parse("big.yaml", bigPlan(2000))
	if found := p.Validate(); len(found) > 0 {
		t.Fatal(found)
	}
	at := 777
	p.Walls[at].Line[0].Y -= quantity.Metre
	p.Walls[at].Line[1].Y += quantity.Metre
	p.Walls[at].Line[1].X += 300 * quantity.Millimetre
	p.Walls[at].Line[0].X += 300 * quantity.Millimetre
	found := p.Validate()
	if len(found) != 2 || found[0].Code != "walls-cross" || found[1].Code != "walls-cross" {
		t.Errorf("found %v", found)
	}
}

// A plan in which everything crosses everything is cut short.
func TestTangle(t *testing.T) {
	p := &Plan{Version: 1, Practice: Metric, Levels: []Level{{ID: "L1", ClearHeight: 3 * quantity.Metre}}}
	for i := range 3000 {
		a := 2 * math.Pi * float64(i) / 3000
		x, y := quantity.Metres(50*math.Cos(a)), quantity.Metres(50*math.Sin(a))
		p.Walls = append(p.Walls, Wall{ID: fmt.Sprintf("L1-%04d", i), Level: "L1", Thickness: 100 * quantity.Millimetre, Line: []Pt{{-x, -y}, {x, y}}})
	}
	found := p.Validate()
	if len(found) > mostCrossings+1 || found[len(found)-1].Code != "walls-not-compared" {
		t.Errorf("%d findings, last %v", len(found), found[len(found)-1])
	}
}
