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

// Catalogue is everything that can be bought, and the practices. One that came
// from Shipped, Parse or Merge is looked up by id in constant time; its entries
// must not be changed, and any number of readers may share it.
type Catalogue struct {
	Boards     []Board      `json:"boards,omitempty"`
	Profiles   []Profile    `json:"profiles,omitempty"`
	Insulation []Insulation `json:"insulation,omitempty"`
	Screws     []Screw      `json:"screws,omitempty"`
	Sundries   []Sundry     `json:"sundries,omitempty"`
	Practices  []Practice   `json:"practices,omitempty"`

	Materials    []Material     `json:"materials,omitempty"`
	FireEvidence []FireEvidence `json:"fire_evidence,omitempty"`

	HeightEvidence []HeightEvidence `json:"height_evidence,omitempty"`
	SoundEvidence  []SoundEvidence  `json:"sound_evidence,omitempty"`

	Masonry []Masonry `json:"masonry,omitempty"`

	Carbon []CarbonFactor `json:"carbon,omitempty"`
	Prices []Price        `json:"prices,omitempty"` // the user's; none ship
	Packs  []Pack         `json:"packs,omitempty"`

	Operations   []Operation    `json:"operations,omitempty"`
	Productivity []Productivity `json:"productivity,omitempty"`

	index *index // see lookup.go; nil for a catalogue put together by hand
	text  *text  // the file that Parse read; nil for others
}

// Board is one board type in one thickness.
type Board struct {
	ID        string          `json:"id"`
	Name      string          `json:"name"`
	Standard  string          `json:"standard"` // such as EN 520
	Type      string          `json:"type"`     // such as A, DF, H2, Type X
	Thickness Length          `json:"thickness"`
	Width     Length          `json:"width"`
	Lengths   []Length        `json:"lengths"`       // stock lengths, ascending
	Mass      float64         `json:"mass"`          // kg/m²
	Edge      string          `json:"edge"`          // long edges: tapered or square
	Wet       string          `json:"wet,omitempty"` // severest water action class it may stand in (DIN 18534-1); only dry rooms if left out
	Source    string          `json:"source,omitempty"`
	Status    quantity.Status `json:"status,omitempty"`
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
	Rail        ProfileKind = "rail"       // perimeter channel that takes the ends of furring channels
	Strap       ProfileKind = "strap"      // flat steel; its flange is its width
	Angle       ProfileKind = "angle"      // holding angle; web and flange are its legs
)

// Profile is one cold-formed steel profile.
type Profile struct {
	ID        string          `json:"id"`
	Name      string          `json:"name"`
	Kind      ProfileKind     `json:"kind"`
	Standard  string          `json:"standard"`
	Web       Length          `json:"web"`             // outside depth
	Depth     Length          `json:"depth,omitempty"` // of the frame made with it, across the wall, as the trade counts it; the web if left out
	Flange    Length          `json:"flange"`          // outside width
	Lip       Length          `json:"lip,omitempty"`   // outside depth of the lips; none for tracks
	Thickness Length          `json:"thickness"`       // design sheet thickness
	Radius    Length          `json:"radius,omitempty"`
	Coating   Length          `json:"coating,omitempty"` // zinc on both sides together, part of the thickness that carries nothing
	Hole      Length          `json:"hole,omitempty"`    // width across the web of the holes in the middle of it
	Yield     float64         `json:"yield,omitempty"`   // N/mm²; the practice's for all steel if left out
	Mass      float64         `json:"mass"`              // kg/m
	Lengths   []Length        `json:"lengths"`           // stock lengths, ascending
	Fits      string          `json:"fits,omitempty"`    // nominal size that studs and tracks share, such as 75
	Opening   string          `json:"opening,omitempty"` // for studs: the stiff profile that goes beside openings
	Source    string          `json:"source,omitempty"`
	Status    quantity.Status `json:"status,omitempty"`
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
	Status      quantity.Status `json:"status,omitempty"`
}

// Screw is one drywall screw.
type Screw struct {
	ID       string          `json:"id"`
	Name     string          `json:"name"`
	Standard string          `json:"standard"`
	Length   Length          `json:"length"`
	Point    string          `json:"point"` // sharp or drill
	Steel    Length          `json:"steel"` // thickest steel it goes through
	Source   string          `json:"source,omitempty"`
	Status   quantity.Status `json:"status,omitempty"`
}

// Sundry is any other product: anchors, tapes, sealants, compounds, beads.
type Sundry struct {
	ID       string             `json:"id"`
	Name     string             `json:"name"`
	Kind     string             `json:"kind"` // anchor, seal_tape, sealant, joint_tape, filler, compound, bead, strip, gusset …
	Standard string             `json:"standard,omitempty"`
	Unit     string             `json:"unit"`              // m, kg, pcs, l
	Density  float64            `json:"density,omitempty"` // kg/m³ of compounds, as applied; without it joints take them by the metre
	For      []string           `json:"for,omitempty"`     // substrates or joint kinds it suits
	Uses     map[string]float64 `json:"uses,omitempty"`    // consumption per metre, piece or square metre by use
	Hardens  string             `json:"hardens,omitempty"` // of compounds: by setting (EN 13963, type B) or by drying (type A)
	Source   string             `json:"source,omitempty"`
	Status   quantity.Status    `json:"status,omitempty"`
}

// Rule is one value of a practice with where it comes from.
type Rule[T any] struct {
	Value  T               `json:"value"`
	Source string          `json:"source,omitempty"`
	Status quantity.Status `json:"status,omitempty"`
	Note   string          `json:"note,omitempty"`
}

// Practice is the set of rules by which walls are built in one country or
// firm. The json name of each field is the name under which a project may
// override it.
type Practice struct {
	ID        string   `json:"id"`
	Name      string   `json:"name,omitempty"`
	Base      string   `json:"base,omitempty"`      // id of the practice whose rules hold where this one has none; the one of the same id if left out
	Standards []string `json:"standards,omitempty"` // of the products that rules choose by themselves

	UsualStud   Rule[string] `json:"usual_stud,omitzero"`   // where a wall's build-up has to be assumed
	UsualBoard  Rule[string] `json:"usual_board,omitzero"`  // as usual_stud
	UsualLayers Rule[int]    `json:"usual_layers,omitzero"` // of boards a face; as usual_stud

	StudSpacing    Rule[Length] `json:"stud_spacing,omitzero"`    // greatest distance of stud centres
	StudShortfall  Rule[Length] `json:"stud_shortfall,omitzero"`  // studs are cut this much shorter than the clear height
	BoardShortfall Rule[Length] `json:"board_shortfall,omitzero"` // boards are this much shorter than the clear height
	BoardFloorGap  Rule[Length] `json:"board_floor_gap,omitzero"` // part of the shortfall that is left at the floor
	BoardMaxLength Rule[Length] `json:"board_max_length,omitzero"`

	Starter          Rule[Length] `json:"starter,omitzero"`            // width of the first piece where joints must be staggered
	MinPiece         Rule[Length] `json:"min_piece,omitzero"`          // narrowest piece that is put up by choice
	JointJamb        Rule[Length] `json:"joint_jamb,omitzero"`         // least distance of a vertical joint from the side of an opening
	CrossJointOffset Rule[Length] `json:"cross_joint_offset,omitzero"` // least offset of cross joints between neighbouring pieces

	ScrewSpacing     Rule[[][]Length] `json:"screw_spacing,omitzero"` // per number of layers, spacing of each layer from the frame outwards
	ScrewEdge        Rule[Length]     `json:"screw_edge,omitzero"`    // distance of the outermost screw from a piece's upper and lower edge
	ScrewPenetration Rule[Length]     `json:"screw_penetration,omitzero"`

	TrackFixing     Rule[Length] `json:"track_fixing,omitzero"`      // greatest distance of anchors along a track
	TrackFixingEnd  Rule[Length] `json:"track_fixing_end,omitzero"`  // greatest distance of the first anchor from a track's end
	EdgeStudFixing  Rule[Length] `json:"edge_stud_fixing,omitzero"`  // greatest distance of anchors up a stud against structure
	EdgeStudMinimum Rule[int]    `json:"edge_stud_minimum,omitzero"` // least number of anchors in it

	HeaderUpstand Rule[Length]     `json:"header_upstand,omitzero"` // length of the turned-up ends of a header
	Jambs         Rule[[]JambRule] `json:"jambs,omitzero"`          // the first row that fits a door decides its jambs

	OpeningStudLeaf Rule[[]LeafLimit] `json:"opening_stud_leaf,omitzero"` // heaviest leaf on the opening studs of a frame, by its depth
	DoorClear       Rule[Length]      `json:"door_clear,omitzero"`        // least distance of a door's side from the face of a wall that stands beside it
	SteelYield      Rule[float64]     `json:"steel_yield,omitzero"`       // N/mm², of studs and tracks
	HeaderSafety    Rule[float64]     `json:"header_safety,omitzero"`     // what a header carries, times this, stays below its yield
	HeaderSag       Rule[float64]     `json:"header_sag,omitzero"`        // a header's span divided by this is the most it may sag
	PocketExtra     Rule[Length]      `json:"pocket_extra,omitzero"`      // depth of a sliding door's pocket beyond the width of the opening
	PocketHead      Rule[Length]      `json:"pocket_head,omitzero"`       // height of the running gear over a sliding door
	PocketDepth     Rule[Length]      `json:"pocket_depth,omitzero"`      // least depth of a frame that takes a pocket

	BoxApart      Rule[Length]    `json:"box_apart,omitzero"`       // least distance along the wall of boxes on its two faces where sound or fire is asked
	StudHole      Rule[float64]   `json:"stud_hole,omitzero"`       // greatest hole in a stud's web, as a share of its depth
	StudHoleEnd   Rule[Length]    `json:"stud_hole_end,omitzero"`   // least distance of a hole's edge from a stud's end
	StudHoleApart Rule[Length]    `json:"stud_hole_apart,omitzero"` // least distance of the middles of two holes in a stud
	ServiceClear  Rule[Length]    `json:"service_clear,omitzero"`   // left round a pipe that runs along a wall
	AnnularGap    Rule[Length]    `json:"annular_gap,omitzero"`     // widest gap round a service that a fire seal closes by itself
	CollarFrom    Rule[Length]    `json:"collar_from,omitzero"`     // combustible pipes wider than this get a collar
	Fixtures      Rule[[]Fixture] `json:"fixtures,omitzero"`        // where things that are hung on walls need backing

	SteelMethod     Rule[string]         `json:"steel_method,omitzero"`     // standard by which steel is proven: EN1993_1_3 or AISI_S100
	Pressure        Rule[float64]        `json:"pressure,omitzero"`         // Pa on a face, where the plan gives none
	DeflectionLimit Rule[float64]        `json:"deflection_limit,omitzero"` // the height divided by this is the most a wall may deflect
	ScrewSlip       Rule[float64]        `json:"screw_slip,omitzero"`       // N/mm that one screw resists slip of a board with, for the help of boards; 0 leaves that out
	BoardModulus    Rule[float64]        `json:"board_modulus,omitzero"`    // N/mm², modulus of elasticity of boards along their length
	Consoles        Rule[[]ConsoleLimit] `json:"consoles,omitzero"`         // what may be hung on a wall, by its boards
	ConsoleLever    Rule[Length]         `json:"console_lever,omitzero"`    // greatest distance from the face of the load's line of action

	RigidHeadLimit Rule[Length] `json:"rigid_head_limit,omitzero"` // slab deflection above which the head has to slide
	AsBuilt        Rule[Length] `json:"as_built,omitzero"`         // by how much floor, soffit or a face of structure may differ from the plan before walls are set out to what was measured
	HeadTolerance  Rule[Length] `json:"head_tolerance,omitzero"`   // added to the deflection
	HeadStripLap   Rule[Length] `json:"head_strip_lap,omitzero"`   // by how much boards lap the strips packed under the soffit of a sliding head that resists fire
	HeadEngagement Rule[Length] `json:"head_engagement,omitzero"`  // stud left in the head track when the slab is up

	ControlJoint Rule[Length] `json:"control_joint,omitzero"` // longest run without a movement joint

	Bending      Rule[[]BendRule]  `json:"bending,omitzero"`       // how tightly boards bend round curved walls; the first row that fits a board decides
	CurveSpacing Rule[[]CurveRule] `json:"curve_spacing,omitzero"` // stud spacing on the outside of curved walls; the first row that holds the radius decides
	SlitSpacing  Rule[Length]      `json:"slit_spacing,omitzero"`  // greatest distance of the slits that let a track follow a curve

	ClosingLength Rule[Length]   `json:"closing_length,omitzero"`  // of the slim piece between a wall and a facade post narrower than it
	WetFloorGap   Rule[[]Length] `json:"wet_floor_gap,omitzero"`   // that boards leave at the floor of rooms of each water action class, W0-I to W3-I
	WetEdge       Rule[[]Length] `json:"wet_edge,omitzero"`        // height to which the edge of their floor is sealed, by class
	FloorCutSound Rule[int]      `json:"floor_cut_sound,omitzero"` // sound demand in dB from which a screed or raised floor is parted under a wall; 0 for never

	JointGap    Rule[Length] `json:"joint_gap,omitzero"`     // width of a movement joint
	DoorJoint   Rule[string] `json:"door_joint,omitzero"`    // openings that serve as movement joints: DoorJointNone, DoorJointFull or DoorJointCorners
	TeeCutSound Rule[int]    `json:"tee_cut_sound,omitzero"` // sound demand in dB from which a through wall's boards are cut where the wall that has it stands against them; 0 for never

	TwinGap       Rule[Length] `json:"twin_gap,omitzero"`       // between the frames of an independent twin frame that gives no gap
	ServiceGap    Rule[Length] `json:"service_gap,omitzero"`    // between the frames of a braced twin frame that gives no gap
	GussetHeight  Rule[Length] `json:"gusset_height,omitzero"`  // height of the board gussets that tie twin frames
	GussetSpacing Rule[Length] `json:"gusset_spacing,omitzero"` // greatest distance between them up a stud pair

	SpliceLap          Rule[Length]  `json:"splice_lap,omitzero"`           // least lap of the pieces of a stud longer than it is sold
	SpliceDepths       Rule[float64] `json:"splice_depths,omitzero"`        // least lap in times of the stud's depth
	SpliceOpeningStuds Rule[bool]    `json:"splice_opening_studs,omitzero"` // whether the stiff profile beside openings may be spliced

	CrossJointBacking Rule[string] `json:"cross_joint_backing,omitzero"` // what stands behind cross joints: none, nogging or strap
	BackedLayers      Rule[int]    `json:"backed_layers,omitzero"`       // faces of up to this many layers get it, behind their first layer

	PostSpacing     Rule[Length] `json:"post_spacing,omitzero"`     // greatest distance of the stiff posts in a wall whose top stands free; none where 0
	TieBackSpacing  Rule[Length] `json:"tie_back_spacing,omitzero"` // greatest distance of the brackets that hold the free top of a lining
	FurringSpacing  Rule[Length] `json:"furring_spacing,omitzero"`  // greatest distance of furring channels
	FurringBrackets Rule[Length] `json:"furring_brackets,omitzero"` // greatest distance of brackets up a furring channel

	CoatWidths     Rule[[]Length]      `json:"coat_widths,omitzero"`
	CoatThickness  Rule[[]Length]      `json:"coat_thickness,omitzero"` // of each coat, on average over its width
	TaperWidth     Rule[Length]        `json:"taper_width,omitzero"`    // of the tapered edge of one board
	TaperDepth     Rule[Length]        `json:"taper_depth,omitzero"`
	CutBevel       Rule[Length]        `json:"cut_bevel,omitzero"`    // width and depth of the bevel on a cut edge
	ScrewPatch     Rule[Length]        `json:"screw_patch,omitzero"`  // diameter of the coat over a screw head
	UsualFinish    Rule[string]        `json:"usual_finish,omitzero"` // where a build-up gives no surface level
	FinishLevels   Rule[[]FinishLevel] `json:"finish_levels,omitzero"`
	CoatWait       Rule[float64]       `json:"coat_wait,omitzero"`        // hours before the second coat of a quick compound
	SettingWait    Rule[float64]       `json:"setting_wait,omitzero"`     // hours before what comes after a coat of setting compound
	JointMinimum   Rule[float64]       `json:"joint_minimum,omitzero"`    // °C below which joints are not treated
	LiftLimit      Rule[float64]       `json:"lift_limit,omitzero"`       // kg that one person lifts
	OffcutProfile  Rule[Length]        `json:"offcut_profile,omitzero"`   // shortest rest of a bar that is kept for a later zone
	OffcutBoard    Rule[Length]        `json:"offcut_board,omitzero"`     // least side of a rest of a board that is kept
	WasteBoards    Rule[float64]       `json:"waste_boards,omitzero"`     // per cent
	WasteProfiles  Rule[float64]       `json:"waste_profiles,omitzero"`   // per cent
	WasteWool      Rule[float64]       `json:"waste_insulation,omitzero"` // per cent
	WasteCompounds Rule[float64]       `json:"waste_compounds,omitzero"`  // per cent
	WasteScrews    Rule[float64]       `json:"waste_screws,omitzero"`     // per cent

}

// What stands behind cross joints.
const (
	BackingNone    = "none"
	BackingNogging = "nogging" // a piece of track between the studs
	BackingStrap   = "strap"   // flat steel on the studs' flanges
)

// Backings lists what may stand behind cross joints.
func Backings() []string { return []string{BackingNone, BackingNogging, BackingStrap} }

// Jamb is how the studs beside an opening are made.
type Jamb string

// The ways to make a jamb.
const (
	JambBoxed       Jamb = "boxed"        // two studs boxed into each other
	JambOpeningStud Jamb = "opening_stud" // the stiff profile, floor to soffit
)

// Words says how the jamb is made, as a person would.
func (j Jamb) Words() string {
	if j == JambBoxed {
		return "two studs boxed"
	}
	return "opening studs"
}

// JambRule is one row of the jamb rule: doors within all its limits get Jamb.
// A limit of zero means no limit.
type JambRule struct {
	MaxLeaf   float64 `json:"max_leaf,omitempty"` // kg
	MaxWidth  Length  `json:"max_width,omitempty"`
	MaxHeight Length  `json:"max_height,omitempty"` // of the wall
	Sheet     Length  `json:"sheet,omitempty"`      // least thickness of the studs of a boxed jamb; the wall's own studs if left out
	Jamb      Jamb    `json:"jamb"`
	Source    string  `json:"source,omitempty"`
}
