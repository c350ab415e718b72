package plan

import (
	"math"
	"slices"

	"nogging/internal/geom"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Tolerances of comparing wall lines, which are drawn before anybody knows how
// thick the walls will be.
const (
	// reach is how far from the line of another wall a wall may end and still
	// be taken to meet it, where that wall's thickness is not given: the
	// thickest usual partition.
	reach = 250 * quantity.Millimetre
	// onOneLine is how far apart two lines may lie and still be taken for the
	// same wall drawn twice.
	onOneLine = 25 * quantity.Millimetre
	// lap is how far two walls in one line may overlap by careless drawing.
	lap = 50 * quantity.Millimetre
	// cell is the least width of the grid by which neighbours are found.
	cell = 3 * quantity.Metre
)

// Limits of what is compared and listed, for plans that are far out of order.
const (
	mostCrossings = 1000
	mostPairs     = 100 // per wall, on average
)

// run is the line of one wall that has a length.
type run struct {
	wall  *Wall
	spot  *spot
	line  geom.Segment
	arc   *geom.Arc // of a curved wall; line is then its chord
	reach Length
}

// mass is a body of existing structure in plan.
type mass struct {
	id      string
	outline geom.Polygon
}

// crossings finds walls that run through each other, lie on each other or run
// through existing structure, level by level.
func (c *checker) crossings() {
	runs := map[string][]*run{}
	for i := range c.plan.Walls {
		w := &c.plan.Walls[i]
		if w.Length() >= geom.Same {
			s := c.root.entry("walls", i, w.ID)
			line := geom.Segment{A: geom.Point(w.Line[0]), B: geom.Point(w.Line[1])}
			r := &run{wall: w, spot: s, line: line, reach: max(w.Thickness, reach)}
			if arc, ok := w.Arc(); ok {
				r.arc = &arc
			}
			runs[w.Level] = append(runs[w.Level], r)
		}
	}
	bodies := map[string]*geom.Grid[*mass]{}
	for i := range c.plan.Structure {
		x := &c.plan.Structure[i]
		if m := massOf(x); m != nil {
			if bodies[x.Level] == nil {
				bodies[x.Level] = geom.NewGrid[*mass](cell)
			}
			bodies[x.Level].Add(m.outline.Bounds(), m)
		}
	}
	left := mostCrossings
	for _, level := range slices.Compact(slices.Sorted(slices.Values(c.levels))) {
		compareWalls(runs[level], &left)
		if grid := bodies[level]; grid != nil {
			compareStructure(runs[level], grid, &left)
		}
	}
}

func (r *run) bounds() geom.Rect {
	if r.arc != nil {
		return r.arc.Bounds()
	}
	return geom.Bounds(r.line.A, r.line.B)
}

// compareWalls compares each wall with those before it that come near it.
func compareWalls(runs []*run, left *int) {
	grid := geom.NewGrid[*run](gridFor(runs))
	pairs := mostPairs * (len(runs) + 100)
	for _, r := range runs {
		if pairs < 0 || *left <= 0 {
			r.notCompared()
			return
		}
		grid.Each(r.bounds().Grow(onOneLine), func(before *run) {
			if pairs--; pairs < 0 || *left <= 0 {
				return
			}
			if before.overlap(r) || before.cross(r) {
				*left--
			}
		})
		grid.Add(r.bounds(), r)
	}
}

// compareStructure compares each wall with the bodies that come near it.
func compareStructure(runs []*run, bodies *geom.Grid[*mass], left *int) {
	pairs := mostPairs * (len(runs) + 100)
	for _, r := range runs {
		if pairs < 0 || *left <= 0 {
			r.notCompared()
			return
		}
		bodies.Each(r.bounds(), func(m *mass) {
			if pairs--; pairs >= 0 {
				*left -= r.through(m)
			}
		})
	}
}

func (r *run) notCompared() {
	r.spot.doubt("walls-not-compared", "line", "so much meets here that this wall and those after it were not compared", "mend the crossings that are listed and check again")
}

// gridFor returns a width of cells at which walls lie in few cells each.
func gridFor(runs []*run) Length {
	var sum float64
	for _, r := range runs {
		sum += r.line.Length().Metres()
	}
	return max(cell, quantity.Metres(sum/float64(max(len(runs), 1))))
}

// overlap tells if two walls lie on each other.
func (r *run) overlap(o *run) bool {
	if r.arc != nil || o.arc != nil {
		return r.arc != nil && o.arc != nil && r.overlapArcs(o)
	}
	f := geom.FrameOf(r.line)
	a, b := f.Local(o.line.A), f.Local(o.line.B)
	if a.X > b.X {
		a, b = b, a
	}
	from, to := max(a.X, 0), min(b.X, r.line.Length())
	if to-from <= lap || offset(a, b, from).Abs() > onOneLine || offset(a, b, to).Abs() > onOneLine {
		return false
	}
	o.spot.doubt("walls-overlap", "line",
		words.F("the wall lies on %s for %s, from %s to %s along it", r.wall.ID, mm(to-from), mm(from), mm(to)),
		"take one of the two out, or let one end where the other begins")
	return true
}

// offset returns how far a line through a and b lies to the side at u.
func offset(a, b geom.Point, u Length) Length {
	if a.X == b.X {
		return a.Y
	}
	t := float64(u-a.X) / float64(b.X-a.X)
	return a.Y + Length(math.Round(t*float64(b.Y-a.Y)))
}

// cross tells if two walls run through each other: both go on so far beyond
// the crossing that neither can be meant to end there.
func (r *run) cross(o *run) bool {
	if r.arc != nil || o.arc != nil {
		return r.crossCurved(o)
	}
	u, v, ok := r.line.Crossing(o.line)
	if !ok {
		return false
	}
	sine := math.Abs(r.line.Dir().Cross(o.line.Dir()))
	if ends(u, r.line.Length(), o.reach, sine) || ends(v, o.line.Length(), r.reach, sine) {
		return false
	}
	r.tellCross(o, u, v)
	return true
}

// tellCross tells that two walls cross, at u of r and v of o.
func (r *run) tellCross(o *run, u, v Length) {
	o.spot.between(r.wall.ID, "walls-cross", "line",
		words.F("the wall crosses %s, at %s from its own start and %s from the start of %s", r.wall.ID, mm(v.Round(quantity.Millimetre)), mm(u.Round(quantity.Millimetre)), r.wall.ID),
		words.F("split %s there into two walls that end at %s, or the other way round", o.wall.ID, r.wall.ID))
}

// massOf returns the body of existing structure, or nil if it has none
// that can be compared.
func massOf(x *Structure) *mass {
	p := polygon(x.Outline)
	if len(x.Outline) == 0 && len(x.Line) == 2 && x.Thickness > 0 && x.Line[0] != x.Line[1] {
		line := geom.Segment{A: geom.Point(x.Line[0]), B: geom.Point(x.Line[1])}
		f, l, h := geom.FrameOf(line), line.Length(), x.Thickness/2
		p = geom.Polygon{f.Global(0, -h), f.Global(l, -h), f.Global(l, h), f.Global(0, h)}
	}
	if len(p) < 3 || len(p) > mostCorners {
		return nil
	}
	return &mass{x.ID, p}
}

// through tells where the wall's line runs through a body and on beyond it, and
// returns how often it does.
func (r *run) through(m *mass) (times int) {
	if r.arc != nil {
		return r.throughCurved(m)
	}
	f, length := geom.FrameOf(r.line), r.line.Length()
	var cuts []Length
	m.outline.Edges(func(s geom.Segment) {
		a, b := f.Local(s.A), f.Local(s.B)
		if (a.Y > 0) != (b.Y > 0) {
			t := float64(a.Y) / float64(a.Y-b.Y)
			cuts = append(cuts, a.X+Length(math.Round(t*float64(b.X-a.X))))
		}
	})
	slices.Sort(cuts)
	for i := 0; i+1 < len(cuts); i += 2 {
		from, to := cuts[i], cuts[i+1]
		if from > geom.Same && to < length-geom.Same && to-from > geom.Same {
			r.tellThrough(m, from, to)
			times++
		}
	}
	return times
}

func (r *run) tellThrough(m *mass, from, to Length) {
	r.spot.doubt("wall-through-structure", "line",
		words.F("the wall runs through %s from %s to %s", m.id, mm(from.Round(quantity.Millimetre)), mm(to.Round(quantity.Millimetre))),
		"split the wall in two, one ending on each side")
}
