//go:build unix

package main

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/cut/linear"
	"nogging/internal/cut/sheet"
	"nogging/internal/quantity"
)

// unit is what lengths are counted in.
const unit = quantity.Millimetre / 10

// programme is a mixed-integer programme in the making; rows are sums of variables
// beside a bound.
type programme struct {
	objective []string
	rows      map[string][]string
	order     []string
	bounds    map[string]string
	ints      []string
}

func newProgramme() *programme {
	return &programme{rows: map[string][]string{}, bounds: map[string]string{}}
}

func (p *programme) add(row, term string) {
	if p.rows[row] == nil {
		p.order = append(p.order, row)
	}
	p.rows[row] = append(p.rows[row], term)
}

func (p *programme) variable(format string, args ...any) string {
	name := fmt.Sprintf(format, args...)
	p.ints = append(p.ints, name)
	return name
}

// String writes the programme in LP format. Rows without a bound of their own are
// flows that are kept.
func (p *programme) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Minimize\n obj: %s\nSubject To\n", join(p.objective))
	for _, r := range p.order {
		bound := p.bounds[r]
		if bound == "" {
			bound = "= 0"
		}
		fmt.Fprintf(&b, " %s: %s %s\n", r, join(p.rows[r]), bound)
	}
	b.WriteString("General\n")
	for _, v := range p.ints {
		b.WriteString(" " + v + "\n")
	}
	b.WriteString("End\n")
	return b.String()
}

// join writes terms, some to a line: readers of the format limit their length.
func join(terms []string) string {
	var b strings.Builder
	for i, t := range terms {
		if i > 0 && !strings.HasPrefix(t, "-") {
			b.WriteString(" + ")
		} else {
			b.WriteString(" ")
		}
		if b.WriteString(t); i%8 == 7 {
			b.WriteString("\n ")
		}
	}
	return b.String()
}

// item is a size that is needed so many times.
type item struct{ size, count, number int }

// arc is an item laid from a place on.
type arc struct{ item, from, to int }

// flow lists the arcs of the arc-flow graph (1999) of items on a length of any of
// some capacities: larger items lie before smaller ones, so an item begins only where
// larger or equal ones may end. It gives the places, too, ascending.
func flow(items []item, capacities []int) (arcs []arc, places []int) {
	longest := slices.Max(capacities)
	reached := map[int]bool{0: true}
	slices.SortStableFunc(items, func(a, b item) int { return b.size - a.size })
	for _, x := range items {
		var starts []int
		for at := range reached {
			starts = append(starts, at)
		}
		slices.Sort(starts)
		done := map[int]bool{}
		for _, from := range starts {
			for n := 0; n < x.count && from+x.size <= longest; n++ {
				if !done[from] {
					done[from] = true
					arcs = append(arcs, arc{x.number, from, from + x.size})
				}
				from += x.size
				reached[from] = true
			}
		}
	}
	for _, c := range capacities {
		reached[c] = true
	}
	for at := range reached {
		places = append(places, at)
	}
	slices.Sort(places)
	return arcs, places
}

// graph adds an arc-flow graph: use(arc) names what stands for an arc in the row of
// what is needed, out(capacity) the variable that counts how many lengths of that
// capacity are used.
func (p *programme) graph(name string, arcs []arc, places, capacities []int, use func(a arc, variable string), out func(capacity int) string) {
	row := func(at int) string { return fmt.Sprintf("%s_n%d", name, at) }
	for i, a := range arcs {
		v := p.variable("%s_a%d", name, i)
		p.add(row(a.from), "- "+v)
		p.add(row(a.to), v)
		use(a, v)
	}
	for i := 1; i < len(places); i++ { // what is left over
		v := p.variable("%s_l%d", name, i)
		p.add(row(places[i-1]), "- "+v)
		p.add(row(places[i]), v)
	}
	for _, c := range capacities {
		p.add(row(0), out(c))
		p.add(row(c), "- "+out(c))
	}
}

// barModel is the arc-flow programme of cutting bars, exact for several stock lengths.
// Kerfs are added to pieces and bars.
func barModel(q linear.Problem) string {
	p := newProgramme()
	var items []item
	for i, x := range q.Pieces {
		items = append(items, item{int((x.Length + q.Kerf) / unit), x.Count, i})
		p.bounds[need(i)] = fmt.Sprintf(">= %d", x.Count)
	}
	var capacities []int
	for _, s := range q.Stocks {
		c := int((s.Length + q.Kerf) / unit)
		capacities = append(capacities, c)
		z := p.variable("z%d", c)
		p.objective = append(p.objective, fmt.Sprintf("%d %s", s.Cost, z))
	}
	arcs, places := flow(items, capacities)
	p.graph("g", arcs, places, capacities, func(a arc, v string) { p.add(need(a.item), v) }, func(c int) string { return fmt.Sprintf("z%d", c) })
	return p.String()
}

func need(i int) string { return fmt.Sprintf("need%d", i) }

// sheetModel is the two-stage arc-flow programme of guillotine cutting (Macedo, Alves
// and Valério de Carvalho 2010) with sheets of several lengths: a sheet is cut along
// its length into strips, each as wide as a piece, and strips across into pieces, which
// may be narrower. Pieces keep their direction.
func sheetModel(q sheet.Problem) string {
	p := newProgramme()
	var widths []int
	for i, x := range q.Pieces {
		widths = append(widths, int(x.Width/unit))
		p.bounds[need(i)] = fmt.Sprintf(">= %d", x.Count)
	}
	slices.Sort(widths)
	widths = slices.Compact(widths)
	for t, s := range q.Stocks {
		z := p.variable("z%d", t)
		p.objective = append(p.objective, fmt.Sprintf("%d %s", s.Cost, z))
		p.strips(q, t, widths, z)
	}
	return p.String()
}

// strips adds the graph of a sheet's width, and one of the length for each width of
// strips.
func (p *programme) strips(q sheet.Problem, t int, widths []int, z string) {
	wide, long := int(q.Stocks[t].Width/unit), int(q.Stocks[t].Height/unit)
	var strips []item
	for _, w := range widths {
		most, fits := 0, false
		var items []item
		for i, x := range q.Pieces {
			if int(x.Width/unit) <= w && int(x.Height/unit) <= long {
				items = append(items, item{int(x.Height / unit), x.Count, i})
				fits = fits || int(x.Width/unit) == w
				most += x.Count
			}
		}
		if !fits || w > wide {
			continue
		}
		strips = append(strips, item{w, min(most, wide/w), w})
		arcs, places := flow(items, []int{long})
		y := fmt.Sprintf("y%d_%d", t, w)
		p.ints = append(p.ints, y)
		p.graph(fmt.Sprintf("s%d_%d", t, w), arcs, places, []int{long}, func(a arc, v string) { p.add(need(a.item), v) }, func(int) string { return y })
		p.add("count_"+y, "- "+y)
	}
	if len(strips) == 0 {
		return
	}
	arcs, places := flow(strips, []int{wide})
	p.graph(fmt.Sprintf("w%d", t), arcs, places, []int{wide}, func(a arc, v string) { p.add(fmt.Sprintf("count_y%d_%d", t, a.item), v) }, func(int) string { return z })
}
