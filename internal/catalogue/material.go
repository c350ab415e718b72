package catalogue

import (
	"fmt"
	"slices"
	"strings"
)

// Material is how products of some standards and types let heat and vapour
// through. What is not known is left out; nothing is taken in its place.
type Material struct {
	ID     string        `json:"id"`
	Name   string        `json:"name"`
	For    []string      `json:"for"`             // standards of the products, such as EN 520
	Types  []string      `json:"types,omitempty"` // of boards; every type if left out
	Lambda Rule[float64] `json:"lambda,omitzero"` // W/(m·K); for insulation the product's own counts
	MuDry  Rule[float64] `json:"mu_dry,omitzero"` // vapour resistance factor in dry air
	MuWet  Rule[float64] `json:"mu_wet,omitzero"` // and in moist air
}

func (m *Material) key() string { return m.ID }

func (m *Material) faults() faults {
	var f faults
	f.identity(m.ID, m.Name)
	f.unless(len(m.For) > 0, "for", "it does not say of which products it tells", "list their standards, such as for: [EN 520]")
	for _, one := range []struct {
		field string
		rule  Rule[float64]
		unit  string
	}{{"lambda", m.Lambda, "W/mK"}, {"mu_dry", m.MuDry, "factor"}, {"mu_wet", m.MuWet, "factor"}} {
		if one.rule.given() {
			f.amount(one.field, one.rule.Value, one.unit)
			f.provenance(one.field+".", one.rule.Source, one.rule.Status)
		}
	}
	f.unless(!m.MuDry.given() || !m.MuWet.given() || m.MuWet.Value <= m.MuDry.Value, "mu_wet",
		fmt.Sprintf("%v is more than in dry air, %v", m.MuWet.Value, m.MuDry.Value), "write the factor in moist air, which is the smaller")
	return f
}

// BoardMaterial returns how a board lets heat and vapour through, where the
// catalogue knows.
func (c *Catalogue) BoardMaterial(b *Board) (*Material, bool) {
	return c.material(b.Standard, b.Type)
}

// FillMaterial returns how a cavity fill lets vapour through, where the catalogue
// knows; its conductivity is its own.
func (c *Catalogue) FillMaterial(n *Insulation) (*Material, bool) {
	return c.material(n.Standard, n.Material)
}

// material returns the first entry of a standard that names the type, or else the
// first that names none.
func (c *Catalogue) material(standard, kind string) (*Material, bool) {
	var general *Material
	for i := range c.Materials {
		m := &c.Materials[i]
		if !slices.Contains(m.For, standard) {
			continue
		}
		if slices.ContainsFunc(m.Types, func(t string) bool { return strings.EqualFold(t, kind) }) {
			return m, true
		}
		if len(m.Types) == 0 && general == nil {
			general = m
		}
	}
	return general, general != nil
}
