package plan

import (
	"fmt"

	"nogging/internal/geom"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Services that run through or along walls.
const (
	Metal       = "pipe" // of metal, or of a material that is not known
	PlasticPipe = "plastic_pipe"
	Duct        = "duct"
	Cable       = "cable"
)

// The sides of an opening into which a sliding leaf may run.
const (
	AtStart = "start" // towards the wall's start
	AtEnd   = "end"
)

// Pipe is a pipe, duct or bundle of cables that runs in a wall's cavity.
type Pipe struct {
	Service  string `json:"service,omitempty" jsonschema:"water, waste, heating, gas, duct or cable"`
	Diameter Length `json:"diameter" jsonschema:"outside diameter with its insulation and sockets"`
	Path     []Pt   `json:"path" jsonschema:"middle line of the pipe as points [at, height]: distance from the wall's start, and height above the floor"`
}

// service checks what runs through a penetration.
func (c *checker) service(o *Opening, s *spot) {
	s.notNegative("diameter", o.Diameter)
	least := min(o.Width, o.Height)
	switch {
	case o.Diameter > 0 && o.Kind != Penetration:
		s.doubt("diameter-not-used", "diameter", words.F("a %s has no diameter; it is ignored", o.Kind), "take it out, or write kind: penetration")
	case o.Diameter > least && least > 0:
		s.wrong("service-wider-than-hole", "diameter",
			words.F("the service is %s across, %s more than its hole of %s by %s", mm(o.Diameter), mm(o.Diameter-least), mm(o.Width), mm(o.Height)),
			words.F("make the hole at least %s by %s", mm(o.Diameter), mm(o.Diameter)))
	}
}

// pocket checks the side into which a sliding leaf runs.
func (c *checker) pocket(w *Wall, o *Opening, s *spot) {
	s.choice("Opening", "pocket", o.Pocket)
	if o.Pocket != AtStart && o.Pocket != AtEnd {
		return
	}
	if o.Kind != Door || o.Sill != 0 {
		s.doubt("pocket-not-used", "pocket", "only a door that reaches the floor slides into the wall; the pocket is left out", "take it out, or write kind: door without a sill")
		return
	}
	beyond, widest := o.Width-o.At, o.At
	if o.Pocket == AtEnd {
		beyond, widest = o.At+2*o.Width-w.Length(), (w.Length()-o.At)/2
	}
	if beyond > geom.Same && len(w.Line) == 2 {
		s.wrong("pocket-outside-wall", "pocket", words.F("the leaf runs %s beyond the wall's %s", mm(beyond), o.Pocket),
			words.F("move the opening by %s or more, let the leaf run to the other side, or make the opening at most %s wide", mm(beyond), mm(max(widest, 0))))
	}
}

// pipe checks a service that runs in a wall.
func (c *checker) pipe(w *Wall, p *Pipe, profile []HeightAt, s *spot) {
	s.choice("Pipe", "service", p.Service)
	s.positive("diameter", p.Diameter)
	if len(p.Path) < 2 {
		s.wrong("pipe-path", "path", words.F("the path has %s; it needs two or more", words.Count(len(p.Path), "1 point", "%d points")), "write the places where it starts, turns and ends, such as path: [[500, 300], [2400, 300]]")
		return
	}
	if w.Length() < geom.Same {
		return
	}
	for i, q := range p.Path {
		key := fmt.Sprintf("path[%d]", i)
		switch {
		case q.X < 0 || q.X > w.Length()+geom.Same:
			s.wrong("pipe-outside-wall", key, words.F("the pipe runs to %s along the wall, which reaches from 0 to %s", mm(q.X), mm(w.Length())), "end it at the wall's end; give the next wall a pipe of its own")
			return
		case q.Y < 0:
			s.wrong("pipe-outside-wall", key, words.F("the pipe runs %s below the floor", mm(-q.Y)), "end it at height 0")
			return
		case profile != nil:
			if over := q.Y - lowest(profile, q.X-quantity.Millimetre, q.X+quantity.Millimetre); over > 0 {
				s.wrong("pipe-outside-wall", key, words.F("the pipe runs %s above the wall's top", mm(over)), words.F("end it at %s", mm(q.Y-over)))
				return
			}
		}
		if i > 0 && q == p.Path[i-1] {
			s.doubt("pipe-path", key, "two points of the path are the same", "take one of them out")
		}
	}
}
