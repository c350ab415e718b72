package layout

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// Way is how somebody outside asks for a wall to be laid out, such as a cutting plan
// for which other pieces are better. It is taken run by run, and only where it is as
// right as the way that the layout chooses by itself: no rule broken that is kept, no
// piece, screw or steel part more. The zero Way asks for nothing.
type Way struct {
	From    string `json:"from,omitempty"`    // end of the run from which studs and boards count: start, end or middle
	Half    bool   `json:"half,omitempty"`    // from the middle: a joint stands there, and not a board
	Shift   Length `json:"shift,omitempty"`   // from the start: by so much the first board is narrower
	Swap    bool   `json:"swap,omitempty"`    // face A begins with the starter instead of face B
	Starter int    `json:"starter,omitempty"` // stud spacings of the starter; 0: as the practice says
	Sheet   Length `json:"sheet,omitempty"`   // boards between whose ends cross joints are; 0: the longest
	Flip    bool   `json:"flip,omitempty"`    // columns with cross joints begin at the floor where others would at the soffit
}

// String says what the way asks, as in "module from end, starter on face A".
func (v Way) String() string {
	parts := []string{"module from " + v.From}
	if v.Shift > 0 {
		parts = append(parts, fmt.Sprintf("first board %s mm narrower", mm(v.Shift)))
	}
	if v.Half {
		parts = append(parts, "joint in the middle")
	}
	if v.Starter > 0 {
		parts = append(parts, fmt.Sprintf("starter of %d bays", v.Starter))
	}
	if v.Swap {
		parts = append(parts, "starter on face A")
	}
	if v.Sheet > 0 {
		parts = append(parts, fmt.Sprintf("cross joints by boards of %s mm", v.Sheet))
	}
	if v.Flip {
		parts = append(parts, "cross joints the other way round")
	}
	return strings.Join(parts, ", ")
}

// Prepared is a plan whose build-ups and junctions are settled: its walls can be laid
// out, each in several ways.
type Prepared struct {
	plan   *plan.Plan
	cat    *catalogue.Catalogue
	pr     *catalogue.Practice
	bodies []*body
	out    Project
}

// Prepare settles what walls are made of and how they meet.
func Prepare(p *plan.Plan, cat *catalogue.Catalogue, pr *catalogue.Practice) *Prepared {
	x := &Prepared{plan: p, cat: cat, pr: pr}
	x.bodies = collect(p, cat, pr, &x.out.Findings)
	settle(p, x.bodies, pr, &x.out)
	return x
}

// Layout lays out every wall, those that ways name as asked there. report is told
// how many are done, and may be called from several goroutines at once.
func (x *Prepared) Layout(ways map[string]Way, report func(done, total int)) *Project {
	out := x.out
	out.Findings = slices.Clone(out.Findings)
	out.Walls = layAll(x.bodies, x.cat, x.pr, ways, report)
	findOverlaps(x.plan, &out)
	return &out
}

// Walls returns the number of walls that can be laid out.
func (x *Prepared) Walls() int { return len(x.bodies) }

// Name returns the ids of a wall and of its level.
func (x *Prepared) Name(i int) (wall, level string) {
	return x.bodies[i].wall.ID, x.bodies[i].level.ID
}

// Wall lays out one wall, by its number, in the way that is asked. It may be called
// from several goroutines at once.
func (x *Prepared) Wall(i int, way Way) *Wall {
	return layWall(x.bodies[i], x.cat, x.pr, way, &bench{})
}

// shiftParts is into how many steps a board's width is parted to shift the module:
// steps of 50 mm find about all that finer ones do.
const shiftParts = 24

// Ways lists the ways that are worth asking for of a wall. Some of them may give the
// same pieces, and some may not be right.
func (x *Prepared) Ways(i int) []Way {
	b := x.bodies[i]
	step := moduleStep(b.spec)
	if step == 0 || b.arc != nil {
		return nil
	}
	var list []Way
	for _, v := range modules(step) {
		for _, s := range starters(b.spec) {
			v.Starter = s
			list = append(list, v)
			v.Swap = true
			list = append(list, v)
			v.Swap = false
		}
	}
	plain := slices.Clone(list)
	for _, v := range x.crossings(b) {
		for _, p := range plain {
			if p.Shift == 0 {
				p.Sheet, p.Flip = v.Sheet, v.Flip
				list = append(list, p)
			}
		}
	}
	return list
}

// modules lists from where studs and boards may count.
func modules(step Length) []Way {
	list := []Way{{From: fromStart}, {From: fromEnd}, {From: fromMiddle}, {From: fromMiddle, Half: true}}
	for k := Length(1); k < shiftParts; k++ {
		list = append(list, Way{From: fromStart, Shift: (step * k / shiftParts) / quantity.Millimetre * quantity.Millimetre})
	}
	return list
}

// starters lists the widths of starters in stud spacings: the practice's, 0, and those
// that differ from it.
func starters(spec *buildup.BuildUp) []int {
	list := []int{0}
	for n := 1; Length(n)*spec.Spacing < moduleStep(spec); n++ {
		list = append(list, n)
	}
	if len(list) == 2 {
		return list[:1] // there is but one
	}
	return list
}

// crossings lists ways to part the height of a wall that is higher than its boards
// are long: by other boards and the other way round.
func (x *Prepared) crossings(b *body) []Way {
	boards := slices.Concat(b.spec.A, b.spec.B)
	top := profileOf(b.wall, b.level, b.length)
	high := top.Max(0, b.length) - b.wall.Foot(b.level)
	long := Length(0)
	for _, p := range boards {
		long = max(long, longest(p, x.pr))
	}
	if high <= long {
		return nil
	}
	list := []Way{{Flip: true}}
	for _, l := range boards[0].Lengths {
		if l < long && (high+l-1)/l == (high+long-1)/long {
			list = append(list, Way{Sheet: l}, Way{Sheet: l, Flip: true})
		}
	}
	return list
}

// variantOf returns a way as it is for a run.
func (w *wallLayout) variantOf(r run, way Way) variant {
	start, end := w.outermost(r)
	v := variant{from: way.From, module: start - way.Shift, swap: way.Swap, starter: way.Starter, sheet: way.Sheet, flip: way.Flip}
	step := moduleStep(w.spec)
	switch {
	case step == 0:
	case way.From == fromEnd:
		v.module = endModule(start, end, step)
	case way.From == fromMiddle:
		v.module = middleModule(start, end, step)
		if way.Half {
			v.module -= step / 2
		}
	}
	return v
}

// asRight reports whether a layout breaks no more rules than another and takes no more
// of anything.
func (t Tally) asRight(o Tally) bool {
	return t.Breaches <= o.Breaches && t.Slivers <= o.Slivers && t.Pieces <= o.Pieces && t.Screws <= o.Screws && t.Members <= o.Members
}

// needing counts what a person has to see to.
func needing(found finding.List) int {
	n := 0
	for _, f := range found {
		if f.Severity.NeedsPerson() {
			n++
		}
	}
	return n
}
