// Package catalogue holds, as data, the generic products that partitions are
// made of and the practices by which the trade builds them.
//
// Products are named by standard, never by maker: boards by EN 520 type or
// ASTM C1396, profiles by EN 14195 / DIN 18182-1 and AISI S201 / ASTM C645,
// insulation by EN 13162, compounds by EN 13963 or ASTM C475. Every practice
// value carries its source and status. A user's own catalogue is merged over
// the shipped one entry by entry.
package catalogue

import (
	"nogging/internal/quantity"
)

// Length is a length in the catalogue.
type Length = quantity.Length

// Catalogue is everything that can be bought, and the practices.
type Catalogue struct {
	Boards     []Board      `json:"boards,omitempty"`
	Profiles   []Profile    `json:"profiles,omitempty"`
	Insulation []Insulation `json:"insulation,omitempty"`
	Screws     []Screw      `json:"screws,omitempty"`
	Sundries   []Sundry     `json:"sundries,omitempty"`
	Practices  []Practice   `json:"practices,omitempty"`
}

// Board is one board type in one thickness.
type Board struct {
	ID        string          `json:"id"`
	Name      string          `json:"name"`
	Standard  string          `json:"standard"` // such as EN 520
	Type      string          `json:"type"`     // such as A, DF, H2, Type X
	Thickness Length          `json:"thickness"`
	Width     Length          `json:"width"`
	Lengths   []Length        `json:"lengths"` // stock lengths, ascending
	Mass      float64         `json:"mass"`    // kg/m²
	Edge      string          `json:"edge"`    // long edges: tapered or square
	Wet       string          `json:"wet,omitempty"`
	Source    string          `json:"source,omitempty"`
	Status    quantity.Status `json:"status"`
}

// ProfileKind says what a profile is used for.
type ProfileKind string

// The kinds of profile.
const (
	Stud        ProfileKind = "stud"
	Track       ProfileKind = "track"
	OpeningStud ProfileKind = "opening_stud"
	DeepTrack   ProfileKind = "deep_track" // head track with long legs for deflection heads
	Channel     ProfileKind = "channel"    // ceiling and furring channels
)

// Profile is one cold-formed steel profile.
type Profile struct {
	ID        string          `json:"id"`
	Name      string          `json:"name"`
	Kind      ProfileKind     `json:"kind"`
	Standard  string          `json:"standard"`
	Web       Length          `json:"web"`           // outside depth
	Flange    Length          `json:"flange"`        // outside width
	Lip       Length          `json:"lip,omitempty"` // outside depth of the lips; none for tracks
	Thickness Length          `json:"thickness"`     // design sheet thickness
	Radius    Length          `json:"radius,omitempty"`
	Mass      float64         `json:"mass"`              // kg/m
	Lengths   []Length        `json:"lengths"`           // stock lengths, ascending
	Fits      string          `json:"fits,omitempty"`    // nominal size that studs and tracks share, such as 75
	Opening   string          `json:"opening,omitempty"` // for studs: the stiff profile that goes beside openings
	Source    string          `json:"source,omitempty"`
	Status    quantity.Status `json:"status"`
}

// Insulation is one cavity fill.
type Insulation struct {
	ID          string          `json:"id"`
	Name        string          `json:"name"`
	Standard    string          `json:"standard"`
	Material    string          `json:"material"` // stone wool, glass wool …
	Thicknesses []Length        `json:"thicknesses"`
	Density     float64         `json:"density"`           // kg/m³
	Lambda      float64         `json:"lambda"`            // W/mK
	Melting     float64         `json:"melting,omitempty"` // °C, where declared
	Width       Length          `json:"width"`
	Length      Length          `json:"length"`
	Source      string          `json:"source,omitempty"`
	Status      quantity.Status `json:"status"`
}

// Screw is one drywall screw.
type Screw struct {
	ID       string          `json:"id"`
	Name     string          `json:"name"`
	Standard string          `json:"standard"`
	Length   Length          `json:"length"`
	Point    string          `json:"point"` // sharp (up to 0.7 mm steel) or drill (up to 2.25 mm)
	Source   string          `json:"source,omitempty"`
	Status   quantity.Status `json:"status"`
}

// Sundry is any other product: anchors, tapes, sealants, compounds, beads.
type Sundry struct {
	ID       string             `json:"id"`
	Name     string             `json:"name"`
	Kind     string             `json:"kind"` // anchor, seal_tape, sealant, joint_tape, filler, compound, bead, strip, gusset …
	Standard string             `json:"standard,omitempty"`
	Unit     string             `json:"unit"`           // m, kg, pcs, l
	For      []string           `json:"for,omitempty"`  // substrates or joint kinds it suits
	Uses     map[string]float64 `json:"uses,omitempty"` // consumption per metre, piece or square metre by use
	Source   string             `json:"source,omitempty"`
	Status   quantity.Status    `json:"status"`
}

// Rule is one value of a practice with where it comes from.
type Rule[T any] struct {
	Value  T               `json:"value"`
	Source string          `json:"source,omitempty"`
	Status quantity.Status `json:"status"`
	Note   string          `json:"note,omitempty"`
}

// Practice is the set of rules by which walls are built in one country or
// firm. The json name of each field is the name under which a project may
// override it.
type Practice struct {
	ID   string `json:"id"`
	Name string `json:"name"`

	StudSpacing    Rule[Length] `json:"stud_spacing"`    // greatest distance of stud centres
	StudShortfall  Rule[Length] `json:"stud_shortfall"`  // studs are cut this much shorter than the clear height
	BoardShortfall Rule[Length] `json:"board_shortfall"` // boards are this much shorter than the clear height
	BoardFloorGap  Rule[Length] `json:"board_floor_gap"` // part of the shortfall that is left at the floor
	BoardMaxLength Rule[Length] `json:"board_max_length"`

	Starter          Rule[Length] `json:"starter"`            // width of the first piece where joints must be staggered
	MinPiece         Rule[Length] `json:"min_piece"`          // narrowest piece that is put up by choice
	JointJamb        Rule[Length] `json:"joint_jamb"`         // least distance of a vertical joint from the side of an opening
	CrossJointOffset Rule[Length] `json:"cross_joint_offset"` // least offset of cross joints between neighbouring pieces

	ScrewSpacing     Rule[[][]Length] `json:"screw_spacing"` // per number of layers, spacing of each layer from the frame outwards
	ScrewEdge        Rule[Length]     `json:"screw_edge"`    // distance of the outermost screw from a piece's upper and lower edge
	ScrewPenetration Rule[Length]     `json:"screw_penetration"`

	TrackFixing     Rule[Length] `json:"track_fixing"`      // greatest distance of anchors along a track
	TrackFixingEnd  Rule[Length] `json:"track_fixing_end"`  // greatest distance of the first anchor from a track's end
	EdgeStudFixing  Rule[Length] `json:"edge_stud_fixing"`  // greatest distance of anchors up a stud against structure
	EdgeStudMinimum Rule[int]    `json:"edge_stud_minimum"` // least number of anchors in it

	HeaderUpstand Rule[Length]     `json:"header_upstand"` // length of the turned-up ends of a header
	Jambs         Rule[[]JambRule] `json:"jambs"`          // the first row that fits a door decides its jambs

	RigidHeadLimit Rule[Length] `json:"rigid_head_limit"` // slab deflection above which the head has to slide
	HeadTolerance  Rule[Length] `json:"head_tolerance"`   // added to the deflection
	HeadEngagement Rule[Length] `json:"head_engagement"`  // stud left in the head track when the slab is up

	ControlJoint Rule[Length] `json:"control_joint"` // longest run without a movement joint

	GussetHeight  Rule[Length] `json:"gusset_height"`  // height of the board gussets that tie twin frames
	GussetSpacing Rule[Length] `json:"gusset_spacing"` // greatest distance between them up a stud pair

	CoatWidths     Rule[[]Length] `json:"coat_widths"`
	CoatWait       Rule[float64]  `json:"coat_wait"`        // hours before the second coat of a quick compound
	JointMinimum   Rule[float64]  `json:"joint_minimum"`    // °C below which joints are not treated
	LiftLimit      Rule[float64]  `json:"lift_limit"`       // kg that one person lifts
	WasteBoards    Rule[float64]  `json:"waste_boards"`     // per cent
	WasteProfiles  Rule[float64]  `json:"waste_profiles"`   // per cent
	WasteWool      Rule[float64]  `json:"waste_insulation"` // per cent
	WasteCompounds Rule[float64]  `json:"waste_compounds"`  // per cent
	WasteScrews    Rule[float64]  `json:"waste_screws"`     // per cent
}

// Jamb is how the studs beside an opening are made.
type Jamb string

// The ways to make a jamb.
const (
	JambBoxed       Jamb = "boxed"        // two studs boxed into each other
	JambOpeningStud Jamb = "opening_stud" // the stiff profile, floor to soffit
)

// JambRule is one row of the jamb rule: doors within all its limits get Jamb.
// A limit of zero means no limit.
type JambRule struct {
	MaxLeaf   float64 `json:"max_leaf,omitempty"` // kg
	MaxWidth  Length  `json:"max_width,omitempty"`
	MaxHeight Length  `json:"max_height,omitempty"` // of the wall
	Jamb      Jamb    `json:"jamb"`
	Source    string  `json:"source,omitempty"`
}
