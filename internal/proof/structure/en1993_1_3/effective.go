package en1993_1_3

import "math"

// minLip is c/b below which a lip is ignored (5.2(2)).
const minLip = 0.2

// edge is the outcome for a flange in compression with its lip.
type edge struct {
	e1, e2, lip float64 // effective widths beside the web, beside the lip, and of the lip
	chi         float64 // reduction of the thickness of the stiffener, which is e2 and the lip
}

// edge returns the effective flange and lip (5.5.3.2), with the iteration of
// 5.5.3.2(10). kf is 0 where only one flange is compressed and 1 for uniform
// compression of a section with equal flanges.
func (s *Section) edge(kf float64) edge {
	if s.Lip < minLip*s.Compressed {
		rho := outstand(s.slenderness(s.Compressed, 0.43)) // EN 1993-1-5 table 4.2
		return edge{e1: rho * s.Compressed, chi: 1}
	}
	e := edge{chi: 1}
	for range 100 {
		before := e.chi
		e = s.stiffened(before, kf)
		if math.Abs(e.chi-before) < 1e-9 {
			break
		}
	}
	e.e1 = s.half(1) // the part beside the web bears fy (figure 5.10)
	return e
}

// stiffened returns one step of the iteration: effective widths at the stress
// χ fy, and from them the next χ.
func (s *Section) stiffened(chi, kf float64) edge {
	reduced := math.Sqrt(chi)
	half := s.half(reduced)
	lip := outstand(s.slenderness(s.Lip, lipFactor(s.Lip/s.Compressed))*reduced) * s.Lip
	t, sum := s.T, half+lip
	up := lip * lip / (2 * sum) // centroid of the stiffener from the flange
	area := t * sum
	second := half*t*t*t/12 + lip*lip*lip*t/12 + half*t*up*up + lip*t*(lip/2-up)*(lip/2-up)
	b1 := s.Compressed - half*half/(2*sum)
	b2 := s.Other
	if kf > 0 {
		b2 = b1
	}
	spring := E * t * t * t / (4 * (1 - Poisson*Poisson)) / (b1*b1*s.Web + b1*b1*b1 + 0.5*b1*b2*s.Web*kf)
	critical := 2 * math.Sqrt(spring*E*second) / area
	return edge{e2: half, lip: lip, chi: distortional(math.Sqrt(s.Fy / critical))}
}

// half returns half the effective width of the compressed flange; reduced is
// the root of the share of fy that it bears.
func (s *Section) half(reduced float64) float64 {
	return internal(s.slenderness(s.Compressed, 4)*reduced, 1) * s.Compressed / 2
}

// lipFactor returns the buckling factor of a single lip (5.5.3.2(5)).
func lipFactor(ratio float64) float64 {
	if ratio <= 0.35 {
		return 0.5
	}
	return 0.5 + 0.83*math.Cbrt((ratio-0.35)*(ratio-0.35))
}

// distortional returns χd (5.5.3.1(7)).
func distortional(lambda float64) float64 {
	switch {
	case lambda <= 0.65:
		return 1
	case lambda < 1.38:
		return 1.47 - 0.723*lambda
	}
	return 0.66 / lambda
}

// strip is a straight part of an effective section: its middle, its length and
// whether it runs across the web's direction.
type strip struct {
	x, y, length, t float64
	across          bool // parallel to the flanges
}

// strips is a section of at most nine strips; y runs from the compressed
// flange.
type strips struct {
	list [9]strip
	n    int
}

func (p *strips) add(s strip) {
	if s.length > 0 {
		p.list[p.n] = s
		p.n++
	}
}

// properties returns area, centroid and second moments.
func (p *strips) properties() (area, cy, major, minor float64) {
	var sx, sy float64
	for _, s := range p.list[:p.n] {
		a := s.length * s.t
		area += a
		sx += a * s.x
		sy += a * s.y
	}
	cx := sx / area
	cy = sy / area
	for _, s := range p.list[:p.n] {
		a := s.length * s.t
		along, through := a*s.length*s.length/12, a*s.t*s.t/12
		if s.across {
			along, through = through, along
		}
		major += along + a*(s.y-cy)*(s.y-cy)
		minor += through + a*(s.x-cx)*(s.x-cx)
	}
	return area, cy, major, minor
}

// flange adds a compressed flange at y with its lip pointing towards y+lip
// (inward 1) or y-lip (inward -1).
func (p *strips) flange(s *Section, e edge, y, inward float64) {
	p.add(strip{x: e.e1 / 2, y: y, length: e.e1, t: s.T, across: true})
	p.add(strip{x: s.Compressed - e.e2/2, y: y, length: e.e2, t: s.T * e.chi, across: true})
	p.add(strip{x: s.Compressed, y: y + inward*e.lip/2, length: e.lip, t: s.T * e.chi})
}

// tension adds the flange in tension, which is fully effective.
func (p *strips) tension(s *Section) {
	p.add(strip{x: s.Other / 2, y: s.Web, length: s.Other, t: s.T, across: true})
	p.add(strip{x: s.Other, y: s.Web - s.Lip/2, length: s.Lip, t: s.T})
}

// Gross returns area and second moment of the whole section with sharp corners.
func (s *Section) Gross() (area, major float64) {
	var p strips
	p.flange(s, edge{e1: s.Compressed, lip: s.Lip, chi: 1}, 0, 1)
	p.add(strip{y: s.Web / 2, length: s.Web, t: s.T})
	p.tension(s)
	area, _, major, _ = p.properties()
	return area, major
}

// Bending returns the effective section for bending about the major axis with
// the flange Compressed in compression at the yield strength.
func (s *Section) Bending() Effective {
	e := s.edge(0)
	var gross strips // effective flange, whole web (EN 1993-1-5 4.4(3))
	gross.flange(s, e, 0, 1)
	gross.add(strip{y: s.Web / 2, length: s.Web, t: s.T})
	gross.tension(s)
	_, hc, _, _ := gross.properties()

	var p strips
	p.flange(s, e, 0, 1)
	e1, e2 := s.web(hc)
	p.add(strip{y: e1 / 2, length: e1, t: s.T})
	lower := s.Web - hc + e2
	p.add(strip{y: s.Web - lower/2, length: lower, t: s.T})
	p.tension(s)
	area, cy, major, _ := p.properties()
	beside := e.e2
	if beside == 0 {
		beside = e.e1
	}
	return Effective{Area: area, Major: major, Neutral: cy, WC: major / cy, WT: major / (s.Web - cy), Chi: e.chi, FlangeE: beside}
}

// web returns the effective parts of the web beside the compressed flange and
// beside the neutral axis, which lies hc from that flange (EN 1993-1-5 table
// 4.1).
func (s *Section) web(hc float64) (e1, e2 float64) {
	psi := (hc - s.Web) / hc
	k := 7.81 - 6.29*psi + 9.78*psi*psi
	if psi <= -1 {
		k = 5.98 * (1 - psi) * (1 - psi)
	}
	whole := internal(s.slenderness(s.Web, k), psi) * hc
	return 0.4 * whole, 0.6 * whole
}

// Compression returns the effective section in uniform compression of a
// section with equal flanges.
func (s *Section) Compression() Effective {
	e := s.edge(1)
	half := internal(s.slenderness(s.Web, 4), 1) * s.Web / 2
	var p strips
	p.flange(s, e, 0, 1)
	p.add(strip{y: half / 2, length: half, t: s.T})
	p.add(strip{y: s.Web - half/2, length: half, t: s.T})
	p.flange(s, e, s.Web, -1)
	area, cy, major, minor := p.properties()
	return Effective{Area: area, Major: major, Minor: minor, Neutral: cy, WC: major / cy, WT: major / (s.Web - cy), Chi: e.chi, FlangeE: e.e2}
}
