package sheets

import "nogging/internal/drawing"

// write places a mark at the first of the candidates that is clear of texts and
// lines; failing that, on a leader near one of the given points of its part;
// failing that, over the fewest lines. It reports whether there was room at all.
func (e *elevation) write(s *drawing.Scene, placer *drawing.Placer, mark string, part []drawing.Point, candidates ...drawing.Text) bool {
	t, ok := placer.PlaceClear(candidates...)
	if !ok {
		if e.onLeader(s, placer, part, mark, e.around()) {
			return true
		}
		if t, ok = placer.Place(candidates...); !ok {
			return false
		}
	}
	s.Layer(drawing.Marks).Add(t)
	return true
}

// onLeader writes a text as near as it can to the part that it names, clear of
// texts and lines and within an area, with a leader from the part.
func (e *elevation) onLeader(s *drawing.Scene, placer *drawing.Placer, part []drawing.Point, text string, area drawing.Rect) bool {
	t, from, ok := placer.OnLeader(part, drawing.Text{Text: text, Height: drawing.Small, Align: drawing.Centre, Mask: true}, area)
	if !ok {
		return false
	}
	drawLeader(s, from, t)
	return true
}

// drawLeader draws a text with a line that ends in a dot on its part.
func drawLeader(s *drawing.Scene, part drawing.Point, t drawing.Text) {
	end := drawing.Nearest(t.Bounds().Inset(-0.3), part)
	s.Layer(drawing.Marks).Add(t, drawing.Line(part, end, drawing.Thin),
		drawing.Circle{Centre: part, Radius: 0.45, Pen: drawing.Thin, Fill: drawing.Black})
}
