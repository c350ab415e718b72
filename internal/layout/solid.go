package layout

import (
	"math"
	"slices"

	"nogging/internal/geom"
	"nogging/internal/plan"
)

// solid is a body of existing structure in plan.
type solid struct {
	id       string
	material string
	post     bool // of a facade, or a mullion
	outline  geom.Polygon
}

// newSolid returns the body of s, or false if it has none.
func newSolid(s *plan.Structure) (*solid, bool) {
	x := &solid{id: s.ID, material: s.Material, post: s.Kind == plan.FacadePost}
	switch {
	case len(s.Outline) >= 3:
		for _, p := range s.Outline {
			x.outline = append(x.outline, geom.Point(p))
		}
	case len(s.Line) == 2 && s.Thickness > 0:
		line := geom.Segment{A: geom.Point(s.Line[0]), B: geom.Point(s.Line[1])}
		f, l, h := geom.FrameOf(line), line.Length(), s.Thickness/2
		if l == 0 {
			return nil, false
		}
		x.outline = geom.Polygon{f.Global(0, -h), f.Global(l, -h), f.Global(l, h), f.Global(0, h)}
	default:
		return nil, false
	}
	return x, true
}

// inside lists where the line at offset v of a wall runs inside the body, as
// stretches of u in ascending order.
func (x *solid) inside(b *body, v Length) []geom.Interval {
	if b.arc != nil {
		return x.insideArc(b, v)
	}
	f := b.frame
	var cuts []Length
	x.outline.Edges(func(s geom.Segment) {
		a, b := f.Local(s.A), f.Local(s.B)
		if (a.Y > v) == (b.Y > v) {
			return
		}
		t := float64(v-a.Y) / float64(b.Y-a.Y)
		cuts = append(cuts, a.X+Length(math.Round(t*float64(b.X-a.X))))
	})
	slices.Sort(cuts)
	var spans []geom.Interval
	for i := 0; i+1 < len(cuts); i += 2 {
		spans = append(spans, geom.Interval{From: cuts[i], To: cuts[i+1]})
	}
	return spans
}

// stops reports whether a wall's end stands in the body or against it.
func (x *solid) stops(ep *endPoint) bool {
	_, ok := x.surface(ep, 0)
	return ok
}

// surface returns the u at which the line at offset v of the wall reaches the
// body at the given end.
func (x *solid) surface(ep *endPoint, v Length) (Length, bool) {
	b := ep.body
	for _, span := range x.inside(b, v) {
		if ep.end == 1 && span.From > 0 && span.From <= b.length+structureTolerance && span.To >= b.length-structureTolerance {
			return span.From, true
		}
		if ep.end == 0 && span.To < b.length && span.To >= -structureTolerance && span.From <= structureTolerance {
			return span.To, true
		}
	}
	return 0, false
}

// ahead returns how far beyond a wall's end the body begins.
func (x *solid) ahead(ep *endPoint) (Length, bool) {
	for _, span := range x.inside(ep.body, 0) {
		if ep.end == 1 && span.From >= ep.body.length {
			return span.From - ep.body.length, true
		}
		if ep.end == 0 && span.To <= 0 {
			return -span.To, true
		}
	}
	return 0, false
}
