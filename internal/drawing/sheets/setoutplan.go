package sheets

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// planView is the plan of a level, or of the part of it in a window.
type planView struct {
	*site
	scale    scale
	window   geom.Rect
	walls    []*layout.Wall
	x, y     []ordinate // below and at the left
	top, far []ordinate // above and at the right, where the first two overflow
	origin   drawing.Point
	placer   drawing.Placer
}

// Around a plan, in mm: the distance to its dimensions, and how far their texts
// may stand beyond its corners without meeting those of the next side.
const (
	planEdge = 4.0
	rowOver  = 6.0
)

func (l *site) newPlan(sc scale, window geom.Rect) *planView {
	p := &planView{site: l, scale: sc, window: window, walls: l.wallsIn(window)}
	p.x, p.top = p.share(l.ordinates(window, true), p.wide(), (window.Min.Y+window.Max.Y)/2)
	p.y, p.far = p.share(l.ordinates(window, false), p.high(), (window.Min.X+window.Max.X)/2)
	return p
}

func (p *planView) wide() float64 { return p.scale.paper(p.window.Max.X - p.window.Min.X) }
func (p *planView) high() float64 { return p.scale.paper(p.window.Max.Y - p.window.Min.Y) }

// share puts the dimensions on one side if there is room, else on both, each
// on the side to which its wall is nearer.
func (p *planView) share(all []ordinate, room float64, middle Length) (near, far []ordinate) {
	if rowNeed(len(all)) <= room+2*rowOver {
		return all, nil
	}
	for _, o := range all {
		if (o.lo+o.hi)/2 <= middle {
			near = append(near, o)
		} else {
			far = append(far, o)
		}
	}
	return near, far
}

func rowNeed(n int) float64 { return float64(n) * drawing.RowPitch * drawing.Small }

// fits reports whether the running dimensions find room side by side.
func (p *planView) fits() bool {
	wide, high := p.wide()+2*rowOver, p.high()+2*rowOver
	return rowNeed(len(p.x)) <= wide && rowNeed(len(p.top)) <= wide && rowNeed(len(p.y)) <= high && rowNeed(len(p.far)) <= high
}

// text writes an ordinate: both edges of each track and the marks of the walls.
func (p *planView) text(o ordinate) string {
	return o.edges + "  " + p.marks(o.marks)
}

// marks lists walls, all but the first without what they share with it; numbers
// that follow each other as a range.
func (p *planView) marks(list []string) string {
	prefix := p.level.ID + "-"
	var numbers []int
	for _, m := range list {
		n, err := strconv.Atoi(strings.TrimPrefix(m, prefix))
		if err != nil || fmt.Sprintf("%s%02d", prefix, n) != m {
			return strings.Join(list, ", ")
		}
		numbers = append(numbers, n)
	}
	return ranges(prefix, numbers)
}

// depth is the room that a side's dimensions take up.
func (p *planView) depth(list []ordinate) float64 {
	if len(list) == 0 {
		return 4
	}
	w := 0.0
	for _, o := range list {
		w = max(w, drawing.TextWidth(p.text(o), drawing.Small, false))
	}
	return planEdge + drawing.RowReach + w + 2
}

func (p *planView) size() (float64, float64) {
	side := max(0, max(rowNeed(len(p.x)), rowNeed(len(p.top)))-p.wide()) / 2
	ends := max(0, max(rowNeed(len(p.y)), rowNeed(len(p.far)))-p.high()) / 2
	return p.depth(p.y) + p.wide() + p.depth(p.far) + 2*side,
		viewTitle + p.depth(p.top) + p.high() + p.depth(p.x) + 2*ends
}

// pt returns the paper place of a point in plan.
func (p *planView) pt(q geom.Point) drawing.Point {
	return drawing.Point{X: p.origin.X + p.scale.paper(q.X-p.window.Min.X), Y: p.origin.Y - p.scale.paper(q.Y-p.window.Min.Y)}
}

func (p *planView) pts(list []geom.Point) []drawing.Point {
	out := make([]drawing.Point, len(list))
	for i, q := range list {
		out[i] = p.pt(q)
	}
	return out
}

// frame returns the plan's window on paper.
func (p *planView) frame() drawing.Rect {
	return drawing.Rect{Min: p.origin.Add(0, -p.high()), Max: p.origin.Add(p.wide(), 0)}
}

func (p *planView) draw(s *drawing.Scene, at drawing.Point) {
	p.placer = drawing.Placer{}
	w, h := p.size()
	p.origin = at.Add(p.depth(p.y)+(w-p.depth(p.y)-p.wide()-p.depth(p.far))/2,
		viewTitle+p.depth(p.top)+(h-viewTitle-p.depth(p.top)-p.high()-p.depth(p.x))/2+p.high())
	heading(s, at, "Set-out plan, "+p.name(), p.explained()+"; door gaps from its start; "+p.set.units.name(p.scale), w)
	p.drawStructure(s)
	p.drawMovement(s)
	for _, wall := range p.walls {
		p.drawWall(s, wall)
	}
	p.drawEdges(s)
	for _, wall := range p.walls {
		p.strike(s, wall)
	}
	p.drawDatum(s)
	p.drawCorners(s)
	p.drawOrdinates(s)
	for _, wall := range p.walls {
		p.tag(s, wall)
	}
	for _, wall := range p.walls {
		p.nameJoints(s, wall)
	}
	p.markJunctions(s)
	p.nameRooms(s)
	p.nameCorners(s)
	for _, wall := range p.walls {
		p.dimGaps(s, wall)
	}
}

// explained says to what the running dimensions run.
func (p *planView) explained() string {
	if p.set.units.imperial {
		return "running dimensions to the first edge of each track + its depth"
	}
	return "running dimensions to both edges of each track"
}

// clip returns a group that shows nothing outside the plan's window.
func (p *planView) clip() *drawing.Group {
	r := p.frame().Inset(-1.5)
	return &drawing.Group{Clip: &r}
}

// drawStructure fills the existing structure. Outlines are drawn first and
// covered by the fill, so that bodies that touch run into each other.
func (p *planView) drawStructure(s *drawing.Scene) {
	g := p.clip()
	for _, b := range p.bodies {
		g.Add(drawing.Path{Points: p.pts(b), Closed: true, Pen: drawing.Pen{Weight: 2 * drawing.W50}})
	}
	for _, b := range p.bodies {
		g.Add(drawing.Path{Points: p.pts(b), Closed: true, Fill: drawing.Tint(0.82)})
	}
	var hatch []drawing.Segment
	for _, b := range p.bodies {
		shape := p.pts(b)
		lines := drawing.Hatch(shape, 45, 1.4)
		hatch = append(hatch, lines...)
		if len(shape) == 4 {
			p.placer.TakeQuad([4]drawing.Point(shape))
		} else {
			p.placer.Avoid(lines...)
		}
	}
	g.Add(drawing.Lines{Segments: hatch, Pen: drawing.Thin})
	s.Layer(drawing.Structure).Add(g)
}

// drawEdges draws the lines at which the plan goes on in other parts.
func (p *planView) drawEdges(s *drawing.Scene) {
	f := p.frame()
	c := f.Corners() // from the upper left, to the right
	var lines []drawing.Segment
	if p.window.Max.Y < p.bounds.Max.Y-geom.Same {
		lines = append(lines, drawing.Segment{A: c[0], B: c[1]})
	}
	if p.window.Max.X < p.bounds.Max.X-geom.Same {
		lines = append(lines, drawing.Segment{A: c[1], B: c[2]})
	}
	if p.window.Min.Y > p.bounds.Min.Y+geom.Same {
		lines = append(lines, drawing.Segment{A: c[2], B: c[3]})
	}
	if p.window.Min.X > p.bounds.Min.X+geom.Same {
		lines = append(lines, drawing.Segment{A: c[3], B: c[0]})
	}
	s.Layer(drawing.SettingOut).Add(drawing.Lines{Segments: lines, Pen: drawing.Pen{Weight: drawing.W25, Dash: drawing.LongDashTwoDots}})
}

// gap returns the stretch of a frame line that its floor track leaves out for an
// opening and the pocket of its leaf, if it does.
func gap(w *layout.Wall, o layout.Opening, extent geom.Interval) (geom.Interval, bool) {
	bay := o.Bay()
	if !o.AtFloor() || (o.Kind == plan.Penetration && !w.Framed(o)) || !bay.Overlaps(extent) {
		return geom.Interval{}, false
	}
	return geom.Interval{From: max(bay.From, extent.From), To: min(bay.To, extent.To)}, true
}

// gaps returns the stretches of a frame line that its floor track does not
// cross.
func gaps(w *layout.Wall, extent geom.Interval) []geom.Interval {
	var out []geom.Interval
	for _, o := range w.Openings {
		if g, ok := gap(w, o, extent); ok {
			out = append(out, g)
		}
	}
	return out
}

// stretches returns what the gaps leave of an extent.
func stretches(extent geom.Interval, gaps []geom.Interval) []geom.Interval {
	rest := []geom.Interval{extent}
	for _, g := range gaps {
		var next []geom.Interval
		for _, r := range rest {
			next = append(next, without(r, g)...)
		}
		rest = next
	}
	return rest
}

// drawWall draws one wall: both edges of its tracks, its faces, axis and studs
// at openings and junctions.
func (p *planView) drawWall(s *drawing.Scene, w *layout.Wall) {
	g := p.clip()
	g.ID, g.Title = w.ID+".plan", fmt.Sprintf("Wall %s: %s, %s thick", w.ID, w.BuildUp, p.set.units.thin(w.Thickness))
	g.Data = []drawing.Datum{{Name: "wall", Value: w.ID}}
	for i := range w.FrameLines {
		p.drawTracks(g, w, &w.FrameLines[i])
	}
	p.drawFaces(g, w)
	p.drawClosings(g, w)
	p.drawStuds(g, w)
	p.drawSwings(g, w)
	s.Layer(drawing.Frame).Add(g)
	e := extentOf(w)
	axis := p.pts(w.Path(e, 0, p.fine()))
	half := p.scale.paper(w.Thickness) / 2
	shape := p.pts(footprint(w))
	for i, a := range shape {
		p.placer.Avoid(drawing.Segment{A: a, B: shape[(i+1)%len(shape)]})
	}
	if coarse(p.scale) {
		return // there is no room for the axis between the edges of the track
	}
	ax := p.clip()
	over, last := 2+half, len(axis)-1
	first := extended(drawing.Segment{A: axis[0], B: axis[1]}, over).A
	axis[last] = extended(drawing.Segment{A: axis[last-1], B: axis[last]}, over).B
	axis[0] = first
	p.placer.Avoid(segments(axis)...)
	ax.Add(drawing.Path{Points: axis, Pen: drawing.CentreLine})
	s.Layer(drawing.SettingOut).Add(ax)
}

// extended lengthens a line by d at both ends.
func extended(s drawing.Segment, d float64) drawing.Segment {
	dx, dy := s.B.X-s.A.X, s.B.Y-s.A.Y
	n := max(abs(dx), abs(dy))
	if n == 0 {
		return s
	}
	dx, dy = dx/n*d, dy/n*d
	return drawing.Segment{A: s.A.Add(-dx, -dy), B: s.B.Add(dx, dy)}
}

// quad returns the paper outline of a rectangle in a wall's own coordinates.
func (p *planView) quad(w *layout.Wall, u geom.Interval, v0, v1 Length) []drawing.Point {
	return p.pts(w.Ground(u, v0, v1, p.fine()))
}

// fine is how far, in life, the straight parts of a drawn curve may lie off it:
// 0.05 mm on paper.
func (p *planView) fine() Length { return Length(0.05 * float64(p.scale) * 1e6) }

// coarse reports whether a scale leaves only the edges of tracks to be drawn.
func coarse(s scale) bool { return s > 50 }

func (p *planView) drawTracks(g *drawing.Group, w *layout.Wall, fl *layout.FrameLine) {
	pen := drawing.Outline
	if coarse(p.scale) {
		pen = drawing.Thin
	}
	holes := gaps(w, fl.Extent)
	for _, u := range stretches(fl.Extent, holes) {
		g.Add(drawing.Path{Points: p.quad(w, u, fl.Offset-fl.Depth/2, fl.Offset+fl.Depth/2), Closed: true, Pen: pen, Fill: drawing.White})
	}
	for _, u := range holes {
		back := p.pts(w.Path(u, fl.Offset+fl.Depth/2, p.fine()))
		slices.Reverse(back)
		g.Add(drawing.Lines{Segments: append(segments(p.pts(w.Path(u, fl.Offset-fl.Depth/2, p.fine()))), segments(back)...), Pen: drawing.Hidden})
	}
}

// faceLeast is the least thickness of boards on paper, in mm, that is drawn.
const faceLeast = 0.22

// drawFaces draws the finished faces, where the scale shows them apart from
// the tracks.
func (p *planView) drawFaces(g *drawing.Group, w *layout.Wall) {
	var lines []drawing.Segment
	for i := range w.Faces {
		face := &w.Faces[i]
		outer := face.Layers[len(face.Layers)-1].Extent
		pl := near(w, face.Face)
		frame := pl.offset + pl.depth/2
		v := w.Thickness / 2
		if face.Face == plan.FaceB {
			frame, v = pl.offset-pl.depth/2, -v
		}
		if p.scale.paper((v - frame).Abs()) < faceLeast {
			continue
		}
		for _, u := range stretches(outer, append(gaps(w.Unrolled(&face.Layers[len(face.Layers)-1]), outer), face.Layers[len(face.Layers)-1].Breaks...)) {
			lines = append(lines, segments(p.pts(w.Path(onAxis(w, &face.Layers[len(face.Layers)-1], u), v, p.fine())))...)
		}
	}
	g.Add(drawing.Lines{Segments: lines, Pen: drawing.Thin})
}

// drawStuds fills the studs that hold other walls and those beside openings.
func (p *planView) drawStuds(g *drawing.Group, w *layout.Wall) {
	for i := range w.Members {
		m := &w.Members[i]
		if (m.Role != layout.JunctionStud && m.Role != layout.OpeningStud) || m.Line >= len(w.FrameLines) {
			continue
		}
		fl := &w.FrameLines[m.Line]
		u := geom.Interval{From: m.From.X - m.Width/2, To: m.From.X + m.Width/2}
		g.Add(drawing.Path{Points: p.quad(w, u, fl.Offset-fl.Depth/2, fl.Offset+fl.Depth/2), Closed: true, Pen: drawing.Pen{Weight: drawing.W13}, Fill: drawing.Black})
	}
}

// drawDatum marks the point from which coordinates count.
func (p *planView) drawDatum(s *drawing.Scene) {
	c := p.pt(p.datum)
	if !p.frame().Inset(-3).Holds(drawing.Rect{Min: c, Max: c}) {
		return
	}
	l := s.Layer(drawing.SettingOut)
	l.Add(drawing.Circle{Centre: c, Radius: 1.8, Pen: drawing.Outline, Fill: drawing.White},
		drawing.Lines{Pen: drawing.Outline, Segments: []drawing.Segment{{A: c.Add(-3.2, 0), B: c.Add(3.2, 0)}, {A: c.Add(0, -3.2), B: c.Add(0, 3.2)}}})
	p.placer.TakeRect(drawing.Rect{Min: c.Add(-3.4, -3.4), Max: c.Add(3.4, 3.4)})
}

// faint is for extension lines that run across a plan.
var faint = drawing.Pen{Weight: drawing.W18, Dash: drawing.Dashed, Grey: 0.6}

// drawOrdinates draws the running dimensions on all sides.
func (p *planView) drawOrdinates(s *drawing.Scene) {
	f := p.frame()
	l := s.Layer(drawing.Dimensions)
	origin := p.pt(p.datum)
	row := func(list []ordinate, alongY bool, line, out float64) {
		r := drawing.Row{Line: line, Out: out, Dimension: true, Upright: true, Height: drawing.Small, Extension: faint, Origin: origin.X, Lo: f.Min.X - rowOver, Hi: f.Max.X + rowOver}
		if alongY {
			r.Axis, r.Origin, r.Lo, r.Hi = drawing.AlongY, origin.Y, f.Min.Y-rowOver, f.Max.Y+rowOver
		}
		inside := within(r.Origin, r.Lo+rowOver, r.Hi-rowOver)
		r.Continued = inside != r.Origin
		r.Origin = inside
		for _, o := range list {
			m := drawing.Mark{Text: p.text(o)}
			end := o.lo
			if out == 1 == alongY {
				end = o.hi
			}
			if alongY {
				m.At, m.From = p.pt(geom.Pt(0, p.datum.Y+o.at)).Y, within(p.pt(geom.Pt(end, 0)).X, f.Min.X, f.Max.X)
			} else {
				m.At, m.From = p.pt(geom.Pt(p.datum.X+o.at, 0)).X, within(p.pt(geom.Pt(0, end)).Y, f.Min.Y, f.Max.Y)
			}
			r.Marks = append(r.Marks, m)
		}
		if alongY {
			slices.Reverse(r.Marks) // ascending down the sheet
		}
		p.placer.Take(r.Draw(l)...)
	}
	row(p.x, false, f.Max.Y+planEdge, 1)
	row(p.top, false, f.Min.Y-planEdge, -1)
	row(p.y, true, f.Min.X-planEdge, -1)
	row(p.far, true, f.Max.X+planEdge, 1)
}

func within(x, lo, hi float64) float64 { return max(lo, min(x, hi)) }

// tag writes a wall's mark beside it, and the coordinates of its ends if it
// runs aslant.
func (p *planView) tag(s *drawing.Scene, w *layout.Wall) {
	e := extentOf(w)
	off := p.scale.paper(w.Thickness)/2 + 0.8
	var candidates []drawing.Text
	for _, share := range []float64{.5, .4, .6, .3, .7, .2, .8, .1, .9} {
		u := e.From + Length(share*float64(e.Len()))
		c, upright := p.pt(w.Point(u, 0)), abs(w.Dir(u).Y) > abs(w.Dir(u).X)
		for _, side := range []float64{-1, 1} {
			t := drawing.Text{Text: w.ID, Height: drawing.Small, Bold: true, Align: drawing.Centre, Mask: true}
			if upright {
				t.Turn = 90
				t.At = c.Add(side*(off+drawing.Small/2), 0)
				flat := t
				flat.Turn, flat.At, flat.Align = 0, c.Add(side*off, 0), drawing.Left
				if side < 0 {
					flat.Align = drawing.Right
				}
				candidates = append(candidates, t.Middle(), flat.Middle())
				continue
			}
			t.At = c.Add(0, side*(off+drawing.Small/2))
			candidates = append(candidates, t.Middle())
		}
	}
	candidates = slices.DeleteFunc(candidates, func(t drawing.Text) bool { return !p.frame().Inset(-3).Holds(t.Bounds()) })
	if t, ok := p.placer.Place(candidates...); ok {
		s.Layer(drawing.Marks).Add(t)
	}
	if w.Curve == nil && abs(w.Frame.Dir.X) > geom.Parallel && abs(w.Frame.Dir.Y) > geom.Parallel {
		p.tagEnd(s, w, e.From)
		p.tagEnd(s, w, e.To)
	}
}

// tagEnd writes the coordinates of one end of a slanting wall: of its track's edge
// at face A.
func (p *planView) tagEnd(s *drawing.Scene, w *layout.Wall, u Length) {
	first := planes(w)[0]
	g := w.Point(u, first.offset+first.depth/2)
	c := p.pt(g)
	text := fmt.Sprintf("A: x %s  y %s", p.set.units.exact(g.X-p.datum.X), p.set.units.exact(g.Y-p.datum.Y))
	var candidates []drawing.Text
	for _, d := range []float64{3, 6, 9, 13} {
		for _, dy := range []float64{0, d, -d} {
			candidates = append(candidates,
				drawing.Text{At: c.Add(d, dy), Text: text, Height: drawing.Small, Mask: true}.Middle(),
				drawing.Text{At: c.Add(-d, dy), Text: text, Height: drawing.Small, Align: drawing.Right, Mask: true}.Middle())
		}
	}
	candidates = slices.DeleteFunc(candidates, func(t drawing.Text) bool { return !p.frame().Inset(-3).Holds(t.Bounds()) })
	t, ok := p.placer.Place(candidates...)
	if !ok {
		return // the schedule gives the coordinates
	}
	s.Layer(drawing.Marks).Add(t)
	s.Layer(drawing.SettingOut).Add(drawing.Circle{Centre: c, Radius: 0.7, Pen: drawing.Thin, Fill: drawing.Black},
		drawing.Line(c, nearestEnd(t, c), drawing.Hair))
}

// nearestEnd returns the end of a text's middle line that is nearer to a point.
func nearestEnd(t drawing.Text, c drawing.Point) drawing.Point {
	b := t.Bounds()
	y := b.Centre().Y
	if abs(b.Min.X-c.X) < abs(b.Max.X-c.X) {
		return drawing.Point{X: b.Min.X - 0.4, Y: y}
	}
	return drawing.Point{X: b.Max.X + 0.4, Y: y}
}
