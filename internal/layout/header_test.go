package layout

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// strips integrates a section of rectangles (width, height, foot) over its
// height: an oracle that knows nothing of the closed formulae.
func strips(rects [][3]float64) (inertia, top float64) {
	const dz = 1e-3
	var area, first, second float64
	for _, r := range rects {
		for z := r[2] + dz/2; z < r[2]+r[1]; z += dz {
			area += r[0] * dz
			first += r[0] * dz * z
			second += r[0] * dz * z * z
		}
		top = max(top, r[2]+r[1])
	}
	c := first / area
	return second - area*c*c, top - c
}

// TestSectionsOfHeaders: the sections of a UW 75 (75 x 40 x 0.6), of two of them
// pushed into each other, and of a UA 75 (73.8 x 40 x 2), each against strips of
// its sharp-cornered outline. The middle line of thin sheet is within 1 % of that.
func TestSectionsOfHeaders(t *testing.T) {
	for _, c := range []struct {
		name  string
		got   section
		rects [][3]float64
	}{
		{"UW75", channelFlat(75, 40, 0.6, 140), [][3]float64{{75, 0.6, 0}, {1.2, 39.4, 0.6}}},
		{"UA75", channelFlat(73.8, 40, 2, 140), [][3]float64{{73.8, 2, 0}, {4, 38, 2}}},
		{"two UW75", boxFlat(75, 40, 0.6, 140), [][3]float64{{74.4, 0.6, -0.3}, {74.4, 0.6, 39.4}, {2.4, 39.7, 0}}},
	} {
		inertia, top := strips(c.rects)
		if math.Abs(c.got.inertia/inertia-1) > 0.01 {
			t.Errorf("%s: inertia %.0f mm⁴, strips give %.0f", c.name, c.got.inertia, inertia)
		}
		if modulus := inertia / top; math.Abs(c.got.modulus/modulus-1) > 0.02 {
			t.Errorf("%s: modulus %.0f mm³, strips give %.0f", c.name, c.got.modulus, modulus)
		}
	}
}

// TestBucklingOfThinParts: reductions worked by hand from EN 1993-1-5, 4.4 (from
// memory): an outstand of slenderness 2 reaches (2 - 0.188)/4 = 0.453 of its
// strength, an internal part (2 - 0.22)/4 = 0.445; stocky parts all of it. A plate
// 75 mm wide of 0.6 mm with 140 N/mm² and k = 4 has slenderness 125/(28.4 · 1.2956
// · 2) = 1.699.
func TestBucklingOfThinParts(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"slender outstand", outstand(2), 0.453},
		{"slender internal part", internalPart(2), 0.445},
		{"stocky outstand", outstand(0.7), 1},
		{"stocky internal part", internalPart(0.6), 1},
		{"slenderness", slenderness(75, 0.6, 4, 140), 1.6986},
	} {
		if math.Abs(c.got-c.want) > 5e-4 {
			t.Errorf("%s: %.4f, want %.4f", c.name, c.got, c.want)
		}
	}
}

// TestBeamFormulae: moment and sag against the differential equation EI w” = -M,
// integrated twice in small steps for random loads: an oracle that knows no
// formula but statics.
func TestBeamFormulae(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := carried{q: rapid.Float64Range(0, 2).Draw(t, "q"), p: rapid.Float64Range(0, 2000).Draw(t, "p")}
		span := rapid.Float64Range(500, 4000).Draw(t, "span")
		const inertia, n = 20_000.0, 4000
		dx := span / n
		m := func(x float64) float64 {
			return (c.q*span+c.p)/2*x - c.q*x*x/2 - c.p*max(x-span/2, 0)
		}
		var slope, w, most float64
		ws := make([]float64, 0, n)
		for i := range n {
			slope -= m((float64(i)+0.5)*dx) / (youngs * inertia) * dx
			w += slope * dx
			ws = append(ws, w)
			most = max(most, m(float64(i)*dx))
		}
		sag := 0.0
		for i := range ws { // turn the line so that it ends on its support
			sag = max(sag, ws[i]-w*float64(i+1)/n)
		}
		if got := c.moment(span); math.Abs(got-most) > 1e-3*most+1e-9 {
			t.Fatalf("moment %.1f, integrated %.1f", got, most)
		}
		if got := c.sag(span, inertia); math.Abs(got-sag) > 5e-3*sag+1e-9 {
			t.Fatalf("sag %.4f, integrated %.4f", got, sag)
		}
	})
}

// TestWidestHeader: the widest opening is one that holds, and a millimetre more
// is not; more load never makes it wider.
func TestWidestHeader(t *testing.T) {
	rules := limits{yield: 140, safety: 1.35, sag: 360}
	rapid.Check(t, func(t *rapid.T) {
		s := channelFlat(rapid.Float64Range(40, 150).Draw(t, "web"), rapid.Float64Range(30, 60).Draw(t, "leg"), rapid.Float64Range(0.5, 2.5).Draw(t, "sheet"), rules.yield)
		c := carried{q: rapid.Float64Range(0.05, 2).Draw(t, "q"), p: rapid.Float64Range(0, 1000).Draw(t, "p")}
		w := rules.widest(s, c)
		if w > 0 && !rules.holds(s, c, w) || rules.holds(s, c, w+1) {
			t.Fatalf("widest %v", w)
		}
		if rules.widest(s, carried{c.q * 1.1, c.p}) > w || rules.widest(s, carried{c.q, c.p + 50}) > w {
			t.Fatal("more load, wider opening")
		}
	})
}
