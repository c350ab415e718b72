package order

import (
	"cmp"
	"slices"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
	"nogging/internal/words"
)

// Carbon is what making the products emits, in kg of CO2 equivalent, by the
// modules of EN 15978: A1 to A3 of what is built in, and of what goes to waste,
// which belongs to A5.
type Carbon struct {
	Built float64      `json:"a1_a3"`    // kg CO2 eq., making what is built in
	Waste float64      `json:"a5_waste"` // making what is wasted
	Lines []CarbonLine `json:"lines"`
	Open  []string     `json:"open,omitempty"` // products without a figure or without a mass
}

// CarbonLine is one product's part.
type CarbonLine struct {
	Product string          `json:"product"`
	Name    string          `json:"name"`
	Mass    float64         `json:"mass"`       // kg built in
	Wasted  float64         `json:"mass_waste"` // kg
	Figure  float64         `json:"per_kg"`     // kg CO2 eq. per kg
	Built   float64         `json:"a1_a3"`      // kg CO2 eq.
	Waste   float64         `json:"a5_waste"`   // kg CO2 eq.
	Source  string          `json:"source"`
	Status  quantity.Status `json:"status"`
}

// Stream is waste that is kept apart from other waste.
type Stream struct {
	Name string  `json:"name"`
	Mass float64 `json:"mass"` // kg
	Note string  `json:"note,omitempty"`
}

// The streams of waste.
var streams = []Stream{
	{Name: "gypsum board", Note: "keep dry and apart: gypsum in mixed landfill gives off hydrogen sulphide; give it to recycling"},
	{Name: "cement board"},
	{Name: "steel", Note: "scrap metal"},
	{Name: "mineral wool", Note: "bag it where it is cut"},
	{Name: "other", Note: "compounds, sealants, tapes and fixings; packaging is not counted"},
}

// streamOf returns the stream into which a product's waste goes.
func streamOf(l *Line, board *catalogue.Board) int {
	switch {
	case l.Group == takeoff.Boards && board != nil && board.Standard == "EN 12467":
		return 1
	case l.Group == takeoff.Boards:
		return 0
	case l.Group == takeoff.Profiles:
		return 2
	case l.Group == takeoff.Insulation:
		return 3
	}
	return 4
}

// impact sums what making emits, and the waste, over the products of the order.
func (m *maker) impact(o *Order) {
	o.Waste = slices.Clone(streams)
	at := map[string]int{}
	sets := map[string]bool{}
	for i := range o.Lines {
		l := &o.Lines[i]
		board, _ := m.Catalogue.Board(l.Product)
		o.Waste[streamOf(l, board)].Mass += l.waste
		p, _ := m.Catalogue.Product(l.Product)
		c, ok := m.Catalogue.CarbonOf(p.Standard, p.Kinds[len(p.Kinds)-1])
		if !ok || l.built == 0 {
			if !slices.Contains(o.Carbon.Open, l.Name) {
				o.Carbon.Open = append(o.Carbon.Open, l.Name)
			}
			continue
		}
		sets[cmp.Or(c.Set, "entered by the user")] = true
		k, known := at[l.Product]
		if !known {
			k = len(o.Carbon.Lines)
			at[l.Product] = k
			o.Carbon.Lines = append(o.Carbon.Lines, CarbonLine{Product: l.Product, Name: l.Name, Figure: c.Factor, Source: c.Source, Status: c.Status})
		}
		x := &o.Carbon.Lines[k]
		x.Mass += l.built
		x.Wasted += l.waste
	}
	for i := range o.Carbon.Lines {
		x := &o.Carbon.Lines[i]
		x.Built, x.Waste = x.Mass*x.Figure, x.Wasted*x.Figure
		o.Carbon.Built += x.Built
		o.Carbon.Waste += x.Waste
	}
	if len(o.Carbon.Open) > 0 {
		o.Findings.Add(finding.Finding{Code: "carbon-open", Severity: finding.Note,
			What: words.F("embodied carbon is without: %s", strings.Join(o.Carbon.Open, ", ")), Fix: "enter figures in a catalogue of your own under `carbon`, and masses of packs under `packs`"})
	}
	if len(sets) > 1 {
		o.Findings.Add(finding.Finding{Code: "carbon-mixed", Severity: finding.Warning,
			What: words.F("embodied carbon is summed over figures of different data sets: %s", joined(sorted(sets))), Fix: "take the figures of all products from one set"})
	}
}
