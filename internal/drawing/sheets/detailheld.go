package sheets

import (
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// bracketDrawn is the height at which brackets to the wall behind are drawn.
const bracketDrawn = 40 * millimetre

// gapBehind returns the clear distance from the frame of a lining or furring to the
// wall behind.
func (s *Set) gapBehind(w *layout.Wall) Length {
	if b := s.in.Plan.BuildUpByID(w.BuildUp); b != nil && (b.Frame.Kind == plan.Lining || b.Frame.Kind == plan.Furring) {
		return b.Frame.Gap
	}
	return 0
}

// bracketsBehind adds the brackets from the uprights to the wall behind that the cut
// meets: a base on that wall, and a leg along each side of the upright.
func (c *levelCut) bracketsBehind() {
	_, back := frameRims(c.wall)
	gap := c.set.gapBehind(c.wall)
	for i := range c.wall.Brackets {
		b := &c.wall.Brackets[i]
		if !b.Behind() || gap == 0 || !c.u.Contains(b.At.X) || !c.shows(b.At.X) || (c.z-b.At.Y).Abs() > bracketDrawn/2 {
			continue
		}
		half := c.flangeAt(b.At.X)/2 + millimetre
		leg := back + c.wall.FrameLines[b.Line].Depth/2
		c.add(steel, c.set.sundryName(b.Product), geom.Pt(b.At.X-half, leg), geom.Pt(b.At.X-half, back-gap), geom.Pt(b.At.X+half, back-gap), geom.Pt(b.At.X+half, leg))
	}
}

// bracketsBehind adds the brackets that hold the next upright, seen from the side.
func (c *uprightCut) bracketsBehind() {
	_, back := frameRims(c.wall)
	gap, next := c.set.gapBehind(c.wall), c.nextUpright(c.wall.FrameLines[0].Offset)
	if gap == 0 || next == nil {
		return
	}
	for i := range c.wall.Brackets {
		b := &c.wall.Brackets[i]
		lo, hi := b.At.Y-bracketDrawn/2, b.At.Y+bracketDrawn/2
		if !b.Behind() || b.At.X != next.From.X || lo < c.z.From || hi > c.z.To {
			continue
		}
		leg := back + c.wall.FrameLines[b.Line].Depth/2
		c.line(beyond, c.set.sundryName(b.Product)+" beyond", geom.Pt(back-gap, lo), geom.Pt(leg, lo), geom.Pt(leg, hi), geom.Pt(back-gap, hi))
		c.line(steel, "", geom.Pt(back-gap, lo), geom.Pt(back-gap, hi))
	}
	if c.kind == bracketDetail {
		c.box(ground, "wall behind", back-gap-bracketDrawn, back-gap, c.z.From, c.z.To)
	}
}

// channelsBeyond adds a furring channel seen from its side, or the ribs of a pocket,
// one for each face.
func (c *uprightCut) channelsBeyond(m *layout.Member, p *catalogue.Profile) {
	fl := c.wall.FrameLines[m.Line]
	lo, hi := max(m.From.Y, c.z.From), min(m.To.Y, c.z.To)
	name := roleName(c.wall, m.Role) + " beyond: " + c.set.profileName(m.Product)
	one := func(face, back Length) {
		c.line(beyond, name, geom.Pt(face, lo), geom.Pt(face, hi), geom.Pt(back, hi), geom.Pt(back, lo))
	}
	onA := fl.Offset == c.wall.FrameLines[0].Offset
	paired := slices.ContainsFunc(c.wall.Members, func(o layout.Member) bool { return o.Number != m.Number && m.PairedWith(&o) })
	if onA {
		one(fl.Offset+fl.Depth/2, fl.Offset+fl.Depth/2-p.Flange)
	}
	if !onA || paired {
		one(fl.Offset-fl.Depth/2, fl.Offset-fl.Depth/2+p.Flange)
	}
}

// liner adds the board between the studs of a shaft wall, and the angles along its
// lower and upper edges.
func (c *uprightCut) liner() {
	_, back := frameRims(c.wall)
	for i := range c.wall.Liner {
		p := &c.wall.Liner[i]
		from, to := back+2*millimetre, back+2*millimetre+c.set.boardThickness(p.Board)
		for _, s := range crossings(p.Outline, p.Holes, c.u, true) {
			lo, hi := max(s.From, c.z.From), min(s.To, c.z.To)
			if lo >= hi {
				continue
			}
			c.box(board, "liner: "+c.set.boardName(p.Board), from, to, lo, hi)
			for _, at := range []struct{ z, in Length }{{s.From, angleLeg}, {s.To, -angleLeg}} {
				if c.z.Contains(at.z) {
					c.line(steel, "holding angle", geom.Pt(to, at.z+at.in), geom.Pt(to, at.z), geom.Pt(to+angleLeg, at.z))
				}
			}
		}
	}
}

// bracket takes the upright section at the first bracket to the wall behind.
func (t *taker) bracket(w *layout.Wall) {
	for i := range w.Brackets {
		b := &w.Brackets[i]
		if u := b.At.X - 60*millimetre; b.Behind() && !touched(w, geom.Interval{From: u, To: b.At.X}) && u > extentOf(w).From {
			t.upright(w, bracketDetail, "bracket", nil, u, b.At.Y, geom.Interval{From: b.At.Y - tallShown, To: min(b.At.Y+tallShown, topAt(w.Top, u))})
			return
		}
	}
}
