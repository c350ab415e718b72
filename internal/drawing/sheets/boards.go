package sheets

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// boards is the elevation of one layer of boards, seen from its own face.
type boards struct {
	elevation
	face   plan.Face
	index  int // of the layer, from 0 at the frame
	layer  *layout.Layer
	studs  plane // behind it
	placer drawing.Placer
	over   []drawing.Mark // marks of pieces too small to write in
}

// newBoards prepares the board elevation of one layer of one face.
func (s *Set) newBoards(w *layout.Wall, fl *layout.FaceLayout, index int, sc scale, window geom.Interval) *boards {
	layer := &fl.Layers[index]
	w = w.Unrolled(layer)
	b := &boards{face: fl.Face, index: index, layer: layer, elevation: elevation{
		set: s, wall: w, scale: sc, mirror: fl.Face.RunsBack(),
		extent: layer.Extent, window: window, datum: layer.Extent.From,
		first: window.From <= layer.Extent.From, last: window.To >= layer.Extent.To,
	}}
	b.breaks = layer.Breaks
	if b.studs = near(w, fl.Face); len(b.studs.lines) > 0 {
		b.datum = b.studs.extent.From
	}
	letter := strings.ToUpper(string(fl.Face))
	b.key = fmt.Sprintf("%s%d", letter, index+1)
	b.title = fmt.Sprintf("Boards, face %s, layer %d", letter, index+1)
	b.subtitle = s.boardName(layer.Board) + " from outside" + s.unrolled(layer)
	b.part(window)
	b.collect()
	return b
}

func (s *Set) boardName(id string) string {
	if b, ok := s.in.Catalogue.Board(id); ok {
		return b.Name
	}
	return id
}

// collect gathers what is to be dimensioned.
func (b *boards) collect() {
	joints := []Length{b.datum, b.extent.From, b.extent.To}
	for _, j := range b.joints() {
		if j.From.X == j.To.X {
			joints = append(joints, j.From.X)
		}
	}
	joints = append(joints, b.movementEdges()...)
	slices.Sort(joints)
	joints = slices.CompactFunc(joints, func(a, b Length) bool { return (a - b).Abs() < rounding })
	b.runs = []run{{at: joints}}
	b.chain = openingEdges(b.wall, b.window)
	b.heights, b.ends = b.levels(b.layer.Top)
	if b.layer.Bottom > 0 {
		b.heights = append([]Length{b.layer.Bottom}, b.heights...)
		slices.Sort(b.heights)
		b.heights = slices.Compact(b.heights)
	}
	for _, p := range b.layer.Pieces {
		if b.scale.paper(p.Width) < labelMin {
			b.over = append(b.over, drawing.Mark{At: float64(middle(&p).X), From: float64(topAt(b.layer.Top, middle(&p).X)), Text: b.mark(&p)})
		}
	}
	b.top = append(b.over, b.corners(b.layer.Top)...)
	b.measure()
}

// rounding is how far apart two places may come out that are one: curves round
// their lengths.
const rounding Length = 1000

// labelMin is the least width on paper, in mm, of a piece that is written in.
const labelMin = drawing.Small + 1

func middle(p *layout.Piece) geom.Point {
	r := p.Outline.Bounds()
	return geom.Pt((r.Min.X+r.Max.X)/2, (r.Min.Y+r.Max.Y)/2)
}

func (b *boards) mark(p *layout.Piece) string { return layout.PieceMark(b.face, b.index, p) }

// joints returns the joints between pieces of the layer.
func (b *boards) joints() []layout.Joint {
	var out []layout.Joint
	for _, j := range b.wall.Joints {
		if j.Face == b.face && j.Layer == b.index && between(j.Kind) {
			out = append(out, j)
		}
	}
	return out
}

func between(k layout.JointKind) bool {
	switch k {
	case layout.TaperedJoint, layout.MixedJoint, layout.CutJoint, layout.CrossJoint:
		return true
	}
	return false
}

// jointPen is the line type that stands for a kind of joint.
func jointPen(k layout.JointKind) drawing.Pen {
	switch k {
	case layout.MixedJoint:
		return drawing.MixedJoint
	case layout.CutJoint:
		return drawing.CutJoint
	case layout.CrossJoint:
		return drawing.CrossJoint
	}
	return drawing.Outline
}

// draw draws the view with its upper left corner at the given place.
func (b *boards) draw(s *drawing.Scene, at drawing.Point) {
	b.placer = drawing.Placer{}
	b.place(at)
	b.placer.TakeRect(b.drawTitle(s, at))
	b.drawSlabs(s)
	b.placer.Avoid(b.slabLines()...)
	b.drawStuds(s)
	for i := range b.layer.Pieces {
		b.drawPiece(s, &b.layer.Pieces[i])
	}
	b.drawJoints(s)
	b.drawOpenings(s, drawing.NoPen)
	b.drawBreaks(s)
	b.placer.Take(b.drawDims(s)...)
	b.labelMovement(s, &b.placer)
	b.drawThings(s)
	b.labelOpenings(s, &b.placer)
	for i := range b.layer.Pieces {
		b.label(s, &b.layer.Pieces[i])
	}
}

// drawStuds shows the studs behind the boards by their centre lines.
func (b *boards) drawStuds(s *drawing.Scene) {
	var lines []drawing.Segment
	for i := range b.wall.Members {
		m := &b.wall.Members[i]
		if slices.Contains(b.studs.lines, m.Line) && m.Upright() && b.inWindow(m.From.X) {
			lines = append(lines, drawing.Segment{A: b.pt(m.From.X, m.From.Y), B: b.pt(m.To.X, m.To.Y)})
		}
	}
	b.placer.Avoid(lines...)
	s.Layer(drawing.Frame).Add(drawing.Lines{Segments: lines, Pen: drawing.Hidden})
}

// drawPiece draws the rim of one piece, less where a joint is drawn.
func (b *boards) drawPiece(s *drawing.Scene, p *layout.Piece) {
	mark := b.mark(p)
	g := &drawing.Group{ID: b.id(mark), Title: fmt.Sprintf("%s: %s, %s", mark, b.set.boardName(p.Board), b.set.units.by(p.Width, p.Height)),
		Data: []drawing.Datum{{Name: "wall", Value: b.wall.ID}, {Name: "part", Value: mark}}}
	shape := b.polygon(p.Outline)
	if shape == nil {
		return
	}
	g.Add(drawing.Path{Points: shape, Closed: true, Fill: drawing.Tint(pieceTint)})
	for _, h := range p.Holes {
		if hole := b.polygon(h); hole != nil {
			g.Add(drawing.Path{Points: hole, Closed: true, Pen: drawing.Outline, Fill: drawing.White})
		}
	}
	rim := b.rim(p)
	b.placer.Avoid(rim...)
	g.Add(drawing.Lines{Segments: rim, Pen: drawing.Outline})
	s.Layer(drawing.Boards).Add(g)
}

// pieceTint sets boards off from the openings in them.
const pieceTint = 0.965

// rim returns the sides of a piece that are no joint to another piece.
func (b *boards) rim(p *layout.Piece) []drawing.Segment {
	var out []drawing.Segment
	joints := b.joints()
	p.Outline.Edges(func(edge geom.Segment) {
		for _, part := range lessJoints(edge, joints) {
			u0, u1 := min(part.A.X, part.B.X), max(part.A.X, part.B.X)
			if u1 < b.window.From || u0 > b.window.To {
				continue
			}
			seg := drawing.Segment{A: b.pt(part.A.X, part.A.Y), B: b.pt(part.B.X, part.B.Y)}
			body := b.body()
			body.Min.Y, body.Max.Y = body.Min.Y-1, body.Max.Y+1
			if cut, ok := drawing.ClipSegment(seg, body); ok {
				out = append(out, cut)
			}
		}
	})
	return out
}

// lessJoints cuts the stretches out of an upright or level edge on which a
// joint lies.
func lessJoints(edge geom.Segment, joints []layout.Joint) []geom.Segment {
	upright := edge.A.X == edge.B.X
	if !upright && edge.A.Y != edge.B.Y {
		return []geom.Segment{edge}
	}
	along := func(p geom.Point) Length { return p.X }
	across := func(p geom.Point) Length { return p.Y }
	if upright {
		along, across = across, along
	}
	rest := []geom.Interval{{From: min(along(edge.A), along(edge.B)), To: max(along(edge.A), along(edge.B))}}
	for _, j := range joints {
		if (j.From.X == j.To.X) != upright || (across(j.From)-across(edge.A)).Abs() > geom.Same {
			continue
		}
		cut := geom.Interval{From: min(along(j.From), along(j.To)), To: max(along(j.From), along(j.To))}
		var next []geom.Interval
		for _, r := range rest {
			next = append(next, without(r, cut)...)
		}
		rest = next
	}
	var out []geom.Segment
	for _, r := range rest {
		a, c := geom.Pt(r.From, edge.A.Y), geom.Pt(r.To, edge.A.Y)
		if upright {
			a, c = geom.Pt(edge.A.X, r.From), geom.Pt(edge.A.X, r.To)
		}
		out = append(out, geom.Segment{A: a, B: c})
	}
	return out
}

// without returns what is left of r outside cut.
func without(r, cut geom.Interval) []geom.Interval {
	if !r.Overlaps(cut) {
		return []geom.Interval{r}
	}
	var out []geom.Interval
	if r.From < cut.From {
		out = append(out, geom.Interval{From: r.From, To: cut.From})
	}
	if cut.To < r.To {
		out = append(out, geom.Interval{From: cut.To, To: r.To})
	}
	return out
}

// drawJoints draws the joints, each kind in its line type.
func (b *boards) drawJoints(s *drawing.Scene) {
	lines := map[layout.JointKind][]drawing.Segment{}
	for _, j := range b.joints() {
		seg := drawing.Segment{A: b.pt(j.From.X, j.From.Y), B: b.pt(j.To.X, j.To.Y)}
		if cut, ok := drawing.ClipSegment(seg, b.body()); ok {
			lines[j.Kind] = append(lines[j.Kind], cut)
			b.placer.Avoid(cut)
		}
	}
	for _, k := range layout.JointKinds() {
		if len(lines[k]) > 0 {
			s.Layer(drawing.Joints).Add(drawing.Lines{Segments: lines[k], Pen: jointPen(k)})
		}
	}
}
