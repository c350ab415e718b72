package layout

import (
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// leastNogging is the least distance of two studs between which a nogging is set;
// closer ones hold the board themselves (common practice).
const leastNogging = 100 * quantity.Millimetre

// backCrossJoints puts what the practice asks for behind the cross joints of the
// first layer of each face that has few enough layers, between the uprights of
// the line that carries it; none in openings. The ends of the boards are screwed
// to it.
func (w *wallLayout) backCrossJoints() {
	if w.pr.CrossJointBacking.Value == catalogue.BackingNone || w.pr.CrossJointBacking.Value == "" {
		return
	}
	product := w.backing()
	for i := 0; i < len(w.out.Joints); i++ {
		j := w.out.Joints[i]
		if j.Kind != CrossJoint || j.Layer > 0 || len(w.spec.Boards(j.Face)) > w.pr.BackedLayers.Value {
			continue
		}
		for _, line := range w.linesOf(j.Face) {
			w.backJoint(j, line, product)
		}
	}
}

// linesOf lists the frame lines that carry a face.
func (w *wallLayout) linesOf(f plan.Face) []int {
	per := len(w.body.lineOffsets())
	first := 0
	if f == plan.FaceB {
		first = per - 1
	}
	var list []int
	for line := first; line < len(w.out.FrameLines); line += per {
		list = append(list, line)
	}
	return list
}

// backing returns the profile that stands behind cross joints: flat strap where
// the practice asks for it and the catalogue has one, else track.
func (w *wallLayout) backing() *catalogue.Profile {
	if w.pr.CrossJointBacking.Value == catalogue.BackingStrap {
		if p, ok := w.cat.StrapFor(w.spec.Stud.ID); ok {
			return p
		}
	}
	return w.spec.Track
}

// backJoint backs one cross joint on one frame line, bay by bay. A nogging that
// is there for the joint of the other face serves both.
func (w *wallLayout) backJoint(j Joint, line int, product *catalogue.Profile) {
	var left *Member
	for _, m := range w.uprights(line) {
		if j.From.Y < m.From.Y || j.From.Y > m.To.Y {
			continue
		}
		if left != nil && left.From.X < j.To.X && j.From.X < m.From.X && !w.open(left.From.X, m.From.X, j.From.Y) {
			n := Member{
				Role: Nogging, Line: line, Product: product.ID, Rule: ruleBacking, Width: product.Flange,
				From: geom.Pt(left.From.X, j.From.Y), To: geom.Pt(m.From.X, j.From.Y), Cut: m.From.X - left.From.X,
			}
			if product.Kind == catalogue.Strap || n.Cut >= leastNogging && !w.hasNogging(n) {
				w.add(n)
			}
			w.screwBacking(j, max(left.From.X, j.From.X), min(m.From.X, j.To.X), product)
		}
		left = m
	}
}

func (w *wallLayout) hasNogging(n Member) bool {
	return slices.ContainsFunc(w.out.Members, func(m Member) bool {
		return m.Role == Nogging && m.Line == n.Line && m.From == n.From && m.To == n.To
	})
}

// screwBacking screws the board above and the one below a cross joint to its
// backing, between the screws that the studs hold.
func (w *wallLayout) screwBacking(j Joint, from, to Length, product *catalogue.Profile) {
	board := w.spec.Boards(j.Face)[0]
	screw, ok := w.cat.ScrewFor(board.Thickness, product.Thickness, w.pr)
	if !ok {
		return
	}
	spacing := w.pr.ScrewSpacing.Value[0][0]
	parts := (to - from + spacing - 1) / spacing
	if parts < 2 {
		return
	}
	pitch := (to - from) / parts
	for _, z := range []Length{j.From.Y - w.pr.ScrewEdge.Value, j.From.Y + w.pr.ScrewEdge.Value} {
		w.out.Screws = append(w.out.Screws, ScrewRow{
			Screw: screw.ID, Face: j.Face, From: geom.Pt(from+pitch, z), To: geom.Pt(to-pitch, z), Count: int(parts) - 1,
		})
	}
}
