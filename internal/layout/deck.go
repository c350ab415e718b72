package layout

import (
	"math"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Under a metal deck, anchors hold only in the ribs. Where flutes run across a
// wall they are closed over each face by pieces of board cut to their shape, and
// filled between them; where one runs along it, a steel strip from rib to rib
// carries the track (common practice).
const (
	// deckAcross is the sine of the least angle at which flutes count as running
	// across: 15 degrees.
	deckAcross = 0.26
	// deckAlong is the sine of the greatest at which they count as running along:
	// 3 degrees.
	deckAlong = 0.052
	// ribEdge is how far an anchor keeps from the edge of a rib.
	ribEdge = 15 * quantity.Millimetre
	// plateLap is how far a steel strip laps the ribs on both sides.
	plateLap = 50 * quantity.Millimetre
)

// onDeck reports whether the head is fixed to a metal deck of known profile.
func (w *wallLayout) onDeck() bool {
	l := w.body.level
	return l.Soffit == plan.MetalDeck && l.Deck != nil && l.Deck.Usable() && w.out.Head.Kind != plan.HeadFree
}

// ribs is a deck as one wall meets it.
type ribs struct {
	deck   *plan.Deck
	sine   float64 // of the angle between wall and flutes, with the sign of the flutes' order along the wall
	origin float64 // across the flutes, of u = 0, from the middle of a flute
	turn   float64 // by which that grows with v
}

// ribsOf places the deck's flutes on the wall.
func (w *wallLayout) ribsOf(d *plan.Deck) ribs {
	angle := d.Direction * math.Pi / 180
	nx, ny := -math.Sin(angle), math.Cos(angle)
	var at geom.Point
	if d.At != nil {
		at = geom.Point(*d.At)
	}
	f := w.out.Frame
	q := f.Global(0, 0).Sub(at)
	return ribs{
		deck: d, origin: float64(q.X)*nx + float64(q.Y)*ny,
		sine: f.Dir.X*nx + f.Dir.Y*ny, turn: -f.Dir.Y*nx + f.Dir.X*ny,
	}
}

func (r ribs) across() bool { return math.Abs(r.sine) >= deckAcross }
func (r ribs) along() bool  { return math.Abs(r.sine) <= deckAlong }

// places lists, ascending, where the line at offset v of the wall passes under
// the flutes' middles moved by a shift, from one u to another.
func (r ribs) places(v, shift Length, within geom.Interval) []Length {
	pitch := float64(r.deck.Pitch)
	across := func(u Length) float64 { return r.origin + float64(u)*r.sine + float64(v)*r.turn - float64(shift) }
	lo, hi := across(within.From)/pitch, across(within.To)/pitch
	if lo > hi {
		lo, hi = hi, lo
	}
	var us []Length
	const slip = 1e-6 // of a pitch, for rounding
	for n := math.Ceil(lo - slip); n <= hi+slip; n++ {
		us = append(us, Length(math.Round((n*pitch+float64(shift)-r.origin-float64(v)*r.turn)/r.sine)))
	}
	slices.Sort(us)
	return us
}

// offRib returns how far the line at offset v of a wall along the flutes lies
// from the middle of the nearest rib.
func (r ribs) offRib(v Length, u Length) Length {
	pitch := float64(r.deck.Pitch)
	across := r.origin + float64(u)*r.sine + float64(v)*r.turn - pitch/2
	return Length(math.Round(math.Abs(across - pitch*math.Round(across/pitch))))
}

// anchorToDeck fixes a soffit track to the ribs of a deck.
func (w *wallLayout) anchorToDeck(m *Member, d *plan.Deck) {
	r := w.ribsOf(d)
	line := w.out.FrameLines[m.Line]
	room := (d.Pitch-d.Flute)/2 - ribEdge
	switch {
	case w.body.arc != nil || !r.across() && !r.along():
		w.tellHead("deck-askew",
			words.F("the flutes of the deck run at %.0f degrees to it, neither across nor along: a steel strip under all of it is laid out, and its closers are not", math.Abs(math.Asin(r.sine))*180/math.Pi),
			"turn the wall, or have the closing of the flutes drawn in detail")
		w.bridge(m, line)
	case r.across():
		w.anchorToRibs(m, r, line)
	case room > 0 && r.offRib(line.Offset, m.From.X) <= room && r.offRib(line.Offset, m.To.X) <= room:
		w.anchor(m, "soffit", plan.MetalDeck)
	default:
		w.bridge(m, line)
	}
}

// anchorToRibs sets anchors in the ribs that a track crosses: at both ends, and
// between them as few as the practice's distance asks for.
func (w *wallLayout) anchorToRibs(m *Member, r ribs, line FrameLine) {
	us := r.places(line.Offset, r.deck.Pitch/2, geom.Interval{From: m.From.X + ribEdge, To: m.To.X - ribEdge})
	if len(us) < 2 {
		w.tellHead("track-without-rib",
			words.F("a soffit track %s mm long crosses %d of the deck's ribs, and needs 2: a steel strip carries it", mm(m.Cut), len(us)),
			"put a fixing strip of steel under the flutes there")
		w.bridge(m, line)
		return
	}
	pitch := Length(float64(r.deck.Pitch) / math.Abs(r.sine))
	if pitch > w.pr.TrackFixing.Value {
		w.tellHead("ribs-far-apart",
			words.F("it crosses the deck's ribs every %s mm; the practice asks for a fixing every %s mm", mm(pitch), w.pr.TrackFixing.Value),
			"put a fixing strip of steel under the flutes")
	}
	step := max(int(w.pr.TrackFixing.Value/pitch), 1)
	last := (len(us) - 1) / step * step
	w.anchorsAt(m, us[0], us[last], last/step+1)
	if last < len(us)-1 {
		w.anchorsAt(m, us[len(us)-1], us[len(us)-1], 1)
	}
}

// anchorsAt adds a row of anchors in the deck from one u to another.
func (w *wallLayout) anchorsAt(m *Member, from, to Length, count int) {
	if p, ok := w.cat.AnchorFor(plan.MetalDeck); ok {
		z := Profile{m.From, m.To}
		w.out.Anchors = append(w.out.Anchors, AnchorRow{Anchor: p.ID, Into: "ribs", From: geom.Pt(from, z.After(from)), To: geom.Pt(to, z.After(to)), Count: count})
	}
}

// bridge puts a steel strip from rib to rib over a soffit track: two rows of
// anchors hold it, and a third the track.
func (w *wallLayout) bridge(m *Member, line FrameLine) {
	p, ok := w.cat.SundryFor(catalogue.KindPlate, plan.MetalDeck, w.pr)
	if !ok {
		return
	}
	w.out.Plates = append(w.out.Plates, Plate{
		Product: p.ID, Line: m.Line, U: geom.Interval{From: m.From.X, To: m.To.X}, Z: m.From.Y + w.out.Head.Pack,
		Width: max(w.body.level.Deck.Flute, line.Depth) + 2*plateLap,
	})
	for range 2 {
		w.anchor(m, "ribs", plan.MetalDeck)
	}
	w.anchor(m, "steel strip", plan.Steel)
}

// closeFlutes closes the flutes that run across the wall: over each face with a
// piece of board cut to the flute, one for each layer where fire is asked, sealed
// where fire or sound is; between them with the wall's fill.
func (w *wallLayout) closeFlutes() {
	if !w.onDeck() || w.body.arc != nil {
		return
	}
	r := w.ribsOf(w.body.level.Deck)
	if !r.across() {
		return
	}
	for i := range w.out.Faces {
		face := &w.out.Faces[i]
		outer := &face.Layers[len(face.Layers)-1]
		v := w.body.surface(face.Face == plan.FaceA)
		for _, part := range outer.stretches() {
			for _, u := range r.places(v, 0, part) {
				if !w.opensTo(r, u) {
					w.closeFlute(r, face, u)
				}
			}
		}
	}
	w.fillFlutes(r)
}

// shape returns the outline of a flute as the wall cuts it, with the middle of
// its mouth at u and z.
func (r ribs) shape(u, z Length) geom.Polygon {
	wide := func(l Length) Length { return Length(float64(l) / math.Abs(r.sine) / 2) }
	crown := r.deck.Crown
	if crown == 0 {
		crown = r.deck.Flute
	}
	a, b := wide(r.deck.Flute), wide(crown)
	return geom.Polygon{geom.Pt(u-a, z), geom.Pt(u+a, z), geom.Pt(u+b, z+r.deck.Depth), geom.Pt(u-b, z+r.deck.Depth)}
}

// opensTo reports whether an opening, with its pocket and running gear, reaches up to
// the flute at u.
func (w *wallLayout) opensTo(r ribs, u Length) bool {
	box := r.shape(u, 0).Bounds()
	return slices.ContainsFunc(w.out.Openings, func(o Opening) bool {
		bay := o.Bay()
		return bay.From < box.Max.X && box.Min.X < bay.To && o.Top() >= w.out.Top.Before(u)
	})
}

func (w *wallLayout) closeFlute(r ribs, face *FaceLayout, u Length) {
	shape := r.shape(u, w.out.Top.Before(u))
	box := shape.Bounds()
	layers := face.Layers[len(face.Layers)-1:]
	if w.body.rank.fire > 0 {
		layers = face.Layers
	}
	for _, l := range layers {
		flat := r.shape((box.Max.X-box.Min.X)/2, 0)
		w.out.Caps = append(w.out.Caps, Piece{
			Number: len(w.out.Caps) + 1, Board: l.Board, Use: UseFluteCloser, At: shape[0], Outline: flat,
			Width: box.Max.X - box.Min.X, Height: box.Max.Y - box.Min.Y, Left: CutEdge, Right: CutEdge, Rule: UseFluteCloser,
		})
	}
	use := "acoustic"
	if w.body.rank.fire > 0 {
		use = "fire"
	}
	p, ok := w.cat.SundryFor(catalogue.KindSealant, use, w.pr)
	if !ok || w.body.rank.fire == 0 && w.body.rank.sound == 0 {
		return
	}
	for i := 1; i < len(shape); i++ {
		w.out.Seals = append(w.out.Seals, Strip{Product: p.ID, Use: UseFluteCloser, Line: -1, From: shape[i], To: shape[(i+1)%len(shape)]})
	}
}

// fillFlutes fills the flutes over the frame.
func (w *wallLayout) fillFlutes(r ribs) {
	if len(w.spec.Insulation) == 0 {
		return
	}
	fill := w.spec.Insulation[0]
	for i, l := range w.out.FrameLines {
		for _, u := range r.places(l.Offset, 0, l.Extent) {
			if !w.opensTo(r, u) {
				w.out.Batts = append(w.out.Batts, Batt{Product: fill.Product.ID, Line: i, Thickness: l.Depth, Outline: r.shape(u, w.out.Top.Before(u))})
			}
		}
	}
}
