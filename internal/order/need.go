package order

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/takeoff"
)

// need is what a zone needs of one product in one stock size.
type need struct {
	group    takeoff.Group
	product  catalogue.Product
	size     Size
	net      float64
	gross    float64
	required float64 // that has to be bought: whole bars and boards
	rule     string
}

// needs lists what a zone needs.
func (m *maker) needs(z *zoneWalls) []need {
	var list []need
	for _, l := range folded(z.lines) {
		p, ok := m.Catalogue.Product(l.Code)
		if !ok {
			continue // a measure, such as an area, and no product
		}
		switch l.Group {
		case takeoff.Boards, takeoff.Profiles:
			list = append(list, m.cut(z, l, p)...)
		default:
			list = append(list, m.rate(l, p))
		}
	}
	return list
}

// folded sums the lines of walls.
func folded(walls [][]takeoff.Line) []takeoff.Line {
	var list []takeoff.Line
	at := map[takeoff.Key]int{}
	for _, lines := range walls {
		for _, l := range lines {
			if i, ok := at[l.Key()]; ok {
				list[i].Quantity += l.Quantity
				continue
			}
			at[l.Key()] = len(list)
			list = append(list, l)
		}
	}
	return list
}

// rate adds waste by percentage to what has no stock size.
func (m *maker) rate(l takeoff.Line, p catalogue.Product) need {
	percent, rule := m.waste(l.Group, &p)
	n := need{group: l.Group, product: p, net: l.Quantity, gross: l.Quantity * (1 + percent/100), rule: rule}
	n.required = n.gross
	if l.Group == takeoff.Insulation {
		n.size = Size{p.Lengths[0], p.Width}
	}
	return n
}

// waste returns the percentage of waste of a product, and where it comes from.
func (m *maker) waste(g takeoff.Group, p *catalogue.Product) (percent float64, rule string) {
	pr := m.Practice
	name := "waste_profiles"
	r := pr.WasteProfiles
	switch {
	case g == takeoff.Boards:
		name, r = "waste_boards", pr.WasteBoards
	case g == takeoff.Insulation:
		name, r = "waste_insulation", pr.WasteWool
	case p.Kinds[0] == catalogue.KindScrew, p.Kinds[0] == catalogue.KindSteel, p.Kinds[0] == catalogue.KindAnchor:
		name, r = "waste_screws", pr.WasteScrews
	case p.Unit == "kg", p.Unit == "l":
		name, r = "waste_compounds", pr.WasteCompounds
	case p.Unit == takeoff.Pieces:
		return 0, "counted, no waste"
	}
	m.rated = true
	return r.Value, fmt.Sprintf("%s %g %%, %s", name, r.Value, r.Status)
}

// cut returns what is bought of bars or boards: as the cutting plan says, or by
// the pieces and a percentage.
func (m *maker) cut(z *zoneWalls, l takeoff.Line, p catalogue.Product) []need {
	var list []need
	for _, c := range m.Cuts {
		if c.Zone == z.id && c.Product == p.ID {
			required := float64(c.Count) * unitsOf(c.Stock)
			list = append(list, need{group: l.Group, product: p, size: c.Stock, net: c.Net, gross: required - c.Kept + c.Reused, required: required, rule: c.Method})
		}
	}
	if len(list) > 0 {
		return list
	}
	percent, rule := m.waste(l.Group, &p)
	sizes := m.stocked(z, l, p)
	for _, size := range slices.SortedFunc(maps.Keys(sizes), func(a, b Size) int { return int(a.Length - b.Length) }) {
		s := sizes[size]
		n := need{group: l.Group, product: p, size: size, net: s.net, gross: s.net * (1 + percent/100), rule: rule}
		n.required = float64(max(roundUp(n.gross/unitsOf(size)), s.alone)) * unitsOf(size)
		list = append(list, n)
	}
	return list
}

// unitsOf returns a stock piece in the unit of its product, m or m².
func unitsOf(s Size) float64 {
	if s.Width == 0 {
		return s.Length.Metres()
	}
	return s.Length.Metres() * s.Width.Metres()
}

// stockNeed is what pieces take of one stock size.
type stockNeed struct {
	net   float64
	alone int // pieces of which no two come from one bar or board
}

// stocked parts the pieces of a product by the shortest stock that gives them.
func (m *maker) stocked(z *zoneWalls, l takeoff.Line, p catalogue.Product) map[Size]*stockNeed {
	sizes := map[Size]*stockNeed{}
	put := func(size Size, net float64, alone int) {
		if sizes[size] == nil {
			sizes[size] = &stockNeed{}
		}
		sizes[size].net += net
		sizes[size].alone += alone
	}
	for _, w := range z.laid {
		if l.Group == takeoff.Profiles {
			for i := range w.Members {
				if x := &w.Members[i]; x.Product == p.ID {
					stock := shortest(p.Lengths, x.Cut)
					put(Size{Length: stock}, x.Cut.Metres(), alone(x.Cut, stock))
				}
			}
			continue
		}
		eachPiece(w, func(board string, width, height Length, area float64) {
			if board == p.ID {
				stock := shortest(m.usable(p.Lengths), height)
				put(Size{stock, p.Width}, area, min(alone(height, stock), alone(width, p.Width)))
			}
		})
	}
	return sizes
}

// alone returns how many stock lengths a piece takes for itself: none where
// another may come from the same.
func alone(piece, stock Length) int {
	if piece < stock && 2*piece > stock {
		return 1
	}
	return int(piece / stock)
}

// usable returns the board lengths that the practice uses.
func (m *maker) usable(lengths []Length) []Length {
	most := m.Practice.BoardMaxLength.Value
	n := len(lengths)
	for n > 1 && most > 0 && lengths[n-1] > most {
		n--
	}
	return lengths[:n]
}

// shortest returns the shortest stock that gives a piece, or the longest there is.
func shortest(lengths []Length, piece Length) Length {
	for _, l := range lengths {
		if l >= piece {
			return l
		}
	}
	return lengths[len(lengths)-1]
}

// eachPiece visits everything of a wall that is cut from boards.
func eachPiece(w *layout.Wall, visit func(board string, width, height Length, area float64)) {
	for _, f := range w.Faces {
		for k := range f.Layers {
			for i := range f.Layers[k].Pieces {
				p := &f.Layers[k].Pieces[i]
				visit(p.Board, p.Width, p.Height, p.Area().SquareMetres())
			}
		}
	}
	for i := range w.Caps {
		p := &w.Caps[i]
		visit(p.Board, p.Width, p.Height, p.Area().SquareMetres())
	}
	for i := range w.Gussets {
		g := &w.Gussets[i]
		visit(g.Board, g.Width, g.Height, g.Width.Metres()*g.Height.Metres())
	}
}

func sorted(set map[string]bool) []string { return slices.Sorted(maps.Keys(set)) }

func joined(list []string) string { return strings.Join(list, ", ") }
