package sheets

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	cutplan "nogging/internal/cut/boards"
	cutsheet "nogging/internal/cut/sheet"
	"nogging/internal/drawing"
)

// DraftCutSheets arranges the cutting plan of one board in one zone: each way to cut
// a board once, with its cuts in their order, and a list of all boards with the marks
// of the pieces that each gives.
func (s *Set) DraftCutSheets(zone string, b *cutplan.Board, o cutplan.Options) Draft {
	d := Draft{Number: s.numbered("K-" + zone + "-" + b.Product), Title: "Cutting plan, " + s.boardName(b.Product), Scale: s.units.name(s.cutScale())}
	ps := &pages{field: drawing.A3.Field()}
	views := s.cutViews(b, o)
	for _, v := range views {
		if len(v.steps) > 0 {
			ps.add(v, false)
		}
	}
	ps.addTable(s.cutTable(b, views), false)
	d.Sheets = len(ps.list)
	d.draw = func(i int) *drawing.Scene {
		t := s.title()
		t.Title, t.Subtitle, t.Drawing, t.Kind = d.Title, zone+": "+s.cutSums(b), d.Number, "Cutting plan"
		t.Scale, t.Sheet, t.Sheets = d.Scale, i+1, d.Sheets
		sc := ps.list[i].sheet("cutting-"+FileName(zone)+"-"+FileName(b.Product)+"-"+strconv.Itoa(i+1), d.Title)
		drawing.Finish(sc, t, "Seen from the paper side. Score, snap and cut the back paper; cut notches last.", []string{
			"Each cut runs from edge to edge; measure from the edge named, on what is then left.",
			"Mark each piece as it comes off. Two people carry a board. Cutting dust holds silica: score rather than saw, wear a mask."})
		return sc
	}
	return d
}

// CutSheets draws the cutting plan of one board in one zone.
func (s *Set) CutSheets(zone string, b *cutplan.Board, o cutplan.Options) []*drawing.Scene {
	d := s.DraftCutSheets(zone, b, o)
	return d.All()
}

// cutSums says what is bought.
func (s *Set) cutSums(b *cutplan.Board) string {
	u := s.units
	return fmt.Sprintf("%d boards, %s %s, at least %s; %d if each piece had its own", b.Bought(), u.area(b.Area()), u.areaUnit(), u.area(b.Bound), b.Plain)
}

// cutScale is the scale of boards in cutting plans.
func (s *Set) cutScale() scale {
	if s.units.imperial {
		return 48
	}
	return 50
}

// cutViews returns a view of each way to cut, numbered.
func (s *Set) cutViews(b *cutplan.Board, o cutplan.Options) []*cutView {
	var views []*cutView
	for i := range b.Sheets {
		v := s.newCutView(b, &b.Sheets[i], o)
		k := slices.IndexFunc(views, func(w *cutView) bool { return w.same(v) })
		if k >= 0 {
			views[k].sheets = append(views[k].sheets, &b.Sheets[i])
			continue
		}
		views = append(views, v)
	}
	for i, v := range views {
		v.write(i + 1)
	}
	return views
}

// cutTable lists the boards of each way to cut, and what each gives.
func (s *Set) cutTable(b *cutplan.Board, views []*cutView) *drawing.Table {
	t := &drawing.Table{Title: "Boards and what is cut from each", Columns: []drawing.Column{
		{Head: "Cut", Width: 14}, {Head: "Board", Width: 32}, {Head: "No.", Width: 12, Align: drawing.Right}, {Head: "Sheets", Width: 66}, {Head: "Pieces: wall, mark", Width: 184}, {Head: "Offcuts kept", Width: 70},
	}}
	for _, v := range views {
		size := s.units.by(v.sheets[0].Width, v.sheets[0].Length)
		cut := strconv.Itoa(v.number)
		if len(v.steps) == 0 {
			cut = "whole"
		}
		if len(v.leaves) == 1 && v.sheets[0].From == 0 {
			var numbers []int
			var names []string
			var kept []*cutplan.Offcut
			for _, x := range v.sheets {
				numbers = append(numbers, x.Number)
				names = append(names, v.names(x)...)
				kept = append(kept, b.OffcutsOf(x.Number)...)
			}
			t.Add(cut, size, strconv.Itoa(len(numbers)), ranges("", numbers), strings.Join(byWall(names), "; "), goals(kept))
			continue
		}
		for _, x := range v.sheets {
			var marks []string
			for i, n := range v.names(x) {
				marks = append(marks, lower(i)+" "+strings.Replace(n, "/", " ", 1))
			}
			number := fmt.Sprintf("%02d", x.Number)
			if x.Offcut != nil {
				number += ", offcut " + x.Offcut.Origin()
			}
			t.Add(cut, size, "1", number, strings.Join(marks, "; "), goals(b.OffcutsOf(x.Number)))
		}
	}
	return t
}

// byWall gathers names of pieces by their walls, as in L1-07: A1-03, A1-04.
func byWall(names []string) []string {
	var list []string
	last := ""
	for _, n := range names {
		i := strings.LastIndex(n, "/")
		wall, mark := n[:i], n[i+1:]
		if wall == last {
			list[len(list)-1] += ", " + mark
			continue
		}
		list, last = append(list, wall+": "+mark), wall
	}
	return list
}

// cutView is one way to cut a board: its picture, its cuts, and the boards cut so.
type cutView struct {
	set    *Set
	board  *cutplan.Board
	opts   cutplan.Options
	sheets []*cutplan.Sheet
	leaves []*cutsheet.Node // pieces, lettered in this order
	parts  map[*cutsheet.Node]string
	steps  []cutsheet.Step
	number int
	title  string
	lines  []string
}

// Sizes of a view in mm.
const (
	cutTextWidth = 62.0
	cutGap       = 5.0
	cutHead      = 8.0
	cutLine      = drawing.Small * drawing.LineGap
)

func (s *Set) newCutView(b *cutplan.Board, x *cutplan.Sheet, o cutplan.Options) *cutView {
	v := &cutView{set: s, board: b, opts: o, sheets: []*cutplan.Sheet{x}, steps: cutsheet.Steps(x.Root), parts: map[*cutsheet.Node]string{}}
	x.Root.Walk(func(n *cutsheet.Node) {
		switch {
		case n.Piece >= 0:
			v.parts[n] = lower(len(v.leaves))
			v.leaves = append(v.leaves, n)
		case n == x.Root:
			v.parts[n] = v.what()
		case len(n.Parts) > 0:
			v.parts[n] = "part " + strings.ToUpper(lower(len(v.parts)-len(v.leaves)-1))
		case o.Keeps(n):
			v.parts[n] = "offcut " + s.units.by(n.Width(), n.Height())
		}
	})
	return v
}

// lower returns a, b … z, aa, ab …
func lower(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return lower(i/26-1) + lower(i%26)
}

// same reports whether two views show the same cuts; names apart.
func (v *cutView) same(o *cutView) bool {
	a, b := v.sheets[0], o.sheets[0]
	return a.Width == b.Width && a.Length == b.Length && (a.From == 0) == (b.From == 0) && alikeNodes(a.Root, b.Root)
}

func alikeNodes(a, b *cutsheet.Node) bool {
	return a.Rect == b.Rect && a.Upright == b.Upright && (a.Piece >= 0) == (b.Piece >= 0) &&
		slices.EqualFunc(a.Parts, b.Parts, alikeNodes) && slices.EqualFunc(a.Notches, b.Notches, alikeNodes)
}

// name names a part of a board.
func (v *cutView) name(n *cutsheet.Node) string {
	if t, ok := v.parts[n]; ok {
		return t
	}
	return "waste"
}

// what says what is cut.
func (v *cutView) what() string {
	if v.sheets[0].From > 0 {
		return "offcut"
	}
	return "board"
}

// write puts the cuts into words.
func (v *cutView) write(number int) {
	v.number = number
	first := v.sheets[0]
	v.title = fmt.Sprintf("Cut %d: %s %s, %d ×", number, v.what(), v.set.units.by(first.Width, first.Length), len(v.sheets))
	for i, s := range v.steps {
		v.lines = append(v.lines, drawing.Wrap(v.stepText(i+1, s), drawing.Small, cutTextWidth, false)...)
	}
}

// names lists the pieces of a board in the order of their letters.
func (v *cutView) names(x *cutplan.Sheet) []string {
	var list []string
	x.Root.Walk(func(n *cutsheet.Node) {
		if n.Piece >= 0 {
			list = append(list, v.board.Pieces[n.Piece].Name())
		}
	})
	return list
}

// goals says where offcuts go, as in R03 to L1, sheet 7; R04, R05 to store.
func goals(list []*cutplan.Offcut) string {
	var used, stored []string
	for _, f := range list {
		if f.To == "" {
			stored = append(stored, f.Mark)
			continue
		}
		used = append(used, f.Goal())
	}
	if len(stored) > 0 {
		used = append(used, strings.Join(stored, ", ")+" to store")
	}
	return strings.Join(used, "; ")
}

// stepText says one cut in words.
func (v *cutView) stepText(number int, s cutsheet.Step) string {
	way, edge := "across", "foot"
	if s.Upright {
		way, edge = "along", "left"
	}
	t := fmt.Sprintf("%d  %s: %s, %s from its %s: %s off", number, v.name(s.Of), way, v.set.units.dim(s.At), edge, v.name(s.Off))
	if s.Rest != nil {
		t += ", " + v.name(s.Rest) + " left"
	}
	return t
}

func (v *cutView) size() (float64, float64) {
	sc := v.set.cutScale()
	x := v.sheets[0]
	h := max(sc.paper(x.Length), float64(len(v.lines))*cutLine)
	return sc.paper(x.Width) + cutGap + cutTextWidth, cutHead + h
}

func (v *cutView) draw(s *drawing.Scene, at drawing.Point) {
	sc := v.set.cutScale()
	x := v.sheets[0]
	notes := s.Layer(drawing.Notes)
	notes.Add(drawing.Text{At: at.Add(0, drawing.Large), Text: v.title, Height: drawing.Large, Bold: true, Max: sc.paper(x.Width) + cutGap + cutTextWidth})
	p := cutPicture{v, s, at.Add(0, cutHead+sc.paper(x.Length)), &drawing.Placer{}}
	p.draw(x)
	text := at.Add(sc.paper(x.Width)+cutGap, cutHead+drawing.Small)
	for i, line := range v.lines {
		notes.Add(drawing.Text{At: text.Add(0, float64(i)*cutLine), Text: line, Height: drawing.Small})
	}
}

// cutPicture draws the board; its origin is the board's lower left corner on paper.
type cutPicture struct {
	*cutView
	scene  *drawing.Scene
	origin drawing.Point
	placer *drawing.Placer
}

func (p *cutPicture) rect(n *cutsheet.Node) drawing.Rect {
	sc := p.set.cutScale()
	low := p.origin.Add(sc.paper(n.Min.X), -sc.paper(n.Min.Y))
	high := p.origin.Add(sc.paper(n.Max.X), -sc.paper(n.Max.Y))
	return drawing.Rect{Min: drawing.Point{X: low.X, Y: high.Y}, Max: drawing.Point{X: high.X, Y: low.Y}}
}

func (p *cutPicture) draw(x *cutplan.Sheet) {
	boards := p.scene.Layer(drawing.Boards)
	x.Root.Walk(func(n *cutsheet.Node) {
		if n.Piece >= 0 || len(n.Parts) > 0 {
			return
		}
		r := p.rect(n)
		boards.Add(drawing.Lines{Segments: drawing.Hatch(r.Corners(), 45, 3), Pen: drawing.Hair})
		if p.opts.Keeps(n) {
			p.text(r, p.set.units.by(n.Width(), n.Height()), false)
		}
	})
	for i, n := range p.leaves {
		g := &drawing.Group{ID: fmt.Sprintf("sheet%d-%s", x.Number, lower(i)), Title: p.board.Pieces[n.Piece].Name()}
		fill := drawing.White
		if i > 0 && slices.ContainsFunc(p.leaves[:i], func(o *cutsheet.Node) bool { return slices.Contains(o.Notches, n) }) {
			fill = drawing.Tint(0.9)
		}
		g.Add(drawing.Box(p.rect(n), drawing.Medium, fill))
		boards.Add(g)
	}
	boards.Add(drawing.Box(p.rect(x.Root), drawing.Outline, drawing.NoFill))
	p.cuts()
	for i, n := range p.leaves {
		p.text(p.rect(n), lower(i)+"  "+p.set.units.by(n.Width(), n.Height()), true)
	}
}

// cuts numbers the cuts on their lines.
func (p *cutPicture) cuts() {
	marks := p.scene.Layer(drawing.Marks)
	for i, s := range p.steps {
		of, off := p.rect(s.Of), p.rect(s.Off)
		a, b := drawing.Point{X: of.Min.X, Y: off.Min.Y}, drawing.Point{X: of.Max.X, Y: off.Min.Y}
		if s.Upright {
			a, b = drawing.Point{X: off.Max.X, Y: of.Min.Y}, drawing.Point{X: off.Max.X, Y: of.Max.Y}
		}
		marks.Add(drawing.Line(a, b, drawing.Outline))
		var candidates []drawing.Text
		for _, t := range []float64{0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9} {
			at := drawing.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}.Add(0, drawing.Small/2)
			candidates = append(candidates, drawing.Text{At: at, Text: strconv.Itoa(i + 1), Height: drawing.Small, Align: drawing.Centre, Bold: true, Mask: true})
		}
		text, ok := p.placer.Place(candidates...)
		if ok {
			marks.Add(text)
		}
	}
}

// text writes in a rectangle where there is room, upright where it is narrow.
func (p *cutPicture) text(r drawing.Rect, text string, must bool) {
	c := r.Centre()
	var candidates []drawing.Text
	words := []string{text}
	if short, _, ok := strings.Cut(text, "  "); ok {
		words = append(words, short)
	}
	for _, w := range words {
		width := drawing.TextWidth(w, drawing.Small, false)
		for _, dy := range []float64{0, 5, -5, 10, -10, 20, -20, 40, -40} {
			if at := c.Add(0, dy+drawing.Small/2); width < r.Width()-5 && at.Y < r.Max.Y-0.5 && at.Y-drawing.Small > r.Min.Y+0.5 {
				candidates = append(candidates, drawing.Text{At: at, Text: w, Height: drawing.Small, Align: drawing.Centre, Mask: true})
			}
			if at := c.Add(drawing.Small/2, dy); width < r.Height()-1 && drawing.Small < r.Width()-0.6 && at.Y+width/2 < r.Max.Y && at.Y-width/2 > r.Min.Y {
				candidates = append(candidates, drawing.Text{At: at, Text: w, Height: drawing.Small, Align: drawing.Centre, Turn: 90, Mask: true})
			}
		}
	}
	if t, ok := p.placer.Place(candidates...); ok {
		p.scene.Layer(drawing.Marks).Add(t)
	} else if must && len(candidates) > 0 {
		p.scene.Layer(drawing.Marks).Add(candidates[len(candidates)-1])
	}
}
