package linear

import (
	"cmp"
	"slices"

	"nogging/internal/lp"
)

// cut is a limit that every whole plan keeps and fractions may not: bars that hold two
// of three pieces, of each of which one is needed, are one at most; and in general, half
// of what bars hold of some kinds, rounded down for each bar, is at most half of what is
// needed of them, rounded down (subset-row inequalities, Operations Research 56, 2008).
type cut struct {
	kinds []int
	right int
}

// of returns how much of a cut a pattern takes.
func (c *cut) of(x pattern) int {
	n := 0
	for _, k := range c.kinds {
		n += x.count(k)
	}
	return n / 2
}

func (x pattern) count(kind int) int {
	for _, u := range x.uses {
		if u.kind == kind {
			return u.count
		}
	}
	return 0
}

// Bounds on cuts: how many rounds of them are sought, how many a round adds and all
// rounds together do, and by how much a cut has to be broken.
const (
	cutRounds = 12
	cutsRound = 25
	mostCuts  = 120
	broken    = 0.02
)

// tighten adds cuts that the programme breaks, as long as there are any and they are
// of use.
func (t *tree) tighten(st *state) {
	for range cutRounds {
		if t.spent() >= t.until || t.ctx.Err() != nil || t.lp.Solve() != nil {
			return
		}
		t.reprice(st)
		if t.hopeless(st) {
			return
		}
		t.narrow(st)
		cuts := t.brokenCuts(st)
		if len(cuts) == 0 || len(t.cuts)+len(cuts) > mostCuts {
			return
		}
		t.addCuts(st, cuts)
	}
}

// addCuts makes cuts rows of the programme.
func (t *tree) addCuts(st *state, cuts []cut) {
	first := len(t.in.weight) + t.limitedStocks()
	var right []float64
	entries := make([][]lp.Entry, len(t.columns))
	for _, c := range cuts {
		right = append(right, float64(c.right))
		n := len(t.cuts)
		t.cuts = append(t.cuts, c)
		st.cuts = append(st.cuts, c.right)
		for j, x := range t.columns {
			if of := c.of(x); of > 0 {
				t.shares[j] = append(t.shares[j], share{n, of})
				entries[j] = append(entries[j], lp.Entry{Row: first + n, Value: float64(of)})
			}
		}
	}
	t.steps += int64(10 * len(cuts) * len(t.columns))
	t.lp.AddLimits(right, func(j int) []lp.Entry { return entries[j] })
}

func (s *search) limitedStocks() int {
	n := 0
	for _, row := range s.stockRow {
		if row >= 0 {
			n++
		}
	}
	return n
}

// brokenCuts lists the cuts that the programme breaks most: of single kinds, and of
// three of which the bars that it takes hold two together.
func (t *tree) brokenCuts(st *state) []cut {
	holding := make([][]int, len(t.in.weight)) // columns by kind
	for j, x := range t.columns {
		if t.proper[j] && t.lp.Amount(j) > whole {
			for _, u := range x.uses {
				holding[u.kind] = append(holding[u.kind], j)
			}
		}
	}
	known := map[[3]int]bool{}
	for _, c := range t.cuts {
		known[c.key()] = true
	}
	var found []brokenCut
	consider := func(kinds ...int) {
		c := cut{kinds: kinds}
		for _, k := range kinds {
			c.right += st.left[k]
		}
		if c.right%2 == 0 || known[c.key()] {
			return
		}
		known[c.key()] = true
		c.right /= 2
		if over := t.over(&c, holding); over > broken {
			found = append(found, brokenCut{c, over})
		}
	}
	for a := range holding {
		consider(a)
		near := t.near(a, holding)
		for _, b := range near {
			for _, c := range near {
				if b < c {
					consider(sorted(a, b, c)...)
				}
			}
		}
	}
	t.steps += int64(100 * len(known))
	slices.SortStableFunc(found, func(a, b brokenCut) int { return cmp.Compare(b.over, a.over) })
	return spread(found)
}

// brokenCut is a cut with how far it is broken.
type brokenCut struct {
	cut
	over float64
}

// key tells cuts apart.
func (c *cut) key() [3]int {
	key := [3]int{-1, -1, -1}
	copy(key[:], c.kinds)
	return key
}

func sorted(kinds ...int) []int {
	slices.Sort(kinds)
	return kinds
}

// near lists the kinds that share bars with a kind in the programme.
func (t *tree) near(kind int, holding [][]int) []int {
	var near []int
	for _, j := range holding[kind] {
		for _, u := range t.columns[j].uses {
			if u.kind != kind && !slices.Contains(near, u.kind) {
				near = append(near, u.kind)
			}
		}
	}
	return near
}

// over returns by how much the programme breaks a cut.
func (t *tree) over(c *cut, holding [][]int) float64 {
	sum := -float64(c.right)
	for n, k := range c.kinds {
		for _, j := range holding[k] {
			x := t.columns[j]
			if !slices.ContainsFunc(c.kinds[:n], x.has) { // counted there
				sum += float64(c.of(x)) * t.lp.Amount(j)
			}
		}
	}
	return sum
}

// spread takes of the cuts those that are broken most, each kind a few times at most.
func spread(found []brokenCut) []cut {
	const each = 5
	times := map[int]int{}
	var cuts []cut
	for _, b := range found {
		if slices.ContainsFunc(b.kinds, func(k int) bool { return times[k] >= each }) {
			continue
		}
		for _, k := range b.kinds {
			times[k]++
		}
		if cuts = append(cuts, b.cut); len(cuts) == cutsRound {
			break
		}
	}
	return cuts
}
