package aisi_s100

import (
	"math"

	"nogging/internal/quantity"
)

// flangePart holds the properties of the compressed flange with its lip, about
// its own centroid, by which the web and the flange turn about their corner
// (appendix 2, table 2.3.3-1, sharp corners along the middle of the sheet).
type flangePart struct {
	area, ix, iy, ixy, j float64
	x0, y0, hx           float64 // x from the centroid to the shear centre, y to it, x from the centroid to the web
}

func (s *Section) flangePart() flangePart {
	t := s.Thickness.MM()
	b, d := s.Channel.Flange.MM()-t, s.Lip.MM()-t/2
	area := (b + d) * t
	x, y := -(b*b+2*d*b)/(2*(b+d)), -d*d/(2*(b+d))
	return flangePart{
		area: area,
		ix:   t * (t*t*b*b + 4*b*d*d*d + t*t*b*d + d*d*d*d) / (12 * (b + d)),
		iy:   t * (b*b*b*b + 4*d*b*b*b) / (12 * (b + d)),
		ixy:  t * b * b * d * d / (4 * (b + d)),
		j:    (b*t*t*t + d*t*t*t) / 3,
		x0:   b * b / (2 * (b + d)), y0: y, hx: x,
	}
}

// Distortional returns the allowable moment for distortional buckling (F4, with
// the critical moment of appendix 2, 2.3.3.3, free to buckle in its own length
// and without help from boards). Plain channels have no lip to distort: 0.
func (s *Section) Distortional() quantity.Moment {
	if s.Lip <= 0 {
		return 0
	}
	modulus := float64(s.Gross().Modulus)
	yield := float64(s.Fy) * modulus
	critical := s.distortionalStress() * modulus
	nominal := yield
	if lambda := math.Sqrt(yield / critical); lambda > 0.673 {
		root := math.Sqrt(critical / yield)
		nominal = (1 - 0.22*root) * root * yield
	}
	return quantity.Moment(nominal / OmegaBending / 1000)
}

// distortionalStress returns Fcrd in N/mm².
func (s *Section) distortionalStress() float64 {
	t := s.Thickness.MM()
	h := s.Web.MM() - t
	f := s.flangePart()
	arm := f.x0 - f.hx
	plate := 1 - Poisson*Poisson
	bend := f.ix*arm*arm - f.ixy*f.ixy/f.iy*arm*arm
	length := math.Pow(4*math.Pow(math.Pi, 4)*h*plate/(t*t*t)*bend+math.Pow(math.Pi*h, 4)/720, 0.25)
	p := math.Pi / length
	p2 := p * p
	flangeStiff := p2*p2*E*bend + p2*G*f.j
	flangeLoad := p2 * (f.area*(arm*arm*(f.ixy/f.iy)*(f.ixy/f.iy)-2*f.y0*arm*(f.ixy/f.iy)+f.hx*f.hx+f.y0*f.y0) + f.ix + f.iy)
	webStiff := E * t * t * t / (12 * plate) * (3/h + p2*19*h/60 + p2*p2*h*h*h/240)
	return (flangeStiff + webStiff) / (flangeLoad + webLoad(h, t, length))
}

// webLoad returns the web's geometric stiffness in pure bending (ξ = 2).
func webLoad(h, t, length float64) float64 {
	const xi = 2.0
	q := length / h
	pi2 := math.Pi * math.Pi
	above := (45360*(1-xi)+62160)*q*q + 448*pi2 + (53+3*(1-xi))*pi2*pi2/(q*q)
	below := pi2*pi2 + 28*pi2*q*q + 420*q*q*q*q
	return h * t * pi2 / 13440 * above / below
}
