package lp

import (
	"errors"
	"math"
	"slices"
)

// errSingular is given where columns of a basis depend on each other.
var errSingular = errors.New("the basis is singular")

// factoring is a basis that is being taken apart, with room that is used again.
type factoring struct {
	*triangles
	columns         *columns
	basis           []int
	start           []int32 // of each row's places; one more at the end
	places          []int32
	inRow, inColumn []int // entries left
	ofRow, ofPlace  []bool
	x               []float64
	marked          []bool
	touched         []int32
	deep            []int32 // steps that took something off later rows
	queue           []int32
}

// run takes a basis apart, of as many columns as rows. Columns and rows with one entry
// among those that are left come first, and add no entries; what remains is eliminated
// column by column, those with few entries first.
func (f *factoring) run(c *columns, basis []int) (*triangles, error) {
	f.columns, f.basis = c, basis
	f.begin(len(basis))
	f.singles()
	rest := f.queue[:0]
	for place, taken := range f.ofPlace {
		if !taken {
			rest = append(rest, int32(place))
		}
	}
	slices.SortStableFunc(rest, func(a, b int32) int { return f.inColumn[a] - f.inColumn[b] })
	for _, place := range rest {
		if !f.eliminate(int(place), -1) {
			return nil, errSingular
		}
	}
	f.cost += 10*(len(f.places)+len(f.upper.at)+len(f.lower.at)) + 40*len(basis)
	return f.triangles, nil
}

// begin lists the places of each row.
func (f *factoring) begin(m int) {
	if len(f.x) != m {
		*f = factoring{columns: f.columns, basis: f.basis, start: make([]int32, m+1), inRow: make([]int, m), inColumn: make([]int, m), ofRow: make([]bool, m), ofPlace: make([]bool, m), x: make([]float64, m), marked: make([]bool, m)}
	}
	clear(f.inRow)
	clear(f.ofRow)
	clear(f.ofPlace)
	f.deep = f.deep[:0]
	n := 0
	for place, j := range f.basis {
		at, _ := f.columns.entries(j)
		f.inColumn[place] = len(at)
		n += len(at)
		for _, i := range at {
			f.inRow[i]++
		}
	}
	f.places = slices.Grow(f.places[:0], n)[:n]
	end := int32(0)
	for i, count := range f.inRow {
		end += int32(count)
		f.start[i] = end
	}
	f.start[m] = end
	for place, j := range f.basis {
		at, _ := f.columns.entries(j)
		for _, i := range at {
			f.start[i]--
			f.places[f.start[i]] = int32(place)
		}
	}
	f.triangles = &triangles{row: make([]int32, 0, m), place: make([]int32, 0, m), pivot: make([]float64, 0, m)}
	for _, v := range []*vectors{&f.upper, &f.lower} {
		v.start = append(make([]int32, 0, m+1), 0)
		v.at, v.value = make([]int32, 0, n), make([]float64, 0, n)
	}
}

// singles takes columns and rows with one entry left as long as there are any. Rows
// stand in the queue as -1-row.
func (f *factoring) singles() {
	f.queue = f.queue[:0]
	for i := range f.x {
		if f.inColumn[i] == 1 {
			f.queue = append(f.queue, int32(i))
		}
		if f.inRow[i] == 1 {
			f.queue = append(f.queue, int32(-1-i))
		}
	}
	for n := 0; n < len(f.queue); n++ {
		place, row := int(f.queue[n]), -1
		if place >= 0 {
			if f.ofPlace[place] || f.inColumn[place] != 1 {
				continue
			}
		} else {
			row = -1 - place
			if f.ofRow[row] || f.inRow[row] != 1 {
				continue
			}
			place = f.only(row)
		}
		if f.eliminate(place, row) {
			f.countDown(place)
		}
	}
}

// only returns the one place left of a row.
func (f *factoring) only(row int) int {
	list := f.places[f.start[row]:f.start[row+1]]
	return int(list[slices.IndexFunc(list, func(p int32) bool { return !f.ofPlace[p] })])
}

// countDown counts the entries of the column and the row that the last step took off
// those that are left, and queues columns and rows that have one left.
func (f *factoring) countDown(place int) {
	at, _ := f.columns.entries(f.basis[place])
	for _, i := range at {
		if f.inRow[i]--; f.inRow[i] == 1 && !f.ofRow[i] {
			f.queue = append(f.queue, -1-i)
		}
	}
	row := f.row[len(f.row)-1]
	for _, p := range f.places[f.start[row]:f.start[row+1]] {
		if f.inColumn[p]--; f.inColumn[p] == 1 && !f.ofPlace[p] {
			f.queue = append(f.queue, p)
		}
	}
}

// eliminate takes a column with its pivot in a row, or where that is -1, in the row
// with fewest entries of those in which it is large enough. It reports false where all
// that is left of the column is too small.
func (f *factoring) eliminate(place, row int) bool {
	f.load(place)
	if row < 0 {
		row = f.choose()
	}
	if row < 0 || math.Abs(f.x[row]) < smallest {
		f.clear()
		return false
	}
	pivot, before := f.x[row], len(f.lower.at)
	for _, i := range f.touched {
		v := f.x[i]
		switch {
		case v == 0 || int(i) == row:
		case f.ofRow[i]:
			f.upper.add(i, v)
		default:
			f.lower.add(i, v/pivot)
		}
	}
	f.clear()
	if len(f.lower.at) > before {
		f.deep = append(f.deep, int32(len(f.row)))
	}
	f.upper.end()
	f.lower.end()
	f.row, f.place, f.pivot = append(f.row, int32(row)), append(f.place, int32(place)), append(f.pivot, pivot)
	f.ofRow[row], f.ofPlace[place] = true, true
	return true
}

// smallest is the least pivot, and share how large a pivot has to be beside the
// largest entry of its column.
const (
	smallest = 1e-10
	share    = 0.1
)

// load puts a column into x as the steps so far leave it.
func (f *factoring) load(place int) {
	at, value := f.columns.entries(f.basis[place])
	for n, i := range at {
		f.touch(i)
		f.x[i] += value[n]
	}
	f.cost += 2 * len(f.deep)
	for _, k := range f.deep {
		v := f.x[f.row[k]]
		if v == 0 {
			continue
		}
		at, value := f.lower.of(int(k))
		for n, i := range at {
			f.touch(i)
			f.x[i] -= v * value[n]
		}
	}
}

func (f *factoring) touch(i int32) {
	if !f.marked[i] {
		f.marked[i] = true
		f.touched = append(f.touched, i)
	}
}

func (f *factoring) clear() {
	for _, i := range f.touched {
		f.x[i], f.marked[i] = 0, false
	}
	f.touched = f.touched[:0]
}

// choose returns the row of the pivot, or -1.
func (f *factoring) choose() int {
	most := 0.0
	for _, i := range f.touched {
		if !f.ofRow[i] {
			most = max(most, math.Abs(f.x[i]))
		}
	}
	best := -1
	for _, i := range f.touched {
		if f.ofRow[i] || f.x[i] == 0 || math.Abs(f.x[i]) < share*most {
			continue
		}
		if best < 0 || f.inRow[i] < f.inRow[best] {
			best = int(i)
		}
	}
	return best
}
