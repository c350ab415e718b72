package layout

import (
	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/plan"
)

// Bracket is one angle that holds the foot or head of a stiff stud or the end of a
// stiff header, or one bracket from an upright to the wall behind it.
type Bracket struct {
	Product string     `json:"product,omitempty"` // catalogue id
	Use     string     `json:"use"`               // foot, head, sliding head, header, tie_back or furring
	Line    int        `json:"line"`
	At      geom.Point `json:"at"`
}

// Uses of the brackets that go to the wall behind.
const (
	BracketTie     = "tie_back" // holds the free top of a lining
	BracketFurring = "furring"  // carries a furring channel
)

// Behind reports whether the bracket goes to the wall behind.
func (b *Bracket) Behind() bool { return b.Use == BracketTie || b.Use == BracketFurring }

// bracket adds an angle or bracket.
func (w *wallLayout) bracket(use string, line int, at geom.Point) {
	kind := string(catalogue.OpeningStud)
	if use == "header" || use == BracketTie || use == BracketFurring {
		kind = use
	}
	if p, ok := w.cat.SundryFor(catalogue.KindBracket, kind, w.pr); ok {
		w.out.Brackets = append(w.out.Brackets, Bracket{Product: p.ID, Use: use, Line: line, At: at})
	}
}

// anchorsPerBracket is how many anchors hold an angle to floor or soffit (common
// practice).
const anchorsPerBracket = 2

// holdStiff puts an angle at the foot and at the head of each stiff stud that
// runs from floor to soffit, with its anchors, and at both ends of each stiff
// header. Under a head that slides the angle
// at the head has slots.
func (w *wallLayout) holdStiff() {
	for i := range w.out.Members {
		m := &w.out.Members[i]
		p, ok := w.cat.Profile(m.Product)
		if !ok || p.Kind != catalogue.OpeningStud {
			continue
		}
		if !m.Upright() {
			if i == 0 || !m.Boxed || w.out.Members[i-1].From != m.From { // two that are boxed are held as one
				w.bracket("header", m.Line, m.From)
				w.bracket("header", m.Line, m.To)
			}
			continue
		}
		if m.From.Y == w.out.Base {
			w.bracket("foot", m.Line, m.From)
			w.anchorBracket(m.From, "floor", orElse(w.body.level.Floor, plan.Concrete))
		}
		if w.out.Head.Kind == plan.HeadFree || m.To.Y < w.out.Top.Min(m.From.X-m.Width/2, m.From.X+m.Width/2)-w.studDrop {
			continue
		}
		use := "head"
		if w.out.Head.Gap > 0 {
			use = "sliding head"
		}
		w.bracket(use, m.Line, m.To)
		w.anchorBracket(m.To, "soffit", orElse(w.body.level.Soffit, plan.Concrete))
	}
}

// anchorBracket adds the anchors of one angle.
func (w *wallLayout) anchorBracket(at geom.Point, into, substrate string) {
	p, ok := w.cat.AnchorFor(substrate)
	if !ok {
		if p, ok = w.cat.AnchorFor(plan.Concrete); !ok {
			return
		}
	}
	count := anchorsPerBracket
	if into == "wall behind" {
		count = 1
	}
	w.out.Anchors = append(w.out.Anchors, AnchorRow{Anchor: p.ID, Into: into, From: at, To: at, Count: count})
}
