package layout

import (
	"nogging/internal/geom"
	"nogging/internal/quantity"
)

// Angle is one piece of the angles that hold a shaft wall's liner.
type Angle struct {
	Product string     `json:"product,omitempty"` // catalogue id
	Line    int        `json:"line"`
	From    geom.Point `json:"from"`
	To      geom.Point `json:"to"`
	Cut     Length     `json:"cut"`
}

// useLiner is the use of the pieces of a shaft wall's liner.
const useLiner = "liner"

// Sizes of a liner (common practice).
const (
	linerClear = 3 * quantity.Millimetre  // between a piece and the studs and tracks round it
	leastAngle = 50 * quantity.Millimetre // an edge shorter than this is not held by itself
)

// setLiner sets the inner board of a shaft wall, which is put up from face A like
// the rest of it: in each bay a piece stands between the studs against their flanges
// on the shaft's side, and angles screwed to studs and tracks along its edges hold
// it there; the layers of face A follow. Pieces higher than a board is long are cut
// across, with angles along the joint (common practice; a tested build-up decides).
func (w *wallLayout) setLiner() {
	if w.spec.Liner == nil {
		return
	}
	angle, _ := w.cat.AngleFor(w.spec.Stud.ID)
	for line := range w.out.FrameLines {
		before := len(w.out.Liner)
		studs := w.uprights(line)
		for i := 1; i < len(studs); i++ {
			from, to := studs[i-1].From.X+studs[i-1].Width/2+linerClear, studs[i].From.X-studs[i].Width/2-linerClear
			if to-from >= leastAngle {
				w.linerBay(from, to)
			}
		}
		if angle != nil {
			for i := before; i < len(w.out.Liner); i++ {
				w.holdLiner(&w.out.Liner[i], angle.ID, line)
			}
		}
	}
}

// linerBay cuts the pieces of one bay round its openings.
func (w *wallLayout) linerBay(from, to Length) {
	long := w.spec.Liner.Lengths[len(w.spec.Liner.Lengths)-1]
	bottom, top := w.out.Base+linerClear, w.out.Top.Lowered(w.studDrop)
	slabs := region(top, bottom, from, to, w.holes(), nil)
	for low := bottom; low < top.Max(from, to); low += long {
		band := cutAcross(slabs, low, low+long)
		for _, group := range connected(band) {
			outline, holes := outlines(band, group)
			box := outline.Bounds()
			w.out.Liner = append(w.out.Liner, Piece{
				Number: len(w.out.Liner) + 1, Board: w.spec.Liner.ID, Use: useLiner, At: box.Min, Outline: outline, Holes: holes,
				Width: box.Max.X - box.Min.X, Height: box.Max.Y - box.Min.Y, Left: CutEdge, Right: CutEdge, Rule: "between the studs",
			})
		}
	}
}

// holdLiner sets an angle along each edge of a piece.
func (w *wallLayout) holdLiner(p *Piece, product string, line int) {
	for _, ring := range append([]geom.Polygon{p.Outline}, p.Holes...) {
		ring.Edges(func(s geom.Segment) {
			if l := s.Length(); l >= leastAngle {
				w.out.Angles = append(w.out.Angles, Angle{Product: product, Line: line, From: s.A, To: s.B, Cut: l})
			}
		})
	}
}
