// Package choice finds what walls can be made of for what is asked of them. It
// takes a demand, the catalogue and the practice; enumerates frames, boards and
// fills; and gives the build-ups that no other betters in every measure, the one
// that wins by the measure asked for, and what stands in the way of the others.
//
// A build-up is held against each need by the methods of package proof and the
// packages below it, and sorted by how far that carries (Standing): nothing is
// called proven that the full proof of a wall would not call so. The search leaves out
// only what cannot be on the front (see search.go); a test holds it against
// trying everything. This is no certificate: the local code and a licensed
// professional decide.
package choice

import (
	"fmt"
	"slices"

	"nogging/internal/buildup"
	"nogging/internal/plan"
	"nogging/internal/proof/moisture/din18534_1"
	"nogging/internal/proof/thermal"
	"nogging/internal/quantity"
)

// Length is a length in a choice.
type Length = quantity.Length

// Standing is how far it is shown that a build-up does what is asked.
type Standing int

// How far it is shown that a build-up does what is asked, the firmest first.
const (
	Proven   Standing = iota // by calculation within its scope, or by test evidence
	Expected                 // by an estimate or a record that leaves points open; they are named
	Unknown                  // nothing tells
	Fails
)

var standingWords = [...]string{"proven", "expected", "unknown", "fails"}

// String names the standing.
func (s Standing) String() string { return standingWords[s] }

// MarshalText writes the standing's name.
func (s Standing) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Demand is what is asked of a wall. What is empty or 0 is not asked.
type Demand struct {
	Require   plan.Requirements `json:"require"` // but for Wet
	Wet       [2]string         `json:"wet"`     // water action classes at faces A and B
	Height    Length            `json:"height"`
	Head      string            `json:"head,omitempty"`      // plan.HeadRigid or plan.HeadDeflection; rigid if empty
	HeadMove  Length            `json:"head_move,omitempty"` // movement of a sliding head
	Thickness Length            `json:"thickness,omitempty"` // the greatest that there is room for
	Service   Length            `json:"service,omitempty"`   // diameter of what has to run along the wall in its cavity
	Frames    []plan.FrameKind  `json:"frames,omitempty"`    // that may be taken; all with two faces if empty
}

// twoFaced are the frames among which a wall between two rooms is chosen.
var twoFaced = []plan.FrameKind{plan.Single, plan.TwinIndependent, plan.TwinBraced}

func (d *Demand) frames() []plan.FrameKind {
	if len(d.Frames) == 0 {
		return twoFaced
	}
	return d.Frames
}

// Measure is a measure by which build-ups are ranked.
type Measure int

// The measures, for a square metre of wall.
const (
	Thickness Measure = iota // finished, mm
	Mass                     // kg/m², without screws, compound and finishes
	Labour                   // h/m², by the practice's norms
	Carbon                   // kg CO2e/m², modules A1 to A3
	Cost                     // in the user's currency
	measures
)

var measureNames = [measures]string{"thickness", "mass", "labour", "carbon", "cost"}
var measureUnits = [measures]string{"mm", "kg/m²", "h/m²", "kg CO2e/m²", "per m²"}

// String names the measure.
func (m Measure) String() string { return measureNames[m] }

// Unit is the unit of the measure's values.
func (m Measure) Unit() string { return measureUnits[m] }

// ParseMeasure reads a measure by its name.
func ParseMeasure(name string) (Measure, bool) {
	i := slices.Index(measureNames[:], name)
	return Measure(max(i, 0)), i >= 0
}

// MeasureNames lists the names of the measures.
func MeasureNames() []string { return measureNames[:] }

// Candidate is a build-up with its measures and its standing to each need.
type Candidate struct {
	Build    *buildup.BuildUp
	Measures Measures
	Needs    []Need
}

// Need is how a candidate stands to one thing that is asked.
type Need struct {
	About    string   `json:"about"` // fire, sound, structure, duty, moisture, heat, thickness, services
	Asked    string   `json:"asked"`
	Standing Standing `json:"standing"`
	Got      string   `json:"got,omitempty"`  // what the build-up reaches
	By       string   `json:"by,omitempty"`   // by how much it falls short, or in what it is outside
	Open     []string `json:"open,omitempty"` // what is missing for a proof
}

// Standing is that of the need in which the candidate stands worst.
func (c *Candidate) Standing() Standing {
	worst := Proven
	for _, n := range c.Needs {
		worst = max(worst, n.Standing)
	}
	return worst
}

// Failed lists the needs that the candidate fails.
func (c *Candidate) Failed() []Need {
	var list []Need
	for _, n := range c.Needs {
		if n.Standing == Fails {
			list = append(list, n)
		}
	}
	return list
}

// asked is a demand with its texts read.
type asked struct {
	Demand
	fire     plan.FireClass
	sound    quantity.SoundRating
	inField  bool // sound is asked between rooms; the wall alone is looked at
	duty     plan.Duty
	heat     quantity.Transmittance
	wet      [2]din18534_1.Class
	sliding  bool
	withFire bool
}

// Check says what of a demand cannot be understood, one error each.
func (d *Demand) Check() []error {
	_, errs := d.read()
	return errs
}

// Limits of what a wall may be asked for.
const (
	leastHeight = 1800 * quantity.Millimetre
	mostHeight  = 30 * quantity.Metre
)

func (d *Demand) read() (asked, []error) {
	a := asked{Demand: *d, sliding: d.Head == plan.HeadDeflection, withFire: d.Require.Fire != ""}
	var errs []error
	note := func(err error) {
		if err != nil {
			errs = append(errs, err)
		}
	}
	var err error
	if a.withFire {
		a.fire, err = plan.ParseFire(d.Require.Fire)
		note(err)
	}
	if d.Require.Sound != "" {
		a.sound, err = quantity.ParseSound(d.Require.Sound)
		note(err)
		a.inField = a.sound.Descriptor.InField()
		a.sound = alone(a.sound)
	}
	if d.Require.Duty != "" {
		var ok bool
		if a.duty, ok = plan.ParseDuty(d.Require.Duty); !ok {
			note(fmt.Errorf("%q is no duty: write one of zone 1, zone 2, LD, MD, HD, SD", d.Require.Duty))
		}
	}
	if d.Require.UValue != "" {
		a.heat, err = thermal.ParseU(d.Require.UValue)
		note(err)
	}
	for i, class := range d.Wet {
		if class != "" {
			a.wet[i], err = din18534_1.Parse(class)
			note(err)
		}
	}
	if d.Height < leastHeight || d.Height > mostHeight {
		note(fmt.Errorf("a height of %s mm is not that of a wall: write millimetres from %s to %s", d.Height, leastHeight, mostHeight))
	}
	if d.Thickness < 0 || d.Service < 0 {
		note(fmt.Errorf("thickness and service cannot be below 0: write millimetres"))
	}
	for _, k := range d.Frames {
		if !slices.Contains(plan.FrameKinds(), k) {
			note(fmt.Errorf("%q is no kind of frame: write one of %v", k, plan.FrameKinds()))
		}
	}
	return a, errs
}

// alone returns the rating in a laboratory of the wall by which one between rooms
// is looked for.
func alone(r quantity.SoundRating) quantity.SoundRating {
	switch r.Descriptor {
	case quantity.FieldRw, quantity.FieldD:
		r.Descriptor = quantity.LabRw
	case quantity.ASTC, quantity.NIC, quantity.NNIC:
		r.Descriptor = quantity.LabSTC
	}
	return r
}
