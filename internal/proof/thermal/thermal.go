// Package thermal proves how much heat a wall lets through: its U-value with the
// steel studs counted, by BRE Digest 465 on ISO 6946, or for studs by US
// standards by the cavity correction factors of ASHRAE 90.1. It takes a
// build-up's layers from face A to face B and gives a check with its derivation.
// Linings and shaft walls are reckoned by themselves, without what they stand
// before.
package thermal

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/proof/thermal/ashrae90_1"
	"nogging/internal/proof/thermal/bre465"
	"nogging/internal/proof/thermal/iso6946"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Layer is one layer of a wall.
type Layer struct {
	Name       string
	Thickness  quantity.Length
	Resistance quantity.Resistance
	Framed     bool                // steel studs stand in it
	Steel      quantity.Resistance // of the web through it
	Mu         float64             // vapour resistance factor; 0 where it is not known
	MuStatus   quantity.Status
	From       quantity.Derivation
}

// Layers returns the layers of a build-up from face A to face B; missing lists
// properties that the catalogue does not know, and then the layers are not to be
// reckoned with.
func Layers(b *buildup.BuildUp, cat *catalogue.Catalogue) (layers []Layer, missing []string) {
	l := lister{cat: cat}
	for i := len(b.A) - 1; i >= 0; i-- {
		l.board(b.A[i])
	}
	for line := range b.FrameLines() {
		if line > 0 && b.Gap > 0 {
			l.filled(b, plan.InGap, b.Gap, false)
		}
		place := plan.InFrameA
		if line > 0 {
			place = plan.InFrameB
		}
		depth := b.FrameDepth()
		if b.Liner != nil {
			depth -= b.Liner.Thickness
		}
		l.filled(b, place, depth, true)
	}
	if b.Liner != nil {
		l.board(b.Liner)
	}
	for _, board := range b.B {
		l.board(board)
	}
	return l.layers, l.missing
}

type lister struct {
	cat     *catalogue.Catalogue
	layers  []Layer
	missing []string
}

func (l *lister) board(b *catalogue.Board) {
	m, ok := l.cat.BoardMaterial(b)
	if !ok || m.Lambda.Value <= 0 {
		l.missing = append(l.missing, "the conductivity (lambda) of "+b.Name+" is not in the catalogue")
		return
	}
	r := iso6946.Layer(b.Thickness, quantity.Conductivity(m.Lambda.Value))
	l.layers = append(l.layers, Layer{
		Name: b.Name, Thickness: b.Thickness, Resistance: r, Mu: m.MuDry.Value, MuStatus: m.MuDry.Status,
		From: layerDerivation(b.Name, r, b.Thickness, m.Lambda.Value, m.Lambda.Source, m.Lambda.Status),
	})
}

// filled lists the fill of one part of the cavity and the air beside it.
func (l *lister) filled(b *buildup.BuildUp, place plan.FillPlace, rest quantity.Length, framed bool) {
	for _, f := range b.Insulation {
		if f.Place != place {
			continue
		}
		thickness := min(f.Thickness, rest)
		rest -= thickness
		r := iso6946.Layer(thickness, quantity.Conductivity(f.Product.Lambda))
		var mu catalogue.Rule[float64]
		if m, ok := l.cat.FillMaterial(f.Product); ok {
			mu = m.MuDry
		}
		l.layers = append(l.layers, Layer{
			Name: f.Product.Name, Thickness: thickness, Resistance: r, Framed: framed, Steel: steel(thickness), Mu: mu.Value, MuStatus: mu.Status,
			From: layerDerivation(f.Product.Name, r, thickness, f.Product.Lambda, f.Product.Source, f.Product.Status),
		})
	}
	if rest > 0 {
		l.air(rest, framed)
	}
}

func (l *lister) air(thickness quantity.Length, framed bool) {
	r := iso6946.Air(thickness)
	l.layers = append(l.layers, Layer{
		Name: airName, Thickness: thickness, Resistance: r, Framed: framed, Steel: steel(thickness), Mu: airMu, MuStatus: quantity.Derived,
		From: quantity.Derivation{
			Name: "resistance of air", Value: float64(r), Unit: "m²K/W", Method: "unventilated air layer of " + thickness.String() + " mm",
			Source: "ISO 6946, table of air layers", Status: quantity.Published,
		},
	})
}

const airName = "air"

// airMu is the vapour resistance factor of air, by definition.
const airMu = 1

func steel(thickness quantity.Length) quantity.Resistance {
	return iso6946.Layer(thickness, iso6946.SteelConductivity)
}

func layerDerivation(name string, r quantity.Resistance, thickness quantity.Length, lambda float64, source string, status quantity.Status) quantity.Derivation {
	return quantity.Derivation{
		Name: "resistance of " + name, Symbol: "R", Value: float64(r), Unit: "m²K/W", Method: "d / λ", Source: "ISO 6946", Status: quantity.Derived,
		From: []quantity.Derivation{
			{Name: "thickness", Symbol: "d", Value: thickness.MM(), Unit: "mm", Status: quantity.Entered},
			{Name: "conductivity", Symbol: "λ", Value: lambda, Unit: "W/(m·K)", Source: source, Status: status},
		},
	}
}

// Prove finds the wall's U-value and holds it against what is asked; asked may be
// empty. Both faces are taken to stand inside.
func Prove(asked string, b *buildup.BuildUp, cat *catalogue.Catalogue) proof.Check {
	c := proof.Check{Need: proof.Heat, Name: "U-value", Asked: asked, Verdict: proof.NotProven}
	layers, missing := Layers(b, cat)
	if len(missing) > 0 {
		c.Missing = missing
		return c
	}
	total, err := resistance(b, layers)
	if err != nil {
		c.Missing = []string{err.Error()}
		return c
	}
	u := 1 / total.Value
	c.Got = &quantity.Derivation{
		Name: "thermal transmittance", Symbol: "U", Value: u, Unit: "W/(m²·K)", Method: "1 / R", Source: "ISO 6946",
		Status: quantity.Derived, From: []quantity.Derivation{total},
	}
	if b.Kind.OneSided() {
		c.Got.Note = "of the lining alone: what it stands before is not counted"
	}
	judge(&c, u)
	return c
}

// judge holds a U-value against what is asked.
func judge(c *proof.Check, u float64) {
	if c.Asked == "" {
		c.Verdict = proof.Shown
		return
	}
	limit, err := ParseU(c.Asked)
	if err != nil {
		c.Missing = []string{err.Error()}
		return
	}
	c.Verdict, c.Use = proof.Passes, u/float64(limit)
	if c.Use > 1 {
		c.Verdict = proof.Fails
		c.Advice = words.F("R has to rise by %.2f m²K/W: more or better fill, or studs further apart", 1/float64(limit)-1/u)
	}
}

// ParseU reads a greatest U-value as people write it: "0.6", "U 0.35",
// "0,5 W/m2K".
func ParseU(text string) (quantity.Transmittance, error) {
	t := strings.ToUpper(strings.ReplaceAll(text, ",", "."))
	for _, unit := range []string{"W/(M2K)", "W/(M²K)", "W/M2K", "W/M²K", "W/M2.K", "W/(M²·K)"} {
		t = strings.TrimSuffix(strings.TrimSpace(t), unit)
	}
	t = strings.TrimLeft(strings.TrimPrefix(strings.TrimSpace(t), "U"), " :=<≤")
	u, err := strconv.ParseFloat(strings.TrimSpace(t), 64)
	if err != nil || !(u > 0 && u <= 10) {
		return 0, fmt.Errorf("%q is no U-value: write W/(m²K) above 0 and up to 10, such as 0.6", text)
	}
	return quantity.Transmittance(u), nil
}

// resistance finds the resistance from room to room with the studs counted.
func resistance(b *buildup.BuildUp, layers []Layer) (quantity.Derivation, error) {
	if b.Stud.Standard == usStuds {
		return corrected(b, layers)
	}
	return hybrid(b, layers)
}

// usStuds is the standard of studs that the US method is for.
const usStuds = "ASTM C645"

// hybrid follows BRE Digest 465.
func hybrid(b *buildup.BuildUp, layers []Layer) (quantity.Derivation, error) {
	fraction := bre465.Fraction(b.Stud.Thickness, b.Spacing)
	parts := make([]iso6946.Slice, len(layers))
	from := []quantity.Derivation{surfaces}
	for i, l := range layers {
		parts[i] = iso6946.Slice{Clear: l.Resistance}
		if l.Framed {
			parts[i].Bridge, parts[i].Fraction = l.Steel, fraction
		}
		from = append(from, l.From)
	}
	upper, lower, err := iso6946.Limits(iso6946.Inside, iso6946.Inside, parts)
	if err != nil {
		return quantity.Derivation{}, err
	}
	studs := bre465.Studs{Flange: b.Stud.Flange, Depth: b.Stud.Web, Spacing: b.Spacing}
	from = append(from,
		quantity.Derivation{Name: "steel in the area of the studs", Value: fraction, Method: "sheet / spacing", Source: "BRE Digest 465", Status: quantity.Derived,
			From: []quantity.Derivation{
				{Name: "sheet of " + b.Stud.Name, Value: b.Stud.Thickness.MM(), Unit: "mm", Source: b.Stud.Source, Status: b.Stud.Status},
				{Name: "spacing", Value: b.Spacing.MM(), Unit: "mm", Status: quantity.Entered},
			}},
		quantity.Derivation{Name: "upper limit", Value: float64(upper), Unit: "m²K/W", Method: "paths of heat side by side", Source: "ISO 6946", Status: quantity.Derived},
		quantity.Derivation{Name: "lower limit", Value: float64(lower), Unit: "m²K/W", Method: "layers of one temperature", Source: "ISO 6946", Status: quantity.Derived},
		quantity.Derivation{Name: "part of the upper limit", Symbol: "p", Value: studs.Share(upper, lower),
			Method: "0.8 Rmin/Rmax + 0.44 - 0.1 w/40 - 0.2·600/s - 0.04 d/100", Source: "BRE Digest 465", Status: quantity.Derived})
	return quantity.Derivation{
		Name: "resistance with the studs", Symbol: "R", Value: float64(studs.Total(upper, lower)), Unit: "m²K/W",
		Method: "p Rmax + (1-p) Rmin", Source: "BRE Digest 465", Status: quantity.Derived, From: from,
	}, nil
}

// surfaces are the resistances of both faces.
var surfaces = quantity.Derivation{
	Name: "surface resistances of both faces", Value: float64(2 * iso6946.Inside), Unit: "m²K/W", Method: "0.13 on each face, inside",
	Source: "ISO 6946, horizontal heat flow", Status: quantity.Memory,
}

// corrected follows the cavity correction factors of ASHRAE 90.1: they take in
// the whole cavity of one line of studs.
func corrected(b *buildup.BuildUp, layers []Layer) (quantity.Derivation, error) {
	d := quantity.Derivation{
		Name: "resistance with the studs", Symbol: "R", Unit: "m²K/W", Method: "sum of layers, the fill between studs by its factor",
		Source: "ASHRAE 90.1, cavity correction factors", Status: quantity.Derived, From: []quantity.Derivation{surfaces},
	}
	d.Value = float64(2 * iso6946.Inside)
	for _, l := range layers {
		switch {
		case !l.Framed:
			d.Value += float64(l.Resistance)
			d.From = append(d.From, l.From)
			continue
		case l.Name == airName: // the factors take in what is left of the cavity
			continue
		}
		r, factor, err := ashrae90_1.Effective(b.Stud.NominalDepth(), b.Spacing, l.Resistance)
		if err != nil {
			return d, err
		}
		d.Value += float64(r)
		d.From = append(d.From, quantity.Derivation{
			Name: "effective resistance of " + l.Name, Value: float64(r), Unit: "m²K/W", Method: fmt.Sprintf("rated resistance x %.2f", factor),
			Source: "ASHRAE 90.1, cavity correction factors", Status: quantity.Memory, From: []quantity.Derivation{l.From},
		})
	}
	if !hasFill(layers) {
		return d, fmt.Errorf("the correction factors are for filled cavities; this one is empty")
	}
	return d, nil
}

func hasFill(layers []Layer) bool {
	return slices.ContainsFunc(layers, func(l Layer) bool { return l.Framed && l.Name != airName })
}
