// Package takeoff measures what walls are made of. It takes laid-out walls and
// gives every quantity with its unit, per wall, level and project.
//
// Quantities are net: lengths as cut, areas as fixed, pieces as counted, with
// no waste and no packs. Each is the sum over parts of the layout, and Traces
// lists the parts it was summed from.
package takeoff

import (
	"cmp"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// Group orders a take-off as a bill is read.
type Group string

// The groups of a take-off.
const (
	Walls      Group = "walls"
	Profiles   Group = "profiles"
	Boards     Group = "boards"
	Insulation Group = "insulation"
	Fixings    Group = "fixings"
	Seals      Group = "seals"
	Joints     Group = "joints"
	Treatment  Group = "joint treatment"
	Openings   Group = "openings"
	Services   Group = "services"
)

// Groups lists the groups in the order of a bill.
func Groups() []Group {
	return []Group{Walls, Profiles, Boards, Insulation, Fixings, Seals, Joints, Treatment, Openings, Services}
}

// Units of quantities.
const (
	Metre       = "m"
	SquareMetre = "m²"
	Pieces      = "pcs"
	Kilogram    = "kg"
	Litre       = "l"
)

// Line is one quantity. Pieces counts the parts it was summed from, where
// parts are things to cut or carry; Mass is theirs in kilograms where the
// catalogue gives one.
type Line struct {
	Group    Group   `json:"group"`
	Code     string  `json:"code"` // catalogue id, or the measure's name
	Name     string  `json:"name"`
	Unit     string  `json:"unit"`
	Quantity float64 `json:"quantity"` // in the unit
	Pieces   int     `json:"pieces,omitempty"`
	Mass     float64 `json:"mass,omitempty"` // kg; left out where it is not known
}

// Wall is the take-off of one wall.
type Wall struct {
	ID    string `json:"wall"`
	Level string `json:"level"`
	Lines []Line `json:"lines"`
}

// Project is the take-off of a plan: per wall, folded per level, and whole.
type Project struct {
	Walls  []Wall  `json:"walls"`
	Levels []Level `json:"levels"`
	Total  []Line  `json:"total"`
}

// Level is the take-off of one level.
type Level struct {
	ID    string `json:"level"`
	Lines []Line `json:"lines"`
}

// Of measures every wall of a layout.
func Of(p *plan.Plan, l *layout.Project, cat *catalogue.Catalogue, pr *catalogue.Practice) *Project {
	measured := each(l.Walls, func(w *layout.Wall) []Line { return OfWall(w, cat, pr) })
	walls := make([]Wall, len(l.Walls))
	for i, w := range l.Walls {
		walls[i] = Wall{ID: w.ID, Level: w.Level, Lines: measured[i]}
	}
	return Fold(p, walls)
}

// Fold sums up the take-offs of a plan's walls.
func Fold(p *plan.Plan, walls []Wall) *Project {
	out := &Project{Walls: walls}
	total := newSum()
	levels := map[string]*sum{}
	for i := range walls {
		w := &walls[i]
		level := levels[w.Level]
		if level == nil {
			level = newSum()
			levels[w.Level] = level
		}
		for _, line := range w.Lines {
			total.add(line)
			level.add(line)
		}
	}
	for i := range p.Levels {
		level := Level{ID: p.Levels[i].ID}
		if s := levels[level.ID]; s != nil {
			level.Lines = s.lines()
		}
		out.Levels = append(out.Levels, level)
	}
	out.Total = total.lines()
	return out
}

// each measures walls on all processors; each result has its place, so the order
// in which they finish does not matter.
func each(walls []*layout.Wall, of func(*layout.Wall) []Line) [][]Line {
	out := make([][]Line, len(walls))
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(walls)) {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(walls); i = int(next.Add(1)) - 1 {
				out[i] = of(walls[i])
			}
		})
	}
	group.Wait()
	return out
}

// OfWall measures one wall.
func OfWall(w *layout.Wall, cat *catalogue.Catalogue, pr *catalogue.Practice) []Line {
	s := newSum()
	measure(w, cat, pr, func(l Line, _ func() string) { s.add(l) })
	return s.lines()
}

// Share is what one part adds to a quantity.
type Share struct {
	Part     string  `json:"part"`
	Quantity float64 `json:"quantity"` // in the unit of the quantity that it is part of
}

// Traces lists, for each quantity of a wall, the parts from which it was summed.
func Traces(w *layout.Wall, cat *catalogue.Catalogue, pr *catalogue.Practice) map[Key][]Share {
	shares := map[Key][]Share{}
	measure(w, cat, pr, func(l Line, part func() string) {
		shares[l.Key()] = append(shares[l.Key()], Share{Part: part(), Quantity: l.Quantity})
	})
	return shares
}

// sum folds lines of the same code and unit.
type sum struct {
	index map[Key]int
	list  []Line
}

// Key is what makes lines of different walls one quantity.
type Key struct {
	Group      Group
	Code, Unit string
}

// Key returns the line's key.
func (l Line) Key() Key { return Key{l.Group, l.Code, l.Unit} }

func newSum() *sum { return &sum{index: map[Key]int{}} }

func (s *sum) add(l Line) {
	k := l.Key()
	i, ok := s.index[k]
	if !ok {
		s.index[k] = len(s.list)
		s.list = append(s.list, l)
		return
	}
	t := &s.list[i]
	t.Quantity += l.Quantity
	t.Pieces += l.Pieces
	t.Mass += l.Mass
}

// lines returns the folded lines in the order of a bill.
func (s *sum) lines() []Line {
	slices.SortFunc(s.list, func(a, b Line) int {
		return cmp.Or(
			cmp.Compare(slices.Index(Groups(), a.Group), slices.Index(Groups(), b.Group)),
			cmp.Compare(a.Code, b.Code), cmp.Compare(a.Unit, b.Unit),
		)
	})
	return s.list
}
