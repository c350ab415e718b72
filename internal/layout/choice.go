package layout

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// bothFaces lists the faces in the order in which they are boarded.
var bothFaces = [...]plan.Face{plan.FaceA, plan.FaceB}

// variant is one right way to lay out a run: from where the stud module and the
// full boards count, and on which face a starter makes the joints stagger.
type variant struct {
	from   string // start, end or middle
	module Length // u from which studs and boards count
	swap   bool   // face A begins with the starter instead of face B

	// What only somebody outside asks for, as of Way.
	starter int
	sheet   Length
	flip    bool
}

// Tally is what a way to lay out a run takes.
type Tally struct {
	Breaches  int    `json:"breaches,omitempty"` // joints and boxes that break a rule because no other place was to be had
	Slivers   int    `json:"slivers,omitempty"`  // pieces narrower than the practice's least piece
	Pieces    int    `json:"pieces"`
	Screws    int    `json:"screws"`
	Members   int    `json:"members"`
	Narrowest Length `json:"narrowest"` // piece
}

// Choice is why a run is laid out as it is: what the chosen way takes, and what
// the plain one would, which counts from the start and puts the starter on face B.
type Choice struct {
	Module    string `json:"module"`  // the end of the run from which studs and boards count: start, end or middle
	Starter   string `json:"starter"` // the face whose first layer begins with the starter
	Tried     int    `json:"tried"`   // ways that were compared
	Chosen    Tally  `json:"chosen"`
	Plain     Tally  `json:"plain"`
	ForBoards *Way   `json:"for_boards,omitempty"` // asked for outside, so that fewer boards are bought
}

// Better reports whether the choice is another than the plain way.
func (c Choice) Better() bool { return c.ForBoards != nil || c.Module != fromStart || c.Starter != "B" }

// String gives the reason in a line, such as "module from end: 14 pieces instead
// of 15, narrowest 312 instead of 180 mm".
func (c Choice) String() string {
	if c.ForBoards != nil {
		return c.ForBoards.String() + ": fewer boards are bought for the zone, and the wall takes no more of anything"
	}
	text := "module from " + c.Module
	if c.Starter != "B" {
		text += ", starter on face " + c.Starter
	}
	if !c.Better() {
		return fmt.Sprintf("%s: none of %d ways needs fewer pieces or screws", text, c.Tried)
	}
	var gains []string
	gain := func(was, is int, what string) {
		if was != is {
			gains = append(gains, fmt.Sprintf("%d %s instead of %d", is, what, was))
		}
	}
	gain(c.Plain.Breaches, c.Chosen.Breaches, "breaches of a rule")
	gain(c.Plain.Slivers, c.Chosen.Slivers, "narrow pieces")
	gain(c.Plain.Pieces, c.Chosen.Pieces, "pieces")
	gain(c.Plain.Screws, c.Chosen.Screws, "screws")
	gain(c.Plain.Members, c.Chosen.Members, "steel parts")
	if c.Plain.Narrowest != c.Chosen.Narrowest {
		gains = append(gains, fmt.Sprintf("narrowest %s instead of %s mm", mm(c.Chosen.Narrowest), mm(c.Plain.Narrowest)))
	}
	return text + ": " + strings.Join(gains, ", ")
}

// compare orders tallies, the better first: no breach of a rule, no piece
// under the minimum, then fewest pieces, screws and steel parts, and of equal
// ones the widest narrowest piece.
func (t Tally) compare(o Tally) int {
	return cmp.Or(
		cmp.Compare(t.Breaches, o.Breaches), cmp.Compare(t.Slivers, o.Slivers), cmp.Compare(t.Pieces, o.Pieces),
		cmp.Compare(t.Screws, o.Screws), cmp.Compare(t.Members, o.Members), cmp.Compare(o.Narrowest, t.Narrowest),
	)
}

// saves reports whether a layout is worth leaving the plain way for: it breaks
// fewer rules, or it takes fewer pieces or screws and no more of anything. It
// never takes more pieces.
func (t Tally) saves(plain Tally) bool {
	if t.Pieces > plain.Pieces {
		return false
	}
	if c := cmp.Or(cmp.Compare(t.Breaches, plain.Breaches), cmp.Compare(t.Slivers, plain.Slivers)); c != 0 {
		return c < 0
	}
	fewer := t.Pieces < plain.Pieces || t.Screws < plain.Screws
	return fewer && t.Screws <= plain.Screws && t.Members <= plain.Members
}

// Where a module counts from.
const (
	fromStart  = "start"
	fromEnd    = "end"
	fromMiddle = "middle"
)

// variants lists the ways to lay out a run, the plain one first.
func (w *wallLayout) variants(r run) []variant {
	start, end := w.outermost(r)
	list := []variant{{from: fromStart, module: start}}
	step := moduleStep(w.spec)
	if step == 0 {
		return list
	}
	centred := middleModule(start, end, step)
	for _, m := range []variant{{from: fromEnd, module: endModule(start, end, step)}, {from: fromMiddle, module: centred}, {from: fromMiddle, module: centred - step/2}} {
		if !slices.ContainsFunc(list, func(v variant) bool { return (v.module-m.module)%step == 0 }) {
			list = append(list, m)
		}
	}
	for _, v := range list {
		v.swap = true
		list = append(list, v)
	}
	return list
}

// endModule and middleModule return from where a module of a step counts so that a
// board ends at the end, and that one stands in the middle.
func endModule(start, end, step Length) Length { return start - (step-(end-start)%step)%step }

func middleModule(start, end, step Length) Length {
	return start - (step-((end-start)/2)%step)%step
}

// moduleStep is the width by which studs and full boards repeat: that of the
// boards if it is a whole number of stud spacings.
func moduleStep(spec *buildup.BuildUp) Length {
	boards := spec.A
	if len(boards) == 0 {
		boards = spec.B
	}
	if len(boards) == 0 || spec.Spacing <= 0 || boards[0].Width%spec.Spacing != 0 {
		return 0
	}
	return boards[0].Width
}

// outermost returns the outermost start and end of a run's frame and board
// layers. From the start the plain module counts, so that no first piece is wider
// than a board.
func (w *wallLayout) outermost(r run) (start, end Length) {
	e := r.frameExtent(0, 0)
	for _, f := range bothFaces {
		for k := range w.spec.Boards(f) {
			l := r.layerExtent(f, k)
			e.From, e.To = min(e.From, l.From), max(e.To, l.To)
		}
	}
	return e.From, e.To
}

// layRun frames and boards a run in the way that takes least. Of every way the
// frame is set and the joints are chosen; the most promising is then laid out
// beside the plain one, and stands if it keeps its promise.
func (w *wallLayout) layRun(r run) {
	r.from, r.to = r.from.remembered(), r.to.remembered()
	before := w.mark()
	list := w.variants(r)
	best := w.promising(r, list, before)
	w.reset(before)
	plain := w.lay(r, list[0], before)
	chosen, stands := plain, best != list[0]
	if stands {
		w.reset(before)
		chosen = w.lay(r, best, before)
		if stands = chosen.tally.saves(plain.tally); !stands {
			w.reset(before)
			chosen, best = w.lay(r, list[0], before), list[0]
		}
	}
	choice := Choice{Module: best.from, Starter: best.starts(), Tried: len(list), Chosen: chosen.tally, Plain: plain.tally}
	if w.wanted != (Way{}) {
		w.reset(before)
		if other := w.lay(r, w.variantOf(r, w.wanted), before); other.tally.asRight(chosen.tally) {
			choice.Module, choice.Starter, choice.ForBoards, choice.Chosen = w.wanted.From, w.way.starts(), &w.wanted, other.tally
			chosen = other
		} else {
			w.reset(before)
			chosen = w.lay(r, best, before)
		}
	}
	w.out.Choices = append(w.out.Choices, choice)
	w.fillRun(r, chosen.lines)
}

// promising returns the way that takes least by its sketch, or the plain one, the
// first, if none saves anything.
func (w *wallLayout) promising(r run, list []variant, before mark) variant {
	best := list[0]
	if len(list) == 1 {
		return best
	}
	var plain, least Tally
	for i, v := range list[:len(list)/2] {
		w.reset(before)
		lines := w.frameRun(r, v.module)
		framed := w.mark()
		for _, v := range []variant{v, list[len(list)/2+i]} { // the same studs, the starter on either face
			w.reset(framed)
			w.way = v
			t := w.sketch(w.planLayers(r, v.module, lines), before)
			if v == list[0] {
				plain, least = t, t
			} else if t.saves(plain) && t.compare(least) < 0 {
				best, least = v, t
			}
		}
	}
	return best
}

func (v variant) starts() string {
	if v.swap {
		return "A"
	}
	return "B"
}

// laid is a run as laid out in one way.
type laid struct {
	lines []int
	tally Tally
}

// lay frames and boards a run in one way.
func (w *wallLayout) lay(r run, v variant, before mark) laid {
	w.way = v
	lines := w.frameRun(r, v.module)
	w.boardRun(w.planLayers(r, v.module, lines))
	return laid{lines, w.tally(before)}
}

// sketch tells what a run would take from its frame and joints, without cutting a
// piece: each column of a layer counts as one piece, each upright and each joint
// as a row of screws.
func (w *wallLayout) sketch(plans []*layerPlan, before mark) Tally {
	t := Tally{Members: len(w.out.Members) - before.members, Breaches: w.breaches(before)}
	for _, l := range plans {
		t.Pieces += len(l.cuts) - 1
		t.Screws += len(l.cuts) - 2
		for i := 1; i < len(l.cuts); i++ {
			t.widen(l.cuts[i]-l.cuts[i-1], w.pr.MinPiece.Value)
		}
	}
	for i := before.members; i < len(w.out.Members); i++ {
		if w.out.Members[i].Upright() {
			t.Screws++
		}
	}
	return t
}

// widen counts one more piece of a width.
func (t *Tally) widen(width, least Length) {
	if width < least-quantity.Millimetre {
		t.Slivers++
	}
	if t.Narrowest == 0 || width < t.Narrowest {
		t.Narrowest = width
	}
}

// mark is how far a wall's lists had grown before a run.
type mark struct {
	lines, members, joints, screws, findings int
	pieces                                   [2][]int
	framed                                   []bool
}

func (w *wallLayout) mark() mark {
	m := mark{
		lines: len(w.out.FrameLines), members: len(w.out.Members), joints: len(w.out.Joints),
		screws: len(w.out.Screws), findings: len(w.out.Findings),
	}
	for i := range w.out.Faces {
		for k := range w.out.Faces[i].Layers {
			m.pieces[i] = append(m.pieces[i], len(w.out.Faces[i].Layers[k].Pieces))
		}
	}
	for i := range w.out.Openings {
		m.framed = append(m.framed, w.out.Openings[i].framed)
	}
	return m
}

// reset takes back what was laid out since the mark.
func (w *wallLayout) reset(m mark) {
	w.out.FrameLines, w.out.Members, w.out.Joints = w.out.FrameLines[:m.lines], w.out.Members[:m.members], w.out.Joints[:m.joints]
	w.out.Screws, w.out.Findings = w.out.Screws[:m.screws], w.out.Findings[:m.findings]
	for i := range w.out.Faces {
		for k := range w.out.Faces[i].Layers {
			l := &w.out.Faces[i].Layers[k]
			l.Pieces = l.Pieces[:m.pieces[i][k]]
		}
	}
	for i := range w.out.Openings {
		w.out.Openings[i].framed = m.framed[i]
	}
}

// tally counts what was laid out since the mark.
func (w *wallLayout) tally(m mark) Tally {
	t := Tally{Members: len(w.out.Members) - m.members, Breaches: w.breaches(m)}
	for i := range w.out.Faces {
		for k := range w.out.Faces[i].Layers {
			pieces := w.out.Faces[i].Layers[k].Pieces[m.pieces[i][k]:]
			t.Pieces += len(pieces)
			for n := range pieces {
				t.widen(pieces[n].Width, w.pr.MinPiece.Value)
			}
		}
	}
	for _, s := range w.out.Screws[m.screws:] {
		t.Screws += s.Count
	}
	return t
}

// breaches counts what a person would have to see to in what was laid out since
// the mark: findings, and boxes that would be cut into an upright.
func (w *wallLayout) breaches(m mark) int {
	count := 0
	for _, f := range w.out.Findings[m.findings:] {
		if f.Severity.NeedsPerson() {
			count++
		}
	}
	boxes, members := w.body.wall.Boxes, w.out.Members[m.members:]
	for i := range boxes {
		for k := range members {
			if intoBox(&boxes[i], &members[k]) > 0 {
				count++
				break
			}
		}
	}
	return count
}
