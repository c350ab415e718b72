package fire

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/quantity"
)

// Standing says how a wall stands to a document in one point.
type Standing string

// How a wall stands to a document in one point.
const (
	Inside   Standing = "inside"
	Outside  Standing = "outside"
	Unstated Standing = "not stated" // the document, as recorded, does not settle it
)

// Point is one point in which a wall is held against a document.
type Point struct {
	About    string   `json:"about"`            // such as "height"
	Standing Standing `json:"standing"`         //
	Covers   string   `json:"covers,omitempty"` // what the document covers
	Built    string   `json:"built,omitempty"`  // what the wall has
	By       string   `json:"by,omitempty"`     // by how much it is outside
}

// String says the point in one line.
func (p Point) String() string {
	s := p.About + ": " + p.Built
	switch p.Standing {
	case Outside:
		s += "; covered is " + p.Covers
		if p.By != "" {
			s += ", so outside by " + p.By
		}
	case Unstated:
		s += "; the record does not state what is covered"
	}
	return s
}

// Match holds a wall against a document point by point.
func Match(e *catalogue.FireEvidence, f Facts) []Point {
	m := matcher{e: e, f: f}
	m.frame()
	m.most("height", e.Height, f.Height, true)
	m.head()
	m.layers()
	m.screws()
	m.fill()
	m.joints()
	m.boxes()
	return m.points
}

// Covers reports whether the wall is inside the document in every point.
func Covers(points []Point) bool {
	return !slices.ContainsFunc(points, func(p Point) bool { return p.Standing != Inside })
}

// matcher collects the points of one comparison.
type matcher struct {
	e      *catalogue.FireEvidence
	f      Facts
	points []Point
}

func (m *matcher) add(about string, inside bool, covers, built, by string) {
	p := Point{About: about, Standing: Inside, Covers: covers, Built: built}
	if !inside {
		p.Standing, p.By = Outside, by
	}
	m.points = append(m.points, p)
}

// unstated adds a point that the record leaves open.
func (m *matcher) unstated(about, built string) {
	m.points = append(m.points, Point{About: about, Standing: Unstated, Built: built})
}

// most holds a length against the greatest that is covered; needed tells whether
// the document has to state one.
func (m *matcher) most(about string, covered, built Length, needed bool) {
	switch {
	case covered > 0:
		m.add(about, built <= covered, "up to "+mm(covered), mm(built), mm(built-covered))
	case needed:
		m.unstated(about, mm(built))
	}
}

// least holds a length against the least that is covered.
func (m *matcher) least(about string, covered, built Length) {
	if covered > 0 {
		m.add(about, built >= covered, "from "+mm(covered), mm(built), mm(covered-built))
	}
}

func (m *matcher) frame() {
	kind := string(m.f.Frame)
	m.add("frame", slices.Contains(m.e.Frames, kind), words(m.e.Frames), plain(kind), "")
	m.least("stud depth", m.e.Depth, m.f.Stud.NominalDepth())
	m.least("stud sheet", m.e.Steel, m.f.Stud.Thickness)
	m.most("stud spacing", m.e.Spacing, m.f.Spacing, false)
}

func (m *matcher) head() {
	covers := "a rigid head"
	if m.e.HeadMove > 0 {
		covers = "a head that moves up to " + mm(m.e.HeadMove)
	}
	built := "a rigid head"
	if m.f.HeadMove > 0 {
		built = "a head that moves " + mm(m.f.HeadMove)
	}
	m.add("head", m.f.HeadMove <= m.e.HeadMove, covers, built, mm(m.f.HeadMove-m.e.HeadMove))
}

// layers holds the boards of both faces against those covered. More layers than
// covered are inside as long as the outermost are as covered: what lies further
// inside only protects longer (EN 15254-3, from memory).
func (m *matcher) layers() {
	for side, face := range []string{"face A", "face B"} {
		covered, built := m.e.Face(side), m.f.Faces[side]
		if side == 1 && m.f.Frame.OneSided() {
			continue
		}
		if len(built) < len(covered) {
			m.add(face, false, layers(len(covered)), layers(len(built)), layers(len(covered)-len(built)))
			continue
		}
		built = built[len(built)-len(covered):]
		for k, want := range covered {
			m.layer(fmt.Sprintf("%s, layer %d", face, k+1), want, built[k])
		}
	}
}

func (m *matcher) layer(about string, want catalogue.FireLayer, b *catalogue.Board) {
	covers := fmt.Sprintf("%s of type %s, from %s", "board", strings.Join(want.Types, " or "), mm(want.Thickness))
	built := fmt.Sprintf("%s of type %s, %s", b.Name, b.Type, mm(b.Thickness))
	by := ""
	if b.Thickness < want.Thickness {
		by = mm(want.Thickness - b.Thickness)
	}
	m.add(about, suits(want, b), covers, built, by)
}

// suits reports whether a board is inside a layer that is covered.
func suits(want catalogue.FireLayer, b *catalogue.Board) bool {
	return b.Thickness >= want.Thickness && slices.Contains(want.Types, b.Type)
}

func (m *matcher) screws() {
	for side, face := range []string{"face A", "face B"} {
		built := m.f.Screws[side]
		if len(built) < len(m.e.Screws) {
			continue // the layers are short of those covered, which is told already
		}
		for k, covered := range m.e.Screws {
			m.most(fmt.Sprintf("screws of %s, layer %d", face, k+1), covered, built[len(built)-len(m.e.Screws)+k], false)
		}
	}
}

// fill holds the cavity's fill against each that is covered. A document that
// covers an empty cavity is left as it is: whether wool may be added is its own
// rule.
func (m *matcher) fill() {
	if len(m.e.Fill) == 0 {
		m.add("fill", true, "an empty cavity", fills(m.f.Fill), "")
		return
	}
	var covers []string
	inside := false
	for _, want := range m.e.Fill {
		covers = append(covers, coveredFill(want))
		inside = inside || slices.ContainsFunc(m.f.Fill, func(has buildup.Fill) bool { return filled(want, has) })
	}
	m.add("fill", inside, strings.Join(covers, ", or "), fills(m.f.Fill), "")
}

func filled(want catalogue.FireFill, has buildup.Fill) bool {
	p := has.Product
	return slices.Contains(want.Materials, p.Material) && has.Thickness >= want.Thickness &&
		p.Density >= want.Density && p.Melting >= want.Melting
}

func coveredFill(f catalogue.FireFill) string {
	s := fmt.Sprintf("%s from %s", strings.Join(f.Materials, " or "), mm(f.Thickness))
	if f.Density > 0 {
		s += ", " + number(f.Density) + " kg/m³"
	}
	if f.Melting > 0 {
		s += ", melting point " + number(f.Melting) + " °C"
	}
	return s
}

func fills(list []buildup.Fill) string {
	if len(list) == 0 {
		return "an empty cavity"
	}
	var all []string
	for _, f := range list {
		s := fmt.Sprintf("%s %s, %s kg/m³", f.Product.Material, mm(f.Thickness), number(f.Product.Density))
		if f.Product.Melting > 0 {
			s += ", melting point " + number(f.Product.Melting) + " °C"
		}
		all = append(all, s)
	}
	return strings.Join(slices.Compact(all), " and ")
}

func (m *matcher) joints() {
	if m.f.Stagger >= 0 {
		m.least("stagger of joints", m.e.Stagger, m.f.Stagger)
	}
}

func (m *matcher) boxes() {
	if len(m.f.BackToBack) > 0 {
		m.add("boxes back to back", m.e.BackToBack, "boxes in separate bays", strings.Join(m.f.BackToBack, "; "), "")
	}
}

func mm(l Length) string { return l.Round(quantity.Millimetre/10).String() + " mm" }

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func plain(word string) string { return strings.ReplaceAll(word, "_", " ") }

func words(list []string) string {
	all := make([]string, len(list))
	for i, w := range list {
		all[i] = plain(w)
	}
	return strings.Join(all, " or ")
}

func layers(n int) string {
	if n == 1 {
		return "1 layer"
	}
	return fmt.Sprintf("%d layers", n)
}
