// Package lp solves linear programmes that grow by columns, as column generation
// needs them: minimise the cost of columns that are not negative, so that every
// row gets at least, or at most, its right-hand side. It takes rows and columns,
// and gives the optimum with the price of every row.
//
// The method is the revised simplex with an inverse that is kept dense, so it is
// meant for up to a few hundred rows; columns are sparse and may be many. After
// columns were added the primal method goes on from the last basis, and after a
// right-hand side was changed the dual method does. It is deterministic.
package lp

import (
	"errors"
	"math"
	"slices"
)

// Sense says how a row is held.
type Sense int

// The senses of rows.
const (
	AtLeast Sense = iota
	AtMost
)

// Row is one row. A row that asks for at least so much may be short of it at
// Penalty for each unit, so that a programme always has a solution; the penalty
// has to be larger than any price that is worth paying.
type Row struct {
	Sense   Sense
	Right   float64
	Penalty float64 // for AtLeast
}

// Entry is one coefficient of a column.
type Entry struct {
	Row   int
	Value float64
}

// column is a column of the programme or one that belongs to a row.
type column struct {
	cost    float64
	entries []Entry
	in      int // its place in the basis, -1 outside
	barred  bool
}

// Programme is a linear programme with its basis.
type Programme struct {
	rows    []Row
	columns []column // the rows' own first: slack or surplus, then what is short
	own     int      // number of the rows' own columns
	basis   []int    // column in each place
	inverse []float64
	value   []float64 // of the basic columns
	price   []float64
	pivots  int // since the inverse was made anew
	steps   int64
	through []float64 // room for how the basic amounts fall
}

// Tolerances of the method, for data of the size of small whole numbers.
const (
	improves = 1e-9 // least reduced cost worth a pivot
	pivotal  = 1e-9 // least size of a pivot
	feasible = 1e-9
	renew    = 300 // pivots after which the inverse is made anew
)

// ErrStalled is given where the method did not end within its pivots, which only
// numerical trouble can bring about.
var ErrStalled = errors.New("the simplex method did not end")

// New returns a programme without columns: every row that asks for something is
// short of all of it.
func New(rows []Row) *Programme {
	m := len(rows)
	p := &Programme{rows: rows, basis: make([]int, m), inverse: make([]float64, m*m), value: make([]float64, m), price: make([]float64, m), through: make([]float64, m)}
	for i, r := range rows {
		sign := 1.0
		if r.Sense == AtLeast {
			sign = -1
		}
		p.columns = append(p.columns, column{entries: []Entry{{i, sign}}, in: -1})
	}
	for i, r := range rows {
		p.basis[i] = i
		if r.Sense == AtLeast {
			p.basis[i] = len(p.columns)
			p.columns = append(p.columns, column{cost: r.Penalty, entries: []Entry{{i, 1}}, in: -1})
		}
	}
	p.own = len(p.columns)
	for place, j := range p.basis {
		p.columns[j].in = place
	}
	_ = p.invert()
	return p
}

// Add adds a column and returns its number, from 0 up.
func (p *Programme) Add(cost float64, entries []Entry) int {
	p.columns = append(p.columns, column{cost: cost, entries: entries, in: -1})
	return len(p.columns) - 1 - p.own
}

// SetRight changes the right-hand side of a row.
func (p *Programme) SetRight(row int, right float64) { p.rows[row].Right = right }

// SetCost changes the cost of a column that was added. The programme has to be
// solved between a change of right-hand sides and one of costs.
func (p *Programme) SetCost(j int, cost float64) { p.columns[j+p.own].cost = cost }

// Bar bars a column that was added from taking part, or lets it take part again.
func (p *Programme) Bar(j int, barred bool) { p.columns[j+p.own].barred = barred }

// Solve finds the optimum from where the programme stands.
func (p *Programme) Solve() error {
	p.evaluate()
	if place, _ := p.worst(); place >= 0 {
		if err := p.dual(); err != nil {
			return err
		}
	}
	return p.primal()
}

// Value returns the cost of the optimum.
func (p *Programme) Value() float64 {
	var v float64
	for place, j := range p.basis {
		v += p.columns[j].cost * p.value[place]
	}
	return v
}

// Amount returns how much of a column the optimum takes.
func (p *Programme) Amount(j int) float64 {
	if place := p.columns[j+p.own].in; place >= 0 {
		return max(p.value[place], 0)
	}
	return 0
}

// Price returns what one unit more on a row's right-hand side would cost.
func (p *Programme) Price(row int) float64 { return p.price[row] }

// Short returns by how much a row falls short of what it asks for.
func (p *Programme) Short(row int) float64 {
	if c := p.shortage(row); c != nil && c.in >= 0 {
		return max(p.value[c.in], 0)
	}
	return 0
}

// SetPenalty changes what a row's being short costs; as with SetCost, the programme
// has to be solved between a change of right-hand sides and one of penalties.
func (p *Programme) SetPenalty(row int, penalty float64) {
	if c := p.shortage(row); c != nil {
		c.cost = penalty
	}
}

// shortage returns the column that stands for what a row is short of.
func (p *Programme) shortage(row int) *column {
	for j := len(p.rows); j < p.own; j++ {
		if c := &p.columns[j]; c.entries[0].Row == row {
			return c
		}
	}
	return nil
}

// Steps returns how many elementary steps the programme has taken so far, which is
// a measure of time that is the same on every machine.
func (p *Programme) Steps() int64 { return p.steps }

// Basis is where a programme stood.
type Basis struct {
	basis          []int
	inverse, value []float64
	pivots         int
}

// Basis returns where the programme stands, to go back to with Return.
func (p *Programme) Basis() *Basis {
	return &Basis{slices.Clone(p.basis), slices.Clone(p.inverse), slices.Clone(p.value), p.pivots}
}

// Return puts the programme back to where it stood; right-hand sides and costs
// stay as they are now, and columns that were added since remain.
func (p *Programme) Return(b *Basis) {
	for _, j := range p.basis {
		p.columns[j].in = -1
	}
	copy(p.basis, b.basis)
	copy(p.inverse, b.inverse)
	copy(p.value, b.value)
	p.pivots = b.pivots
	for place, j := range p.basis {
		p.columns[j].in = place
	}
}

// primal takes columns into the basis as long as one lowers the cost.
func (p *Programme) primal() error {
	degenerate := 0
	p.reprice()
	for range p.limit() {
		enter := p.cheapest(degenerate > 2*len(p.rows))
		if enter < 0 {
			return nil
		}
		d := p.fall(enter)
		leave := p.ratio(d)
		if leave < 0 {
			return errors.New("a column lowers the cost without end")
		}
		if p.value[leave] > feasible {
			degenerate = 0
		} else {
			degenerate++
		}
		if err := p.pivot(enter, leave, d); err != nil {
			return err
		}
	}
	return ErrStalled
}

// limit is the greatest number of pivots of one run.
func (p *Programme) limit() int { return 50*len(p.rows) + 5*len(p.columns) + 1000 }

// cheapest returns the column with the least reduced cost; with first set it
// takes the first that lowers the cost, which cannot turn in circles.
func (p *Programme) cheapest(first bool) int {
	best, enter := -improves, -1
	for j := range p.columns {
		c := &p.columns[j]
		if c.in >= 0 || c.barred {
			continue
		}
		if r := p.reduced(c); r < best {
			best, enter = r, j
			if first {
				break
			}
		}
	}
	return enter
}

func (p *Programme) reduced(c *column) float64 {
	r := c.cost
	for _, e := range c.entries {
		r -= p.price[e.Row] * e.Value
	}
	return r
}

// reprice finds the prices of the rows for the present basis.
func (p *Programme) reprice() {
	m := len(p.rows)
	clear(p.price)
	for place, j := range p.basis {
		cost := p.columns[j].cost
		if cost == 0 {
			continue
		}
		for i, v := range p.inverse[place*m : (place+1)*m] {
			p.price[i] += cost * v
		}
	}
}

// fall returns by how much the basic amounts fall for each unit of a column.
func (p *Programme) fall(j int) []float64 {
	m := len(p.rows)
	d := p.through
	clear(d)
	for _, e := range p.columns[j].entries {
		for place := range d {
			d[place] += p.inverse[place*m+e.Row] * e.Value
		}
	}
	return d
}

// ratio returns the place whose column is used up first; of equals, that with the
// largest pivot.
func (p *Programme) ratio(d []float64) int {
	least, leave := math.Inf(1), -1
	for place, v := range d {
		r := max(p.value[place], 0) / v
		switch {
		case v < -pivotal && p.columns[p.basis[place]].barred: // it stays at nothing
			v, r = -v, 0
		case v <= pivotal:
			continue
		}
		if r < least-1e-12 || r <= least+1e-12 && leave >= 0 && v > math.Abs(d[leave]) {
			least, leave = min(r, least), place
		}
	}
	return leave
}

// worst returns the place whose amount is farthest from what it may be: below
// nothing, or above it for a barred column; sign is 1 where it has to grow.
func (p *Programme) worst() (place int, sign float64) {
	place, most := -1, feasible
	for i, v := range p.value {
		if -v > most {
			place, most, sign = i, -v, 1
		} else if v > most && p.columns[p.basis[i]].barred {
			place, most, sign = i, v, -1
		}
	}
	return place, sign
}

// dual takes out of the basis what is not as much as it may be, as long as there is
// any.
func (p *Programme) dual() error {
	m := len(p.rows)
	p.reprice()
	for range p.limit() {
		leave, sign := p.worst()
		if leave < 0 {
			return nil
		}
		enter := p.entering(p.inverse[leave*m:(leave+1)*m], sign)
		if enter < 0 {
			return errors.New("a row asks for more than its columns can give")
		}
		if err := p.pivot(enter, leave, p.fall(enter)); err != nil {
			return err
		}
	}
	return ErrStalled
}

// entering returns the column that keeps all reduced costs when it takes the place
// of a row of the inverse; of equals, that with the largest pivot.
func (p *Programme) entering(row []float64, sign float64) int {
	enter, least, largest := -1, math.Inf(1), 0.0
	for j := range p.columns {
		c := &p.columns[j]
		if c.in >= 0 || c.barred {
			continue
		}
		var a float64
		for _, e := range c.entries {
			a -= row[e.Row] * e.Value
		}
		if a *= sign; a <= pivotal {
			continue
		}
		if r := max(p.reduced(c), 0) / a; r < least-1e-12 || r <= least+1e-12 && a > largest {
			enter, least, largest = j, min(r, least), a
		}
	}
	return enter
}

// pivot puts a column in the place of another; d is how the basic amounts fall for
// each unit of it.
func (p *Programme) pivot(enter, leave int, d []float64) error {
	m := len(p.rows)
	reduced := p.reduced(&p.columns[enter])
	p.steps += int64(m * m)
	p.columns[p.basis[leave]].in = -1
	p.basis[leave] = enter
	p.columns[enter].in = leave
	if p.pivots++; p.pivots >= renew {
		if err := p.invert(); err != nil {
			return err
		}
		p.evaluate()
		p.reprice()
		return nil
	}
	by := d[leave]
	row := p.inverse[leave*m : (leave+1)*m]
	for i := range row {
		row[i] /= by
		p.price[i] += reduced * row[i]
	}
	step := p.value[leave] / by
	for place, v := range d {
		if place == leave || v == 0 {
			continue
		}
		other := p.inverse[place*m : (place+1)*m]
		for i, x := range row {
			other[i] -= v * x
		}
		p.value[place] -= v * step
	}
	p.value[leave] = step
	return nil
}

// evaluate finds the basic amounts.
func (p *Programme) evaluate() {
	m := len(p.rows)
	for place := range p.value {
		var v float64
		for i, x := range p.inverse[place*m : (place+1)*m] {
			v += x * p.rows[i].Right
		}
		p.value[place] = v
	}
}

// invert makes the inverse of the basis anew, by elimination with row pivots.
func (p *Programme) invert() error {
	m := len(p.rows)
	p.steps += int64(m * m * m / 2)
	a := make([]float64, m*m)
	for place, j := range p.basis {
		for _, e := range p.columns[j].entries {
			a[e.Row*m+place] += e.Value
		}
	}
	clear(p.inverse)
	for i := range m {
		p.inverse[i*m+i] = 1
	}
	for k := range m {
		at := k
		for i := k + 1; i < m; i++ {
			if math.Abs(a[i*m+k]) > math.Abs(a[at*m+k]) {
				at = i
			}
		}
		if math.Abs(a[at*m+k]) < 1e-11 {
			return errors.New("the basis is singular")
		}
		swap(a[at*m:(at+1)*m], a[k*m:(k+1)*m], at != k)
		swap(p.inverse[at*m:(at+1)*m], p.inverse[k*m:(k+1)*m], at != k)
		by := a[k*m+k]
		ak, bk := a[k*m:(k+1)*m], p.inverse[k*m:(k+1)*m]
		for i := range ak {
			ak[i] /= by
			bk[i] /= by
		}
		for i := range m {
			f := a[i*m+k]
			if i == k || f == 0 {
				continue
			}
			ai, bi := a[i*m:(i+1)*m], p.inverse[i*m:(i+1)*m]
			for c := k; c < m; c++ {
				ai[c] -= f * ak[c]
			}
			for c, v := range bk {
				if v != 0 {
					bi[c] -= f * v
				}
			}
		}
	}
	p.pivots = 0
	return nil
}

func swap(a, b []float64, differ bool) {
	if !differ {
		return
	}
	for i := range a {
		a[i], b[i] = b[i], a[i]
	}
}
