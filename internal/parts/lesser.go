package parts

import (
	"fmt"

	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/quantity"
)

// leg is the size at which brackets and holding angles are shown.
const leg = 25 * quantity.Millimetre

// gussets lists the boards that tie twin frames.
func (l *lister) gussets() {
	a, b := l.rims()
	for i := range l.w.Gussets {
		g := &l.w.Gussets[i]
		p := l.board(fmt.Sprintf("G%02d", g.Number), FrameLayer, "gusset", g.Board, "gusset_spacing", geom.Polygon{geom.Pt(0, 0), geom.Pt(g.Width, 0), geom.Pt(g.Width, g.Height), geom.Pt(0, g.Height)}.Area())
		p.Width, p.Height = g.Width, g.Height
		t := l.thickness(g.Board)
		p.Solid = box(geom.Interval{From: g.At.X - leg - t, To: g.At.X - leg}, around(g.At.Y, g.Height), around((a+b)/2, g.Width))
		l.add(p)
	}
}

// brackets lists angles at the feet and heads of studs, and what goes to the wall
// behind.
func (l *lister) brackets() {
	for i := range l.w.Brackets {
		b := &l.w.Brackets[i]
		p := Part{ID: fmt.Sprintf("bracket %d", i+1), Kind: Bracket, Layer: FrameLayer, What: b.Use + " angle", Product: b.Product, Name: b.Product}
		if s, ok := l.cat.Sundry(b.Product); ok {
			p.Name = s.Name
		}
		line := l.w.FrameLines[b.Line]
		p.Solid = box(around(b.At.X, 2*leg), geom.Interval{From: b.At.Y - leg, To: b.At.Y + leg}, around(line.Offset, line.Depth-2*quantity.Millimetre))
		if b.Behind() {
			back := line.Offset - line.Depth/2
			p.Solid.V = geom.Interval{From: min(back-leg, -l.w.Thickness/2), To: back}
		}
		l.add(p)
	}
}

// angles lists the angles that hold a shaft wall's liner.
func (l *lister) angles() {
	_, back := l.rims()
	for i := range l.w.Angles {
		a := &l.w.Angles[i]
		p := Part{ID: fmt.Sprintf("angle %d", i+1), Kind: Steel, Layer: FrameLayer, What: "holding angle", Product: a.Product, Name: a.Product, Cut: a.Cut}
		if profile, ok := l.cat.Profile(a.Product); ok {
			p.Name, p.Mass = profile.Name, profile.Mass*a.Cut.Metres()
		}
		u, z := geom.Interval{From: a.From.X, To: a.To.X}, geom.Interval{From: a.From.Y, To: a.To.Y}
		if u.Len() == 0 {
			u = around(u.From, leg)
		}
		if z.Len() == 0 {
			z = around(z.From, leg)
		}
		p.Solid = box(u, z, geom.Interval{From: back, To: back + leg})
		l.add(p)
	}
}

// liner lists the board between the studs of a shaft wall.
func (l *lister) liner() {
	_, back := l.rims()
	for i := range l.w.Liner {
		c := &l.w.Liner[i]
		p := l.board(fmt.Sprintf("L-%02d", c.Number), FillLayer, "liner", c.Board, c.Rule, c.Area())
		p.Width, p.Height = c.Width, c.Height
		p.Solid = &Solid{Outline: c.Outline, Holes: c.Holes, V: geom.Interval{From: back, To: back + l.thickness(c.Board)}}
		l.add(p)
	}
}

// fill lists the batts of the bays and of the gap between frames.
func (l *lister) fill() {
	for i := range l.w.Batts {
		b := &l.w.Batts[i]
		p := Part{ID: fmt.Sprintf("bay %d", i+1), Kind: Fill, Layer: FillLayer, What: "fill", Product: b.Product, Name: b.Product}
		if product, ok := l.cat.InsulationProduct(b.Product); ok {
			p.Name, p.Mass = product.Name, product.Density*b.Thickness.Metres()*b.Area().SquareMetres()
		}
		bounds := b.Outline.Bounds()
		p.Width, p.Height = bounds.Max.X-bounds.Min.X, bounds.Max.Y-bounds.Min.Y
		p.Solid = &Solid{Outline: b.Outline, Holes: b.Holes, V: l.room(b)}
		l.add(p)
	}
}

// room returns the v between which a batt lies: in the middle of its frame, pressed
// to its depth, or in the gap behind it.
func (l *lister) room(b *layout.Batt) geom.Interval {
	first := l.w.FrameLines[b.Line]
	if !b.Gap {
		return around(first.Offset, min(b.Thickness, first.Depth))
	}
	for _, next := range l.w.FrameLines {
		if next.Offset < first.Offset {
			return geom.Interval{From: next.Offset + next.Depth/2, To: first.Offset - first.Depth/2}
		}
	}
	back := first.Offset - first.Depth/2
	return geom.Interval{From: back - b.Thickness, To: back}
}

// strips lists what closes free ends, heads, tops and reveals. Those at ends and
// reveals of boarded walls are shown; the others only listed.
func (l *lister) strips() {
	for i := range l.w.Caps {
		c := &l.w.Caps[i]
		p := l.board(fmt.Sprintf("%s %d", c.Use, c.Number), TrimLayer, c.Use, c.Board, c.Rule, c.Area())
		p.Width, p.Height = c.Width, c.Height
		p.Solid = l.stripSolid(c)
		l.add(p)
	}
}

func (l *lister) stripSolid(c *layout.Piece) *Solid {
	t, v := l.thickness(c.Board), around(0, c.Width)
	out := len(l.w.FrameLines) > 0 && l.w.FrameLines[0].Extent.To <= c.At.X
	switch c.Use {
	case "end cap":
		u := geom.Interval{From: c.At.X - t, To: c.At.X}
		if out {
			u = geom.Interval{From: c.At.X, To: c.At.X + t}
		}
		return box(u, geom.Interval{From: c.At.Y, To: c.At.Y + c.Height}, v)
	case "top cap", "head strip":
		return box(geom.Interval{From: c.At.X, To: c.At.X + c.Height}, geom.Interval{From: c.At.Y, To: c.At.Y + t}, v)
	}
	return nil
}

// closings lists the boards and uprights of the slim pieces at facade posts.
func (l *lister) closings() {
	for i := range l.w.Closings {
		c := &l.w.Closings[i]
		for k := range c.Boards {
			b := &c.Boards[k]
			p := l.board(fmt.Sprintf("closing piece %d-%d", i+1, k+1), TrimLayer, "closing piece", b.Board, b.Rule, b.Area())
			p.Width, p.Height = b.Width, b.Height
			p.Solid = &Solid{Outline: b.Outline, V: closingPlace(c, k, l.thickness(b.Board))}
			l.add(p)
		}
		for k, long := range c.Studs {
			p := Part{ID: fmt.Sprintf("closing upright %d-%d", i+1, k+1), Kind: Steel, Layer: TrimLayer, What: "closing upright", Product: c.Stud, Name: c.Stud, Cut: long}
			if profile, ok := l.cat.Profile(c.Stud); ok {
				p.Name, p.Mass = profile.Name, profile.Mass*long.Metres()
			}
			l.add(p)
		}
	}
}

// closingPlace returns the v of one board of a closing piece: both faces of its slim
// frame, or boards on each other.
func closingPlace(c *layout.Closing, k int, t Length) geom.Interval {
	face := c.Offset + c.Thickness/2
	if c.Stud != "" && k == 1 {
		return geom.Interval{From: c.Offset - c.Thickness/2, To: c.Offset - c.Thickness/2 + t}
	}
	return geom.Interval{From: face - Length(k+1)*t, To: face - Length(k)*t}
}
