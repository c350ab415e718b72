package dxf

// Sign is one thing that speaks for what was recognised, by a word that the page has
// a text for.
type Sign string

// The signs.
const (
	Pair        Sign = "pair"         // two parallel lines
	Arcs        Sign = "arcs"         // two arcs about one centre
	Named       Sign = "named"        // they lie on layers of walls
	Pure        Sign = "pure"         // they lie on layers that hold little else than walls
	Usual       Sign = "usual"        // a thickness that the drawing has much of
	Filled      Sign = "filled"       // a hatch between
	Joined      Sign = "joined"       // an end meets another wall
	JoinedTwice Sign = "joined_twice" // so does the other
	Long        Sign = "long"         // much longer than thick
	Swing       Sign = "swing"        // the arc of a leaf fits an opening
	DoorLayer   Sign = "door_layer"   // lines of a door in it
	WindowLayer Sign = "window_layer" // lines of a window in it
	Glazed      Sign = "glazed"       // lines along it within the wall
	Sliding     Sign = "sliding"      // likewise, with walls on both its sides
	Capped      Sign = "capped"       // both jambs are drawn
	GoesOn      Sign = "goes_on"      // the wall goes on behind it
	ColumnLayer Sign = "column_layer" // an outline on a layer of columns
	Compact     Sign = "compact"      // a compact filled outline
	Hanging     Sign = "hanging"      // lines that hang together on a layer of columns
	Outlined    Sign = "outlined"     // the drawing outlines a room
	Enclosed    Sign = "enclosed"     // walls enclose a room
	Words       Sign = "words"        // words stand in it
)
