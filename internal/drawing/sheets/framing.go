package sheets

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// framing is the elevation of one plane of studs.
type framing struct {
	elevation
	plane plane
}

// plane is the frame lines that lie in one plane: one, or several where the
// wall is interrupted.
type plane struct {
	lines         []int // indices into the wall's frame lines
	offset, depth Length
	extent        geom.Interval
	breaks        []geom.Interval // between the lines
}

// planes returns the wall's planes of studs, from face A to face B.
func planes(w *layout.Wall) []plane {
	var list []plane
	for i, fl := range w.FrameLines {
		n := slices.IndexFunc(list, func(p plane) bool { return p.offset == fl.Offset })
		if n < 0 {
			list = append(list, plane{lines: []int{i}, offset: fl.Offset, depth: fl.Depth, extent: fl.Extent})
			continue
		}
		p := &list[n]
		p.lines = append(p.lines, i)
		p.breaks = append(p.breaks, geom.Interval{From: p.extent.To, To: fl.Extent.From})
		p.extent.To = max(p.extent.To, fl.Extent.To)
	}
	slices.SortStableFunc(list, func(a, b plane) int { return cmp.Compare(b.offset, a.offset) })
	return list
}

// near returns the plane of studs on which a face is boarded.
func near(w *layout.Wall, f plan.Face) plane {
	list := planes(w)
	if len(list) == 0 {
		return plane{}
	}
	if f == plan.FaceB {
		return list[len(list)-1]
	}
	return list[0]
}

// newFraming prepares the framing elevation of one plane of studs.
func (s *Set) newFraming(w *layout.Wall, n int, sc scale, window geom.Interval) *framing {
	all := planes(w)
	p := all[n]
	from := w.FrameFrom()
	f := &framing{plane: p, elevation: elevation{
		set: s, wall: w, mirror: from.RunsBack(), key: fmt.Sprintf("frame%d", n+1), scale: sc,
		extent: p.extent, window: window, datum: p.extent.From, breaks: p.breaks,
		first: window.From <= p.extent.From, last: window.To >= p.extent.To,
	}}
	f.title, f.subtitle = "Framing", "seen from face "+strings.ToUpper(string(from))
	if c := w.Curve; c != nil {
		f.subtitle += fmt.Sprintf(", unrolled along the axis, radius %s; studs stand on the radius", s.units.dim(c.Axis.Radius))
	}
	if len(all) > 1 {
		f.title = "Framing at face A"
		if n > 0 {
			f.title = "Framing at face B"
		}
	}
	f.part(window)
	f.past = f.closingsPast()
	f.collect()
	return f
}

// members calls f for each member of the plane that shows in the window. Of
// two studs boxed into each other it gives the first, with the mark of both.
func (f *framing) members(do func(m *layout.Member, mark string)) {
	list := f.wall.Members
	for i := 0; i < len(list); i++ {
		m, mark := &list[i], list[i].Mark()
		if i+1 < len(list) && m.PairedWith(&list[i+1]) {
			i++
			mark += "+" + list[i].Mark()
		}
		lo, hi := min(m.From.X, m.To.X), max(m.From.X, m.To.X)
		if slices.Contains(f.plane.lines, m.Line) && hi >= f.window.From && lo <= f.window.To {
			do(m, mark)
		}
	}
}

// collect gathers what is to be dimensioned and marked.
func (f *framing) collect() {
	var centres []Length
	f.members(func(m *layout.Member, mark string) {
		if !m.Upright() {
			return
		}
		centres = append(centres, m.From.X)
		if f.reachesTop(m) {
			f.top = append(f.top, drawing.Mark{At: float64(m.From.X), From: float64(m.To.Y), Text: mark})
		}
	})
	centres = append(append(centres, f.datum), f.movementEdges()...)
	if f.last {
		centres = append(centres, f.extent.To)
	}
	slices.Sort(centres)
	f.runs = []run{{at: slices.Compact(centres)}}
	f.chain, f.overall = openingEdges(f.wall, f.window), true
	f.heights, f.ends = f.levels(f.wall.Top)
	f.top = append(f.top, f.corners(f.wall.Top)...)
	f.measure()
}

// reachesTop reports whether a member stands right under the soffit, so that
// its mark can stand over the wall.
func (f *framing) reachesTop(m *layout.Member) bool {
	const near = 120e6 // movement gap, shortfall and track together stay below this
	return topAt(f.wall.Top, m.To.X)-m.To.Y < near
}

// openingEdges returns the window's ends and the openings' edges within it;
// nothing if there are no openings.
func openingEdges(w *layout.Wall, window geom.Interval) []Length {
	var edges []Length
	for _, o := range w.Openings {
		for _, u := range []Length{o.U.From, o.U.To} {
			if u > window.From && u < window.To {
				edges = append(edges, u)
			}
		}
	}
	if len(edges) == 0 {
		return nil
	}
	edges = append(edges, window.From, window.To)
	slices.Sort(edges)
	return slices.Compact(edges)
}

// draw draws the view with its upper left corner at the given place.
func (f *framing) draw(s *drawing.Scene, at drawing.Point) {
	f.place(at)
	f.drawTitle(s, at)
	f.drawSlabs(s)
	f.drawFlutes(s)
	f.drawPack(s)
	var placer drawing.Placer
	placer.Avoid(f.slabLines()...)
	f.members(func(m *layout.Member, mark string) { f.drawMember(s, m, mark, &placer) })
	marked := f.drawThings(s, &placer)
	f.drawPipes(s, &placer)
	f.drawGussets(s, &placer)
	f.drawBrackets(s)
	f.drawLiner(s)
	f.drawClosings(s)
	f.drawOpenings(s, drawing.Pen{Weight: drawing.W25, Dash: drawing.Dashed})
	f.drawBreaks(s)
	placer.Take(f.drawDims(s)...)
	f.labelMovement(s, &placer)
	f.labelOpenings(s, &placer)
	placer.Avoid(f.diagonals()...)
	for _, x := range marked {
		f.markThing(s, x, &placer, f.placeOf(x), x.mark)
	}
	f.labelGussets(s, &placer)
	f.labelLiner(s, &placer)
	f.members(func(m *layout.Member, mark string) { f.labelMember(s, m, mark, &placer) })
}

// shape returns the outline of a member on paper; nil if it does not show.
func (f *framing) shape(m *layout.Member) []drawing.Point {
	if m.Upright() {
		r, ok := f.rect(m.From.X-m.Width/2, m.From.X+m.Width/2, m.From.Y, m.To.Y)
		if !ok {
			return nil
		}
		return r.Corners()
	}
	return f.polygon(m.Outline())
}

// fillOf tints what is stiffer than a plain stud.
func fillOf(m *layout.Member) drawing.Fill {
	switch {
	case m.Role == layout.OpeningStud, m.Role == layout.Post, m.Boxed:
		return drawing.Tint(0.78)
	case m.Role == layout.FloorTrack, m.Role == layout.SoffitTrack:
		return drawing.Tint(0.9)
	}
	return drawing.White
}

// drawMember draws one member as a part.
func (f *framing) drawMember(s *drawing.Scene, m *layout.Member, mark string, placer *drawing.Placer) {
	shape := f.shape(m)
	if shape == nil {
		return
	}
	g := &drawing.Group{ID: f.id(mark), Data: []drawing.Datum{{Name: "wall", Value: f.wall.ID}, {Name: "part", Value: mark}}}
	g.Title = fmt.Sprintf("%s %s: %s, cut to %s", mark, roleName(f.wall, m.Role), m.Product, f.set.units.dim(m.Cut))
	if m.Lap > 0 {
		g.Title += ", laps " + f.set.units.dim(m.Lap)
	}
	g.Add(drawing.Path{Points: shape, Closed: true, Pen: drawing.Outline, Fill: fillOf(m)})
	f.drawLap(g, m)
	s.Layer(drawing.Frame).Add(g)
	for i, a := range shape {
		placer.Avoid(drawing.Segment{A: a, B: shape[(i+1)%len(shape)]})
	}
}

// drawLap crosses out the stretch over which a piece of a long stud laps the one
// beneath it.
func (f *framing) drawLap(g *drawing.Group, m *layout.Member) {
	if m.Lap == 0 {
		return
	}
	if r, ok := f.rect(m.From.X-m.Width/2, m.From.X+m.Width/2, m.From.Y, m.From.Y+m.Lap); ok {
		g.Add(drawing.Box(r, drawing.Outline, drawing.Tint(0.85)), drawing.Lines{Pen: drawing.Thin, Segments: []drawing.Segment{
			{A: r.Min, B: r.Max}, {A: drawing.Point{X: r.Min.X, Y: r.Max.Y}, B: drawing.Point{X: r.Max.X, Y: r.Min.Y}}}})
	}
}

// drawGussets draws the boards that tie a twin frame, seen edge on.
func (f *framing) drawGussets(s *drawing.Scene, placer *drawing.Placer) {
	for i := range f.wall.Gussets {
		g := &f.wall.Gussets[i]
		const half = 35e6 // the stud's width and a board on its web
		r, ok := f.rect(g.At.X-half, g.At.X+half, g.At.Y-g.Height/2, g.At.Y+g.Height/2)
		if !ok {
			continue
		}
		part := &drawing.Group{ID: f.id(gussetMark(g)), Title: fmt.Sprintf("%s gusset: %s, %s", gussetMark(g), g.Board, f.set.units.by(g.Width, g.Height)),
			Data: []drawing.Datum{{Name: "wall", Value: f.wall.ID}, {Name: "part", Value: gussetMark(g)}}}
		part.Add(drawing.Box(r, drawing.Medium, drawing.White), drawing.Lines{Pen: drawing.Thin, Segments: []drawing.Segment{
			{A: drawing.Point{X: r.Min.X, Y: r.Max.Y}, B: drawing.Point{X: r.Max.X, Y: r.Min.Y}}}})
		s.Layer(drawing.Openings).Add(part)
		placer.TakeRect(r)
	}
}

func gussetMark(g *layout.Gusset) string { return fmt.Sprintf("G%02d", g.Number) }

// labelGussets writes the marks of gussets beside them.
func (f *framing) labelGussets(s *drawing.Scene, placer *drawing.Placer) {
	for i := range f.wall.Gussets {
		g := &f.wall.Gussets[i]
		if !f.inWindow(g.At.X) {
			continue
		}
		right := drawing.Text{At: f.pt(g.At.X+45e6, g.At.Y), Text: gussetMark(g), Height: drawing.Small}
		left := right
		left.At, left.Align = f.pt(g.At.X-45e6, g.At.Y), drawing.Right
		up := g.Height / 3
		f.write(s, placer, gussetMark(g), []drawing.Point{f.pt(g.At.X, g.At.Y), f.pt(g.At.X, g.At.Y+up), f.pt(g.At.X, g.At.Y-up)}, right.Middle(), left.Middle())
	}
}

// writeLines writes lines of text into the middle of a rectangle, flat if they
// fit, upright if not, and fewer where the rectangle is small, but no fewer than
// the least. It reports whether they found room.
func (e *elevation) writeLines(s *drawing.Scene, placer *drawing.Placer, r drawing.Rect, lines []string, least int) bool {
	for n := len(lines); n >= least; n-- {
		for _, turn := range []float64{0, 90} {
			texts := textBlock(r.Centre(), turn, lines[:n], true)
			if inside(texts, r) && allFree(placer, texts) {
				placer.Take(texts...)
				for _, t := range texts {
					s.Layer(drawing.Marks).Add(t)
				}
				return true
			}
		}
	}
	return false
}

// textBlock sets lines of text around a middle, reading up the sheet when
// turned by 90 degrees.
func textBlock(c drawing.Point, turn float64, lines []string, boldFirst bool) []drawing.Text {
	const step = 1.45 * drawing.Small
	texts := make([]drawing.Text, len(lines))
	for i, line := range lines {
		off := (float64(i) - float64(len(lines)-1)/2) * step
		t := drawing.Text{At: c.Add(0, off), Text: line, Height: drawing.Small, Align: drawing.Centre, Turn: turn, Mask: true}
		if turn != 0 {
			t.At = c.Add(off, 0)
		}
		t.Bold = boldFirst && i == 0
		t.Max = t.Width() // it fits just so
		texts[i] = t.Middle()
	}
	return texts
}

func inside(texts []drawing.Text, r drawing.Rect) bool {
	for _, t := range texts {
		if !r.Inset(0.3).Holds(t.Bounds()) {
			return false
		}
	}
	return true
}

func allFree(p *drawing.Placer, texts []drawing.Text) bool {
	for _, t := range texts {
		if !p.Free(t) {
			return false
		}
	}
	return true
}

// labelMember writes the marks that do not stand over the wall.
func (f *framing) labelMember(s *drawing.Scene, m *layout.Member, mark string, placer *drawing.Placer) {
	if m.Upright() && f.reachesTop(m) {
		return
	}
	candidates := f.alongMember(m, mark)
	if m.Upright() {
		candidates = f.besideMember(m, mark)
	}
	f.write(s, placer, mark, f.hearts(m), candidates...)
}

// hearts returns the points of a member at which a leader may start, the middle
// of what shows of it first.
func (f *framing) hearts(m *layout.Member) []drawing.Point {
	var out []drawing.Point
	lo, hi := max(m.From.X, f.window.From), min(m.To.X, f.window.To)
	for _, share := range []float64{.5, .3, .7, .15, .85, .04, .96} {
		if m.Upright() {
			out = append(out, f.pt(m.From.X, m.From.Y+Length(share*float64(m.To.Y-m.From.Y))))
			continue
		}
		u := lo + Length(share*float64(hi-lo))
		z := m.From.Y + Length(float64(u-m.From.X)/float64(max(m.To.X-m.From.X, 1))*float64(m.To.Y-m.From.Y))
		out = append(out, f.pt(u, z).Add(0, -f.scale.paper(m.FlangeSide()/2)))
	}
	return out
}

// besideMember proposes places for the mark of a short upright member.
func (f *framing) besideMember(m *layout.Member, mark string) []drawing.Text {
	var out []drawing.Text
	half := f.scale.paper(m.Width)/2 + 0.6
	for _, share := range []float64{0.5, 0.3, 0.7, 0.15, 0.85} {
		p := f.pt(m.From.X, m.From.Y+Length(share*float64(m.To.Y-m.From.Y)))
		for _, side := range []float64{-1, 1} {
			up := drawing.Text{At: p.Add(side*(half+drawing.Small/2), 0), Text: mark, Height: drawing.Small, Align: drawing.Centre, Turn: 90}
			flat := drawing.Text{At: p.Add(side*half, 0), Text: mark, Height: drawing.Small}
			if side < 0 {
				flat.Align = drawing.Right
			}
			out = append(out, flat.Middle(), up.Middle())
		}
	}
	return out
}

// alongMember proposes places for the mark of a track, header or nogging: in
// the bays just inside the wall beside it.
func (f *framing) alongMember(m *layout.Member, short string) []drawing.Text {
	lo, hi := max(m.From.X, f.window.From), min(m.To.X, f.window.To)
	inward := 1.0
	if m.Role == layout.SoffitTrack || m.Role == layout.SillTrack {
		inward = -1
	}
	long := short
	if m.Role == layout.FloorTrack || m.Role == layout.SoffitTrack {
		long += "  " + f.set.units.dim(m.Cut)
	}
	var out []drawing.Text
	off := 0.8 + drawing.Small/2
	if (inward < 0) == (m.FlangeSide() < 0) {
		off += f.scale.paper(m.Width)
	}
	body := f.body().Inset(-1)
	for _, text := range []string{long, short} {
		for _, u := range f.bays(lo, hi) {
			z := m.From.Y + Length(float64(u-m.From.X)/float64(max(m.To.X-m.From.X, 1))*float64(m.To.Y-m.From.Y))
			t := drawing.Text{At: f.pt(u, z).Add(0, -inward*off), Text: text, Height: drawing.Small, Align: drawing.Centre}.Middle()
			if half := t.Width() / 2; t.At.X-half > body.Min.X && t.At.X+half < body.Max.X {
				out = append(out, t)
			}
		}
	}
	return out
}

// bays returns the middles of the bays between two places, those nearest to the
// middle first.
func (f *framing) bays(lo, hi Length) []Length {
	edges := []Length{lo, hi}
	f.members(func(m *layout.Member, _ string) {
		if m.Upright() && m.From.X > lo && m.From.X < hi {
			edges = append(edges, m.From.X)
		}
	})
	slices.Sort(edges)
	mids := make([]Length, 0, len(edges))
	for i := 1; i < len(edges); i++ {
		mids = append(mids, (edges[i-1]+edges[i])/2)
	}
	centre := (lo + hi) / 2
	slices.SortStableFunc(mids, func(a, b Length) int { return cmp.Compare((a - centre).Abs(), (b - centre).Abs()) })
	return mids
}
