package lp

import (
	"errors"
	"math"
)

// primal takes columns into the basis as long as one lowers the cost. Where it gets
// nowhere for a while, it goes on with amounts moved a little off nothing, so that it
// cannot turn in circles, and leaves it to the dual method to move them back.
func (p *Programme) primal() error {
	degenerate := 0
	p.moved = false
	p.listed = p.listed[:0]
	p.reprice()
	for range p.limit() {
		enter := p.cheapest()
		if enter < 0 {
			return p.settle()
		}
		d := p.fall(enter)
		leave := p.ratio(d)
		if leave < 0 {
			return errors.New("a column lowers the cost without end")
		}
		if p.value[leave] > feasible {
			degenerate = 0
		} else if degenerate++; degenerate > patience {
			degenerate = 0
			p.move()
			leave = p.ratio(d)
		}
		if err := p.pivot(enter, leave, d); err != nil {
			return err
		}
		p.reprice()
	}
	return ErrStalled
}

// patience is how many pivots in a row may change no amount.
const patience = 20

// move moves what is nothing in the basis up by little and different amounts.
func (p *Programme) move() {
	p.moved = true
	for place, v := range p.value {
		if v < feasible && !p.columns.barred[p.basis[place]] {
			p.value[place] = little * (1 + float64((place*7919+p.basis[place]*104729)%1009)/1009)
		}
	}
}

// little is by how much amounts are moved at least.
const little = 1e-6

// settle moves the amounts back to where they belong.
func (p *Programme) settle() error {
	if !p.moved {
		return nil
	}
	p.moved = false
	p.evaluate()
	if place, _ := p.worst(); place < 0 {
		return nil
	}
	return p.dual()
}

// limit is the greatest number of pivots of one run.
func (p *Programme) limit() int { return 50*len(p.rows) + 5*len(p.columns.cost) + 1000 }

// mostListed is how many columns that lower the cost are kept in mind.
const mostListed = 12

// cheapest returns a column that lowers the cost much: the best of those that lowered
// it most when all were last looked at, as long as one of them does.
func (p *Programme) cheapest() int {
	best, enter := -improves, -1
	kept := p.listed[:0]
	for _, j := range p.listed {
		if p.columns.in[j] >= 0 {
			continue
		}
		r := p.reduced(int(j))
		if r >= -improves {
			continue
		}
		kept = append(kept, j)
		if r < best {
			best, enter = r, int(j)
		}
	}
	p.listed = kept
	if enter >= 0 {
		return enter
	}
	return p.look()
}

// look looks at all columns, and keeps in mind those that lower the cost most.
func (p *Programme) look() int {
	p.steps += int64(len(p.columns.row))
	var reduced [mostListed]float64
	p.listed = p.listed[:0]
	for j, in := range p.columns.in {
		if in >= 0 || p.columns.barred[j] {
			continue
		}
		r := p.reduced(j)
		if r >= -improves {
			continue
		}
		n := len(p.listed)
		if n == mostListed {
			if r >= reduced[n-1] {
				continue
			}
			n--
		} else {
			p.listed = append(p.listed, 0)
		}
		for ; n > 0 && r < reduced[n-1]; n-- {
			reduced[n], p.listed[n] = reduced[n-1], p.listed[n-1]
		}
		reduced[n], p.listed[n] = r, int32(j)
	}
	if len(p.listed) == 0 {
		return -1
	}
	return int(p.listed[0])
}

func (p *Programme) reduced(j int) float64 {
	at, value := p.columns.entries(j)
	r := p.columns.cost[j]
	for n, i := range at {
		r -= p.price[i] * value[n]
	}
	return r
}

// reprice finds the prices of the rows for the present basis.
func (p *Programme) reprice() {
	for place, j := range p.basis {
		p.scratch[place] = p.columns.cost[j]
	}
	p.factors.backward(p.scratch, p.price)
	p.steps += p.factors.work()
}

// fall returns by how much the basic amounts fall for each unit of a column.
func (p *Programme) fall(j int) []float64 {
	clear(p.scratch)
	at, value := p.columns.entries(j)
	for n, i := range at {
		p.scratch[i] += value[n]
	}
	p.factors.forward(p.scratch, p.through)
	p.steps += p.factors.work()
	return p.through
}

// ratio returns the place whose column is used up first; of equals, that with the
// largest pivot.
func (p *Programme) ratio(d []float64) int {
	least, leave := math.Inf(1), -1
	for place, v := range d {
		if v <= pivotal && v >= -pivotal {
			continue
		}
		r := max(p.value[place], 0) / v
		if v < 0 {
			if !p.columns.barred[p.basis[place]] {
				continue
			}
			v, r = -v, 0 // it stays at nothing
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
		} else if v > most && p.columns.barred[p.basis[i]] {
			place, most, sign = i, v, -1
		}
	}
	return place, sign
}

// dual takes out of the basis what is not as much as it may be, as long as there is
// any.
func (p *Programme) dual() error {
	p.reprice()
	for range p.limit() {
		leave, sign := p.worst()
		if leave < 0 {
			return nil
		}
		row := p.row(leave)
		enter := p.entering(row, sign)
		if enter < 0 {
			return errors.New("a row asks for more than its columns can give")
		}
		d, reduced := p.fall(enter), p.reduced(enter)
		by := reduced / d[leave]
		if err := p.pivot(enter, leave, d); err != nil {
			return err
		}
		if len(p.factors.changes) == 0 {
			p.reprice()
			continue
		}
		for i, v := range row {
			p.price[i] += by * v
		}
	}
	return ErrStalled
}

// row returns a row of the inverse of the basis.
func (p *Programme) row(place int) []float64 {
	clear(p.scratch)
	p.scratch[place] = 1
	p.factors.backward(p.scratch, p.across)
	p.steps += p.factors.work()
	return p.across
}

// entering returns the column that keeps all reduced costs when it takes the place
// of a row of the inverse; of equals, that with the largest pivot.
func (p *Programme) entering(row []float64, sign float64) int {
	p.steps += int64(len(p.columns.row))
	enter, least, largest := -1, math.Inf(1), 0.0
	for j, in := range p.columns.in {
		if in >= 0 || p.columns.barred[j] {
			continue
		}
		at, value := p.columns.entries(j)
		var a float64
		for n, i := range at {
			a -= row[i] * value[n]
		}
		if a *= sign; a <= pivotal {
			continue
		}
		if r := max(p.reduced(j), 0) / a; r < least-1e-12 || r <= least+1e-12 && a > largest {
			enter, least, largest = j, min(r, least), a
		}
	}
	return enter
}

// pivot puts a column in the place of another; d is how the basic amounts fall for
// each unit of it. Prices stay as they were.
func (p *Programme) pivot(enter, leave int, d []float64) error {
	p.columns.in[p.basis[leave]] = -1
	p.basis[leave] = enter
	p.columns.in[enter] = int32(leave)
	step := p.value[leave] / d[leave]
	for place, v := range d {
		if v != 0 {
			p.value[place] -= v * step
		}
	}
	p.value[leave] = step
	if !p.factors.worn() {
		p.factors.replace(leave, d)
		return nil
	}
	if err := p.factorise(); err != nil {
		return err
	}
	if !p.moved {
		p.evaluate()
	}
	return nil
}

// evaluate finds the basic amounts.
func (p *Programme) evaluate() {
	for i := range p.rows {
		p.scratch[i] = p.rows[i].Right
	}
	p.factors.forward(p.scratch, p.value)
	p.steps += p.factors.work()
}

// factorise takes the basis apart anew.
func (p *Programme) factorise() error {
	t, err := p.apart.run(&p.columns, p.basis)
	if err != nil {
		return err
	}
	p.factors = factors{triangles: t}
	p.steps += int64(t.cost)
	return nil
}
