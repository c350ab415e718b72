package sheets

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// notes is a block of numbered remarks.
type notes struct {
	title string
	lines [][]string // of each remark
	width float64
}

func newNotes(title string, items []string, width float64) *notes {
	n := &notes{title: title, width: width}
	for _, item := range items {
		n.lines = append(n.lines, drawing.Wrap(item, drawing.Small, width-noteIndent, false))
	}
	return n
}

// Sizes of remarks in mm.
const (
	noteHead   = 7.0
	noteIndent = 6.0
	noteGap    = 0.6
)

func (n *notes) size() (float64, float64) {
	h := noteHead
	for _, item := range n.lines {
		h += float64(len(item))*drawing.LineGap*drawing.Small + noteGap
	}
	return n.width, h
}

func (n *notes) draw(s *drawing.Scene, at drawing.Point) {
	l := s.Layer(drawing.Notes)
	l.Add(drawing.Text{At: at.Add(0, drawing.Large), Text: n.title, Height: drawing.Large, Bold: true})
	y := noteHead + drawing.Small
	for i, item := range n.lines {
		l.Add(drawing.Text{At: at.Add(0, y), Text: strconv.Itoa(i + 1), Height: drawing.Small})
		for _, line := range item {
			l.Add(drawing.Text{At: at.Add(noteIndent, y), Text: line, Height: drawing.Small, Max: n.width - noteIndent})
			y += drawing.LineGap * drawing.Small
		}
		y += noteGap
	}
}

// framingNotes says how the frame is built.
func (s *Set) framingNotes(w *layout.Wall) []string {
	var out []string
	out = append(out, "Running dimensions count from the start of the track, to stud centres.")
	out = append(out, choiceNotes(w)...)
	if len(w.Gussets) > 0 {
		out = append(out, "Heights of gussets are those of their middles.")
	}
	if w.Base > 0 {
		out = append(out, fmt.Sprintf("The wall's foot stands %s above the floor; heights are measured from the floor.", s.units.dim(w.Base)))
	}
	if note := s.bracketNote(w); note != "" {
		out = append(out, note)
	}
	out = append(out, s.curveNotes(w)...)
	if note := s.spliceNote(w); note != "" {
		out = append(out, note)
	}
	if seal := s.sealNote(w); seal != "" {
		out = append(out, seal)
	}
	if a := s.anchorNote(w); a != "" {
		out = append(out, a)
	}
	out = append(out, s.headNote(w))
	out = append(out, s.closingNotes(w)...)
	out = append(out, s.footNotes(w)...)
	out = append(out, s.soffitNotes(w)...)
	out = append(out, s.controlNotes(w)...)
	out = append(out, s.jambRules(w)...)
	out = append(out, s.detailNote(w)...)
	return append(out, s.askedNote(w)...)
}

// choiceNotes gives the reasons for which runs are laid out other than plainly.
func choiceNotes(w *layout.Wall) []string {
	var out []string
	for i, c := range w.Choices {
		if !c.Better() {
			continue
		}
		run := "Chosen, "
		if len(w.Choices) > 1 {
			run = fmt.Sprintf("Chosen for part %d, ", i+1)
		}
		out = append(out, run+c.String()+".")
	}
	return out
}

// bracketNote says what holds a lining to the wall behind it, and with how many.
func (s *Set) bracketNote(w *layout.Wall) string {
	n, use, product := 0, "hold the channels to the wall behind", ""
	for _, b := range w.Brackets {
		if b.Use == layout.BracketTie {
			use = "tie the free top to the wall behind"
		}
		if b.Behind() {
			n, product = n+1, b.Product
		}
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%d brackets (%s) %s.", n, s.sundryName(product), use)
}

// spliceNote says how studs longer than their profile is sold are made.
func (s *Set) spliceNote(w *layout.Wall) string {
	i := slices.IndexFunc(w.Members, func(m layout.Member) bool { return m.Lap > 0 })
	if i < 0 {
		return ""
	}
	return fmt.Sprintf("Studs longer than stock are two or more pieces that lap %s (crossed in the drawing), high and low by turns; screw each lap through both flanges at both its ends.", s.units.dim(w.Members[i].Lap))
}

// sourceOf names where a rule comes from.
func sourceOf(source string, status quantity.Status) string {
	if source == "" {
		return string(status)
	}
	if status == quantity.Memory {
		return source + ", from memory"
	}
	return source
}

func (s *Set) sundryName(id string) string {
	if p, ok := s.in.Catalogue.Sundry(id); ok {
		return p.Name
	}
	return id
}

// sealNote says what goes behind the profiles along the structure.
func (s *Set) sealNote(w *layout.Wall) string {
	var names []string
	for _, seal := range w.Seals {
		if seal.Line < 0 {
			continue // between boards
		}
		if n := s.sundryName(seal.Product); !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "Behind every profile along the structure: " + strings.Join(names, "; ") + "."
}

// anchorNote says how profiles are fixed.
func (s *Set) anchorNote(w *layout.Wall) string {
	type key struct{ anchor, into string }
	widest := map[key]Length{}
	var order []key
	for _, a := range w.Anchors {
		k := key{a.Anchor, a.Into}
		if _, ok := widest[k]; !ok {
			order = append(order, k)
		}
		if a.Count > 1 {
			widest[k] = max(widest[k], a.From.Dist(a.To)/Length(a.Count-1))
		}
	}
	var parts []string
	for _, k := range order {
		parts = append(parts, fmt.Sprintf("%s into %s at %s or less", s.sundryName(k.anchor), k.into, s.units.dim(s.pitchUp(widest[k]))))
	}
	if len(parts) == 0 {
		return ""
	}
	return "Fixing: " + strings.Join(parts, "; ") + "."
}

// pitchUp rounds a spacing up to what one reads on a rule.
func (s *Set) pitchUp(l Length) Length {
	step := 50 * quantity.Millimetre
	if s.units.imperial {
		step = 2 * quantity.Inch
	}
	return Length(math.Ceil(float64(l-1)/float64(step))) * step
}

// headNote says how the upper edge of this very wall is made: how far short of
// it studs are cut and where boards stop.
func (s *Set) headNote(w *layout.Wall) string {
	studs, boards := drops(w)
	if p := s.in.Practice; p != nil {
		studs = max(p.StudShortfall.Value, w.Head.Gap) + w.Head.Cap + w.Head.Pack // under a slope, the corner of a stud decides
	}
	short := fmt.Sprintf("studs are cut %s short of the %s", s.units.thin(studs), topOf(w))
	if p := s.in.Practice; p != nil && studs == p.StudShortfall.Value {
		short += " (" + sourceOf(p.StudShortfall.Source, p.StudShortfall.Status) + ")"
	}
	stop := fmt.Sprintf("boards stop %s below it", s.units.thin(boards))
	if boards <= 0 {
		stop = "boards reach up to it"
	}
	if len(w.Faces) > 0 {
		short += ", " + stop
	}
	switch w.Head.Kind {
	case plan.HeadDeflection:
		return "Sliding head: " + short + "; neither is fixed to the head track."
	case plan.HeadFree:
		return fmt.Sprintf("The wall stops below the soffit. Strips %s thick in all close its upper edge, one of each layer: the frame ends beneath them, %s.", s.units.thin(w.Head.Cap), short)
	}
	return "Rigid head: " + short + "."
}

// topOf names what the heights of a wall run up to.
func topOf(w *layout.Wall) string {
	if w.Head.Kind == plan.HeadFree {
		return "upper edge"
	}
	return "soffit"
}

// drops returns how far below the upper edge the studs and the boards of a wall
// end: the least that any full stud and any layer leaves.
func drops(w *layout.Wall) (studs, boards Length) {
	found := false
	for i := range w.Members {
		m := &w.Members[i]
		if d := topAt(w.Top, m.To.X) - m.To.Y; m.Upright() && (!found || d < studs) {
			studs, found = d, true
		}
	}
	found = false
	for i := range w.Faces {
		for _, l := range w.Faces[i].Layers {
			u := (l.Extent.From + l.Extent.To) / 2
			if d := topAt(w.Top, u) - topAt(l.Top, u); !found || d < boards {
				boards, found = d, true
			}
		}
	}
	return studs, boards
}

// jambRules lists why jambs are as they are, each reason once.
func (s *Set) jambRules(w *layout.Wall) []string {
	var out []string
	for _, o := range w.Openings {
		if o.Rule == "" || o.Kind == plan.Penetration {
			continue
		}
		text := upperFirst(s.units.localise(strings.ReplaceAll(o.Rule, "_", " "))) + "."
		if !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// askedNote repeats what the plan asks of the wall.
func (s *Set) askedNote(w *layout.Wall) []string {
	p := s.walls[w.ID]
	if p == nil {
		return nil
	}
	var asked []string
	if r := p.Require.Fire; r != "" {
		asked = append(asked, "fire resistance "+r)
	}
	if r := p.Require.Sound; r != "" {
		asked = append(asked, "sound insulation "+r)
	}
	if r := p.Require.Duty; r != "" {
		asked = append(asked, "duty "+r)
	}
	var out []string
	if len(asked) > 0 {
		text := "Asked of this wall: " + strings.Join(asked, ", ") + "."
		if p.Require.Fire != "" {
			text += " A fire rating rests on test evidence that covers the wall as built."
		}
		out = append(out, text)
	}
	if p.Note != "" {
		out = append(out, p.Note)
	}
	return out
}

// boardNotes says how the boards are put up.
func (s *Set) boardNotes(w *layout.Wall) []string {
	out := []string{"Each face is drawn as seen from its own side: face A runs from right to left."}
	out = append(out, s.bendNotes(w)...)
	out = append(out, s.screwNotes(w)...)
	out = append(out, s.cutNotes(w)...)
	out = append(out, "No joint runs on from an opening's corner; joints are staggered between faces and between layers (common practice).")
	if len(w.Faces) > 0 && len(w.Faces[0].Layers) > 1 {
		out = append(out, "Joints of inner layers are filled without tape; those of the outer layer are taped.")
	}
	if note := s.coatNote(w); note != "" {
		out = append(out, note)
	}
	if heavy := s.heavy(w); heavy != "" {
		out = append(out, heavy)
	}
	return out
}

// screwNotes names the screw of each layer and its spacing.
func (s *Set) screwNotes(w *layout.Wall) []string {
	type key struct {
		screw string
		layer int
	}
	widest := map[key]Length{}
	var order []key
	for _, r := range w.Screws {
		if r.Count < 2 || r.Layer < 0 {
			continue
		}
		k := key{r.Screw, r.Layer}
		if _, ok := widest[k]; !ok {
			order = append(order, k)
		}
		widest[k] = max(widest[k], r.From.Dist(r.To)/Length(r.Count-1))
	}
	slices.SortStableFunc(order, func(a, b key) int { return a.layer - b.layer })
	var out []string
	for _, k := range order {
		name := k.screw
		if p, ok := s.in.Catalogue.Screw(k.screw); ok {
			name = p.Name
		}
		out = append(out, fmt.Sprintf("Layer %d: %s at %s or less along every stud.", k.layer+1, name, s.units.dim(s.pitchUp(widest[k]))))
	}
	return out
}

// Measures rewrites the lengths in mm and masses in kg that a text names in the
// units of the project's drawings.
func (s *Set) Measures(text string) string { return s.units.localise(text) }

// LiftLimit returns the mass that one person lifts, with its unit, and where the
// limit comes from: the practice's, or 25 kg after HSE guidance where no practice
// gives one.
func (s *Set) LiftLimit() (mass, source string) {
	kg, source := s.liftLimit()
	return s.units.mass(kg), source
}

func (s *Set) liftLimit() (kg float64, source string) {
	if p := s.in.Practice; p != nil && p.LiftLimit.Value > 0 {
		return p.LiftLimit.Value, sourceOf(p.LiftLimit.Source, p.LiftLimit.Status)
	}
	return 25, "HSE guidance"
}

// heavy names the pieces that one person shall not lift.
func (s *Set) heavy(w *layout.Wall) string {
	limit, source := s.liftLimit()
	n, worst := 0, 0.0
	for i := range w.Faces {
		for j := range w.Faces[i].Layers {
			for k := range w.Faces[i].Layers[j].Pieces {
				if m := s.mass(&w.Faces[i].Layers[j].Pieces[k]); m > limit {
					n++
					worst = max(worst, m)
				}
			}
		}
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("Two persons lift pieces over %s (%s): %d here, up to %.1f %s.", s.units.mass(limit), source, n,
		s.units.inMass(worst), s.units.massUnit())
}

// column is the width of lists and notes, in mm.
const column = 124.0

// Cautions of the work, for the strip beside the title block.
const (
	frameCautions = "Cut steel has sharp edges: gloves and eye protection. Work at height from a safe platform. Before drilling into floor, soffit or wall, find out about cables and pipes."
	boardCautions = "Cutting and sanding raise silica dust: extract it, wear a mask. Check for live cables before screwing; never screw near marked services."
)

// cautions are those that a kind of sheet shows.
func (s *Set) cautions(what content) string {
	limit, _ := s.liftLimit()
	boards := fmt.Sprintf("Pieces over %s: two persons. ", s.units.mass(limit)) + boardCautions
	switch what {
	case framingSheet:
		return frameCautions
	case boardSheet:
		return boards
	}
	return frameCautions + " " + boards
}

// legend explains the line types of joints.
type legend struct{}

var legendRows = []struct {
	kind layout.JointKind
	text string
}{
	{layout.TaperedJoint, "joint of two tapered edges"},
	{layout.MixedJoint, "joint of a tapered and a cut edge"},
	{layout.CutJoint, "joint of two cut edges"},
	{layout.CrossJoint, "cross joint"},
}

func (legend) size() (float64, float64) { return column, 7 + 4.4*float64(len(legendRows)+1) }

func (legend) draw(s *drawing.Scene, at drawing.Point) {
	l := s.Layer(drawing.Notes)
	l.Add(drawing.Text{At: at.Add(0, drawing.Large), Text: "Lines", Height: drawing.Large, Bold: true})
	y := at.Y + 7 + drawing.Small
	row := func(pen drawing.Pen, text string) {
		l.Add(drawing.Line(drawing.Point{X: at.X, Y: y - drawing.Small/2}, drawing.Point{X: at.X + 18, Y: y - drawing.Small/2}, pen),
			drawing.Text{At: drawing.Point{X: at.X + 21, Y: y}, Text: text, Height: drawing.Small})
		y += 4.4
	}
	for _, r := range legendRows {
		row(jointPen(r.kind), r.text)
	}
	row(drawing.Hidden, "stud behind the boards")
}
