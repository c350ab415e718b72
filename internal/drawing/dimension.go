package drawing

// Axis is the direction in which a dimension measures.
type Axis bool

// The axes.
const (
	AlongX Axis = false
	AlongY Axis = true
)

// pt returns the point at a place along the axis and a place across it.
func (a Axis) pt(along, across float64) Point {
	if a == AlongY {
		return Point{across, along}
	}
	return Point{along, across}
}

// Sizes of dimensions in mm.
const (
	tickHalf  = 1.1 // half the extent of an oblique tick in x and y
	overshoot = 1.0 // of extension lines beyond the dimension line
	textOff   = 0.9 // text above its dimension line
	datumSize = 1.0 // radius of the circle at the origin of running dimensions
	straight  = 1.6 // of a leader before it bends
	bend      = 2.2 // length across in which a leader bends
)

// RowPitch is the least distance of rows of text, in text heights.
const RowPitch = 1.4

// RowReach is how far the texts of a Row start from its line.
const RowReach = straight + bend + 0.6

// Mark is one text of a Row or one point of a Chain.
type Mark struct {
	At   float64 // along the axis
	From float64 // where its extension line starts, across the axis
	Text string
}

// Row writes a text at each of its marks, each on a leader that bends aside
// where the texts would overlap. With Dimension set it is a set of running
// dimensions (ISO 129-1): one line from the origin with a tick at each mark.
type Row struct {
	Axis      Axis
	Line      float64 // across the axis: where leaders start
	Out       float64 // +1 or -1: the side of the texts, across the axis
	Lo, Hi    float64 // where texts may stand, along the axis
	Marks     []Mark  // ascending by At
	Dimension bool
	Origin    float64 // along the axis, for running dimensions
	Continued bool    // the origin lies in another view: no circle there
	Upright   bool    // texts stand across the axis; otherwise they lie along x
	Height    float64
	Extension Pen // of the lines from the object; Hair if zero
}

// widths returns what each text takes up along the axis.
func (r Row) widths() []float64 {
	if r.Upright || r.Axis == AlongY {
		return same(RowPitch*r.Height, len(r.Marks))
	}
	out := make([]float64, len(r.Marks))
	for i, m := range r.Marks {
		out[i] = TextWidth(m.Text, r.Height, false) + 0.6*r.Height
	}
	return out
}

// Strain returns the largest distance that a text has to move aside, and
// whether the texts fit between Lo and Hi.
func (r Row) Strain() (float64, bool) {
	places, ok := Spread(r.at(), r.widths(), r.Lo, r.Hi)
	worst := 0.0
	for i, m := range r.Marks {
		worst = max(worst, places[i]-m.At, m.At-places[i])
	}
	return worst, ok
}

func (r Row) at() []float64 {
	at := make([]float64, len(r.Marks))
	for i, m := range r.Marks {
		at[i] = m.At
	}
	return at
}

// Draw draws the row and returns its texts.
func (r Row) Draw(l *Layer) []Text {
	if len(r.Marks) == 0 {
		return nil
	}
	places, _ := Spread(r.at(), r.widths(), r.Lo, r.Hi)
	if r.Dimension {
		r.drawLine(l)
	}
	var leaders, extensions []Segment
	texts := make([]Text, len(r.Marks))
	for i, m := range r.Marks {
		if m.Text == "" {
			continue
		}
		extensions = append(extensions, Segment{r.Axis.pt(m.At, m.From), r.Axis.pt(m.At, r.Line)})
		knee := r.Line + r.Out*straight
		end := knee + r.Out*bend
		leaders = append(leaders,
			Segment{r.Axis.pt(m.At, r.Line), r.Axis.pt(m.At, knee)},
			Segment{r.Axis.pt(m.At, knee), r.Axis.pt(places[i], end)})
		texts[i] = r.text(m.Text, places[i])
		l.Add(texts[i])
	}
	pen := r.Extension
	if pen == NoPen {
		pen = Hair
	}
	l.Add(Lines{Segments: extensions, Pen: pen}, Lines{Segments: leaders, Pen: Hair})
	return texts
}

// drawLine draws the line of running dimensions with its ticks and origin.
func (r Row) drawLine(l *Layer) {
	lo, hi := r.Origin, r.Origin
	var ticks []Segment
	for _, m := range r.Marks {
		lo, hi = min(lo, m.At), max(hi, m.At)
		if m.At != r.Origin || r.Continued {
			ticks = append(ticks, tick(r.Axis.pt(m.At, r.Line)))
		}
	}
	l.Add(Line(r.Axis.pt(lo, r.Line), r.Axis.pt(hi, r.Line), Thin))
	l.Add(Lines{Segments: ticks, Pen: Outline})
	if r.Continued {
		return
	}
	l.Add(Circle{Centre: r.Axis.pt(r.Origin, r.Line), Radius: datumSize, Pen: Thin, Fill: White})
}

// text places one text at the end of its leader.
func (r Row) text(s string, along float64) Text {
	t := Text{Text: s, Height: r.Height}
	across := r.Line + r.Out*RowReach
	switch {
	case r.Axis == AlongY:
		t.At, t.Align = r.Axis.pt(along, across), Left
		if r.Out < 0 {
			t.Align = Right
		}
		return t.Middle()
	case r.Upright:
		t.At, t.Turn, t.Align = r.Axis.pt(along, across), 90, Left
		if r.Out > 0 {
			t.Align = Right
		}
		return t.Middle()
	}
	t.At, t.Align = r.Axis.pt(along, across), Centre
	if r.Out > 0 {
		t.At.Y += r.Height
	}
	return t
}

// tick returns the oblique stroke that ends a dimension in building drawings.
func tick(p Point) Segment {
	return Segment{p.Add(-tickHalf, tickHalf), p.Add(tickHalf, -tickHalf)}
}

// Chain is a row of dimensions end to end. Texts[i] stands between Marks[i] and
// Marks[i+1]; an empty one is left out.
type Chain struct {
	Axis   Axis
	Line   float64 // across the axis
	Marks  []Mark
	Texts  []string
	Lo, Hi float64 // where texts may stand that do not fit their place
	Height float64
}

// Depth returns how far the chain's texts reach from its line: towards smaller
// and towards larger places across the axis.
func (c Chain) Depth() (before, after float64) {
	before = textOff + 1.1*c.Height
	if len(c.tight()) > 0 {
		after = textOff + bend + 1.2*c.Height
	}
	return before, max(after, tickHalf)
}

// Need returns the room along the axis that the texts take up together which do
// not fit between their ticks.
func (c Chain) Need() float64 {
	sum := 0.0
	for _, i := range c.tight() {
		sum += c.width(i)
	}
	return sum
}

// width returns what a text that stands aside takes up along the axis.
func (c Chain) width(i int) float64 { return TextWidth(c.Texts[i], c.Height, false) + 0.6*c.Height }

// tight lists the dimensions whose texts do not fit between their ticks.
func (c Chain) tight() []int {
	var out []int
	for i, s := range c.Texts {
		room := c.Marks[i+1].At - c.Marks[i].At
		if s != "" && TextWidth(s, c.Height, false) > max(room, -room)-0.8 {
			out = append(out, i)
		}
	}
	return out
}

// Draw draws the chain and returns its texts. Texts that do not fit between
// their ticks go to the other side of the line, side by side, each with a
// leader.
func (c Chain) Draw(l *Layer) []Text {
	if len(c.Marks) < 2 {
		return nil
	}
	var ext, ticks []Segment
	for _, m := range c.Marks {
		ticks = append(ticks, tick(c.Axis.pt(m.At, c.Line)))
		end := c.Line + overshoot
		if m.From > c.Line {
			end = c.Line - overshoot
		}
		ext = append(ext, Segment{c.Axis.pt(m.At, m.From), c.Axis.pt(m.At, end)})
	}
	first, last := c.Marks[0].At, c.Marks[len(c.Marks)-1].At
	l.Add(Lines{Segments: ext, Pen: Hair})
	l.Add(Line(c.Axis.pt(first, c.Line), c.Axis.pt(last, c.Line), Thin))
	l.Add(Lines{Segments: ticks, Pen: Outline})
	return c.drawTexts(l)
}

func (c Chain) drawTexts(l *Layer) []Text {
	tight := c.tight()
	isTight := make([]bool, len(c.Texts))
	at, widths := make([]float64, len(tight)), make([]float64, len(tight))
	for n, i := range tight {
		isTight[i] = true
		at[n] = c.middle(i)
		widths[n] = c.width(i)
	}
	var texts []Text
	for i, s := range c.Texts {
		if s != "" && !isTight[i] {
			t := c.text(s, c.middle(i), c.Line-textOff)
			t.Max = max(c.Marks[i+1].At-c.Marks[i].At, c.Marks[i].At-c.Marks[i+1].At)
			texts = append(texts, t)
		}
	}
	places, _ := Spread(at, widths, c.Lo, c.Hi)
	var leaders []Segment
	for n, i := range tight {
		leaders = append(leaders, Segment{c.Axis.pt(at[n], c.Line), c.Axis.pt(places[n], c.Line+textOff+bend-0.4)})
		texts = append(texts, c.text(c.Texts[i], places[n], c.Line+textOff+bend+c.Height))
	}
	l.Add(Lines{Segments: leaders, Pen: Hair})
	for _, t := range texts {
		l.Add(t)
	}
	return texts
}

func (c Chain) middle(i int) float64 { return (c.Marks[i].At + c.Marks[i+1].At) / 2 }

// text returns a text with its base line at the given place across the axis.
func (c Chain) text(s string, along, across float64) Text {
	t := Text{At: c.Axis.pt(along, across), Text: s, Height: c.Height, Align: Centre}
	if c.Axis == AlongY {
		t.Turn = 90
	}
	return t
}
