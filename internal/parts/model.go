package parts

import (
	"math"
	"strconv"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// Model is what a three-dimensional view of some walls shows. Lengths are
// millimetres. It is terse, since thousands of walls travel in one piece: parts name
// their layer, product and use by their places in the lists.
type Model struct {
	Layers   []string       `json:"layers"`
	Products []ModelProduct `json:"products"`
	Whats    []string       `json:"whats"`
	Walls    []ModelWall    `json:"walls"`
}

// ModelProduct is a product of which parts are made. Shape is the kind of a profile.
type ModelProduct struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Kind  Kind   `json:"kind"`
	Shape string `json:"shape,omitempty"`
}

// ModelWall is one wall with the place of its own coordinates in the project's: for
// straight walls origin and direction of u, for curved ones the arc of its axis.
type ModelWall struct {
	ID    string      `json:"id"`
	Base  float64     `json:"base"` // elevation of its floor
	At    []float64   `json:"at"`   // x, y, and the unit vector of u
	Arc   []float64   `json:"arc,omitempty"`
	Parts []ModelPart `json:"parts"`
}

// ModelPart is one part as a shape in the plane of u and z with an extent in v: a
// rectangle, or an outline with holes.
type ModelPart struct {
	ID                   string
	Layer, Product, What int
	Solid                *Solid
}

// MarshalJSON writes a part as an array: id, layer, product, what, [v from, v to],
// then either [u0, z0, u1, z1] of a rectangle or its outlines, the outer first, each
// as [u, z, u, z, …]: of three points at least, so the two forms differ in length.
func (p ModelPart) MarshalJSON() ([]byte, error) {
	b := append(make([]byte, 0, 96), '[')
	b = strconv.AppendQuote(b, p.ID)
	for _, n := range []int{p.Layer, p.Product, p.What} {
		b = strconv.AppendInt(append(b, ','), int64(n), 10)
	}
	b = appendLengths(append(b, ','), p.Solid.V.From, p.Solid.V.To)
	if bounds := p.Solid.Outline.Bounds(); len(p.Solid.Holes) == 0 && rectangular(p.Solid.Outline, bounds) {
		b = appendLengths(append(b, ','), bounds.Min.X, bounds.Min.Y, bounds.Max.X, bounds.Max.Y)
		return append(b, ']'), nil
	}
	b = appendOutline(b, p.Solid.Outline)
	for _, hole := range p.Solid.Holes {
		b = appendOutline(b, hole)
	}
	return append(b, ']'), nil
}

func appendOutline(b []byte, outline geom.Polygon) []byte {
	flat := make([]Length, 0, 2*len(outline))
	for _, pt := range outline {
		flat = append(flat, pt.X, pt.Y)
	}
	return appendLengths(append(b, ','), flat...)
}

// appendLengths writes lengths in millimetres to a tenth.
func appendLengths(b []byte, list ...Length) []byte {
	b = append(b, '[')
	for i, l := range list {
		if i > 0 {
			b = append(b, ',')
		}
		b = strconv.AppendFloat(b, math.Round(l.MM()*10)/10, 'f', -1, 64)
	}
	return append(b, ']')
}

// rectangular reports whether an outline is the rectangle round it.
func rectangular(outline geom.Polygon, bounds geom.Rect) bool {
	if len(outline) != 4 {
		return false
	}
	for _, p := range outline {
		if (p.X != bounds.Min.X && p.X != bounds.Max.X) || (p.Y != bounds.Min.Y && p.Y != bounds.Max.Y) {
			return false
		}
	}
	return true
}

// ModelOf gathers the shapes of walls. Levels give the height of their floors.
func ModelOf(walls []*layout.Wall, levels []plan.Level, cat *catalogue.Catalogue, pr *catalogue.Practice) *Model {
	m := &Model{Layers: []string{}, Walls: []ModelWall{}}
	floors := map[string]Length{}
	for i := range levels {
		floors[levels[i].ID] = levels[i].Elevation
	}
	layers, products, whats := index{}, index{}, index{}
	for _, w := range walls {
		out := placed(w, floors[w.Level])
		for _, p := range Of(w, cat, pr) {
			if p.Solid == nil {
				continue
			}
			l, x, use := layers.of(p.Layer), products.of(p.Product), whats.of(p.What)
			if x == len(m.Products) {
				m.Products = append(m.Products, productOf(&p, cat))
			}
			out.Parts = append(out.Parts, ModelPart{p.ID, l, x, use, p.Solid})
		}
		m.Walls = append(m.Walls, out)
	}
	m.Layers, m.Whats = layers.list(), whats.list()
	return m
}

// placed returns the place of a wall's coordinates.
func placed(w *layout.Wall, floor Length) ModelWall {
	out := ModelWall{ID: w.ID, Base: floor.MM(), Parts: []ModelPart{}}
	o, d := w.Frame.Origin, w.Frame.Dir
	out.At = []float64{o.X.MM(), o.Y.MM(), d.X, d.Y}
	if w.Curve != nil {
		a := w.Curve.Axis
		out.Arc = []float64{a.Centre.X.MM(), a.Centre.Y.MM(), a.Radius.MM(), a.From, a.Sweep}
	}
	return out
}

func productOf(p *Part, cat *catalogue.Catalogue) ModelProduct {
	out := ModelProduct{ID: p.Product, Name: p.Name, Kind: p.Kind}
	if profile, ok := cat.Profile(p.Product); ok {
		out.Shape = string(profile.Kind)
	}
	return out
}

// index numbers words in the order in which they come.
type index map[string]int

func (x index) of(word string) int {
	n, ok := x[word]
	if !ok {
		n = len(x)
		x[word] = n
	}
	return n
}

func (x index) list() []string {
	list := make([]string, len(x))
	for word, n := range x {
		list[n] = word
	}
	return list
}
