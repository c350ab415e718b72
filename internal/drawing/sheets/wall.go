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

// composer arranges the sheets of one wall. What does not depend on the scale
// is made once.
type composer struct {
	set          *Set
	wall         *layout.Wall
	scales       []scale
	frame        []views // by scale
	boards       []views
	frameList    *drawing.Table
	pieceList    *drawing.Table
	thingList    *drawing.Table
	framingNotes []string
	boardNotes   []string
	banner       *banner
}

// views are the elevations of one kind at one scale; done once made.
type views struct {
	list []block
	done bool
}

// compose arranges a wall's views on sheets.
func (s *Set) compose(w *layout.Wall) []wallPage {
	scales := s.units.wallScales()
	c := &composer{set: s, wall: w, scales: scales, frame: make([]views, len(scales)), boards: make([]views, len(scales)),
		frameList: s.frameList(w), pieceList: s.pieceList(w), thingList: s.thingList(w), framingNotes: s.framingNotes(w), boardNotes: s.boardNotes(w),
		banner: s.newBanner(s.wrong(w), drawing.A3.Field().Width())}
	for i, sc := range scales {
		if sc > oneSheet {
			break
		}
		if list, _ := c.arrange(bothSheet, i); len(list) == 1 {
			return list
		}
	}
	layers := 0
	for _, f := range w.Faces {
		layers += len(f.Layers)
	}
	return slices.Concat(c.largest(framingSheet, 1), c.largest(boardSheet, (layers+1)/2))
}

// smallest is the smallest scale at which a wall is drawn if it fits a sheet at
// all; smaller ones leave no room for marks.
const smallest = scale(50)

// largest arranges the frame or the boards at the largest scale that needs no
// more than a fair number of sheets, each with a view on it; failing that, at
// the scale that needs fewest.
func (c *composer) largest(what content, fair int) []wallPage {
	var best []wallPage
	for i, sc := range c.scales {
		if sc > smallest && best != nil {
			break
		}
		list, bare := c.arrange(what, i)
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

// arrange places the frame, the boards or both at one scale. Bare tells that a
// sheet holds nothing but lists and notes. A view larger than a sheet, and a
// wall without views, give nil.
func (c *composer) arrange(what content, i int) (list []wallPage, bare bool) {
	field := drawing.A3.Field()
	if c.scales[i].paper(highest(c.wall.Top)) > field.Height() {
		return nil, false
	}
	var all []block
	if what != boardSheet {
		all = append(all, c.frameViews(i)...)
	}
	if what == bothSheet && len(all) == 0 {
		return nil, false
	}
	if what != framingSheet {
		all = append(all, c.boardViews(i)...)
	}
	ps := pages{field: field, banner: c.banner}
	if len(all) == 0 || !c.fill(&ps, all, what) {
		return nil, false
	}
	for _, p := range ps.list {
		list = append(list, wallPage{p, c.scales[i], what})
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
func (c *composer) fill(ps *pages, views []block, what content) bool {
	widest := 0.0
	for _, v := range views {
		if !ps.add(v, false) {
			return false
		}
		width, _ := v.size()
		widest = max(widest, width)
	}
	right := what != boardSheet && widest+air+column <= ps.field.Width()
	if what != boardSheet {
		ps.addTable(c.frameList, right)
		if len(c.wall.Faces) == 0 {
			ps.addTable(c.thingList, right)
		}
		if !ps.addNotes("Notes on the frame", c.framingNotes, right) || !c.set.addSection(ps, c.wall, right) {
			return false
		}
	}
	if what == framingSheet || len(c.pieceList.Rows) == 0 {
		return true
	}
	ps.addTable(c.pieceList, right)
	ps.addTable(c.thingList, right)
	return ps.add(legend{}, right) && ps.addNotes("Notes on the boards", c.boardNotes, right)
}

// frameViews returns the framing elevations, in parts where the wall is long.
func (c *composer) frameViews(i int) []block {
	v := &c.frame[i]
	if v.done {
		return v.list
	}
	v.done = true
	for n, p := range planes(c.wall) {
		for _, win := range windows(c.wall, p.extent, c.scales[i]) {
			v.list = append(v.list, c.set.newFraming(c.wall, n, c.scales[i], win))
		}
	}
	return v.list
}

// boardViews returns the board elevations, layer by layer from the frame out.
func (c *composer) boardViews(i int) []block {
	v := &c.boards[i]
	if v.done {
		return v.list
	}
	v.done = true
	for f := range c.wall.Faces {
		face := &c.wall.Faces[f]
		for n := range face.Layers {
			for _, win := range windows(c.wall, face.Layers[n].Extent, c.scales[i]) {
				v.list = append(v.list, c.set.newBoards(c.wall, face, n, c.scales[i], win))
			}
		}
	}
	return v.list
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
	drawing.Finish(sc, b, caution, []string{s.units.note() + " Do not scale; check on site before cutting.", s.cautions(p.content)})
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
