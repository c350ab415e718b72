package sheets

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// ranges writes marks that share a prefix, as in S01–04, 07.
func ranges(prefix string, numbers []int) string {
	slices.Sort(numbers)
	numbers = slices.Compact(numbers)
	var parts []string
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && numbers[j+1] == numbers[j]+1 {
			j++
		}
		part := fmt.Sprintf("%02d", numbers[i])
		switch {
		case j == i+1:
			part += fmt.Sprintf(", %02d", numbers[j])
		case j > i:
			part += fmt.Sprintf("–%02d", numbers[j])
		}
		parts = append(parts, part)
		i = j + 1
	}
	return prefix + strings.Join(parts, ", ")
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
		{Head: "Marks", Width: 32}, {Head: "Use", Width: 39}, {Head: "Profile", Width: 25},
		{Head: "Length", Width: s.lengthWidth(), Align: drawing.Right}, {Head: "No.", Width: 11, Align: drawing.Right},
	}}
	for _, c := range cuts(w) {
		use := roleName(w, c.role)
		if c.boxed {
			use += ", boxed"
		}
		t.Add(ranges(c.prefix, c.numbers), use, c.product, s.units.dim(c.length), strconv.Itoa(len(c.numbers)))
	}
	if n := len(w.Gussets); n > 0 {
		g := w.Gussets[0]
		t.Add(ranges("G", numbersTo(n)), "gusset", g.Board, s.units.by(g.Width, g.Height), strconv.Itoa(n))
	}
	return t
}

// roleName names a member's use in its wall: the upper track of a wall that
// stops below the soffit is no soffit track.
func roleName(w *layout.Wall, r layout.Role) string {
	if r == layout.SoffitTrack && w.Head.Kind == plan.HeadFree {
		return "top track"
	}
	return string(r)
}

// numbersTo returns 1 to n.
func numbersTo(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i + 1
	}
	return out
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
			cmp.Compare(a.numbers[0], b.numbers[0]))
	})
	return list
}

// pieceList lists the pieces of all faces and layers, with their masses.
func (s *Set) pieceList(w *layout.Wall) *drawing.Table {
	t := &drawing.Table{Title: "Boards: pieces", Columns: []drawing.Column{
		{Head: "Marks", Width: 41}, {Head: "Shape", Width: 21},
		{Head: "W × H", Width: 2*s.lengthWidth() + 3, Align: drawing.Right}, {Head: s.units.massUnit(), Width: 14, Align: drawing.Right}, {Head: "No.", Width: 11, Align: drawing.Right},
	}}
	for i := range w.Faces {
		face := &w.Faces[i]
		for n := range face.Layers {
			layer := &face.Layers[n]
			prefix := fmt.Sprintf("%s%d-", strings.ToUpper(string(face.Face)), n+1)
			t.Heading(fmt.Sprintf("Face %s, layer %d: %s", strings.ToUpper(string(face.Face)), n+1, s.boardName(layer.Board)))
			for _, g := range alike(layer.Pieces) {
				t.Add(ranges(prefix, g.numbers), g.shape, s.units.by(g.piece.Width, g.piece.Height),
					s.massText(g.piece), strconv.Itoa(len(g.numbers)))
			}
		}
	}
	if len(w.Caps) > 0 {
		t.Heading("Strips for free ends, free tops and reveals")
		for _, g := range alike(w.Caps) {
			t.Add(ranges("E-", g.numbers), g.piece.Use, s.units.by(g.piece.Width, g.piece.Height),
				s.massText(g.piece), strconv.Itoa(len(g.numbers)))
		}
	}
	return t
}

// mass returns a piece's mass in kg; 0 if its board is not in the catalogue.
func (s *Set) mass(p *layout.Piece) float64 {
	b, ok := s.in.Catalogue.Board(p.Board)
	if !ok {
		return 0
	}
	return p.Area().SquareMetres() * b.Mass
}

// massText writes a piece's mass, for a column headed by the unit.
func (s *Set) massText(p *layout.Piece) string {
	return strconv.FormatFloat(s.units.inMass(s.mass(p)), 'f', 1, 64)
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
