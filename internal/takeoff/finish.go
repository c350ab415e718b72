package takeoff

import (
	"fmt"
	"strings"

	"nogging/internal/finish"
)

// finish measures joints, and what it takes to finish them and the faces.
func (m *meter) finish() {
	f := finish.Of(m.w, m.cat, m.pr)
	for i := range f.Joints {
		m.joint(i, &f.Joints[i])
	}
	for i := range f.Faces {
		m.coats(&f.Faces[i])
	}
	whole := func() string { return m.w.ID + "/faces" }
	heads := f.Strips.Heads
	for i := range f.Faces {
		heads += f.Faces[i].Heads
	}
	if f.Heads.Area > 0 {
		m.out(Line{Group: Treatment, Code: "screw heads", Name: "Screw heads to be covered", Unit: Pieces, Quantity: float64(heads)}, whole)
	}
	m.spread(f.Heads, "", whole)
	m.spread(f.Close, "closed area", whole)
	m.spread(f.Skim, "skim area", whole)
	m.spread(f.Paint, "paint area", whole)
}

// joint measures a joint by its kind, its tape, and what closes or fills it.
func (m *meter) joint(i int, f *finish.Joint) {
	j := &m.w.Joints[i]
	part := func() string {
		return fmt.Sprintf("%s/joint %d on %s%d", m.w.ID, i+1, strings.ToUpper(string(j.Face)), j.Layer+1)
	}
	use := string(j.Kind)
	code, name := "joint "+use, "Joint, "+use
	if !j.Outer {
		code, name = code+", inner layer", name+", inner layer"
	}
	m.out(Line{Group: Joints, Code: code, Name: name, Unit: Metre, Quantity: f.Length}, part)
	if f.Seal != "" {
		m.strip(Seals, f.Seal, use, f.Length, part)
	}
	if f.Tape != "" {
		m.strip(Treatment, f.Tape, use, f.Length, part)
	}
	m.product(f.Filler, f.Fill, part)
}

// coats measures the coats over the joints of a face.
func (m *meter) coats(f *finish.Face) {
	for n, c := range f.Coats {
		part := func() string { return fmt.Sprintf("%s/%s coat %d", m.w.ID, strings.ToUpper(string(f.Face)), n+1) }
		m.out(Line{
			Group: Treatment, Code: fmt.Sprintf("coat %d", n+1), Name: fmt.Sprintf("Coat %d over joints, %s mm wide", n+1, c.Width),
			Unit: SquareMetre, Quantity: c.Area + c.Beyond,
		}, part)
		m.product(c.Product, c.Mass, part)
	}
}

// spread measures an area, by its name if it has one, and what goes on it.
func (m *meter) spread(s finish.Spread, code string, part func() string) {
	if s.Area > 0 && code != "" {
		m.out(Line{Group: Treatment, Code: code, Name: strings.ToUpper(code[:1]) + code[1:], Unit: SquareMetre, Quantity: s.Area}, part)
	}
	m.product(s.Product, s.Amount, part)
}

// product measures an amount of a sundry in its own unit.
func (m *meter) product(id string, amount float64, part func() string) {
	p, ok := m.cat.Sundry(id)
	if !ok || amount <= 0 {
		return
	}
	m.out(Line{Group: Treatment, Code: id, Name: p.Name, Unit: p.Unit, Quantity: amount}, part)
}
