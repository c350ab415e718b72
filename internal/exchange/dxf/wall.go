package dxf

import (
	"cmp"
	"math"
	"slices"

	"nogging/internal/plan"
	"nogging/internal/words"
)

// Limits of openings in mm.
const (
	narrowestOpening = 400
	widestOpening    = 5200 // of a garage door
	widestPlain      = 2000 // of an opening for which nothing speaks but its closed sides
	leastDrawn       = 0.2  // of a wall's length that its two lines run along
	atJamb           = 120  // from a jamb to what belongs to it
)

// opening is a gap in a wall.
type opening struct {
	span
	kind       plan.OpeningKind
	confidence float64
	why        words.Text
	sign       Sign
}

// wall is a wall that was recognised: a stretch along an axis.
type wall struct {
	span
	axis     axis
	off      float64 // of its centre line
	thick    float64
	role     Role
	usual    bool
	filled   bool // a hatch lies on it
	drawn    float64
	openings []opening
	joined   int // ends that meet another wall
}

func (w *wall) end(i int) vec {
	if i == 0 {
		return w.axis.at(w.lo, w.off)
	}
	return w.axis.at(w.hi, w.off)
}

// evidence lists what else speaks for a wall than two parallel lines; layer is what its
// layer says, "" for nothing.
func (w *wall) evidence(layer Sign) []Sign {
	var out []Sign
	if layer != "" {
		out = append(out, layer)
	}
	for _, s := range []struct {
		is   bool
		sign Sign
	}{{w.usual, Usual}, {w.filled, Filled}, {w.joined > 0, Joined}, {w.joined > 1, JoinedTwice}, {w.drawn > 4*w.thick, Long}} {
		if s.is {
			out = append(out, s.sign)
		}
	}
	return out
}

// confidence says how sure it is that this is a wall, from 0 to 1. The weights are
// judgement.
func (w *wall) confidence(layer Sign) float64 {
	c := 0.35
	for _, s := range w.evidence(layer) {
		c += wallWeights[s]
	}
	return min(c, 0.99)
}

var wallWeights = map[Sign]float64{Named: 0.2, Pure: 0.15, Usual: 0.2, Filled: 0.1, Joined: 0.1, JoinedTwice: 0.05, Long: 0.1}

// recogniser finds walls among the lines of a drawing in millimetres.
type recogniser struct {
	*drawing
	role  func(ink) Role
	mixed bool // much else than walls lies on layers of walls
	axes  []axis
	faces []*face
	parts []*pair
	walls []*wall
	most  int // looks that it may take
	spent int // looks at lines and walls

	origin vec // of the plan, in the drawing
}

// recognise finds the walls of a drawing in millimetres. Where much else lies on the
// layers of walls, what hangs together with little else is left out.
func recognise(d *drawing, role func(ink) Role, mixed bool) *recogniser {
	return (&recogniser{drawing: d, role: role, mixed: mixed, most: mostSpent}).run()
}

func (r *recogniser) run() *recogniser {
	r.axes, r.faces = faces(r.wallLines(), r.role)
	r.parts = pairs(r.faces)
	r.joinParts()
	r.dropStubs()
	if r.mixed {
		r.dropLoose()
	}
	r.meet()
	r.walls = slices.DeleteFunc(r.walls, func(w *wall) bool { return w.length() < w.thick/2 }) // between the two edges of one wall
	r.settleGlazed()
	r.markFilled()
	return r
}

// mostSpent bounds the looks at lines and walls on drawings that are no plans.
const mostSpent = 400_000_000

// spend counts looks, and reports whether there are enough left for them.
func (r *recogniser) spend(looks int) bool {
	if r.spent > r.most || looks > r.most {
		r.spent = r.most + 1
		return false
	}
	r.spent += looks
	return true
}

// wallLines returns the lines of walls, with the edges of what is filled.
func (r *recogniser) wallLines() []segment {
	var out []segment
	for _, s := range r.segments {
		switch {
		case !r.role(s.ink).isWall() || s.dashed && r.mixed:
		case s.wide >= thinnest && s.wide <= thickest && s.a != s.b:
			out = append(out, s.sides()...)
		default:
			out = append(out, s)
		}
	}
	for _, g := range r.rings {
		if !g.filled || !r.role(g.ink).isWall() {
			continue
		}
		for i, p := range g.points {
			out = append(out, segment{ink: g.ink, a: p, b: g.points[(i+1)%len(g.points)]})
		}
	}
	return out
}

// sides returns the edges of a line that is as wide as a wall.
func (s segment) sides() []segment {
	off := s.b.sub(s.a).left().times(s.wide / 2 / s.a.dist(s.b))
	return []segment{{s.ink, s.a.add(off), s.b.add(off), 0, false}, {s.ink, s.a.sub(off), s.b.sub(off), 0, false}}
}

// joinParts makes walls of parts on one centre line, over joints and openings.
func (r *recogniser) joinParts() {
	parts := slices.Clone(r.parts)
	slices.SortStableFunc(parts, func(p, q *pair) int {
		return cmp.Or(cmp.Compare(p.a.axis, q.a.axis), cmp.Compare(p.lo, q.lo))
	})
	var open []*wall
	axis := -1
	for _, p := range parts {
		if p.a.axis != axis {
			axis, open = p.a.axis, nil
		}
		at := slices.IndexFunc(open, func(w *wall) bool {
			return math.Abs(w.off-p.centre()) <= sameThick && math.Abs(w.thick-p.thick) <= sameThick && r.bridge(w, p)
		})
		if at >= 0 {
			w := open[at]
			w.hi, w.drawn, w.usual = max(w.hi, p.hi), w.drawn+p.length(), w.usual || p.usual
			if w.role == Wall {
				w.role = p.role()
			}
			continue
		}
		w := &wall{span: p.span, axis: r.axes[axis], off: p.centre(), thick: p.thick, role: p.role(), usual: p.usual, drawn: p.length()}
		open, r.walls = append(open, w), append(r.walls, w)
	}
}

// bridge reports whether a part goes on with a wall, and notes the opening between.
func (r *recogniser) bridge(w *wall, p *pair) bool {
	gap := span{w.hi, p.lo}
	switch g := gap.length(); {
	case g <= 30:
		return true
	case !r.spend(len(r.faces) + len(r.parts) + len(r.segments) + len(r.rings) + len(r.curves)):
		return false
	case g <= thickest && r.crossed(w, p, gap):
		return true
	case g < narrowestOpening || g > widestOpening:
		return false
	}
	o := r.openingIn(w, gap)
	if o.confidence == 0 {
		return false
	}
	w.openings = append(w.openings, o)
	return true
}

// crossed reports whether a gap is where another wall meets: one face runs on, or
// another wall's part lies across.
func (r *recogniser) crossed(w *wall, p *pair, gap span) bool {
	for _, f := range r.faces {
		if f.axis == p.a.axis && (math.Abs(f.off-p.a.off) <= sameOffset || math.Abs(f.off-p.b.off) <= sameOffset) &&
			f.lo <= gap.lo+sameEnd && f.hi >= gap.hi-sameEnd {
			return true
		}
	}
	middle := w.axis.at((gap.lo+gap.hi)/2, w.off)
	for _, q := range r.parts {
		if q.a.axis == p.a.axis || math.Abs(q.thick-gap.length()) > 2*sameThick {
			continue
		}
		ax := r.axes[q.a.axis]
		if math.Abs(ax.across(middle)-q.centre()) < q.thick && q.span.wider(w.thick+sameEnd).holds(ax.along(middle)) {
			return true
		}
	}
	return false
}

// dropStubs leaves out what is no longer than thick, reveals and corners, and what is
// hardly more than gaps, such as a row of posts.
func (r *recogniser) dropStubs() {
	r.walls = slices.DeleteFunc(r.walls, func(w *wall) bool { return w.length() < max(1.2*w.thick, 150) || w.drawn < leastDrawn*w.length() })
}

// meet draws the ends of walls out to, or back to, the centre lines of the walls
// that they meet.
func (r *recogniser) meet() {
	type end struct {
		at    float64
		found bool
	}
	if !r.spend(2 * len(r.walls) * len(r.walls)) {
		return
	}
	ends := make([][2]end, len(r.walls))
	for i, w := range r.walls {
		for k, at := range []float64{w.lo, w.hi} {
			best := math.Inf(1)
			for _, o := range r.walls {
				if to, ok := w.reach(o, at); ok && math.Abs(to-at) < best {
					best, ends[i][k] = math.Abs(to-at), end{to, true}
				}
			}
		}
	}
	for i, w := range r.walls {
		if ends[i][0].found {
			w.lo = ends[i][0].at
			w.joined++
		}
		if ends[i][1].found {
			w.hi = ends[i][1].at
			w.joined++
		}
	}
}

// reach returns where a wall's line crosses the centre line of another one that its
// end lies at.
func (w *wall) reach(o *wall, at float64) (float64, bool) {
	turn := w.axis.dir.cross(o.axis.dir)
	if w == o || math.Abs(turn) < 0.2 {
		return 0, false
	}
	p := w.axis.at(at, w.off)
	to := at + (o.off-o.axis.across(p))/o.axis.left().dot(w.axis.dir)
	cross := w.axis.at(to, w.off)
	near := (o.thick/2 + 15) / math.Abs(turn)
	return to, math.Abs(to-at) <= near && o.span.wider(w.thick/2/math.Abs(turn)+15).holds(o.axis.along(cross))
}

func (a axis) left() vec { return a.dir.left() }

// markFilled notes which walls have a hatch or solid on them.
func (r *recogniser) markFilled() {
	var holes []ring
	for _, g := range r.rings {
		if g.hole {
			holes = append(holes, g)
		}
	}
	for _, g := range r.rings {
		if !g.filled || g.hole || !r.spend(len(r.walls)*len(g.points)) {
			continue
		}
		for _, w := range r.walls {
			middle := w.axis.at((w.lo+w.hi)/2, w.off)
			w.filled = w.filled || inside(middle, g.points) && !slices.ContainsFunc(holes, func(h ring) bool { return inside(middle, h.points) })
		}
	}
}

// inside reports whether a point lies inside an outline.
func inside(p vec, ring []vec) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.y > p.y) != (b.y > p.y) && p.x < a.x+(p.y-a.y)/(b.y-a.y)*(b.x-a.x) {
			in = !in
		}
	}
	return in
}
