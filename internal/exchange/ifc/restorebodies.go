package ifc

import (
	"fmt"
	"math"
	"slices"

	"nogging/internal/exchange/ifc/own"
	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/exchange/ifc/step"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// entities returns the first entity of each name among some types.
func (t *restorer) entities(types []string) map[string]step.ID {
	found := map[string]step.ID{}
	for _, id := range t.all(types) {
		if name := t.file.Arg(id, 2).Text(); found[name] == 0 && t.own.walls[id] == nil {
			found[name] = id
		}
	}
	return found
}

// structure follows the existing structure: moved, taken out and added.
func (t *restorer) structure() {
	p := t.own.plan
	in := t.entities(slices.Concat(wallTypes, columnTypes))
	p.Structure = slices.DeleteFunc(p.Structure, func(s plan.Structure) bool {
		id := in[s.ID]
		if id == 0 && slices.Contains(t.own.in.Structure, s.ID) {
			t.changed("model-removed", s.ID, 0, "the structure is no more in the model, and so not in the plan")
			return true
		}
		return false
	})
	for i := range p.Structure {
		s := &p.Structure[i]
		id := in[s.ID]
		if id == 0 || !slices.Contains(t.own.in.Structure, s.ID) {
			continue
		}
		t.ours[id] = true
		if ring, off := t.outlineOff(id, outlineOfStructure(s)); off > own.Near {
			t.changed("model-changed", s.ID, id, words.F("its outline lies up to %.1f mm elsewhere in the model", off))
			s.Outline, s.Line, s.Thickness = ring, nil, 0
		}
	}
	marks := newMarker()
	for _, s := range p.Structure {
		marks.taken[s.ID] = true
	}
	for _, x := range t.read.Structure {
		id := t.madeOf[x.ID]
		if t.ours[id] || t.own.walls[id] != nil {
			continue
		}
		l := slices.IndexFunc(t.reader.levels, func(l *level) bool { return l.mark == x.Level })
		mark := x.ID
		x.Level = t.level(t.reader.levels[l])
		t.bring(id, x.Line)
		t.bring(id, x.Outline)
		x.ID = marks.free(escaped(x.Level) + "-X%02d")
		t.marks[mark] = x.ID
		p.Structure = append(p.Structure, x)
		t.changed("model-added", x.ID, id, "the structure was added to the model")
	}
}

// outlineOfStructure is the outline with which structure is written.
func outlineOfStructure(s *plan.Structure) []plan.Pt {
	if len(s.Outline) >= 3 || len(s.Line) != 2 {
		return s.Outline
	}
	f := geom.FrameOf(geom.Segment{A: geom.Point(s.Line[0]), B: geom.Point(s.Line[1])})
	l, h := geom.Point(s.Line[0]).Dist(geom.Point(s.Line[1])), s.Thickness/2
	return []plan.Pt{plan.Pt(f.Global(0, -h)), plan.Pt(f.Global(l, -h)), plan.Pt(f.Global(l, h)), plan.Pt(f.Global(0, h))}
}

// rooms follows the rooms.
func (t *restorer) rooms() {
	p := t.own.plan
	in := t.entities([]string{"IFCSPACE"})
	p.Rooms = slices.DeleteFunc(p.Rooms, func(m plan.Room) bool {
		gone := in[m.ID] == 0 && slices.Contains(t.own.in.Rooms, m.ID)
		if gone {
			t.changed("model-removed", m.ID, 0, "the room is no more in the model, and so not in the plan")
		}
		return gone
	})
	for i := range p.Rooms {
		m := &p.Rooms[i]
		id := in[m.ID]
		if id == 0 || !slices.Contains(t.own.in.Rooms, m.ID) {
			continue
		}
		t.ours[id] = true
		if ring, off := t.outlineOff(id, m.Outline); off > own.Near {
			t.changed("model-changed", m.ID, id, words.F("its outline lies up to %.1f mm elsewhere in the model", off))
			m.Outline, m.Found = ring, false
		}
	}
	t.addRooms()
}

// addRooms adds the rooms that were drawn in the model.
func (t *restorer) addRooms() {
	p := t.own.plan
	marks := newMarker()
	for _, m := range p.Rooms {
		marks.taken[m.ID] = true
	}
	at := map[string]int{}
	for i := range t.read.Rooms {
		at[t.read.Rooms[i].ID] = i
	}
	for _, l := range t.reader.levels {
		for i, m := range l.rooms {
			k, ok := at[fmt.Sprintf("%s-R%02d", l.mark, i+1)]
			if t.ours[m.id] || !ok {
				continue
			}
			added := t.read.Rooms[k]
			added.Level = t.level(l)
			t.bring(m.id, added.Outline)
			added.ID = marks.free(escaped(added.Level) + "-R%02d")
			p.Rooms = append(p.Rooms, added)
			t.changed("model-added", added.ID, m.id, "the room was added to the model")
		}
	}
}

// outlineOff returns the outline of an entity on its storey, and how far it is from one
// that was drawn: no distance where the entity has no outline to compare.
func (t *restorer) outlineOff(id step.ID, drawn []plan.Pt) ([]plan.Pt, float64) {
	solids, _ := t.shape.Body(id)
	foot, ok := shape.Footprint(solids)
	if !ok || len(foot) < 3 || !allSane(foot) {
		return nil, 0
	}
	at := t.storeyPlace(id)
	var ring []plan.Pt
	for _, p := range foot {
		q := within(at, p)
		ring = append(ring, plan.Pt{X: length(q[0]), Y: length(q[1])})
	}
	return ring, max(apart(ring, drawn), apart(drawn, ring))
}

// apart returns how far corners of an outline lie from the rim of another, at most, in mm.
func apart(corners, rim []plan.Pt) float64 {
	off := 0.0
	for _, p := range corners {
		near := math.Inf(1)
		for i := range rim {
			s := geom.Segment{A: geom.Point(rim[i]), B: geom.Point(rim[(i+1)%len(rim)])}
			near = min(near, s.Nearest(geom.Point(p)).Dist(geom.Point(p)).MM())
		}
		off = max(off, near)
	}
	return off
}
