package layout

import (
	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/plan"
)

// closeEnds finishes the wall's rim: corners and their beads, joints against
// structure, the strips that close free ends, free tops and the reveals of bare
// openings.
func (w *wallLayout) closeEnds(runs []run) {
	w.out.Rim = w.rim()
	for _, r := range runs {
		w.closeEnd(r.from)
		w.closeEnd(r.to)
	}
	w.closeControls()
	w.closeFlutes()
	w.sealWetEdges()
	w.closeTop()
	w.closeFoot()
	for _, o := range w.out.Openings {
		if o.Kind == plan.Bare {
			w.lineReveal(o)
		}
	}
}

// rim returns what closes the joints against soffit and structure, and the gap
// along the floor where it is sealed:
// fire-stopping sealant where the wall is asked to resist fire, acoustic sealant
// where its build-up is sealed with sealant, else compound (common practice; a
// tested detail decides).
func (w *wallLayout) rim() string {
	kind, use := catalogue.KindFiller, string(Perimeter)
	switch {
	case w.body.rank.fire > 0:
		kind, use = catalogue.KindSealant, "fire"
	case w.spec.Spec.Seal == "sealant":
		kind, use = catalogue.KindSealant, "acoustic"
	}
	if p, ok := w.cat.SundryFor(kind, use, w.pr); ok {
		return p.ID
	}
	return ""
}

// closeEnd treats one end of one run.
func (w *wallLayout) closeEnd(c cut) {
	switch c.kind {
	case Free:
		w.cap(c, OuterCorner)
	case Structure:
		if c.closing != nil {
			w.cap(c, OuterCorner)
			w.close(c)
			return
		}
		w.edgeJoints(c, func(plan.Face) JointKind { return Perimeter })
	case Tee:
		if c.through {
			w.cap(c, CutJoint) // flush with the far surfaces of the walls beside it
			return
		}
		w.edgeJoints(c, func(plan.Face) JointKind { return InnerCorner })
	case Movement:
		return // closed on both sides at once
	case Straight:
		w.finishStep(c)
		if c.accounts {
			w.straightJoints(c)
		}
	case Corner:
		if c.through {
			return // counted with the wall that butts
		}
		w.edgeJoints(c, func(f plan.Face) JointKind {
			if (f == plan.FaceA) == c.toLeft {
				return InnerCorner
			}
			return OuterCorner
		})
	}
}

// edgeJoints adds the joint along one end of every layer of each boarded face,
// with a bead on the outer one where it is an outer corner.
func (w *wallLayout) edgeJoints(c cut, kind func(plan.Face) JointKind) {
	for i := range w.out.Faces {
		face := &w.out.Faces[i]
		for k := range face.Layers {
			u := c.layer(face.Face == plan.FaceA, k)
			if !face.Layers[k].endsAt(u) {
				continue
			}
			w.edgeJoint(kind(face.Face), face, k, geom.Pt(u, face.Layers[k].Bottom), geom.Pt(u, w.topAt(face, c.end, u)))
		}
	}
}

// topAt returns the height of a face's boards at an end.
func (w *wallLayout) topAt(f *FaceLayout, end int, u Length) Length {
	top := f.Layers[len(f.Layers)-1].Top
	if end == 0 {
		return top.After(u)
	}
	return top.Before(u)
}

// edgeJoint adds a joint at the rim of a layer; those of inner layers are filled
// and get no bead.
func (w *wallLayout) edgeJoint(kind JointKind, f *FaceLayout, k int, from, to geom.Point) {
	outer := k == len(f.Layers)-1
	w.out.Joints = append(w.out.Joints, Joint{Kind: kind, Face: f.Face, Layer: k, Outer: outer, From: from, To: to})
	if kind == OuterCorner && outer {
		w.bead("outer corner", f.Face, from, to)
	}
}

func (w *wallLayout) bead(use string, f plan.Face, from, to geom.Point) {
	if p, ok := w.cat.SundryFor(catalogue.KindBead, use, w.pr); ok {
		w.out.Beads = append(w.out.Beads, Strip{Product: p.ID, Use: use, Line: -1, Face: f, From: from, To: to})
	}
}

// cap closes a free end: one strip a layer across the frame, and beads on both
// edges.
func (w *wallLayout) cap(c cut, edges JointKind) {
	if c.caps == 0 {
		return
	}
	u := c.frame(0)
	for k := range c.caps {
		bottom, top := w.boardFoot(), w.boardTop(c.end, u, k)
		w.strips(k, useEndCap, geom.Pt(u, bottom), top-bottom)
	}
	w.edgeJoints(c, func(plan.Face) JointKind { return edges })
}

// strips adds the strips of layer k across the frame and the edges of the layers
// beneath. Strips never join the frames of an independent twin wall: each frame
// has its own, and the gap between them stays open (common practice: it is closed
// with the isolating strip or elastic sealant).
func (w *wallLayout) strips(k int, use string, at geom.Point, height Length) {
	a, b := thicknessUnder(w.spec.A, k), thicknessUnder(w.spec.B, k)
	board := w.spec.A[k].ID
	if w.spec.Kind == plan.TwinIndependent {
		w.strip(board, use, at, w.spec.FrameDepth()+a, height, a)
		w.strip(board, use, at, w.spec.FrameDepth()+b, height, a)
		return
	}
	width := w.body.frameEdge(true) - w.body.frameEdge(false) + a + b
	if use == useTopCap && w.spec.Kind.OneSided() {
		width += w.spec.Gap // back to what it lines
	}
	w.strip(board, use, at, width, height, a)
}

// thicknessUnder returns the thickness of the layers beneath layer k.
func thicknessUnder(boards []*catalogue.Board, k int) Length {
	var t Length
	for _, b := range boards[:min(k, len(boards))] {
		t += b.Thickness
	}
	return t
}

// boardTop returns the height at which the boards of layer k stop at an end.
func (w *wallLayout) boardTop(end int, u Length, k int) Length {
	if end == 0 {
		return w.layerTop(k).After(u)
	}
	return w.layerTop(k).Before(u)
}

// Uses of strips that are not boarding.
const (
	useEndCap = "end cap"
	useTopCap = "top cap"
	useReveal = "reveal"
)

// strip adds a strip of board of a width and height over others of a thickness,
// cut to the longest boards; its outline is in its own plane.
func (w *wallLayout) strip(board, use string, at geom.Point, width, height, under Length) {
	b, ok := w.cat.Board(board)
	if !ok || width <= 0 {
		return
	}
	long := b.Lengths[len(b.Lengths)-1]
	for low := Length(0); low < height; low += long {
		h := min(long, height-low)
		w.out.Caps = append(w.out.Caps, Piece{
			Number: len(w.out.Caps) + 1, Board: board, Use: use, At: at, Width: width, Height: h,
			Outline: geom.Polygon{geom.Pt(0, low), geom.Pt(width, low), geom.Pt(width, low+h), geom.Pt(0, low+h)},
			Left:    CutEdge, Right: CutEdge, Rule: use,
		})
		w.screwStrip(b.Thickness+under, h)
	}
}

// screwStrip counts the screws of a strip: a row along each of its long edges.
func (w *wallLayout) screwStrip(stack, length Length) {
	screw, ok := w.cat.ScrewFor(stack, w.spec.Stud.Thickness, w.pr)
	if !ok {
		return
	}
	spacing := w.pr.ScrewSpacing.Value[0][0]
	w.out.Screws = append(w.out.Screws, ScrewRow{Screw: screw.ID, Layer: -1, Count: 2 * (int((length+spacing-1)/spacing) + 1)})
}

// closeFoot adds the joint along the floor, between the openings, where the rim is
// closed with sealant; compound does not fill the gap there.
func (w *wallLayout) closeFoot() {
	if p, ok := w.cat.Sundry(w.out.Rim); !ok || p.Kind != catalogue.KindSealant {
		return
	}
	for i := range w.out.Faces {
		face := &w.out.Faces[i]
		k := len(face.Layers) - 1
		for _, p := range face.Layers[k].Pieces {
			p.Outline.Edges(func(s geom.Segment) {
				if s.A.Y == face.Layers[k].Bottom && s.B.Y == s.A.Y {
					w.edgeJoint(Perimeter, face, k, s.A, s.B)
				}
			})
		}
	}
}

// closeTop treats the upper edge: a joint against the soffit on each face, or
// strips and beads where the top stands free.
func (w *wallLayout) closeTop() {
	for i := range w.out.Faces {
		for k := range w.out.Faces[i].Layers {
			w.topJoints(&w.out.Faces[i], k)
		}
	}
	if w.out.Head.Kind != plan.HeadFree || len(w.spec.A) == 0 {
		return
	}
	for k := range w.spec.A {
		for _, m := range w.out.Members {
			if m.Role == SoffitTrack && w.out.FrameLines[m.Line].Offset == w.body.lineOffsets()[0] {
				w.strips(k, useTopCap, m.From, m.Cut)
			}
		}
	}
}

// topJoints adds the joint along the upper edge of a layer. Under a head that slides
// it stays open unless sealant closes it: compound would tie the boards to the soffit.
func (w *wallLayout) topJoints(face *FaceLayout, k int) {
	if p, ok := w.cat.Sundry(w.out.Rim); w.out.Head.Kind == plan.HeadDeflection && (!ok || p.Kind != catalogue.KindSealant) {
		return
	}
	l := &face.Layers[k]
	kind := Perimeter
	if w.out.Head.Kind == plan.HeadFree {
		kind = OuterCorner
	}
	for _, part := range l.stretches() {
		corners := l.Top.Within(part.From, part.To)
		for j := 1; j < len(corners); j++ {
			if corners[j-1] != corners[j] {
				w.edgeJoint(kind, face, k, corners[j-1], corners[j])
			}
		}
	}
}

// lineReveal boards the sides and head of a bare opening, and the sill if it
// has one, and puts beads on their edges.
func (w *wallLayout) lineReveal(o Opening) {
	faces := w.out.Faces
	if len(faces) == 0 {
		return
	}
	board := faces[0].Layers[len(faces[0].Layers)-1].Board
	foot := max(o.Sill, w.boardFoot())
	head := min(o.Head, w.boardTop(0, o.U.From, len(faces[0].Layers)-1))
	corners := []geom.Point{geom.Pt(o.U.From, foot), geom.Pt(o.U.From, head), geom.Pt(o.U.To, head), geom.Pt(o.U.To, foot)}
	sides := 3
	if !o.AtFloor() {
		sides = 4
	}
	for i := range sides {
		from, to := corners[i], corners[(i+1)%4]
		w.revealStrips(board, from, from.Dist(to))
		for j := range faces {
			w.edgeJoint(OuterCorner, &faces[j], len(faces[j].Layers)-1, from, to)
		}
	}
}

// revealStrips adds the strips of one side of a reveal: one across the wall, or
// one for each frame of an independent twin wall.
func (w *wallLayout) revealStrips(board string, at geom.Point, length Length) {
	if w.spec.Kind != plan.TwinIndependent {
		w.strip(board, useReveal, at, w.spec.Thickness, length, 0)
		return
	}
	for _, f := range bothFaces {
		w.strip(board, useReveal, at, w.spec.FrameDepth()+w.spec.BoardsThickness(f), length, 0)
	}
}
