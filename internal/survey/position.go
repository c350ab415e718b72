package survey

import (
	"slices"

	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// leastBase is the least length of face over which points tell that it is turned.
const leastBase = quantity.Metre

// outline returns the body of structure in plan, counter-clockwise.
func outline(s *plan.Structure) geom.Polygon {
	if len(s.Outline) >= 3 {
		p := make(geom.Polygon, len(s.Outline))
		for i, q := range s.Outline {
			p[i] = geom.Point(q)
		}
		if turn(p) < 0 {
			slices.Reverse(p)
		}
		return p
	}
	if len(s.Line) != 2 || s.Line[0] == s.Line[1] {
		return nil
	}
	seg := geom.Segment{A: geom.Point(s.Line[0]), B: geom.Point(s.Line[1])}
	f, l, h := geom.FrameOf(seg), seg.Length(), s.Thickness/2
	return geom.Polygon{f.Global(0, -h), f.Global(l, -h), f.Global(l, h), f.Global(0, h)}
}

// turn is above 0 for outlines that run counter-clockwise.
func turn(p geom.Polygon) float64 {
	sum := 0.0
	for i, a := range p {
		b := p[(i+1)%len(p)]
		sum += a.X.MM()*b.Y.MM() - b.X.MM()*a.Y.MM()
	}
	return sum
}

// face is one side of a body with what was measured on it. Distances are outwards.
type face struct {
	seg        geom.Segment
	count      int
	start, end Length // how far the face is out at its two ends
}

// structure moves each piece of structure to the points measured on its faces, and
// then the ends of walls that stand against it.
func (b *bender) structure() {
	for i := range b.plan.Structure {
		s := &b.plan.Structure[i]
		body := outline(s)
		if body == nil {
			continue
		}
		faces := b.faces(s, body)
		if !slices.ContainsFunc(faces, func(f face) bool { return max(f.start.Abs(), f.end.Abs()) > b.tolerance }) {
			continue
		}
		if len(s.Outline) < 3 && faces[0].count*faces[2].count == 0 {
			faces = b.keptThickness(s, faces)
		}
		moved := movedBody(faces)
		if moved == nil {
			b.out.Findings.Add(finding.Finding{Code: "survey-face", Severity: finding.Warning, Object: s.ID, What: "the faces as measured do not make a body; it is left as planned", Fix: "check the points on its faces"})
			continue
		}
		for k := range b.plan.Walls {
			if w := &b.plan.Walls[k]; w.Level == s.Level {
				b.follow(w, body, moved, s.ID)
			}
		}
		settle(s, moved)
		b.out.Structure = append(b.out.Structure, s.ID)
	}
}

// keptThickness moves the other face of a wall with the one that was measured.
func (b *bender) keptThickness(s *plan.Structure, faces []face) []face {
	measured, other := 0, 2
	if faces[0].count == 0 {
		measured, other = 2, 0
	}
	if faces[measured].count == 0 {
		return faces // only an end was measured
	}
	faces[other].start, faces[other].end = -faces[measured].end, -faces[measured].start
	b.out.Findings.Add(finding.Finding{Code: "survey-thickness", Severity: finding.Assumed, Object: s.ID, What: words.F("only one face was measured; the wall is taken to be %s mm thick, as planned", s.Thickness), Fix: "measure its other face too"})
	return faces
}

// faces returns the sides of a body with what was measured on them: level with the
// mean of the points, or turned with them where they are far enough apart.
func (b *bender) faces(s *plan.Structure, body geom.Polygon) []face {
	var faces []face
	body.Edges(func(e geom.Segment) { faces = append(faces, face{seg: e}) })
	found := make([][]station, len(faces))
	for _, p := range b.points {
		if p.On != Face || p.level.ID != s.Level || b.off(p.Point, p.level) > offPlan {
			continue
		}
		best := b.faceOf(p, s, faces)
		if best < 0 {
			continue
		}
		at := geom.FrameOf(faces[best].seg).Local(p.at())
		found[best] = append(found[best], station{at.X, -at.Y, p}) // the body lies on the left
		b.used[p.number] = true
	}
	for i := range faces {
		faces[i].fit(found[i])
		for _, st := range found[i] {
			b.deviates(s.Level, s.ID, string(Face), min(max(st.u, 0), faces[i].seg.Length()), 0, st.z, st.point)
		}
	}
	return faces
}

// faceOf returns the side on which a point was measured, or -1. Points so close to a
// corner that either side could be meant say nothing.
func (b *bender) faceOf(p placed, s *plan.Structure, faces []face) int {
	const corner = 50 * quantity.Millimetre
	most := offPlan
	if p.guessed {
		most = supposed
	}
	best, off, next := -1, offPlan, offPlan
	for i, f := range faces {
		at := geom.FrameOf(f.seg).Local(p.at())
		d := at.Y.Abs()
		if at.X < -corner || at.X > f.seg.Length()+corner || d >= next {
			continue
		}
		if d < off {
			best, off, next = i, d, off
		} else {
			next = d
		}
	}
	if off >= most || next <= corner || !b.nearest(p, s, off) {
		return -1
	}
	return best
}

// nearest reports whether no other structure of the level has a face nearer to the
// point.
func (b *bender) nearest(p placed, own *plan.Structure, d Length) bool {
	for i := range b.plan.Structure {
		s := &b.plan.Structure[i]
		if s.ID == own.ID || s.Level != own.Level {
			continue
		}
		nearer := false
		if body := outline(s); body != nil {
			body.Edges(func(e geom.Segment) {
				at := geom.FrameOf(e).Local(p.at())
				nearer = nearer || at.X >= 0 && at.X <= e.Length() && at.Y.Abs() < d
			})
		}
		if nearer {
			return false
		}
	}
	return true
}

// fit lays a straight line through the points of a face by least squares.
func (f *face) fit(list []station) {
	f.count = len(list)
	if f.count == 0 {
		return
	}
	byStation(list)
	n, u, z := float64(len(list)), 0.0, 0.0
	for _, s := range list {
		u, z = u+float64(s.u)/n, z+float64(s.z)/n
	}
	slope := 0.0
	if list[len(list)-1].u-list[0].u >= leastBase {
		uu, uz := 0.0, 0.0
		for _, s := range list {
			uu += (float64(s.u) - u) * (float64(s.u) - u)
			uz += (float64(s.u) - u) * (float64(s.z) - z)
		}
		slope = uz / uu
	}
	f.start, f.end = round(z-slope*u), round(z+slope*(float64(f.seg.Length())-u))
}

// line returns the face as measured.
func (f face) line() geom.Segment {
	frame := geom.FrameOf(f.seg)
	return geom.Segment{A: frame.Global(0, -f.start), B: frame.Global(f.seg.Length(), -f.end)}
}

// movedBody is the body between the faces as measured; nil if they do not meet.
func movedBody(faces []face) geom.Polygon {
	var out geom.Polygon
	for i, f := range faces {
		before := faces[(i+len(faces)-1)%len(faces)].line()
		seg := f.line()
		at, ok := meet(before, seg)
		if !ok { // in one line: a corner without an angle
			at = seg.A
		}
		if at.Dist(f.seg.A) > 4*offPlan {
			return nil
		}
		out = append(out, at)
	}
	return out
}

// meet returns where two lines cross, however far out.
func meet(s, t geom.Segment) (geom.Point, bool) {
	d, e := s.Dir(), t.Dir()
	cross := d.Cross(e)
	const parallel = 0.02 // about one degree
	if cross < parallel && cross > -parallel {
		return geom.Point{}, false
	}
	off := t.A.Sub(s.A)
	along := (off.X.MM()*e.Y - off.Y.MM()*e.X) / cross
	return geom.FrameOf(s).Global(quantity.MM(along), 0), true
}

// settle writes a moved body back in the way in which the plan gave it.
func settle(s *plan.Structure, moved geom.Polygon) {
	if len(s.Outline) >= 3 {
		s.Outline = nil
		for _, p := range moved {
			s.Outline = append(s.Outline, plan.Pt(whole(p)))
		}
		return
	}
	middle := func(a, b geom.Point) geom.Point { return geom.Pt((a.X+b.X)/2, (a.Y+b.Y)/2) }
	s.Thickness = ((moved[0].Dist(moved[3]) + moved[1].Dist(moved[2])) / 2).Round(quantity.Millimetre)
	s.Line = []plan.Pt{plan.Pt(whole(middle(moved[0], moved[3]))), plan.Pt(whole(middle(moved[1], moved[2])))}
}

func whole(p geom.Point) geom.Point {
	return geom.Pt(p.X.Round(quantity.Millimetre), p.Y.Round(quantity.Millimetre))
}

// follow moves the ends of a wall that stand against a body to where its faces are.
func (b *bender) follow(w *plan.Wall, body, moved geom.Polygon, by string) {
	if _, ok := lineOf(w); !ok {
		return
	}
	for end := range w.Line {
		p := geom.Point(w.Line[end])
		i, ok := against(w, end, body)
		if !ok {
			continue
		}
		own := geom.Segment{A: geom.Point(w.Line[0]), B: geom.Point(w.Line[1])}
		was, ok1 := meet(own, geom.Segment{A: body[i], B: body[(i+1)%len(body)]})
		is, ok2 := meet(own, geom.Segment{A: moved[i], B: moved[(i+1)%len(moved)]})
		if !ok1 || !ok2 {
			continue
		}
		f := geom.FrameOf(own)
		shift := f.Local(is).X - f.Local(was).X
		if shift.Abs() < quantity.Millimetre {
			continue
		}
		if w.Via != nil {
			b.out.Findings.Add(finding.Finding{Code: "survey-curved", Severity: finding.Warning, Object: w.ID, What: words.F("%s, at which the curved wall ends, is %s mm from where it was planned; curved walls are not moved", by, shift.Abs().Round(quantity.Millimetre)), Fix: "draw its arc anew to the face as measured"})
			continue
		}
		b.moveEnd(w, end, f, f.Local(p).X+shift, shift)
	}
}

// against returns the side of a body at which a wall's end stands: the end lies on
// it, or within a body's depth behind it.
func against(w *plan.Wall, end int, body geom.Polygon) (int, bool) {
	const touching = 50 * quantity.Millimetre
	p, other := geom.Point(w.Line[end]), geom.Point(w.Line[1-end])
	best, least := -1, Length(0)
	for i, a := range body {
		e := geom.Segment{A: a, B: body[(i+1)%len(body)]}
		f := geom.FrameOf(e)
		at, from := f.Local(p), f.Local(other)
		if from.Y > 0 || at.X < -touching || at.X > e.Length()+touching || -at.Y > touching {
			continue // the wall comes from inside, or its end is beside or before the side
		}
		if at.Y > touching && !body.Contains(p) {
			continue
		}
		if best < 0 || at.Y < least {
			best, least = i, at.Y
		}
	}
	return best, best >= 0
}

// moveEnd puts a wall's end elsewhere on its line. What hangs on the wall stays where
// it is in the building, so its distances from the start change with the start.
func (b *bender) moveEnd(w *plan.Wall, end int, f geom.Frame, to, shift Length) {
	w.Line[end] = plan.Pt(whole(f.Global(to, 0)))
	if end == 0 {
		for i := range w.Openings {
			w.Openings[i].At -= shift
		}
		for i := range w.Boxes {
			w.Boxes[i].At -= shift
		}
		for i := range w.Fixings {
			w.Fixings[i].At -= shift
		}
		for i := range w.Heights {
			w.Heights[i].At -= shift
		}
		for _, p := range w.Pipes {
			for i := range p.Path {
				p.Path[i].X -= shift
			}
		}
	}
	at := geom.Point(w.Line[end])
	b.deviates(w.Level, w.ID, "end", Length(end)*w.Length(), 0, shift, placed{Point: Point{X: at.X, Y: at.Y}})
}
