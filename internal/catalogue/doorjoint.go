package catalogue

// Which openings serve as movement joints.
const (
	DoorJointNone    = "none"
	DoorJointFull    = "full_height"  // those that reach up to the soffit
	DoorJointCorners = "head_corners" // and doors, with a joint from both corners of the head to the soffit
)

var doorJoints = []string{DoorJointNone, DoorJointFull, DoorJointCorners}
