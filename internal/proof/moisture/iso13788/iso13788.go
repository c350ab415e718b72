// Package iso13788 follows ISO 13788: the temperature that a surface needs against
// mould, and condensation within a wall over the months of a year by the
// vapour diagram. It takes layers from one side to the other with the climate on both
// sides, and gives temperatures, vapour pressures and amounts of water. Vapour is
// taken to move by diffusion only, and temperatures not to change with what
// condenses.
package iso13788

import (
	"math"

	"nogging/internal/quantity"
)

// Saturation returns the pressure of saturated vapour (ISO 13788, E.7 and E.8).
func Saturation(t quantity.Celsius) quantity.Pressure {
	if t < 0 {
		return quantity.Pressure(610.5 * math.Exp(21.875*float64(t)/(265.5+float64(t))))
	}
	return quantity.Pressure(610.5 * math.Exp(17.269*float64(t)/(237.3+float64(t))))
}

// DewPoint returns the temperature at which vapour of a pressure is saturated
// (ISO 13788, E.9 and E.10); p is above 0.
func DewPoint(p quantity.Pressure) quantity.Celsius {
	x := math.Log(float64(p) / 610.5)
	if x < 0 {
		return quantity.Celsius(265.5 * x / (21.875 - x))
	}
	return quantity.Celsius(237.3 * x / (17.269 - x))
}

// Air is the air on one side of a wall.
type Air struct {
	Temperature quantity.Celsius
	Humidity    float64 // relative, from 0 to 1
}

// Pressure returns the pressure of the vapour in the air.
func (a Air) Pressure() quantity.Pressure {
	return quantity.Pressure(a.Humidity) * Saturation(a.Temperature)
}

// mouldHumidity is the greatest humidity at a surface without mould (ISO 13788,
// 5.3, critical surface humidity).
const mouldHumidity = 0.8

// LeastSurface returns the lowest temperature of a surface at which mould does
// not grow in air of the warm side.
func LeastSurface(warm Air) quantity.Celsius {
	return DewPoint(warm.Pressure() / mouldHumidity)
}

// Factor returns the temperature factor of a surface: 1 at the temperature of the
// warm side, 0 at that of the cold.
func Factor(surface, warm, cold quantity.Celsius) float64 {
	return float64((surface - cold) / (warm - cold))
}

// Layer is one layer of a wall.
type Layer struct {
	Resistance quantity.Resistance
	Sd         float64 // equivalent air layer, m
}

// Wall is the layers of a wall from the cold side to the warm, with the
// resistances of its surfaces.
type Wall struct {
	Cold, Warm quantity.Resistance
	Layers     []Layer
}

// Resistance returns the resistance from air to air.
func (w Wall) Resistance() quantity.Resistance {
	r := w.Cold + w.Warm
	for _, l := range w.Layers {
		r += l.Resistance
	}
	return r
}

// Temperatures returns the temperature of the cold air, of each plane from the
// cold surface to the warm, and of the warm air.
func (w Wall) Temperatures(cold, warm quantity.Celsius) []quantity.Celsius {
	total := w.Resistance()
	t := cold
	list := []quantity.Celsius{t}
	step := func(r quantity.Resistance) {
		t += (warm - cold) * quantity.Celsius(r/total)
		list = append(list, t)
	}
	step(w.Cold)
	for _, l := range w.Layers {
		step(l.Resistance)
	}
	step(w.Warm)
	return list
}

// Permeability of still air to vapour in kg/(m·s·Pa) (ISO 13788).
const Permeability = 2e-10

// Month is one month's climate on both sides.
type Month struct {
	Cold, Warm Air
	Days       float64
}

// secondsPerDay is the length of a day in s.
const secondsPerDay = 24 * 3600

// planes is a wall's vapour diagram for one climate: for each plane from the cold
// surface to the warm, its way for vapour and the saturation pressure there.
type planes struct {
	at        []float64 // sd from the cold surface, m
	saturated []float64 // Pa
	cold      float64   // pressure at the cold surface
	warm      float64
}

func (w Wall) planes(m Month) planes {
	temperatures := w.Temperatures(m.Cold.Temperature, m.Warm.Temperature)
	p := planes{cold: float64(m.Cold.Pressure()), warm: float64(m.Warm.Pressure())}
	at := 0.0
	for i := range len(w.Layers) + 1 {
		if i > 0 {
			at += w.Layers[i-1].Sd
		}
		p.at = append(p.at, at)
		p.saturated = append(p.saturated, float64(Saturation(temperatures[i+1])))
	}
	return p
}

// wet returns the planes at which the pressure is that of saturation: those that
// are wet already, and those that the straight line between them would pass
// above saturation. The string is stretched below the saturation line between
// fixed points, as the vapour diagram is drawn.
func (p planes) pressures(wet []float64) []float64 {
	n := len(p.at)
	fixed := make([]bool, n)
	value := make([]float64, n)
	fixed[0], value[0] = true, p.cold
	fixed[n-1], value[n-1] = true, p.warm
	for i := 1; i < n-1; i++ {
		if wet[i] > 0 {
			fixed[i], value[i] = true, p.saturated[i]
		}
	}
	for from := 0; from < n-1; {
		to := from + 1
		for !fixed[to] {
			to++
		}
		p.stretch(value, from, to)
		from = to
	}
	return value
}

// stretch lays the string between two fixed planes: straight where saturation
// leaves room, and else over the plane at which it would be lifted most.
func (p planes) stretch(value []float64, from, to int) {
	at, worst := 0, 0.0
	for i := from + 1; i < to; i++ {
		value[i] = p.between(value, from, to, i)
		if over := value[i] - p.saturated[i]; over > worst*(1+1e-12)+1e-9 {
			at, worst = i, over
		}
	}
	if worst == 0 {
		return
	}
	value[at] = p.saturated[at]
	p.stretch(value, from, at)
	p.stretch(value, at, to)
}

// between is the pressure at plane i on the straight line of two others.
func (p planes) between(value []float64, from, to, i int) float64 {
	way := p.at[to] - p.at[from]
	if way == 0 {
		return value[from]
	}
	return value[from] + (value[to]-value[from])*(p.at[i]-p.at[from])/way
}

// rates returns how fast water gathers at each plane in kg/(m²·s); below 0 where it
// goes.
func (p planes) rates(value []float64) []float64 {
	g := make([]float64, len(value))
	for i := 1; i < len(value)-1; i++ {
		g[i] = p.flow(value, i, i+1) - p.flow(value, i-1, i)
		if math.Abs(g[i]) < leastRate {
			g[i] = 0
		}
	}
	return g
}

// leastRate is the rate below which a plane counts as neither gathering nor losing
// water: a thousandth of a gram per m² and year.
const leastRate = 3e-14

// flow is the vapour that goes from plane b to plane a, in kg/(m²·s).
func (p planes) flow(value []float64, a, b int) float64 {
	way := p.at[b] - p.at[a]
	if way == 0 {
		return 0
	}
	return Permeability * (value[b] - value[a]) / way
}

// Water is what the year leaves in a wall.
type Water struct {
	Rates [][]float64 // for each month and plane, at the month's beginning, kg/(m²·s)
	Held  [][]float64 // for each month and plane, at the month's end, kg/m²
	Most  float64     // greatest amount in the whole wall at the end of a month, kg/m²
	Dries bool        // all of it is gone at some time of the year
}

// Year reckons the water in a wall over the months of a year, beginning with the
// first month in which some condenses; the wall is dry before it. Planes are
// counted from the cold surface, 0, to the warm.
func (w Wall) Year(months []Month) Water {
	n := len(w.Layers) + 1
	out := Water{Rates: make([][]float64, len(months)), Held: make([][]float64, len(months)), Dries: true}
	held := make([]float64, n)
	first := w.firstWet(months)
	if first < 0 {
		for i := range months {
			out.Rates[i], out.Held[i] = make([]float64, n), make([]float64, n)
		}
		return out
	}
	for k := range months {
		i := (first + k) % len(months)
		out.Rates[i] = w.month(months[i], held)
		out.Held[i] = append([]float64(nil), held...)
		total := sum(held)
		out.Most = max(out.Most, total)
		out.Dries = total == 0
	}
	for _, h := range out.Held {
		out.Dries = out.Dries || sum(h) == 0
	}
	return out
}

// firstWet returns the month in which water begins to gather: the first with
// condensation after one without; -1 where no month has any.
func (w Wall) firstWet(months []Month) int {
	dry := make([]float64, len(w.Layers)+1)
	gathers := func(i int) bool {
		p := w.planes(months[i])
		for _, g := range p.rates(p.pressures(dry)) {
			if g > 0 {
				return true
			}
		}
		return false
	}
	last := -1
	for i := range months {
		if gathers(i) {
			if !gathers((i + len(months) - 1) % len(months)) {
				return i
			}
			last = i
		}
	}
	if last >= 0 {
		return 0 // it gathers all the year
	}
	return -1
}

// month moves the water held by one month's climate and returns the rates at its
// beginning. Where a plane dries in the course of the month, the rest of it is
// reckoned anew.
func (w Wall) month(m Month, held []float64) []float64 {
	p := w.planes(m)
	left := m.Days * secondsPerDay
	var first []float64
	for range len(held) + 1 {
		g := p.rates(p.pressures(held))
		if first == nil {
			first = g
		}
		step := left
		for i := range held {
			if g[i] < 0 && held[i] > 0 {
				step = min(step, -held[i]/g[i])
			}
		}
		for i := range held {
			held[i] += g[i] * step
			if held[i] < leastHeld {
				held[i] = 0
			}
		}
		if left -= step; left <= 0 {
			break
		}
	}
	return first
}

// leastHeld is the amount of water, in kg/m², below which a plane counts as dry.
const leastHeld = 1e-9

func sum(list []float64) float64 {
	var s float64
	for _, v := range list {
		s += v
	}
	return s
}
