// Package moisture proves what water does to a wall: whether its boards may stand
// in the water action class of the room (DIN 18534-1), whether its surface stays
// warm enough against mould and whether the water that condenses in it over a year
// dries again (ISO 13788). It takes a build-up and the climate on both sides, and
// gives checks with their derivations.
package moisture

import (
	"fmt"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/proof/moisture/din18534_1"
	"nogging/internal/proof/moisture/iso13788"
	"nogging/internal/proof/thermal"
	"nogging/internal/proof/thermal/iso6946"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// ProveWet holds the boards of one face against a water action class, as a plan
// writes it.
func ProveWet(class string, face plan.Face, boards []*catalogue.Board) proof.Check {
	c := proof.Check{Need: proof.Moisture, Name: "boards of face " + strings.ToUpper(string(face)), Asked: class, Verdict: proof.NotProven}
	asked, err := din18534_1.Parse(class)
	if err != nil {
		c.Missing = []string{err.Error()}
		return c
	}
	if len(boards) == 0 {
		c.Missing = []string{"the face has no boards"}
		return c
	}
	c.Verdict = proof.Passes
	c.Advice = words.Join(din18534_1.Sealing(asked), "; ")
	c.Got = &quantity.Derivation{
		Name: "boards for " + string(asked), Method: "each layer against the severest class that it may stand in",
		Source: "DIN 18534-1, table of water action classes", Status: quantity.Derived, Note: c.Advice.String(),
	}
	var wrong []string
	for k, b := range boards {
		severest := b.Wet
		if severest == "" {
			severest = "dry rooms only"
		}
		c.Got.From = append(c.Got.From, quantity.Derivation{
			Name: fmt.Sprintf("layer %d, %s", k+1, b.Name), Text: severest, Source: b.Source, Status: b.Status,
		})
		if !din18534_1.Suits(b.Wet, asked) {
			wrong = append(wrong, fmt.Sprintf("layer %d, %s: %s", k+1, b.Name, severest))
		}
	}
	c.Got.Text = "all layers suit"
	if len(wrong) > 0 {
		c.Verdict, c.Got.Text = proof.Fails, strings.Join(wrong, "; ")
		c.Advice = words.F("take boards that the catalogue lists for %s", string(asked))
	}
	return c
}

// Side is the room on one side of a wall.
type Side struct {
	Room    string // its id, for messages
	Climate plan.RoomClimate
}

// ProveCondensation holds a wall between two rooms, on face A and on face B,
// against mould on its warmer surface and water within it. Where a room's climate
// is not given, or a layer's properties are not known, the checks say so.
func ProveCondensation(b *buildup.BuildUp, cat *catalogue.Catalogue, onA, onB Side) []proof.Check {
	surface := proof.Check{Need: proof.Moisture, Name: "mould on the surface", Verdict: proof.NotProven}
	inside := proof.Check{Need: proof.Moisture, Name: "water within the wall over a year", Verdict: proof.NotProven}
	layers, missing := thermal.Layers(b, cat)
	for _, l := range layers {
		if l.Mu == 0 {
			missing = append(missing, "the vapour resistance factor (mu) of "+l.Name+" is not in the catalogue")
		}
	}
	if b.Kind.OneSided() {
		missing = append(missing, "what the wall stands before is not known, so no climate lies behind it")
	}
	for _, s := range []Side{onA, onB} {
		if !s.Climate.Known() {
			missing = append(missing, "the climate of room "+s.Room+" is not given")
		}
	}
	if len(missing) > 0 {
		surface.Missing, inside.Missing = missing, missing
		return []proof.Check{surface, inside}
	}
	w, year := orient(layers, onA.Climate.Year(), onB.Climate.Year())
	proveSurface(&surface, w, year)
	proveInside(&inside, w, layers, year)
	return []proof.Check{surface, inside}
}

// month is one month on both sides.
type month = iso13788.Month

// orient lists the layers from the side that is colder over the year. Layers come
// from face A to face B, and so do the climates.
func orient(layers []thermal.Layer, a, b [12]plan.Air) (iso13788.Wall, []month) {
	w := iso13788.Wall{Cold: iso6946.Inside, Warm: iso6946.Inside}
	for _, l := range layers {
		w.Layers = append(w.Layers, iso13788.Layer{Resistance: l.Resistance, Sd: l.Mu * l.Thickness.Metres()})
	}
	warmer := 0.0
	for i := range a {
		warmer += a[i].Temperature - b[i].Temperature
	}
	if warmer > 0 {
		a, b = b, a
		for i, j := 0, len(w.Layers)-1; i < j; i, j = i+1, j-1 {
			w.Layers[i], w.Layers[j] = w.Layers[j], w.Layers[i]
		}
	}
	year := make([]month, 12)
	for i := range year {
		year[i] = month{Cold: air(a[i]), Warm: air(b[i]), Days: days[i]}
	}
	return w, year
}

// days is the length of each month.
var days = [12]float64{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

func air(a plan.Air) iso13788.Air {
	return iso13788.Air{Temperature: quantity.Celsius(a.Temperature), Humidity: a.Humidity / 100}
}

// proveSurface finds the month in which the warm surface is nearest to mould.
func proveSurface(c *proof.Check, w iso13788.Wall, year []month) {
	worst, at := 0.0, 0
	has := 1 - float64(w.Warm/w.Resistance())
	for i, m := range year {
		if m.Warm.Temperature <= m.Cold.Temperature {
			continue
		}
		if need := iso13788.Factor(iso13788.LeastSurface(m.Warm), m.Warm.Temperature, m.Cold.Temperature); need > worst {
			worst, at = need, i
		}
	}
	c.Verdict, c.Use = proof.Passes, worst/has
	if c.Use > 1 {
		c.Verdict, c.Advice = proof.Fails, "insulate the wall better, or lower the humidity of the warm room"
	}
	m := year[at]
	c.Got = &quantity.Derivation{
		Name: "temperature factor of the warm surface", Symbol: "fRsi", Value: has, Method: "1 - Rsi / R", Source: "ISO 13788, 5.3", Status: quantity.Derived,
		Note: "of the wall between its studs; at a stud the surface is somewhat colder",
		From: []quantity.Derivation{
			{Name: "least factor needed, in month " + fmt.Sprint(at+1), Symbol: "fRsi,min", Value: worst, Method: "surface at 80 % humidity", Source: "ISO 13788, 5.3", Status: quantity.Derived},
			{Name: "temperature of the warm room", Value: float64(m.Warm.Temperature), Unit: "°C", Status: quantity.Entered},
			{Name: "humidity of the warm room", Value: 100 * m.Warm.Humidity, Unit: "%", Status: quantity.Entered},
			{Name: "temperature of the cold room", Value: float64(m.Cold.Temperature), Unit: "°C", Status: quantity.Entered},
		},
	}
}

// mostWater is the greatest amount that may gather: beyond it, it runs off
// (ISO 13788, 6.4, from memory).
const mostWater = 0.2

// proveInside finds the water that condenses in the wall over a year.
func proveInside(c *proof.Check, w iso13788.Wall, layers []thermal.Layer, year []month) {
	water := w.Year(year)
	c.Verdict, c.Use = proof.Passes, water.Most/mostWater
	switch {
	case water.Most == 0:
	case !water.Dries:
		c.Verdict, c.Advice = proof.Fails, "the water does not dry within a year: put a vapour check on the warm side"
	case c.Use > 1:
		c.Verdict, c.Advice = proof.Fails, "more water gathers than stays in place: put a vapour check on the warm side"
	}
	c.Got = &quantity.Derivation{
		Name: "most water within the wall", Value: 1000 * water.Most, Unit: "g/m²", Method: "diffusion, month by month", Source: "ISO 13788, 6",
		Status: quantity.Derived, Note: "diffusion only; leaks of air carry more: seal the perimeter and boxes",
	}
	for i, l := range layers {
		c.Got.From = append(c.Got.From, quantity.Derivation{
			Name: fmt.Sprintf("layer %d, %s", i+1, l.Name), Symbol: "sd", Value: l.Mu * l.Thickness.Metres(), Unit: "m",
			Method: "mu d", Source: "ISO 13788", Status: l.MuStatus, From: []quantity.Derivation{l.From},
		})
	}
	for i, held := range water.Held {
		total := 0.0
		for _, h := range held {
			total += h
		}
		if total > 0 {
			c.Got.From = append(c.Got.From, quantity.Derivation{
				Name: fmt.Sprintf("held at the end of month %d", i+1), Value: 1000 * total, Unit: "g/m²", Status: quantity.Derived,
			})
		}
	}
}
