package layout

import (
	"nogging/internal/geom"
	"nogging/internal/plan"
)

// Bay is the stretch of the wall that the frame leaves clear for an opening: the
// opening, and the pocket into which its leaf slides.
func (o *Opening) Bay() geom.Interval {
	if o.Pocket == nil {
		return o.U
	}
	return geom.Interval{From: min(o.U.From, o.Pocket.From), To: max(o.U.To, o.Pocket.To)}
}

// Top is the height of the underside of the header.
func (o *Opening) Top() Length { return o.Head + o.running }

// setPocket gives an opening the pocket into which its leaf slides.
func (w *wallLayout) setPocket(o *Opening, p *plan.Opening) {
	if p.Kind != plan.Door || p.Sill != 0 {
		return
	}
	depth := o.U.Len() + w.pr.PocketExtra.Value
	switch p.Pocket {
	case plan.AtStart:
		o.Pocket = &geom.Interval{From: o.U.From - depth, To: o.U.From}
	case plan.AtEnd:
		o.Pocket = &geom.Interval{From: o.U.To, To: o.U.To + depth}
	default:
		return
	}
	o.running = w.pr.PocketHead.Value
}

// holes returns the openings as the frame leaves them clear.
func (w *wallLayout) holes() []Opening {
	list := w.out.Openings
	for i := range list {
		if list[i].Pocket != nil {
			return w.withPockets()
		}
	}
	return list
}

func (w *wallLayout) withPockets() []Opening {
	var list []Opening
	for _, o := range w.out.Openings {
		o.U, o.Head = o.Bay(), o.Top()
		list = append(list, o)
	}
	return list
}
