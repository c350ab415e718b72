package sheets

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
)

// DraftWall arranges the sheets of one wall: its frame first, then its boards, on
// as few sheets as take them.
func (s *Set) DraftWall(w *layout.Wall) Draft {
	list := s.compose(w)
	d := Draft{Number: s.numbered(w.ID), Title: "Wall " + w.ID + ", build-up " + w.BuildUp, Sheets: len(list)}
	if len(list) > 0 {
		d.Scale = list[0].scale
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
	listSheet    content = "lists"
)

// wallPage is one sheet of a wall, arranged.
type wallPage struct {
	*page
	scale   string
	content content
}

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
	finishList   *drawing.Table
	framingNotes []string
	boardNotes   []string
	banner       *banner
}

// views are the elevations of one kind at one scale; done once made.
type views struct {
	list []block
	area float64 // on paper, of all together, in mm²
	done bool
}

// smallest is the smallest scale at which a wall is drawn if it fits a sheet at
// all; smaller ones leave no room for marks.
const smallest = scale(50)

// compose arranges a wall's views on sheets: on as few as can be at scales that
// leave room for marks, and of the ways to do that, at the largest scales. The
// frame is drawn no smaller than the boards.
func (s *Set) compose(w *layout.Wall) []wallPage {
	scales := s.units.wallScales()
	c := &composer{set: s, wall: w, scales: scales, frame: make([]views, len(scales)), boards: make([]views, len(scales)),
		frameList: s.frameList(w), pieceList: s.pieceList(w), thingList: s.thingList(w), finishList: s.finishList(w),
		framingNotes: s.framingNotes(w), boardNotes: s.boardNotes(w),
		banner: s.newBanner(s.wrong(w), drawing.A3.Field().Width())}
	usual := len(scales)
	for usual > 1 && scales[usual-1] > smallest {
		usual--
	}
	if best := c.fewest(0, usual); best != nil {
		return c.pages(best)
	}
	return c.pages(c.fewest(usual, len(scales)))
}

// fewest returns the sheets of the best pair of scales from lo to hi; nil if
// nothing fits at any of them. Of as few sheets, those are better that keep what
// is cut for the frame with the frame.
func (c *composer) fewest(lo, hi int) *pages {
	var best *pages
	least := math.MaxInt
	for sum := 2 * lo; sum <= 2*(hi-1); sum++ {
		for j := (sum + 1) / 2; j < hi && sum-j >= lo; j++ {
			i := sum - j
			for _, right := range []bool{true, false} {
				if 2*c.needs(i, j) >= least {
					continue
				}
				ps := c.arrange(i, j, right)
				if ps == nil {
					continue
				}
				cost := 2 * len(ps.list)
				if c.apart(ps) {
					cost++
				}
				if cost < least {
					best, least = ps, cost
				}
			}
		}
	}
	return best
}

// apart reports whether a part of the frame's list stands on a sheet without a
// view of the frame.
func (c *composer) apart(ps *pages) bool {
	return slices.ContainsFunc(ps.list, func(p *page) bool {
		list, view := false, false
		for _, pl := range p.placed {
			switch b := pl.block.(type) {
			case *framing:
				view = true
			case *tablePart:
				list = list || b.table == c.frameList
			}
		}
		return list && !view
	})
}

// needs returns how many sheets the views of two scales take at the very least.
func (c *composer) needs(i, j int) int {
	f := drawing.A3.Field()
	c.frameViews(i)
	c.boardViews(j)
	return int(math.Ceil((c.frame[i].area + c.boards[j].area) / (f.Width() * f.Height())))
}

// arrange places the frame at one scale and the boards at another, with lists
// and notes in a column at the right where the frame leaves room for one and that
// is asked for. Views larger than a sheet, and a wall without views, give nil.
func (c *composer) arrange(i, j int, right bool) *pages {
	ps := &pages{field: drawing.A3.Field(), banner: c.banner}
	if c.scales[i].paper(highest(c.wall.Top)) > ps.field.Height() {
		return nil
	}
	frame, boards := c.frameViews(i), c.boardViews(j)
	if len(frame)+len(boards) == 0 || !c.fillFrame(ps, frame, right) || !c.fillBoards(ps, boards) {
		return nil
	}
	return ps
}

// pages names what each sheet shows.
func (c *composer) pages(ps *pages) []wallPage {
	if ps == nil {
		return nil
	}
	if n := len(c.finishList.Rows); n > 0 && ps.takes(&tablePart{c.finishList, 0, n}) {
		ps.addTable(c.finishList, false) // in what is left; the level's schedule has it in any case
	}
	var list []wallPage
	for _, p := range ps.list {
		page := wallPage{page: p, content: listSheet}
		var scales []string
		for _, pl := range p.placed {
			kind, sc := content(""), scale(0)
			switch v := pl.block.(type) {
			case *framing:
				kind, sc = framingSheet, v.scale
			case *boards:
				kind, sc = boardSheet, v.scale
			default:
				continue
			}
			if page.content != kind && page.content != listSheet {
				kind = bothSheet
			}
			page.content = kind
			if name := c.set.units.name(sc); !slices.Contains(scales, name) {
				scales = append(scales, name)
			}
		}
		page.scale = strings.Join(scales, ", ")
		if page.scale == "" {
			page.scale = "–"
		}
		list = append(list, page)
	}
	return list
}

// fillFrame puts the framing elevations, then their list, notes and section.
func (c *composer) fillFrame(ps *pages, views []block, right bool) bool {
	widest, ok := addAll(ps, views)
	if !ok {
		return false
	}
	right = right && widest+air+column <= ps.field.Width()
	ps.addTable(c.frameList, right)
	if len(c.wall.Faces) == 0 {
		ps.addTable(c.thingList, right)
	}
	return ps.addNotes("Notes on the frame", c.framingNotes, right) && c.set.addSection(ps, c.wall, right)
}

// fillBoards puts the board elevations, then their lists, the key and notes, in
// what is left and on further sheets.
func (c *composer) fillBoards(ps *pages, views []block) bool {
	if len(views) == 0 {
		return true
	}
	if _, ok := addAll(ps, views); !ok {
		return false
	}
	ps.since(views[0])
	ps.addTable(c.pieceList, false)
	ps.addTable(c.thingList, false)
	return ps.add(legend{}, false) && ps.addNotes("Notes on the boards", c.boardNotes, false)
}

// addAll places views and returns the width of the widest.
func addAll(ps *pages, views []block) (widest float64, ok bool) {
	for _, v := range views {
		if !ps.add(v, false) {
			return 0, false
		}
		width, _ := v.size()
		widest = max(widest, width)
	}
	return widest, true
}

// frameViews returns the framing elevations, in parts where the wall is long.
func (c *composer) frameViews(i int) []block {
	v := &c.frame[i]
	if v.done {
		return v.list
	}
	for n, p := range planes(c.wall) {
		for _, win := range windows(c.wall, p.extent, c.scales[i]) {
			v.add(c.set.newFraming(c.wall, n, c.scales[i], win))
		}
	}
	v.done = true
	return v.list
}

// boardViews returns the board elevations, layer by layer from the frame out.
func (c *composer) boardViews(i int) []block {
	v := &c.boards[i]
	if v.done {
		return v.list
	}
	for f := range c.wall.Faces {
		face := &c.wall.Faces[f]
		for n := range face.Layers {
			for _, win := range windows(c.wall, face.Layers[n].Extent, c.scales[i]) {
				v.add(c.set.newBoards(c.wall, face, n, c.scales[i], win))
			}
		}
	}
	v.done = true
	return v.list
}

func (v *views) add(b block) {
	w, h := b.size()
	v.list = append(v.list, b)
	v.area += w * h
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
	b.Scale = p.scale
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
