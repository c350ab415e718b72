package sheets

import (
	"cmp"
	"slices"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
)

// Wall draws the sheets of one wall: its frame first, then its boards; on one
// sheet where both fit.
func (s *Set) Wall(w *layout.Wall) []*drawing.Scene {
	best := s.compose(w)
	if best == nil {
		return nil
	}
	var out []*drawing.Scene
	total := len(best.list)
	for i, p := range best.list {
		out = append(out, s.wallSheet(w, best, p, i, total))
	}
	return out
}

// WallSheets returns how many sheets Wall will give.
func (s *Set) WallSheets(w *layout.Wall) int {
	if best := s.compose(w); best != nil {
		return len(best.list)
	}
	return 0
}

// composition is the views of a wall, arranged.
type composition struct {
	pages
	scale  scale
	frames int // number of leading sheets that hold the frame
}

// compose arranges the wall's views at the largest scale that needs no more
// than a fair number of sheets: one for the frame and one for every two layers
// of boards. Failing that, at the scale that needs fewest.
func (s *Set) compose(w *layout.Wall) *composition {
	layers := 0
	for _, f := range w.Faces {
		layers += len(f.Layers)
	}
	fair := max(1, len(planes(w))) + (layers+1)/2
	var best *composition
	for _, sc := range s.units.wallScales() {
		c := s.arrange(w, sc)
		if c == nil {
			continue
		}
		if len(c.list) <= fair {
			return c
		}
		if best == nil || len(c.list) < len(best.list) {
			best = c
		}
	}
	return best
}

// arrange places all views at one scale; nil if one does not fit on a sheet.
func (s *Set) arrange(w *layout.Wall, sc scale) *composition {
	frame, boards := s.frameViews(w, sc), s.boardViews(w, sc)
	if len(frame)+len(boards) == 0 {
		return nil
	}
	all := &composition{scale: sc, pages: pages{field: drawing.A3.Field()}}
	if s.fill(&all.pages, w, slices.Concat(frame, boards), true, len(boards) > 0) && len(all.list) == 1 {
		all.frames = 1
		return all
	}
	first := pages{field: drawing.A3.Field()}
	second := pages{field: drawing.A3.Field()}
	if !s.fill(&first, w, frame, true, false) || !s.fill(&second, w, boards, false, len(boards) > 0) {
		return nil
	}
	return &composition{scale: sc, frames: len(first.list), pages: pages{list: slices.Concat(first.list, second.list)}}
}

// fill puts views, then lists and notes, on sheets.
func (s *Set) fill(ps *pages, w *layout.Wall, views []block, frame, boards bool) bool {
	for _, v := range views {
		if !ps.add(v, false) {
			return false
		}
	}
	var remarks []block
	if frame {
		if sec := s.newSection(w); sec != nil && !ps.add(sec, false) {
			return false
		}
		if t := s.frameList(w); len(t.Rows) > 0 {
			ps.addTable(t)
		}
		remarks = append(remarks, &notes{"Notes on the frame", s.framingNotes(w), 118})
	}
	if boards {
		ps.addTable(s.pieceList(w))
		remarks = append(remarks, legend{}, &notes{"Notes on the boards", s.boardNotes(w), 127})
	}
	for _, r := range remarks {
		if !ps.add(r, true) {
			return false
		}
	}
	return true
}

// frameViews returns the framing elevations, in parts where the wall is long.
func (s *Set) frameViews(w *layout.Wall, sc scale) []block {
	var out []block
	for n, p := range planes(w) {
		for _, win := range windows(w, p.extent, sc) {
			out = append(out, s.newFraming(w, n, sc, win))
		}
	}
	return out
}

// boardViews returns the board elevations, layer by layer from the frame out.
func (s *Set) boardViews(w *layout.Wall, sc scale) []block {
	var out []block
	for i := range w.Faces {
		for n := range w.Faces[i].Layers {
			for _, win := range windows(w, w.Faces[i].Layers[n].Extent, sc) {
				out = append(out, s.newBoards(w, &w.Faces[i], n, sc, win))
			}
		}
	}
	return out
}

// broadest is the width, in mm, of the longest stretch of wall on a sheet.
const broadest = 330.0

// windows cuts a wall that is too long for a sheet into equal stretches, with
// the cuts moved out of openings.
func windows(w *layout.Wall, extent geom.Interval, sc scale) []geom.Interval {
	n := 1
	for sc.paper(extent.Len())/float64(n) > broadest {
		n++
	}
	cuts := []Length{extent.From}
	for i := 1; i < n; i++ {
		u := extent.From + extent.Len()/Length(n)*Length(i)
		cuts = append(cuts, clearOf(w, u, extent.Len()/Length(4*n)))
	}
	cuts = append(cuts, extent.To)
	var out []geom.Interval
	for i := 1; i < len(cuts); i++ {
		out = append(out, geom.Interval{From: cuts[i-1], To: cuts[i]})
	}
	return out
}

// clearOf moves a cut to the nearest place, within reach, that lies in no
// opening and a hand's breadth off the studs.
func clearOf(w *layout.Wall, u, reach Length) Length {
	const off = 150e6
	var tries []Length
	for _, o := range w.Openings {
		tries = append(tries, o.U.From-2*off, o.U.To+2*off)
	}
	for _, m := range w.Members {
		if m.Upright() {
			tries = append(tries, m.From.X+off, m.From.X-off)
		}
	}
	clear := func(t Length) bool {
		for _, o := range w.Openings {
			if t > o.U.From-off && t < o.U.To+off {
				return false
			}
		}
		return (t - u).Abs() <= reach
	}
	slices.SortFunc(tries, func(a, b Length) int {
		return cmp.Or(cmp.Compare((a-u).Abs(), (b-u).Abs()), cmp.Compare(a, b))
	})
	for _, t := range tries {
		if clear(t) {
			return t
		}
	}
	return u
}

// wallSheet draws one sheet of a wall.
func (s *Set) wallSheet(w *layout.Wall, c *composition, p *page, i, total int) *drawing.Scene {
	what, cautions := "framing and boards", frameCautions+" "+boardCautions
	switch {
	case c.frames == total && total > 1, i < c.frames && total > c.frames:
		what, cautions = "framing", frameCautions
	case i >= c.frames:
		what, cautions = "boards", boardCautions
	}
	b := s.title()
	b.Title = "Wall " + w.ID + ": " + what
	b.Subtitle = s.wallSubtitle(w)
	b.Drawing = s.numbered(w.ID)
	b.Kind = "Construction drawing"
	b.Scale = s.units.name(c.scale)
	b.Sheet, b.Sheets = i+1, total
	name := FileName(w.ID)
	if total > 1 {
		name += "-" + string(rune('1'+i))
	}
	sc := p.sheet(name, b.Title)
	drawing.Finish(sc, b, caution, []string{s.units.note() + " Sections as noted. Do not scale; check on site before cutting.", cautions})
	return sc
}

// wallSubtitle says where the wall is and what it is made of.
func (s *Set) wallSubtitle(w *layout.Wall) string {
	text := "build-up " + w.BuildUp + ", " + s.units.thin(w.Thickness) + " thick"
	if l := s.levels[w.Level]; l != nil && l.Name != "" {
		return l.Name + ", " + text
	}
	return "level " + w.Level + ", " + text
}
