package ifc

import (
	"math"

	"nogging/internal/exchange/ifc/own"
	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/exchange/ifc/step"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// ownModel is what a model that this program wrote says of its plan.
type ownModel struct {
	plan  *plan.Plan
	in    own.InModel
	walls map[step.ID]*ownWall
	order []step.ID // of walls, as in the file
}

// ownWall is a wall as it was drawn, with its geometry as it was written and as it is.
type ownWall struct {
	id       step.ID
	spec     plan.Wall
	was, now own.Measured
	holes    []step.ID // openings that is.Holes are of
}

// longestOwn bounds the text of a plan in bytes, before it is decoded.
const longestOwn = 64<<20 + 1

// readOwn reads our own sets, where the file has them.
func (r *reader) readOwn() {
	for _, project := range r.file.OfType("IFCPROJECT") {
		var text, written string
		r.values(project, own.PlanSet, func(property string, value step.Value) {
			switch property {
			case own.Plan:
				text = value.LongText(longestOwn)
			case own.Written:
				written = value.LongText(longestOwn)
			}
		})
		if text == "" {
			continue
		}
		m := &ownModel{walls: map[step.ID]*ownWall{}}
		var err error
		if m.plan, err = own.DecodePlan(text); err == nil && written != "" {
			err = own.Decode(written, &m.in)
		}
		if err != nil {
			r.leaveOut(project, finding.Warning, "own-unread", words.F("its set %s cannot be read: %v; the model is read by its geometry alone", own.PlanSet, words.OfErr(err)), "open the plan that the model was written from")
			return
		}
		r.own = m
		r.readOwnWalls()
		return
	}
}

// readOwnWalls reads the sets of walls.
func (r *reader) readOwnWalls() {
	for _, id := range r.all(wallTypes) {
		var text, geometry string
		r.values(id, own.WallSet, func(property string, value step.Value) {
			switch property {
			case own.Wall:
				text = value.LongText(longestOwn)
			case own.Geometry:
				geometry = value.LongText(longestOwn)
			}
		})
		if text == "" && geometry == "" {
			continue
		}
		w := &ownWall{id: id}
		err := own.Decode(text, &w.spec)
		if err == nil {
			err = own.Decode(geometry, &w.was)
		}
		if err == nil && (w.spec.ID == "" || len(w.spec.Line) != 2 || !w.was.Sane()) {
			err = errOwnWall
		}
		if err != nil {
			r.tell(finding.Warning, "own-unread", "", words.F("the set %s of %s cannot be read: %v; the wall is read by its geometry alone", own.WallSet, r.entity(id), words.OfErr(err)), "compare it with the plan that the model was written from")
			continue
		}
		r.own.walls[id] = w
		r.own.order = append(r.own.order, id)
	}
}

var errOwnWall = words.Err("it holds no wall with a mark, a line and its geometry")

// measureOwn takes the measure of a wall of ours as it stands in the file. The axis and
// body are those of the file, in the project's axes.
func (r *reader) measureOwn(id step.ID, axis []shape.Vec, body []*shape.Solid, assembled bool) {
	if r.own == nil || r.own.walls[id] == nil {
		return
	}
	w := r.own.walls[id]
	m := own.Measured{Layers: r.makeup(id).total}
	if assembled {
		m.Pieces = len(body)
	}
	if len(axis) >= 2 {
		at := r.storeyPlace(id)
		start, end := axis[0], axis[len(axis)-1]
		for i, p := range []shape.Vec{start, middleOf(axis), end} {
			m.Axis[i] = within(at, p)
		}
		m.Body = boxOf(body, at, m.Axis)
	}
	w.now = m
}

// storeyPlace is where the storey of an element stands; the project's axes for one that
// is in none.
func (r *reader) storeyPlace(id step.ID) shape.Transform {
	if l := r.storeyOf(id); l != nil && l.id != 0 {
		if at, err := r.shape.Placement(l.id); err == nil {
			return at
		}
	}
	return shape.Identity
}

// within returns a point in the axes of a placement that only moves and turns.
func within(at shape.Transform, p shape.Vec) own.Point {
	d := p.Sub(at.O)
	return own.Point{d.Dot(at.X), d.Dot(at.Y), d.Dot(at.Z)}
}

// boxOf measures solids in the frame of a wall's axis.
func boxOf(solids []*shape.Solid, at shape.Transform, axis [3]own.Point) *own.Box {
	f := own.FrameOf(axis)
	box := own.NoBox()
	for p := range shape.Points(solids) {
		box = box.With(f.Local(within(at, p)))
	}
	if box.Empty() {
		return nil
	}
	return &box
}

// middleOf returns the point half way along an axis: of chords of an arc, the middle of
// the arc.
func middleOf(axis []shape.Vec) shape.Vec {
	a, m, b := axis[0], axis[len(axis)/2], axis[len(axis)-1]
	chord := a.Add(b).Times(0.5)
	p, q := m.Sub(a), b.Sub(a)
	area := p.X*q.Y - p.Y*q.X
	if len(axis) < 3 || q.Dot(q) < 1 || math.Abs(area) < 1e-9*q.Dot(q) {
		return chord
	}
	pp, qq := p.X*p.X+p.Y*p.Y, q.X*q.X+q.Y*q.Y
	c := shape.Vec{X: (pp*q.Y - qq*p.Y) / (2 * area), Y: (qq*p.X - pp*q.X) / (2 * area)} // off a
	radius := math.Hypot(c.X, c.Y)
	out := shape.Vec{X: q.X/2 - c.X, Y: q.Y/2 - c.Y} // from the centre to the chord's middle
	side := p.Sub(c).Dot(out)
	long := math.Hypot(out.X, out.Y)
	if long < 1e-6*radius { // half a circle
		out, long = shape.Vec{X: -q.Y, Y: q.X}, math.Sqrt(qq)
		side = p.Sub(c).Dot(out)
	}
	if side < 0 {
		radius = -radius
	}
	return shape.Vec{X: a.X + c.X + out.X/long*radius, Y: a.Y + c.Y + out.Y/long*radius, Z: a.Z}
}

// ownHoles measures the openings of our walls.
func (r *reader) ownHoles() {
	for _, id := range r.all(openingTypes) {
		host := r.rel.host[id]
		w := r.own.walls[host]
		if w == nil {
			continue
		}
		body, _ := r.shape.Body(id)
		if box := boxOf(body, r.storeyPlace(host), w.now.Axis); box != nil {
			w.now.Holes = append(w.now.Holes, own.Hole{ID: r.file.Arg(id, 2).Text(), Box: *box})
			w.holes = append(w.holes, id)
		}
	}
}
