package write

import (
	"math"

	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/parts"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// wall writes a wall with what it is made of.
func (w *writer) wall(l *layout.Wall) {
	s, ok := w.storeys[l.Level]
	if !ok {
		return
	}
	place := w.wallPlace(l, s)
	w.measure = measureOf(l)
	kind := "ELEMENTEDWALL"
	axis := w.representation(w.axis, "Axis", "Curve2D", w.axisOf(l))
	shape := list{axis}
	if w.Simple {
		kind = "PARTITIONING"
		shape = append(shape, w.simpleBody(l))
	}
	product := w.file.add("IFCPRODUCTDEFINITIONSHAPE", null, null, shape)
	w.measured.Body = w.take()
	e := w.file.add("IFCWALL", w.id("wall", l.ID), null, text(l.ID), null, optional(l.BuildUp), place, product, null, enum(kind))
	w.contain("wall "+l.ID, list{e}, s)
	w.layers(l, e)
	w.openings(l, e, place, s)
	if !w.Simple {
		w.parts(l, e, place, s)
	}
	w.setsOf(l, e)
}

// wallPlace puts a straight wall's coordinates on its storey; those of a curved wall
// are the storey's.
func (w *writer) wallPlace(l *layout.Wall, s storey) ref {
	if l.Curve != nil {
		return w.place(s.place, 0, 0, 0)
	}
	f, o := w.file, l.Frame.Origin
	at := f.add("IFCAXIS2PLACEMENT3D", f.point(o.X.MM(), o.Y.MM(), 0), w.up, f.direction(l.Frame.Dir.X, l.Frame.Dir.Y, 0))
	return f.add("IFCLOCALPLACEMENT", s.place, at)
}

// axisOf is the wall's axis: a line, or part of a circle.
func (w *writer) axisOf(l *layout.Wall) ref {
	f := w.file
	if l.Curve == nil {
		return f.add("IFCPOLYLINE", list{f.point(0, 0), f.point(l.Line.Length().MM(), 0)})
	}
	a := l.Curve.Axis
	circle := f.add("IFCCIRCLE", f.add("IFCAXIS2PLACEMENT2D", f.point(a.Centre.X.MM(), a.Centre.Y.MM()), null), real(a.Radius.MM()))
	from, to := a.From, a.From+a.Sweep
	sense := "T"
	if a.Sweep < 0 {
		sense = "F"
	}
	return f.add("IFCTRIMMEDCURVE", circle, list{typed{"IFCPARAMETERVALUE", real(turned(from))}}, list{typed{"IFCPARAMETERVALUE", real(turned(to))}}, enum(sense), enum("PARAMETER"))
}

// turned brings an angle into one turn.
func turned(a float64) float64 {
	a = math.Mod(a, 2*math.Pi)
	if a < 0 {
		a += 2 * math.Pi
	}
	return a
}

// simpleBody is the wall as one solid: its elevation through its thickness, or for a
// curved wall the ring that it stands on.
func (w *writer) simpleBody(l *layout.Wall) ref {
	if l.Curve != nil {
		s := parts.Solid{Outline: elevation(l), V: geom.Interval{From: -l.Thickness / 2, To: l.Thickness / 2}}
		return w.representation(w.body, "Body", "Tessellation", w.mesh(s.Bent(l.Curve.Axis, geom.Point{})))
	}
	return w.representation(w.body, "Body", "SweptSolid", w.upright(elevation(l), nil, geom.Interval{From: -l.Thickness / 2, To: l.Thickness / 2}))
}

// elevation is the outline of a wall in its plane.
func elevation(l *layout.Wall) geom.Polygon {
	long := l.Line.Length()
	if l.Curve != nil {
		long = l.Curve.Axis.Length()
	}
	out := geom.Polygon{geom.Pt(0, l.Base), geom.Pt(long, l.Base)}
	for i := len(l.Top) - 1; i >= 0; i-- {
		p := l.Top[i]
		p.X = min(max(p.X, 0), long)
		if last := out[len(out)-1]; last != p {
			out = append(out, p)
		}
	}
	return out
}

// layers gives the wall's layers from face B to face A, across the whole thickness.
func (w *writer) layers(l *layout.Wall, e ref) {
	f := w.file
	b := w.Plan.BuildUpByID(l.BuildUp)
	if b == nil {
		return
	}
	var layers list
	rest := l.Thickness
	add := func(product, category string, thick quantity.Length) {
		w.measured.Layers += thick.MM()
		layers = append(layers, f.add("IFCMATERIALLAYER", w.material(product, category), real(thick.MM()), null, text(product), null, text(category), null))
	}
	sum := func(ids []string) (t quantity.Length) {
		for _, id := range ids {
			if board, ok := w.Catalogue.Board(id); ok {
				t += board.Thickness
			}
		}
		return t
	}
	faceA, faceB := boards(l, plan.FaceA), boards(l, plan.FaceB)
	for i := len(faceB) - 1; i >= 0; i-- {
		add(faceB[i], "gypsum", sum(faceB[i:i+1]))
	}
	add(b.Frame.Stud, "steel", max(rest-sum(faceA)-sum(faceB), 0))
	for _, id := range faceA {
		add(id, "gypsum", sum([]string{id}))
	}
	set := f.add("IFCMATERIALLAYERSET", layers, text(l.BuildUp), null)
	usage := f.add("IFCMATERIALLAYERSETUSAGE", set, enum("AXIS2"), enum("POSITIVE"), real((-l.Thickness / 2).MM()), null)
	f.add("IFCRELASSOCIATESMATERIAL", w.id("layers", l.ID), null, null, null, list{e}, usage)
}

// boards lists the boards of a face from the frame outwards.
func boards(l *layout.Wall, face plan.Face) []string {
	for i := range l.Faces {
		if l.Faces[i].Face != face {
			continue
		}
		var ids []string
		for _, layer := range l.Faces[i].Layers {
			ids = append(ids, layer.Board)
		}
		return ids
	}
	return nil
}

// openings writes the holes through a wall, and the doors and windows in them.
func (w *writer) openings(l *layout.Wall, e, place ref, s storey) {
	f := w.file
	var fills list
	for i := range l.Openings {
		o := &l.Openings[i]
		at := place
		half := l.Thickness/2 + 50*quantity.Millimetre // through and through
		outline := geom.Polygon{geom.Pt(o.U.From, o.Sill), geom.Pt(o.U.To, o.Sill), geom.Pt(o.U.To, o.Head), geom.Pt(o.U.From, o.Head)}
		var shape ref
		if l.Curve != nil {
			solid := parts.Solid{Outline: outline, V: geom.Interval{From: -half, To: half}}
			shape = w.shape(w.body, "Body", "Tessellation", w.mesh(solid.Bent(l.Curve.Axis, geom.Point{})))
		} else {
			shape = w.shape(w.body, "Body", "SweptSolid", w.upright(outline, nil, geom.Interval{From: -half, To: half}))
		}
		w.hole(o.ID)
		hole := f.add("IFCOPENINGELEMENT", w.id("opening", l.ID, o.ID), null, text(o.ID), null, text(string(o.Kind)), f.add("IFCLOCALPLACEMENT", at, w.origin), shape, null, enum("OPENING"))
		f.add("IFCRELVOIDSELEMENT", w.id("voids", l.ID, o.ID), null, null, null, e, hole)
		wide, high := real(o.Width().MM()), real((o.Head - o.Sill).MM())
		var leaf ref
		switch o.Kind {
		case plan.Door:
			leaf = w.door(l, o, place, high, wide)
		case plan.Window:
			leaf = f.add("IFCWINDOW", w.id("door", l.ID, o.ID), null, text(o.ID), null, null, w.place(place, o.U.From.MM(), 0, o.Sill.MM()), null, null, high, wide, enum("WINDOW"), null, null)
		default:
			continue
		}
		f.add("IFCRELFILLSELEMENT", w.id("fills", l.ID, o.ID), null, null, null, hole, leaf)
		fills = append(fills, leaf)
	}
	w.contain("doors "+l.ID, fills, s)
}
