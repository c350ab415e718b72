package setout

import (
	"math"

	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// face is the face of a wall's track towards a field, as it lies in plan.
type face struct {
	wall  *layout.Wall
	line  geom.Segment
	names [2]string
}

// facing returns a wall's track face A, or B: the outermost of its frame lines.
func facing(w *layout.Wall, a bool) face {
	n := 0
	for i, l := range w.FrameLines {
		if a && l.Offset > w.FrameLines[n].Offset || !a && l.Offset < w.FrameLines[n].Offset {
			n = i
		}
	}
	l := w.FrameLines[n]
	e := edgesOf(l)[0]
	if !a {
		e = edgesOf(l)[1]
	}
	return face{
		wall: w, line: geom.Segment{A: w.Point(l.Extent.From, e.v), B: w.Point(l.Extent.To, e.v)},
		names: [2]string{pointName(w, n, e.letter, "S"), pointName(w, n, e.letter, "E")},
	}
}

// Fields whose diagonals are measured: what their two walls share is at least
// leastShared of the shorter one; what lies nearer together is one wall, and what is
// further apart than the longest tape is
// left out.
const (
	leastShared = 0.5
	leastApart  = 300 * quantity.Millimetre
	longestTape = 30 * quantity.Metre
)

// diagonals lists the fields between each wall and the nearest parallel one on
// either side, each once, as far as no structure stands in the way.
func diagonals(walls []*layout.Wall, rooms []*plan.Room, t *tieFinder) []Diagonal {
	var list []Diagonal
	seen := map[[2]string]bool{}
	for _, w := range walls {
		if w.Curve != nil {
			continue
		}
		for _, left := range []bool{true, false} {
			own := facing(w, left)
			other, ok := nearestParallel(own, left, walls)
			if !ok {
				continue
			}
			key := [2]string{min(own.names[0], other.names[0]), max(own.names[0], other.names[0])}
			if !seen[key] {
				seen[key] = true
				if d := diagonalOf(own, other, rooms); t.sees(d.lines[0][0], d.lines[0][1]) && t.sees(d.lines[1][0], d.lines[1][1]) {
					list = append(list, d)
				}
			}
		}
	}
	return list
}

// nearestParallel returns the face of the nearest wall that runs along a face, on
// its free side.
func nearestParallel(own face, left bool, walls []*layout.Wall) (face, bool) {
	f := geom.FrameOf(own.line)
	length := f.Local(own.line.B).X
	best, least := face{}, longestTape
	for _, w := range walls {
		if w == own.wall || w.Curve != nil || math.Abs(w.Frame.Dir.Cross(f.Dir)) > geom.Parallel {
			continue
		}
		for _, a := range []bool{true, false} {
			x := facing(w, a)
			p, q := f.Local(x.line.A), f.Local(x.line.B)
			apart := p.Y
			if !left {
				apart = -apart
			}
			shared := min(length, max(p.X, q.X)) - max(0, min(p.X, q.X))
			if apart > leastApart && apart < least && float64(shared) >= leastShared*float64(min(length, (q.X-p.X).Abs())) {
				best, least = x, apart
			}
		}
	}
	return best, best.wall != nil
}

// diagonalOf returns the diagonals between two faces.
func diagonalOf(a, b face, rooms []*plan.Room) Diagonal {
	if a.line.Dir().Dot(b.line.Dir()) < 0 {
		b.line.A, b.line.B = b.line.B, b.line.A
		b.names[0], b.names[1] = b.names[1], b.names[0]
	}
	d := Diagonal{
		Walls: [2]string{a.wall.ID, b.wall.ID}, From: a.names, To: [2]string{b.names[1], b.names[0]},
		lines: [2][2]geom.Point{{a.line.A, b.line.B}, {a.line.B, b.line.A}},
	}
	for i, l := range d.lines {
		d.Length[i] = l[0].Dist(l[1])
	}
	middle := geom.Pt((a.line.A.X+b.line.B.X)/2, (a.line.A.Y+b.line.B.Y)/2)
	for _, r := range rooms {
		var outline geom.Polygon
		for _, p := range r.Outline {
			outline = append(outline, geom.Point(p))
		}
		if outline.Contains(middle) {
			d.Room = r.ID
		}
	}
	return d
}
