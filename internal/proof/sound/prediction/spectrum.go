package prediction

import (
	"math"

	"nogging/internal/proof/sound/band"
)

// Ceiling is the highest level in any band that is believed: the highest that
// was found published for such walls (Bies, Hansen and Howard, Engineering Noise
// Control, 5th ed. 2017, table 7.6, has 74 dB). Above it sound goes round the
// wall, in laboratories too.
const Ceiling = 74

// Double returns the spectrum of a wall of two faces. Studs are nil where no
// stud touches both faces. It allocates nothing.
func Double(a, b *Leaf, c *Cavity, s *Studs) band.Spectrum {
	var through [all]float64
	resonance := float64(c.Resonance(a, b))
	mass := 1 / ((a.mass + b.mass) * (a.mass + b.mass))
	for i, f := range frequency {
		if f <= resonance {
			through[i] = forced[i] * mass
		} else {
			through[i] = a.through[i] * b.through[i] * c.through[i]
		}
	}
	if s != nil {
		s.bridge(a, b, resonance, &through)
	}
	return levels(&through)
}

// bridge adds what the studs let through above the resonance.
func (s *Studs) bridge(a, b *Leaf, resonance float64, through *[all]float64) {
	low, high := min(a.critical, b.critical), max(a.critical, b.critical)
	g := a.mass*b.root + b.mass*a.root
	product := a.mass * b.mass
	beyond := math.Pi * high / (8 * a.loss * b.loss) * math.Sqrt(low/high)
	for i, f := range frequency {
		if f <= resonance {
			continue
		}
		coincidence := beyond / f
		if f < 0.9*low {
			coincidence = a.near[i] * b.near[i]
			coincidence *= coincidence * s.radiation
		}
		spring := s.soft[i]*product - g
		through[i] += s.strength[i] * coincidence / (g*g + spring*spring)
	}
}

// Alone returns the spectrum of one face with nothing behind it.
func Alone(l *Leaf) band.Spectrum { return levels(&l.through) }

// levels turns what passes at each frequency into levels in bands.
func levels(through *[all]float64) band.Spectrum {
	var s band.Spectrum
	for i := range s {
		t := through[i*points : i*points+points]
		s[i] = min(Ceiling, band.Level((t[0]+t[1]+t[2])/points))
	}
	return s
}

// Envelope returns a face that is at least as good as each of some faces, in
// every band, for Bound. There must be at least one.
func Envelope(leaves ...*Leaf) *Leaf {
	e := *leaves[0]
	for _, l := range leaves[1:] {
		e.mass, e.root = max(e.mass, l.mass), max(e.root, l.root)
		for i := range e.through {
			e.through[i] = min(e.through[i], l.through[i])
		}
	}
	return &e
}

// Bound returns a spectrum that no wall with these faces or worse ones exceeds
// in any band with these studs, or whatever its studs where they are nil, nor one
// with a cavity of less depth or less fill. It falls with no mass, depth or fill
// that is added, which Double may do by a decibel or two beside the resonance; a
// search may cut off by it.
func Bound(a, b *Leaf, c *Cavity, s *Studs) band.Spectrum {
	var through [all]float64
	mass := 1 / ((a.mass + b.mass) * (a.mass + b.mass))
	for i := range through {
		through[i] = a.through[i] * b.through[i] * c.bound[i]
	}
	if s != nil {
		s.least(a, b, &through)
	}
	for i := range through {
		through[i] = min(forced[i]*mass, through[i])
	}
	return levels(&through)
}

// least adds what the studs let through at least. Faces of more mass or of a
// higher critical frequency make both terms below the line greater, and the
// factor for coincidence, which is above one throughout, is left out.
func (s *Studs) least(a, b *Leaf, through *[all]float64) {
	g := a.mass*b.root + b.mass*a.root
	product := a.mass * b.mass
	for i := range frequency {
		spring := max(s.soft[i]*product, g)
		through[i] += s.strength[i] / (g*g + spring*spring)
	}
}
