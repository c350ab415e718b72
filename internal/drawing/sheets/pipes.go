package sheets

import (
	"fmt"
	"math"
	"slices"

	"nogging/internal/drawing"
	"nogging/internal/layout"
)

// pipeThing names a pipe and the room that its middle line takes.
func pipeThing(s *Set, p *layout.Pipe) thing {
	name := p.Service
	if name == "" {
		name = "pipe"
	}
	x := thing{mark: fmt.Sprintf("P%02d", p.Number), what: name + " " + s.units.thin(p.Diameter), pipe: p, from: p.Path[0].X, to: p.Path[0].X, lo: p.Path[0].Y, hi: p.Path[0].Y}
	for _, q := range p.Path {
		x.from, x.to, x.lo, x.hi = min(x.from, q.X), max(x.to, q.X), min(x.lo, q.Y), max(x.hi, q.Y)
	}
	return x
}

// drawPipes shows the pipes that run in the wall by their two edges and their
// middle line, and the holes that they need in the members of this plane.
func (f *framing) drawPipes(s *drawing.Scene, placer *drawing.Placer) {
	for i := range f.wall.Pipes {
		p := &f.wall.Pipes[i]
		x := pipeThing(f.set, p)
		g := f.group(x)
		half := f.scale.paper(p.Diameter) / 2
		var edges, middle []drawing.Segment
		for k := 1; k < len(p.Path); k++ {
			line, ok := drawing.ClipSegment(drawing.Segment{A: f.pt(p.Path[k-1].X, p.Path[k-1].Y), B: f.pt(p.Path[k].X, p.Path[k].Y)}, f.body())
			if !ok || line.A == line.B {
				continue
			}
			middle = append(middle, line)
			n := normal(line, half)
			edges = append(edges, drawing.Segment{A: line.A.Add(n.X, n.Y), B: line.B.Add(n.X, n.Y)}, drawing.Segment{A: line.A.Add(-n.X, -n.Y), B: line.B.Add(-n.X, -n.Y)})
		}
		if len(middle) == 0 {
			continue
		}
		g.Add(drawing.Lines{Pen: drawing.Medium, Segments: edges}, drawing.Lines{Pen: drawing.CentreLine, Segments: middle})
		s.Layer(drawing.Openings).Add(g)
		placer.Avoid(edges...)
		f.labelPipe(s, x, middle, half, placer)
	}
	for _, c := range f.wall.Cutouts {
		if f.inWindow(c.At.X) && f.onPlane(c.Line) {
			s.Layer(drawing.Frame).Add(drawing.Circle{Centre: f.pt(c.At.X, c.At.Y), Radius: f.scale.paper(c.Diameter) / 2, Pen: drawing.Thin})
		}
	}
}

// normal returns the vector of a length across a line.
func normal(l drawing.Segment, length float64) drawing.Point {
	dx, dy := l.B.X-l.A.X, l.B.Y-l.A.Y
	d := math.Hypot(dx, dy)
	return drawing.Point{X: -dy / d * length, Y: dx / d * length}
}

func (f *framing) onPlane(line int) bool { return slices.Contains(f.plane.lines, line) }

// labelPipe writes a pipe's mark, diameter and place beside it.
func (f *framing) labelPipe(s *drawing.Scene, x thing, middle []drawing.Segment, half float64, placer *drawing.Placer) {
	u := f.set.units
	long := fmt.Sprintf("%s %s  %s, h %s", x.mark, x.what, u.span(x.from-f.datum, x.to-f.datum), u.span(x.lo, x.hi))
	var texts []drawing.Text
	var hearts []drawing.Point
	for _, text := range []string{long, x.mark} {
		for _, l := range middle {
			c := drawing.Point{X: (l.A.X + l.B.X) / 2, Y: (l.A.Y + l.B.Y) / 2}
			hearts = append(hearts, c)
			for _, side := range []float64{-1, 1} {
				off := side * (half + 0.8 + drawing.Small/2)
				t := drawing.Text{At: c.Add(0, off), Text: text, Height: drawing.Small, Align: drawing.Centre, Mask: true}
				if dx, dy := l.B.X-l.A.X, l.B.Y-l.A.Y; dx*dx < dy*dy {
					t.At, t.Turn = c.Add(off, 0), 90
				}
				texts = append(texts, t.Middle())
			}
		}
	}
	f.write(s, placer, x.mark, hearts, texts...)
}
