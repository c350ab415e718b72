package takeoff

import (
	"fmt"
	"math"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// emit takes one part's share of a line; part names the part when asked.
type emit func(l Line, part func() string)

// measure goes once through every part of a wall. It is the only place where
// parts become quantities, so sums and traces cannot differ.
func measure(w *layout.Wall, cat *catalogue.Catalogue, pr *catalogue.Practice, out emit) {
	m := meter{w: w, cat: cat, pr: pr, out: out}
	m.wall()
	m.members()
	m.angles()
	m.boards()
	m.fill()
	m.fixings()
	m.plates()
	m.parted()
	m.closings()
	m.seals()
	m.finish()
	m.openings()
}

type meter struct {
	w   *layout.Wall
	cat *catalogue.Catalogue
	pr  *catalogue.Practice
	out emit
}

// wall measures the wall as a whole: its length along the frame, and its area
// with and without openings.
func (m *meter) wall() {
	name := func() string { return m.w.ID }
	length, gross, net := 0.0, 0.0, 0.0
	depth := len(m.w.FrameLines)
	if depth == 0 {
		return
	}
	first := m.w.FrameLines[0].Offset
	for _, l := range m.w.FrameLines {
		if l.Offset != first {
			continue
		}
		length += l.Extent.Len().Metres()
		outline := geom.Polygon{geom.Pt(l.Extent.From, m.w.Base), geom.Pt(l.Extent.To, m.w.Base)}
		top := m.w.Top.Within(l.Extent.From, l.Extent.To)
		for i := len(top) - 1; i >= 0; i-- {
			outline = append(outline, top[i])
		}
		gross += outline.Area().SquareMetres()
	}
	net = gross
	for _, o := range m.w.Openings {
		net -= o.U.Len().Metres() * (min(o.Head, m.w.Top.Min(o.U.From, o.U.To)) - o.Sill).Metres()
	}
	m.out(Line{Group: Walls, Code: m.w.BuildUp + " length", Name: "Wall " + m.w.BuildUp + ", length", Unit: Metre, Quantity: length, Pieces: 1}, name)
	m.out(Line{Group: Walls, Code: m.w.BuildUp + " gross", Name: "Wall " + m.w.BuildUp + ", area with openings", Unit: SquareMetre, Quantity: gross}, name)
	m.out(Line{Group: Walls, Code: m.w.BuildUp + " net", Name: "Wall " + m.w.BuildUp + ", area without openings", Unit: SquareMetre, Quantity: net}, name)
}

func (m *meter) members() {
	for i := range m.w.Members {
		p := &m.w.Members[i]
		l := Line{Group: Profiles, Code: p.Product, Name: p.Product, Unit: Metre, Quantity: p.Cut.Metres(), Pieces: 1}
		if profile, ok := m.cat.Profile(p.Product); ok {
			l.Name, l.Mass = profile.Name, profile.Mass*l.Quantity
		}
		m.out(l, func() string { return m.w.ID + "/" + p.Mark() })
		if p.Slits > 0 {
			m.out(Line{Group: Profiles, Code: p.Product + " slits", Name: l.Name + ", slits for curves", Unit: Pieces, Quantity: float64(p.Slits)},
				func() string { return m.w.ID + "/" + p.Mark() })
		}
		m.splice(p)
	}
	for i := range m.w.Brackets {
		b := &m.w.Brackets[i]
		part := func() string { return fmt.Sprintf("%s/%s angle at %s", m.w.ID, b.Use, b.At.X) }
		m.out(Line{Group: Fixings, Code: b.Product, Name: m.sundryName(b.Product), Unit: Pieces, Quantity: 1}, part)
		if b.Behind() {
			m.steelScrews(b.Use, 1, part)
		}
	}
}

// angles measures the angles that hold a shaft wall's liner, and their screws.
func (m *meter) angles() {
	for i := range m.w.Angles {
		a := &m.w.Angles[i]
		part := func() string { return fmt.Sprintf("%s/angle %d", m.w.ID, i+1) }
		l := Line{Group: Profiles, Code: a.Product, Name: a.Product, Unit: Metre, Quantity: a.Cut.Metres(), Pieces: 1}
		if profile, ok := m.cat.Profile(a.Product); ok {
			l.Name, l.Mass = profile.Name, profile.Mass*l.Quantity
		}
		m.out(l, part)
		m.steelScrews("angle", math.Ceil(a.Cut.Metres()), part)
	}
}

// splice counts the screws by which a piece of a long stud holds to the one
// beneath it.
func (m *meter) splice(p *layout.Member) {
	if p.Lap > 0 {
		m.steelScrews("splice", 1, func() string { return m.w.ID + "/" + p.Mark() })
	}
}

// steelScrews counts screws of steel to steel for a use.
func (m *meter) steelScrews(use string, times float64, part func() string) {
	if s, ok := m.cat.SundryFor(catalogue.KindSteel, use, m.pr); ok {
		m.out(Line{Group: Fixings, Code: s.ID, Name: s.Name, Unit: s.Unit, Quantity: times * s.Uses[use]}, part)
	}
}

func (m *meter) boards() {
	for _, f := range m.w.Faces {
		for k := range f.Layers {
			for i := range f.Layers[k].Pieces {
				p := &f.Layers[k].Pieces[i]
				m.board(p.Board, p.Area().SquareMetres(), func() string { return m.w.ID + "/" + layout.PieceMark(f.Face, k, p) })
			}
		}
	}
	for i := range m.w.Caps {
		p := &m.w.Caps[i]
		m.board(p.Board, p.Area().SquareMetres(), func() string { return fmt.Sprintf("%s/%s %d", m.w.ID, p.Use, p.Number) })
	}
	for i := range m.w.Liner {
		p := &m.w.Liner[i]
		m.board(p.Board, p.Area().SquareMetres(), func() string { return fmt.Sprintf("%s/L-%02d", m.w.ID, p.Number) })
	}
	for i := range m.w.Gussets {
		g := &m.w.Gussets[i]
		part := func() string { return fmt.Sprintf("%s/gusset %d", m.w.ID, g.Number) }
		m.board(g.Board, g.Width.Metres()*g.Height.Metres(), part)
		m.gussetScrews(g, part)
	}
}

// gussetScrews counts the screws of a gusset.
func (m *meter) gussetScrews(g *layout.Gusset, part func() string) {
	b, ok := m.cat.Board(g.Board)
	use, found := m.cat.SundryFor(catalogue.KindGusset, string(plan.TwinBraced), m.pr)
	stud, known := m.cat.Profile(m.w.FrameLines[0].Stud)
	if !ok || !found || !known {
		return
	}
	if s, ok := m.cat.ScrewFor(b.Thickness, stud.Thickness, m.pr); ok {
		m.out(Line{Group: Fixings, Code: s.ID, Name: s.Name, Unit: Pieces, Quantity: use.Uses["screw"]}, part)
	}
}

func (m *meter) board(id string, area float64, part func() string) {
	l := Line{Group: Boards, Code: id, Name: id, Unit: SquareMetre, Quantity: area, Pieces: 1}
	if b, ok := m.cat.Board(id); ok {
		l.Name, l.Mass = b.Name, b.Mass*area
	}
	m.out(l, part)
}

func (m *meter) fill() {
	for i := range m.w.Batts {
		b := &m.w.Batts[i]
		l := Line{Group: Insulation, Code: b.Product, Name: b.Product, Unit: SquareMetre, Quantity: b.Area().SquareMetres(), Pieces: 1}
		if p, ok := m.cat.InsulationProduct(b.Product); ok {
			l.Name, l.Mass = p.Name, p.Density*b.Thickness.Metres()*l.Quantity
		}
		m.out(l, func() string { return fmt.Sprintf("%s/bay %d", m.w.ID, i+1) })
	}
}

func (m *meter) fixings() {
	for i := range m.w.Screws {
		s := &m.w.Screws[i]
		l := Line{Group: Fixings, Code: s.Screw, Name: s.Screw, Unit: Pieces, Quantity: float64(s.Count)}
		if p, ok := m.cat.Screw(s.Screw); ok {
			l.Name = p.Name
		}
		m.out(l, func() string {
			if s.Layer < 0 {
				return m.w.ID + "/strips"
			}
			return fmt.Sprintf("%s/%s%d row at %s", m.w.ID, strings.ToUpper(string(s.Face)), s.Layer+1, s.From.X)
		})
	}
	for i := range m.w.Anchors {
		a := &m.w.Anchors[i]
		l := Line{Group: Fixings, Code: a.Anchor, Name: m.sundryName(a.Anchor), Unit: Pieces, Quantity: float64(a.Count)}
		m.out(l, func() string { return fmt.Sprintf("%s/anchors %d into %s", m.w.ID, i+1, a.Into) })
	}
}

// parted measures the joints that are to be left or cut in the floor.
func (m *meter) parted() {
	if !m.w.Foot.Cut {
		return
	}
	for i, l := range m.w.FrameLines {
		if l.Offset == m.w.FrameLines[0].Offset {
			m.out(Line{Group: Joints, Code: "floor joint", Name: "Joint in the floor under the wall", Unit: Metre, Quantity: l.Extent.Len().Metres()},
				func() string { return fmt.Sprintf("%s/frame %d", m.w.ID, i+1) })
		}
	}
}

// closings measures the pieces between walls and facade posts.
func (m *meter) closings() {
	for i := range m.w.Closings {
		c := &m.w.Closings[i]
		part := func() string { return fmt.Sprintf("%s/closing piece %d", m.w.ID, i+1) }
		for _, long := range c.Studs {
			l := Line{Group: Profiles, Code: c.Stud, Name: c.Stud, Unit: Metre, Quantity: long.Metres(), Pieces: 1}
			if p, ok := m.cat.Profile(c.Stud); ok {
				l.Name, l.Mass = p.Name, p.Mass*l.Quantity
			}
			m.out(l, part)
		}
		for j := range c.Boards {
			m.board(c.Boards[j].Board, c.Boards[j].Area().SquareMetres(), part)
		}
	}
}

// plates measures the steel strips under the flutes of metal decks.
func (m *meter) plates() {
	for i := range m.w.Plates {
		p := &m.w.Plates[i]
		l := Line{Group: Fixings, Code: p.Product, Name: m.sundryName(p.Product), Unit: Metre, Quantity: p.U.Len().Metres(), Pieces: 1}
		m.out(l, func() string { return fmt.Sprintf("%s/steel strip %d", m.w.ID, i+1) })
	}
}

func (m *meter) sundryName(id string) string {
	if s, ok := m.cat.Sundry(id); ok {
		return s.Name
	}
	return id
}

func (m *meter) seals() {
	for i := range m.w.Seals {
		s := &m.w.Seals[i]
		use := "profile"
		if s.Line < 0 {
			use = string(layout.Perimeter) // one bead, as at rims
		}
		m.strip(Seals, s.Product, use, s.From.Dist(s.To).Metres(), func() string { return fmt.Sprintf("%s/seal %d at %s", m.w.ID, i+1, s.Use) })
	}
	for i := range m.w.Beads {
		b := &m.w.Beads[i]
		m.strip(Treatment, b.Product, b.Use, b.From.Dist(b.To).Metres(), func() string { return fmt.Sprintf("%s/bead %d", m.w.ID, i+1) })
	}
}

// strip measures a sundry along a line: by the metre, or in the product's own
// unit by its consumption for the use.
func (m *meter) strip(g Group, id, use string, metres float64, part func() string) {
	l := Line{Group: g, Code: id, Name: m.sundryName(id), Unit: Metre, Quantity: metres}
	if s, ok := m.cat.Sundry(id); ok && s.Unit != Metre {
		l.Unit, l.Quantity = s.Unit, metres*s.Uses[use]
	}
	if l.Quantity > 0 {
		m.out(l, part)
	}
}

var openingNames = map[plan.OpeningKind]string{
	plan.Door: "Door opening", plan.Window: "Window opening", plan.Hatch: "Hatch opening",
	plan.Bare: "Bare opening", plan.Penetration: "Service penetration",
}

func (m *meter) openings() {
	for i := range m.w.Openings {
		o := &m.w.Openings[i]
		size := fmt.Sprintf("%s x %s", o.Width(), o.Head-max(o.Sill, 0))
		m.out(Line{Group: Openings, Code: string(o.Kind) + " " + size, Name: openingNames[o.Kind] + ", " + size, Unit: Pieces, Quantity: 1},
			func() string { return o.ID })
	}
	m.boxes()
	m.fireStops()
	m.cutouts()
	m.pockets()
}
