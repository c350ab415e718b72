package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/quantity"
)

// Entry is one product as it stands in a table.
type Entry struct {
	ID, Name, Standard string
	Sizes              string // in mm
	Source             string
	Status             quantity.Status
}

// For returns the catalogue with what a practice works by: the products of its
// standards and of none, and the practice itself.
func (c *Catalogue) For(p *Practice) *Catalogue {
	out := &Catalogue{
		Boards:     following(p, c.Boards, func(e *Board) string { return e.Standard }),
		Profiles:   following(p, c.Profiles, func(e *Profile) string { return e.Standard }),
		Insulation: following(p, c.Insulation, func(e *Insulation) string { return e.Standard }),
		Screws:     following(p, c.Screws, func(e *Screw) string { return e.Standard }),
		Sundries:   following(p, c.Sundries, func(e *Sundry) string { return e.Standard }),
		Practices:  []Practice{*p},

		Materials:    c.Materials,
		FireEvidence: following(p, c.FireEvidence, func(e *FireEvidence) string { return e.Standard }),

		HeightEvidence: c.HeightEvidence,
		SoundEvidence:  c.SoundEvidence,

		Masonry: c.Masonry,

		Carbon: c.Carbon,
		Prices: c.Prices,
		Packs:  c.Packs,

		Operations: c.Operations, Productivity: c.Productivity,
	}
	return out.indexed()
}

func following[E any](p *Practice, entries []E, standard func(*E) string) []E {
	return slices.DeleteFunc(slices.Clone(entries), func(e E) bool { return !p.follows(standard(&e)) })
}

// BoardEntries lists the boards for a table.
func (c *Catalogue) BoardEntries() []Entry {
	return entries(c.Boards, func(b *Board) Entry {
		return Entry{b.ID, b.Name, b.Standard, fmt.Sprintf("%s thick, %s wide, %s long", b.Thickness, b.Width, sizes(b.Lengths)), b.Source, b.Status}
	})
}

// ProfileEntries lists the profiles for a table.
func (c *Catalogue) ProfileEntries() []Entry {
	return entries(c.Profiles, func(p *Profile) Entry {
		return Entry{p.ID, p.Name, p.Standard, fmt.Sprintf("%s x %s x %s, %s long", p.Web, p.Flange, p.Thickness, sizes(p.Lengths)), p.Source, p.Status}
	})
}

// InsulationEntries lists the cavity fills for a table.
func (c *Catalogue) InsulationEntries() []Entry {
	return entries(c.Insulation, func(n *Insulation) Entry {
		return Entry{n.ID, n.Name, n.Standard, fmt.Sprintf("%s thick, %s x %s", sizes(n.Thicknesses), n.Width, n.Length), n.Source, n.Status}
	})
}

// ScrewEntries lists the screws for a table.
func (c *Catalogue) ScrewEntries() []Entry {
	return entries(c.Screws, func(s *Screw) Entry {
		return Entry{s.ID, s.Name, s.Standard, fmt.Sprintf("%s long, %s point, steel up to %s", s.Length, s.Point, s.Steel), s.Source, s.Status}
	})
}

// SundryEntries lists the sundries for a table; what they are for stands in
// place of sizes.
func (c *Catalogue) SundryEntries() []Entry {
	return entries(c.Sundries, func(s *Sundry) Entry {
		what := strings.ReplaceAll(s.Kind, "_", " ")
		if len(s.For) > 0 {
			what += " for " + strings.ReplaceAll(strings.Join(s.For, ", "), "_", " ")
		}
		return Entry{s.ID, s.Name, s.Standard, what, s.Source, s.Status}
	})
}

// MaterialEntries lists the materials for a table; what they are of and their
// conductivity stand in place of sizes.
func (c *Catalogue) MaterialEntries() []Entry {
	return entries(c.Materials, func(m *Material) Entry {
		what := "lambda unknown or the product's own"
		if m.Lambda.given() {
			what = fmt.Sprintf("lambda %v W/mK", m.Lambda.Value)
		}
		return Entry{m.ID, m.Name, strings.Join(m.For, ", "), fmt.Sprintf("%s, mu %v/%v", what, m.MuDry.Value, m.MuWet.Value), m.Lambda.Source, m.MuDry.Status}
	})
}

// FireEntries lists the fire evidence for a table; the rating and what it is of
// stand in place of sizes.
func (c *Catalogue) FireEntries() []Entry {
	return entries(c.FireEvidence, func(e *FireEvidence) Entry {
		return Entry{e.ID, e.Name, e.Document, "rated " + e.Rating, e.Source, e.Status}
	})
}

// MasonryEntries lists the block walls for a table.
func (c *Catalogue) MasonryEntries() []Entry {
	return entries(c.Masonry, func(m *Masonry) Entry {
		return Entry{m.ID, m.Name, m.Standard, fmt.Sprintf("%s thick, %.0f kg/m²", m.Thickness(), m.Mass()), m.Density.Source, m.Density.Status}
	})
}

// CarbonEntries lists the carbon factors for a table; the factor and what it is of
// stand in place of sizes.
func (c *Catalogue) CarbonEntries() []Entry {
	return entries(c.Carbon, func(f *CarbonFactor) Entry {
		what := fmt.Sprintf("%v kg CO2e/kg", f.Factor)
		if len(f.Types) > 0 {
			what += ", " + joined(f.Types, "/")
		}
		return Entry{f.ID, f.Name, joined(f.For, ", "), what, f.Source, f.Status}
	})
}

func entries[E any](list []E, entry func(*E) Entry) []Entry {
	all := make([]Entry, len(list))
	for i := range list {
		all[i] = entry(&list[i])
	}
	return all
}

// sizes writes a list of sizes, a long one by its ends.
func sizes(list []Length) string {
	const most = 4
	if n := len(list); n > most {
		return fmt.Sprintf("%s to %s", list[0], list[n-1])
	}
	return joined(list, "/")
}
