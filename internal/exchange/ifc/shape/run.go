package shape

import "math"

// Run is a straight or round stretch of a curve.
type Run struct {
	Frame  Frame
	Length float64
}

// mostCorners bounds the corners of a curve that is divided into runs.
const mostCorners = 2000

// RunsOf divides a level curve at its corners, and where lines go over into
// arcs. Points may lie off their run by a tolerance in mm.
func RunsOf(c Curve, tolerance float64) []Run {
	points := c.Points
	if len(points) > mostCorners {
		return nil
	}
	var runs []Run
	for i := 0; i+1 < len(points); {
		straight := i + 1
		for straight+1 < len(points) && onChord(points[i:straight+2], tolerance) {
			straight++
		}
		round := i + 1
		if c.Curved {
			round = arcEnd(points, i, tolerance)
		}
		if round == len(points)-1 && i == 0 && points[0].Sub(points[round]).Len() <= tolerance {
			round /= 2 // a circle: half of it
		}
		if f, length, ok := ArcThrough(points[i:round+1], tolerance); ok && round > straight {
			runs = append(runs, Run{f, length})
			i = round
			continue
		}
		run := points[straight].Sub(points[i])
		run.Z = 0
		if length := run.Len(); length > tolerance {
			runs = append(runs, Run{Frame{Origin: points[i], Dir: run.Times(1 / length)}, length})
		}
		i = straight
	}
	return runs
}

// onChord reports whether points lie on the line from the first to the last, in
// order.
func onChord(points []Vec, tolerance float64) bool {
	a, b := points[0], points[len(points)-1]
	run := b.Sub(a)
	length := math.Hypot(run.X, run.Y)
	if length < tolerance {
		return false
	}
	f := Frame{Origin: a, Dir: Vec{X: run.X / length, Y: run.Y / length}}
	for _, p := range points[1 : len(points)-1] {
		if l := f.Local(p); math.Abs(l.Y) > tolerance || l.X < 0 || l.X > length {
			return false
		}
	}
	return true
}

// sameChords is by how much the chords of one arc may differ in length.
const sameChords = 0.05

// arcEnd returns the last of the points after point i that are chords of one
// arc.
func arcEnd(points []Vec, i int, tolerance float64) int {
	if i+2 >= len(points) {
		return i + 1
	}
	centre, ok := centreOf(points[i], points[i+1], points[i+2])
	if !ok {
		return i + 1
	}
	r := math.Hypot(points[i].X-centre.X, points[i].Y-centre.Y)
	sense := turn(points[i], points[i+1], points[i+2])
	end := i + 1
	for k := i + 2; k < len(points); k++ {
		a, b := points[k-1].Sub(points[k-2]), points[k].Sub(points[k-1])
		bend := math.Atan2(a.X*b.Y-a.Y*b.X, a.X*b.X+a.Y*b.Y)
		if math.Abs(a.Len()/b.Len()-1) > sameChords {
			break // a line goes over into an arc
		}
		if bend*sense <= 0 || math.Abs(bend) > maxTurn || math.Abs(math.Hypot(points[k].X-centre.X, points[k].Y-centre.Y)-r) > tolerance {
			break
		}
		end = k
	}
	return end
}

// Near returns the faces of solids that lie within a distance of a frame's line,
// as far as it is long.
func Near(solids []*Solid, f Frame, length, reach float64) []*Solid {
	near := &Solid{}
	for _, s := range solids {
		for l := range s.Leaves {
			for _, face := range l.Faces {
				box := Empty
				for _, p := range face[0] {
					box = box.Add(f.Local(p))
				}
				if box.Min.Y > -reach && box.Max.Y < reach && box.Min.X < length-1 && box.Max.X > 1 {
					near.Faces = append(near.Faces, face)
				}
			}
		}
	}
	return []*Solid{near}
}

// MiddleOf returns the line in the middle of an outline that is a strip of one
// width with corners, such as the footprint of a wall round a corner; ok is
// false where it is none.
func MiddleOf(ring []Vec, widest float64) (middle []Vec, ok bool) {
	ring = cornersOf(ring)
	n := len(ring)
	if n < 6 || n%2 == 1 || n > 2*mostChains {
		return nil, false
	}
	at := func(i int) Vec { return ring[(i%n+n)%n] }
	for k := range n / 2 { // the edge from corner k on is one end, and the opposite one the other
		width := at(k + 1).Sub(at(k)).Len()
		if width > widest || width < 1 {
			continue
		}
		middle = middle[:0]
		for i := range n / 2 {
			middle = append(middle, at(k+1+i).Add(at(k-i)).Times(0.5))
		}
		ok = true
		for i := 0; ok && i+1 < len(middle); i++ {
			l, r := at(k+2+i).Sub(at(k+1+i)), at(k-i-1).Sub(at(k-i))
			run := middle[i+1].Sub(middle[i]).unit(Vec{X: 1})
			apart := run.Cross(at(k - i).Sub(at(k + 1 + i))).Len()
			ok = l.Cross(run).Len() < onCircle && r.Cross(run).Len() < onCircle && l.Dot(run) > 0 && r.Dot(run) > 0 && math.Abs(apart-width) < 2*onCircle
		}
		if ok {
			return middle, true
		}
	}
	return nil, false
}

// mostChains bounds the corners on each side of a strip.
const mostChains = 60

// cornersOf returns the corners of a level outline, without points on its edges.
func cornersOf(ring []Vec) []Vec {
	var corners []Vec
	n := len(ring)
	for i, p := range ring {
		a, b := p.Sub(ring[(i+n-1)%n]), ring[(i+1)%n].Sub(p)
		if math.Abs(a.unit(Vec{}).X*b.unit(Vec{}).Y-a.unit(Vec{}).Y*b.unit(Vec{}).X) > 1e-4 {
			corners = append(corners, p)
		}
	}
	return corners
}
