package catalogue

import (
	"slices"
)

// Product is what every product of the catalogue has in common.
type Product struct {
	ID, Name string
	Standard string
	Kinds    []string // what packs call it: its kind, and its type or material
	Unit     string   // in which it is measured
	Mass     float64  // kg of one unit; 0 where it is not known
	Size     Length   // thickness of boards and fills, length of screws; else 0
	Lengths  []Length // stock lengths of boards and profiles, ascending
	Width    Length   // of boards and fills
	Depth    Length   // of profiles, across the wall
}

// Product returns the product of the given id, whatever list it stands in.
func (c *Catalogue) Product(id string) (Product, bool) {
	if b, ok := c.Board(id); ok {
		return Product{b.ID, b.Name, b.Standard, []string{KindBoard, b.Type}, "m²", b.Mass, b.Thickness, b.Lengths, b.Width, 0}, true
	}
	if p, ok := c.Profile(id); ok {
		return Product{p.ID, p.Name, p.Standard, []string{KindProfile, string(p.Kind)}, "m", p.Mass, 0, p.Lengths, p.Flange, p.Web}, true
	}
	if n, ok := c.InsulationProduct(id); ok {
		thickness := n.Thicknesses[0]
		return Product{n.ID, n.Name, n.Standard, []string{KindInsulation, n.Material}, "m²", n.Density * thickness.Metres(), thickness, []Length{n.Length}, n.Width, 0}, true
	}
	if s, ok := c.Screw(id); ok {
		return Product{ID: s.ID, Name: s.Name, Standard: s.Standard, Kinds: []string{KindScrew}, Unit: "pcs", Size: s.Length}, true
	}
	if s, ok := c.Sundry(id); ok {
		mass := 0.0
		if s.Unit == "kg" {
			mass = 1
		}
		return Product{ID: s.ID, Name: s.Name, Standard: s.Standard, Kinds: []string{s.Kind}, Unit: s.Unit, Mass: mass}, true
	}
	return Product{}, false
}

// is returns how closely a list of ids and kinds names the product: 2 by its id,
// 1 by a kind, 0 not at all.
func (p *Product) is(of []string) int {
	switch {
	case slices.Contains(of, p.ID):
		return 2
	case slices.ContainsFunc(p.Kinds, func(k string) bool { return slices.Contains(of, k) }):
		return 1
	}
	return 0
}
