package layout

import (
	"math"
	"slices"

	"nogging/internal/geom"
	"nogging/internal/quantity"
)

// Strike is what it takes to strike the two edges of a curved track on the slab:
// from the centre with a trammel, or where that cannot be reached, by ordinates
// from chords.
type Strike struct {
	Centre geom.Point `json:"centre"` // from the datum
	EdgeA  StruckEdge `json:"edge_a"`
	EdgeB  StruckEdge `json:"edge_b"`
}

// StruckEdge is one edge of a curved track.
type StruckEdge struct {
	Radius Length  `json:"radius"`
	Length Length  `json:"length"` // along the arc
	Chords []Chord `json:"chords"` // end to end; several where the arc turns far
}

// Chord is a straight line between two points of an arc, and the arc's distances
// from it.
type Chord struct {
	From      geom.Point `json:"from"` // from the datum
	To        geom.Point `json:"to"`
	Length    Length     `json:"length"`
	Rise      Length     `json:"rise"` // of the arc over the chord's middle
	Ordinates []Ordinate `json:"ordinates"`
}

// Ordinate is one offset: the arc lies Off square to the chord, away from the
// centre, at At from the chord's start.
type Ordinate struct {
	At  Length `json:"at"`
	Off Length `json:"off"`
}

const (
	// mostTurn is how far, in radians, one chord spans: beyond a third of a turn
	// its ordinates near the ends run too much along the arc.
	mostTurn = 2 * math.Pi / 3
	// ordinateStep is the distance of ordinates along a chord, and shortStep that
	// along a chord of less than shortChord (common practice).
	ordinateStep = 500 * quantity.Millimetre
	shortStep    = 250 * quantity.Millimetre
	shortChord   = 2 * quantity.Metre
)

// strike returns how a frame line of a curved wall is struck; nil for a straight
// one.
func (w *Wall) strike(l FrameLine, datum geom.Point) *Strike {
	if w.Curve == nil {
		return nil
	}
	edge := func(v Length) StruckEdge { return struckEdge(w.Curve.Axis, l.Extent, v, datum) }
	return &Strike{
		Centre: w.Curve.Axis.Centre.Sub(datum), EdgeA: edge(l.Offset + l.Depth/2), EdgeB: edge(l.Offset - l.Depth/2),
	}
}

func struckEdge(axis geom.Arc, e geom.Interval, v Length, datum geom.Point) StruckEdge {
	s := StruckEdge{Radius: axis.RadiusAt(v), Length: axis.Along(e.To, v) - axis.Along(e.From, v)}
	n := max(1, Length(math.Ceil(float64(e.Len())/float64(axis.Radius)/mostTurn)))
	for i := range n {
		from, to := e.From+e.Len()*i/n, e.From+e.Len()*(i+1)/n
		own := axis.Along(to, v) - axis.Along(from, v)
		arc := axis.Offset(v)
		c := Chord{From: axis.Global(from, v).Sub(datum), To: axis.Global(to, v).Sub(datum), Length: arc.Chord(own), Rise: arc.Rise(own)}
		c.Ordinates = ordinates(s.Radius, c.Length)
		s.Chords = append(s.Chords, c)
	}
	return s
}

// ordinates lists the offsets of an arc from its chord, at a regular step and at
// the middle.
func ordinates(radius, chord Length) []Ordinate {
	step := ordinateStep
	if chord < shortChord {
		step = shortStep
	}
	r, half := float64(radius), float64(chord)/2
	low := math.Sqrt(max(0, r*r-half*half)) // the chord's distance from the centre
	at := []Length{chord / 2}
	for x := Length(0); x < chord; x += step {
		at = append(at, x)
	}
	at = append(at, chord)
	slices.Sort(at)
	var list []Ordinate
	for _, x := range slices.Compact(at) {
		d := float64(x) - half
		list = append(list, Ordinate{At: x, Off: Length(math.Round(math.Sqrt(max(0, r*r-d*d)) - low))})
	}
	return list
}
