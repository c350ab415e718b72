package sheets

import (
	"math"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// drawSwings draws how doors open, where the plan says it: each leaf open, and the arc
// that its edge runs along.
func (p *planView) drawSwings(g *drawing.Group, w *layout.Wall) {
	for i := range w.Openings {
		for _, s := range swings(&w.Openings[i], w.Thickness/2) {
			g.Add(drawing.Path{Points: p.pts(s.leaf(w)), Pen: drawing.Thin}, drawing.Path{Points: p.pts(s.arc(w)), Pen: drawing.Thin})
		}
	}
}

// swing is one leaf as it opens.
type swing struct {
	hinge geom.Point // u and v
	shut  float64    // 1 where the shut leaf lies along u from the hinge, -1 against it
	out   float64    // 1 where it opens to the left of the wall, -1 to the right
	wide  Length
}

// swings returns the leaves of a door of which the side to which they open is known.
func swings(o *layout.Opening, half Length) []swing {
	l := o.Leaf
	if l.Opens == "" || o.Pocket != nil {
		return nil
	}
	out := 1.0
	if l.Opens == plan.FaceB {
		out = -1
	}
	v := Length(out) * half
	atStart := swing{geom.Pt(o.U.From, v), 1, out, o.Width()}
	atEnd := swing{geom.Pt(o.U.To, v), -1, out, o.Width()}
	switch {
	case l.Count == 2:
		atStart.wide, atEnd.wide = o.Width()/2, o.Width()/2
		return []swing{atStart, atEnd}
	case l.Hinge == plan.AtStart:
		return []swing{atStart}
	case l.Hinge == plan.AtEnd:
		return []swing{atEnd}
	}
	return nil
}

// edge returns where the edge of the leaf is when it is open by an angle.
func (s swing) edge(w *layout.Wall, angle float64) geom.Point {
	du, dv := s.shut*math.Cos(angle), s.out*math.Sin(angle)
	return w.Point(s.hinge.X+Length(du*float64(s.wide)), s.hinge.Y+Length(dv*float64(s.wide)))
}

func (s swing) leaf(w *layout.Wall) []geom.Point {
	return []geom.Point{w.Point(s.hinge.X, s.hinge.Y), s.edge(w, math.Pi/2)}
}

func (s swing) arc(w *layout.Wall) []geom.Point {
	const steps = 12
	points := make([]geom.Point, steps+1)
	for i := range points {
		points[i] = s.edge(w, math.Pi/2*float64(i)/steps)
	}
	return points
}

// swept returns the places that the edges of a wall's leaves reach.
func swept(w *layout.Wall) []geom.Point {
	var points []geom.Point
	for i := range w.Openings {
		for _, s := range swings(&w.Openings[i], w.Thickness/2) {
			points = append(points, s.edge(w, math.Pi/2))
		}
	}
	return points
}
