package dxf

import "math"

// Lines that follow one another at even distances are treads, tiles or a pattern.
const (
	rowOf   = 3    // pairs in a row at least
	evenTo  = 0.03 // of the distance
	besides = 0.5  // of the shorter pair's length lies beside the next
)

// series marks the faces of pairs that follow one another at even distances.
func series(all []*pair) map[*face]bool {
	after := map[*face][]int{} // pairs by their first face
	for i, p := range all {
		after[p.a] = append(after[p.a], i)
	}
	next := func(i int) []int {
		var out []int
		for _, k := range after[all[i].b] {
			p, q := all[i], all[k]
			if math.Abs(p.thick-q.thick) <= max(evenTo*p.thick, 2) && p.span.overlap(q.span).length() >= besides*min(p.length(), q.length()) {
				out = append(out, k)
			}
		}
		return out
	}
	// Pairs are listed by their first face, so that those that follow come later.
	before, behind := make([]int, len(all)), make([]int, len(all))
	follows := make([][]int, len(all))
	for i := range all {
		follows[i] = next(i)
		for _, k := range follows[i] {
			before[k] = max(before[k], before[i]+1)
		}
	}
	out := map[*face]bool{}
	for i := len(all) - 1; i >= 0; i-- {
		for _, k := range follows[i] {
			behind[i] = max(behind[i], behind[k]+1)
		}
		if before[i]+1+behind[i] >= rowOf {
			out[all[i].a], out[all[i].b] = true, true
		}
	}
	return out
}
