package drawing

import "strconv"

// Size is a trimmed sheet size in mm.
type Size struct {
	Name          string
	Width, Height float64
}

// Trimmed sizes of ISO 216 as ISO 5457 uses them: A4 upright, the others lying.
var (
	A0 = Size{"A0", 1189, 841}
	A1 = Size{"A1", 841, 594}
	A2 = Size{"A2", 594, 420}
	A3 = Size{"A3", 420, 297}
	A4 = Size{"A4", 210, 297}
)

// Borders of ISO 5457 in mm.
const (
	filingMargin = 20.0 // left
	margin       = 10.0
	gridBand     = 5.0 // band of grid references around the drawing space
	gridField    = 50.0
	centring     = 2.5 // reach of centring marks into the drawing space
)

// TitleWidth is the greatest width of a title block (ISO 7200).
const TitleWidth = 180.0

// TitleHeight is the height of the title block and of the strip of notes that
// stands to its left.
const TitleHeight = 34.0

// Space returns the drawing space inside the sheet's frame.
func (s Size) Space() Rect {
	return Rect{Point{filingMargin, margin}, Point{s.Width - margin, s.Height - margin}}
}

// Field returns the part of the drawing space that the title block and the
// notes beside it leave free, with a little air along the frame.
func (s Size) Field() Rect {
	r := s.Space()
	r.Max.Y -= TitleHeight
	return r.Inset(3)
}

// TitleBlock is what the title block says (ISO 7200). Empty fields that are
// not needed everywhere are left out.
type TitleBlock struct {
	Project  string
	Number   string // of the project
	Title    string
	Subtitle string
	Drawing  string // drawing number
	Kind     string // kind of document
	Scale    string
	Revision string
	Date     string
	Sheet    int
	Sheets   int
}

// Finish draws the sheet's frame and title block, and the notes to the left of
// the block. Notes that do not fit there are cut short, so keep them few; bold
// is for the caution and comes first.
func Finish(s *Scene, b TitleBlock, caution string, notes []string) {
	l := s.Layer(Border)
	drawFrame(l, s.Size)
	space := s.Size.Space()
	width := min(TitleWidth, space.Width())
	block := NewRect(space.Max.X-width, space.Max.Y-TitleHeight, width, TitleHeight)
	drawTitle(l, block, b, s.Size.Name)
	l.Add(Line(Point{space.Min.X, block.Min.Y}, Point{block.Min.X, block.Min.Y}, Outline))
	if beside := block.Min.X - space.Min.X; beside > 40 {
		drawNotes(l, NewRect(space.Min.X, block.Min.Y, beside, TitleHeight).Inset(3), caution, notes)
	}
}

// drawFrame draws the frame, the centring marks and the grid references.
func drawFrame(l *Layer, size Size) {
	in := size.Space()
	out := Rect{in.Min.Add(-gridBand, -gridBand), in.Max.Add(gridBand, gridBand)}
	l.Add(Box(out, Thin, NoFill), Box(in, Pen{Weight: W70}, NoFill))
	c := in.Centre()
	l.Add(Lines{Pen: Pen{Weight: W70}, Segments: []Segment{
		{Point{c.X, out.Min.Y}, Point{c.X, in.Min.Y + centring}},
		{Point{c.X, out.Max.Y}, Point{c.X, in.Max.Y}},
		{Point{out.Min.X, c.Y}, Point{in.Min.X + centring, c.Y}},
		{Point{out.Max.X, c.Y}, Point{in.Max.X - centring, c.Y}},
	}})
	var ticks []Segment
	across := fields(in.Min.X, in.Max.X)
	for i, x := range across {
		if i > 0 && i < len(across)-1 {
			ticks = append(ticks, Segment{Point{x, out.Min.Y}, Point{x, in.Min.Y}}, Segment{Point{x, in.Max.Y}, Point{x, out.Max.Y}})
		}
		if i+1 < len(across) {
			gridText(l, strconv.Itoa(i+1), (x+across[i+1])/2, (out.Min.Y+in.Min.Y)/2, (in.Max.Y+out.Max.Y)/2, true)
		}
	}
	down := fields(in.Min.Y, in.Max.Y)
	for i, y := range down {
		if i > 0 && i < len(down)-1 {
			ticks = append(ticks, Segment{Point{out.Min.X, y}, Point{in.Min.X, y}}, Segment{Point{in.Max.X, y}, Point{out.Max.X, y}})
		}
		if i+1 < len(down) {
			gridText(l, gridLetter(i), (y+down[i+1])/2, (out.Min.X+in.Min.X)/2, (in.Max.X+out.Max.X)/2, false)
		}
	}
	l.Add(Lines{Segments: ticks, Pen: Thin})
}

// fields divides a side into grid fields that are counted out from its middle.
func fields(lo, hi float64) []float64 {
	mid := (lo + hi) / 2
	n := int((hi - lo) / 2 / gridField)
	out := []float64{lo}
	for i := -n; i <= n; i++ {
		x := mid + float64(i)*gridField
		if x-lo > gridField/4 && hi-x > gridField/4 {
			out = append(out, x)
		}
	}
	return append(out, hi)
}

// gridLetter leaves out I and O (ISO 5457).
func gridLetter(i int) string {
	const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	return letters[i%len(letters) : i%len(letters)+1]
}

// gridText writes a grid reference on both opposite sides.
func gridText(l *Layer, s string, along, first, second float64, horizontal bool) {
	for _, across := range []float64{first, second} {
		p := Point{across, along}
		if horizontal {
			p = Point{along, across}
		}
		l.Add(Text{At: p, Text: s, Height: Small, Align: Centre}.Middle())
	}
}

// cell is one field of the title block.
type cell struct {
	label, value string
	width        float64
	bold         bool
}

// drawTitle draws the title block's three rows.
func drawTitle(l *Layer, r Rect, b TitleBlock, size string) {
	l.Add(Box(r, Outline, NoFill))
	k := r.Width() / TitleWidth
	dateWidth := 0.0
	if b.Date != "" {
		dateWidth = 34 * k
	}
	right := 26*k + dateWidth
	rows := [][]cell{
		{
			{label: "Project", value: b.Project, width: r.Width() - right - 34*k},
			{label: "Project no.", value: b.Number, width: 34 * k},
			{label: "Revision", value: b.Revision, width: 26 * k},
			{label: "Date", value: b.Date, width: dateWidth},
		},
		{
			{label: "Title", value: b.Title, width: r.Width() - 34*k, bold: true},
			{label: "Scale", value: b.Scale, width: 34 * k},
		},
		{
			{label: "Drawing no.", value: b.Drawing, width: 66 * k, bold: true},
			{label: "Kind", value: b.Kind, width: r.Width() - 66*k - 22*k - 34*k},
			{label: "Size", value: size, width: 22 * k},
			{label: "Sheet", value: sheetOf(b), width: 34 * k},
		},
	}
	h := r.Height() / float64(len(rows))
	for i, row := range rows {
		y := r.Min.Y + float64(i)*h
		if i > 0 {
			l.Add(Line(Point{r.Min.X, y}, Point{r.Max.X, y}, Thin))
		}
		x := r.Min.X
		for j, c := range row {
			if c.width <= 0 {
				continue
			}
			if j > 0 {
				l.Add(Line(Point{x, y}, Point{x, y + h}, Thin))
			}
			drawCell(l, c, x, y, h)
			x += c.width
		}
	}
	if b.Subtitle != "" {
		w := TextWidth("Title", Small, false)
		l.Add(Text{At: Point{r.Min.X + 1.5 + w + 4, r.Min.Y + h + 1.2 + Small}, Text: b.Subtitle, Height: Small,
			Max: r.Width() - 34*k - w - 8, Grey: 0.3})
	}
}

func drawCell(l *Layer, c cell, x, y, h float64) {
	l.Add(Text{At: Point{x + 1.5, y + 1.2 + Small}, Text: c.label, Height: Small, Grey: 0.45, Max: c.width - 3})
	if c.value != "" {
		l.Add(Text{At: Point{x + 1.5, y + h - 2}, Text: c.value, Height: Large, Bold: c.bold, Max: c.width - 3})
	}
}

func sheetOf(b TitleBlock) string {
	if b.Sheets == 0 {
		return ""
	}
	return strconv.Itoa(b.Sheet) + " of " + strconv.Itoa(b.Sheets)
}

// drawNotes writes the caution in bold and the notes below it.
func drawNotes(l *Layer, r Rect, caution string, notes []string) {
	y := r.Min.Y + Small
	line := func(s string, bold bool) {
		if y > r.Max.Y+0.01 {
			return
		}
		l.Add(Text{At: Point{r.Min.X, y}, Text: s, Height: Small, Bold: bold, Max: r.Width()})
		y += LineGap * Small
	}
	for _, s := range Wrap(caution, Small, r.Width(), true) {
		line(s, true)
	}
	for _, n := range notes {
		for _, s := range Wrap(n, Small, r.Width(), false) {
			line(s, false)
		}
	}
}
