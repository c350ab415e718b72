package write

import (
	"encoding/json"

	"nogging/internal/exchange/ifc/own"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// measure gathers the geometry of a wall as it is written.
type measure struct {
	measured own.Measured
	frame    own.Frame
	box      own.Box // of what has been written since it was taken last
}

// measureOf begins with a wall's axis, which stands on its storey.
func measureOf(l *layout.Wall) measure {
	a, b := l.Line.A, l.Line.B
	middle := geom.Pt((a.X+b.X)/2, (a.Y+b.Y)/2)
	if l.Curve != nil {
		middle = l.Curve.Axis.Global(l.Curve.Axis.Length()/2, 0)
		a, b = l.Curve.Axis.Global(0, 0), l.Curve.Axis.Global(l.Curve.Axis.Length(), 0)
	}
	m := measure{box: own.NoBox()}
	for i, p := range []geom.Point{a, middle, b} {
		m.measured.Axis[i] = own.Point{p.X.MM(), p.Y.MM(), 0}
	}
	m.frame = own.FrameOf(m.measured.Axis)
	return m
}

// take returns the box round what was written since the last time, nil for nothing.
func (m *measure) take() *own.Box {
	box := m.box
	m.box = own.NoBox()
	if box.Empty() {
		return nil
	}
	return &box
}

// upright3D notes an outline in the wall's plane, drawn out through a range of v.
func (m *measure) upright3D(p geom.Polygon, v geom.Interval) {
	for _, q := range p {
		m.box = m.box.With(own.Point{q.X.MM(), v.From.MM(), q.Y.MM()}).With(own.Point{q.X.MM(), v.To.MM(), q.Y.MM()})
	}
}

// hole notes an opening whose body was written last.
func (m *measure) hole(id string) {
	if box := m.take(); box != nil {
		m.measured.Holes = append(m.measured.Holes, own.Hole{ID: id, Box: *box})
	}
}

// piece notes a part whose body was written last.
func (m *measure) piece(shape value) {
	box := m.take()
	if box == nil || shape == null {
		return
	}
	if m.measured.Pieces++; m.measured.Body != nil {
		*box = box.Join(*m.measured.Body)
	}
	m.measured.Body = box
}

// ownPlan writes the plan without the walls that are in the model, and which those are.
func (w *writer) ownPlan() {
	laid := map[string]bool{}
	for _, l := range w.Layout.Walls {
		laid[l.ID] = w.storeys[l.Level].entity != 0
	}
	rest, in := own.Split(w.Plan, func(id string) bool { return laid[id] })
	in.Rooms, in.Structure = w.inModel.Rooms, w.inModel.Structure
	w.property("plan", own.PlanSet, list{w.project}, []property{{own.Plan, "IFCTEXT", asJSON(&rest)}, {own.Written, "IFCTEXT", asJSON(in)}})
}

// ownWall writes a wall as it was drawn, and its geometry.
func (w *writer) ownWall(l *layout.Wall, spec *plan.Wall, e ref) {
	w.property(l.ID, own.WallSet, list{e}, []property{{own.Wall, "IFCTEXT", asJSON(spec)}, {own.Geometry, "IFCTEXT", asJSON(&w.measured)}})
}

// asJSON is a value as JSON; empty where a number is not finite, which plans that were
// laid out do not have.
func asJSON(v any) text {
	data, _ := json.Marshal(v)
	return text(data)
}
