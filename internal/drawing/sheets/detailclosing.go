package sheets

import "nogging/internal/geom"

// closings adds the slim pieces between the wall and facade posts: boards on each
// other, or a board a face on two slim uprights, sealed at both ends.
func (c *levelCut) closings() {
	for i := range c.wall.Closings {
		p := &c.wall.Closings[i]
		if len(p.Boards) == 0 || p.U.From > c.u.To+capReach || p.U.To < c.u.From-capReach {
			continue
		}
		lo, hi := p.Offset-p.Thickness/2, p.Offset+p.Thickness/2
		name, t := "closing piece: "+c.set.boardName(p.Boards[0].Board), c.set.boardThickness(p.Boards[0].Board)
		if p.Stud == "" {
			for n := range Length(len(p.Boards)) {
				c.box(board, name, p.U.From, p.U.To, lo+n*t, lo+(n+1)*t)
			}
		} else {
			c.box(board, name, p.U.From, p.U.To, lo, lo+t)
			c.box(board, name, p.U.From, p.U.To, hi-t, hi)
			c.slimUprights(p.Stud, p.U, lo+t, hi-t)
		}
		for _, s := range c.wall.Seals {
			if s.Use == useClosing && p.U.Contains(s.From.X) {
				u, in := s.From.X, fillDrawn
				if u == p.U.To {
					in = -in
				}
				c.box(sealing, c.set.sundryName(s.Product), u, u+in, lo, lo-fillDrawn)
				c.box(sealing, c.set.sundryName(s.Product), u, u+in, hi, hi+fillDrawn)
			}
		}
	}
}

// useClosing is the use of the seals of closing pieces.
const useClosing = "closing piece"

// slimUprights adds the uprights of a closing piece, one at each end with its web
// against what it is fixed to.
func (c *levelCut) slimUprights(product string, u geom.Interval, lo, hi Length) {
	flange := u.Len() / 2
	if p, ok := c.set.in.Catalogue.Profile(product); ok {
		flange = min(flange, p.Flange)
	}
	name := "closing piece: " + c.set.profileName(product)
	for _, x := range []struct{ web, far Length }{{u.From, u.From + flange}, {u.To, u.To - flange}} {
		c.add(steel, name, geom.Pt(x.far, hi), geom.Pt(x.web, hi), geom.Pt(x.web, lo), geom.Pt(x.far, lo))
	}
}
