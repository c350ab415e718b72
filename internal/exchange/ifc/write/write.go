// Package write gives laid-out walls in the Industry Foundation Classes, IFC4 ADD2 TC1
// or IFC4X3 ADD2 (ISO 16739), as a STEP file (ISO 10303-21). It takes a plan with its
// layout and writes one occurrence for every physical piece: each wall is an IfcWall
// that is aggregated from a frame (IfcElementAssembly of IfcMember), board pieces
// (IfcPlate) and fill (IfcBuildingElementPart), with its doors, requirements, proofs
// and quantities. Simple walls have a body each instead of parts.
//
// Lengths are millimetres. Global ids are made of the project's, the wall's and the
// part's marks, so a plan that is written again keeps them. The sets Nogging_Plan and
// Nogging_Wall hold the plan as it was drawn, for programs that know it.
package write

import (
	"io"

	"nogging/internal/catalogue"
	"nogging/internal/exchange/ifc/own"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// Schema is a version of IFC that is written.
type Schema string

// The schemas.
const (
	IFC4   Schema = "IFC4"
	IFC4X3 Schema = "IFC4X3_ADD2"
)

// Input is what is written.
type Input struct {
	Plan      *plan.Plan
	Layout    *layout.Project
	Catalogue *catalogue.Catalogue
	Practice  *catalogue.Practice
	Schema    Schema
	Simple    bool                        // walls with a body and openings in it, without parts
	Proofs    func(wall string) []Verdict // what was proven of a wall; nil for nothing
}

// Verdict is the outcome of one proof.
type Verdict struct{ Need, Result string }

// Write writes the file.
func Write(out io.Writer, in Input) error {
	w := &writer{Input: in, file: newFile(out), storeys: map[string]storey{}, materials: map[string]ref{}, profiles: map[string]ref{}}
	w.specs = make(map[string]*plan.Wall, len(in.Plan.Walls))
	for i := range in.Plan.Walls {
		if x := &in.Plan.Walls[i]; w.specs[x.ID] == nil {
			w.specs[x.ID] = x
		}
	}
	w.head()
	w.spatial()
	for _, l := range in.Layout.Walls {
		w.wall(l)
	}
	w.products()
	return w.file.end()
}

// writer carries what is shared by all walls.
type writer struct {
	Input
	file                 *file
	body, axis           ref // contexts of representations
	origin               ref // an Axis2Placement3D without offset
	up, along, left, out ref // directions: z, x, y, and against y
	project              ref
	storeys              map[string]storey
	materials, profiles  map[string]ref        // by product
	made                 []made                // parts by product, in order
	specs                map[string]*plan.Wall // walls as drawn, by id
	inModel              own.InModel           // rooms and structure that were written
	measure                                    // of the wall that is being written
}

type storey struct {
	entity, place ref
	level         *plan.Level
}

// made are the parts of one product.
type made struct {
	product string
	kind    string // entity of their type
	parts   []ref
}

// head writes the header, units and contexts.
func (w *writer) head() {
	f := w.file
	f.header(w.Plan.Project.Date, string(w.Schema))
	w.up, w.along, w.left = f.direction(0, 0, 1), f.direction(1, 0, 0), f.direction(0, 1, 0)
	w.out = f.direction(0, -1, 0)
	w.origin = f.add("IFCAXIS2PLACEMENT3D", f.point(0, 0, 0), null, null)
	context := f.add("IFCGEOMETRICREPRESENTATIONCONTEXT", null, text("Model"), integer(3), real(1e-5), w.origin, w.trueNorth())
	w.mapConversion(context)
	w.body = f.add("IFCGEOMETRICREPRESENTATIONSUBCONTEXT", text("Body"), text("Model"), derived, derived, derived, derived, context, null, enum("MODEL_VIEW"), null)
	w.axis = f.add("IFCGEOMETRICREPRESENTATIONSUBCONTEXT", text("Axis"), text("Model"), derived, derived, derived, derived, context, null, enum("GRAPH_VIEW"), null)
	units := f.add("IFCUNITASSIGNMENT", list{
		f.add("IFCSIUNIT", derived, enum("LENGTHUNIT"), enum("MILLI"), enum("METRE")),
		f.add("IFCSIUNIT", derived, enum("AREAUNIT"), null, enum("SQUARE_METRE")),
		f.add("IFCSIUNIT", derived, enum("VOLUMEUNIT"), null, enum("CUBIC_METRE")),
		f.add("IFCSIUNIT", derived, enum("MASSUNIT"), enum("KILO"), enum("GRAM")),
		f.add("IFCSIUNIT", derived, enum("PLANEANGLEUNIT"), null, enum("RADIAN")),
	})
	w.project = f.add("IFCPROJECT", w.id("project"), null, name(w.Plan.Project.Name, "Partitions"), null, null, null, null, list{context}, units)
}

// spatial writes site, building, storeys and rooms, and the structure that stands
// already, for those who look at the walls among it.
func (w *writer) spatial() {
	f := w.file
	site, place := w.site()
	in := f.add("IFCLOCALPLACEMENT", place, w.origin)
	building := f.add("IFCBUILDING", w.id("building"), null, name(w.Plan.Project.Name, "Building"), null, null, in, null, null, enum("ELEMENT"), null, null, null)
	var storeys list
	for i := range w.Plan.Levels {
		l := &w.Plan.Levels[i]
		at := w.place(in, 0, 0, l.Elevation.MM())
		s := storey{f.add("IFCBUILDINGSTOREY", w.id("storey", l.ID), null, text(l.ID), optional(l.Name), null, at, null, optional(l.Name), enum("ELEMENT"), real(l.Elevation.MM())), at, l}
		w.storeys[l.ID] = s
		storeys = append(storeys, s.entity)
	}
	w.aggregate("site", w.project, list{site})
	w.aggregate("building", site, list{building})
	w.aggregate("storeys", building, storeys)
	for i := range w.Plan.Levels {
		w.rooms(w.storeys[w.Plan.Levels[i].ID])
		w.structure(w.storeys[w.Plan.Levels[i].ID])
	}
	w.ownPlan()
}

func (w *writer) rooms(s storey) {
	var spaces list
	for i := range w.Plan.Rooms {
		r := &w.Plan.Rooms[i]
		if r.Level != s.level.ID || len(r.Outline) < 3 {
			continue
		}
		body := w.extruded(points(r.Outline), s.level.ClearHeight)
		w.inModel.Rooms = append(w.inModel.Rooms, r.ID)
		spaces = append(spaces, w.file.add("IFCSPACE", w.id("room", r.ID), null, text(r.ID), null, optional(r.Use), w.place(s.place, 0, 0, 0), body, optional(r.Name), enum("ELEMENT"), enum("INTERNAL"), null))
	}
	w.aggregate("rooms "+s.level.ID, s.entity, spaces)
}

func (w *writer) structure(s storey) {
	var bodies list
	for i := range w.Plan.Structure {
		x := &w.Plan.Structure[i]
		if x.Level != s.level.ID {
			continue
		}
		outline := points(x.Outline)
		if len(outline) < 3 {
			if len(x.Line) != 2 || x.Line[0] == x.Line[1] || x.Thickness <= 0 {
				continue
			}
			seg := geom.Segment{A: geom.Point(x.Line[0]), B: geom.Point(x.Line[1])}
			f, l, h := geom.FrameOf(seg), seg.Length(), x.Thickness/2
			outline = geom.Polygon{f.Global(0, -h), f.Global(l, -h), f.Global(l, h), f.Global(0, h)}
		}
		w.inModel.Structure = append(w.inModel.Structure, x.ID)
		body := w.extruded(outline, s.level.ClearHeight)
		place := w.place(s.place, 0, 0, 0)
		switch x.Kind {
		case "column", "post":
			bodies = append(bodies, w.file.add("IFCCOLUMN", w.id("structure", x.ID), null, text(x.ID), null, null, place, body, null, enum("COLUMN")))
		default:
			e := w.file.add("IFCWALL", w.id("structure", x.ID), null, text(x.ID), null, name(x.Material, "structure"), place, body, null, enum("SOLIDWALL"))
			w.property("structure "+x.ID, "Pset_WallCommon", list{e}, []property{{"LoadBearing", "IFCBOOLEAN", enum("T")}})
			bodies = append(bodies, e)
		}
	}
	w.contain("structure "+s.level.ID, bodies, s)
}

func points(list []plan.Pt) geom.Polygon {
	out := make(geom.Polygon, len(list))
	for i, p := range list {
		out[i] = geom.Point(p)
	}
	return out
}

// aggregate says of what a whole is made.
func (w *writer) aggregate(key string, whole ref, parts list) {
	if len(parts) > 0 {
		w.file.add("IFCRELAGGREGATES", w.id("aggregates", key), null, null, null, whole, parts)
	}
}

// contain says what stands on a storey.
func (w *writer) contain(key string, what list, s storey) {
	if len(what) > 0 && s.entity != 0 {
		w.file.add("IFCRELCONTAINEDINSPATIALSTRUCTURE", w.id("contains", key), null, null, null, what, s.entity)
	}
}

// place adds a placement off another without a turn.
func (w *writer) place(in ref, x, y, z float64) ref {
	f := w.file
	if x == 0 && y == 0 && z == 0 {
		return f.add("IFCLOCALPLACEMENT", in, w.origin)
	}
	return f.add("IFCLOCALPLACEMENT", in, f.add("IFCAXIS2PLACEMENT3D", f.point(x, y, z), null, null))
}
