package sheets

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/geom"
)

// Overview draws a small plan on one sheet, as high as it takes: the frame of every
// wall, the outer boards of every face, and the details.
func (s *Set) Overview() *drawing.Scene {
	const width, margin, head = 520.0, 10.0, 12.0
	ps := &pages{field: drawing.NewRect(margin, margin+head, width, 5000)}
	s.overview(ps)
	low := 0.0
	for _, pl := range ps.list[0].placed {
		_, h := pl.block.size()
		low = max(low, pl.at.Y+h)
	}
	title := s.in.Plan.Project.Name
	sc := drawing.NewScene("overview", title, drawing.Size{Name: "fit", Width: width + 2*margin, Height: low + margin})
	sc.Layer(drawing.Border).Add(drawing.Text{At: drawing.Point{X: margin, Y: margin + drawing.Head}, Text: title, Height: drawing.Head, Bold: true})
	for _, pl := range ps.list[0].placed {
		pl.block.draw(sc, pl.at)
	}
	return sc
}

// overview places everything.
func (s *Set) overview(ps *pages) {
	var list []block
	for _, w := range s.in.Layout.Walls {
		for n, p := range planes(w) {
			sc := overviewScale(s, p.extent)
			list = append(list, s.newFraming(w, n, sc, p.extent))
		}
		for f := range w.Faces {
			n := len(w.Faces[f].Layers) - 1
			e := w.Faces[f].Layers[n].Extent
			list = append(list, s.newBoards(w, &w.Faces[f], n, overviewScale(s, e), e))
		}
	}
	for _, d := range s.book().list {
		list = append(list, s.newDetailView(d, d.title(), d.subtitle(), 0))
	}
	for _, b := range list {
		ps.add(b, false)
	}
}

// overviewScale is the largest scale at which a wall is no wider than 125 mm.
func overviewScale(s *Set, e geom.Interval) scale {
	scales := s.units.wallScales()
	for _, sc := range scales[1:] {
		if sc.paper(e.Len()) <= 125 || sc >= smallest-2 {
			return sc
		}
	}
	return smallest
}

// DigestDetails lists what each detail shows: its parts by name and size, in mm,
// with how many there are, and its dimensions.
func (s *Set) DigestDetails() []string {
	var out []string
	for _, d := range s.book().list {
		out = append(out, fmt.Sprintf("detail %d: %s, walls %s", d.number, detailTitles[d.kind], strings.Join(d.walls, ", ")))
		count := map[string]int{}
		for _, p := range d.parts {
			if p.matter == ground {
				count["  "+p.name]++
				continue
			}
			b := geom.Bounds(p.shape...)
			count[fmt.Sprintf("  %s %s × %s", p.name, tenth(b.Max.X-b.Min.X), tenth(b.Max.Y-b.Min.Y))]++
		}
		var lines []string
		for line, n := range count {
			if strings.HasPrefix(line, "   ") {
				continue // what only clears the room for steel
			}
			if n > 1 {
				line += fmt.Sprintf(" (%d)", n)
			}
			lines = append(lines, line)
		}
		slices.Sort(lines)
		out = append(out, lines...)
		for _, m := range d.measures {
			out = append(out, "  "+map[bool]string{true: "dimensions at the left: ", false: "dimensions below: "}[m.upright]+strings.Join(m.texts, ", "))
		}
	}
	return out
}

func tenth(v Length) string { return fmt.Sprintf("%.4g", math.Round(v.MM()*10)/10) }
