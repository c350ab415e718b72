package lp

import (
	"math"
)

// factors are a basis taken apart: triangles with few entries, and the changes since,
// each the column that came into the basis as the earlier one sees it (product form
// of the inverse, 1954). Triangles and changes are not altered once made, so that
// copies of the struct may go on apart.
type factors struct {
	*triangles
	changes []change
	held    int // entries of the changes
	extra   int // steps that the changes have cost since the triangles were made
}

// change is a column that came into the basis at a place: the pivot, and the others of
// its entries.
type change struct {
	place int
	pivot float64
	at    []int32
	value []float64
}

// triangles are a basis as a lower and an upper one. Step k takes the column in
// place[k] with its pivot in row[k]. The upper one holds what is left of that column in
// rows of earlier steps; the lower one, the multiples of the step's row that were taken
// off later rows.
type triangles struct {
	row, place   []int32
	pivot        []float64
	upper, lower vectors
	cost         int // steps that it took to make them
}

// vectors are sparse vectors, one after another.
type vectors struct {
	start []int32 // one more at the end
	at    []int32
	value []float64
}

func (v *vectors) of(k int) ([]int32, []float64) {
	a, b := v.start[k], v.start[k+1]
	return v.at[a:b], v.value[a:b]
}

// add adds an entry to the vector that is being made, end ends it.
func (v *vectors) add(i int32, x float64) { v.at, v.value = append(v.at, i), append(v.value, x) }
func (v *vectors) end()                   { v.start = append(v.start, int32(len(v.at))) }

// forward turns x, by rows, into what the basis gives for it, by places; x is used up.
func (f *factors) forward(x, out []float64) {
	for k, r := range f.row {
		if v := x[r]; v != 0 {
			at, value := f.lower.of(k)
			for n, i := range at {
				x[i] -= v * value[n]
			}
		}
	}
	for k := len(f.row) - 1; k >= 0; k-- {
		v := x[f.row[k]]
		if v != 0 {
			v /= f.pivot[k]
			at, value := f.upper.of(k)
			for n, i := range at {
				x[i] -= v * value[n]
			}
		}
		out[f.place[k]] = v
	}
	for c := range f.changes {
		e := &f.changes[c]
		v := out[e.place]
		if v == 0 {
			continue
		}
		v /= e.pivot
		out[e.place] = v
		value := e.value
		for n, i := range e.at {
			out[i] -= v * value[n]
		}
	}
}

// backward turns y, by places, into the prices of rows by it; y is used up.
func (f *factors) backward(y, out []float64) {
	for c := len(f.changes) - 1; c >= 0; c-- {
		e := &f.changes[c]
		v, value := y[e.place], e.value
		for n, i := range e.at {
			v -= y[i] * value[n]
		}
		y[e.place] = v / e.pivot
	}
	for k, r := range f.row {
		v := y[f.place[k]]
		at, value := f.upper.of(k)
		for n, i := range at {
			v -= out[i] * value[n]
		}
		out[r] = v / f.pivot[k]
	}
	for k := len(f.row) - 1; k >= 0; k-- {
		at, value := f.lower.of(k)
		if len(at) == 0 {
			continue
		}
		v := out[f.row[k]]
		for n, i := range at {
			v -= out[i] * value[n]
		}
		out[f.row[k]] = v
	}
}

// nothing is what is left where numbers cancel out.
const nothing = 1e-13

// replace notes that a column, given as the basis sees it, came in at a place.
func (f *factors) replace(place int, d []float64) {
	c := change{place: place, pivot: d[place]}
	n := 0
	for _, v := range d {
		if math.Abs(v) > nothing {
			n++
		}
	}
	c.at, c.value = make([]int32, 0, n), make([]float64, 0, n)
	for i, v := range d {
		if math.Abs(v) > nothing && i != place {
			c.at, c.value = append(c.at, int32(i)), append(c.value, v)
		}
	}
	f.changes = append(f.changes[:len(f.changes):len(f.changes)], c)
	f.held += n
}

// work is about how many elementary steps one use of the factors takes.
func (f *factors) work() int64 {
	f.extra += f.held
	return int64(len(f.upper.at) + len(f.lower.at) + f.held + 3*len(f.row))
}

// worn reports whether it is cheaper to make the triangles anew than to go on: the
// changes have cost as much since.
func (f *factors) worn() bool { return f.extra > f.cost || len(f.changes) >= mostChanges }

// mostChanges is after how many changes the triangles are made anew in any case, since
// errors grow with them.
const mostChanges = 100
