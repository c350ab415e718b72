package sound

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/proof/sound/band"
	"nogging/internal/quantity"
)

// Point is one point in which a wall is held against a test report.
type Point struct {
	About  string `json:"about"` // such as "stud spacing"
	Inside bool   `json:"inside"`
	Tested string `json:"tested"` // what the report covers
	Built  string `json:"built"`  // what the wall has
}

// String says the point in one line.
func (p Point) String() string {
	return fmt.Sprintf("%s: %s; tested with %s", p.About, p.Built, p.Tested)
}

// lighter is how much lighter a board may be than the tested one, as boards of
// one type vary. Common practice.
const lighter = 0.03

// Match holds a wall against a test report point by point. A wall is inside it
// where nothing is worse than tested: sound does not mind which face is which.
func Match(e *catalogue.SoundEvidence, b *buildup.BuildUp) []Point {
	straight, turned := match(e, b, 0), match(e, b, 1)
	if outside(turned) < outside(straight) {
		return turned
	}
	return straight
}

func outside(points []Point) int {
	n := 0
	for _, p := range points {
		if !p.Inside {
			n++
		}
	}
	return n
}

// match compares with the report's faces as they are, or turned by one.
func match(e *catalogue.SoundEvidence, b *buildup.BuildUp, turn int) []Point {
	var points []Point
	add := func(about string, inside bool, tested, built string) {
		points = append(points, Point{about, inside, tested, built})
	}
	add("frame", e.Frame == string(b.Kind), e.Frame, string(b.Kind))
	add("depth of studs", b.Stud.NominalDepth() >= e.Depth, e.Depth.String()+" mm or more", b.Stud.NominalDepth().String()+" mm")
	add("steel of studs", b.Stud.Thickness <= e.Steel, e.Steel.String()+" mm or less", b.Stud.Thickness.String()+" mm")
	add("spacing of studs", b.Spacing >= e.Spacing, e.Spacing.String()+" mm or more", b.Spacing.String()+" mm")
	if b.Kind.Twin() {
		add("gap between frames", b.Gap >= e.Gap, e.Gap.String()+" mm or more", b.Gap.String()+" mm")
	}
	for side, boards := range [][]*catalogue.Board{b.A, b.B} {
		if side == 1 && b.Kind.OneSided() {
			continue
		}
		tested := e.Face((side + turn) % 2)
		add("boards of face "+string("AB"[side]), covers(tested, boards), layersText(tested), boardsText(boards))
	}
	add("fill", fillCovers(e.Fill, b.Insulation), testedFillText(e.Fill), fillText(b.Insulation))
	return points
}

// covers reports whether boards are no worse than tested ones, layer by layer
// from the frame outwards; more layers than tested are no worse.
func covers(tested []catalogue.SoundLayer, boards []*catalogue.Board) bool {
	if len(boards) < len(tested) {
		return false
	}
	for i, l := range tested {
		b := boards[i]
		if !slices.Contains(l.Types, b.Type) || b.Thickness != l.Thickness || b.Mass < l.Mass*(1-lighter) {
			return false
		}
	}
	return true
}

func fillCovers(tested []catalogue.SoundFill, fills []buildup.Fill) bool {
	if len(fills) < len(tested) {
		return false
	}
	for i, f := range tested {
		if !slices.Contains(f.Materials, fills[i].Product.Material) || fills[i].Thickness < f.Thickness {
			return false
		}
	}
	return true
}

func layersText(layers []catalogue.SoundLayer) string {
	var all []string
	for _, l := range layers {
		all = append(all, fmt.Sprintf("%s %s mm %g kg/m²", strings.Join(l.Types, "/"), l.Thickness, l.Mass))
	}
	return strings.Join(all, " + ")
}

func boardsText(boards []*catalogue.Board) string {
	var all []string
	for _, b := range boards {
		all = append(all, fmt.Sprintf("%s %s mm %g kg/m²", b.Type, b.Thickness, b.Mass))
	}
	return strings.Join(all, " + ")
}

func testedFillText(fills []catalogue.SoundFill) string {
	var all []string
	for _, f := range fills {
		all = append(all, fmt.Sprintf("%s %s mm", strings.Join(f.Materials, "/"), f.Thickness))
	}
	return cmp.Or(strings.Join(all, " + "), "none")
}

func fillText(fills []buildup.Fill) string {
	var all []string
	for _, f := range fills {
		all = append(all, fmt.Sprintf("%s %s mm", f.Product.Material, f.Thickness))
	}
	return cmp.Or(strings.Join(all, " + "), "none")
}

// tested returns the figure of the best report that covers the wall, or nil.
func tested(asked quantity.SoundRating, b *buildup.BuildUp, records []catalogue.SoundEvidence) *figure {
	var best *figure
	for i := range records {
		e := &records[i]
		points := Match(e, b)
		value, ok := resultOf(e, asked)
		if !ok || outside(points) > 0 || best != nil && value <= best.value {
			continue
		}
		d := quantity.Derivation{
			Name: "sound insulation as tested", Symbol: asked.Name(), Value: float64(value), Unit: "dB",
			Method: "the wall is nowhere worse than the one in " + e.Document + " (" + e.ID + ")", Source: cmp.Or(e.Source, e.Document), Status: e.Status,
			Note: "Two laboratories differ by 1.2 dB in Rw (standard uncertainty, ISO 12999-1:2020, table 2).",
		}
		for _, p := range points {
			d.From = append(d.From, quantity.Derivation{Name: p.About, Text: p.Built, Note: "tested: " + p.Tested, Status: quantity.Derived})
		}
		best = &figure{value: value, low: value, high: value, derivation: d}
	}
	return best
}

// resultOf returns what a report found in the terms of what is asked: the single
// number that it states, or else the rating of its spectrum.
func resultOf(e *catalogue.SoundEvidence, asked quantity.SoundRating) (quantity.Decibel, bool) {
	for _, text := range e.Ratings {
		if r, err := quantity.ParseSound(text); err == nil && r.Name() == asked.Name() {
			return quantity.Decibel(r.Value), true
		}
	}
	levels := make([]quantity.Decibel, len(e.Spectrum))
	for i, v := range e.Spectrum {
		levels[i] = quantity.Decibel(v)
	}
	s, err := band.From(quantity.Frequency(e.First), levels...)
	if err != nil {
		return 0, false
	}
	return rate(&s, asked)
}
