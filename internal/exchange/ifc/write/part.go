package write

import (
	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/parts"
)

// parts writes the pieces of a wall: the frame as an assembly, the others under the
// wall itself.
func (w *writer) parts(l *layout.Wall, e, place ref, s storey) {
	f := w.file
	var frame, others list
	all := parts.Of(l, w.Catalogue, w.Practice)
	shared := groups{}
	for i := range all {
		p := &all[i]
		var m *layout.Member
		if i < len(l.Members) && l.Members[i].Mark() == p.ID {
			m = &l.Members[i]
		}
		entity := w.part(l, p, m, place)
		if p.Layer == parts.FrameLayer {
			frame = append(frame, entity)
		} else {
			others = append(others, entity)
		}
		shared.add(p, entity)
	}
	if len(frame) > 0 {
		assembly := f.add("IFCELEMENTASSEMBLY", w.id("frame", l.ID), null, text(l.ID+" frame"), null, text("PARTITION_FRAME"), w.place(place, 0, 0, 0), null, null, enum("SITE"), enum("USERDEFINED"))
		w.aggregate("frame "+l.ID, assembly, frame)
		others = append(list{assembly}, others...)
	}
	w.aggregate("wall "+l.ID, e, others)
	shared.write(w, l)
}

// entityOf says how a part is written, and of which type it is an occurrence.
func entityOf(p *parts.Part, m *layout.Member) (entity, predefined, typ string) {
	switch p.Kind {
	case parts.Board:
		return "IFCPLATE", "SHEET", "IFCPLATETYPE"
	case parts.Fill:
		return "IFCBUILDINGELEMENTPART", "INSULATION", "IFCBUILDINGELEMENTPARTTYPE"
	case parts.Bracket:
		return "IFCDISCRETEACCESSORY", "BRACKET", "IFCDISCRETEACCESSORYTYPE"
	}
	switch {
	case m == nil:
		return "IFCMEMBER", "MEMBER", "IFCMEMBERTYPE"
	case m.From.X == m.To.X:
		return "IFCMEMBER", "STUD", "IFCMEMBERTYPE"
	}
	return "IFCMEMBER", "PLATE", "IFCMEMBERTYPE"
}

func (w *writer) part(l *layout.Wall, p *parts.Part, m *layout.Member, place ref) ref {
	entity, predefined, typ := entityOf(p, m)
	at, shape := w.partShape(l, p, m, place)
	w.piece(shape)
	e := w.file.add(entity, w.id("part", l.ID, p.ID), null, text(p.What), null, text(p.Product), at, shape, text(p.ID), enum(predefined))
	for i := range w.made {
		if w.made[i].product == p.Product && w.made[i].kind == typ {
			w.made[i].parts = append(w.made[i].parts, e)
			return e
		}
	}
	w.made = append(w.made, made{p.Product, typ, []ref{e}})
	return e
}

// partShape is where a part stands and how it looks: steel cut square as its profile
// drawn out along it, everything else as the outline that it is cut to.
func (w *writer) partShape(l *layout.Wall, p *parts.Part, m *layout.Member, place ref) (at, shape value) {
	if l.Curve != nil {
		if p.Solid == nil {
			return w.place(place, 0, 0, 0), null
		}
		return w.place(place, 0, 0, 0), w.shape(w.body, "Body", "Tessellation", w.mesh(p.Solid.Bent(l.Curve.Axis, geom.Point{})))
	}
	if m != nil {
		if at, shape, ok := w.rolled(l, m, place); ok {
			return at, shape
		}
	}
	if p.Solid == nil || p.Solid.V.Len() <= 0 {
		return w.place(place, 0, 0, 0), null
	}
	return w.place(place, 0, 0, 0), w.shape(w.body, "Body", "SweptSolid", w.upright(p.Solid.Outline, p.Solid.Holes, p.Solid.V))
}

// rolled is a straight member cut square, as its profile: the open side of studs looks
// along u, of the second of a boxed pair against it, of tracks into the wall.
func (w *writer) rolled(l *layout.Wall, m *layout.Member, place ref) (at, shape value, ok bool) {
	profile, known := w.Catalogue.Profile(m.Product)
	o := m.Outline()
	box := o.Bounds()
	whole := geom.Polygon{box.Min, geom.Pt(box.Max.X, box.Min.Y), box.Max, geom.Pt(box.Min.X, box.Max.Y)}
	if !known || len(o) != 4 || o.Area() < whole.Area() || m.Role == layout.PocketRib {
		return nil, nil, false
	}
	section, known := w.section(profile)
	line := l.FrameLines[m.Line]
	if !known || profile.Web > line.Depth {
		return nil, nil, false
	}
	f := w.file
	wide, high := box.Max.X-box.Min.X, box.Max.Y-box.Min.Y
	middle := line.Offset.MM()
	w.upright3D(whole, geom.Interval{From: line.Offset - profile.Web/2, To: line.Offset + profile.Web/2})
	var where ref
	var long float64
	if upright := m.From.X == m.To.X; upright {
		if wide != profile.Flange {
			return nil, nil, false
		}
		face := f.direction(1, 0, 0)
		if m.Boxed && m.Number%2 == 0 {
			face = f.direction(-1, 0, 0)
		}
		long = high.MM()
		where = f.add("IFCAXIS2PLACEMENT3D", f.point((box.Min.X+box.Max.X).MM()/2, middle, box.Min.Y.MM()), w.up, face)
	} else {
		if high != profile.Flange {
			return nil, nil, false
		}
		open := f.direction(0, 0, 1)
		if m.Role == layout.SoffitTrack || m.Role == layout.SillTrack {
			open = f.direction(0, 0, -1)
		}
		long = wide.MM()
		where = f.add("IFCAXIS2PLACEMENT3D", f.point(box.Min.X.MM(), middle, (box.Min.Y+box.Max.Y).MM()/2), w.along, open)
	}
	solid := f.add("IFCEXTRUDEDAREASOLID", section, null, w.up, real(long))
	return f.add("IFCLOCALPLACEMENT", place, where), w.shape(w.body, "Body", "SweptSolid", solid), true
}

// groups gathers parts of a wall that share a set of properties or of quantities.
type groups struct {
	keys   []groupKey
	sets   map[groupKey]list
	sizes  []sizeKey
	amount map[sizeKey]list
}

type groupKey struct{ layer, why string }

type sizeKey struct {
	kind       parts.Kind
	cut        parts.Length
	wide, high parts.Length
	mass       float64
}

func (g *groups) add(p *parts.Part, e ref) {
	if g.sets == nil {
		g.sets, g.amount = map[groupKey]list{}, map[sizeKey]list{}
	}
	k := groupKey{p.Layer, p.Why}
	if _, ok := g.sets[k]; !ok {
		g.keys = append(g.keys, k)
	}
	g.sets[k] = append(g.sets[k], e)
	s := sizeKey{p.Kind, p.Cut, p.Width, p.Height, p.Mass}
	if p.Kind != parts.Steel && p.Kind != parts.Board || p.Cut+p.Width == 0 {
		return
	}
	if _, ok := g.amount[s]; !ok {
		g.sizes = append(g.sizes, s)
	}
	g.amount[s] = append(g.amount[s], e)
}

func (g *groups) write(w *writer, l *layout.Wall) {
	for _, k := range g.keys {
		set := []property{{"Layer", "IFCLABEL", text(k.layer)}}
		if k.why != "" {
			set = append(set, property{"Why", "IFCTEXT", text(k.why)})
		}
		w.property(l.ID+" "+k.layer+" "+k.why, "Nogging_Part", g.sets[k], set)
	}
	for i, s := range g.sizes {
		key := l.ID + " " + integer(i).step()
		mass := amount{"IFCQUANTITYWEIGHT", "NetWeight", s.mass}
		if s.kind == parts.Steel {
			w.quantities(key, "Qto_MemberBaseQuantities", g.amount[s], []amount{{"IFCQUANTITYLENGTH", "Length", s.cut.MM()}, mass})
		} else {
			w.quantities(key, "Qto_PlateBaseQuantities", g.amount[s], []amount{{"IFCQUANTITYAREA", "GrossArea", s.wide.Metres() * s.high.Metres()}, mass})
		}
	}
}

// material is the material of a product.
func (w *writer) material(product, category string) ref {
	r, ok := w.materials[product]
	if !ok {
		r = w.file.add("IFCMATERIAL", name(product, "unnamed"), null, text(category))
		w.materials[product] = r
	}
	return r
}

// products ties all parts of a product to its type and its material.
func (w *writer) products() {
	f := w.file
	for _, m := range w.made {
		var all list
		for _, p := range m.parts {
			all = append(all, p)
		}
		predefined, category := "NOTDEFINED", "other"
		switch m.kind {
		case "IFCPLATETYPE":
			predefined, category = "SHEET", "gypsum"
		case "IFCMEMBERTYPE":
			predefined, category = "MEMBER", "steel"
		case "IFCBUILDINGELEMENTPARTTYPE":
			predefined, category = "INSULATION", "insulation"
		}
		t := f.add(m.kind, w.id("type", m.kind, m.product), null, name(m.product, "unnamed"), null, null, null, null, null, null, enum(predefined))
		f.add("IFCRELDEFINESBYTYPE", w.id("types", m.kind, m.product), null, null, null, all, t)
		material := value(w.material(m.product, category))
		if p, ok := w.Catalogue.Profile(m.product); ok && m.kind == "IFCMEMBERTYPE" {
			material = w.rolledMaterial(p)
		}
		f.add("IFCRELASSOCIATESMATERIAL", w.id("material", m.kind, m.product), null, null, null, all, material)
	}
}

// rolledMaterial is steel in the section of a profile.
func (w *writer) rolledMaterial(p *catalogue.Profile) ref {
	f, steel := w.file, w.material(p.ID, "steel")
	section, ok := w.section(p)
	if !ok {
		return steel
	}
	one := f.add("IFCMATERIALPROFILE", text(p.ID), null, steel, section, null, null)
	set := f.add("IFCMATERIALPROFILESET", text(p.ID), null, list{one}, null)
	const middle = 5 // cardinal point: middle of the box round the section
	return f.add("IFCMATERIALPROFILESETUSAGE", set, integer(middle), null)
}
