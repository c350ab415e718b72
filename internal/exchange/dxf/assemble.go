package dxf

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// What a drawing does not tell, in mm (common practice).
const (
	clearHeight  = 2750
	doorHeight   = 2100
	sillHeight   = 900
	windowHeight = 1200
	partitionTo  = 200 // a wall that is thicker is taken as structure
)

// doubtful is the confidence below which a wall or opening has a finding of its own.
const doubtful = 0.6

const level = "L1"

// grain is the step to which lengths are rounded.
const grain = quantity.Millimetre / 100

func length(mm float64) plan.Length { return quantity.MM(mm).Round(grain) }

func pt(p vec) plan.Pt { return plan.Pt{X: length(p.x), Y: length(p.y)} }

// partition reports whether walls of a role and thickness are taken as partitions.
func (r Role) partition(thick float64) bool {
	return r == Partition || r == Wall && thick <= partitionTo+sameThick
}

// assemble writes what was recognised into a plan.
func (r *reader) assemble(p *plan.Plan, g *recogniser, layer Sign, u unit) {
	p.Practice = "metric"
	if u.name == "in" || u.name == "ft" {
		p.Practice = "us"
	}
	g.shift(r)
	p.Levels = []plan.Level{{ID: level, ClearHeight: r.clear(g)}}
	slices.SortStableFunc(g.walls, func(a, b *wall) int {
		return cmp.Or(cmp.Compare(a.end(0).x, b.end(0).x), cmp.Compare(a.end(0).y, b.end(0).y))
	})
	for _, w := range g.walls {
		r.wall(p, w, layer)
	}
	for _, c := range g.curved() {
		r.curvedWall(p, c)
	}
	for _, c := range g.columns() {
		r.stats.Columns++
		id := fmt.Sprintf("%s-C%02d", level, r.stats.Columns)
		r.note(id, "column", c.confidence, c.why, c.sign)
		p.Structure = append(p.Structure, plan.Structure{ID: id, Level: level, Kind: "column", Outline: outline(c.points)})
	}
	r.rooms(p, g)
	r.otherHeights(p)
	r.leftOver(g)
	r.summary(layer)
}

// farAway is the distance from the origin in mm from which a drawing is moved.
const farAway = 1e7

// shift moves drawings that lie far from the origin near to it, by whole metres.
func (g *recogniser) shift(r *reader) {
	lo := vec{math.Inf(1), math.Inf(1)}
	far := 0.0
	for _, w := range g.walls {
		for i := range 2 {
			p := w.end(i)
			lo = vec{min(lo.x, p.x), min(lo.y, p.y)}
			far = max(far, math.Abs(p.x), math.Abs(p.y))
		}
	}
	if far < farAway {
		return
	}
	g.origin = vec{math.Floor(lo.x/1000) * 1000, math.Floor(lo.y/1000) * 1000}
	r.tell(finding.Assumed, "origin-moved", "", words.F("the drawing lies far from the origin: the plan's origin is put at %.0f, %.0f m", g.origin.x/1000, g.origin.y/1000), "")
	for _, w := range g.walls {
		w.lo, w.hi, w.off = w.lo-w.axis.along(g.origin), w.hi-w.axis.along(g.origin), w.off-w.axis.across(g.origin)
		for i := range w.openings {
			o := &w.openings[i]
			o.lo, o.hi = o.lo-w.axis.along(g.origin), o.hi-w.axis.along(g.origin)
		}
	}
	g.drawing = g.drawing.moved(g.origin.times(-1))
	for _, f := range g.faces {
		ax := g.axes[f.axis]
		along, across := ax.along(g.origin), ax.across(g.origin)
		f.lo, f.hi, f.off = f.lo-along, f.hi-along, f.off-across
		for i := range f.taken {
			f.taken[i] = span{f.taken[i].lo - along, f.taken[i].hi - along}
		}
	}
}

// note keeps what was recognised, with a finding where it is doubtful.
func (r *reader) note(id, kind string, confidence float64, why words.Text, signs ...Sign) {
	confidence = math.Round(confidence*100) / 100
	r.stats.Recognised = append(r.stats.Recognised, Recognised{id, kind, confidence, why, append([]Sign{}, signs...)})
	if confidence < doubtful {
		r.tell(finding.Warning, "dxf-doubtful", id, words.F("recognised as %s with a confidence of %.0f %% only: %s", called(kind), 100*confidence, why), "look at the drawing, and mend or remove it in the plan")
	}
}

// called says what was recognised.
func called(kind string) words.Text {
	switch kind {
	case "column":
		return "a column"
	case "room":
		return "a room"
	case "wall":
		return "a wall"
	case "wall of structure":
		return "a wall of structure"
	case "opening (door)":
		return "a opening (door)"
	case "opening (window)":
		return "a opening (window)"
	}
	return words.F("a %s", kind)
}

func (r *reader) wall(p *plan.Plan, w *wall, layer Sign) {
	confidence := w.confidence(layer)
	why := words.F("two lines %.0f mm apart", w.thick)
	if w.filled {
		why = words.F("two lines %.0f mm apart, filled between", w.thick)
	}
	signs := append([]Sign{Pair}, w.evidence(layer)...)
	if !w.role.partition(w.thick) {
		r.stats.Structure++
		id := fmt.Sprintf("%s-S%02d", level, r.stats.Structure)
		r.note(id, "wall of structure", confidence, why, signs...)
		p.Structure = append(p.Structure, plan.Structure{ID: id, Level: level, Kind: "wall", Line: []plan.Pt{pt(w.end(0)), pt(w.end(1))}, Thickness: length(w.thick)})
		return
	}
	r.stats.Walls++
	id := fmt.Sprintf("%s-%02d", level, r.stats.Walls)
	r.note(id, "wall", confidence, why, signs...)
	out := plan.Wall{ID: id, Level: level, Line: []plan.Pt{pt(w.end(0)), pt(w.end(1))}, Thickness: length(w.thick), Note: fmt.Sprintf("from the drawing, confidence %.0f %%", 100*confidence)}
	for _, o := range w.openings {
		at := length(o.lo - w.lo)
		x := plan.Opening{Kind: o.kind, At: at, Width: length(o.hi-w.lo) - at, Height: length(doorHeight)}
		if o.kind == plan.Window {
			x.Sill, x.Height = length(sillHeight), length(windowHeight)
		}
		r.stats.Openings++
		out.Openings = append(out.Openings, x)
		r.note(out.OpeningID(len(out.Openings)-1), "opening ("+string(o.kind)+")", o.confidence, o.why, o.sign)
	}
	p.Walls = append(p.Walls, out)
}

// curvedWall writes a wall along an arc; of structure, as a line with corners.
func (r *reader) curvedWall(p *plan.Plan, w curvedWall) {
	const confidence = 0.75
	why := words.F("two arcs about one centre %.0f mm apart", w.thick)
	if !w.role.partition(w.thick) {
		r.stats.Structure++
		s := plan.Structure{ID: fmt.Sprintf("%s-S%02d", level, r.stats.Structure), Level: level, Kind: "wall", Thickness: length(w.thick)}
		for _, v := range w.points() {
			s.Line = append(s.Line, pt(v))
		}
		r.note(s.ID, "wall of structure", confidence, why, Arcs)
		p.Structure = append(p.Structure, s)
		return
	}
	r.stats.Walls++
	via := pt(w.at(0.5))
	out := plan.Wall{ID: fmt.Sprintf("%s-%02d", level, r.stats.Walls), Level: level, Line: []plan.Pt{pt(w.at(0)), pt(w.at(1))}, Via: &via, Thickness: length(w.thick),
		Note: fmt.Sprintf("from the drawing, confidence %.0f %%", 100*confidence)}
	r.note(out.ID, "wall", confidence, why, Arcs)
	p.Walls = append(p.Walls, out)
}

// outline rounds corners, each once.
func outline(points []vec) []plan.Pt {
	var out []plan.Pt
	for _, v := range points {
		if q := pt(v); len(out) == 0 || q != out[len(out)-1] && q != out[0] {
			out = append(out, q)
		}
	}
	return out
}

// mostInRooms bounds the rooms, and the walls among which they are searched.
const mostInRooms = 3000

// rooms adds the rooms that the drawing outlines, and those that walls enclose, named by
// the words inside them.
func (r *reader) rooms(p *plan.Plan, g *recogniser) {
	for _, x := range g.rings {
		if corners := outline(x.points); g.role(x.ink) == Room && len(corners) > 2 && len(p.Rooms) < mostInRooms && g.spend(len(g.labels)) {
			r.room(p, g, plan.Room{Outline: corners}, "a closed outline on a layer of rooms", Outlined)
		}
	}
	if len(p.Walls)+len(p.Structure) > mostInRooms {
		r.tell(finding.Note, "dxf-rooms", level, "there are too many walls to search for rooms", "find the rooms in the plan when the walls are settled")
		return
	}
	for _, c := range p.FindRooms(level, func(w *plan.Wall) plan.Length { return w.Thickness }) {
		var room plan.Room
		if c.Kind != "rooms" || json.Unmarshal(c.Value, &room) != nil || len(room.Outline) < 3 {
			continue
		}
		r.room(p, g, room, "walls enclose it", Enclosed)
	}
}

// room adds a room with the words that stand in it.
func (r *reader) room(p *plan.Plan, g *recogniser, room plan.Room, why words.Text, signs ...Sign) {
	r.stats.Rooms++
	room.ID, room.Level = fmt.Sprintf("%s-R%02d", level, r.stats.Rooms), level
	confidence := 0.6
	if room.Name = g.nameOf(room.Outline); room.Name != "" {
		confidence, why, signs = 0.85, words.F("%s, and words stand in it", why), append(signs, Words)
	}
	r.note(room.ID, "room", confidence, why, signs...)
	p.Rooms = append(p.Rooms, room)
}

// nameOf returns the first words that stand in a room and are no figure.
func (g *recogniser) nameOf(corners []plan.Pt) string {
	ring := make([]vec, len(corners))
	for i, c := range corners {
		ring[i] = vec{c.X.MM(), c.Y.MM()}
	}
	for _, l := range g.labels {
		letters := strings.IndexFunc(l.text, unicode.IsLetter) >= 0
		if letters && len(l.text) <= 40 && !strings.ContainsAny(l.text, `"'=`) && inside(l.at, ring) {
			return l.text
		}
	}
	return ""
}

// leftOver lists what of the lines of walls belongs to no wall.
func (r *reader) leftOver(g *recogniser) {
	total := 0.0
	for _, f := range g.faces {
		for _, s := range f.span.without(f.taken) {
			if s.length() <= thickest && len(f.taken) > 0 || s.length() < 100 {
				continue // behind corners and crossings, and caps
			}
			ax := g.axes[f.axis]
			total += s.length()
			r.stats.LeftOver = append(r.stats.LeftOver, Left{pt(ax.at(s.lo, f.off)), pt(ax.at(s.hi, f.off))})
		}
	}
	if n := len(r.stats.LeftOver); n > 0 {
		r.tell(finding.Note, "dxf-left-over", "", words.F("%d lines of wall layers, %.1f m together, belong to no wall", n, total/1000), "look for walls that were not recognised; --json lists the lines")
	}
}

// summary tells what was recognised as a whole.
func (r *reader) summary(layer Sign) {
	s := r.stats
	var named []string
	for _, l := range s.Layers {
		if l.As.isWall() {
			named = append(named, l.Layer)
		}
	}
	switch layer {
	case Named:
		r.tell(finding.Assumed, "dxf-layers", "", words.F("walls were taken from: %s", strings.Join(named, ", ")), "say otherwise with --layers FILE if other layers show walls")
	case Pure:
		r.tell(finding.Assumed, "dxf-layers", "", words.F("no layer is called as layers of walls are; by what lies on them, walls were taken from: %s", strings.Join(named, ", ")), "say otherwise with --layers FILE if other layers show walls")
	default:
		r.tell(finding.Warning, "dxf-layers", "", words.F("no layer is called as layers of walls are, and much else lies on those on which walls were found: %s", strings.Join(named, ", ")), "look at what was recognised, or say which layers show walls with --layers FILE")
	}
	if s.Walls+s.Structure == 0 {
		r.tell(finding.Warning, "no-partitions", "", "no walls were recognised", "say which layers show walls with --layers FILE, and the unit of the drawing with --unit")
		return
	}
	sum := 0.0
	for _, x := range s.Recognised {
		sum += x.Confidence
	}
	r.tell(finding.Assumed, "dxf-recognised", "", words.F("recognised with a confidence of %.0f %% on average: %d partitions, %d walls of structure, %d openings, %d columns, %d rooms",
		100*sum/float64(len(s.Recognised)), s.Walls, s.Structure, s.Openings, s.Columns, s.Rooms), "compare the plan with the drawing")
}
