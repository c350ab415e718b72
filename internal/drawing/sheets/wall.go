package sheets

import (
	"cmp"
	"slices"
	"strconv"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
)

// DraftWall arranges the sheets of one wall: its frame first, then its boards;
// on one sheet where both fit at a large scale.
func (s *Set) DraftWall(w *layout.Wall) Draft {
	list := s.compose(w)
	d := Draft{Number: s.numbered(w.ID), Title: "Wall " + w.ID + ", build-up " + w.BuildUp, Sheets: len(list)}
	if len(list) > 0 {
		d.Scale = s.units.name(list[0].scale)
	}
	d.draw = func(i int) *drawing.Scene { return s.wallSheet(w, list[i], i+1, len(list)) }
	return d
}

// content is what a sheet of a wall shows.
type content string

const (
	framingSheet content = "framing"
	boardSheet   content = "boards"
	bothSheet    content = "framing and boards"
)

// wallPage is one sheet of a wall, arranged.
type wallPage struct {
	*page
	scale   scale
	content content
}

// oneSheet is the smallest scale at which frame and boards share a sheet.
const oneSheet = scale(25)

// compose arranges a wall's views on sheets.
func (s *Set) compose(w *layout.Wall) []wallPage {
	for _, sc := range s.units.wallScales() {
		if sc > oneSheet {
			break
		}
		frame, boards := s.frameViews(w, sc), s.boardViews(w, sc)
		both := pages{field: drawing.A3.Field()}
		if len(frame) > 0 && s.fill(&both, w, slices.Concat(frame, boards), true, len(boards) > 0) && len(both.list) == 1 {
			return []wallPage{{both.list[0], sc, bothSheet}}
		}
	}
	layers := 0
	for _, f := range w.Faces {
		layers += len(f.Layers)
	}
	return slices.Concat(s.largest(w, framingSheet, 1), s.largest(w, boardSheet, (layers+1)/2))
}

// smallest is the smallest scale at which a wall is drawn if it fits a sheet at
// all; smaller ones leave no room for marks.
const smallest = scale(50)

// largest arranges the frame or the boards at the largest scale that needs no
// more than a fair number of sheets, each with a view on it; failing that, at
// the scale that needs fewest.
func (s *Set) largest(w *layout.Wall, what content, fair int) []wallPage {
	var best []wallPage
	for _, sc := range s.units.wallScales() {
		if sc > smallest && best != nil {
			break
		}
		list, bare := s.arrange(w, what, sc)
		if list == nil || best != nil && len(list) >= len(best) {
			continue
		}
		best = list
		if len(best) <= fair && !bare {
			break
		}
	}
	return best
}

// arrange places the frame or the boards at one scale. Bare tells that a sheet
// holds nothing but lists and notes. A view larger than a sheet gives nil.
func (s *Set) arrange(w *layout.Wall, what content, sc scale) (list []wallPage, bare bool) {
	views := s.frameViews(w, sc)
	if what == boardSheet {
		views = s.boardViews(w, sc)
	}
	ps := pages{field: drawing.A3.Field()}
	if len(views) == 0 || !s.fill(&ps, w, views, what == framingSheet, what == boardSheet) {
		return nil, false
	}
	for _, p := range ps.list {
		list = append(list, wallPage{p, sc, what})
		bare = bare || !slices.ContainsFunc(p.placed, isView)
	}
	return list, bare
}

func isView(p placement) bool {
	switch p.block.(type) {
	case *framing, *boards:
		return true
	}
	return false
}

// fill puts views, then lists and notes, on sheets: in a column at the right of
// a frame that leaves room for one, else from the left in what the views leave.
func (s *Set) fill(ps *pages, w *layout.Wall, views []block, frame, boards bool) bool {
	widest := 0.0
	for _, v := range views {
		if !ps.add(v, false) {
			return false
		}
		width, _ := v.size()
		widest = max(widest, width)
	}
	right := frame && widest+air+column <= ps.field.Width()
	if frame {
		if t := s.frameList(w); len(t.Rows) > 0 {
			ps.addTable(t, right)
		}
		if !ps.addNotes("Notes on the frame", s.framingNotes(w), right) {
			return false
		}
		if sec := s.newSection(w); sec != nil && !ps.add(sec, right) {
			return false
		}
	}
	if boards {
		ps.addTable(s.pieceList(w), right)
		return ps.add(legend{}, right) && ps.addNotes("Notes on the boards", s.boardNotes(w), right)
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

// cautionsOn are the cautions of the work that each kind of sheet shows.
var cautionsOn = map[content]string{
	framingSheet: frameCautions,
	boardSheet:   boardCautions,
	bothSheet:    frameCautions + " " + boardCautions,
}

// wallSheet draws sheet n of a wall's sheets.
func (s *Set) wallSheet(w *layout.Wall, p wallPage, n, of int) *drawing.Scene {
	b := s.title()
	b.Title = "Wall " + w.ID + ": " + string(p.content)
	b.Subtitle = s.wallSubtitle(w)
	b.Drawing = s.numbered(w.ID)
	b.Kind = "Construction drawing"
	b.Scale = s.units.name(p.scale)
	b.Sheet, b.Sheets = n, of
	name := FileName(w.ID)
	if of > 1 {
		name += "-" + strconv.Itoa(n)
	}
	sc := p.sheet(name, b.Title)
	drawing.Finish(sc, b, caution, []string{s.units.note() + " Do not scale; check on site before cutting.", cautionsOn[p.content]})
	return sc
}

// wallSubtitle says where the wall is and what it is made of.
func (s *Set) wallSubtitle(w *layout.Wall) string {
	text := "build-up " + w.BuildUp + ", " + s.units.thin(w.Thickness) + " thick"
	if l := s.in.Plan.LevelByID(w.Level); l != nil && l.Name != "" {
		return l.Name + ", " + text
	}
	return "level " + w.Level + ", " + text
}
