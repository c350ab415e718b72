// Package section gives the gross section properties of cold-formed channels,
// with and without lips, and of two of them boxed into each other.
//
// It takes outside dimensions and gives areas and second moments by the linear
// method with exact corner arcs (AISI Cold-Formed Steel Design Manual, Part I),
// which EN 1993-1-3 5.1 allows as well. The major axis is at right angles to
// the web: the one about which a stud bends under load on the wall's face.
package section

import (
	"math"

	"nogging/internal/quantity"
)

// Channel is the shape of one cold-formed channel, by its outside dimensions.
type Channel struct {
	Web       quantity.Length // outside depth
	Flange    quantity.Length // outside width
	Lip       quantity.Length // outside depth of the lips; 0 for a plain channel
	Thickness quantity.Length // of the steel
	Radius    quantity.Length // of the corners, inside
}

// Gross is the gross section of a channel or a pair.
type Gross struct {
	Area     quantity.SectionArea
	Major    quantity.SecondMoment // about the axis at right angles to the web
	Minor    quantity.SecondMoment // about the axis parallel to the web
	Modulus  quantity.Modulus      // for bending about the major axis
	Centroid float64               // mm from the middle of the web's sheet
}

// Flats are the lengths in mm between the corners, and the corners' middle
// radius.
type Flats struct{ Web, Flange, Lip, R float64 }

// Flats returns the flat parts of the section, none below 0.
func (c Channel) Flats() Flats {
	t, corner := c.Thickness.MM(), c.Radius.MM()+c.Thickness.MM()
	f := Flats{Web: c.Web.MM() - 2*corner, Flange: c.Flange.MM() - corner, R: c.Radius.MM() + t/2}
	if c.Lip > 0 {
		f.Flange -= corner
		f.Lip = max(c.Lip.MM()-corner, 0)
	}
	f.Web, f.Flange = max(f.Web, 0), max(f.Flange, 0)
	return f
}

// Gross returns the gross section.
func (c Channel) Gross() Gross {
	t, f := c.Thickness.MM(), c.Flats()
	a, b, l, r := f.Web, f.Flange, f.Lip, f.R
	u, lipped := math.Pi*r/2, 0.0
	if c.Lip > 0 {
		lipped = 1
	}
	arc, own := 2/math.Pi*r, (math.Pi/4-2/math.Pi)*r*r*r // distance of an arc's centroid from its centre; own second moment over t
	area := t * (a + 2*b + 2*u + lipped*(2*l+2*u))
	top := a/2 + r
	major := 2 * t * (a*a*a/24 + b*top*top + u*(a/2+arc)*(a/2+arc) + own +
		lipped*(l*l*l/12+l/4*(a-l)*(a-l)+u*(a/2+arc)*(a/2+arc)+own))
	x := 2 * t / area * (b*(b/2+r) + u*(r-arc) + lipped*(u*(b+r+arc)+l*(b+2*r)))
	minor := 2*t*(b*(b/2+r)*(b/2+r)+b*b*b/12+u*(r-arc)*(r-arc)+own+
		lipped*(l*(b+2*r)*(b+2*r)+u*(b+r+arc)*(b+r+arc)+own)) - area*x*x
	return Gross{
		Area: quantity.SectionArea(area), Major: quantity.SecondMoment(major), Minor: quantity.SecondMoment(minor),
		Modulus: quantity.Modulus(major / (c.Web.MM() / 2)), Centroid: x,
	}
}

// Boxed returns the gross section of two equal channels boxed into each other,
// flange in flange, so that their webs stand one flange apart.
func (c Channel) Boxed() Gross {
	g := c.Gross()
	arm := (c.Flange.MM()-c.Thickness.MM())/2 - g.Centroid
	return Gross{
		Area: 2 * g.Area, Major: 2 * g.Major, Modulus: 2 * g.Modulus,
		Minor: 2 * (g.Minor + quantity.SecondMoment(float64(g.Area)*arm*arm)), Centroid: (c.Flange.MM() - c.Thickness.MM()) / 2,
	}
}
