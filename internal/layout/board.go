package layout

import (
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// startFaces prepares the faces and layers that the wall's runs will fill.
func (w *wallLayout) startFaces(runs []run) {
	for _, f := range bothFaces {
		face := FaceLayout{Face: f}
		for k, b := range w.spec.Boards(f) {
			l := Layer{Board: b.ID, Bottom: w.boardFootOn(f), Top: w.layerTop(k)}
			l.Extent, l.Breaks = w.boarded(runs, f, k)
			face.Layers = append(face.Layers, l)
		}
		if len(face.Layers) > 0 {
			w.out.Faces = append(w.out.Faces, face)
		}
	}
}

// boardRun boards one run of the wall, layer by layer.
func (w *wallLayout) boardRun(plans []*layerPlan) {
	for _, l := range plans {
		b := boarder{wallLayout: w, plan: l, layer: w.layer(l.face, l.k), studs: w.uprights(l.line)}
		b.beneath = w.crossLines(l.face, l.k-1)
		b.outer = l.k == len(w.spec.Boards(l.face))-1
		if l.lying {
			b.boardCourse()
		} else {
			b.board()
		}
	}
}

func (w *wallLayout) layer(f plan.Face, k int) *Layer {
	for i := range w.out.Faces {
		if w.out.Faces[i].Face == f {
			return &w.out.Faces[i].Layers[k]
		}
	}
	return nil
}

// boarder cuts one layer of one run into pieces.
type boarder struct {
	*wallLayout
	plan    *layerPlan
	layer   *Layer
	studs   []*Member
	outer   bool
	pieces  []Piece
	last    column
	cross   []Length    // cross joints of the column before
	beneath []crossLine // cross joints of the layer beneath
	taken   bool        // a cross joint could not be staggered, and this has been said
}

// crossLine is one cross joint of a layer.
type crossLine struct{ from, to, z Length }

// crossLines lists the cross joints of a face's layer.
func (w *wallLayout) crossLines(f plan.Face, k int) []crossLine {
	var list []crossLine
	for _, j := range w.out.Joints {
		if j.Kind == CrossJoint && j.Face == f && j.Layer == k {
			list = append(list, crossLine{j.From.X, j.To.X, j.From.Y})
		}
	}
	return list
}

// column is the part of a layer between two vertical joints.
type column struct {
	from, to    Length
	slabs       []slab
	left, right EdgeKind
}

func (b *boarder) board() {
	cuts := b.plan.cuts
	b.pieces = b.room.pieces[:0]
	for i := 1; i < len(cuts); i++ {
		c := b.column(i, cuts[i-1], cuts[i])
		levels := b.crossJoints(i, c)
		c.slabs = region(b.layer.Top, b.layer.Bottom, c.from, c.to, b.boardHoles(b.layer.Top), levels)
		if i > 1 {
			b.jointTo(c)
		}
		b.cutPieces(c, levels)
		b.last, b.cross = c, levels
	}
	b.layer.Pieces = append(slices.Clip(b.layer.Pieces), b.pieces...)
	b.room.pieces = b.pieces
}

// column finds which of a column's edges are the board's own. A full board has
// both; a narrower piece keeps one, towards the next piece and away from the
// wall's end.
func (b *boarder) column(i int, from, to Length) column {
	c := column{from: from, to: to, left: Factory, right: Factory}
	switch {
	case b.plan.width-(to-from) < quantity.Millimetre:
	case i == 1 && len(b.plan.cuts) > 2:
		c.left = CutEdge
	default:
		c.right = CutEdge
	}
	return c
}

// longest returns the longest board that may be used.
func (b *boarder) longest() Length { return longest(b.plan.board, b.pr) }

func longest(board *catalogue.Board, pr *catalogue.Practice) Length {
	l := board.Lengths[len(board.Lengths)-1]
	if limit := pr.BoardMaxLength.Value; limit > 0 {
		l = min(l, limit)
	}
	return l
}

// whole returns the length of the whole boards in a column of a height: the longest,
// or shorter ones that are asked for and of which it takes no more.
func (b *boarder) whole(high Length) Length {
	long, asked := b.longest(), b.way.sheet
	if asked > 0 && asked < long && slices.Contains(b.plan.board.Lengths, asked) && (high+asked-1)/asked == (high+long-1)/long {
		return asked
	}
	return long
}

// crossJoints returns the heights of a column's cross joints: none where one
// board reaches, else as few as will do, clear of the corners of openings and
// staggered from the column before. Where the fewest boards leave no room to
// stagger them, one more is taken.
func (b *boarder) crossJoints(i int, c column) []Length {
	long := b.longest()
	low, high := b.layer.Bottom, b.layer.Top.Max(c.from, c.to)
	if high-low <= long {
		return nil
	}
	long = b.whole(high - low)
	n := (high - low + long - 1) / long
	best, least := b.bestLevels(i, c, n, long)
	if least < b.pr.CrossJointOffset.Value {
		if more, room := b.bestLevels(i, c, n+1, long); room >= b.pr.CrossJointOffset.Value {
			best, least = more, room
		}
	}
	if least < b.pr.CrossJointOffset.Value && !b.taken {
		b.taken = true
		b.find(finding.Warning, "cross-joints-not-staggered",
			words.F("cross joints of face %s, layer %d are only %s mm from those beside them or from an opening's corner; the practice asks for %s mm",
				faceName(b.plan.face), b.plan.k+1, mm(max(least, 0)), b.pr.CrossJointOffset.Value),
			"use longer boards")
	}
	return best
}

// bestLevels returns the heights of the cross joints between n boards that keep
// furthest from those that they should avoid, up to the practice's offset, and how
// far that is. Columns begin by turns with whole boards at the floor and at the
// soffit.
func (b *boarder) bestLevels(i int, c column, n, long Length) (best []Length, least Length) {
	low, high := b.layer.Bottom, b.layer.Top.Max(c.from, c.to)
	lowest, highest := b.crossShifts(n*long-(high-low), long)
	least = -1
	for step := range crossTrials + 1 {
		shift := (highest - lowest) * Length(step) / crossTrials
		if ((i+b.plan.k)%2 == 0) != b.way.flip {
			shift = highest - lowest - shift
		}
		shift += lowest
		levels := make([]Length, 0, n-1)
		for j := Length(1); j < n; j++ {
			levels = append(levels, low+j*long-shift)
		}
		if room := b.crossRoom(c, levels); room > least {
			best, least = levels, room
		}
		if least >= b.pr.CrossJointOffset.Value {
			break
		}
	}
	return best, least
}

// crossShifts returns by how much less than whole boards the cross joints of a
// column may be set down: from nothing to all the slack that its boards have in
// height, less what would leave a sliver at the soffit or at the floor.
func (b *boarder) crossShifts(slack, long Length) (lowest, highest Length) {
	least := b.pr.MinPiece.Value
	lowest = max(0, least-(long-slack))
	return lowest, max(lowest, min(slack, long-least))
}

// crossTrials is how many positions of the cross joints are tried between the
// lowest and the highest possible.
const crossTrials = 24

// crossRoom returns how far the levels keep from the cross joints of the
// column before and of the layer beneath; little when one runs on from an
// opening's corner.
func (b *boarder) crossRoom(c column, levels []Length) Length {
	room := b.pr.CrossJointOffset.Value
	for _, z := range levels {
		for _, p := range b.cross {
			room = min(room, (z - p).Abs())
		}
		for _, p := range b.beneath {
			if p.from < c.to && c.from < p.to {
				room = min(room, (z - p.z).Abs())
			}
		}
		for _, o := range b.out.Openings {
			if o.U.From > c.to || o.U.To < c.from {
				continue
			}
			if clear := b.pr.JointJamb.Value; (z-o.Sill).Abs() < clear || (z-o.Head).Abs() < clear {
				room = min(room, 0)
			}
		}
	}
	return room
}

// cutPieces adds the pieces of a column with their screws, from below upwards.
func (b *boarder) cutPieces(c column, levels []Length) {
	low := Length(-1 << 60)
	for i := 0; i <= len(levels); i++ {
		high := Length(1 << 60)
		if i < len(levels) {
			high = levels[i]
			b.crossJoint(c, high, CrossJoint)
		}
		band := c.slabs
		if len(levels) > 0 {
			band = cutAcross(c.slabs, low, high)
		}
		for _, group := range connected(band) {
			b.addPiece(c, band, group)
		}
		b.screw(c, band)
		low = high
	}
}

func (b *boarder) addPiece(c column, slabs []slab, group []node) {
	outline, holes := outlines(slabs, group)
	box := outline.Bounds()
	b.pieces = append(b.pieces, Piece{
		Number: len(b.layer.Pieces) + len(b.pieces) + 1, Board: b.plan.board.ID, Outline: outline, Holes: holes, At: box.Min,
		Width: box.Max.X - box.Min.X, Height: box.Max.Y - box.Min.Y, Left: c.left, Right: c.right, Rule: "board joints on studs",
	})
}

// jointTo adds the vertical joint between the last column and the next.
func (b *boarder) jointTo(c column) {
	kind := b.jointKind(b.last.right, c.left)
	left, right := b.last.slabs[len(b.last.slabs)-1], c.slabs[0]
	for _, p := range left.spans {
		for _, q := range right.spans {
			if low, high := max(p.bottom, q.bottom), min(p.topEnd, q.topAt); low < high {
				b.joint(kind, geom.Pt(c.from, low), geom.Pt(c.from, high))
			}
		}
	}
}

func (b *boarder) jointKind(left, right EdgeKind) JointKind {
	tapered := b.plan.board.Edge == "tapered"
	switch {
	case left == Factory && right == Factory && tapered:
		return TaperedJoint
	case (left == Factory || right == Factory) && tapered:
		return MixedJoint
	}
	return CutJoint
}

// crossJoint adds the level joint of a column at height z, broken by openings.
func (b *boarder) crossJoint(c column, z Length, kind JointKind) {
	var from, to Length
	flush := func() {
		if to > from {
			b.joint(kind, geom.Pt(from, z), geom.Pt(to, z))
		}
	}
	for _, s := range c.slabs {
		through := slices.ContainsFunc(s.spans, func(p span) bool { return p.bottom < z && min(p.topAt, p.topEnd) >= z && max(p.topAt, p.topEnd) > z })
		if !through {
			continue
		}
		if to != s.from {
			flush()
			from = s.from
		}
		to = s.to
	}
	flush()
}

func (b *boarder) joint(kind JointKind, from, to geom.Point) {
	b.out.Joints = append(b.out.Joints, Joint{Kind: kind, Face: b.plan.face, Layer: b.plan.k, Outer: b.outer, From: from, To: to})
}

// screw adds the rows of screws by which the pieces of a band hold to the
// uprights behind them.
func (b *boarder) screw(c column, slabs []slab) {
	spacing := b.screwSpacing()
	for _, m := range b.studs {
		if m.From.X < c.from || m.From.X > c.to {
			continue
		}
		s := slabAt(slabs, m.From.X)
		for _, p := range s.spans {
			low, high := max(p.bottom, m.From.Y), min(s.topOf(p, m.From.X), m.To.Y+b.pr.StudShortfall.Value)
			if high > low {
				b.row(m.From.X, m.Product, low, high, spacing)
			}
		}
	}
	b.screwEnds(c, slabs, spacing)
}

// outerRow is how far from a layer's end the last row of screws may be.
const outerRow = 50 * quantity.Millimetre

// screwEnds adds a row along the layer's ends where the last upright of this
// wall is far from it: there the boards lap over another wall's frame, or stop
// short of it.
func (b *boarder) screwEnds(c column, slabs []slab, spacing Length) {
	inset := b.pr.ScrewEdge.Value
	end := func(u, at Length) {
		if slices.ContainsFunc(b.studs, func(m *Member) bool { return (m.From.X-u).Abs() <= outerRow && m.From.X >= c.from && m.From.X <= c.to }) {
			return
		}
		for _, p := range slabAt(slabs, at).spans {
			b.row(at, b.spec.Stud.ID, p.bottom, slabAt(slabs, at).topOf(p, at), spacing)
		}
	}
	if c.from == b.plan.extent.From {
		end(c.from, c.from+inset)
	}
	if c.to == b.plan.extent.To {
		end(c.to, c.to-inset)
	}
}

// slabAt returns the slab that holds u; a border belongs to the slab before it
// unless it is the first.
func slabAt(slabs []slab, u Length) slab {
	for _, s := range slabs {
		if u <= s.to {
			return s
		}
	}
	return slabs[len(slabs)-1]
}

// row adds one row of screws between two heights.
func (b *boarder) row(u Length, product string, low, high, spacing Length) {
	edge := b.pr.ScrewEdge.Value
	count := 1
	if high-low > 2*edge {
		low, high = low+edge, high-edge
		count = int((high-low+spacing-1)/spacing) + 1
	} else {
		low = (low + high) / 2
		high = low
	}
	b.out.Screws = append(b.out.Screws, ScrewRow{
		Screw: b.screwFor(product), Face: b.plan.face, Layer: b.plan.k,
		From: geom.Pt(u, low), To: geom.Pt(u, high), Count: count,
	})
}

// screwSpacing returns the practice's spacing for this layer.
func (b *boarder) screwSpacing() Length {
	table := b.pr.ScrewSpacing.Value
	n := len(b.spec.Boards(b.plan.face))
	row := table[min(n, len(table))-1]
	return row[min(b.plan.k, len(row)-1)]
}

// screwFor returns the shortest screw that holds this layer in a profile.
func (b *boarder) screwFor(product string) string {
	var stack Length
	for _, board := range b.spec.Boards(b.plan.face)[:b.plan.k+1] {
		stack += board.Thickness
	}
	p := b.spec.Stud
	if product == b.spec.OpeningStud.ID {
		p = b.spec.OpeningStud
	}
	if s, ok := b.cat.ScrewFor(stack, p.Thickness, b.pr); ok {
		return s.ID
	}
	return ""
}
