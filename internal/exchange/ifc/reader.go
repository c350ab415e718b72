package ifc

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/exchange/ifc/step"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// reader holds one file on its way to a plan.
type reader struct {
	name    string
	options Options
	file    *step.File
	shape   *shape.Model
	rel     relations
	sets    map[step.ID]makeup // of IfcMaterialLayerSet
	found   finding.List
	stats   Stats

	levels   []*level // ascending
	storey   map[step.ID]*level
	walls    []*wall // that were read, in the order of the file
	wallByID map[step.ID]*wall
	openings []*opening

	unread    []step.ID          // walls that cannot be read as walls
	overheads []*overhead        // what may stand above walls
	own       *ownModel          // nil where this program did not write the model
	origin    shape.Vec          // of the plan, in the project's axes
	madeOf    map[string]step.ID // structure of the plan: its entity
}

func newReader(name string, data []byte, o Options) *reader {
	f := step.Parse(data)
	return &reader{
		name: name, options: o, file: f, shape: shape.New(f, len(data)),
		sets: map[step.ID]makeup{}, storey: map[step.ID]*level{}, madeOf: map[string]step.ID{}, wallByID: map[step.ID]*wall{},
	}
}

// The entity types of a kind, in the three schemas.
var (
	wallTypes    = []string{"IFCWALL", "IFCWALLSTANDARDCASE", "IFCWALLELEMENTEDCASE"}
	openingTypes = []string{"IFCOPENINGELEMENT", "IFCOPENINGSTANDARDCASE"}
	doorTypes    = []string{"IFCDOOR", "IFCDOORSTANDARDCASE"}
	windowTypes  = []string{"IFCWINDOW", "IFCWINDOWSTANDARDCASE"}
	columnTypes  = []string{"IFCCOLUMN", "IFCCOLUMNSTANDARDCASE"}
	slabTypes    = []string{"IFCSLAB", "IFCSLABSTANDARDCASE", "IFCSLABELEMENTEDCASE"}
)

// all returns the instances of several types in the order of the file.
func (r *reader) all(types []string) []step.ID {
	var ids []step.ID
	used := 0
	for _, t := range types {
		if of := r.file.OfType(t); len(of) > 0 {
			ids = append(ids, of...)
			used++
		}
	}
	if used > 1 {
		slices.SortFunc(ids, r.file.Compare)
	}
	return ids
}

// is reports whether an instance is of one of the types.
func (r *reader) is(id step.ID, types []string) bool { return slices.Contains(types, r.file.Type(id)) }

const askForModel = "ask for the building model as an .ifc file (STEP, ISO 10303-21)"

// dxf is how a drawing exchange file begins: group code 0 or a remark.
var dxf = regexp.MustCompile(`^(0|999)[ \t]*\r?\n`)

// acceptable reports whether the file can be an IFC file of a schema that is
// read, and says so where it is not.
func (r *reader) acceptable(data []byte) bool {
	refuse := func(what, fix words.Text) bool {
		r.found.Add(finding.Finding{Code: refused, Severity: finding.Error, Place: finding.Place{File: r.name}, What: what, Fix: fix})
		return false
	}
	head := bytes.TrimSpace(data[:min(len(data), 64)])
	switch {
	case bytes.HasPrefix(head, []byte("%PDF")):
		return refuse("is a PDF document", askForModel)
	case bytes.HasPrefix(data, []byte("AC10")):
		return refuse("is a DWG drawing", askForModel)
	case bytes.HasPrefix(data, []byte("AutoCAD Binary DXF")), dxf.Match(head):
		return refuse("is a DXF drawing", askForModel)
	case bytes.HasPrefix(head, []byte("<")):
		return refuse("is an XML file: only IFC as a STEP file (ISO 10303-21) is read", "export it again as .ifc")
	case r.file.Len() == 0:
		return refuse("holds no instances: it is no STEP file (ISO 10303-21), or it is empty", "export the building again as .ifc")
	}
	r.stats.Schema = strings.Join(r.file.Schemas(), " ")
	switch s := r.stats.Schema; {
	case strings.HasPrefix(s, "IFC2X3"), strings.HasPrefix(s, "IFC4"):
	case strings.HasPrefix(s, "IFC2X2"), s == "":
		r.found.Add(finding.Finding{
			Code: "ifc-schema", Severity: finding.Warning, Place: finding.Place{File: r.name},
			What: words.F("the schema %q is read as if it were IFC2X3", s), Fix: "export as IFC2X3 or IFC4 if something is missing",
		})
	default:
		return refuse(words.F("the schema %s is not read; IFC2X3, IFC4 and IFC4X3 are", s), "export as IFC4")
	}
	return true
}

// entity names an instance in messages.
func (r *reader) entity(id step.ID) string {
	return fmt.Sprintf("#%d %s", id, shape.Name(r.file.Type(id)))
}

func (r *reader) place(id step.ID) finding.Place {
	line, column := r.file.Place(id)
	return finding.Place{File: r.name, Line: line, Column: column}
}

// leaveOut adds the finding that an entity is not in the plan.
func (r *reader) leaveOut(id step.ID, severity finding.Severity, code string, what, fix words.Text) {
	r.found.Add(finding.Finding{Code: code, Severity: severity, Object: r.entity(id), Place: r.place(id), What: what, Fix: fix})
}

// tell adds a finding about the plan as a whole, or about the object named.
func (r *reader) tell(severity finding.Severity, code, object string, what, fix words.Text) {
	r.found.Add(finding.Finding{Code: code, Severity: severity, Object: object, Place: finding.Place{File: r.name}, What: what, Fix: fix})
}

// report completes the counts and the findings.
func (r *reader) report() {
	for _, p := range r.file.Problems() {
		object := ""
		if p.ID > 0 {
			object = fmt.Sprintf("#%d", p.ID)
		}
		r.found.Add(finding.Finding{
			Code: "step-syntax", Severity: finding.Warning, Object: object, Place: finding.Place{File: r.name, Line: p.Line, Column: 1},
			What: p.What, Fix: "export the building again, or mend the line by hand",
		})
	}
	r.stats.Entities = Entities{
		Walls: len(r.all(wallTypes)), Openings: len(r.all(openingTypes)), Doors: len(r.all(doorTypes)),
		Windows: len(r.all(windowTypes)), Spaces: len(r.file.OfType("IFCSPACE")), Storeys: len(r.file.OfType("IFCBUILDINGSTOREY")),
	}
	r.found.Sort()
}

// grain is the step to which lengths are rounded. It hides the noise of
// exporters and is far below what anybody builds.
const grain = quantity.Millimetre / 100

// length turns millimetres into a length of the plan.
func length(mm float64) plan.Length { return quantity.MM(mm).Round(grain) }

// sane reports whether a coordinate can be used at all.
func sane(mm float64) bool { return mm > -1e11 && mm < 1e11 }

func allSane(points []shape.Vec) bool {
	return !slices.ContainsFunc(points, func(p shape.Vec) bool { return !sane(p.X) || !sane(p.Y) })
}
