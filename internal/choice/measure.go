package choice

import (
	"encoding/json"
	"math"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/price"
)

// Measures are a build-up's measures in whole thousandths of their units, so
// that they add up exactly. A value from unknown on is not known.
type Measures [measures]int64

// unknown is more than any sum of known values.
const unknown = int64(1) << 40

// Known reports whether a measure is known.
func (m Measures) Known(k Measure) bool { return m[k] < unknown }

// Value returns a measure in its unit.
func (m Measures) Value(k Measure) float64 { return float64(m[k]) / 1000 }

// MarshalJSON writes the known measures by name.
func (m Measures) MarshalJSON() ([]byte, error) {
	out := map[string]float64{}
	for k := range measures {
		if m.Known(k) {
			out[k.String()] = m.Value(k)
		}
	}
	return json.Marshal(out)
}

func (m *Measures) add(o *Measures) {
	for k := range m {
		m[k] += o[k]
	}
}

// sum returns the measures of two parts together.
func sum(a, b *Measures) Measures {
	c := *a
	c.add(b)
	return c
}

// noWorse reports whether a is as good as b in every measure.
func noWorse(a, b *Measures) bool {
	for k := range a {
		if a[k] > b[k] {
			return false
		}
	}
	return true
}

func thousandths(v float64) int64 { return int64(math.Round(v * 1000)) }

// meter measures the parts of build-ups.
type meter struct {
	cat    *catalogue.Catalogue
	norms  price.Norms
	height Length
	priced bool // the user gives prices; else cost is 0 for all
}

func newMeter(cat *catalogue.Catalogue, pr *catalogue.Practice, height Length) meter {
	return meter{cat, price.Norms{Catalogue: cat, Practice: pr, Height: height}, height, len(cat.Prices) > 0}
}

// product returns mass, carbon and cost of an amount of a product, in m² or m.
func (m *meter) product(id, standard, kind string, amount, mass float64) Measures {
	var out Measures
	out[Mass] = thousandths(amount * mass)
	out[Carbon], out[Cost] = unknown, unknown
	if f, ok := m.cat.CarbonOf(standard, kind); ok {
		out[Carbon] = thousandths(amount * mass * f.Factor)
	}
	if p, ok := m.cat.PriceOf(id); ok {
		out[Cost] = thousandths(amount * p)
	}
	if !m.priced {
		out[Cost] = 0
	}
	return out
}

// hours returns labour, with its cost where the user prices it.
func (m *meter) hours(h float64) Measures {
	var out Measures
	out[Labour] = thousandths(h)
	if p, ok := m.cat.PriceOf(catalogue.LabourPrice); ok {
		out[Cost] = thousandths(h * p)
	}
	return out
}

func (m *meter) face(boards []*catalogue.Board) Measures {
	out := m.hours(m.norms.Face(boards))
	for _, b := range boards {
		one := m.product(b.ID, b.Standard, b.Type, 1, b.Mass)
		one[Thickness] = thousandths(b.Thickness.MM())
		out.add(&one)
	}
	return out
}

func (m *meter) fill(f *catalogue.Insulation, thickness Length) Measures {
	out := m.product(f.ID, f.Standard, f.Material, 1, f.Density*thickness.Metres())
	hours := m.hours(m.norms.Fill())
	out.add(&hours)
	return out
}

// frame measures studs and tracks of a long wall without openings.
func (m *meter) frame(b *buildup.BuildUp) Measures {
	lines := float64(b.FrameLines())
	studs := m.product(b.Stud.ID, b.Stud.Standard, "", lines/b.Spacing.Metres(), b.Stud.Mass)
	tracks := m.product(b.Track.ID, b.Track.Standard, "", 2*lines/m.height.Metres(), b.Track.Mass)
	out := sum(&studs, &tracks)
	hours := m.hours(m.norms.Frame(b))
	out.add(&hours)
	depth := Length(b.FrameLines()) * b.FrameDepth()
	if b.Kind.Twin() {
		depth += b.Gap
	}
	out[Thickness] = thousandths(depth.MM())
	return out
}

// of measures a whole build-up.
func (m *meter) of(b *buildup.BuildUp) Measures {
	out := m.frame(b)
	for _, boards := range [][]*catalogue.Board{b.A, b.B} {
		face := m.face(boards)
		out.add(&face)
	}
	for _, f := range b.Insulation {
		fill := m.fill(f.Product, f.Thickness)
		out.add(&fill)
	}
	return out
}
