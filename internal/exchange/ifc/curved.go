package ifc

import (
	"math"

	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/finding"
	"nogging/internal/words"
)

// Limits of curved walls, in mm.
const (
	leastRise   = 2.5  // of an arc over its chord: what is flatter is straight
	leastRadius = 250  // of a wall's line
	chordRise   = 20.0 // of an axis drawn as chords, over each of them
	fewChords   = 4    // of an axis drawn as chords, at least
)

var (
	errTight  = words.Err("its arc is tighter than any wall is built")
	errNotArc = words.Err("its body does not follow the arc of its axis")
)

// followArc aligns a wall with its axis where that is an arc, and reports
// whether it is: drawn as one, or by chords.
func (r *reader) followArc(w *wall, axis shape.Curve, body []*shape.Solid) (curved bool, err error) {
	f, length, ok := shape.ArcThrough(axis.Points, offAxis)
	if !ok || rise(f, length) < leastRise {
		return false, nil
	}
	if n := len(axis.Points) - 1; !axis.Curved && (n < fewChords || rise(f, length/float64(n)) > chordRise) {
		return false, nil
	}
	w.frame, w.axis = f, length
	if _, _, ok := shape.MainFaces(body, f); ok || len(body) == 0 {
		return true, nil
	}
	if r.followRing(w, body) != nil {
		return true, errNotArc
	}
	w.doubt(finding.Warning, "wall-axis", "its axis does not run along its body: the body is followed", "check where it stands")
	return true, nil
}

// rise is the height of an arc over its chord.
func rise(f shape.Frame, length float64) float64 {
	r := math.Abs(f.Radius)
	return r * (1 - math.Cos(min(length/r, 2*math.Pi)/2))
}

// followRing aligns a wall with the two arcs of its footprint.
func (r *reader) followRing(w *wall, body []*shape.Solid) error {
	ring, ok := shape.Footprint(body)
	if !ok {
		return errNotStraight
	}
	f, length, ok := shape.ArcBetween(ring)
	if !ok || rise(f, length) < leastRise {
		return errNotStraight
	}
	w.frame = f
	return nil
}

// justInside is how far, in mm, within a face bodies are cut, to be in them.
const justInside = 0.05

// innerRadius returns the radius just within the wall's face on the inside of its
// curve.
func (w *wall) innerRadius() float64 {
	return math.Abs(w.frame.Radius) - w.thickness/2 + justInside
}

// cutInside cuts the body of an opening along the inside of a wall's curve: first
// to find it, then with short panels that lie on the arc.
func (r *reader) cutInside(w *wall, body []*shape.Solid) shape.Section {
	v := math.Copysign(w.thickness/2-justInside, w.frame.Radius)
	rough, err := r.shape.Cut(body, w.frame, v)
	if err != nil || len(rough) == 0 {
		return nil
	}
	const margin = 0.5
	fine, err := r.shape.CutBetween(body, w.frame, v, rough[0].From-margin, rough[len(rough)-1].To+margin)
	if err != nil || len(fine) == 0 {
		return rough
	}
	return fine
}

// clear returns the width of an opening: in a curved wall straight across, on
// the inside of the curve, where its jambs come nearest to each other.
func (o *opening) clear() float64 {
	w := o.wall
	if !w.frame.Curved() {
		return o.rect.width()
	}
	turn := min(o.rect.width()/math.Abs(w.frame.Radius), math.Pi)
	return 2 * w.innerRadius() * math.Sin(turn/2)
}

// over returns the length along the wall's line over a straight width, as of a
// door; the reverse of clear.
func (w *wall) over(width float64) float64 {
	if !w.frame.Curved() {
		return width
	}
	return 2 * math.Abs(w.frame.Radius) * math.Asin(min(width/(2*w.innerRadius()), 1))
}
