package takeoff

import (
	"fmt"

	"nogging/internal/catalogue"
	"nogging/internal/layout"
)

// boxes counts the holes for boxes, and what lines them.
func (m *meter) boxes() {
	for i := range m.w.Boxes {
		b := &m.w.Boxes[i]
		kind := b.Kind
		if kind == "" {
			kind = "box"
		}
		part := func() string { return fmt.Sprintf("%s/box %d", m.w.ID, b.Number) }
		m.out(Line{Group: Openings, Code: "cut-out " + kind, Name: "Cut-out for " + kind, Unit: Pieces, Quantity: float64(b.Gangs)}, part)
		if b.Lining != "" {
			m.out(Line{Group: Services, Code: b.Lining, Name: m.sundryName(b.Lining), Unit: Pieces, Quantity: float64(b.Gangs)}, part)
		}
	}
}

// fireStops counts what closes the gaps round services.
func (m *meter) fireStops() {
	for i := range m.w.FireStops {
		s := &m.w.FireStops[i]
		part := func() string { return s.Opening }
		if s.Product != "" {
			m.out(Line{Group: Services, Code: s.Product, Name: m.sundryName(s.Product), Unit: Pieces, Quantity: float64(s.Count)}, part)
		}
		if s.Sealant != "" {
			m.strip(Seals, s.Sealant, sealedAs(m, s), s.Bead.Metres(), part)
		}
	}
}

// sealedAs returns the use by which the sealant round a service is consumed: as
// round penetrations where it has one, else as at rims.
func sealedAs(m *meter, s *layout.FireStop) string {
	if p, ok := m.cat.Sundry(s.Sealant); ok && p.Uses["penetration"] > 0 {
		return "penetration"
	}
	return string(layout.Perimeter)
}

// pockets counts the frames into which doors slide.
func (m *meter) pockets() {
	p, ok := m.cat.SundryFor(catalogue.KindPocket, "door", m.pr)
	for i := range m.w.Openings {
		if o := &m.w.Openings[i]; ok && o.Pocket != nil {
			m.out(Line{Group: Services, Code: p.ID, Name: p.Name, Unit: Pieces, Quantity: 1}, func() string { return o.ID })
		}
	}
}

// cutouts counts the holes in studs and tracks through which pipes run.
func (m *meter) cutouts() {
	for i := range m.w.Cutouts {
		c := &m.w.Cutouts[i]
		size := fmt.Sprintf("hole %s", c.Diameter)
		m.out(Line{Group: Services, Code: size, Name: fmt.Sprintf("Hole in steel for a pipe, %s mm", c.Diameter), Unit: Pieces, Quantity: 1},
			func() string { return fmt.Sprintf("%s/%s at %s", m.w.ID, c.Member, c.At.Y) })
	}
}
