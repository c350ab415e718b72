package sheets

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

const millimetre = Length(1e6)

// levelCut adds the parts of one wall that a level cut meets to a detail.
type levelCut struct {
	*detail
	set  *Set
	wall *layout.Wall
	from geom.Frame // of the detail
	z    Length     // of the cut above the floor
	u    geom.Interval
	near Length // u of what the detail is about
}

// incidental reports whether an upright only happens to stand in the part shown:
// where the detail is about something else, a stud of the module, or one at which
// the drawing leaves the wall.
func (c *levelCut) incidental(m *layout.Member) bool {
	const beside = 80 * millimetre
	if m.From.X-m.Width/2 < c.u.From-millimetre || m.From.X+m.Width/2 > c.u.To+millimetre {
		return true
	}
	away := (m.From.X - c.near).Abs()
	switch c.kind {
	case movementDetail:
		return away > 2*beside
	case bodyDetail, spliceDetail:
		return away > millimetre
	}
	return (m.Role == layout.Stud || m.Role == layout.Cripple) && away > beside
}

// sheet is one board layer across a wall.
type sheet struct {
	face     plan.Face
	k        int    // layer, from 0 at the frame
	from, to Length // v
	layer    *layout.Layer
}

// markAt returns the mark of the piece of the layer at a place on the wall; nothing
// where there is none.
func (x *sheet) markAt(at geom.Point) string {
	for i := range x.layer.Pieces {
		if p := &x.layer.Pieces[i]; p.Outline.Contains(at) {
			return layout.PieceMark(x.face, x.k, p)
		}
	}
	return ""
}

// sheetsOf lists the board layers of a wall with their places across it.
func (s *Set) sheetsOf(w *layout.Wall) []sheet {
	a, b := frameRims(w)
	var list []sheet
	for i := range w.Faces {
		f := &w.Faces[i]
		for k := range f.Layers {
			x := sheet{face: f.Face, k: k, layer: &f.Layers[k]}
			t := s.boardThickness(x.layer.Board)
			if f.Face == plan.FaceA {
				x.from, x.to = a, a+t
				a += t
			} else {
				x.from, x.to = b-t, b
				b -= t
			}
			list = append(list, x)
		}
	}
	return list
}

// frameRims returns the v of the frame's outermost edges at face A and face B.
func frameRims(w *layout.Wall) (a, b Length) {
	for i, fl := range w.FrameLines {
		hi, lo := fl.Offset+fl.Depth/2, fl.Offset-fl.Depth/2
		if i == 0 {
			a, b = hi, lo
		}
		a, b = max(a, hi), min(b, lo)
	}
	return a, b
}

// surfaces returns the v of the finished surfaces, or of the frame where it is
// not boarded.
func (s *Set) surfaces(w *layout.Wall) (a, b Length) {
	a, b = frameRims(w)
	for _, x := range s.sheetsOf(w) {
		a, b = max(a, x.to), min(b, x.from)
	}
	return a, b
}

// edges returns the v of every surface of boards and frames, ascending.
func (s *Set) edges(w *layout.Wall) []Length {
	var list []Length
	for _, fl := range w.FrameLines {
		list = append(list, fl.Offset-fl.Depth/2, fl.Offset+fl.Depth/2)
	}
	for _, x := range s.sheetsOf(w) {
		list = append(list, x.from, x.to)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

func (s *Set) boardThickness(id string) Length {
	if b, ok := s.in.Catalogue.Board(id); ok {
		return b.Thickness
	}
	return 12_500_000
}

// at returns the place of u, v in the detail.
func (c *levelCut) at(u, v Length) geom.Point { return c.from.Local(c.wall.Point(u, v)) }

func (c *levelCut) add(m matter, name string, uv ...geom.Point) {
	shape := make([]geom.Point, len(uv))
	for i, p := range uv {
		shape[i] = c.at(p.X, p.Y)
	}
	c.parts = append(c.parts, part{matter: m, name: name, shape: shape})
}

// box adds a rectangle along the wall.
func (c *levelCut) box(m matter, name string, u0, u1, v0, v1 Length) {
	c.add(m, name, geom.Pt(u0, v0), geom.Pt(u1, v0), geom.Pt(u1, v1), geom.Pt(u0, v1))
}

// cut adds everything of the wall, and the dimensions across it if any of it
// shows. Dimensions of upright walls stand below.
func (c *levelCut) cut(dimensioned, upright bool) {
	before := len(c.parts)
	c.wools()
	c.boards()
	c.caps()
	c.backings()
	c.studs()
	c.gussets()
	c.bracketsBehind()
	c.liner()
	c.pipes()
	c.closings()
	c.seals()
	c.joints()
	c.screws()
	if len(c.parts) == before {
		return
	}
	c.cutBreaks()
	if dimensioned {
		c.thicknesses(!upright)
	}
}

// crossings lists where an outline is cut by the line at p along an axis: by
// the level line y = p, or by the upright one x = p.
func crossings(shape geom.Polygon, holes []geom.Polygon, p Length, upright bool) []geom.Interval {
	var cuts []Length
	one := func(s geom.Segment) {
		a, b := s.A, s.B
		if upright {
			a, b = geom.Pt(a.Y, a.X), geom.Pt(b.Y, b.X)
		}
		if (a.Y > p) == (b.Y > p) {
			return
		}
		t := float64(p-a.Y) / float64(b.Y-a.Y)
		cuts = append(cuts, a.X+Length(t*float64(b.X-a.X)))
	}
	shape.Edges(one)
	for _, h := range holes {
		h.Edges(one)
	}
	slices.Sort(cuts)
	var out []geom.Interval
	for i := 0; i+1 < len(cuts); i += 2 {
		out = append(out, geom.Interval{From: cuts[i], To: cuts[i+1]})
	}
	return out
}

// joined sorts stretches, cuts them to a window and joins those that touch.
func joined(list []geom.Interval, window geom.Interval) []geom.Interval {
	slices.SortFunc(list, func(a, b geom.Interval) int { return int(a.From/1000 - b.From/1000) })
	var out []geom.Interval
	for _, x := range list {
		x.From, x.To = max(x.From, window.From), min(x.To, window.To)
		if x.Len() <= 0 {
			continue
		}
		if n := len(out) - 1; n >= 0 && x.From-out[n].To < millimetre/10 {
			out[n].To = max(out[n].To, x.To)
			continue
		}
		out = append(out, x)
	}
	return out
}

func (c *levelCut) boards() {
	for _, x := range c.set.sheetsOf(c.wall) {
		var spans []geom.Interval
		for i := range x.layer.Pieces {
			p := &x.layer.Pieces[i]
			if box := p.Outline.Bounds(); box.Min.X < c.u.To && box.Max.X > c.u.From {
				spans = append(spans, crossings(p.Outline, p.Holes, c.z, false)...)
			}
		}
		for _, s := range joined(spans, c.u) {
			before := len(c.parts)
			c.curvedBox(c.set.layerName(x.k, x.layer.Board), s, x.from, x.to)
			c.own(before, c.wall.ID, x.markAt(geom.Pt((s.From+s.To)/2, c.z)))
		}
	}
}

// curveDrawn is how near drawings of curved boards keep to the curve.
const curveDrawn = millimetre / 2

// curvedBox adds a board along the wall, with the curve of the wall.
func (c *levelCut) curvedBox(name string, u geom.Interval, v0, v1 Length) {
	if c.wall.Curve == nil {
		c.box(board, name, u.From, u.To, v0, v1)
		return
	}
	shape := c.wall.Ground(u, v0, v1, curveDrawn)
	for i := range shape {
		shape[i] = c.from.Local(shape[i])
	}
	c.parts = append(c.parts, part{matter: board, name: name, shape: shape})
}

// layerName names a board layer; layer 1 is against the frame.
func (s *Set) layerName(k int, id string) string {
	return fmt.Sprintf("layer %d: %s", k+1, s.boardName(id))
}

// fills lists, for one frame line, the products of its fill with their places
// across the wall: side by side in the middle of the frame.
func (c *levelCut) wools() {
	for _, f := range c.set.fillsOf(c.wall) {
		var spans []geom.Interval
		for _, b := range f.batts {
			spans = append(spans, crossings(b.Outline, b.Holes, c.z, false)...)
		}
		for _, s := range joined(spans, c.u) {
			c.box(wool, f.name, s.From, s.To, f.from, f.to)
		}
	}
}

// filling is one product of fill in one plane of studs.
type filling struct {
	name     string
	from, to Length // v
	batts    []*layout.Batt
}

// fillsOf groups the batts of a wall by plane and product. Several products in
// one plane lie side by side.
func (s *Set) fillsOf(w *layout.Wall) []filling {
	type id struct {
		offset, thickness Length
		product           string
		layer             int
	}
	index := map[id]int{}
	var list []filling
	var ids []id
	for i := range w.Batts {
		b := &w.Batts[i]
		if box := b.Outline.Bounds(); box.Min.Y >= topAt(w.Top, box.Min.X) {
			continue // in the flutes of a deck
		}
		offset, _ := s.battRoom(w, b)
		key := id{offset, b.Thickness, b.Product, b.Layer}
		n, ok := index[key]
		if !ok {
			n = len(list)
			index[key] = n
			list, ids = append(list, filling{name: s.woolName(b.Product, b.Thickness)}), append(ids, key)
		}
		list[n].batts = append(list[n].batts, b)
	}
	for i := range list {
		var before, total Length
		for j, o := range ids {
			if o.offset == ids[i].offset {
				total += o.thickness
				if j < i {
					before += o.thickness
				}
			}
		}
		_, depth := s.battRoom(w, list[i].batts[0])
		scale := min(1, float64(depth)/float64(total))
		v := ids[i].offset + min(total, depth)/2
		list[i].to = v - Length(scale*float64(before))
		list[i].from = list[i].to - Length(scale*float64(ids[i].thickness))
	}
	return list
}

// battRoom returns the middle and the depth of what a batt lies in: a frame, beside
// the liner that stands in it and with what the batt takes of the gap behind it, or
// that gap.
func (s *Set) battRoom(w *layout.Wall, b *layout.Batt) (offset, depth Length) {
	a, z := w.FrameLines[b.Line], w.FrameLines[min(b.Line+1, len(w.FrameLines)-1)]
	if !b.Gap {
		depth = a.Depth - 2*millimetre
		more := min(max(b.Thickness-depth, 0), s.gapBehind(w))
		if len(w.Liner) > 0 {
			more = -s.boardThickness(w.Liner[0].Board) - 2*millimetre
		}
		return a.Offset - more/2, depth + more
	}
	if z.Offset == a.Offset { // a lining: the gap lies behind its only frame
		return a.Offset - a.Depth/2 - b.Thickness/2, b.Thickness
	}
	from, to := z.Offset+z.Depth/2, a.Offset-a.Depth/2
	return (from + to) / 2, max(to-from, 0)
}

// studs adds the uprights that the cut meets.
func (c *levelCut) studs() {
	for i := range c.wall.Members {
		m := &c.wall.Members[i]
		if !m.Upright() || c.incidental(m) || m.From.Y > c.z || m.To.Y < c.z || m.From.X+m.Width/2 < c.u.From || m.From.X-m.Width/2 > c.u.To {
			continue
		}
		before := len(c.parts)
		c.stud(m, slices.ContainsFunc(c.wall.Members[:i], func(o layout.Member) bool {
			return o.Line == m.Line && o.From.X == m.From.X && o.Upright() && o.From.Y <= c.z && o.To.Y >= c.z
		}))
		c.own(before, c.wall.ID, m.Mark())
	}
}

// stud adds the shape of one stud: web, flanges and lips.
func (c *levelCut) stud(m *layout.Member, second bool) {
	p, ok := c.set.in.Catalogue.Profile(m.Product)
	if !ok {
		p = &catalogue.Profile{Web: c.wall.FrameLines[m.Line].Depth, Flange: m.Width}
	}
	if p.Kind == catalogue.Channel {
		c.channel(m, p, second || c.wall.FrameLines[m.Line].Offset != c.wall.FrameLines[0].Offset)
		return
	}
	v, half := c.wall.FrameLines[m.Line].Offset, p.Web/2
	web, sign := m.From.X-m.Width/2, Length(1)
	if c.webRight(m) != second {
		web, sign = m.From.X+m.Width/2, -1
	}
	if second {
		half -= 2 * millimetre // drawn within the other of the pair
	}
	far := web + sign*m.Width
	if !second {
		c.box(blank, "", web, far, v-half, v+half)
	}
	line := []geom.Point{{X: far, Y: v + half}, {X: web, Y: v + half}, {X: web, Y: v - half}, {X: far, Y: v - half}}
	if p.Lip > 0 {
		line = append([]geom.Point{{X: far, Y: v + half - p.Lip}}, append(line, geom.Pt(far, v-half+p.Lip))...)
	}
	name := roleName(c.wall, m.Role) + ": " + c.set.profileName(m.Product)
	if m.Boxed {
		name = roleName(c.wall, m.Role) + ": two boxed, " + c.set.profileName(m.Product)
	}
	if c.kind == spliceDetail {
		name = "spliced " + roleName(c.wall, m.Role) + ": " + c.set.profileName(m.Product) + ", lap " + c.set.units.thin(c.lapAt(m))
	}
	c.add(steel, name, line...)
}

// lapAt returns by how much the pieces of a spliced stud lap.
func (c *levelCut) lapAt(m *layout.Member) Length {
	lap := m.Lap
	for _, o := range c.wall.Members {
		if o.Spliced && o.Line == m.Line && o.From.X == m.From.X && o.From.Y <= c.z && o.To.Y >= c.z {
			lap = max(lap, o.Lap)
		}
	}
	return lap
}

// angleLeg is the size at which the legs of holding angles are drawn.
const angleLeg = 25 * millimetre

// liner adds the board between the studs of a shaft wall, against their flanges on
// the shaft's side, and the angles that hold it.
func (c *levelCut) liner() {
	_, back := frameRims(c.wall)
	for i := range c.wall.Liner {
		p := &c.wall.Liner[i]
		from, to := back+2*millimetre, back+2*millimetre+c.set.boardThickness(p.Board)
		for _, s := range crossings(p.Outline, p.Holes, c.z, false) {
			lo, hi := max(s.From, c.u.From), min(s.To, c.u.To)
			if lo >= hi {
				continue
			}
			c.box(board, "liner: "+c.set.boardName(p.Board), lo, hi, from, to)
			for _, at := range []struct{ u, in Length }{{s.From, angleLeg}, {s.To, -angleLeg}} {
				if at.u > c.u.From && at.u < c.u.To {
					c.add(steel, "holding angle", geom.Pt(at.u+at.in, to), geom.Pt(at.u, to), geom.Pt(at.u, to+angleLeg))
				}
			}
		}
	}
}

// channel adds the shape of one furring channel or rib of a pocket: its web against
// the boards of its face, its flanges away from them. The lips of a hat stand
// outwards.
func (c *levelCut) channel(m *layout.Member, p *catalogue.Profile, faceB bool) {
	fl := c.wall.FrameLines[m.Line]
	top, back, half := fl.Offset+fl.Depth/2, fl.Offset+fl.Depth/2-p.Flange, p.Web/2
	if faceB {
		top, back = fl.Offset-fl.Depth/2, fl.Offset-fl.Depth/2+p.Flange
	}
	lip := p.Lip
	if p.Standard == "ASTM C645" { // a hat
		lip = -lip
	}
	u := m.From.X
	c.add(steel, roleName(c.wall, m.Role)+": "+c.set.profileName(m.Product),
		geom.Pt(u-half+lip, back), geom.Pt(u-half, back), geom.Pt(u-half, top), geom.Pt(u+half, top), geom.Pt(u+half, back), geom.Pt(u+half-lip, back))
}

// webRight reports whether a stud's web stands at the side of greater u: towards
// the opening or the end beside which it stands.
func (c *levelCut) webRight(m *layout.Member) bool {
	switch m.Role {
	case layout.OpeningStud:
		return slices.ContainsFunc(c.wall.Openings, func(o layout.Opening) bool {
			return (o.U.From - m.From.X - m.Width/2).Abs() < 5*millimetre
		})
	case layout.EndStud:
		e := c.wall.FrameLines[m.Line].Extent
		return e.To-m.From.X < m.From.X-e.From
	}
	return false
}

func (s *Set) profileName(id string) string {
	if p, ok := s.in.Catalogue.Profile(id); ok {
		return p.Name
	}
	return id
}

func (c *levelCut) gussets() {
	a, b := frameRims(c.wall)
	for _, g := range c.wall.Gussets {
		if c.z < g.At.Y-g.Height/2 || c.z > g.At.Y+g.Height/2 || !c.u.Contains(g.At.X) {
			continue
		}
		t, half := c.set.boardThickness(g.Board), c.flangeAt(g.At.X)/2
		mid := (a + b) / 2
		c.box(board, "gusset: "+c.set.boardName(g.Board), g.At.X-half-t, g.At.X-half, mid-g.Width/2, mid+g.Width/2)
	}
}

// flangeAt returns the width of the stud at u.
func (c *levelCut) flangeAt(u Length) Length {
	for i := range c.wall.Members {
		if m := &c.wall.Members[i]; m.Upright() && m.From.X == u {
			return m.Width
		}
	}
	return 50 * millimetre
}

// cutBreaks adds the lines at which the drawing leaves the wall.
func (c *levelCut) cutBreaks() {
	const past = 8 * millimetre
	a, b := c.set.surfaces(c.wall)
	extent := wholeExtent(c.wall)
	for _, side := range []struct {
		u  Length
		on bool
	}{{c.u.From, c.u.From > extent.From}, {c.u.To, c.u.To < extent.To}} {
		if side.on && !c.inOpening(side.u) {
			c.breaks = append(c.breaks, geom.Segment{A: c.at(side.u, a+past), B: c.at(side.u, b-past)})
		}
	}
}

func (c *levelCut) inOpening(u Length) bool {
	return slices.ContainsFunc(c.wall.Openings, func(o layout.Opening) bool {
		return o.U.From < u && u < o.U.To && o.Sill < c.z && c.z < o.Head
	})
}

// wholeExtent returns the stretch that frame and boards take up.
func wholeExtent(w *layout.Wall) geom.Interval {
	e := extentOf(w)
	for i := range w.Faces {
		for _, l := range w.Faces[i].Layers {
			e.From, e.To = min(e.From, l.Extent.From), max(e.To, l.Extent.To)
		}
	}
	return e
}

// thicknesses adds the dimensions across the wall, along y or along x.
func (c *levelCut) thicknesses(upright bool) {
	edges := c.set.edges(c.wall)
	place := func(v Length) Length {
		p := c.at(c.near, v)
		if upright {
			return p.Y
		}
		return p.X
	}
	m, total := measure{upright: upright}, measure{upright: upright, row: 1}
	for _, v := range edges {
		m.at = append(m.at, place(v))
	}
	slices.Sort(m.at)
	for i := 1; i < len(m.at); i++ {
		m.texts = append(m.texts, c.set.units.thin(m.at[i]-m.at[i-1]))
	}
	n := len(m.at)
	total.at = []Length{m.at[0], m.at[n-1]}
	total.texts = []string{c.set.units.thin(m.at[n-1] - m.at[0])}
	c.measures = append(c.measures, m, total)
}

// woolName names an insulation with its thickness.
func (s *Set) woolName(id string, thickness Length) string {
	name := id
	if w, ok := s.in.Catalogue.InsulationProduct(id); ok {
		name = w.Name
	}
	if t := s.units.thin(thickness); !strings.Contains(name, t) {
		name += ", " + t
	}
	return name
}
