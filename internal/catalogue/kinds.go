package catalogue

// The kinds of sundry that the shipped catalogue uses.
const (
	KindAnchor    = "anchor"      // for a substrate
	KindSealTape  = "seal_tape"   // behind profiles, for the size of the frame
	KindSealant   = "sealant"     // for acoustic or fire
	KindStrip     = "strip"       // isolating strip between frames or against structure
	KindJointTape = "joint_tape"  // for kinds of joint
	KindFiller    = "filler"      // joint compound for kinds of joint and for skim coats
	KindPaint     = "paint"       // for faces as boarded or skimmed
	KindBead      = "bead"        // for outer_corner, edge or control_joint
	KindGusset    = "gusset"      // board strips that tie twin frames
	KindEdgeTape  = "edge_tape"   // along the edge of floors, for a water action class
	KindPlate     = "plate"       // steel strips that carry tracks across the flutes of metal decks
	KindBracket   = "bracket"     // angles that hold opening studs and stiff headers
	KindBoxLining = "box_lining"  // round boxes, for sound or fire
	KindPocket    = "pocket"      // frames of sliding doors
	KindFireStop  = "fire_stop"   // round services: collar, sleeve, damper or cable
	KindSteel     = "steel_screw" // screws of steel to steel, by use
)

// The points of screws.
const (
	SharpPoint = "sharp"
	DrillPoint = "drill"
)

// How compounds harden (EN 13963).
const (
	HardensSetting = "setting" // type B
	HardensDrying  = "drying"  // type A
)
