package layout

import "slices"

// bench is the room in which the lists of one wall after another grow, so that
// a finished wall holds lists of just its own size: on large projects that
// halves the memory.
type bench struct {
	members []Member
	screws  []ScrewRow
	joints  []Joint
	anchors []AnchorRow
	seals   []Strip
	beads   []Strip
	batts   []Batt

	// Room for the work on one layer.
	pieces []Piece
	nodes  []candidate
	best   []int
	prev   []int
}

// row returns two cleared rows of n numbers.
func (b *bench) row(n int) (best, prev []int) {
	b.best, b.prev = slices.Grow(b.best[:0], n)[:n], slices.Grow(b.prev[:0], n)[:n]
	clear(b.best)
	clear(b.prev)
	return b.best, b.prev
}

// lend gives a wall the room to grow in.
func (b *bench) lend(w *Wall) {
	w.Members, w.Screws, w.Joints = b.members[:0], b.screws[:0], b.joints[:0]
	w.Anchors, w.Seals, w.Beads, w.Batts = b.anchors[:0], b.seals[:0], b.beads[:0], b.batts[:0]
}

// takeBack leaves the wall with copies of its lists.
func (b *bench) takeBack(w *Wall) {
	b.members, w.Members = w.Members, slices.Clone(w.Members)
	b.screws, w.Screws = w.Screws, slices.Clone(w.Screws)
	b.joints, w.Joints = w.Joints, slices.Clone(w.Joints)
	b.anchors, w.Anchors = w.Anchors, slices.Clone(w.Anchors)
	b.seals, w.Seals = w.Seals, slices.Clone(w.Seals)
	b.beads, w.Beads = w.Beads, slices.Clone(w.Beads)
	b.batts, w.Batts = w.Batts, slices.Clone(w.Batts)
}
