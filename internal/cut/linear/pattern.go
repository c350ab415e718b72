package linear

import (
	"slices"
	"sort"
)

// use is how often a kind is cut from a bar.
type use struct{ kind, count int }

// pattern is one way to cut a stock.
type pattern struct {
	stock int
	uses  []use
}

// bar is one bar as cut.
type bar = pattern

// pricer finds the pattern that is worth most at given prices: a bounded
// knapsack, by dynamic programming where the stock is short in its units, else by
// depth-first search with the fractional bound.
type pricer struct {
	in                 *instance
	longest            int
	worth              []float64 // greatest worth within each length
	chosen             []int16   // for each kind and length, how many of it
	order              []int     // kinds that are worth something
	taken              []int
	best               []int
	bestAt             float64
	enough             float64
	complete           bool
	weight, most       []int
	price, dear, dense []float64
	nodes              int
	steps              int64
}

// tableLimit is the size of the table up to which dynamic programming is used.
const tableLimit = 4 << 20

func newPricer(in *instance) *pricer {
	p := &pricer{in: in, longest: slices.Max(in.size)}
	p.taken, p.best = make([]int, len(in.weight)), make([]int, len(in.weight))
	if p.tabled() {
		p.worth = make([]float64, p.longest+1)
		p.chosen = make([]int16, (p.longest+1)*len(in.weight))
	}
	return p
}

func (p *pricer) tabled() bool { return (p.longest+1)*len(p.in.weight) <= tableLimit }

// dearest returns, for each stock, the pattern that is worth most and its worth;
// most is how often each kind may be cut.
func (p *pricer) dearest(price []float64, most []int, enough []float64, found func(stock int, worth float64, uses []use)) {
	if p.tabled() {
		p.fill(price, most)
		for t, size := range p.in.size {
			found(t, p.worth[size], p.read(size))
		}
		return
	}
	p.complete = true
	for t, size := range p.in.size {
		worth, uses := p.search(price, most, size, enough[t])
		p.complete = p.complete && p.nodes <= enoughFrom || p.nodes <= nodeLimit && p.bestAt <= enough[t]
		found(t, worth, uses)
	}
}

// fill makes the table: worth[c] is the greatest worth within length c.
func (p *pricer) fill(price []float64, most []int) {
	clear(p.worth)
	p.steps += int64(p.longest * len(p.in.weight))
	n := p.longest + 1
	for k, w := range p.in.weight {
		row := p.chosen[k*n : (k+1)*n]
		clear(row)
		v, top := price[k], min(most[k], p.longest/w)
		if v <= 0 || top == 0 {
			continue
		}
		for c := p.longest; c >= w; c-- {
			best, count := p.worth[c], 0
			for x := 1; x <= top && x*w <= c; x++ {
				if worth := p.worth[c-x*w] + float64(x)*v; worth > best+1e-12 {
					best, count = worth, x
				}
			}
			p.worth[c], row[c] = best, int16(count)
		}
	}
}

// read follows the table back from a length.
func (p *pricer) read(size int) []use {
	var uses []use
	n := p.longest + 1
	for k := len(p.in.weight) - 1; k >= 0; k-- {
		if count := int(p.chosen[k*n+size]); count > 0 {
			uses = append(uses, use{k, count})
			size -= count * p.in.weight[k]
		}
	}
	slices.Reverse(uses)
	return uses
}

// nodeLimit ends a search that would not; what it has found by then counts.
// Once it has found enough, a search ends much sooner.
const (
	nodeLimit  = 20_000_000
	enoughFrom = 20_000
)

// search is the knapsack by depth-first search, from the heaviest kind down. It
// ends early where it has found a pattern worth more than enough.
func (p *pricer) search(price []float64, most []int, size int, enough float64) (float64, []use) {
	clear(p.taken)
	clear(p.best)
	p.bestAt, p.nodes, p.enough = 0, 0, enough
	p.prepare(price, most)
	p.descend(0, size, 0)
	p.steps += int64(80 * p.nodes)
	var uses []use
	for k, n := range p.best {
		if n > 0 {
			uses = append(uses, use{p.order[k], n})
		}
	}
	return p.bestAt, uses
}

// prepare lists the kinds that are worth something, and from each on the greatest
// worth of one piece and of one unit of length.
func (p *pricer) prepare(price []float64, most []int) {
	p.order, p.weight, p.price, p.most = p.order[:0], p.weight[:0], p.price[:0], p.most[:0]
	for k, w := range p.in.weight {
		if price[k] > 1e-12 && most[k] > 0 {
			p.order = append(p.order, k)
			p.weight = append(p.weight, w)
			p.price = append(p.price, price[k])
			p.most = append(p.most, most[k])
		}
	}
	n := len(p.order)
	p.dear, p.dense = slices.Grow(p.dear[:0], n+1)[:n+1], slices.Grow(p.dense[:0], n+1)[:n+1]
	p.dear[n], p.dense[n] = 0, 0
	for k := n - 1; k >= 0; k-- {
		p.dear[k] = max(p.dear[k+1], p.price[k])
		p.dense[k] = max(p.dense[k+1], p.price[k]/float64(p.weight[k]))
	}
}

// descend fills the room with kinds from at on.
func (p *pricer) descend(at, room int, worth float64) {
	if worth > p.bestAt+1e-12 {
		p.bestAt = worth
		copy(p.best, p.taken)
	}
	n := len(p.order)
	if n == 0 {
		return
	}
	at += sort.Search(n-at, func(i int) bool { return p.weight[at+i] <= room })
	lightest := p.weight[n-1]
	for ; at < n; at++ {
		more := float64(room/lightest) * p.dear[at]
		if more = min(more, float64(room)*p.dense[at]); worth+more <= p.bestAt+1e-12 {
			return
		}
		if p.nodes++; p.nodes > nodeLimit || p.nodes > enoughFrom && p.bestAt > p.enough {
			return
		}
		if worth+p.price[at]+float64((room-p.weight[at])/lightest)*p.dear[at] <= p.bestAt+1e-12 {
			continue
		}
		w := p.weight[at]
		for c := min(p.most[at], room/w); c > 0; c-- {
			p.taken[at] = c
			p.descend(at+1, room-c*w, worth+float64(c)*p.price[at])
		}
		p.taken[at] = 0
	}
}

// whole reports whether the last search went to its end, so that its worth is the
// greatest there is.
func (p *pricer) whole() bool { return p.tabled() || p.complete }
