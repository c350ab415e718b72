package layout

import (
	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// FireStop is what closes the gap round a service that runs through a wall of
// which fire resistance or sound insulation is asked.
type FireStop struct {
	Opening string `json:"opening"`
	Use     string `json:"use"`               // collar, sleeve, damper, cable, or sealant alone
	Product string `json:"product,omitempty"` // catalogue id
	Count   int    `json:"count,omitempty"`
	Sealant string `json:"sealant,omitempty"` // catalogue id
	Bead    Length `json:"bead,omitempty"`    // of sealant, on all faces
	Rule    string `json:"rule,omitempty"`
}

// testedDetail is what every fire stop defers to.
const testedDetail = "the tested detail decides"

// setFireStops closes the gaps round the services that run through the wall,
// where fire or sound is asked.
func (w *wallLayout) setFireStops() {
	use := w.asked()
	if use == "" {
		return
	}
	for i := range w.out.Openings {
		o := &w.out.Openings[i]
		if o.Kind != plan.Penetration {
			continue
		}
		stop := FireStop{Opening: o.ID, Use: "sealant", Bead: Length(len(w.out.Faces)) * 2 * (o.U.Len() + o.Head - o.Sill), Rule: testedDetail}
		kind := "acoustic"
		if use == "fire" {
			kind = use
			stop.Use, stop.Count = w.stopFor(o)
			if p, ok := w.cat.SundryFor(catalogue.KindFireStop, stop.Use, w.pr); ok {
				stop.Product = p.ID
			}
			w.checkGap(o)
		}
		if p, ok := w.cat.SundryFor(catalogue.KindSealant, kind, w.pr); ok {
			stop.Sealant = p.ID
		}
		w.out.FireStops = append(w.out.FireStops, stop)
	}
}

// stopFor returns the kind of fire stop for a service and how many it takes: a
// collar on each face round combustible pipes above the practice's diameter, a
// sleeve round other pipes, a damper in ducts, a cable stop (common practice; the
// tested detail decides).
func (w *wallLayout) stopFor(o *Opening) (string, int) {
	across := o.Diameter
	if across == 0 {
		across = min(o.U.Len(), o.Head-o.Sill)
	}
	switch o.Service {
	case plan.PlasticPipe:
		if across > w.pr.CollarFrom.Value {
			return "collar", len(w.out.Faces)
		}
		return "sealant", 0
	case plan.Duct:
		return "damper", 1
	case plan.Cable:
		return "cable", 1
	case plan.Metal:
		return "sleeve", 1
	}
	w.findOpening(*o, finding.Assumed, "service-unknown",
		words.F("what runs through it is not given; its gap is closed as round a metal pipe, %s", testedDetail), "write service: pipe, plastic_pipe, duct or cable, and the diameter")
	return "sleeve", 1
}

// checkGap tells of a gap round a service that is wider than a fire seal closes.
func (w *wallLayout) checkGap(o *Opening) {
	if o.Diameter == 0 {
		return
	}
	most := w.pr.AnnularGap.Value
	gap := (max(o.U.Len(), o.Head-o.Sill) - o.Diameter) / 2
	if gap <= most {
		return
	}
	w.findOpening(*o, finding.Warning, "annular-gap",
		words.F("leaves a gap of %s mm round the service of %s mm, %s mm more than a fire seal closes", mm(gap), mm(o.Diameter), mm(gap-most)),
		words.F("make the hole at most %s mm wide and high, or line it with board; %s", mm(o.Diameter+2*most), testedDetail))
}

// trimmed reports whether a penetration gets a frame of its own wherever it lies:
// ducts through walls of which fire resistance is asked (common practice).
func (w *wallLayout) trimmed(o *Opening) bool {
	return o.Service == plan.Duct && w.body.rank.fire > 0
}
