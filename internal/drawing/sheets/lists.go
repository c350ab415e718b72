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
	height  Length // of noggings
	lap     Length // of a piece of a spliced stud over the one beneath it
}

// frameList lists what is cut for the frame, tracks first.
func (s *Set) frameList(w *layout.Wall) *drawing.Table {
	t := &drawing.Table{Title: "Frame: to cut", Columns: []drawing.Column{
		{Head: "Marks", Width: 32}, {Head: "Use", Width: 39}, {Head: "Profile", Width: 25},
		{Head: "Length", Width: s.lengthWidth(), Align: drawing.Right}, {Head: "No.", Width: 11, Align: drawing.Right},
	}}
	for _, c := range cuts(w) {
		use := roleName(w, c.role)
		switch {
		case c.boxed:
			use += ", boxed"
		case c.role == layout.Nogging:
			use += fmt.Sprintf(", %s up", s.units.dim(c.height))
		}
		if c.lap > 0 {
			use += ", laps " + s.units.dim(c.lap)
		}
		t.Add(ranges(c.prefix, c.numbers), use, c.product, s.units.dim(c.length), strconv.Itoa(len(c.numbers)))
	}
	s.listGussets(t, w)
	s.listAngles(t, w)
	s.listSlimUprights(t, w)
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

// listGussets lists gussets by their size and the height of their middle.
func (s *Set) listGussets(t *drawing.Table, w *layout.Wall) {
	type key struct {
		board                 string
		width, height, middle Length
	}
	var order []key
	numbers := map[key][]int{}
	for _, g := range w.Gussets {
		k := key{g.Board, g.Width, g.Height, g.At.Y}
		if len(numbers[k]) == 0 {
			order = append(order, k)
		}
		numbers[k] = append(numbers[k], g.Number)
	}
	for _, k := range order {
		t.Add(ranges("G", numbers[k]), "gusset, "+s.units.dim(k.middle)+" up", k.board, s.units.by(k.width, k.height), strconv.Itoa(len(numbers[k])))
	}
}

// listAngles lists the angles that hold a shaft wall's liner by their length. They
// are cut alike for all edges of a length and carry no marks.
func (s *Set) listAngles(t *drawing.Table, w *layout.Wall) {
	count := map[Length]int{}
	var lengths []Length
	for _, a := range w.Angles {
		if count[a.Cut]++; count[a.Cut] == 1 {
			lengths = append(lengths, a.Cut)
		}
	}
	slices.Sort(lengths)
	for _, l := range slices.Backward(lengths) {
		t.Add("–", "holding angle", w.Angles[0].Product, s.units.dim(l), strconv.Itoa(count[l]))
	}
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
	layout.OpeningStud, layout.Post, layout.Header, layout.SillTrack, layout.Cripple, layout.Nogging,
}

// cuts gathers members that are alike in use, profile and length.
func cuts(w *layout.Wall) []cut {
	type key struct {
		role    layout.Role
		product string
		length  Length
		boxed   bool
		height  Length
		lap     Length
	}
	at := map[key]int{}
	var list []cut
	for i := range w.Members {
		m := &w.Members[i]
		k := key{m.Role, m.Product, m.Cut, m.Boxed, 0, m.Lap}
		if m.Role == layout.Nogging {
			k.height = m.From.Y
		}
		n, ok := at[k]
		if !ok {
			n = len(list)
			at[k] = n
			list = append(list, cut{prefix: m.Mark()[:1], role: m.Role, product: m.Product, length: m.Cut, boxed: m.Boxed, height: k.height, lap: m.Lap})
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
		{Head: "Marks", Width: 26}, {Head: "Cut", Width: 54},
		{Head: "W × H", Width: 2*s.lengthWidth() - 9, Align: drawing.Right}, {Head: s.units.massUnit(), Width: 11, Align: drawing.Right}, {Head: "No.", Width: 8, Align: drawing.Right},
	}}
	for i := range w.Faces {
		face := &w.Faces[i]
		for n := range face.Layers {
			layer := &face.Layers[n]
			prefix := fmt.Sprintf("%s%d-", strings.ToUpper(string(face.Face)), n+1)
			t.Heading(fmt.Sprintf("Face %s, layer %d: %s", strings.ToUpper(string(face.Face)), n+1, s.boardName(layer.Board)))
			for _, g := range s.alike(layer.Pieces, face.Face.RunsBack()) {
				t.Add(ranges(prefix, g.numbers), g.cut, s.units.by(g.piece.Width, g.piece.Height),
					s.massText(g.piece), strconv.Itoa(len(g.numbers)))
			}
		}
	}
	if len(w.Liner) > 0 {
		t.Heading("Liner between the studs, held by angles: " + s.boardName(w.Liner[0].Board))
		for _, g := range s.alike(w.Liner, plan.FaceA.RunsBack()) {
			t.Add(ranges("L-", g.numbers), g.cut, s.units.by(g.piece.Width, g.piece.Height), s.massText(g.piece), strconv.Itoa(len(g.numbers)))
		}
	}
	s.listClosings(t, w)
	if len(w.Caps) > 0 {
		t.Heading("Strips for ends, tops, reveals, heads, flutes and joints")
		for _, g := range s.alike(w.Caps, false) {
			t.Add(ranges("E-", g.numbers), capText(g), s.units.by(g.piece.Width, g.piece.Height),
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

// capText says what a strip is for and how it is cut.
func capText(g group) string {
	if g.cut == "" {
		return g.piece.Use
	}
	return g.piece.Use + ", " + g.cut
}

// massText writes a piece's mass, for a column headed by the unit.
func (s *Set) massText(p *layout.Piece) string {
	return strconv.FormatFloat(s.units.inMass(s.mass(p)), 'f', 1, 64)
}

// group is pieces of one size and shape.
type group struct {
	piece   *layout.Piece
	cut     string // how they differ from a rectangle
	numbers []int
}

// alike groups pieces that are cut alike.
func (s *Set) alike(pieces []layout.Piece, mirrored bool) []group {
	var list []group
	for i := range pieces {
		p := &pieces[i]
		text := s.units.cutText(p, mirrored)
		n := slices.IndexFunc(list, func(g group) bool {
			return text == g.cut && g.piece.Width == p.Width && g.piece.Height == p.Height && g.piece.Use == p.Use
		})
		if n < 0 {
			list = append(list, group{piece: p, cut: text})
			n = len(list) - 1
		}
		list[n].numbers = append(list[n].numbers, p.Number)
	}
	return list
}
