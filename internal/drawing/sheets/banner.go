package sheets

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/words"
)

// wrong returns the errors and warnings about a wall and its openings, each
// once.
func (s *Set) wrong(w *layout.Wall) finding.List {
	var list finding.List
	for _, f := range w.Findings {
		if f.Severity.NeedsPerson() {
			list = append(list, f)
		}
	}
	list = append(list, s.found[w.ID]...)
	for _, o := range w.Openings {
		list = append(list, s.found[o.ID]...)
	}
	if p := s.walls[w.ID]; p != nil {
		for _, o := range p.Openings {
			if o.ID != "" {
				list = append(list, s.found[o.ID]...)
			}
		}
	}
	var once finding.List
	for _, f := range list {
		same := func(o finding.Finding) bool { return o.Object == f.Object && o.What.String() == f.What.String() }
		if !slices.ContainsFunc(once, same) {
			once = append(once, f)
		}
	}
	return once
}

// wrong returns what keeps a level from being set out: errors of walls that could
// not be laid out, and which of the others have findings on their own sheets.
func (l *site) wrong() finding.List {
	var list finding.List
	laid := map[string]bool{}
	var marked []string
	for _, w := range l.walls {
		laid[w.ID] = true
		if len(l.set.wrong(w)) > 0 {
			marked = append(marked, w.ID)
		}
	}
	if len(marked) > 0 {
		list.Add(finding.Finding{Object: "walls with findings on their own sheets", What: words.Of(strings.Join(marked, ", "))})
	}
	for _, w := range l.set.in.Plan.Walls {
		if w.Level == l.level.ID && !laid[w.ID] {
			list = append(list, l.set.found[w.ID]...)
		}
	}
	return list
}

// banner runs across the top of a sheet and says what is wrong with what it
// shows.
type banner struct {
	title string
	lines []string
	width float64
}

// mostWrong is how many findings a banner tells in full.
const mostWrong = 5

// newBanner returns the banner of some findings; nil if there are none.
func (s *Set) newBanner(list finding.List, width float64) *banner {
	if len(list) == 0 {
		return nil
	}
	b := &banner{title: "Not for building until mended:", width: width}
	for i, f := range list {
		text := f.Object + ": " + f.What.String()
		if f.Fix != "" {
			text += "; what would work: " + f.Fix.String()
		}
		if i == mostWrong && len(list) > mostWrong+1 {
			text = fmt.Sprintf("and %d more, in the list of findings", len(list)-mostWrong)
		}
		b.lines = append(b.lines, drawing.Wrap("– "+s.units.localise(text), drawing.Small, width-2*bannerPad, true)...)
		if i == mostWrong {
			break
		}
	}
	return b
}

// Sizes of a banner in mm.
const (
	bannerPad  = 2.0
	bannerHead = 5.6
)

func (b *banner) size() (float64, float64) {
	return b.width, 2*bannerPad + bannerHead + float64(len(b.lines))*drawing.LineGap*drawing.Small
}

func (b *banner) draw(s *drawing.Scene, at drawing.Point) {
	w, h := b.size()
	l := s.Layer(drawing.Notes)
	l.Add(drawing.Box(drawing.NewRect(at.X, at.Y, w, h), drawing.Pen{Weight: drawing.W70}, drawing.Tint(0.92)),
		drawing.Text{At: at.Add(bannerPad, bannerPad+drawing.Large), Text: b.title, Height: drawing.Large, Bold: true})
	for i, line := range b.lines {
		y := bannerPad + bannerHead + drawing.Small + float64(i)*drawing.LineGap*drawing.Small
		l.Add(drawing.Text{At: at.Add(bannerPad, y), Text: line, Height: drawing.Small, Bold: true, Max: w - 2*bannerPad})
	}
}
