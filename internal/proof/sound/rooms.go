package sound

import (
	"cmp"
	"fmt"
	"slices"

	"nogging/internal/buildup"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/proof/sound/en12354_1"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// betweenRooms gives one check for each pair of rooms that the wall separates.
func (in *Input) betweenRooms(asked quantity.SoundRating) []proof.Check {
	var checks []proof.Check
	if asked.Term == "" && in.Plan != nil {
		for _, s := range in.Plan.RoomsBeside(in.Wall) {
			if s.Rooms[0] != nil && s.Rooms[1] != nil {
				checks = append(checks, in.pair(asked, s))
			}
		}
	}
	if len(checks) > 0 {
		return checks
	}
	missing := "a room with its outline at each face of the wall"
	if asked.Term != "" {
		missing = "a method for " + asked.Name() + ": the simplified model of EN 12354-1 is used here without spectrum adaptation terms"
	}
	return []proof.Check{{Need: proof.Sound, Name: "between rooms", Asked: asked.String(), Verdict: proof.NotProven, Missing: []string{missing}}}
}

// pair is the check between two rooms.
func (in *Input) pair(asked quantity.SoundRating, s plan.Stretch) proof.Check {
	name := fmt.Sprintf("between %s and %s", s.Rooms[0].ID, s.Rooms[1].ID)
	f := in.direct(quantity.SoundRating{Descriptor: quantity.LabRw}, s.Interval)
	flanks, missing := in.Flanks, []string(nil)
	if flanks == nil {
		flanks, missing = in.assumed(s.Interval)
	}
	f.missing = append(f.missing, missing...)
	volume := min(in.Plan.Volume(s.Rooms[0]), in.Plan.Volume(s.Rooms[1])) // the smaller one hears more
	area := in.area(s.Interval)
	if len(f.missing) > 0 || volume <= 0 || area <= 0 {
		return f.check(name, asked)
	}
	apparent, paths := en12354_1.Apparent(en12354_1.Wall{Rw: f.value, Area: area}, flanks)
	low, _ := en12354_1.Apparent(en12354_1.Wall{Rw: f.low, Area: area}, flanks)
	high, _ := en12354_1.Apparent(en12354_1.Wall{Rw: f.high, Area: area}, flanks)
	d := quantity.Derivation{
		Name: "apparent sound insulation", Symbol: "R'w", Value: float64(apparent), Unit: "dB", Source: en12354_1.Source, Status: quantity.Estimate,
		Method: "simplified model, formulae (26) to (29)", Note: "standard deviation of the model about 2 dB", From: append([]quantity.Derivation{f.derivation}, pathDerivations(paths, flanks)...),
	}
	gain := quantity.Decibel(0)
	if asked.Descriptor == quantity.FieldD {
		gain = en12354_1.Standardised(0, volume, area)
		d = quantity.Derivation{
			Name: "sound insulation between the rooms", Symbol: "DnT,w", Value: float64(apparent + gain), Unit: "dB", Source: en12354_1.Source, Status: quantity.Estimate,
			Method: "R'w + 10 lg(0.32 V/S), formula (5b)", Note: fmt.Sprintf("V %.1f m³ of the smaller room, S %.2f m²", volume, area.SquareMetres()), From: []quantity.Derivation{d},
		}
	}
	f.value = apparent + gain
	f.low, f.high = low+gain-en12354_1.Deviation, high+gain+en12354_1.Deviation
	d.Range = &quantity.Range{Low: float64(f.low), High: float64(f.high)}
	f.derivation = d
	c := f.check(name, asked)
	if c.Verdict != proof.Passes {
		c.Advice = weakest(paths)
	}
	return c
}

// weakest names the path that lets most sound through.
func weakest(paths []en12354_1.Path) words.Text {
	w := slices.MinFunc(paths, func(a, b en12354_1.Path) int { return cmp.Compare(a.Reduction, b.Reduction) })
	return words.F("mend the weakest path first: %s, %.0f dB", w.Name, w.Reduction)
}

func pathDerivations(paths []en12354_1.Path, flanks []en12354_1.Flank) []quantity.Derivation {
	var all []quantity.Derivation
	for _, p := range paths {
		all = append(all, quantity.Derivation{Name: "path " + p.Name, Value: float64(p.Reduction), Unit: "dB", Source: en12354_1.Source, Status: quantity.Derived})
	}
	for _, f := range flanks {
		if f.Assumption != "" {
			all = append(all, quantity.Derivation{Name: f.Name, Text: "assumed", Note: f.Assumption, Status: quantity.Estimate})
		}
	}
	return all
}

// What is taken for elements of which the plan says no more than the material.
// Values from memory.
const (
	slab            = 200 * quantity.Millimetre
	concreteDensity = 2300 // kg/m³
	labWall         = 2800 * quantity.Millimetre
)

// assumed returns the flanking elements of a stretch of the wall as far as the
// plan tells of them, with what had to be assumed, and what is missing.
func (in *Input) assumed(along geom.Interval) (flanks []en12354_1.Flank, missing []string) {
	level := in.Plan.LevelByID(in.Wall.Level)
	if level == nil {
		return nil, []string{"the level of the wall"}
	}
	add := func(f en12354_1.Flank, lacks string) {
		if lacks != "" {
			missing = append(missing, lacks)
		} else {
			flanks = append(flanks, f)
		}
	}
	for _, e := range []struct{ name, kind string }{{"floor", level.Floor}, {"soffit", level.Soffit}} {
		if kind := cmp.Or(e.kind, plan.Concrete); kind != plan.Concrete && kind != plan.Screed {
			missing = append(missing, fmt.Sprintf("how the %s (%s) flanks: its weighted normalised flanking level difference", e.name, kind))
			continue
		}
		add(in.heavy(e.name, along.Len(), slab, "a slab of 200 mm of concrete"))
	}
	height := in.Laid.Top.Min(along.From, along.To)
	for i, end := range in.Laid.Ends {
		if at := []quantity.Length{along.From, in.Wall.Length() - along.To}[i]; at > leastEnd {
			continue // the stretch ends at a wall that stands against one face only
		}
		if f, lacks, ok := in.end(end, height); ok {
			add(f, lacks)
		}
	}
	return flanks, missing
}

// leastEnd is how near a room reaches to a wall's end to be flanked by what
// stands there.
const leastEnd = 500 * quantity.Millimetre

// end returns the flank at one end of the wall; false where none is there.
func (in *Input) end(a layout.Abutment, height quantity.Length) (en12354_1.Flank, string, bool) {
	switch a.Kind {
	case layout.Free:
		return en12354_1.Flank{}, "a closed end: sound goes round the free end", true
	case layout.Structure:
		f, lacks := in.structure(a.With, height)
		return f, lacks, true
	case layout.Corner, layout.Tee:
		var b *buildup.BuildUp
		if in.BuildOf != nil {
			b = in.BuildOf(a.With)
		}
		if b == nil {
			return en12354_1.Flank{}, "what wall " + a.With + " is made of, which flanks", true
		}
		return framed(a.With, b, height), "", true
	}
	return en12354_1.Flank{}, "", false
}

// structure returns existing structure as a flank.
func (in *Input) structure(id string, height quantity.Length) (en12354_1.Flank, string) {
	for i := range in.Plan.Structure {
		s := &in.Plan.Structure[i]
		if s.ID == id && s.Material == plan.Concrete && s.Thickness > 0 {
			return in.heavy("structure "+id, height, s.Thickness, fmt.Sprintf("%s mm of concrete", s.Thickness))
		}
	}
	return en12354_1.Flank{}, fmt.Sprintf("how the structure %s flanks: its mass per m² and Rw", cmp.Or(id, "at the wall's end"))
}

// heavy returns a concrete element that runs through at the wall.
func (in *Input) heavy(name string, edge, thickness quantity.Length, what string) (en12354_1.Flank, string) {
	mass := quantity.MassPerArea(concreteDensity * thickness.Metres())
	along, round, err := en12354_1.AtLightWall(mass2(in.Build), mass)
	if err != nil {
		return en12354_1.Flank{}, name + ": " + err.Error() + ", and EN 12354-1 has no other junction for it"
	}
	return en12354_1.Flank{Name: name, Length: edge, Rw: en12354_1.Homogeneous(mass), Along: along, RoundA: round,
		Assumption: fmt.Sprintf("%s, %.0f kg/m², that runs through (mass and Rw by mass from memory)", what, mass)}, ""
}

// mass2 returns the mass of both faces.
func mass2(b *buildup.BuildUp) quantity.MassPerArea {
	var m float64
	for _, board := range slices.Concat(b.A, b.B) {
		m += board.Mass
	}
	return quantity.MassPerArea(m)
}

// framed returns a partition as a flank, with the normalised flanking level
// difference of DIN 4109-33:2016-07, table 26, for faces that run through (as
// transcribed, not verified).
func framed(id string, b *buildup.BuildUp, height quantity.Length) en12354_1.Flank {
	deep := b.FrameDepth() >= 100*quantity.Millimetre && filled(b) >= 80*quantity.Millimetre
	layers := min(len(b.A), mostLayers)
	if len(b.B) > 0 {
		layers = min(layers, len(b.B))
	}
	dnf := map[bool][3]quantity.Decibel{false: {0, 53, 56}, true: {0, 55, 59}}[deep][layers]
	return en12354_1.Flank{Name: "wall " + id, Length: height, Framed: true, DnfW: dnf, LabLength: labWall,
		Assumption: fmt.Sprintf("Dn,f,w %g dB: DIN 4109-33:2016-07, table 26, as transcribed, for %s", dnf, map[bool]string{false: "50 mm studs", true: "100 mm studs with 80 mm of fill"}[deep])}
}
