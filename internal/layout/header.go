package layout

import (
	"fmt"
	"math"
	"sort"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// section is what the bending of a header needs to know of its cross section,
// in mm and N/mm². A header lies flat: its web is level, its legs stand.
type section struct {
	inertia float64 // mm⁴
	modulus float64 // mm³, at the fibre that is compressed
	usable  float64 // share of the yield strength to which its thinnest part may be stressed (reduced stress method, EN 1993-1-5 section 10)
}

// youngs is the modulus of elasticity of steel in N/mm² (EN 1993-1-1, 3.2.6).
const youngs = 210_000

// channelFlat is the section of a U that lies on its web, by the linear method:
// sharp corners, all the sheet in its middle line. Its legs are compressed at
// their free edges.
func channelFlat(web, leg, t, yield float64) section {
	b, c := web-t, leg-t/2
	area := t * (b + 2*c)
	y := 2 * t * c * (c / 2) / area // of the centroid, from the web
	inertia := 2*(t*c*c*c/12+t*c*(c/2-y)*(c/2-y)) + t*b*y*y
	psi := -y / (c - y)
	k := 0.57 - 0.21*psi + 0.07*psi*psi // EN 1993-1-5 Table 4.2, from memory
	return section{inertia, inertia / (c - y), outstand(slenderness(c, t, k, yield))}
}

// boxFlat is the section of two U pushed into each other, legs to legs.
func boxFlat(web, leg, t, yield float64) section {
	b, c := web-t, leg-t/2
	inertia := 2*t*b*(c/2)*(c/2) + 4*t*c*c*c/12
	return section{inertia, inertia / (c / 2), internalPart(slenderness(b, t, 4, yield))}
}

// slenderness is that of a flat part for plate buckling (EN 1993-1-5, 4.4(2),
// from memory).
func slenderness(width, t, k, yield float64) float64 {
	return width / t / (28.4 * math.Sqrt(235/yield) * math.Sqrt(k))
}

// outstand is the reduction for a part that is held along one edge (EN 1993-1-5,
// 4.4(2), equation 4.3, from memory).
func outstand(l float64) float64 {
	if l <= 0.748 {
		return 1
	}
	return (l - 0.188) / (l * l)
}

// internalPart is the reduction for a part that is held along both edges and
// evenly compressed (EN 1993-1-5, 4.4(2), equation 4.2, from memory).
func internalPart(l float64) float64 {
	if l <= 0.673 {
		return 1
	}
	return (l - 0.22) / (l * l)
}

// carried is what a header carries: q in N/mm along it, and p in N in its middle.
type carried struct{ q, p float64 }

// moment is the greatest bending moment in N mm of a beam on two supports, from
// any table of beam formulae: q L²/8 + P L/4.
func (c carried) moment(span float64) float64 { return c.q*span*span/8 + c.p*span/4 }

// sag is the deflection in mm of its middle, likewise: 5 q L⁴/384 EI + P L³/48 EI.
func (c carried) sag(span, inertia float64) float64 {
	return (5*c.q*math.Pow(span, 4)/384 + c.p*math.Pow(span, 3)/48) / (youngs * inertia)
}

// limits is what the practice asks of headers.
type limits struct{ yield, safety, sag float64 }

// holds reports whether a header of the section carries its load over the span.
func (l limits) holds(s section, c carried, span float64) bool {
	return l.safety*c.moment(span) <= s.usable*l.yield*s.modulus && c.sag(span, s.inertia) <= span/l.sag
}

// widest returns the greatest span in mm over which a section carries the load,
// to the millimetre.
func (l limits) widest(s section, c carried) float64 {
	const most = 20_000
	return float64(sort.Search(most, func(span int) bool { return !l.holds(s, c, float64(span+1)) }))
}

// headerChoice is how a header is made.
type headerChoice struct {
	profile *catalogue.Profile
	boxed   bool // two of them, one in the other
	stiff   bool // opening studs between angles
	section section
}

func (h headerChoice) words() string {
	text := h.profile.ID
	if h.boxed {
		text = "two " + text + ", one in the other"
	}
	if h.stiff {
		text += ", between angles"
	}
	return text
}

// headers lists the headers to choose from, the simplest first.
func (w *wallLayout) headers() []headerChoice {
	track, stiff, yield := w.spec.Track, w.spec.OpeningStud, w.pr.SteelYield.Value
	list := []headerChoice{
		{profile: track, section: channelFlat(track.Web.MM(), track.Flange.MM(), track.Thickness.MM(), yield)},
		{profile: track, boxed: true, section: boxFlat(track.Web.MM(), track.Flange.MM(), track.Thickness.MM(), yield)},
	}
	if stiff != nil && stiff.Kind == catalogue.OpeningStud {
		web, leg, sheet := stiff.Web.MM(), stiff.Flange.MM(), stiff.Thickness.MM()
		list = append(list,
			headerChoice{profile: stiff, stiff: true, section: channelFlat(web, leg, sheet, yield)},
			headerChoice{profile: stiff, stiff: true, boxed: true, section: boxFlat(web, leg, sheet, yield)})
	}
	return list
}

// gravity is the standard acceleration of fall in m/s² (ISO 80000-3).
const gravity = 9.80665

// overHeader returns what the header of an opening carries: the boards of the
// faces that stand on the line, the cripples over it, and what hangs from it.
func (f *framer) overHeader(o *Opening) carried {
	bay := o.Bay()
	high := max(f.out.Top.Max(bay.From, bay.To)-o.Top(), 0).Metres()
	perArea := 0.0
	for _, face := range f.facesOn() {
		for _, b := range f.spec.Boards(face) {
			perArea += b.Mass
		}
	}
	perArea += f.spec.Stud.Mass / f.spec.Spacing.Metres()
	return carried{q: perArea * high * gravity / 1000, p: o.HungMass * gravity / float64(len(f.body.lineOffsets()))}
}

// facesOn lists the faces whose boards the line carries.
func (f *framer) facesOn() []plan.Face {
	switch offsets := f.body.lineOffsets(); {
	case len(offsets) == 1:
		return []plan.Face{plan.FaceA, plan.FaceB}
	case f.out.FrameLines[f.line].Offset == offsets[0]:
		return []plan.Face{plan.FaceA}
	}
	return []plan.Face{plan.FaceB}
}

// chooseHeader returns the simplest header that carries what stands over the
// opening, with the reason; the strongest, and a finding, where none does.
func (f *framer) chooseHeader(o *Opening) (headerChoice, string) {
	need := f.overHeader(o)
	rules := limits{f.pr.SteelYield.Value, f.pr.HeaderSafety.Value, f.pr.HeaderSag.Value}
	span := o.Bay().Len().MM()
	list := f.headers()
	best, widest := list[0], -1.0
	for _, h := range list {
		if rules.holds(h.section, need, span) {
			return h, fmt.Sprintf("header: %s carries %.0f N/m%s over %s mm: sags %.1f of %.1f mm, strength used to %.0f %%",
				h.words(), need.q*1000, hung(need), mm(o.Bay().Len()), need.sag(span, h.section.inertia), span/rules.sag,
				100*rules.safety*need.moment(span)/(h.section.usable*rules.yield*h.section.modulus))
		}
		if most := rules.widest(h.section, need); most > widest {
			best, widest = h, most
		}
	}
	f.tellHeader(o, best, need, widest)
	return best, fmt.Sprintf("header: %s is too weak for %.0f N/m%s over %s mm", best.words(), need.q*1000, hung(need), mm(o.Bay().Len()))
}

func hung(c carried) string {
	if c.p == 0 {
		return ""
	}
	return fmt.Sprintf(" and %.0f N in the middle", c.p)
}

// tellHeader tells of an opening that no header of the catalogue spans, once for
// both frames of a twin frame.
func (f *framer) tellHeader(o *Opening, best headerChoice, need carried, widest float64) {
	if f.toldOf("header-too-weak", o.ID) {
		return
	}
	f.findOpening(*o, finding.Warning, "header-too-weak",
		words.F("is framed %s mm wide under %.0f N/m%s; the strongest header, %s, carries that over %.0f mm, %.0f mm less",
			mm(o.Bay().Len()), need.q*1000, hung(need), best.words(), widest, o.Bay().Len().MM()-widest),
		words.F("make the opening at most %.0f mm wide, or have a steel section proofed by an engineer", math.Max(widest-(o.Bay().Len()-o.U.Len()).MM(), 0)))
}

// setHeader sets the header of an opening between two places.
func (f *framer) setHeader(o *Opening, from, to Length) {
	h, why := f.chooseHeader(o)
	z := o.Top()
	m := Member{
		Role: Header, Line: f.line, Product: h.profile.ID, Rule: why, Width: h.profile.Flange, Boxed: h.boxed,
		Cut: o.Bay().Len() + 2*f.pr.HeaderUpstand.Value, From: geom.Pt(from, z), To: geom.Pt(to, z),
	}
	if h.stiff {
		m.Cut = o.Bay().Len()
	}
	f.add(m)
	if h.boxed {
		f.add(m)
	}
}
