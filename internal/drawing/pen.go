package drawing

// Weight is the width of a line in millimetres, from the series of ISO 128-2.
// The zero weight draws no line.
type Weight float64

// The line weights.
const (
	W13 Weight = 0.13
	W18 Weight = 0.18
	W25 Weight = 0.25
	W35 Weight = 0.35
	W50 Weight = 0.5
	W70 Weight = 0.7
)

// Grey is how light a line or text is: 0 black, 1 white.
type Grey float64

// Dash is a line type of ISO 128-2; its number in the standard is given.
type Dash int

// The line types.
const (
	Continuous       Dash = iota // 01
	Dashed                       // 02
	LongDashDot                  // 04 long dash, dot
	LongDashTwoDots              // 05 long dash, two dots
	Dotted                       // 07
	LongDashShort                // 08 long dash, short dash
	LongDashTwoShort             // 09 long dash, two short dashes
)

// patterns are dashes and gaps in multiples of the line's weight
// (ISO 128-2: dot up to 0.5, gap 3, short dash 6, dash 12, long dash 24).
var patterns = [...][]float64{
	Dashed:           {12, 3},
	LongDashDot:      {24, 3, 0.5, 3},
	LongDashTwoDots:  {24, 3, 0.5, 3, 0.5, 3},
	Dotted:           {0.5, 3},
	LongDashShort:    {24, 3, 6, 3},
	LongDashTwoShort: {24, 3, 6, 3, 6, 3},
}

// Pen is how a line is drawn.
type Pen struct {
	Weight Weight
	Dash   Dash
	Grey   Grey
}

// Pattern returns the lengths of dashes and gaps in millimetres; nil for a
// continuous line.
func (p Pen) Pattern() []float64 {
	if p.Dash <= Continuous || int(p.Dash) >= len(patterns) {
		return nil
	}
	out := make([]float64, len(patterns[p.Dash]))
	for i, m := range patterns[p.Dash] {
		out[i] = m * float64(p.Weight)
	}
	return out
}

// Pens of building drawings (ISO 128-2 gives the series; which line gets which
// weight is common practice).
var (
	NoPen   = Pen{}
	Cut     = Pen{Weight: W50}                          // what the section plane cuts
	Outline = Pen{Weight: W35}                          // visible outlines
	Medium  = Pen{Weight: W25}                          // lesser outlines
	Thin    = Pen{Weight: W18}                          // dimensions, leaders, hatching
	Hair    = Pen{Weight: W13, Grey: 0.35}              // extension lines, table rules
	Hidden  = Pen{Weight: W18, Dash: Dashed, Grey: 0.3} // what lies behind
	// Joints of boards. Their patterns have no dots, which a print reduced to A4
	// loses.
	MixedJoint = Pen{Weight: W35, Dash: LongDashShort}
	CutJoint   = Pen{Weight: W35, Dash: Dashed}
	CrossJoint = Pen{Weight: W35, Dash: LongDashTwoShort}
	CentreLine = Pen{Weight: W18, Dash: LongDashDot}
)

// Fill is how an outline is filled.
type Fill struct {
	On   bool
	Grey Grey
}

// Fills.
var (
	NoFill = Fill{}
	White  = Fill{On: true, Grey: 1}
	Black  = Fill{On: true}
)

// Tint returns a grey fill.
func Tint(g Grey) Fill { return Fill{On: true, Grey: g} }
