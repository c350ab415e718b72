package sheets

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/layout"
)

// ranges writes marks that share a prefix and number on, as in S01–S04, S07.
func ranges(prefix string, numbers []int) string {
	slices.Sort(numbers)
	numbers = slices.Compact(numbers)
	var parts []string
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && numbers[j+1] == numbers[j]+1 {
			j++
		}
		part := fmt.Sprintf("%s%02d", prefix, numbers[i])
		switch {
		case j == i+1:
			part += fmt.Sprintf(", %s%02d", prefix, numbers[j])
		case j > i:
			part += fmt.Sprintf("–%s%02d", prefix, numbers[j])
		}
		parts = append(parts, part)
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

// addWrapped appends a row whose cell wrap may need several lines.
func addWrapped(t *drawing.Table, wrap int, cells ...string) {
	room := t.Columns[wrap].Width - 2.4
	lines := drawing.Wrap(cells[wrap], drawing.Small, room, false)
	if len(lines) == 0 {
		lines = []string{""}
	}
	first := slices.Clone(cells)
	first[wrap] = lines[0]
	t.Rows = append(t.Rows, drawing.TableRow{Cells: first})
	for _, line := range lines[1:] {
		more := make([]string, len(cells))
		more[wrap] = line
		t.Rows = append(t.Rows, drawing.TableRow{Cells: more, Joined: true})
	}
}

// cut is one line of a wall's frame list: members that are alike.
type cut struct {
	prefix  string
	numbers []int
	role    layout.Role
	product string
	length  Length
	boxed   bool
}

// frameList lists what is cut for the frame, tracks first.
func (s *Set) frameList(w *layout.Wall) *drawing.Table {
	t := &drawing.Table{Title: "Frame: to cut", Columns: []drawing.Column{
		{Head: "Marks", Width: 40}, {Head: "Use", Width: 27}, {Head: "Profile", Width: 23},
		{Head: "Length", Width: s.lengthWidth(), Align: drawing.Right}, {Head: "No.", Width: 11, Align: drawing.Right},
	}}
	for _, c := range cuts(w) {
		use := string(c.role)
		if c.boxed {
			use += ", boxed"
		}
		addWrapped(t, 0, ranges(c.prefix, c.numbers), use, c.product, s.units.dim(c.length), strconv.Itoa(len(c.numbers)))
	}
	if n := len(w.Gussets); n > 0 {
		g := w.Gussets[0]
		addWrapped(t, 0, fmt.Sprintf("G01–G%02d", n), "gusset", g.Board, s.units.by(g.Width, g.Height), strconv.Itoa(n))
	}
	return t
}

// lengthWidth is the width of a column of lengths.
func (s *Set) lengthWidth() float64 {
	if s.units.imperial {
		return 25
	}
	return 17
}

// roleOrder is the order of members in lists: that of the work.
var roleOrder = []layout.Role{
	layout.FloorTrack, layout.SoffitTrack, layout.EndStud, layout.JunctionStud, layout.Stud,
	layout.OpeningStud, layout.Header, layout.SillTrack, layout.Cripple, layout.Nogging,
}

// cuts gathers members that are alike in use, profile and length.
func cuts(w *layout.Wall) []cut {
	type key struct {
		role    layout.Role
		product string
		length  Length
		boxed   bool
	}
	at := map[key]int{}
	var list []cut
	for i := range w.Members {
		m := &w.Members[i]
		k := key{m.Role, m.Product, m.Cut, m.Boxed}
		n, ok := at[k]
		if !ok {
			n = len(list)
			at[k] = n
			list = append(list, cut{prefix: m.Mark()[:1], role: m.Role, product: m.Product, length: m.Cut, boxed: m.Boxed})
		}
		list[n].numbers = append(list[n].numbers, m.Number)
	}
	slices.SortStableFunc(list, func(a, b cut) int {
		return cmp.Or(
			cmp.Compare(slices.Index(roleOrder, a.role), slices.Index(roleOrder, b.role)),
			cmp.Compare(a.product, b.product),
			-cmp.Compare(a.length, b.length),
			cmp.Compare(a.numbers[0], b.numbers[0]))
	})
	return list
}

// pieceList lists the pieces of all faces and layers, with their masses.
func (s *Set) pieceList(w *layout.Wall) *drawing.Table {
	t := &drawing.Table{Title: "Boards: pieces", Columns: []drawing.Column{
		{Head: "Marks", Width: 44}, {Head: "W × H", Width: 2*s.lengthWidth() + 3, Align: drawing.Right},
		{Head: "Shape", Width: 21}, {Head: "kg", Width: 14, Align: drawing.Right}, {Head: "No.", Width: 11, Align: drawing.Right},
	}}
	for i := range w.Faces {
		face := &w.Faces[i]
		for n := range face.Layers {
			layer := &face.Layers[n]
			prefix := fmt.Sprintf("%s%d-", strings.ToUpper(string(face.Face)), n+1)
			t.Rows = append(t.Rows, drawing.TableRow{Heading: true,
				Cells: []string{fmt.Sprintf("Face %s, layer %d: %s", strings.ToUpper(string(face.Face)), n+1, s.boardName(layer.Board))}})
			for _, g := range alike(layer.Pieces) {
				addWrapped(t, 0, ranges(prefix, g.numbers), s.units.by(g.piece.Width, g.piece.Height), g.shape,
					strconv.FormatFloat(s.mass(g.piece), 'f', 1, 64), strconv.Itoa(len(g.numbers)))
			}
		}
	}
	if len(w.Caps) > 0 {
		t.Rows = append(t.Rows, drawing.TableRow{Heading: true, Cells: []string{"Strips for free ends and reveals"}})
		for _, g := range alike(w.Caps) {
			addWrapped(t, 0, ranges("E-", g.numbers), s.units.by(g.piece.Width, g.piece.Height), g.piece.Use,
				strconv.FormatFloat(s.mass(g.piece), 'f', 1, 64), strconv.Itoa(len(g.numbers)))
		}
	}
	return t
}

// mass returns a piece's mass in kg; 0 if its board is not in the catalogue.
func (s *Set) mass(p *layout.Piece) float64 {
	b := s.boards[p.Board]
	if b == nil {
		return 0
	}
	return p.Area().SquareMetres() * b.Mass
}

// group is pieces of one size and shape.
type group struct {
	piece   *layout.Piece
	shape   string
	numbers []int
}

// alike groups plain pieces of one size; shaped ones stay single, because no
// two notches are alike enough to cut blind.
func alike(pieces []layout.Piece) []group {
	var list []group
	for i := range pieces {
		p := &pieces[i]
		shape := shapeOf(p)
		n := slices.IndexFunc(list, func(g group) bool {
			return shape == "" && g.shape == "" && g.piece.Width == p.Width && g.piece.Height == p.Height && g.piece.Use == p.Use
		})
		if n < 0 {
			list = append(list, group{piece: p, shape: shape})
			n = len(list) - 1
		}
		list[n].numbers = append(list[n].numbers, p.Number)
	}
	return list
}

// shapeOf says how a piece differs from a rectangle.
func shapeOf(p *layout.Piece) string {
	switch {
	case !p.Notched():
		if slanted(p) {
			return "sloping"
		}
		return ""
	case len(p.Holes) > 0:
		return "cut-out"
	case len(p.Outline) > 4:
		return "notched"
	}
	return "sloping"
}

// slanted reports whether a side of the outline is neither level nor upright.
func slanted(p *layout.Piece) bool {
	for i, a := range p.Outline {
		b := p.Outline[(i+1)%len(p.Outline)]
		if a.X != b.X && a.Y != b.Y {
			return true
		}
	}
	return false
}
