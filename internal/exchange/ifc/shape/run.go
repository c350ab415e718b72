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
