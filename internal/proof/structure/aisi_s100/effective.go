package aisi_s100

import (
	"math"

	"nogging/internal/quantity"
)

// Effective is an effective section for bending about the major axis.
type Effective struct {
	Major   quantity.SecondMoment
	Modulus quantity.Modulus // at the compressed flange
	Neutral float64          // mm of the neutral axis from the compressed face
}

// holeLimit is the width of a hole over the flat depth of the web below which
// it does not matter for bending (appendix 1, 1.1.3).
const holeLimit = 0.38

// Bending returns the effective section under the stress f at the compressed
// face, with or without the holes in the web. The neutral axis is found by
// iteration.
func (s *Section) Bending(f quantity.Stress, holes bool) Effective {
	return s.from(s.Web.MM()/2, f, holes)
}

// from is Bending with a first guess of the neutral axis.
func (s *Section) from(y float64, f quantity.Stress, holes bool) Effective {
	var e Effective
	for range 200 {
		e = s.at(float64(f), y, holes)
		if math.Abs(e.Neutral-y) < 1e-7 {
			break
		}
		y = e.Neutral
	}
	return e
}

// sums gathers length, first and second moment of lines of sheet, measured
// from the compressed face.
type sums struct{ length, first, second float64 }

func (a *sums) add(length, y, own float64) {
	a.length += length
	a.first += length * y
	a.second += length*y*y + own
}

// upright adds a line along the web from y0 to y1.
func (a *sums) upright(y0, y1 float64) {
	if d := y1 - y0; d > 0 {
		a.add(d, (y0+y1)/2, d*d*d/12)
	}
}

// at returns the effective section for a neutral axis assumed at y.
func (s *Section) at(f, y float64, holes bool) Effective {
	t, flats, depth := s.Thickness.MM(), s.Flats(), s.Web.MM()
	corner := s.Radius.MM() + t
	var a sums
	u, arc := math.Pi*flats.R/2, 2/math.Pi*flats.R
	own := (math.Pi/4 - 2/math.Pi) * flats.R * flats.R * flats.R
	arcs := 1.0
	if s.Lip > 0 {
		arcs = 2
	}
	a.add(arcs*u, corner-arc, arcs*own)
	a.add(arcs*u, depth-corner+arc, arcs*own)
	flange, lip := s.flange(f, y)
	a.add(flange, t/2, 0)
	a.add(flats.Flange, depth-t/2, 0)
	a.upright(corner, corner+lip)
	a.upright(depth-corner-flats.Lip, depth-corner)
	s.web(&a, f, y, holes)
	c := a.first / a.length
	major := t * (a.second - a.length*c*c)
	return Effective{Major: quantity.SecondMoment(major), Modulus: quantity.Modulus(major / c), Neutral: c}
}

// flange returns the effective flat widths of the compressed flange and of its
// lip (appendix 1, 1.3; 1.2.1 for plain flanges).
func (s *Section) flange(f, y float64) (width, lip float64) {
	t, flats := s.Thickness.MM(), s.Flats()
	w := flats.Flange
	if s.Lip <= 0 {
		return w * reduction(w, t, 0.43, f), 0
	}
	own := s.lip(f, y)
	limit := 1.28 * math.Sqrt(E/f)
	ratio := w / t
	if ratio <= 0.328*limit {
		return w, own
	}
	x := ratio/limit - 0.328
	needed := math.Min(399*x*x*x, 115*ratio/limit+5) * t * t * t * t
	has := flats.Lip * flats.Lip * flats.Lip * t / 12
	share := math.Min(has/needed, 1)
	n := math.Max(0.582-ratio/(4*limit), 1.0/3)
	k := 3.57*math.Pow(share, n) + 0.43
	if d := s.Lip.MM() / w; d > 0.25 {
		k = (4.82-5*d)*math.Pow(share, n) + 0.43
	}
	return w * reduction(w, t, math.Min(k, 4), f), own * share
}

// lip returns d's, the effective flat of the lip before it is reduced for its
// stiffness (appendix 1, 1.2.2(a)).
func (s *Section) lip(f, y float64) float64 {
	flats := s.Flats()
	corner := s.Radius.MM() + s.Thickness.MM()
	near, far := f*(y-corner)/y, f*(y-corner-flats.Lip)/y
	k := 0.578 / (math.Max(far/near, 0) + 0.34)
	return flats.Lip * reduction(flats.Lip, s.Thickness.MM(), k, near)
}

// web adds the effective parts of the web (appendix 1, 1.1.2, and 1.1.3 for
// holes).
func (s *Section) web(a *sums, f, y float64, holes bool) {
	t, h, depth := s.Thickness.MM(), s.Flats().Web, s.Web.MM()
	corner := (depth - h) / 2
	f1, f2 := f*(y-corner)/y, f*(depth-corner-y)/y
	hole := s.Hole.MM()
	if holes && hole/h >= holeLimit {
		strip := (h - hole) / 2
		a.upright(corner, corner+strip*reduction(strip, t, 0.43, f1))
		a.upright(depth-corner-strip, depth-corner)
		return
	}
	psi := f2 / f1
	k := 4 + 2*(1+psi)*(1+psi)*(1+psi) + 2*(1+psi)
	be := h * reduction(h, t, k, f1)
	b1 := be / (3 + psi)
	b2 := be - b1
	switch {
	case depth/s.Channel.Flange.MM() > 4:
		b2 = be/(1+psi) - b1
	case psi > 0.236:
		b2 = be / 2
	}
	if compressed := y - corner; b1+b2 >= compressed {
		a.upright(corner, depth-corner)
		return
	}
	a.upright(corner, corner+b1)
	a.upright(y-b2, depth-corner)
}

// Local returns the allowable moment for yielding and local buckling with holes
// (F3.1), and the effective section at the yield strength.
func (s *Section) Local() (quantity.Moment, Effective) {
	e := s.Bending(s.Fy, true)
	return quantity.Moment(float64(s.Fy) * float64(e.Modulus) / OmegaBending / 1000), e
}

// Deflecting returns the second moment of area for deflections: that of the
// section without holes under the stress of the allowable moment (procedure I
// of appendix 1, L1.1).
func (s *Section) Deflecting() quantity.SecondMoment {
	local, e := s.Local()
	e = s.Bending(s.Fy, false)
	for range 200 {
		stress := quantity.Stress(float64(local) * 1000 * e.Neutral / float64(e.Major))
		next := s.from(e.Neutral, min(stress, s.Fy), false)
		done := math.Abs(float64(next.Major-e.Major)) < 1e-6*float64(e.Major)
		if e = next; done {
			break
		}
	}
	return e.Major
}
