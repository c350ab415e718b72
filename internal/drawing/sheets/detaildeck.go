package sheets

import (
	"math"
	"slices"

	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// slabDrawn is how much of floor and soffit details show.
const slabDrawn = 150 * millimetre

// soffit adds what the head stands under: a slab, or a metal deck with its flutes as
// they run.
func (c *uprightCut) soffit(level *plan.Level, top Length) {
	name, d := slabName("soffit", level.Soffit), level.Deck
	if level.Soffit != plan.MetalDeck || d == nil || !d.Usable() || c.wall.Curve != nil {
		c.slab(name, top, slabDrawn)
		return
	}
	a, b := c.set.surfaces(c.wall)
	window := geom.Interval{From: b - 60*millimetre, To: a + 60*millimetre}
	sheet := geom.Interval{From: b - 35*millimetre, To: a + 35*millimetre}
	sin, cos := c.fluteTurn(d)
	switch {
	case math.Abs(cos) < 0.01: // flutes right across the wall: a section along one of them
		z := top
		if c.inFlute() {
			z += d.Depth
			c.line(beyond, "rib of the deck beyond", geom.Pt(window.From, top), geom.Pt(window.To, top))
		}
		c.box(ground, name, window.From, window.To, z, top+slabDrawn)
		c.line(steel, "", geom.Pt(sheet.From, z), geom.Pt(sheet.To, z))
	case math.Abs(sin) < 0.06: // flutes along the wall
		c.ribbed(name, d, cos, window, sheet, top)
	default:
		c.slab(name, top, slabDrawn)
	}
}

// fluteTurn returns sine and cosine of the angle between wall and flutes.
func (c *uprightCut) fluteTurn(d *plan.Deck) (sin, cos float64) {
	ds, dc := math.Sincos(d.Direction * math.Pi / 180)
	dir := c.wall.Frame.Dir
	return dir.X*ds - dir.Y*dc, dir.X*dc + dir.Y*ds
}

// ribbed adds a deck whose flutes run along the wall, cut across, with its sheet as
// far as the drawing shows it.
func (c *uprightCut) ribbed(name string, d *plan.Deck, cos float64, window, sheet geom.Interval, top Length) {
	ds, dc := math.Sincos(d.Direction * math.Pi / 180)
	var origin geom.Point
	if d.At != nil {
		origin = geom.Point(*d.At)
	}
	q := c.wall.Point(c.u, 0).Sub(origin)
	middle := Length(math.Round(-(float64(q.Y)*dc - float64(q.X)*ds) * cos)) // v of a flute's middle
	crown := d.Crown
	if crown == 0 {
		crown = d.Flute
	}
	first := middle - d.Pitch*((middle-window.From)/d.Pitch+1)
	var under []geom.Point
	for v := first; v < window.To+d.Pitch; v += d.Pitch {
		under = append(under, geom.Pt(v-d.Flute/2, top), geom.Pt(v-crown/2, top+d.Depth), geom.Pt(v+crown/2, top+d.Depth), geom.Pt(v+d.Flute/2, top))
	}
	whole := geom.Polygon(append(under, geom.Pt(under[len(under)-1].X, top+slabDrawn), geom.Pt(under[0].X, top+slabDrawn)))
	c.line(ground, name, whole.Clip(geom.Polygon{geom.Pt(window.From, top), geom.Pt(window.To, top), geom.Pt(window.To, top+slabDrawn), geom.Pt(window.From, top+slabDrawn)})...)
	for i := 1; i < len(under); i++ {
		p, q := under[i-1], under[i]
		lo, hi := max(p.X, sheet.From), min(q.X, sheet.To)
		if lo < hi {
			c.line(steel, "", geom.Pt(lo, zOn(p, q, lo)), geom.Pt(hi, zOn(p, q, hi)))
		}
	}
}

// inFlute reports whether the cut runs through a flute that is closed.
func (c *uprightCut) inFlute() bool { return len(c.closersHere()) > 0 }

// closersHere lists the pieces that close the flute through which the cut runs.
func (c *uprightCut) closersHere() []*layout.Piece {
	var list []*layout.Piece
	for i := range c.wall.Caps {
		if p := &c.wall.Caps[i]; p.Use == layout.UseFluteCloser && p.At.X <= c.u && c.u <= p.At.X+p.Width {
			list = append(list, p)
		}
	}
	return list
}

// closers adds the pieces over each face in the flute through which the cut runs,
// the fill between them and what seals them.
func (c *uprightCut) closers() {
	here, top := c.closersHere(), topAt(c.wall.Top, c.u)
	if len(here) == 0 || c.z.To < top {
		return
	}
	faces := Length(len(c.wall.Faces))
	high := here[0].Height
	sheets := c.set.sheetsOf(c.wall)
	for i := range c.wall.Faces {
		layers := len(c.wall.Faces[i].Layers)
		n := min(layers, (len(here)+int(faces)-1)/int(faces))
		for _, x := range sheets {
			if x.face == c.wall.Faces[i].Face && x.k >= layers-n {
				c.box(board, "flute closer: "+c.set.boardName(here[0].Board), x.from, x.to, top, top+high)
			}
		}
	}
	rimA, rimB := frameRims(c.wall)
	if i := slices.IndexFunc(c.wall.Batts, func(b layout.Batt) bool {
		box := b.Outline.Bounds()
		return box.Min.Y >= top && box.Min.X <= c.u && c.u <= box.Max.X
	}); i >= 0 {
		name := c.wall.Batts[i].Product
		if p, ok := c.set.in.Catalogue.InsulationProduct(name); ok {
			name = p.Name
		}
		c.box(wool, "in the flute: "+name, rimB, rimA, top, top+high)
	}
	if i := slices.IndexFunc(c.wall.Seals, func(s layout.Strip) bool { return s.Use == layout.UseFluteCloser }); i >= 0 {
		a, b := c.set.surfaces(c.wall)
		name := c.set.sundryName(c.wall.Seals[i].Product)
		c.box(sealing, name, a-fillDrawn, a+fillDrawn, top+high-fillDrawn, top+high)
		c.box(sealing, name, b-fillDrawn, b+fillDrawn, top+high-fillDrawn, top+high)
	}
}

// closerBeside returns the middle of the closed flute nearest to u.
func closerBeside(w *layout.Wall, u Length) (Length, bool) {
	best, found := Length(0), false
	for i := range w.Caps {
		p := &w.Caps[i]
		at := p.At.X + p.Width/2
		stands := slices.ContainsFunc(w.Members, func(m layout.Member) bool { return m.Upright() && (m.From.X-at).Abs() < m.Width })
		if p.Use == layout.UseFluteCloser && !stands && (!found || (at-u).Abs() < (best-u).Abs()) {
			best, found = at, true
		}
	}
	return best, found
}
