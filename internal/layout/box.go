package layout

import (
	"fmt"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Size of a flush box: the hole, the distance of boxes side by side, and how deep
// it reaches behind the boards (common practice: 68 mm holes at 71 mm, 50 mm deep).
const (
	boxHole  = 68 * quantity.Millimetre
	boxPitch = 71 * quantity.Millimetre
	boxDepth = 50 * quantity.Millimetre
)

// Box is a box let into one face, as laid out.
type Box struct {
	Number int         `json:"number"` // as in the plan, from 1
	Kind   string      `json:"kind,omitempty"`
	Face   plan.Face   `json:"face"`
	At     geom.Point  `json:"at"`               // its middle
	Asked  *geom.Point `json:"asked,omitempty"`  // where the plan has it, if it was moved
	Gangs  int         `json:"gangs"`            //
	Lining string      `json:"lining,omitempty"` // catalogue id of what is put round each gang in the cavity
}

// half is half the box's width along the wall.
func (b *Box) half() Length { return (boxHole + boxPitch*Length(b.Gangs-1)) / 2 }

// name says which box it is, for findings.
func (b *Box) name() string {
	return fmt.Sprintf("box %d (%s), %s mm from the start", b.Number, orElse(b.Kind, "any kind"), mm(b.At.X))
}

// setBoxes places the boxes of the plan, and where sound or fire is asked keeps
// those of the two faces out of each other's bays and puts linings round them.
func (w *wallLayout) setBoxes() {
	for i, x := range w.body.wall.Boxes {
		w.out.Boxes = append(w.out.Boxes, Box{Number: i + 1, Kind: x.Kind, Face: x.Face, At: geom.Pt(x.At, x.Height), Gangs: max(x.Gangs, 1)})
	}
	if use := w.asked(); use != "" {
		w.partBoxes(use)
		if p, ok := w.cat.SundryFor(catalogue.KindBoxLining, use, w.pr); ok {
			for i := range w.out.Boxes {
				w.out.Boxes[i].Lining = p.ID
			}
		}
	}
	w.checkBoxes()
}

// asked says what the wall has to keep out, fire before sound; nothing where
// neither is asked.
func (w *wallLayout) asked() string {
	switch {
	case w.body.rank.fire > 0:
		return "fire"
	case w.body.rank.sound > 0:
		return "sound"
	}
	return ""
}

// partBoxes moves boxes that stand back to back with one on the other face into
// the nearest place where they do not, the later one in the plan; where there is
// none within two bays it tells of them.
func (w *wallLayout) partBoxes(use string) {
	bays := w.studBays()
	for i := range w.out.Boxes {
		b := &w.out.Boxes[i]
		before := w.out.Boxes[:i]
		other, apart := w.backToBack(b, b.At.X, before, bays)
		if other == nil {
			continue
		}
		at, ok := w.placeFor(b, before, bays)
		if !ok {
			w.find(finding.Warning, "boxes-back-to-back",
				words.F("%s on face %s, is in one bay with, or only %s mm from, box %d on the other face; where %s is asked they stand %s mm apart with a stud between, and there is no such place within %s mm",
					b.name(), faceName(b.Face), mm(apart), other.Number, use, w.pr.BoxApart.Value, mm(2*w.spec.Spacing)),
				"move one of the two by hand, or set a box on the wall instead of in it")
			continue
		}
		asked := b.At
		b.Asked, b.At.X = &asked, at
		w.find(finding.Assumed, "box-moved",
			words.F("box %d (%s) on face %s, %s mm from the start in the plan, is back to back with box %d; as %s is asked it is set at %s mm, %s mm away",
				b.Number, orElse(b.Kind, "any kind"), faceName(b.Face), mm(asked.X), other.Number, use, mm(at), mm((at-asked.X).Abs())),
			"write the place that suits in the plan")
	}
}

// studBays lists the stretches between neighbouring uprights that stand from
// floor to soffit on all frames of the wall, in order along the wall.
func (w *wallLayout) studBays() []geom.Interval {
	var edges []geom.Interval
	for line := range w.out.FrameLines {
		for _, m := range w.uprights(line) {
			if m.Role != Cripple && m.Role != PocketRib {
				edges = append(edges, geom.Interval{From: m.From.X - m.Width/2, To: m.From.X + m.Width/2})
			}
		}
	}
	slices.SortFunc(edges, func(a, b geom.Interval) int { return compare(a.From, b.From) })
	var bays []geom.Interval
	for i := 1; i < len(edges); i++ {
		if edges[i].From > edges[i-1].To {
			bays = append(bays, geom.Interval{From: edges[i-1].To, To: edges[i].From})
		}
		edges[i].To = max(edges[i].To, edges[i-1].To)
	}
	return bays
}

// bayAt returns the number of the bay that holds u, or -1.
func bayAt(bays []geom.Interval, u Length) int {
	return slices.IndexFunc(bays, func(b geom.Interval) bool { return b.From <= u && u <= b.To })
}

// backToBack returns a box of the other face that is in one bay with b at u, or
// nearer than the practice allows, and how far their sides are apart.
func (w *wallLayout) backToBack(b *Box, u Length, others []Box, bays []geom.Interval) (*Box, Length) {
	for i := range others {
		o := &others[i]
		apart := (u - o.At.X).Abs() - b.half() - o.half()
		bay := bayAt(bays, u)
		if o.Face != b.Face && (apart < w.pr.BoxApart.Value || bay >= 0 && bay == bayAt(bays, o.At.X)) {
			return o, max(apart, 0)
		}
	}
	return nil, 0
}

// placeFor returns the place nearest to a box's own, within two bays, in which it
// stands back to back with none of the others, overlaps none, and clears studs
// and openings.
func (w *wallLayout) placeFor(b *Box, others []Box, bays []geom.Interval) (Length, bool) {
	var best Length
	found := false
	try := func(u Length) {
		far := (u - b.At.X).Abs()
		if far > 2*w.spec.Spacing || found && far >= (best-b.At.X).Abs() || !w.boxFits(b, u, bays) {
			return
		}
		if o, _ := w.backToBack(b, u, others, bays); o != nil {
			return
		}
		for i := range w.out.Boxes {
			if o := &w.out.Boxes[i]; o != b && o.Face == b.Face && (o.At.X-u).Abs() < o.half()+b.half() && (o.At.Y-b.At.Y).Abs() < boxHole {
				return
			}
		}
		best, found = u, true
	}
	reach := b.half() + quantity.Millimetre
	for _, bay := range bays {
		try(bay.From + reach)
		try(bay.To - reach)
		try(min(max(b.At.X, bay.From+reach), bay.To-reach))
		for i := range others {
			far := w.pr.BoxApart.Value + b.half() + others[i].half()
			try(others[i].At.X - far)
			try(others[i].At.X + far)
		}
	}
	return best, found
}

// boxFits reports whether a box at u lies between two studs and in no opening or
// pocket.
func (w *wallLayout) boxFits(b *Box, u Length, bays []geom.Interval) bool {
	i := bayAt(bays, u)
	if i < 0 || u-b.half() < bays[i].From || u+b.half() > bays[i].To {
		return false
	}
	return !slices.ContainsFunc(w.out.Openings, func(o Opening) bool {
		bay := o.Bay()
		return bay.From < u+b.half() && u-b.half() < bay.To && o.Sill < b.At.Y+boxHole/2 && b.At.Y-boxHole/2 < o.Top()
	})
}

// checkBoxes tells of boxes that would be cut into a stud or a pocket.
func (w *wallLayout) checkBoxes() {
	for i := range w.out.Boxes {
		b := &w.out.Boxes[i]
		w.checkBoxStuds(b)
		for j := range w.out.Openings {
			o := &w.out.Openings[j]
			if p := o.Pocket; p != nil && p.From < b.At.X+b.half() && b.At.X-b.half() < p.To && b.At.Y < o.Top() {
				by := min(b.At.X+b.half()-p.From, p.To-b.At.X+b.half())
				w.find(finding.Warning, "box-in-pocket",
					words.F("%s, would be cut into the pocket of %s", b.name(), o.ID), words.F("move it %s mm or more, out of the pocket", mm(by)))
			}
		}
	}
}

func (w *wallLayout) checkBoxStuds(b *Box) {
	for _, m := range w.out.Members {
		apart := intoBox(&plan.Box{At: b.At.X, Height: b.At.Y, Gangs: b.Gangs}, &m)
		if m.Role == PocketRib || apart <= 0 || !w.carriesFace(m.Line, b.Face) {
			continue
		}
		side := "right"
		if b.At.X < m.From.X {
			side = "left"
		}
		w.find(finding.Warning, "box-on-stud",
			words.F("%s, would be cut into the %s at %s mm", b.name(), m.Role, mm(m.From.X)),
			words.F("move it %s mm or more to the %s", mm(apart+quantity.Millimetre), side))
		return
	}
}

// intoBox returns by how much an upright stands in the room that a box needs;
// nothing where it does not.
func intoBox(x *plan.Box, m *Member) Length {
	if !m.Upright() || x.Height < m.From.Y || x.Height > m.To.Y {
		return 0
	}
	half := (boxHole + boxPitch*Length(max(x.Gangs, 1)-1)) / 2
	return half + m.Width/2 - (x.At - m.From.X).Abs()
}

// carriesFace reports whether the boards of a face stand on a frame line.
func (w *wallLayout) carriesFace(line int, f plan.Face) bool {
	offsets := w.body.lineOffsets()
	if len(offsets) == 1 {
		return true
	}
	return (w.out.FrameLines[line].Offset == offsets[0]) == (f == plan.FaceA)
}
