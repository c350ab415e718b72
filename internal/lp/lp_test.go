package lp

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	gonum "gonum.org/v1/gonum/optimize/convex/lp"
	"pgregory.net/rapid"

	_ "nogging/internal/draws"
)

// drawn is a random programme: rows that ask for something, rows that allow
// something, columns with few small entries.
type drawn struct {
	rows    []Row
	costs   []float64
	columns [][]Entry
}

func draw(t *rapid.T) drawn {
	var d drawn
	m := rapid.IntRange(1, 8).Draw(t, "rows")
	for range m {
		r := Row{Right: float64(rapid.IntRange(0, 20).Draw(t, "right")), Penalty: 1000}
		if rapid.IntRange(0, 3).Draw(t, "sense") == 0 {
			r.Sense = AtMost
		}
		d.rows = append(d.rows, r)
	}
	for range rapid.IntRange(1, 15).Draw(t, "columns") {
		var c []Entry
		for i := range m {
			if v := rapid.IntRange(-3, 4).Draw(t, "value"); v > 0 {
				c = append(c, Entry{i, float64(v)})
			}
		}
		d.columns = append(d.columns, c)
		d.costs = append(d.costs, float64(rapid.IntRange(1, 30).Draw(t, "cost")))
	}
	return d
}

// reference solves the programme with a general library, in its standard form.
func (d drawn) reference(t *rapid.T) float64 {
	m := len(d.rows)
	var costs []float64
	var columns [][]Entry
	costs, columns = append(costs, d.costs...), append(columns, d.columns...)
	right := make([]float64, m)
	for i, r := range d.rows {
		right[i] = r.Right
		sign := 1.0
		if r.Sense == AtLeast {
			sign = -1
			costs, columns = append(costs, r.Penalty), append(columns, []Entry{{i, 1}})
		}
		costs, columns = append(costs, 0), append(columns, []Entry{{i, sign}})
	}
	a := mat.NewDense(m, len(columns), nil)
	for j, c := range columns {
		for _, e := range c {
			a.Set(e.Row, j, a.At(e.Row, j)+e.Value)
		}
	}
	value, _, err := gonum.Simplex(costs, a, right, 1e-10, nil)
	if err != nil {
		t.Skip(err) // such as an empty column
	}
	return value
}

func solve(t *rapid.T, p *Programme) {
	if err := p.Solve(); err != nil {
		t.Fatal(err)
	}
}

// verify checks an optimum by itself: amounts feasible, prices feasible in the
// dual programme, and both of the same value.
func (d drawn) verify(t *rapid.T, p *Programme) {
	const eps = 1e-6
	var dual float64
	for i, r := range d.rows {
		got := p.Short(i)
		for j, c := range d.columns {
			for _, e := range c {
				if e.Row == i {
					got += e.Value * p.Amount(j)
				}
			}
		}
		if r.Sense == AtLeast && got < r.Right-eps || r.Sense == AtMost && got > r.Right+eps {
			t.Fatalf("row %d gets %v of %v", i, got, r.Right)
		}
		if y := p.Price(i); r.Sense == AtLeast && y < -eps || r.Sense == AtMost && y > eps || y > r.Penalty+eps {
			t.Fatalf("row %d has price %v", i, y)
		}
		dual += p.Price(i) * r.Right
	}
	for j, c := range d.columns {
		left := d.costs[j]
		for _, e := range c {
			left -= p.Price(e.Row) * e.Value
		}
		if left < -eps {
			t.Fatalf("column %d has reduced cost %v", j, left)
		}
	}
	if math.Abs(dual-p.Value()) > eps*(1+math.Abs(dual)) {
		t.Fatalf("value %v, by prices %v", p.Value(), dual)
	}
}

// TestSolve compares with gonum's simplex, and each optimum with the duality
// theorem.
func TestSolve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		p := New(append([]Row(nil), d.rows...))
		for j, c := range d.columns {
			p.Add(d.costs[j], c)
		}
		solve(t, p)
		d.verify(t, p)
		if want := d.reference(t); math.Abs(p.Value()-want) > 1e-6*(1+math.Abs(want)) {
			t.Fatalf("value %v, reference %v", p.Value(), want)
		}
	})
}

// A programme that grows and whose right-hand sides change ends where a new one
// begins.
func TestGoesOn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		p := New(append([]Row(nil), d.rows...))
		for j, c := range d.columns {
			p.Add(d.costs[j], c)
			if rapid.Bool().Draw(t, "solve") {
				solve(t, p)
			}
			if rapid.Bool().Draw(t, "change") {
				i := rapid.IntRange(0, len(d.rows)-1).Draw(t, "row")
				d.rows[i].Right = float64(rapid.IntRange(0, 20).Draw(t, "new right"))
				p.SetRight(i, d.rows[i].Right)
			}
		}
		solve(t, p)
		d.verify(t, p)
	})
}

// A programme with columns barred ends where one without them does, also while
// right-hand sides change, and where it was once they may take part again.
func TestBar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		p := New(append([]Row(nil), d.rows...))
		for j, c := range d.columns {
			p.Add(d.costs[j], c)
		}
		solve(t, p)
		i := rapid.IntRange(0, len(d.rows)-1).Draw(t, "row")
		right := d.rows[i].Right
		p.SetRight(i, float64(rapid.IntRange(0, 20).Draw(t, "new right")))
		without := drawn{rows: append([]Row(nil), d.rows...)}
		without.rows[i].Right = p.rows[i].Right
		for j, c := range d.columns {
			if barred := rapid.Bool().Draw(t, "barred"); barred {
				p.Bar(j, true)
				continue
			}
			without.columns, without.costs = append(without.columns, c), append(without.costs, d.costs[j])
		}
		solve(t, p)
		for j := range d.columns {
			if p.columns.barred[p.own+j] && p.Amount(j) > 1e-6 {
				t.Fatalf("the barred column %d takes part with %v", j, p.Amount(j))
			}
			p.Bar(j, false)
		}
		if got, want := p.Value(), without.reference(t); math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
			t.Fatalf("value %v with columns barred, reference %v", got, want)
		}
		p.SetRight(i, right)
		solve(t, p)
		d.verify(t, p)
	})
}

// A programme to which limits are added ends where one that had them from the start
// does, wherever it stood.
func TestAddLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		p := New(append([]Row(nil), d.rows...))
		for j, c := range d.columns {
			p.Add(d.costs[j], c)
		}
		if rapid.Bool().Draw(t, "solve") {
			solve(t, p)
		}
		m := len(d.rows)
		var right []float64
		more := make([][]Entry, len(d.columns))
		for i := range rapid.IntRange(1, 4).Draw(t, "limits") {
			right = append(right, float64(rapid.IntRange(0, 10).Draw(t, "limit")))
			d.rows = append(d.rows, Row{Sense: AtMost, Right: right[i]})
			for j := range d.columns {
				if v := rapid.IntRange(0, 2).Draw(t, "of limit"); v > 0 {
					more[j] = append(more[j], Entry{m + i, float64(v)})
					d.columns[j] = append(d.columns[j], Entry{m + i, float64(v)})
				}
			}
		}
		p.AddLimits(right, func(j int) []Entry { return more[j] })
		solve(t, p)
		d.verify(t, p)
		if want := d.reference(t); math.Abs(p.Value()-want) > 1e-6*(1+math.Abs(want)) {
			t.Fatalf("value %v, reference %v", p.Value(), want)
		}
	})
}

// A row whose penalty is low stays short where its columns cost more.
func TestSetPenalty(t *testing.T) {
	p := New([]Row{{Right: 3, Penalty: 100}})
	p.Add(10, []Entry{{0, 2}})
	for _, c := range []struct{ penalty, value, short float64 }{{4, 12, 3}, {6, 15, 0}} {
		p.SetPenalty(0, c.penalty)
		if err := p.Solve(); err != nil {
			t.Fatal(err)
		}
		if p.Value() != c.value || p.Short(0) != c.short {
			t.Errorf("penalty %v: value %v, short of %v", c.penalty, p.Value(), p.Short(0))
		}
	}
}

// Many pivots do not wear the inverse out: an assignment of 60 jobs to 60 people
// (rows of both senses, 3600 columns) keeps primal and dual values together.
func TestLarge(t *testing.T) {
	const n = 60
	rows := make([]Row, 2*n)
	for i := range n {
		rows[i] = Row{Sense: AtLeast, Right: 1, Penalty: 1e4}
		rows[n+i] = Row{Sense: AtMost, Right: 1}
	}
	p := New(rows)
	for i := range n {
		for j := range n {
			p.Add(float64((i*37+j*91+i*j*17)%101), []Entry{{i, 1}, {n + j, 1}})
		}
	}
	if err := p.Solve(); err != nil {
		t.Fatal(err)
	}
	var dual float64
	for i, r := range rows {
		dual += p.Price(i) * r.Right
	}
	if math.Abs(dual-p.Value()) > 1e-6 || math.Abs(p.Value()-math.Round(p.Value())) > 1e-6 {
		t.Errorf("value %v, by prices %v; assignments have whole values", p.Value(), dual)
	}
}
