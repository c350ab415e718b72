// Package lp solves linear programmes that grow by columns, as column generation
// needs them: minimise the cost of columns that are not negative, so that every
// row gets at least, or at most, its right-hand side. It takes rows and columns,
// and gives the optimum with the price of every row.
//
// The method is the revised simplex on a basis kept as sparse triangles, meant for up
// to a few hundred rows; columns are sparse and may be many. After columns were added
// the primal method goes on from the last basis, and after a right-hand side was
// changed the dual method does. It is deterministic.
package lp

import (
	"errors"
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

// columns are those of the programme, one after another: the rows' own first, slack or
// surplus, then what is short.
type columns struct {
	cost   []float64
	start  []int32 // of each column's entries; one more at the end
	row    []int32
	value  []float64
	in     []int32 // its place in the basis, -1 outside
	barred []bool
}

func (c *columns) add(cost float64) {
	c.cost, c.in, c.barred = append(c.cost, cost), append(c.in, -1), append(c.barred, false)
	c.start = append(c.start, int32(len(c.row)))
}

func (c *columns) entry(row int, value float64) {
	c.row, c.value = append(c.row, int32(row)), append(c.value, value)
	c.start[len(c.start)-1] = int32(len(c.row))
}

// entries returns the rows and values of a column.
func (c *columns) entries(j int) ([]int32, []float64) {
	a, b := c.start[j], c.start[j+1]
	return c.row[a:b], c.value[a:b]
}

// Programme is a linear programme with its basis.
type Programme struct {
	rows    []Row
	columns columns
	own     int   // number of the rows' own columns
	short   []int // column of what a row is short of, -1 for none
	basis   []int // column in each place
	factors factors
	apart   factoring
	value   []float64 // of the basic columns
	price   []float64
	steps   int64
	through []float64 // room for how the basic amounts fall
	across  []float64 // and for a row of the basis' inverse
	scratch []float64
	listed  []int32 // columns that lately lowered the cost
	moved   bool    // amounts are moved off where they belong
}

// Tolerances of the method, for data of the size of small whole numbers.
const (
	improves = 1e-9 // least reduced cost worth a pivot
	pivotal  = 1e-9 // least size of a pivot
	feasible = 1e-9
)

// ErrStalled is given where the method did not end within its pivots, which only
// numerical trouble can bring about.
var ErrStalled = errors.New("the simplex method did not end")

// New returns a programme without columns: every row that asks for something is
// short of all of it.
func New(rows []Row) *Programme {
	m := len(rows)
	p := &Programme{rows: rows, basis: make([]int, m)}
	p.makeRoom(m)
	p.columns.start = []int32{0}
	for i, r := range rows {
		sign := 1.0
		if r.Sense == AtLeast {
			sign = -1
		}
		p.columns.add(0)
		p.columns.entry(i, sign)
	}
	for i, r := range rows {
		p.basis[i] = i
		p.short = append(p.short, -1)
		if r.Sense == AtLeast {
			p.short[i] = len(p.columns.cost)
			p.basis[i] = p.short[i]
			p.columns.add(r.Penalty)
			p.columns.entry(i, 1)
		}
	}
	p.own = len(p.columns.cost)
	for place, j := range p.basis {
		p.columns.in[j] = int32(place)
	}
	_ = p.factorise()
	return p
}

// Add adds a column and returns its number, from 0 up.
func (p *Programme) Add(cost float64, entries []Entry) int {
	p.columns.add(cost)
	for _, e := range entries {
		p.columns.entry(e.Row, e.Value)
	}
	return len(p.columns.cost) - 1 - p.own
}

// SetRight changes the right-hand side of a row.
func (p *Programme) SetRight(row int, right float64) { p.rows[row].Right = right }

// SetCost changes the cost of a column that was added. The programme has to be
// solved between a change of right-hand sides and one of costs.
func (p *Programme) SetCost(j int, cost float64) { p.columns.cost[j+p.own] = cost }

// Bar bars a column that was added from taking part, or lets it take part again.
func (p *Programme) Bar(j int, barred bool) { p.columns.barred[j+p.own] = barred }

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
		v += p.columns.cost[j] * p.value[place]
	}
	return v
}

// Amount returns how much of a column the optimum takes.
func (p *Programme) Amount(j int) float64 {
	if place := p.columns.in[j+p.own]; place >= 0 {
		return max(p.value[place], 0)
	}
	return 0
}

// Price returns what one unit more on a row's right-hand side would cost.
func (p *Programme) Price(row int) float64 { return p.price[row] }

// Short returns by how much a row falls short of what it asks for.
func (p *Programme) Short(row int) float64 {
	if j := p.short[row]; j >= 0 && p.columns.in[j] >= 0 {
		return max(p.value[p.columns.in[j]], 0)
	}
	return 0
}

// SetPenalty changes what a row's being short costs; as with SetCost, the programme
// has to be solved between a change of right-hand sides and one of penalties.
func (p *Programme) SetPenalty(row int, penalty float64) {
	if j := p.short[row]; j >= 0 {
		p.columns.cost[j] = penalty
	}
}

// Steps returns how many elementary steps the programme has taken so far, which is
// a measure of time that is the same on every machine.
func (p *Programme) Steps() int64 { return p.steps }

// Basis is where a programme stood.
type Basis struct {
	basis   []int
	factors factors
	value   []float64
}

// Basis returns where the programme stands, to go back to with Return.
func (p *Programme) Basis() *Basis {
	return &Basis{slices.Clone(p.basis), p.factors, slices.Clone(p.value)}
}

// Return puts the programme back to where it stood; right-hand sides and costs
// stay as they are now, and columns that were added since remain.
func (p *Programme) Return(b *Basis) {
	for _, j := range p.basis {
		p.columns.in[j] = -1
	}
	copy(p.basis, b.basis)
	copy(p.value, b.value)
	p.factors = b.factors
	for place, j := range p.basis {
		p.columns.in[j] = int32(place)
	}
}

// AddLimits adds rows that allow at most so much of what the columns that were added
// take of them: entries of a column name the rows by their numbers from here on, after
// those that there are.
func (p *Programme) AddLimits(right []float64, entries func(column int) []Entry) {
	old, before := p.columns, p.own
	m, n := len(p.rows), len(right)
	p.columns, p.own = columns{start: []int32{0}}, before+n
	for j := range old.cost {
		if j == before {
			p.addSlacks(right)
		}
		p.columns.add(old.cost[j])
		at, value := old.entries(j)
		for i := range at {
			p.columns.entry(int(at[i]), value[i])
		}
		if j >= before {
			for _, e := range entries(j - before) {
				p.columns.entry(e.Row, e.Value)
			}
		}
	}
	if before == len(old.cost) {
		p.addSlacks(right)
	}
	copy(p.columns.barred[p.own:], old.barred[before:])
	for place, j := range p.basis {
		if j >= before {
			p.basis[place] = j + n
		}
	}
	for i := range n {
		p.basis, p.short = append(p.basis, before+i), append(p.short, -1)
	}
	p.makeRoom(m + n)
	for place, j := range p.basis {
		p.columns.in[j] = int32(place)
	}
	_ = p.factorise() // as regular as before: the new columns stand alone in the new rows
}

// addSlacks adds rows that allow so much, with their own columns.
func (p *Programme) addSlacks(right []float64) {
	for _, r := range right {
		p.columns.add(0)
		p.columns.entry(len(p.rows), 1)
		p.rows = append(p.rows, Row{Sense: AtMost, Right: r})
	}
}

// makeRoom makes room for vectors of so many rows.
func (p *Programme) makeRoom(m int) {
	room := make([]float64, 5*m)
	p.value, p.price, p.through, p.across, p.scratch = room[:m], room[m:2*m], room[2*m:3*m], room[3*m:4*m], room[4*m:]
}
