package sheets

import (
	"fmt"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// thing is a box let into a face, something hung on one, or a service that runs
// through the wall: what is cut into boards or backed by noggings.
type thing struct {
	mark     string
	what     string
	face     plan.Face // "" for both
	from, to Length    // u; the same for a box
	lo, hi   Length    // above the floor; the same but for penetrations and pipes
	gangs    Length    // of a box
	pipe     *layout.Pipe
}

// things lists what a wall carries: boxes, then fixings, pipes and penetrations.
func (s *Set) things(w *layout.Wall) []thing {
	var list []thing
	for _, b := range w.Boxes {
		list = append(list, thing{what: boxName(b), face: b.Face, from: b.At.X, to: b.At.X, lo: b.At.Y, hi: b.At.Y, gangs: Length(b.Gangs)})
	}
	for _, f := range w.Fixtures {
		list = append(list, thing{what: s.fixingName(w, f), face: f.Face, from: f.U.From, to: f.U.To, lo: f.Height, hi: f.Height})
	}
	for i := range list {
		list[i].mark = fmt.Sprintf("X%02d", i+1)
	}
	for i := range w.Pipes {
		list = append(list, pipeThing(s, &w.Pipes[i]))
	}
	for i := range w.Openings {
		if o := &w.Openings[i]; o.Kind == plan.Penetration {
			list = append(list, thing{mark: o.ID, what: s.service(w, i) + " " + s.units.by(o.Width(), o.Head-o.Sill),
				from: o.U.From, to: o.U.To, lo: o.Sill, hi: o.Head})
		}
	}
	return list
}

func boxName(b layout.Box) string {
	name := b.Kind
	if name == "" || name == "other" {
		name = "box"
	}
	if b.Gangs > 1 {
		name += fmt.Sprintf(", %d gangs", b.Gangs)
	}
	if b.Asked != nil {
		name += ", moved"
	}
	if b.Lining != "" {
		name += ", lined"
	}
	return name
}

// fixingName names a fixing with its load.
func (s *Set) fixingName(w *layout.Wall, f layout.Fixture) string {
	name := strings.ReplaceAll(f.Kind, "_", " ")
	if f.Load > 0 {
		name += ", " + s.units.mass(f.Load)
	}
	if p := s.walls[w.ID]; p != nil && f.Number <= len(p.Fixings) && p.Fixings[f.Number-1].Lever > 0 {
		name += ", lever " + s.units.thin(p.Fixings[f.Number-1].Lever)
	}
	return name
}

// service names what runs through opening i of a wall.
func (s *Set) service(w *layout.Wall, i int) string {
	const unknown = "penetration"
	p := s.walls[w.ID]
	if p == nil {
		return unknown
	}
	for _, o := range p.Openings {
		if w.Placed(o.At) == w.Openings[i].U.From && o.Sill == w.Openings[i].Sill && o.Service != "" {
			return o.Service
		}
	}
	return unknown
}

// start is the u from which a thing's place is told: the start of the track on
// its face, as in the running dimensions.
func (t *thing) start(w *layout.Wall) Length {
	if pl := near(w, t.face); len(pl.lines) > 0 {
		return pl.extent.From
	}
	return 0
}

// thingList says where every box, fixing and penetration of a wall is.
func (s *Set) thingList(w *layout.Wall) *drawing.Table {
	extra := (s.lengthWidth() - 17) * 0.8
	t := &drawing.Table{Title: "Boxes, fixings, pipes, penetrations", Columns: []drawing.Column{
		{Head: "Mark", Width: 22}, {Head: "What", Width: 42}, {Head: "Face", Width: 13},
		{Head: "From start", Width: 25 + extra}, {Head: "Height", Width: 22 + extra},
	}}
	for _, x := range s.things(w) {
		face, from := "both", x.start(w)
		if x.face != "" {
			face = strings.ToUpper(string(x.face))
		}
		t.Add(x.mark, x.what, face, s.units.span(x.from-from, x.to-from), s.units.span(x.lo, x.hi))
	}
	return t
}

// boxSize is the outside width of a wall box and the pitch of several side by
// side (common practice in Europe).
const boxSize = 71 * quantity.Millimetre

// drawThings shows the boxes let into this face, and on its outer layer what is
// hung on it, each with its mark.
func (b *boards) drawThings(s *drawing.Scene) {
	outer := b.index == len(b.faceLayers())-1
	var marked []thing
	for _, x := range b.set.things(b.wall) {
		switch {
		case x.face != b.face:
		case x.gangs > 0:
			if b.drawBox(s, x, &b.placer) {
				marked = append(marked, x)
			}
		case outer:
			if b.drawFixing(s, x, &b.placer) {
				marked = append(marked, x)
			}
		}
	}
	for _, x := range marked {
		b.markThing(s, x, &b.placer, x.mark)
	}
}

func (b *boards) faceLayers() []layout.Layer {
	for i := range b.wall.Faces {
		if b.wall.Faces[i].Face == b.face {
			return b.wall.Faces[i].Layers
		}
	}
	return nil
}

func (b *elevation) group(x thing) *drawing.Group {
	return &drawing.Group{ID: b.id(x.mark), Title: fmt.Sprintf("%s %s, %s from the floor", x.mark, x.what, b.set.units.dim(x.lo)),
		Data: []drawing.Datum{{Name: "wall", Value: b.wall.ID}, {Name: "part", Value: x.mark}}}
}

func (b *elevation) drawBox(s *drawing.Scene, x thing, placer *drawing.Placer) bool {
	half := x.gangs * boxSize / 2
	r, ok := b.rect(x.from-half, x.from+half, x.lo-boxSize/2, x.lo+boxSize/2)
	if !ok {
		return false
	}
	g := b.group(x)
	g.Add(drawing.Box(r, drawing.Medium, drawing.White),
		drawing.Lines{Segments: []drawing.Segment{{A: r.Min, B: r.Max}}, Pen: drawing.Thin})
	s.Layer(drawing.Openings).Add(g)
	placer.TakeRect(r)
	return true
}

// drawFixing draws the line on which something is fixed, with a tick at each
// end.
func (b *elevation) drawFixing(s *drawing.Scene, x thing, placer *drawing.Placer) bool {
	from, to := max(x.from, b.window.From), min(x.to, b.window.To)
	if from > to {
		return false
	}
	p, q := b.pt(from, x.lo), b.pt(to, x.lo)
	g := b.group(x)
	g.Add(drawing.Lines{Pen: drawing.Outline, Segments: []drawing.Segment{
		{A: p, B: q}, {A: p.Add(0, -1), B: p.Add(0, 1)}, {A: q.Add(0, -1), B: q.Add(0, 1)}}})
	s.Layer(drawing.Openings).Add(g)
	placer.Avoid(drawing.Segment{A: p, B: q})
	return true
}

// markThing writes a text about a thing beside it, or its mark at the end of a
// leader.
func (b *elevation) markThing(s *drawing.Scene, x thing, placer *drawing.Placer, texts ...string) {
	half := b.scale.paper(x.gangs*boxSize/2) + 0.6
	c := b.pt((max(x.from, b.window.From)+min(x.to, b.window.To))/2, x.lo)
	up := 0.6 + drawing.Small/2
	if x.gangs > 0 {
		up += b.scale.paper(boxSize / 2)
	}
	var list []drawing.Text
	for _, text := range texts {
		middle := drawing.Text{At: c.Add(0, -up), Text: text, Height: drawing.Small, Align: drawing.Centre, Mask: true}
		below, right := middle, middle
		below.At = c.Add(0, up)
		right.At, right.Align = c.Add(half, 0), drawing.Left
		left := right
		left.At, left.Align = c.Add(-half, 0), drawing.Right
		list = append(list, middle.Middle(), below.Middle())
		if x.gangs > 0 {
			list = append(list, right.Middle(), left.Middle())
		}
	}
	b.write(s, placer, x.mark, []drawing.Point{c}, list...)
}
