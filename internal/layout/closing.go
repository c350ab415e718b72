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

// closing is where a wall stops short of a facade post that is narrower than the
// wall.
type closing struct {
	post   *solid
	at     Length        // u of the post's surface
	length Length        // from there to the wall
	room   geom.Interval // v that the post covers within the wall's thickness
	given  *plan.ClosingPiece
}

// closingAt returns the closing piece between a wall's end and a post, or nil
// where the wall can end at the body itself.
func closingAt(ep *endPoint, x *solid, length Length) *closing {
	b := ep.body
	if !x.post || b.arc != nil {
		return nil
	}
	at, ok := x.surface(ep, 0)
	if !ok {
		return nil
	}
	var vs []Length
	for _, p := range x.outline {
		vs = append(vs, b.frame.Local(p).Y)
	}
	room := geom.Interval{From: max(slices.Min(vs), -b.half), To: min(slices.Max(vs), b.half)}
	if room.Len() >= 2*b.half || room.Len() <= 0 {
		return nil
	}
	c := &closing{post: x, at: at, length: length, room: room, given: b.wall.StartPiece}
	if ep.end == 1 {
		c.given = b.wall.EndPiece
	}
	if c.given != nil && c.given.Length > 0 {
		c.length = c.given.Length
	}
	return c
}

// closingCut ends a wall before its closing piece, where boards close it.
func closingCut(ep *endPoint) cut {
	c := cappedCut(ep, out(ep.end, ep.closing.at, -ep.closing.length))
	c.kind, c.with, c.against, c.closing = Structure, ep.closing.post.id, ep.closing.post.material, ep.closing
	return c
}

// close lays out the closing piece at an end: a slim frame of the wall's kind of
// stud with one board a face where the post leaves room for one, else as many
// boards on each other as it leaves room for (common practice). The piece is
// weaker than the wall, which is said where the wall is asked for anything.
func (w *wallLayout) close(c cut) {
	p := Closing{End: c.end, With: c.with, Offset: (c.closing.room.From + c.closing.room.To) / 2}
	far := out(c.end, c.closing.at, -c.closing.length)
	p.U = geom.Interval{From: min(c.closing.at, far), To: max(c.closing.at, far)}
	most := c.closing.room.Len()
	if g := c.closing.given; g != nil && g.Thickness > 0 {
		if g.Thickness > most {
			w.find(finding.Warning, "closing-piece-too-thick",
				words.F("its closing piece at %s is to be %s mm thick, %s mm more than the post covers", c.with, g.Thickness, mm(g.Thickness-most)),
				words.F("write at most thickness: %s", most))
		}
		most = g.Thickness
	}
	bottom, top := w.boardFoot(), w.boardTop(c.end, far, 0)
	if !w.stack(&p, most, bottom, top) {
		w.find(finding.Warning, "closing-piece-too-thin",
			words.F("%s leaves %s mm for its closing piece, less than one board", c.with, mm(most)),
			"let the wall end at a wider post, or close it by a detail of the facade's maker")
		return
	}
	w.out.Closings = append(w.out.Closings, p)
	w.sealClosing(&p, c, bottom, top)
	w.tellClosing(&p, c)
}

// stack fills a closing piece with parts; false where not one board has room.
func (w *wallLayout) stack(p *Closing, most, bottom, top Length) bool {
	if len(w.spec.A) == 0 {
		return false
	}
	board := w.spec.A[len(w.spec.A)-1]
	n := most / board.Thickness
	p.Thickness = n * board.Thickness
	if stud := w.slimStud(most - 2*board.Thickness); stud != nil {
		n, p.Stud, p.Thickness = 2, stud.ID, stud.NominalDepth()+2*board.Thickness
		p.Studs = []Length{top - bottom, top - bottom}
	}
	for i := range n {
		p.Boards = append(p.Boards, Piece{
			Number: int(i) + 1, Board: board.ID, Use: "closing piece", At: geom.Pt(p.U.From, bottom), Width: p.U.Len(), Height: top - bottom,
			Outline: geom.Polygon{geom.Pt(p.U.From, bottom), geom.Pt(p.U.To, bottom), geom.Pt(p.U.To, top), geom.Pt(p.U.From, top)},
			Left:    CutEdge, Right: CutEdge, Rule: "facade post narrower than the wall",
		})
		w.screwStrip(Length(i+1)*board.Thickness, top-bottom)
	}
	return n > 0
}

// slimStud returns the deepest stud of the wall's standard and sheet that has room
// in a depth.
func (w *wallLayout) slimStud(depth Length) *catalogue.Profile {
	var best *catalogue.Profile
	for i := range w.cat.Profiles {
		p := &w.cat.Profiles[i]
		fits := p.Kind == catalogue.Stud && p.Standard == w.spec.Stud.Standard && p.Thickness == w.spec.Stud.Thickness && p.NominalDepth() <= depth
		if fits && (best == nil || p.NominalDepth() > best.NominalDepth()) {
			best = p
		}
	}
	return best
}

// sealClosing fixes the piece to the post and to the wall, and seals it at both.
func (w *wallLayout) sealClosing(p *Closing, c cut, bottom, top Length) {
	for i, u := range []Length{c.closing.at, out(c.end, c.closing.at, -c.closing.length)} {
		from, to := geom.Pt(u, bottom), geom.Pt(u, top)
		substrate := plan.Steel // the wall's end stud
		if i == 0 {
			substrate = orElse(c.closing.post.material, plan.Steel)
		}
		w.anchorRow(from, to, w.pr.TrackFixingEnd.Value, w.pr.EdgeStudFixing.Value, w.pr.EdgeStudMinimum.Value, "closing piece", substrate)
		if s, ok := w.cat.SundryFor(catalogue.KindSealant, "acoustic", w.pr); ok {
			for range 2 {
				w.out.Seals = append(w.out.Seals, Strip{Product: s.ID, Use: "closing piece", Line: -1, From: from, To: to})
			}
		}
	}
}

func (w *wallLayout) tellClosing(p *Closing, c cut) {
	if c.closing.given == nil {
		w.find(finding.Assumed, "closing-piece",
			words.F("ends at %s, which covers %s mm of its %s mm: a closing piece %s mm thick and %s mm long is laid out", c.with, mm(c.closing.room.Len()), w.spec.Thickness, p.Thickness, mm(p.U.Len())),
			words.F("confirm it with `%s_piece: {thickness: %s, length: %s}`", endName(c.end), p.Thickness, mm(p.U.Len())))
	}
	if r := w.body.wall.Require; r.Sound != "" || r.Fire != "" {
		w.find(finding.Warning, "closing-piece-weaker",
			words.F("%s is asked of it, and its closing piece at %s is %s mm thinner: the sound insulation and fire resistance there are less", orElse(joined(r.Sound, r.Fire), "something"), c.with, w.spec.Thickness-p.Thickness),
			"take a wider post, or a closing piece for which the same is proved by test (steel or lead sheet between its boards)")
	}
}

func joined(a, b string) string {
	if a != "" && b != "" {
		return a + " and " + b
	}
	return a + b
}

// checkGlass tells of ends at glass, into which nothing can be fixed.
func (w *wallLayout) checkGlass() {
	for end, e := range w.out.Ends {
		l := w.out.FrameLines
		if len(l) == 0 || e.Kind != Structure {
			continue
		}
		line := l[0]
		if end == 1 {
			line = l[len(l)-1]
		}
		if c := line.cuts[end]; c.against == "glass" && c.closing == nil {
			w.find(finding.Warning, "end-at-glass",
				ofEnd(end, words.F("its start meets %s, which is glass: nothing can be fixed to it", e.With), words.F("its end meets %s, which is glass: nothing can be fixed to it", e.With)),
				"let the wall end at a post of the facade (`kind: post`), or stop it short as a free end")
		}
	}
}

// leastStep is the least step between two walls in one line that is closed with a
// strip; compound fills less.
const leastStep = 3 * quantity.Millimetre

// useStepCap is the use of the strips over the end of a wall that stands out
// before the wall that carries it on.
const useStepCap = "step between walls"

// finishStep closes what shows of a wall's end beside a thinner wall in the same
// line: a strip for each layer of the face, a bead on the outer edge, and an inner
// corner against the other's face.
func (w *wallLayout) finishStep(c cut) {
	for i := range w.out.Faces {
		face := &w.out.Faces[i]
		step := c.right
		if face.Face == plan.FaceA {
			step = c.left
		}
		if step < leastStep {
			continue
		}
		k := len(face.Layers) - 1
		u := c.layer(face.Face == plan.FaceA, k)
		from, to := geom.Pt(u, face.Layers[k].Bottom), geom.Pt(u, w.topAt(face, c.end, u))
		for _, l := range face.Layers {
			w.strip(l.Board, useStepCap, from, step, to.Y-from.Y, 0)
		}
		w.edgeJoint(OuterCorner, face, k, from, to)
		w.edgeJoint(InnerCorner, face, k, from, to)
	}
}

// straightJoints adds the joints between two walls in one line, on the faces that
// are flush.
func (w *wallLayout) straightJoints(c cut) {
	before := len(w.out.Joints)
	w.edgeJoints(c, func(plan.Face) JointKind { return CutJoint })
	added := slices.DeleteFunc(w.out.Joints[before:], func(j Joint) bool {
		return j.Outer && (j.Face == plan.FaceA && c.left.Abs() >= leastStep || j.Face == plan.FaceB && c.right.Abs() >= leastStep)
	})
	w.out.Joints = w.out.Joints[:before+len(added)]
}
