package layout

import (
	"encoding/json"
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
	Walls     []*Wall      `json:"walls,omitempty"`
	Junctions []Junction   `json:"junctions,omitempty"`
	Findings  finding.List `json:"findings,omitempty"`
}

// Wall is where every part of one wall is. Coordinates of parts are in the
// wall's own plane: X is u along the wall's line from its start, Y is z above
// the floor. Offsets across the wall are v, positive towards face A.
type Wall struct {
	ID        string       `json:"id"`
	Level     string       `json:"level"`
	BuildUp   string       `json:"build_up,omitempty"`
	Line      geom.Segment `json:"line"` // the wall's axis, in the middle of its finished thickness
	Frame     geom.Frame   `json:"frame"`
	Curve     *Curve       `json:"curve,omitempty"`  // of a curved wall; Line and Frame are then those of its axis's chord
	Thickness Length       `json:"thickness"`        // finished, both faces
	Finish    string       `json:"finish,omitempty"` // surface level of both faces
	Rim       string       `json:"rim,omitempty"`    // what closes the joints against floor, soffit and structure; compound leaves a sliding head open
	Head      Head         `json:"head"`
	Base      Length       `json:"base,omitempty"` // z of the wall's foot
	Top       Profile      `json:"top"`            // soffit, or upper edge where the wall stops short of it
	Ends      [2]Abutment  `json:"ends"`           // at the start and at the end

	FrameLines []FrameLine    `json:"frame_lines,omitempty"` // one, or two for twin frames; more where the wall is interrupted
	Openings   []Opening      `json:"openings,omitempty"`
	Members    []Member       `json:"members,omitempty"`
	Gussets    []Gusset       `json:"gussets,omitempty"`
	Brackets   []Bracket      `json:"brackets,omitempty"`
	Liner      []Piece        `json:"liner,omitempty"`  // a shaft wall's board between the studs
	Angles     []Angle        `json:"angles,omitempty"` // that hold the liner
	Faces      []FaceLayout   `json:"faces,omitempty"`  // A, then B; only the boarded ones
	Caps       []Piece        `json:"caps,omitempty"`   // strips that close free ends and the reveals of bare openings
	Joints     []Joint        `json:"joints,omitempty"`
	Screws     []ScrewRow     `json:"screws,omitempty"`
	Anchors    []AnchorRow    `json:"anchors,omitempty"`
	Seals      []Strip        `json:"seals,omitempty"`
	Beads      []Strip        `json:"beads,omitempty"`
	Batts      []Batt         `json:"batts,omitempty"`
	Choices    []Choice       `json:"choices,omitempty"` // why each run is laid out as it is
	Controls   []ControlJoint `json:"control_joints,omitempty"`
	Closings   []Closing      `json:"closings,omitempty"`
	Foot       Foot           `json:"foot,omitzero"`
	Plates     []Plate        `json:"plates,omitempty"`
	Findings   finding.List   `json:"findings,omitempty"`
	Services
}

// Closing is a slim piece between the wall's end and a facade post that is
// narrower than the wall: a frame boarded on both faces, or boards on each other.
type Closing struct {
	End       int           `json:"end"`
	With      string        `json:"with"` // the post
	U         geom.Interval `json:"u"`
	Offset    Length        `json:"offset"` // v of its middle
	Thickness Length        `json:"thickness"`
	Stud      string        `json:"stud,omitempty"`  // upright at the post and at the wall; "" for boards on each other
	Studs     []Length      `json:"studs,omitempty"` // their lengths
	Boards    []Piece       `json:"boards,omitempty"`
}

// Foot is how the wall meets the floor.
type Foot struct {
	On    string    `json:"on,omitempty"`    // what it stands on, for people
	Cut   bool      `json:"cut,omitempty"`   // the screed or raised floor is parted under the wall
	Wet   []WetEdge `json:"wet,omitempty"`   // faces that stand in wet rooms
	Order []string  `json:"order,omitempty"` // of the work there
}

// WetEdge is the edge of a wet floor along one face.
type WetEdge struct {
	Face   plan.Face `json:"face"`
	Class  string    `json:"class"`  // water action class
	Height Length    `json:"height"` // to which the edge is sealed above the floor
}

// Plate is a steel strip under the flute of a metal deck that runs along the
// wall; it carries a soffit track.
type Plate struct {
	Product string        `json:"product"`
	Line    int           `json:"line"`
	U       geom.Interval `json:"u"`
	Z       Length        `json:"z"`
	Width   Length        `json:"width"` // across the wall
}

// ControlJoint is a movement joint of a wall, through frame, boards and finish.
type ControlJoint struct {
	U    geom.Interval `json:"u"`
	Over string        `json:"over,omitempty"` // opening over whose head it runs; "" for a joint from floor to soffit
	Rule string        `json:"rule"`           // what asks for it
}

// Head is how a wall's upper edge is made.
type Head struct {
	Kind   string `json:"kind,omitempty"`   // plan.HeadRigid, HeadDeflection or HeadFree
	Gap    Length `json:"gap"`              // movement gap that studs and boards leave below the soffit; 0 for rigid heads
	Cap    Length `json:"cap,omitempty"`    // thickness of the strips that close a free top; the frame ends beneath them
	Strips int    `json:"strips,omitempty"` // boards packed between soffit and head track, over one another
	Pack   Length `json:"pack,omitempty"`   // their thickness together
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
	Movement  AbutmentKind = "movement joint"
)

// Abutment is one end of a wall.
type Abutment struct {
	Kind    AbutmentKind `json:"kind"`
	With    string       `json:"with,omitempty"`    // id of the wall or structure met
	Through bool         `json:"through,omitempty"` // this wall's frame runs through, the other butts on it
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
	Kind   JunctionKind `json:"kind"`
	Level  string       `json:"level"`
	At     geom.Point   `json:"at"`
	Walls  []string     `json:"walls,omitempty"`
	Reason string       `json:"reason,omitempty"`     // why the first runs through
	Cut    []string     `json:"boards_cut,omitempty"` // walls for whose frames the first's boards are cut
}

// FrameLine is one plane of studs between its two tracks.
type FrameLine struct {
	Offset  Length        `json:"offset"`         // v of its middle
	Depth   Length        `json:"depth"`          // of the track, across the wall
	Extent  geom.Interval `json:"extent"`         // u of its ends
	Stud    string        `json:"stud,omitempty"` // catalogue ids
	Track   string        `json:"track,omitempty"`
	Spacing Length        `json:"spacing"`
	cuts    [2]cut
}

// Opening is an opening as laid out.
type Opening struct {
	ID       string           `json:"id"`
	Kind     plan.OpeningKind `json:"kind"`
	U        geom.Interval    `json:"u"`
	Sill     Length           `json:"sill"`
	Head     Length           `json:"head"`
	Clear    Length           `json:"clear,omitempty"`     // in a curved wall: the straight width on the inside of the curve, of which U is the length along the axis
	LeafMass float64          `json:"leaf_mass,omitempty"` // kg
	HungMass float64          `json:"hung_mass,omitempty"` // kg, on the jambs
	Sound    string           `json:"sound,omitempty"`     // its own sound insulation, as the plan states it
	Service  string           `json:"service,omitempty"`   // of a penetration
	Diameter Length           `json:"diameter,omitempty"`
	Pocket   *geom.Interval   `json:"pocket,omitempty"` // u of the bay into which its leaf slides
	Leaf     plan.Leaf        `json:"leaf,omitzero"`    // of a door, as the plan states it
	Rule     string           `json:"rule,omitempty"`   // why its jambs are as they are
	base     Length           // z of the wall's foot
	Joint    bool             `json:"joint,omitempty"` // it serves as a movement joint: above its head, the wall is parted at both its sides
	framed   bool             // studs and tracks make way for it
	jamb     catalogue.Jamb
	stud     *catalogue.Profile // of its jambs
	running  Length             // height of the running gear over a sliding leaf
}

// Width returns the structural width: in a curved wall the straight width on the
// inside of the curve.
func (o Opening) Width() Length {
	if o.Clear > 0 {
		return o.Clear
	}
	return o.U.Len()
}

// AtFloor reports whether the opening interrupts the floor track.
func (o Opening) AtFloor() bool { return o.Sill <= o.base }

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
	Post         Role = "post" // stiff, where the top of the wall stands free
	Header       Role = "header"
	SillTrack    Role = "sill"
	Cripple      Role = "cripple"
	Nogging      Role = "nogging"
	PocketRib    Role = "pocket rib"
)

// Member is one piece of steel.
type Member struct {
	Role    Role       `json:"role"`
	Number  int        `json:"number"`            // with the letter of its role, its mark on the wall
	Line    int        `json:"line"`              // index into Wall.FrameLines
	Product string     `json:"product,omitempty"` // catalogue id
	From    geom.Point `json:"from"`
	To      geom.Point `json:"to"`                // upright members from foot to head; tracks along u
	Cut     Length     `json:"cut"`               // length to cut
	Width   Length     `json:"width"`             // as seen in elevation: flange of studs, flange height of tracks
	Boxed   bool       `json:"boxed,omitempty"`   // one of a pair boxed into each other
	Slits   int        `json:"slits,omitempty"`   // cut into a track so that it follows a curve
	Spliced bool       `json:"spliced,omitempty"` // one piece of a stud longer than its profile is sold
	Lap     Length     `json:"lap,omitempty"`     // by which it laps the piece beneath it
	Rule    string     `json:"rule,omitempty"`    // the rule that put it there
}

// Mark returns the member's mark, unique within its wall.
func (m *Member) Mark() string { return fmt.Sprintf("%s%02d", m.letter(), m.Number) }

// MarshalJSON writes the member with its mark.
func (m Member) MarshalJSON() ([]byte, error) {
	type plain Member
	return json.Marshal(struct {
		Mark string `json:"mark"`
		plain
	}{m.Mark(), plain(m)})
}

// PairedWith reports whether two members stand in one place: studs boxed into
// each other, or the ribs on both sides of a pocket.
func (m *Member) PairedWith(o *Member) bool {
	pair := m.Boxed && o.Boxed || m.Role == PocketRib && o.Role == PocketRib
	return pair && m.Line == o.Line && m.From == o.From && m.To == o.To
}

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
	case Post:
		return "P"
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
	Number int        `json:"number"`
	Board  string     `json:"board,omitempty"`
	At     geom.Point `json:"at"`    // u of the stud pair, z of its middle
	Width  Length     `json:"width"` // across the wall
	Height Length     `json:"height"`
}

// FaceLayout is the boarding of one face, layer by layer from the frame
// outwards.
type FaceLayout struct {
	Face   plan.Face `json:"face"`
	Layers []Layer   `json:"layers,omitempty"`
}

// Layer is one layer of boards.
type Layer struct {
	Board  string          `json:"board,omitempty"`  // catalogue id
	Bend   *Bend           `json:"bend,omitempty"`   // of a curved wall; u is then measured on this layer
	Extent geom.Interval   `json:"extent"`           // u of its ends
	Breaks []geom.Interval `json:"breaks,omitempty"` // stretches that another wall or structure runs through
	Bottom Length          `json:"bottom"`           // z of its lower edge
	Top    Profile         `json:"top"`              // of its upper edge
	Pieces []Piece         `json:"pieces,omitempty"`
}

// EdgeKind is the kind of a piece's long edge.
type EdgeKind string

// The kinds of edge.
const (
	Factory EdgeKind = "factory" // the board's own long edge
	CutEdge EdgeKind = "cut"
)

// FrameFrom returns the face from which the frame is drawn: the only one, or else face B,
// from which the wall runs from left to right.
func (w *Wall) FrameFrom() plan.Face {
	if len(w.Faces) == 1 {
		return w.Faces[0].Face
	}
	return plan.FaceB
}

// Piece is one piece of board. Its outline runs counter-clockwise in the
// wall's plane as seen from face B, where u runs to the right; the outline of a piece
// on face A is given in the same coordinates.
type Piece struct {
	Number  int            `json:"number"`
	Board   string         `json:"board,omitempty"`
	Use     string         `json:"use,omitempty"` // "" for boarding; "end cap" or "reveal" for strips, whose outline is in the strip's own plane
	At      geom.Point     `json:"at"`
	Outline geom.Polygon   `json:"outline"`
	Holes   []geom.Polygon `json:"holes,omitempty"` // openings that lie wholly inside the piece
	Width   Length         `json:"width"`           // of the bounding rectangle, across the board
	Height  Length         `json:"height"`          // of the bounding rectangle, along the board
	Lying   bool           `json:"lying,omitempty"` // the board's long side lies along the wall; Left is then the lower edge, Right the upper
	Left    EdgeKind       `json:"left"`
	Right   EdgeKind       `json:"right"`
	Rule    string         `json:"rule,omitempty"`
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
	Kind  JointKind  `json:"kind"`
	Face  plan.Face  `json:"face"`
	Layer int        `json:"layer"` // from 0 at the frame
	Outer bool       `json:"outer,omitempty"`
	From  geom.Point `json:"from"`
	To    geom.Point `json:"to"`
}

// ScrewRow is one row of screws through a layer into a member: up a stud, or level
// along what backs a cross joint. The
// screws of strips that close ends, tops and reveals have layer -1 and no place.
type ScrewRow struct {
	Screw string     `json:"screw,omitempty"` // catalogue id
	Face  plan.Face  `json:"face,omitempty"`  // left out for screws of the strips on free ends and in reveals
	Layer int        `json:"layer"`
	From  geom.Point `json:"from"` // first and last screw
	To    geom.Point `json:"to"`
	Count int        `json:"count"`
}

// AnchorRow is one row of anchors through a profile into the structure.
type AnchorRow struct {
	Anchor string     `json:"anchor,omitempty"` // catalogue id
	Into   string     `json:"into,omitempty"`   // floor, soffit or structure
	From   geom.Point `json:"from"`
	To     geom.Point `json:"to"`
	Count  int        `json:"count"`
}

// Strip is a length of sealing tape, sealant or bead.
type Strip struct {
	Product string     `json:"product,omitempty"`
	Use     string     `json:"use,omitempty"`
	Line    int        `json:"line"`           // frame line for seals; -1 otherwise
	Face    plan.Face  `json:"face,omitempty"` // on which a bead is
	From    geom.Point `json:"from"`
	To      geom.Point `json:"to"`
}

// Batt is one layer of the fill of one bay, or of the gap between two frames.
type Batt struct {
	Product   string         `json:"product,omitempty"`
	Line      int            `json:"line"`
	Gap       bool           `json:"gap,omitempty"`   // it lies in the gap behind the frame of its line
	Layer     int            `json:"layer,omitempty"` // from 0 nearest to face A
	Thickness Length         `json:"thickness"`
	Outline   geom.Polygon   `json:"outline"`
	Holes     []geom.Polygon `json:"holes,omitempty"`
}

// Area returns the batt's area without its holes.
func (b *Batt) Area() quantity.Area {
	a := b.Outline.Area()
	for _, h := range b.Holes {
		a -= h.Area()
	}
	return a
}
