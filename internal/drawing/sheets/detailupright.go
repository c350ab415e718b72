package sheets

import (
	"cmp"
	"slices"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// uprightCut adds the parts of one wall that an upright cut across it meets,
// seen towards the wall's end: face A at the left.
type uprightCut struct {
	*detail
	set    *Set
	wall   *layout.Wall
	u      Length        // of the cut
	z      geom.Interval // shown
	origin Length        // z of the detail's origin
}

// at returns the place of a point across the wall at height z.
func (c *uprightCut) at(v, z Length) geom.Point { return geom.Pt(-v, z-c.origin) }

func (c *uprightCut) line(m matter, name string, vz ...geom.Point) {
	shape := make([]geom.Point, len(vz))
	for i, p := range vz {
		shape[i] = c.at(p.X, p.Y)
	}
	c.parts = append(c.parts, part{matter: m, name: name, shape: shape})
}

// box adds a rectangle; its first side stands, so that wool is drawn upright.
func (c *uprightCut) box(m matter, name string, v0, v1, z0, z1 Length) {
	c.line(m, name, geom.Pt(v0, z0), geom.Pt(v0, z1), geom.Pt(v1, z1), geom.Pt(v1, z0))
}

func (c *uprightCut) cut() {
	c.wools()
	c.boards()
	c.tracks()
	c.studsBeyond()
	c.gussets()
	c.bracketsBehind()
	c.liner()
	c.pipes()
	c.caps()
	c.packing()
	c.closers()
	c.fixings()
	a, b := c.set.surfaces(c.wall)
	for _, z := range []Length{c.z.From, c.z.To} {
		if z > 0 && z < topAt(c.wall.Top, c.u) && c.boarded(z) {
			c.breaks = append(c.breaks, geom.Segment{A: c.at(a+8*millimetre, z), B: c.at(b-8*millimetre, z)})
		}
	}
}

// boarded reports whether boards go on at height z.
func (c *uprightCut) boarded(z Length) bool {
	for _, x := range c.set.sheetsOf(c.wall) {
		for _, s := range c.boardSpans(x) {
			if s.Contains(z) {
				return true
			}
		}
	}
	return false
}

func (c *uprightCut) wools() {
	for _, f := range c.set.fillsOf(c.wall) {
		var spans []geom.Interval
		for _, b := range f.batts {
			spans = append(spans, crossings(b.Outline, b.Holes, c.u, true)...)
		}
		for _, s := range joined(spans, c.z) {
			c.box(wool, f.name, f.from, f.to, s.From, s.To)
		}
	}
}

func (c *uprightCut) boards() {
	for _, x := range c.set.sheetsOf(c.wall) {
		for _, s := range c.boardSpans(x) {
			before := len(c.parts)
			c.box(board, c.set.layerName(x.k, x.layer.Board), x.from, x.to, s.From, s.To)
			c.own(before, c.wall.ID, x.markAt(geom.Pt(c.u, (s.From+s.To)/2)))
		}
	}
}

func (c *uprightCut) boardSpans(x sheet) []geom.Interval {
	var spans []geom.Interval
	for i := range x.layer.Pieces {
		p := &x.layer.Pieces[i]
		if box := p.Outline.Bounds(); box.Min.X <= c.u && box.Max.X >= c.u {
			spans = append(spans, crossings(p.Outline, p.Holes, c.u, true)...)
		}
	}
	return joined(spans, c.z)
}

// tracks adds the level members that the cut meets: U shapes with their legs up,
// or down for those that hold studs from above.
func (c *uprightCut) tracks() {
	for i := range c.wall.Members {
		m := &c.wall.Members[i]
		if m.Upright() || m.From.X > c.u || m.To.X < c.u {
			continue
		}
		z, leg := zOn(m.From, m.To, c.u), m.Width
		if m.Role == layout.SoffitTrack || m.Role == layout.SillTrack {
			leg = -leg
		}
		if z < c.z.From || z > c.z.To {
			continue
		}
		v, half := c.wall.FrameLines[m.Line].Offset, c.wall.FrameLines[m.Line].Depth/2
		name := roleName(c.wall, m.Role) + ": " + c.set.profileName(m.Product) + ", legs " + c.set.units.thin(m.Width)
		before := len(c.parts)
		c.line(steel, name, geom.Pt(v+half, z+leg), geom.Pt(v+half, z), geom.Pt(v-half, z), geom.Pt(v-half, z+leg))
		c.own(before, c.wall.ID, m.Mark())
	}
}

// zOn returns the height at u of the line from a to b.
func zOn(a, b geom.Point, u Length) Length {
	if a.X == b.X {
		return a.Y
	}
	return a.Y + Length(float64(b.Y-a.Y)*float64(u-a.X)/float64(b.X-a.X))
}

// studsBeyond adds, for each plane of studs, the next upright that is seen behind
// the cut.
func (c *uprightCut) studsBeyond() {
	if c.kind == sealDetail {
		return // the service hides them
	}
	for _, p := range planes(c.wall) {
		if next := c.nextUpright(p.offset); next != nil {
			c.studBeyond(next)
		}
	}
}

// nextUpright returns the first upright behind the cut in the plane at an offset;
// nil if there is none.
func (c *uprightCut) nextUpright(offset Length) *layout.Member {
	var next *layout.Member
	for i := range c.wall.Members {
		m := &c.wall.Members[i]
		if m.Upright() && c.wall.FrameLines[m.Line].Offset == offset && m.From.X > c.u &&
			m.From.Y < c.z.To && m.To.Y > c.z.From && (next == nil || m.From.X < next.From.X) {
			next = m
		}
	}
	return next
}

func (c *uprightCut) studBeyond(m *layout.Member) {
	fl := c.wall.FrameLines[m.Line]
	half := fl.Depth / 2
	if p, ok := c.set.in.Catalogue.Profile(m.Product); ok {
		if p.Kind == catalogue.Channel {
			c.channelsBeyond(m, p)
			return
		}
		half = p.Web / 2
	}
	lo, hi := max(m.From.Y, c.z.From), min(m.To.Y, c.z.To)
	name := roleName(c.wall, m.Role) + " beyond: " + c.set.profileName(m.Product)
	c.line(beyond, name, geom.Pt(fl.Offset+half, lo), geom.Pt(fl.Offset+half, hi), geom.Pt(fl.Offset-half, hi), geom.Pt(fl.Offset-half, lo))
}

func (c *uprightCut) gussets() {
	a, b := frameRims(c.wall)
	for _, g := range c.wall.Gussets {
		lo, hi := max(g.At.Y-g.Height/2, c.z.From), min(g.At.Y+g.Height/2, c.z.To)
		if g.At.X > c.u && g.At.X < c.u+700*millimetre && lo < hi {
			mid := (a + b) / 2
			c.line(beyond, "gusset beyond: "+c.set.boardName(g.Board),
				geom.Pt(mid+g.Width/2, lo), geom.Pt(mid+g.Width/2, hi), geom.Pt(mid-g.Width/2, hi), geom.Pt(mid-g.Width/2, lo), geom.Pt(mid+g.Width/2, lo))
			return
		}
	}
}

// caps adds the strips that close a free top and the head and sill of a reveal.
func (c *uprightCut) caps() {
	hi, lo := c.set.surfaces(c.wall)
	stacked, n := Length(0), 0
	for i := range c.wall.Caps {
		p := &c.wall.Caps[i]
		t := c.set.boardThickness(p.Board)
		name := p.Use + ": " + c.set.boardName(p.Board)
		switch top := topAt(c.wall.Top, c.u); {
		case p.Use == "top cap" && c.z.To >= top && c.covers(p):
			from, to := c.set.under(c.wall, n)
			z := top - c.wall.Head.Cap + stacked
			c.box(board, name, from, to, z, z+t)
			stacked, n = stacked+t, n+1
		case p.Use == "reveal":
			for _, o := range c.wall.Openings {
				if c.u < o.U.From || c.u > o.U.To || p.At.Y < c.z.From || p.At.Y > c.z.To {
					continue
				}
				switch {
				case p.At == geom.Pt(o.U.From, p.At.Y) && p.At.Y > o.Sill && p.At.Y <= o.Head:
					c.box(board, name, lo, hi, p.At.Y-t, p.At.Y)
				case p.At == geom.Pt(o.U.To, p.At.Y) && p.At.Y == o.Sill:
					c.box(board, name, lo, hi, p.At.Y, p.At.Y+t)
				}
			}
		}
	}
}

// packing adds what lies between head track and soffit: board strips, and the
// plates under the flutes of a metal deck.
func (c *uprightCut) packing() {
	h, top := c.wall.Head, topAt(c.wall.Top, c.u)
	for _, p := range c.wall.Plates {
		if p.U.Contains(c.u) && c.z.Contains(p.Z) {
			v := c.wall.FrameLines[p.Line].Offset
			c.line(steel, c.set.sundryName(p.Product), geom.Pt(v-p.Width/2, p.Z), geom.Pt(v+p.Width/2, p.Z))
		}
	}
	strip := slices.IndexFunc(c.wall.Caps, func(p layout.Piece) bool { return p.Use == "head strip" })
	if h.Strips == 0 || strip < 0 || !c.z.Contains(top) {
		return
	}
	name, t := "head strip: "+c.set.boardName(c.wall.Caps[strip].Board), h.Pack/Length(h.Strips)
	for _, p := range planes(c.wall) {
		for i := range Length(h.Strips) {
			c.box(board, name, p.offset-p.depth/2, p.offset+p.depth/2, top-h.Pack+i*t, top-h.Pack+(i+1)*t)
		}
	}
}

// covers reports whether a strip along the top lies over the cut.
func (c *uprightCut) covers(p *layout.Piece) bool {
	box := p.Outline.Bounds()
	return p.At.X+box.Min.Y <= c.u && c.u < p.At.X+box.Max.Y
}

// slabName names floor and soffit.
func slabName(what, material string) string {
	if material == "" {
		material = plan.Concrete
	}
	return what + ": " + strings.ReplaceAll(material, "_", " ")
}

// slab adds the floor, or the soffit where the wall reaches it.
func (c *uprightCut) slab(name string, z, depth Length) {
	a, b := c.set.surfaces(c.wall)
	const past = 60 * millimetre
	c.box(ground, name, b-past, a+past, min(z, z+depth), max(z, z+depth))
}

// fixings adds anchors and seals between tracks and slab, and what closes the
// gaps of the boards.
func (c *uprightCut) fixings() {
	top := topAt(c.wall.Top, c.u)
	for _, s := range c.wall.Seals {
		if s.Line < 0 || s.From.X == s.To.X || s.From.X > c.u || s.To.X < c.u {
			continue
		}
		fl := c.wall.FrameLines[s.Line]
		z, t := zOn(s.From, s.To, c.u), -tapeDrawn
		switch s.Use {
		case "soffit":
			t = tapeDrawn
		case "floor":
		default:
			continue
		}
		if c.z.Contains(z) {
			c.box(sealing, c.set.sundryName(s.Product), fl.Offset-fl.Depth/2, fl.Offset+fl.Depth/2, z, z+t)
		}
	}
	const into = 40 * millimetre
	drawn := map[string]bool{}
	for _, r := range c.wall.Anchors {
		z, in := c.wall.Base, -into
		if r.Into == "soffit" {
			z, in = top, into
		}
		if (r.Into != "floor" && r.Into != "soffit") || drawn[r.Into] || !c.z.Contains(z) {
			continue
		}
		drawn[r.Into] = true
		for _, p := range planes(c.wall) {
			from := z
			if r.Into == "soffit" {
				from -= c.wall.Head.Pack // anchors go through the strips packed there
			}
			c.line(fixing, c.set.sundryName(r.Anchor), geom.Pt(p.offset, from), geom.Pt(p.offset, z+in))
		}
	}
	c.rims(top)
}

// rims fills the gaps between outer boards and slab where they are closed.
func (c *uprightCut) rims(top Length) {
	rim, _ := c.set.in.Catalogue.Sundry(c.wall.Rim)
	foot := c.wall.Base
	slides := c.wall.Head.Kind == plan.HeadDeflection && (rim == nil || rim.Kind != catalogue.KindSealant)
	for i := range c.wall.Faces {
		f := &c.wall.Faces[i]
		n := len(f.Layers) - 1
		for _, x := range c.set.sheetsOf(c.wall) {
			if x.face != f.Face || x.k != n {
				continue
			}
			stands := c.boardSpans(x)
			for _, j := range c.wall.Joints {
				if j.Kind != layout.Perimeter || j.Face != f.Face || j.From.X == j.To.X || !spans(c.u, j.From.X, j.To.X) || len(stands) == 0 {
					continue
				}
				lo, hi := stands[0].From, stands[len(stands)-1].To
				switch {
				case !slides && c.z.Contains(top) && top-hi < 100*millimetre && top > hi && max(j.From.Y, j.To.Y) > hi-millimetre:
					c.box(sealing, c.set.sundryName(c.wall.Rim), x.from, x.to, hi, top)
				case c.z.Contains(foot) && lo < foot+100*millimetre && lo > foot && j.From.Y == lo:
					c.box(sealing, c.set.sundryName(c.wall.Rim), x.from, x.to, foot, lo)
				}
			}
		}
	}
}

// gaps adds, from a slab's face at z, the dimensions of what stops short of it.
func (c *uprightCut) gaps(z Length, head bool) {
	type mark struct {
		at   Length
		what string
	}
	var marks []mark
	add := func(what string, at Length) {
		if at != z && !slices.ContainsFunc(marks, func(m mark) bool { return m.what == what && m.at == at }) {
			marks = append(marks, mark{at, what})
		}
	}
	for _, x := range c.set.sheetsOf(c.wall) {
		if s := c.boardSpans(x); len(s) > 0 && head {
			add("board", s[len(s)-1].To)
		} else if len(s) > 0 {
			add("board", s[0].From)
		}
	}
	for _, m := range c.wall.Members {
		switch {
		case m.Role == layout.SoffitTrack && head && m.From.X <= c.u && c.u <= m.To.X:
			add("leg", zOn(m.From, m.To, c.u)-m.Width)
		case m.Role == layout.FloorTrack && !head && m.From.X <= c.u && c.u <= m.To.X:
			add("leg", z+m.Width)
		}
	}
	if head {
		if at, ok := c.studHead(); ok {
			add("stud", at)
		}
	}
	slices.SortStableFunc(marks, func(a, b mark) int { return cmp.Compare((a.at - z).Abs(), (b.at - z).Abs()) })
	for i, m := range marks {
		lo, hi := min(m.at, z)-c.origin, max(m.at, z)-c.origin
		c.measures = append(c.measures, measure{upright: true, row: i, at: []Length{lo, hi},
			texts: []string{m.what + " " + c.set.units.thin(hi-lo)}})
	}
}

// studHead returns the height of the head of the next stud.
func (c *uprightCut) studHead() (Length, bool) {
	var next *layout.Member
	for i := range c.wall.Members {
		m := &c.wall.Members[i]
		if m.Upright() && m.To.Y > c.z.From && m.From.X > c.u && (next == nil || m.From.X < next.From.X) {
			next = m
		}
	}
	if next == nil {
		return 0, false
	}
	return next.To.Y, true
}

// thicknesses adds the dimensions across the wall, below.
func (c *uprightCut) thicknesses() {
	edges := c.set.edges(c.wall)
	m, total := measure{}, measure{row: 1}
	for i := len(edges) - 1; i >= 0; i-- {
		m.at = append(m.at, -edges[i])
		if n := len(m.at); n > 1 {
			m.texts = append(m.texts, c.set.units.thin(m.at[n-1]-m.at[n-2]))
		}
	}
	total.at = []Length{m.at[0], m.at[len(m.at)-1]}
	total.texts = []string{c.set.units.thin(total.at[1] - total.at[0])}
	c.measures = append(c.measures, m, total)
}
