package layout

import (
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/plan"
)

// Where sound asks for it, the boards of a through wall are cut at a tee: the
// frame of the wall that stands against it goes in between them and meets the
// through wall's frame, so that no board carries sound past it. The cut edges
// are held by studs of their own and their joints sealed (common practice).

// on reports whether the other wall stands on the given side: a wall that
// crosses stands on both.
func (t tee) on(left bool) bool { return t.end < 0 || t.left == left }

// slit returns the stretch that board layer k of one side leaves free for the
// frame of a wall that stands there.
func (b *body) slit(t tee, left bool, k int) geom.Interval {
	var us []Length
	for _, v := range []Length{b.plane(left, k), b.plane(left, k+1)} {
		for _, edge := range []bool{true, false} {
			us = append(us, b.meet(v, t.other, t.other.frameEdge(edge), b.point(t.u, 0)))
		}
	}
	return geom.Interval{From: slices.Min(us) - cutGap, To: slices.Max(us) + cutGap}
}

// slits lists the stretches that board layer k of the given faces leaves free
// for other walls' frames, in ascending order.
func (w *wallLayout) slits(faces []plan.Face, k int) []geom.Interval {
	var list []geom.Interval
	for _, t := range w.body.tees {
		for _, f := range faces {
			if left := f == plan.FaceA; t.cut && t.on(left) && k < len(w.spec.Boards(f)) {
				list = append(list, w.body.slit(t, left, k))
			}
		}
	}
	slices.SortFunc(list, func(a, b geom.Interval) int { return compare(a.From, b.From) })
	return list
}

// gaps lists the stretches that layer k of a face leaves free within its runs.
func (w *wallLayout) gaps(f plan.Face, k int) []geom.Interval {
	list := append(w.slits([]plan.Face{f}, k), w.overHeads()...)
	slices.SortFunc(list, func(a, b geom.Interval) int { return compare(a.From, b.From) })
	return list
}

// endsAt reports whether boards of the layer end at u; where another wall's frame
// stands there, they end beside it.
func (l *Layer) endsAt(u Length) bool {
	return slices.ContainsFunc(l.stretches(), func(p geom.Interval) bool { return u == p.From || u == p.To })
}

// stretches lists the parts of a run's layer between its gaps, but for strips too
// narrow to be screwed, which are left open and sealed.
func (w *wallLayout) stretches(r run, f plan.Face, k int) []geom.Interval {
	parts := outside(r.layerExtent(f, k), w.gaps(f, k))
	return slices.DeleteFunc(parts, func(p geom.Interval) bool { return p.Len() < 2*w.pr.ScrewEdge.Value })
}

// boarded returns from where to where a layer runs, and where it is interrupted:
// between runs, and at its gaps.
func (w *wallLayout) boarded(runs []run, f plan.Face, k int) (extent geom.Interval, breaks []geom.Interval) {
	first := true
	for _, r := range runs {
		for _, e := range w.stretches(r, f, k) {
			if first {
				extent, first = e, false
				continue
			}
			breaks = append(breaks, geom.Interval{From: extent.To, To: e.From})
			extent.To = e.To
		}
	}
	return extent, breaks
}

// stretches lists the parts of a layer between its breaks.
func (l *Layer) stretches() []geom.Interval { return outside(l.Extent, l.Breaks) }

// outside returns what ascending gaps leave of an extent.
func outside(extent geom.Interval, gaps []geom.Interval) []geom.Interval {
	var parts []geom.Interval
	from := extent.From
	for _, g := range gaps {
		if g.To <= from || g.From >= extent.To {
			continue
		}
		if g.From > from {
			parts = append(parts, geom.Interval{From: from, To: g.From})
		}
		from = g.To
	}
	if from < extent.To {
		parts = append(parts, geom.Interval{From: from, To: extent.To})
	}
	return parts
}

// UseBoardCut is the use of the sealant beside a frame for which boards are cut.
const UseBoardCut = "board cut"

// sealSlits seals the joints beside the frames for which boards are cut, layer
// by layer.
func (w *wallLayout) sealSlits() {
	p, ok := w.cat.SundryFor(catalogue.KindSealant, "acoustic", w.pr)
	if !ok {
		return
	}
	for i := range w.out.Faces {
		face := &w.out.Faces[i]
		for k := range face.Layers {
			l := &face.Layers[k]
			for _, gap := range w.slits([]plan.Face{face.Face}, k) {
				for _, u := range []Length{gap.From, gap.To} {
					if l.Extent.Contains(u) {
						w.out.Seals = append(w.out.Seals, Strip{
							Product: p.ID, Use: UseBoardCut, Line: -1, From: geom.Pt(u, l.Bottom), To: geom.Pt(u, l.Top.Before(u)),
						})
					}
				}
			}
		}
	}
}
