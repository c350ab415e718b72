package layout

import (
	"fmt"
	"math"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Pipe is a pipe, duct or bundle of cables that runs in the wall's cavity.
type Pipe struct {
	Number   int          `json:"number"` // as in the plan, from 1
	Service  string       `json:"service,omitempty"`
	Diameter Length       `json:"diameter"` // with insulation
	Path     []geom.Point `json:"path"`
	Line     int          `json:"line"` // frame line through whose studs it runs; -1 beside the studs
	Offset   Length       `json:"offset"`
	studded  bool         // it runs through studs, in every frame line of its plane
}

// Cutout is a hole in a member through which a pipe runs.
type Cutout struct {
	Pipe     int        `json:"pipe"`
	Member   string     `json:"member"` // its mark
	Line     int        `json:"line"`
	At       geom.Point `json:"at"`
	Diameter Length     `json:"diameter"`
	member   int
}

// name says which pipe it is, for findings.
func (p *Pipe) name() string {
	return fmt.Sprintf("pipe %d (%s, %s mm)", p.Number, orElse(p.Service, "any service"), p.Diameter)
}

// setPipes runs the pipes of the plan through the wall, cuts the holes that they
// need and tells of all that is in their way.
func (w *wallLayout) setPipes() {
	for i := range w.body.wall.Pipes {
		x := &w.body.wall.Pipes[i]
		p := Pipe{Number: i + 1, Service: x.Service, Diameter: x.Diameter, Line: -1}
		for _, q := range x.Path {
			p.Path = append(p.Path, geom.Point(q))
		}
		if len(p.Path) < 2 || p.Diameter <= 0 || !w.seatPipe(&p) {
			continue
		}
		w.out.Pipes = append(w.out.Pipes, p)
	}
	for i := range w.out.Pipes {
		p := &w.out.Pipes[i]
		w.crossMembers(p)
		w.checkPipe(p)
		for j := range w.out.Pipes[:i] {
			w.checkPipes(&w.out.Pipes[j], p)
		}
	}
}

// cavity returns the depth behind the boards in which services run.
func (w *wallLayout) cavity() Length {
	depth := w.spec.FrameDepth()
	switch {
	case w.spec.Kind.Twin():
		return 2*depth + w.spec.Gap
	case w.spec.Kind == plan.Lining, w.spec.Kind == plan.Furring:
		return depth + w.spec.Gap
	}
	return depth
}

// seatPipe finds where across the wall a pipe runs: beside the studs where there
// is a space for it, else through them. It tells of a pipe thicker than the
// cavity, which is left out.
func (w *wallLayout) seatPipe(p *Pipe) bool {
	offsets, depth := w.body.lineOffsets(), w.spec.FrameDepth()
	if over := p.Diameter - w.cavity(); over > 0 {
		w.find(finding.Warning, "pipe-too-thick",
			words.F("%s is %s mm thicker than the cavity of %s mm; it is left out", p.name(), mm(over), mm(w.cavity())), w.deeper(p.Diameter))
		return false
	}
	fits := p.Diameter <= w.spec.Gap
	switch {
	case fits && w.spec.Kind.Twin():
		p.Offset = (offsets[0] + offsets[1]) / 2
		return true
	case fits && (w.spec.Kind == plan.Lining || w.spec.Kind == plan.Furring):
		p.Offset = offsets[0] - depth/2 - w.spec.Gap/2
		return true
	}
	p.Line, p.Offset, p.studded = 0, offsets[0], true
	return true
}

// deeper says what takes a service of a diameter: the least frame of studs, or a
// service wall.
func (w *wallLayout) deeper(diameter Length) words.Text {
	service := fmt.Sprintf("a twin braced frame with a gap of %s mm", mm(diameter))
	var best *catalogue.Profile
	for i := range w.cat.Profiles {
		p := &w.cat.Profiles[i]
		if p.Kind == catalogue.Stud && p.Standard == w.spec.Stud.Standard && p.NominalDepth() >= diameter && (best == nil || p.NominalDepth() < best.NominalDepth()) {
			best = p
		}
	}
	if best == nil {
		return words.F("take %s", service)
	}
	return words.F("take studs %s, %s mm deep, or %s", best.ID, mm(best.NominalDepth()), service)
}

// along calls f for each straight stretch of a pipe.
func (p *Pipe) along(f func(a, b geom.Point)) {
	for i := 1; i < len(p.Path); i++ {
		f(p.Path[i-1], p.Path[i])
	}
}

// crossMembers cuts the members that a pipe crosses.
func (w *wallLayout) crossMembers(p *Pipe) {
	if !p.studded {
		return
	}
	offset := w.body.lineOffsets()[0]
	for i := range w.out.Members {
		m := &w.out.Members[i]
		if w.out.FrameLines[m.Line].Offset != offset || i > 0 && m.Boxed && w.out.Members[i-1].Boxed && w.out.Members[i-1].From == m.From && w.out.Members[i-1].To == m.To {
			continue
		}
		p.along(func(a, b geom.Point) {
			if m.Upright() {
				w.crossUpright(p, i, a, b)
			} else {
				w.crossLevel(p, i, a, b)
			}
		})
	}
}

// crossUpright cuts a stud through which a stretch of pipe runs, or tells of a
// stretch that stands in it.
func (w *wallLayout) crossUpright(p *Pipe, i int, a, b geom.Point) {
	m := &w.out.Members[i]
	u, reach := m.From.X, p.Diameter/2
	left, right := min(a.X, b.X), max(a.X, b.X)
	if left < u && u <= right {
		z := a.Y + Length(math.Round(float64(b.Y-a.Y)*float64(u-a.X)/float64(b.X-a.X)))
		if z > m.From.Y && z < m.To.Y {
			w.cutHole(p, i, geom.Pt(u, z))
		}
		return
	}
	apart := max(left-u, u-right) - reach - m.Width/2
	if apart >= 0 || max(a.Y, b.Y) <= m.From.Y || min(a.Y, b.Y) >= m.To.Y || left != right {
		return
	}
	side := "end"
	if left < u {
		side = "start"
	}
	w.find(finding.Warning, "pipe-in-stud",
		words.F("%s, upright at %s mm, stands %s mm in the %s at %s mm", p.name(), mm(left), mm(-apart), m.Role, mm(u)),
		words.F("move it %s mm or more towards the wall's %s", mm(-apart), side))
}

// crossLevel cuts a track or nogging that an upright stretch of pipe crosses. A
// header is not cut.
func (w *wallLayout) crossLevel(p *Pipe, i int, a, b geom.Point) {
	m := &w.out.Members[i]
	z := m.From.Y
	if a.Y == b.Y || z < min(a.Y, b.Y) || z > max(a.Y, b.Y) {
		return
	}
	u := a.X + Length(math.Round(float64(b.X-a.X)*float64(z-a.Y)/float64(b.Y-a.Y)))
	if u < m.From.X || u > m.To.X {
		return
	}
	if m.Role == Header || m.Role == SillTrack {
		w.find(finding.Warning, "pipe-through-header", words.F("%s crosses the %s at %s mm, %s mm up", p.name(), m.Role, mm(u), mm(z)),
			words.F("lead it beside the opening, before %s mm or after %s mm", mm(m.From.X-p.Diameter), mm(m.To.X+p.Diameter)))
		return
	}
	w.out.Cutouts = append(w.out.Cutouts, Cutout{Pipe: p.Number, Line: m.Line, At: geom.Pt(u, z), Diameter: p.Diameter + w.pr.ServiceClear.Value, member: i})
}

// cutHole cuts a stud, and checks the hole against the practice.
func (w *wallLayout) cutHole(p *Pipe, i int, at geom.Point) {
	m := &w.out.Members[i]
	c := Cutout{Pipe: p.Number, Line: m.Line, At: at, Diameter: p.Diameter + w.pr.ServiceClear.Value, member: i}
	where := fmt.Sprintf("%s needs a hole of %s mm in the %s at %s mm, %s mm up", p.name(), mm(c.Diameter), m.Role, mm(at.X), mm(at.Y))
	if m.Role == OpeningStud {
		w.find(finding.Warning, "pipe-through-jamb", words.F("%s, which carries an opening whole", where),
			words.F("end the pipe %s mm before it, or take a frame with a service space of %s mm", mm(m.Width/2+p.Diameter/2), mm(p.Diameter)))
		return
	}
	web := w.profile(m.Product).Web
	most := Length(w.pr.StudHole.Value * float64(web)).Round(quantity.Millimetre)
	end, least := min(at.Y-m.From.Y, m.To.Y-at.Y)-c.Diameter/2, w.pr.StudHoleEnd.Value
	switch {
	case c.Diameter > most:
		w.tellPipe("stud-hole-too-big", p, words.F("%s, %s mm more than the practice cuts out of a web of %s mm", where, mm(c.Diameter-most), web), w.deeperWeb(c.Diameter, p.Diameter))
	case end < least:
		way := "up"
		if m.To.Y-at.Y < at.Y-m.From.Y {
			way = "down"
		}
		w.tellPipe("stud-hole-at-end", p, words.F("%s, whose edge is %s mm from the stud's end; the practice asks for %s mm", where, mm(end), mm(least)),
			words.F("move the pipe %s mm %s", mm(least-end), way))
	}
	for _, o := range w.out.Cutouts {
		if apart := (o.At.Y - at.Y).Abs(); o.member == i && apart < w.pr.StudHoleApart.Value {
			w.tellPipe("stud-holes-close", p, words.F("%s, %s mm from that of pipe %d; the practice asks for %s mm", where, mm(apart), o.Pipe, mm(w.pr.StudHoleApart.Value)),
				words.F("move it %s mm, or lead both through one hole", mm(w.pr.StudHoleApart.Value-apart)))
		}
	}
	w.out.Cutouts = append(w.out.Cutouts, c)
}

// deeperWeb says which stud takes a hole of a diameter.
func (w *wallLayout) deeperWeb(hole, diameter Length) words.Text {
	need := Length(float64(hole) / max(w.pr.StudHole.Value, 0.01))
	for i := range w.cat.Profiles {
		p := &w.cat.Profiles[i]
		if p.Kind == catalogue.Stud && p.Standard == w.spec.Stud.Standard && p.Web >= need && p.Flange == w.spec.Stud.Flange {
			return words.F("take studs %s, or a twin braced frame with a gap of %s mm", p.ID, mm(diameter))
		}
	}
	return words.F("take a twin braced frame with a gap of %s mm", mm(diameter))
}

// tellPipe tells of the same fault of a pipe once, at the first stud.
func (w *wallLayout) tellPipe(code string, p *Pipe, what, fix words.Text) {
	for i := range w.out.Findings {
		if f := &w.out.Findings[i]; f.Code == code && strings.HasPrefix(f.What.String(), p.name()) {
			return
		}
	}
	w.find(finding.Warning, code, what, fix)
}

// checkPipe tells of openings, pockets, boxes and gussets in a pipe's way.
func (w *wallLayout) checkPipe(p *Pipe) {
	reach := p.Diameter / 2
	for i := range w.out.Openings {
		o := &w.out.Openings[i]
		bay := o.Bay()
		zone := geom.Rect{Min: geom.Pt(bay.From, o.Sill), Max: geom.Pt(bay.To, o.Top())}
		if in := p.into(zone) + reach; in > 0 {
			w.find(finding.Warning, "pipe-in-opening", words.F("%s runs %s mm into %s", p.name(), mm(min(in, zone.Max.Y-zone.Min.Y)), o.ID),
				words.F("lead it above %s mm or beside the opening", mm(o.Top()+reach)))
		}
	}
	for i := range w.out.Boxes {
		b := &w.out.Boxes[i]
		half := boxHole / 2
		zone := geom.Rect{Min: geom.Pt(b.At.X-b.half(), b.At.Y-half), Max: geom.Pt(b.At.X+b.half(), b.At.Y+half)}
		if in := p.into(zone) + reach; in > 0 && w.boxReaches(b, p) {
			w.find(finding.Warning, "pipe-at-box", words.F("%s runs %s mm into the room of box %d", p.name(), mm(in), b.Number), words.F("move one of the two by %s mm", mm(in)))
		}
	}
	for i := range w.out.Gussets {
		g := &w.out.Gussets[i]
		zone := geom.Rect{Min: geom.Pt(g.At.X-gussetHalf, g.At.Y-g.Height/2), Max: geom.Pt(g.At.X+gussetHalf, g.At.Y+g.Height/2)}
		if in := p.into(zone) + reach; in > 0 && !p.studded {
			w.find(finding.Warning, "pipe-through-gusset", words.F("%s runs through gusset %d at %s mm", p.name(), g.Number, mm(g.At.X)),
				words.F("lead it under %s mm or over %s mm", mm(zone.Min.Y-reach), mm(zone.Max.Y+reach)))
		}
	}
}

// gussetHalf is half the thickness of a gusset with the stud that it is screwed to.
const gussetHalf = 15 * quantity.Millimetre

// boxReaches reports whether a box is deep enough in the cavity to meet a pipe.
func (w *wallLayout) boxReaches(b *Box, p *Pipe) bool {
	v := w.body.frameEdge(true)
	if b.Face == plan.FaceB {
		v = w.body.frameEdge(false)
	}
	return (v - p.Offset).Abs() < boxDepth+p.Diameter/2
}

// into returns how deep the middle line of a pipe runs into a rectangle: below
// zero is the distance that it keeps.
func (p *Pipe) into(r geom.Rect) Length {
	c := geom.Pt((r.Min.X+r.Max.X)/2, (r.Min.Y+r.Max.Y)/2)
	half := geom.Pt((r.Max.X-r.Min.X)/2, (r.Max.Y-r.Min.Y)/2)
	best := Length(math.MinInt64 / 2)
	p.along(func(a, b geom.Point) {
		const steps = 64 // a stretch is sampled, and the place nearest to the middle taken too
		n := steps + int(a.Dist(b)/(50*quantity.Millimetre))
		for i := range n + 1 {
			t := float64(i) / float64(n)
			dx := (a.X + Length(t*float64(b.X-a.X)) - c.X).Abs() - half.X
			dy := (a.Y + Length(t*float64(b.Y-a.Y)) - c.Y).Abs() - half.Y
			if d := max(dx, dy); d > 0 {
				best = max(best, -d)
			} else {
				best = max(best, min(-dx, -dy))
			}
		}
	})
	return best
}

// checkPipes tells of two pipes that meet.
func (w *wallLayout) checkPipes(a, b *Pipe) {
	if (a.Offset - b.Offset).Abs() >= (a.Diameter+b.Diameter)/2 {
		return
	}
	need := float64((a.Diameter + b.Diameter) / 2)
	apart := math.Inf(1)
	a.along(func(p, q geom.Point) {
		b.along(func(r, s geom.Point) { apart = math.Min(apart, distance(p, q, r, s)) })
	})
	if apart < need {
		w.find(finding.Warning, "pipes-meet", words.F("%s comes within %s mm of pipe %d; their middles need %s mm", b.name(), mm(Length(apart)), a.Number, mm(Length(need))),
			words.F("move one of the two by %s mm", mm(Length(need-apart))))
	}
}

// distance returns the distance of two stretches in a plane.
func distance(p, q, r, s geom.Point) float64 {
	if cross(p, q, r)*cross(p, q, s) < 0 && cross(r, s, p)*cross(r, s, q) < 0 {
		return 0
	}
	return min(toStretch(p, r, s), toStretch(q, r, s), toStretch(r, p, q), toStretch(s, p, q))
}

func cross(a, b, c geom.Point) float64 {
	return float64(b.X-a.X)*float64(c.Y-a.Y) - float64(b.Y-a.Y)*float64(c.X-a.X)
}

// toStretch returns the distance of a point from a stretch.
func toStretch(p, a, b geom.Point) float64 {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = math.Max(0, math.Min(1, (float64(p.X-a.X)*dx+float64(p.Y-a.Y)*dy)/l))
	}
	return math.Hypot(float64(p.X-a.X)-t*dx, float64(p.Y-a.Y)-t*dy)
}

// markCutouts names the members that are cut, once they have their marks.
func (w *wallLayout) markCutouts() {
	for i := range w.out.Cutouts {
		c := &w.out.Cutouts[i]
		for j := range w.out.Members {
			m := &w.out.Members[j]
			onUpright := m.Upright() && m.From.X == c.At.X && m.From.Y <= c.At.Y && c.At.Y <= m.To.Y
			onLevel := !m.Upright() && m.From.Y == c.At.Y && m.From.X <= c.At.X && c.At.X <= m.To.X
			if m.Line == c.Line && (onUpright || onLevel) {
				c.Member = m.Mark()
				break
			}
		}
	}
}
