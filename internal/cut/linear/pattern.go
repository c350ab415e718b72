package linear

import (
	"cmp"
	"slices"
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

// pricer finds the patterns that are worth most at given prices: a bounded
// knapsack, by dynamic programming where the stock is short in its units, else by
// depth-first search under the bound that the same gives for lengths rounded to a
// grid.
type pricer struct {
	in       *instance
	longest  int
	worth    []int64 // greatest worth within each length
	chosen   []int16 // for each kind and length, how many of it where kinds from it on are cut
	limits   *ceilings
	complete bool
	steps    int64
}

// tableLimit is the size of the table up to which dynamic programming is used.
const tableLimit = 4 << 20

// several is how many patterns of each stock are given at most.
const several = 6

func newPricer(in *instance) *pricer {
	p := &pricer{in: in, longest: slices.Max(in.size)}
	if p.tabled() {
		p.worth = make([]int64, p.longest+1)
		p.chosen = make([]int16, (p.longest+1)*len(in.weight))
	} else {
		p.limits = newCeilings(in)
	}
	return p
}

func (p *pricer) tabled() bool { return (p.longest+1)*len(p.in.weight) <= tableLimit }

// dearest returns the greatest worth of a pattern of each stock, but not less than
// that of a bar of it, and patterns that are worth much. most is how often each kind
// may be cut.
func (p *pricer) dearest(at prices, most []int) (worth []int64, found []pattern) {
	worth = make([]int64, len(p.in.size))
	if p.tabled() {
		found = p.fill(at.kind, most)
		for t, size := range p.in.size {
			worth[t] = p.worth[size]
		}
		return worth, found
	}
	p.complete = true
	p.limits.fill(p.in, at.kind, most)
	p.steps += p.limits.steps()
	for t, size := range p.in.size {
		f := finder{in: p.in, price: at.kind, most: most, limits: p.limits, stock: t, best: at.value(p.in, t)}
		f.descend(0, size, 0)
		p.steps += int64(15 * f.nodes)
		p.complete = p.complete && f.nodes <= nodeLimit
		worth[t] = f.best
		found = append(found, f.found[max(0, len(f.found)-several):]...)
	}
	return worth, found
}

// heads are the dearest patterns of one stock by their heaviest kind.
type head struct {
	kind  int
	worth int64
}

// fill makes the table, from the lightest kind up: worth[c] is the greatest worth
// within length c. It returns the dearest patterns.
func (p *pricer) fill(price []int64, most []int) []pattern {
	clear(p.worth)
	p.steps += int64(p.longest * len(p.in.weight))
	n := p.longest + 1
	heads := make([][]head, len(p.in.size))
	for k := len(p.in.weight) - 1; k >= 0; k-- {
		w := p.in.weight[k]
		row := p.chosen[k*n : (k+1)*n]
		clear(row)
		v, top := price[k], min(most[k], p.longest/w)
		if v <= 0 || top == 0 {
			continue
		}
		for t, size := range p.in.size {
			if w <= size {
				heads[t] = append(heads[t], head{k, v + p.worth[size-w]})
			}
		}
		if top == 1 {
			for c := p.longest; c >= w; c-- {
				if worth := p.worth[c-w] + v; worth > p.worth[c] {
					p.worth[c], row[c] = worth, 1
				}
			}
			continue
		}
		for c := p.longest; c >= w; c-- {
			best, count := p.worth[c], 0
			for x := 1; x <= top && x*w <= c; x++ {
				if worth := p.worth[c-x*w] + int64(x)*v; worth > best {
					best, count = worth, x
				}
			}
			p.worth[c], row[c] = best, int16(count)
		}
	}
	var found []pattern
	for t, list := range heads {
		size := p.in.size[t]
		found = append(found, pattern{t, p.read(0, size)})
		slices.SortStableFunc(list, func(a, b head) int { return cmp.Compare(b.worth, a.worth) })
		for _, h := range list[:min(several, len(list))] {
			found = append(found, pattern{t, slices.Insert(p.read(h.kind+1, size-p.in.weight[h.kind]), 0, use{h.kind, 1})})
		}
	}
	return found
}

// read follows the table from a kind and a length on.
func (p *pricer) read(k, size int) []use {
	var uses []use
	n := p.longest + 1
	for ; k < len(p.in.weight); k++ {
		if count := int(p.chosen[k*n+size]); count > 0 {
			uses = append(uses, use{k, count})
			size -= count * p.in.weight[k]
		}
	}
	return uses
}

// nodeLimit ends a search that would not; what it has found by then counts.
const nodeLimit = 500_000

// finder is a search for the pattern of a stock that is worth most.
type finder struct {
	in     *instance
	price  []int64
	most   []int
	limits *ceilings
	stock  int
	uses   []use
	best   int64
	found  []pattern // each worth more than the one before
	nodes  int
}

// descend fills the room with kinds from k on.
func (f *finder) descend(k, room int, worth int64) {
	if worth > f.best {
		f.best = worth
		f.found = append(f.found, pattern{f.stock, slices.Clone(f.uses)})
	}
	at := len(f.uses)
	for ; k < len(f.price) && worth+f.limits.of(k, room) > f.best; k++ {
		if f.nodes++; f.nodes > nodeLimit {
			return
		}
		w := f.in.weight[k]
		for n := min(f.most[k], room/w); n > 0; n-- {
			v := worth + int64(n)*f.price[k]
			if v+f.limits.of(k+1, room-n*w) <= f.best {
				continue
			}
			f.uses = append(f.uses, use{k, n})
			f.descend(k+1, room-n*w, v)
			f.uses = f.uses[:at]
		}
	}
}

// ceilings tell for each kind and length how much kinds from it on can be worth
// within the length at most. Lengths are rounded to a grid, pieces down.
type ceilings struct {
	grid  int
	worth [][]int64
}

// gridLimit is the size of the table that sets the grid where lengths are many.
const gridLimit = 1 << 19

// newCeilings makes room for the table.
func newCeilings(in *instance) *ceilings {
	longest, m := slices.Max(in.size), len(in.weight)
	c := &ceilings{grid: 1, worth: make([][]int64, m+1)}
	if (longest+1)*m > tableLimit {
		c.grid = longest*m/gridLimit + 1
	}
	for k := range c.worth {
		c.worth[k] = make([]int64, longest/c.grid+1)
	}
	return c
}

// fill makes the table for prices and how many there may be of each kind.
func (c *ceilings) fill(in *instance, price []int64, most []int) {
	for k := len(in.weight) - 1; k >= 0; k-- {
		row, next, w, v := c.worth[k], c.worth[k+1], in.weight[k]/c.grid, price[k]
		copy(row, next)
		for x := 1; x <= most[k] && x*w < len(row); x++ {
			from := next[:len(row)-x*w]
			for l, to := range row[x*w:] {
				row[x*w+l] = max(to, from[l]+int64(x)*v)
			}
		}
	}
}

// of returns what kinds from k on can be worth within a length at most.
func (c *ceilings) of(k, length int) int64 { return c.worth[k][length/c.grid] }

func (c *ceilings) steps() int64 { return int64(len(c.worth) * len(c.worth[0])) }

// whole reports whether the last search went to its end, so that its worth is the
// greatest there is.
func (p *pricer) whole() bool { return p.tabled() || p.complete }
