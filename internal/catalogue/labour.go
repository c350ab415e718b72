package catalogue

import (
	"slices"
	"strings"

	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Operation is what one step of the work takes: the norm that bids are reckoned
// by, build-ups are chosen by and block walls are compared by. The steps are fixed; a
// user's catalogue gives them other minutes.
type Operation struct {
	ID      string          `json:"id"` // one of Operations
	Name    string          `json:"name"`
	Unit    string          `json:"unit"`    // of what is counted: m, m² or pcs
	Minutes float64         `json:"minutes"` // of one person for one unit
	Source  string          `json:"source,omitempty"`
	Status  quantity.Status `json:"status,omitempty"`
}

// PaintID is the sundry whose work is the painting of faces.
const PaintID = "PAINT"

// The steps of the work that norms are for.
const (
	SetOut     = "set_out"     // m of wall
	FixTrack   = "track"       // m of floor and soffit track
	StandStud  = "stud"        // pcs
	FrameTrim  = "opening"     // pcs of openings framed
	FitNogging = "nogging"     // pcs of horizontal members
	SealFrame  = "seal"        // m of seals behind profiles
	BoardInner = "board_inner" // m² of layers that others cover
	BoardOuter = "board_outer" // m² of outermost layers
	CutOut     = "cut_out"     // pcs of holes for boxes and services
	Insulate   = "insulate"    // m² of fill
	FillJoint  = "fill"        // m of joints of inner layers
	TapeJoint  = "tape"        // m
	CoatJoint  = "coat"        // m² of coats over joints, all coats together
	CoatHead   = "heads"       // pcs
	Sand       = "sand"        // m² of last coats, closed and skimmed faces
	CloseFace  = "close"       // m²
	SkimFace   = "skim"        // m²
	FitBead    = "bead"        // m
	PaintFace  = "paint"       // m²
)

// Operations lists the steps in the order of the work.
func Operations() []string {
	return []string{SetOut, FixTrack, StandStud, FrameTrim, FitNogging, SealFrame, BoardInner, BoardOuter, CutOut, Insulate, FillJoint, TapeJoint, CoatJoint, CoatHead, Sand, CloseFace, SkimFace, FitBead, PaintFace}
}

func (o *Operation) key() string { return o.ID }

func (o *Operation) faults() faults {
	var f faults
	f.identity(o.ID, o.Name)
	f.oneOf("id", o.ID, Operations()...)
	f.unless(o.Minutes >= 0 && o.Minutes < 10_000, "minutes", "it takes no such time", "write minutes of one person for one unit, from 0")
	f.oneOf("unit", o.Unit, "m", "m²", "pcs")
	f.provenance("", o.Source, o.Status)
	return f
}

// OperationFor returns the norm of a step.
func (c *Catalogue) OperationFor(id string) (*Operation, bool) {
	i := slices.IndexFunc(c.Operations, func(o Operation) bool { return o.ID == id })
	if i < 0 {
		return nil, false
	}
	return &c.Operations[i], true
}

// Productivity is what makes work slower than its norms: all hours of the walls
// it holds for are multiplied by the factor. Of rows of the same kind the last
// that holds counts.
type Productivity struct {
	ID     string          `json:"id"`
	Name   string          `json:"name"`
	When   string          `json:"when"`            // one of ProductivityKinds
	Above  float64         `json:"above,omitempty"` // m of height, for height
	Below  float64         `json:"below,omitempty"` // m² of wall, for area
	Factor float64         `json:"factor"`
	Source string          `json:"source,omitempty"`
	Status quantity.Status `json:"status,omitempty"`
}

// What makes work slower.
const (
	SlowHeight = "height"
	SlowSmall  = "area"
	SlowCurved = "curved"
	SlowNight  = "night"
)

// ProductivityKinds lists what makes work slower.
func ProductivityKinds() []string { return []string{SlowHeight, SlowSmall, SlowCurved, SlowNight} }

func (p *Productivity) key() string { return p.ID }

func (p *Productivity) faults() faults {
	var f faults
	f.identity(p.ID, p.Name)
	f.oneOf("when", p.When, ProductivityKinds()...)
	f.unless(p.When != SlowHeight || p.Above > 0, "above", "it does not say from which height it holds", "write metres, such as above: 3")
	f.unless(p.When != SlowSmall || p.Below > 0, "below", "it does not say up to which area it holds", "write square metres, such as below: 5")
	f.unless(p.Factor > 0 && p.Factor <= 10, "factor", "it is no factor", words.F("write a number such as 1.1 for a tenth more time; %s multiply", strings.Join(ProductivityKinds(), ", ")))
	f.provenance("", p.Source, p.Status)
	return f
}
