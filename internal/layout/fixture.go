package layout

import (
	"fmt"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Fixture is something that is hung on one face, as laid out.
type Fixture struct {
	Number  int           `json:"number"` // as in the plan, from 1
	Kind    string        `json:"kind"`
	Face    plan.Face     `json:"face"`
	U       geom.Interval `json:"u"`
	Height  Length        `json:"height"`
	Grounds []Length      `json:"grounds"`          // heights of its backing
	Load    float64       `json:"load,omitempty"`   // kg
	Framed  bool          `json:"framed,omitempty"` // between two opening studs, on the floor
	Rule    string        `json:"rule,omitempty"`
}

// looseEnd is how much of a fixing's length may reach beyond its backing.
const looseEnd = 100 * quantity.Millimetre

// name says which fixing it is, for findings.
func (x *Fixture) name() string {
	return fmt.Sprintf("%s %d, %s mm from the start and %s mm up", plainKind(x.Kind), x.Number, mm(x.U.From), mm(x.Height))
}

func plainKind(kind string) string {
	switch kind {
	case "wc":
		return "WC"
	case "sanitary_frame":
		return "sanitary frame"
	case "grab_rail":
		return "grab rail"
	}
	return kind
}

// setFixtures takes over what the plan hangs on the wall, with what the practice
// says of each kind.
func (w *wallLayout) setFixtures() {
	for i := range w.body.wall.Fixings {
		x := &w.body.wall.Fixings[i]
		usual, known := w.pr.FixtureFor(x.Kind)
		if !known {
			usual = &catalogue.Fixture{Grounds: []Length{0}, Height: quantity.Metre}
		}
		f := Fixture{Number: i + 1, Kind: x.Kind, Face: x.Face, Height: x.Height, Load: x.Mass}
		width := x.Width
		if width == 0 && usual.Frame {
			width = usual.Width
		}
		f.U = geom.Interval{From: x.At, To: x.At + max(width, quantity.Millimetre)}
		if f.Height == 0 {
			f.Height = usual.Height
			w.find(finding.Assumed, "fixing-height", words.F("%s: its height is not given; the practice's for its kind is taken", f.name()), "write height, in mm from the floor")
		}
		if f.Load == 0 {
			f.Load = usual.Load
		}
		for _, g := range usual.Grounds {
			if z := f.Height + g; z > w.out.Base {
				f.Grounds = append(f.Grounds, z)
			}
		}
		if usual.Frame {
			f.Framed = w.takesFrame(&f)
		}
		if lack := usual.Depth - w.cavity(); lack > 0 {
			w.find(finding.Warning, "frame-too-shallow", words.F("%s needs a cavity of %s mm, %s mm more than there is", f.name(), mm(usual.Depth), mm(lack)), w.deeper(usual.Depth))
		}
		w.out.Fixtures = append(w.out.Fixtures, f)
	}
}

// takesFrame reports whether a frame on the floor finds room for its two opening
// studs, and tells of what is in their way.
func (w *wallLayout) takesFrame(x *Fixture) bool {
	stud := w.spec.OpeningStud.Flange
	need := geom.Interval{From: x.U.From - stud, To: x.U.To + stud}
	tell := func(by Length, what string) bool {
		w.find(finding.Warning, "no-room-for-frame", words.F("%s with an opening stud on each side runs %s mm into %s", x.name(), mm(by), what), words.F("move it by %s mm", mm(by)))
		return false
	}
	if over := x.Height + leastCripple - w.out.Top.Min(need.From, need.To) + w.studDrop; over > 0 {
		w.find(finding.Warning, "no-room-for-frame", words.F("%s is %s mm higher than the studs leave room for", x.name(), mm(over)), words.F("take a frame at most %s mm high", mm(x.Height-over)))
		return false
	}
	if need.From < 0 {
		return tell(-need.From, "the wall's start")
	}
	if need.To > w.body.length {
		return tell(need.To-w.body.length, "the wall's end")
	}
	for i := range w.out.Openings {
		o := &w.out.Openings[i]
		bay := o.Bay()
		if by := min(need.To-bay.From, bay.To-need.From); by > 0 && o.Sill < x.Height {
			return tell(by, "opening "+o.ID)
		}
	}
	for _, t := range w.body.tees {
		for _, u := range w.body.contacts(t) {
			if x.U.From < u && u < x.U.To {
				return tell(min(u-x.U.From, x.U.To-u)+stud, "wall "+t.other.wall.ID)
			}
		}
	}
	for i := range w.out.Fixtures {
		if o := &w.out.Fixtures[i]; o.Framed && (o.Face == x.Face || !w.spec.Kind.Twin()) && o.U.From < x.U.To && x.U.From < o.U.To {
			return tell(min(x.U.To-o.U.From, o.U.To-x.U.From), fmt.Sprintf("%s %d", plainKind(o.Kind), o.Number))
		}
	}
	return true
}

// frameAt returns the fixture with a frame on the line that holds u between its
// opening studs.
func (f *framer) frameAt(from, to Length) *Fixture {
	for i := range f.out.Fixtures {
		if x := &f.out.Fixtures[i]; f.holdsFrame(x) && x.U.From < to && from < x.U.To {
			return x
		}
	}
	return nil
}

// holdsFrame reports whether the opening studs beside a frame stand on the line.
func (f *framer) holdsFrame(x *Fixture) bool { return f.lackForFrame(x, f.line) <= 0 }

// lackForFrame returns by how much a frame with its opening studs reaches beyond
// the end studs of a line; all of its width where the line cannot carry it.
func (w *wallLayout) lackForFrame(x *Fixture, line int) Length {
	if !x.Framed || !w.carriesFace(line, x.Face) {
		return x.U.Len()
	}
	e, need := w.out.FrameLines[line].Extent, w.spec.OpeningStud.Flange+w.spec.Stud.Flange
	return max(e.From+need-x.U.From, x.U.To+need-e.To)
}

// checkFrame tells of a frame that no stretch of studs holds.
func (w *wallLayout) checkFrame(x *Fixture) {
	if !x.Framed {
		return
	}
	least := Length(1 << 62)
	for line := range w.out.FrameLines {
		least = min(least, w.lackForFrame(x, line))
	}
	if least > 0 {
		x.Framed = false
		w.find(finding.Warning, "no-room-for-frame", words.F("%s with an opening stud on each side runs %s mm into the end of the studs", x.name(), mm(least)), words.F("move it by %s mm", mm(least)))
	}
}

// carriers lists the opening studs beside frames that stand on the floor.
func (f *framer) carriers() []upright {
	var list []upright
	stud := f.spec.OpeningStud
	for i := range f.out.Fixtures {
		x := &f.out.Fixtures[i]
		if !f.holdsFrame(x) {
			continue
		}
		for _, u := range []Length{x.U.From - stud.Flange/2, x.U.To + stud.Flange/2} {
			list = append(list, upright{at: u, width: stud.Flange, role: Stud, rule: "beside " + x.name(), made: stud})
		}
	}
	return list
}

// overFrames sets cripples over frames that are wider than the stud spacing.
func (f *framer) overFrames() {
	for i := range f.out.Fixtures {
		x := &f.out.Fixtures[i]
		if !f.holdsFrame(x) {
			continue
		}
		half := f.spec.OpeningStud.Flange / 2
		for _, s := range divide(x.U.From-half, x.U.To+half, f.spec.Spacing, f.spec.Stud.Flange, Cripple) {
			f.stand(s, x.Height, f.out.Top.Min(s.from(), s.to())-f.studDrop)
		}
	}
}

// setGrounds puts backing between the studs behind things that are hung on the
// wall, on every stretch of frame that carries the face, and anchors frames to the
// floor.
func (w *wallLayout) setGrounds() {
	per := len(w.body.lineOffsets())
	for i := range w.out.Fixtures {
		x := &w.out.Fixtures[i]
		w.checkFrame(x)
		first := 0
		if x.Face == plan.FaceB {
			first = per - 1
		}
		for _, z := range x.Grounds {
			var backed Length
			for line := first; line < len(w.out.FrameLines); line += per {
				backed += w.ground(z, x.U, line)
			}
			if backed < x.U.Len()-looseEnd {
				w.find(finding.Warning, "fixing-without-backing",
					words.F("%s, has backing on %s of its %s mm only", x.name(), mm(backed), mm(x.U.Len())),
					"move it clear of openings, wall ends and movement joints")
				break
			}
			w.checkGround(x, z)
		}
		if x.Framed {
			w.anchorBracket(geom.Pt(x.U.From, w.out.Base), "floor", orElse(w.body.level.Floor, plan.Concrete))
			w.anchorBracket(geom.Pt(x.U.To, w.out.Base), "floor", orElse(w.body.level.Floor, plan.Concrete))
		}
	}
}

// checkGround tells of boxes cut where a thing's backing is, and of movement
// joints that it spans.
func (w *wallLayout) checkGround(x *Fixture, z Length) {
	for i := range w.out.Boxes {
		b := &w.out.Boxes[i]
		by := boxHole/2 + w.spec.Track.Flange/2 - (b.At.Y - z).Abs()
		if b.Face == x.Face && by > 0 && x.U.From < b.At.X+b.half() && b.At.X-b.half() < x.U.To {
			w.find(finding.Warning, "ground-at-box", words.F("the backing of %s is %s mm in the room of box %d", x.name(), mm(by), b.Number), words.F("move the box %s mm up or down", mm(by)))
		}
	}
	for _, c := range w.out.Controls {
		if x.U.From < c.U.To && c.U.From < x.U.To {
			by := min(x.U.To-c.U.From, c.U.To-x.U.From)
			w.find(finding.Warning, "fixing-across-joint", words.F("%s spans the movement joint at %s mm", x.name(), mm(c.U.From)), words.F("move it by %s mm", mm(by)))
		}
	}
}
