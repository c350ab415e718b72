package layout

import (
	"fmt"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// Length is a length in a layout.
type Length = quantity.Length

// Project is the layout of a whole plan: one entry per wall that could be laid
// out, in the order of the plan.
type Project struct {
	Walls     []*Wall
	Junctions []Junction
	Findings  finding.List
}

// Wall is where every part of one wall is. Coordinates of parts are in the
// wall's own plane: X is u along the wall's line from its start, Y is z above
// the floor. Offsets across the wall are v, positive towards face A.
type Wall struct {
	ID, Level string
	BuildUp   string
	Line      geom.Segment // the wall's axis, in the middle of its finished thickness
	Frame     geom.Frame
	Thickness Length      // finished, both faces
	Head      Head        //
	Top       Profile     // soffit, or upper edge where the wall stops short of it
	Ends      [2]Abutment // at the start and at the end

	FrameLines []FrameLine // one, or two for twin frames; more where the wall is interrupted
	Openings   []Opening
	Members    []Member
	Gussets    []Gusset
	Faces      []FaceLayout // A, then B; only the boarded ones
	Caps       []Piece      // strips that close free ends and the reveals of bare openings
	Joints     []Joint
	Screws     []ScrewRow
	Anchors    []AnchorRow
	Seals      []Strip
	Beads      []Strip
	Batts      []Batt
	Findings   finding.List
}

// Head is how a wall's upper edge is made.
type Head struct {
	Kind string // plan.HeadRigid, HeadDeflection or HeadFree
	Gap  Length // movement gap that studs and boards leave below the soffit; 0 for rigid heads
}

// Profile is a height profile along the wall; its points ascend in X, and two
// points of equal X make a step.
type Profile []geom.Point

// AbutmentKind says what one end of a wall meets.
type AbutmentKind string

// What a wall's end meets.
const (
	Free      AbutmentKind = "free end"
	Structure AbutmentKind = "structure"
	Corner    AbutmentKind = "corner"   // L: this end and another wall's end
	Tee       AbutmentKind = "tee"      // T: this end and the body of another wall
	Straight  AbutmentKind = "straight" // this end carries on into another wall in the same line
)

// Abutment is one end of a wall.
type Abutment struct {
	Kind    AbutmentKind
	With    string // id of the wall or structure met
	Through bool   // at a corner: this wall's frame runs through, the other butts on it
}

// JunctionKind is the form in which walls meet.
type JunctionKind string

// The forms of junction.
const (
	L JunctionKind = "L"
	T JunctionKind = "T"
	X JunctionKind = "X"
	I JunctionKind = "I" // two walls carry on in one line
)

// Junction is a place where walls meet. The first wall runs through.
type Junction struct {
	Kind  JunctionKind
	Level string
	At    geom.Point
	Walls []string
}

// FrameLine is one plane of studs between its two tracks.
type FrameLine struct {
	Offset  Length        // v of its middle
	Depth   Length        // of the track, across the wall
	Extent  geom.Interval // u of its ends
	Stud    string        // catalogue ids
	Track   string
	Spacing Length
}

// Opening is an opening as laid out.
type Opening struct {
	ID       string
	Kind     plan.OpeningKind
	U        geom.Interval
	Sill     Length
	Head     Length
	LeafMass float64
	Rule     string // why its jambs are as they are
	framed   bool   // studs and tracks make way for it
	jamb     catalogue.Jamb
}

// AtFloor reports whether the opening interrupts the floor track.
func (o Opening) AtFloor() bool { return o.Sill == 0 }

// Role is what a member does in the frame.
type Role string

// The roles of members.
const (
	FloorTrack   Role = "floor track"
	SoffitTrack  Role = "soffit track"
	Stud         Role = "stud"
	EndStud      Role = "end stud"
	JunctionStud Role = "junction stud"
	OpeningStud  Role = "opening stud"
	Header       Role = "header"
	SillTrack    Role = "sill"
	Cripple      Role = "cripple"
	Nogging      Role = "nogging"
)

// Member is one piece of steel.
type Member struct {
	Role    Role
	Number  int    // with the letter of its role, its mark on the wall
	Line    int    // index into Wall.FrameLines
	Product string // catalogue id
	From    geom.Point
	To      geom.Point // upright members from foot to head; tracks along u
	Cut     Length     // length to cut
	Width   Length     // as seen in elevation: flange of studs, flange height of tracks
	Boxed   bool       // one of a pair boxed into each other
	Rule    string     // the rule that put it there
}

// Mark returns the member's mark, unique within its wall.
func (m *Member) Mark() string { return fmt.Sprintf("%s%02d", m.letter(), m.Number) }

// letter returns the letter with which the marks of the member's role begin.
func (m *Member) letter() string {
	switch m.Role {
	case FloorTrack:
		return "F"
	case SoffitTrack:
		return "C"
	case Header, SillTrack:
		return "H"
	case Cripple:
		return "K"
	case Nogging:
		return "N"
	case OpeningStud:
		return "D"
	}
	return "S"
}

// Upright reports whether the member stands.
func (m *Member) Upright() bool {
	switch m.Role {
	case FloorTrack, SoffitTrack, Header, SillTrack, Nogging:
		return false
	}
	return true
}

// Gusset is one board strip that ties a pair of studs of a twin braced frame.
type Gusset struct {
	Number int
	Board  string
	At     geom.Point // u of the stud pair, z of its middle
	Width  Length     // across the wall
	Height Length
}

// FaceLayout is the boarding of one face, layer by layer from the frame
// outwards.
type FaceLayout struct {
	Face   plan.Face
	Layers []Layer
}

// Layer is one layer of boards.
type Layer struct {
	Board  string          // catalogue id
	Extent geom.Interval   // u of its ends
	Breaks []geom.Interval // stretches that another wall or structure runs through
	Bottom Length          // z of its lower edge
	Top    Profile         // of its upper edge
	Pieces []Piece
}

// EdgeKind is the kind of a piece's long edge.
type EdgeKind string

// The kinds of edge.
const (
	Factory EdgeKind = "factory" // the board's own long edge
	CutEdge EdgeKind = "cut"
)

// Piece is one piece of board. Its outline runs counter-clockwise in the
// wall's plane and seen from face A; the outline of a piece on face B is given
// in the same coordinates.
type Piece struct {
	Number  int
	Board   string
	Use     string // "" for boarding; "end cap" or "reveal" for strips, whose outline is in the strip's own plane
	At      geom.Point
	Outline geom.Polygon
	Holes   []geom.Polygon // openings that lie wholly inside the piece
	Width   Length         // of the bounding rectangle, across the board
	Height  Length         // of the bounding rectangle, along the board
	Left    EdgeKind
	Right   EdgeKind
	Rule    string
}

// Area returns the piece's area without its holes.
func (p *Piece) Area() quantity.Area {
	a := p.Outline.Area()
	for _, h := range p.Holes {
		a -= h.Area()
	}
	return a
}

// Notched reports whether the piece is other than a plain rectangle.
func (p *Piece) Notched() bool { return len(p.Outline) != 4 || len(p.Holes) > 0 }

// PieceMark returns the mark of a piece of a face's layer, as in A1-03.
func PieceMark(f plan.Face, layer int, p *Piece) string {
	return fmt.Sprintf("%s%d-%02d", strings.ToUpper(string(f)), layer+1, p.Number)
}

// JointKind is the kind of a joint between boards or at their rim.
type JointKind string

// The kinds of joint.
const (
	TaperedJoint JointKind = "tapered"      // two factory edges
	MixedJoint   JointKind = "mixed"        // a factory and a cut edge
	CutJoint     JointKind = "cut"          // two cut edges
	CrossJoint   JointKind = "cross"        // horizontal
	InnerCorner  JointKind = "inner corner" // two walls
	OuterCorner  JointKind = "outer corner"
	Perimeter    JointKind = "perimeter" // board against floor, soffit or structure
)

// JointKinds lists every kind of joint.
func JointKinds() []JointKind {
	return []JointKind{TaperedJoint, MixedJoint, CutJoint, CrossJoint, InnerCorner, OuterCorner, Perimeter}
}

// Joint is one stretch of joint.
type Joint struct {
	Kind     JointKind
	Face     plan.Face
	Layer    int // from 0 at the frame
	Outer    bool
	From, To geom.Point
}

// ScrewRow is one upright row of screws through a layer into a member.
type ScrewRow struct {
	Screw    string // catalogue id
	Face     plan.Face
	Layer    int
	From, To geom.Point // first and last screw
	Count    int
}

// AnchorRow is one row of anchors through a profile into the structure.
type AnchorRow struct {
	Anchor   string // catalogue id
	Into     string // floor, soffit or structure
	From, To geom.Point
	Count    int
}

// Strip is a length of sealing tape, sealant or bead.
type Strip struct {
	Product  string
	Use      string
	Line     int // frame line for seals; -1 otherwise
	From, To geom.Point
}

// Batt is the fill of one bay.
type Batt struct {
	Product   string
	Line      int
	Thickness Length
	Outline   geom.Polygon
	Holes     []geom.Polygon
}

// Area returns the batt's area without its holes.
func (b *Batt) Area() quantity.Area {
	a := b.Outline.Area()
	for _, h := range b.Holes {
		a -= h.Area()
	}
	return a
}
