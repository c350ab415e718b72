package linear

import (
	"cmp"
	"slices"
)

// swapping looks for a plan with one bar fewer than the best, all of the one stock:
// all bars but two are kept, what is on no bar lies beside, and pieces beside are
// swapped with pieces of a bar so that as little weight as possible lies beside.
// What was moved stays for a while, so that the search does not turn in circles.
// Once what lies beside goes onto two bars, the plan is found (consistent
// neighbourhood search, Computers and Operations Research 76, 2016).
type swapping struct {
	in     *instance
	size   int
	bars   [][]item
	room   []int
	beside []item
	weight int   // of what lies beside
	sets   []set // of pieces beside that may move, the lightest first
	chance chance
	moves  int
	steps  int64
}

// item is one piece; until is the move up to which it stays where it is.
type item struct{ kind, weight, until int }

// set is up to three pieces, as places in a list.
type set struct {
	weight int
	places [3]int
	n      int
}

// chance is a repeatable source of numbers (Steele, Lea and Flood's splitmix64).
type chance uint64

// below returns a number from 0 up to n, without n.
func (c *chance) below(n int) int {
	*c += 0x9e3779b97f4a7c15
	z := uint64(*c)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return int((z ^ z>>31) >> 1 % uint64(n))
}

// swap runs the search for so many steps; it offers what it finds and reports
// whether it did.
func (s *search) swap(steps int64) bool {
	in := s.in
	if len(in.size) > 1 || in.count[0] > 0 || len(s.best) < aside+2 {
		return false
	}
	w := newSwapping(in, s.best)
	defer func() { s.steps += w.steps }()
	for w.steps < steps && s.ctx.Err() == nil {
		if w.weight <= aside*w.size {
			if rest, ok := w.settle(); ok {
				bars := append(w.result(), rest...)
				s.offer(bars, int64(len(bars))*in.cost[0])
				return true
			}
		}
		w.move()
	}
	return false
}

func newSwapping(in *instance, best []bar) *swapping {
	w := &swapping{in: in, size: in.size[0], chance: 1}
	bars := slices.Clone(best)
	load := func(b bar) (sum int) {
		for _, u := range b.uses {
			sum += u.count * in.weight[u.kind]
		}
		return sum
	}
	slices.SortStableFunc(bars, func(a, b bar) int { return cmp.Compare(load(b), load(a)) })
	for i, b := range bars {
		var items []item
		for _, u := range b.uses {
			for range u.count {
				items = append(items, item{kind: u.kind, weight: in.weight[u.kind]})
			}
		}
		if i < len(bars)-aside-1 {
			w.bars = append(w.bars, items)
			w.room = append(w.room, w.size-load(b))
			continue
		}
		w.beside = append(w.beside, items...)
		w.weight += load(b)
	}
	return w
}

const (
	aside       = 2   // bars whose worth of pieces lies beside
	settleLimit = 300 // nodes of one try to put them onto bars
)

// largest is the number of pieces beside up to which sets of three are looked at.
const largest = 14

// list makes the sets of pieces beside that may move.
func (w *swapping) list() {
	w.sets = append(w.sets[:0], set{})
	free := func(i int) bool { return w.beside[i].until <= w.moves }
	for i, a := range w.beside {
		if !free(i) {
			continue
		}
		w.sets = append(w.sets, set{a.weight, [3]int{i}, 1})
		for j := i + 1; j < len(w.beside); j++ {
			if !free(j) {
				continue
			}
			b := a.weight + w.beside[j].weight
			if b > w.size {
				continue
			}
			w.sets = append(w.sets, set{b, [3]int{i, j}, 2})
			for k := j + 1; k < len(w.beside) && len(w.beside) <= largest; k++ {
				if c := b + w.beside[k].weight; c <= w.size && free(k) {
					w.sets = append(w.sets, set{c, [3]int{i, j, k}, 3})
				}
			}
		}
	}
	slices.SortFunc(w.sets, func(a, b set) int { return cmp.Compare(a.weight, b.weight) })
	w.steps += int64(20 * len(w.sets))
}

// choice is the swap that leaves least beside so far; of equals, any.
type choice struct {
	gain, equals int
	bar          int
	out, in      set
}

// mostEquals ends the look at equal swaps of the same pieces.
const mostEquals = 30

// move makes the swap that leaves least beside.
func (w *swapping) move() {
	w.list()
	w.moves++
	best := choice{gain: -1 << 62}
	for b, items := range w.bars {
		w.try(&best, b, set{})
		for i, x := range items {
			if x.until > w.moves {
				continue
			}
			w.try(&best, b, set{x.weight, [3]int{i}, 1})
			for j := i + 1; j < len(items); j++ {
				if y := items[j]; y.until <= w.moves {
					w.try(&best, b, set{x.weight + y.weight, [3]int{i, j}, 2})
				}
			}
		}
	}
	if best.equals > 0 {
		w.exchange(best.bar, best.out, best.in)
	}
}

// try holds the swaps that take some pieces off a bar against the best.
func (w *swapping) try(best *choice, b int, off set) {
	limit := w.room[b] + off.weight
	w.steps += 12
	for at := w.heaviest(limit); at >= 0; at-- {
		on := w.sets[at]
		gain := on.weight - off.weight
		if gain < best.gain || best.equals > mostEquals && gain == best.gain {
			return
		}
		if gain == 0 && on.n == off.n && on.n < 2 {
			continue // it changes nothing
		}
		if gain > best.gain {
			best.gain, best.equals = gain, 0
		}
		if best.equals++; w.chance.below(best.equals) == 0 {
			best.bar, best.out, best.in = b, off, on
		}
	}
}

// heaviest returns the heaviest set up to a weight; -1 for none. It is called so often
// that a search by a function that compares would take half of all time.
func (w *swapping) heaviest(limit int) int {
	low, high := 0, len(w.sets)
	for low < high {
		if mid := int(uint(low+high) >> 1); w.sets[mid].weight <= limit {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low - 1
}

// exchange swaps pieces of a bar with pieces beside.
func (w *swapping) exchange(b int, off, on set) {
	var outs, ins []item
	for i := off.n - 1; i >= 0; i-- {
		p := off.places[i]
		x := w.bars[b][p]
		x.until = w.moves + 2 + w.chance.below(3)
		outs = append(outs, x)
		w.bars[b] = slices.Delete(w.bars[b], p, p+1)
	}
	for i := on.n - 1; i >= 0; i-- {
		p := on.places[i]
		x := w.beside[p]
		x.until = w.moves + 6 + w.chance.below(10)
		ins = append(ins, x)
		w.beside = slices.Delete(w.beside, p, p+1)
	}
	w.bars[b] = append(w.bars[b], ins...)
	w.beside = append(w.beside, outs...)
	w.room[b] += off.weight - on.weight
	w.weight += off.weight - on.weight
}

// settle looks for a way to put all that lies beside onto the bars left for it.
func (w *swapping) settle() ([]bar, bool) {
	f := &finisher{in: w.in, left: make([]int, len(w.in.weight)), failed: map[uint64]bool{}, limit: settleLimit}
	for _, x := range w.beside {
		f.left[x.kind]++
	}
	ok := f.run(aside)
	w.steps += int64(20*f.nodes + 2*len(f.left))
	return f.bars, ok
}

// result writes the bars as patterns.
func (w *swapping) result() []bar {
	var bars []bar
	for _, items := range w.bars {
		slices.SortFunc(items, func(a, b item) int { return cmp.Compare(a.kind, b.kind) })
		var uses []use
		for _, x := range items {
			if n := len(uses) - 1; n >= 0 && uses[n].kind == x.kind {
				uses[n].count++
				continue
			}
			uses = append(uses, use{x.kind, 1})
		}
		if len(uses) > 0 {
			bars = append(bars, bar{0, uses})
		}
	}
	return bars
}
