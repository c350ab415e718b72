package drawing

import (
	"cmp"
	"math"
	"slices"
)

// Clash is a pair of texts that lie over each other.
type Clash struct{ A, B Text }

// touch is the overlap, in mm, that two text boxes may have by rounding.
const touch = 0.02

// Clashes returns every pair of texts of the scene whose areas overlap.
func Clashes(s *Scene) []Clash {
	texts := Texts(s)
	slices.SortStableFunc(texts, func(a, b Text) int {
		return cmp.Compare(a.Bounds().Min.X, b.Bounds().Min.X)
	})
	var out []Clash
	for i, a := range texts {
		right := a.Bounds().Max.X
		for _, b := range texts[i+1:] {
			if b.Bounds().Min.X >= right {
				break
			}
			if quadsOverlap(a.Quad(), b.Quad(), touch) {
				out = append(out, Clash{a, b})
			}
		}
	}
	return out
}

// Texts returns every text of the scene that is not empty.
func Texts(s *Scene) []Text {
	var texts []Text
	s.Walk(func(_ LayerName, it Item) {
		if t, ok := it.(Text); ok && t.Text != "" {
			texts = append(texts, t)
		}
	})
	return texts
}

// Outside returns the texts that reach beyond the given part of the sheet.
func Outside(s *Scene, area Rect) []Text {
	var out []Text
	for _, t := range Texts(s) {
		if !area.Holds(t.Bounds()) {
			out = append(out, t)
		}
	}
	return out
}

// quadsOverlap reports whether two convex quadrilaterals lie over each other by
// more than the slack: no side of either separates them.
func quadsOverlap(a, b [4]Point, slack float64) bool {
	return !separated(a, b, slack) && !separated(b, a, slack)
}

func separated(a, b [4]Point, slack float64) bool {
	for i := range a {
		next := a[(i+1)%len(a)]
		axis := Point{a[i].Y - next.Y, next.X - a[i].X} // across the side
		length := hypot(axis)
		if length == 0 {
			continue
		}
		axis = Point{axis.X / length, axis.Y / length}
		loA, hiA := extent(a, axis)
		loB, hiB := extent(b, axis)
		if hiA <= loB+slack || hiB <= loA+slack {
			return true
		}
	}
	return false
}

func extent(q [4]Point, axis Point) (lo, hi float64) {
	lo = q[0].X*axis.X + q[0].Y*axis.Y
	hi = lo
	for _, p := range q[1:] {
		v := p.X*axis.X + p.Y*axis.Y
		lo, hi = min(lo, v), max(hi, v)
	}
	return lo, hi
}

// Placer finds room for texts on a sheet that fills up.
type Placer struct {
	taken []placed
	lines []Segment
}

type placed struct {
	bounds Rect
	quad   [4]Point
	text   bool
}

// Take marks the area of texts as used.
func (p *Placer) Take(texts ...Text) {
	for _, t := range texts {
		p.taken = append(p.taken, placed{t.Bounds(), t.Quad(), true})
	}
}

// TakeRect marks a rectangle as used.
func (p *Placer) TakeRect(r Rect) { p.TakeQuad([4]Point(r.Corners())) }

// TakeQuad marks a convex quadrilateral as used.
func (p *Placer) TakeQuad(q [4]Point) {
	r := Rect{q[0], q[0]}
	for _, c := range q[1:] {
		r.Min.X, r.Min.Y = min(r.Min.X, c.X), min(r.Min.Y, c.Y)
		r.Max.X, r.Max.Y = max(r.Max.X, c.X), max(r.Max.Y, c.Y)
	}
	p.taken = append(p.taken, placed{r, q, false})
}

// Avoid names lines that a text should not cross if it can stand elsewhere.
func (p *Placer) Avoid(lines ...Segment) { p.lines = append(p.lines, lines...) }

// Free reports whether a text would stand clear of everything taken.
func (p *Placer) Free(t Text) bool {
	b, q := t.Bounds(), t.Quad()
	for i := range p.taken {
		if p.taken[i].bounds.Overlaps(b) && quadsOverlap(p.taken[i].quad, q, 0) {
			return false
		}
	}
	return true
}

// Place takes the first of the candidates that is free and crosses the fewest
// lines, and reports whether there was one.
func (p *Placer) Place(candidates ...Text) (Text, bool) {
	best, bestCost := -1, 0
	for i, t := range candidates {
		if !p.Free(t) {
			continue
		}
		cost := p.Crossings(t.Bounds())
		if best < 0 || cost < bestCost {
			best, bestCost = i, cost
		}
		if cost == 0 {
			break
		}
	}
	if best < 0 {
		return Text{}, false
	}
	p.Take(candidates[best])
	return candidates[best], true
}

// PlaceClear takes the first of the candidates that is free and crosses no line,
// and reports whether there was one.
func (p *Placer) PlaceClear(candidates ...Text) (Text, bool) {
	for _, t := range candidates {
		if p.Free(t) && p.Crossings(t.Bounds()) == 0 {
			p.Take(t)
			return t, true
		}
	}
	return Text{}, false
}

// Reach of leaders in mm, and in how many directions they are tried.
const (
	leaderStep  = 2.5
	leaderMost  = 70.0
	leaderTurns = 24
)

// OnLeader moves a centred text to the place nearest to a part at which it is
// free, crosses no line and lies in an area, and to which a leader reaches from
// the part without running over another text; failing that, to one that crosses
// lines. Of several points of the part at which the leader may start, the first
// that lets it is used; one that lies under a text only if none does, and a
// leader that runs over texts only if that does not help either: a part without
// its mark is worse. It takes the place, and returns it with that point, and
// whether there was one.
func (p *Placer) OnLeader(part []Point, t Text, area Rect) (Text, Point, bool) {
	for _, way := range []leaderWay{clearOfTexts, fromUnderText, overTexts} {
		for _, from := range part {
			if out, ok := p.onLeader(from, t, area, way); ok {
				return out, from, true
			}
		}
	}
	return Text{}, Point{}, false
}

// leaderWay says which texts a leader may touch.
type leaderWay int

const (
	clearOfTexts leaderWay = iota
	fromUnderText
	overTexts
)

func (p *Placer) onLeader(part Point, t Text, area Rect, way leaderWay) (Text, bool) {
	crossing, fewest := Text{}, -1
	for r := 2 * leaderStep; r <= leaderMost; r += leaderStep {
		for i := range leaderTurns {
			sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / leaderTurns)
			try := t
			try.At = part.Add(r*cos, r*sin)
			try = try.Middle()
			b := try.Bounds()
			if !area.Holds(b) || !p.Free(try) || !p.reaches(part, Nearest(b, part), way) {
				continue
			}
			n := p.Crossings(b)
			if n == 0 {
				p.Take(try)
				return try, true
			}
			if fewest < 0 || n < fewest {
				crossing, fewest = try, n
			}
		}
	}
	if fewest < 0 {
		return Text{}, false
	}
	p.Take(crossing)
	return crossing, true
}

// reaches reports whether a leader from a to b touches no text that its way
// forbids.
func (p *Placer) reaches(a, b Point, way leaderWay) bool {
	if way == overTexts {
		return true
	}
	for i := range p.taken {
		if !p.taken[i].text || way == fromUnderText && p.taken[i].bounds.Holds(Rect{a, a}) {
			continue
		}
		if _, over := ClipSegment(Segment{a, b}, p.taken[i].bounds); over {
			return false
		}
	}
	return true
}

// Nearest returns the point of a rectangle that is nearest to a point.
func Nearest(r Rect, p Point) Point {
	return Point{max(r.Min.X, min(p.X, r.Max.X)), max(r.Min.Y, min(p.Y, r.Max.Y))}
}

// Crossings counts the lines to avoid that run through a rectangle.
func (p *Placer) Crossings(r Rect) int {
	n := 0
	for _, l := range p.lines {
		if _, ok := ClipSegment(l, r); ok {
			n++
		}
	}
	return n
}
