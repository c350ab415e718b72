package dxf

import (
	"cmp"
	"math"
	"slices"

	"nogging/internal/words"
)

// Limits of columns in mm.
const (
	slimmest = 80
	widest   = 1500
)

// column is the outline of a column.
type column struct {
	points     []vec
	confidence float64
	why        words.Text
	sign       Sign
}

// columns returns the closed outlines and the groups of lines of column layers, and
// compact filled outlines of wall layers, each place once.
func (r *recogniser) columns() []column {
	var out []column
	for _, g := range r.rings {
		role := r.role(g.ink)
		switch {
		case g.hole || !compact(g.points):
		case role == Column:
			out = append(out, column{g.points, 0.9, "a closed outline on a layer of columns", ColumnLayer})
		case role.isWall() && g.filled:
			out = append(out, column{g.points, 0.6, "a compact filled outline on a layer of walls", Compact})
		}
	}
	for _, box := range r.boxes() {
		out = append(out, column{box, 0.7, "lines that hang together on a layer of columns", Hanging})
	}
	slices.SortStableFunc(out, func(a, b column) int { return cmp.Compare(b.confidence, a.confidence) })
	var kept []column
	for _, c := range out {
		if !r.spend(4 * len(kept)) {
			break
		}
		lo, hi := bounds(c.points)
		if !slices.ContainsFunc(kept, func(k column) bool {
			a, b := bounds(k.points)
			return a.x <= hi.x && lo.x <= b.x && a.y <= hi.y && lo.y <= b.y
		}) {
			kept = append(kept, c)
		}
	}
	return kept
}

func compact(points []vec) bool {
	lo, hi := bounds(points)
	d := hi.sub(lo)
	return min(d.x, d.y) >= slimmest && max(d.x, d.y) <= widest && max(d.x, d.y) <= 3*min(d.x, d.y)
}

func bounds(points []vec) (lo, hi vec) {
	lo, hi = points[0], points[0]
	for _, p := range points {
		lo, hi = vec{min(lo.x, p.x), min(lo.y, p.y)}, vec{max(hi.x, p.x), max(hi.y, p.y)}
	}
	return lo, hi
}

// boxes returns the boxes around lines of column layers that touch end to end.
func (r *recogniser) boxes() [][]vec {
	parent := map[[2]int64][2]int64{}
	key := func(p vec) [2]int64 {
		return [2]int64{int64(math.Round(p.x / sameEnd)), int64(math.Round(p.y / sameEnd))}
	}
	root := func(k [2]int64) [2]int64 {
		for {
			up, ok := parent[k]
			if !ok || up == k {
				return k
			}
			if next, ok := parent[up]; ok {
				parent[k] = next
			}
			k = up
		}
	}
	var lines []segment
	for _, s := range r.segments {
		if r.role(s.ink) == Column {
			lines = append(lines, s)
		}
	}
	for _, s := range lines {
		if a, b := root(key(s.a)), root(key(s.b)); a != b {
			parent[a] = b
		}
	}
	points := map[[2]int64][]vec{}
	var order [][2]int64
	for _, s := range lines {
		k := root(key(s.a))
		if points[k] == nil {
			order = append(order, k)
		}
		points[k] = append(points[k], s.a, s.b)
	}
	var out [][]vec
	for _, k := range order {
		if compact(points[k]) {
			lo, hi := bounds(points[k])
			out = append(out, []vec{lo, {hi.x, lo.y}, hi, {lo.x, hi.y}})
		}
	}
	return out
}
