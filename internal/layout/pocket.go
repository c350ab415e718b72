package layout

import (
	"fmt"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// rib returns the thin profile that carries the boards on both sides of a pocket:
// the furring channel of the stud's standard.
func (w *wallLayout) rib() *catalogue.Profile {
	for i := range w.cat.Profiles {
		if p := &w.cat.Profiles[i]; p.Kind == catalogue.Channel && p.Standard == w.spec.Stud.Standard {
			return p
		}
	}
	return nil
}

// setRibs sets the ribs of a pocket, at the edge of the opening and under the
// cripples over it: one for each face that the line carries.
func (f *framer) setRibs(o *Opening, cripples []upright) {
	rib := f.rib()
	if o.Pocket == nil || rib == nil {
		return
	}
	edge := o.Pocket.From + rib.Web/2
	if o.Pocket.To == o.U.From {
		edge = o.Pocket.To - rib.Web/2
	}
	at := []Length{edge}
	for _, s := range cripples {
		near := slices.ContainsFunc(at, func(u Length) bool { return (s.at - u).Abs() < rib.Web })
		if s.at-rib.Web/2 > o.Pocket.From && s.at+rib.Web/2 < o.Pocket.To && !near {
			at = append(at, s.at)
		}
	}
	ends := append(slices.Clone(at), o.Pocket.From, o.Pocket.To)
	slices.Sort(ends)
	for i := 1; i < len(ends); i++ {
		for _, s := range divide(ends[i-1], ends[i], f.spec.Spacing, rib.Web, PocketRib) {
			at = append(at, s.at)
		}
	}
	slices.Sort(at)
	top := min(o.Top(), f.out.Top.Min(o.Pocket.From, o.Pocket.To)-f.studDrop)
	if top-o.base < leastCripple {
		return
	}
	for _, u := range at {
		for range f.facesOn() {
			f.add(Member{
				Role: PocketRib, Line: f.line, Product: rib.ID, Rule: "pocket of " + o.ID, Width: rib.Web,
				From: geom.Pt(u, o.base), To: geom.Pt(u, top), Cut: top - o.base,
			})
		}
	}
}

// checkPockets tells of pockets that the frame cannot take, and of screws that
// would reach the leaf.
func (w *wallLayout) checkPockets() {
	for i := range w.out.Openings {
		o := &w.out.Openings[i]
		if o.Pocket == nil {
			continue
		}
		if lack := w.pr.PocketDepth.Value - w.cavity(); lack > 0 {
			w.findOpening(*o, finding.Warning, "frame-too-shallow",
				words.F("slides into a cavity of %s mm; its pocket needs %s mm, %s mm more", mm(w.cavity()), mm(w.pr.PocketDepth.Value), mm(lack)), w.deeper(w.pr.PocketDepth.Value))
		}
		w.checkPocketScrews(o)
	}
}

// dropPockets leaves out pockets that run into another opening or, with the jamb at
// their end, leave it no room, and tells by how much.
func (w *wallLayout) dropPockets() {
	for i := range w.out.Openings {
		o := &w.out.Openings[i]
		for j := range w.out.Openings {
			p := &w.out.Openings[j]
			if i == j || o.Pocket == nil || p.Sill >= o.Top() {
				continue
			}
			gap := max(p.Bay().From-o.Bay().To, o.Bay().From-p.Bay().To)
			if jamb := max(o.stud.Flange, p.stud.Flange); gap < jamb && (p.U.From >= o.U.To) == (o.Pocket.From == o.U.To) {
				place := fmt.Sprintf("slides to %s mm from %s", mm(gap), p.ID)
				if gap < 0 {
					place = fmt.Sprintf("slides %s mm into %s", mm(-gap), p.ID)
				}
				w.findOpening(*o, finding.Warning, "pocket-meets-opening",
					words.F("%s; the jamb between them needs %s mm, and the pocket is left out", place, mm(jamb)), words.F("move one of the two by %s mm", mm(jamb-gap)))
				o.Pocket, o.running = nil, 0
			}
		}
	}
}

// checkPocketScrews tells of screws longer than boards and rib together.
func (w *wallLayout) checkPocketScrews(o *Opening) {
	rib := w.rib()
	if rib == nil {
		return
	}
	for _, f := range []plan.Face{plan.FaceA, plan.FaceB} {
		stack := w.spec.BoardsThickness(f)
		s, ok := w.cat.ScrewFor(stack, rib.Thickness, w.pr)
		if over := Length(0); stack > 0 && ok {
			if over = s.Length - stack - rib.NominalDepth(); over > 0 {
				w.findOpening(*o, finding.Warning, "screw-into-pocket", words.F("the screws of face %s reach %s mm into its pocket", faceName(f), mm(over)), words.F("use screws at most %s mm long there", mm(stack+rib.NominalDepth())))
			}
		}
	}
}
