package linear

import "slices"

// finishBars is the greatest number of bars that finish is tried on, finishLimit
// the nodes it may take.
const (
	finishBars  = 30
	finishLimit = 20_000
)

// finish looks for a way to cut all that is left from so few bars of the one stock
// that the plan becomes cheaper than the best: bar by bar, the heaviest piece left
// with every company that leaves no more unused than all bars together may
// (the dominance of bins turned into a search, 1998 and 2002). It
// offers what it finds and reports whether it did.
func (s *search) finish(st *state) bool {
	in := s.in
	if len(in.size) > 1 || in.count[0] > 0 {
		return false
	}
	bars := int((s.below - in.unit - st.cost) / in.cost[0])
	if bars > finishBars {
		return false
	}
	f := &finisher{in: in, left: slices.Clone(st.left), failed: map[uint64]bool{}, limit: finishLimit}
	found := f.run(bars)
	s.steps += int64(40 * f.nodes)
	if !found {
		return false
	}
	s.offer(append(slices.Clone(st.bars), f.bars...), st.cost+int64(len(f.bars))*in.cost[0])
	return true
}

// run looks for a way onto so many bars.
func (f *finisher) run(bars int) bool {
	f.slack = bars * f.in.size[0]
	for k, n := range f.left {
		f.slack -= n * f.in.weight[k]
		f.state += uint64(n) * mark(k)
	}
	return f.slack >= 0 && f.next(bars)
}

// finisher is one run of finish.
type finisher struct {
	in           *instance
	left         []int
	slack        int // that all bars together may leave unused
	bars         []bar
	uses         []use
	nodes, limit int
	failed       map[uint64]bool // states from which no way was found
	state        uint64          // sum of the marks of what is left
}

// mark is a number for a kind by which states are told apart.
func mark(k int) uint64 {
	x := uint64(k+1) * 0x9e3779b97f4a7c15
	x ^= x >> 31
	return x*0xbf58476d1ce4e5b9 | 1
}

// next fills one more bar; bars is how many there may be.
func (f *finisher) next(bars int) bool {
	k := slices.IndexFunc(f.left, func(n int) bool { return n > 0 })
	if k < 0 {
		return true
	}
	if bars == 0 || f.failed[f.state] {
		return false
	}
	uses := f.uses
	f.uses = nil
	f.move(k, 1)
	found := f.fill(k, f.in.size[0]-f.in.weight[k], bars)
	if !found {
		f.move(k, -1)
		f.uses = uses
		f.failed[f.state] = true
	}
	return found
}

// move takes n of a kind from what is left onto the bar.
func (f *finisher) move(k, n int) {
	f.left[k] -= n
	f.state -= uint64(n) * mark(k)
	if last := len(f.uses) - 1; last >= 0 && f.uses[last].kind == k {
		if f.uses[last].count += n; f.uses[last].count == 0 {
			f.uses = f.uses[:last]
		}
		return
	}
	f.uses = append(f.uses, use{k, n})
}

// fill fills what room the bar has with kinds from k on, then goes on to the next.
func (f *finisher) fill(k, room, bars int) bool {
	if f.nodes++; f.nodes > f.limit {
		return false
	}
	for j := k; j < len(f.left); j++ {
		w := f.in.weight[j]
		if f.left[j] == 0 || w > room {
			continue
		}
		f.move(j, 1)
		if f.fill(j, room-w, bars) {
			return true
		}
		f.move(j, -1)
	}
	if room > f.slack || f.fits(room) {
		return false
	}
	f.slack -= room
	uses := slices.Clone(f.uses)
	f.bars = append(f.bars, bar{0, uses})
	if f.next(bars - 1) {
		return true
	}
	f.bars = f.bars[:len(f.bars)-1]
	f.uses = uses
	f.slack += room
	return false
}

// fits reports whether a piece that is left fits into the room.
func (f *finisher) fits(room int) bool {
	for k := len(f.left) - 1; k >= 0; k-- {
		if f.left[k] > 0 {
			return f.in.weight[k] <= room
		}
	}
	return false
}
