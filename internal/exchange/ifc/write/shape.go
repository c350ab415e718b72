package write

import (
	"nogging/internal/catalogue"
	"nogging/internal/exchange/ifc/own"
	"nogging/internal/geom"
	"nogging/internal/parts"
	"nogging/internal/quantity"
)

// curve2D is an outline as a closed polyline.
func (w *writer) curve2D(p geom.Polygon) ref {
	var at list
	for _, q := range append(p[:len(p):len(p)], p[0]) {
		at = append(at, w.file.point(q.X.MM(), q.Y.MM()))
	}
	return w.file.add("IFCPOLYLINE", at)
}

// profile is an outline with holes.
func (w *writer) profile(p geom.Polygon, holes []geom.Polygon) ref {
	if len(holes) == 0 {
		return w.file.add("IFCARBITRARYCLOSEDPROFILEDEF", enum("AREA"), null, w.curve2D(p))
	}
	var inner list
	for _, h := range holes {
		inner = append(inner, w.curve2D(h))
	}
	return w.file.add("IFCARBITRARYPROFILEDEFWITHVOIDS", enum("AREA"), null, w.curve2D(p), inner)
}

// extruded is the shape of an outline in plan from the floor up.
func (w *writer) extruded(p geom.Polygon, height quantity.Length) ref {
	solid := w.file.add("IFCEXTRUDEDAREASOLID", w.profile(p, nil), w.origin, w.up, real(height.MM()))
	return w.shape(w.body, "Body", "SweptSolid", solid)
}

// upright is the solid of an outline in the wall's plane, of u and z, through a range
// of v. The outline lies at the greater v and is drawn out towards the lesser.
func (w *writer) upright(p geom.Polygon, holes []geom.Polygon, v geom.Interval) ref {
	w.upright3D(p, v)
	f := w.file
	at := f.add("IFCAXIS2PLACEMENT3D", f.point(0, v.To.MM(), 0), w.out, w.along)
	return f.add("IFCEXTRUDEDAREASOLID", w.profile(p, holes), at, w.up, real(v.Len().MM()))
}

// mesh is the surface of a part of a curved wall, in the storey's coordinates.
func (w *writer) mesh(m parts.Mesh) ref {
	f := w.file
	points := make(list, len(m.Points))
	for i, p := range m.Points {
		at := own.Point{quantity.Metres(p[0]).MM(), quantity.Metres(p[1]).MM(), quantity.Metres(p[2]).MM()}
		w.box = w.box.With(w.frame.Local(at))
		points[i] = reals(at[:]...)
	}
	var faces list
	for i := 0; i+2 < len(m.Faces); i += 3 {
		faces = append(faces, list{integer(m.Faces[i] + 1), integer(m.Faces[i+1] + 1), integer(m.Faces[i+2] + 1)})
	}
	coordinates := []value{points}
	if w.Schema == IFC4X3 {
		coordinates = append(coordinates, null)
	}
	return f.add("IFCTRIANGULATEDFACESET", f.add("IFCCARTESIANPOINTLIST3D", coordinates...), null, null, faces, null)
}

// shape is a representation of one item as the shape of a product.
func (w *writer) shape(context ref, identifier, kind string, items ...value) ref {
	return w.file.add("IFCPRODUCTDEFINITIONSHAPE", null, null, list{w.representation(context, identifier, kind, items...)})
}

func (w *writer) representation(context ref, identifier, kind string, items ...value) ref {
	return w.file.add("IFCSHAPEREPRESENTATION", context, text(identifier), text(kind), list(items))
}

// section is the profile of a product as rolled, about the middle of the box round it:
// x along the flanges, to the open side, and y along the web.
func (w *writer) section(p *catalogue.Profile) (ref, bool) {
	r, known := w.profiles[p.ID]
	if known {
		return r, r != 0
	}
	web, flange, t := p.Web.MM(), p.Flange.MM(), p.Thickness.MM()
	switch {
	case p.Kind == catalogue.Channel, t <= 0, 2*t >= flange, 2*t >= web:
	case p.Lip > 0 && 2*p.Lip < p.Web:
		r = w.file.add("IFCCSHAPEPROFILEDEF", enum("AREA"), text(p.ID), null, real(web), real(flange), real(t), real(p.Lip.MM()), null)
	default:
		r = w.file.add("IFCUSHAPEPROFILEDEF", enum("AREA"), text(p.ID), null, real(web), real(flange), real(t), real(t), null, null, null)
	}
	w.profiles[p.ID] = r
	return r, r != 0
}
