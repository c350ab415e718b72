package ifc

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"nogging/internal/exchange/ifc/own"
	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/exchange/ifc/step"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// restorer puts a plan together from what the model says of it, and from what was read
// of the rest of the model.
type restorer struct {
	*reader
	read   *plan.Plan // by geometry alone
	levels map[*level]string
	ours   map[step.ID]bool  // entities that this program wrote
	marks  map[string]string // of what was added: mark in read, mark in the plan
}

// restore gives the plan back from which the model was written, as far as its geometry
// agrees, and puts it in place of what was read.
func (r *reader) restore(p *plan.Plan) {
	if r.own == nil {
		return
	}
	r.ownHoles()
	t := &restorer{reader: r, read: p, levels: map[*level]string{}, ours: map[step.ID]bool{}, marks: map[string]string{}}
	read := *p
	t.read = &read
	told := r.found
	r.found = nil
	t.settle()
	t.georeference()
	back := t.walls()
	t.addWalls(&back)
	t.structure()
	t.rooms()
	r.own.plan.Walls = own.Join(r.own.plan.Walls, back, r.own.in.Walls)
	*p = *r.own.plan
	r.keep(told, t)
	r.stats.Ours, r.stats.Restored = true, len(r.own.walls)
	r.stats.Walls, r.stats.Levels, r.stats.Rooms = len(p.Walls), len(p.Levels), len(p.Rooms)
}

// changed tells of a difference between model and plan.
func (t *restorer) changed(code, object string, id step.ID, what words.Text) {
	f := finding.Finding{Code: code, Severity: finding.Note, Object: object, Place: finding.Place{File: t.name}, What: what}
	if id != 0 {
		f.Place = t.place(id)
		f.What += words.F(" (%s)", t.entity(id))
	}
	t.found.Add(f)
}

// settle finds the plan's levels in the storeys, by their names, and their heights.
func (t *restorer) settle() {
	p := t.own.plan
	for _, l := range t.reader.levels {
		known := p.LevelByID(l.name)
		if known == nil || l.id == 0 {
			continue
		}
		t.levels[l] = known.ID
		at, err := t.shape.Placement(l.id)
		if err != nil {
			continue
		}
		z := at.O.Z - t.buildingZ(l.id)
		if off := z - known.Elevation.MM(); math.Abs(off) > own.Near {
			t.changed("model-changed", known.ID, l.id, words.F("its floor lies %+.1f mm higher in the model than in the plan", off))
			known.Elevation = length(z)
		}
	}
}

// buildingZ is the height of what a storey stands in.
func (t *restorer) buildingZ(storey step.ID) float64 {
	at, err := t.shape.Placement(t.rel.whole[storey])
	if err != nil || t.rel.whole[storey] == 0 {
		return 0
	}
	return at.O.Z
}

// level returns the plan's level for a storey, which is added where it is new.
func (t *restorer) level(l *level) string {
	if id, ok := t.levels[l]; ok {
		return id
	}
	added := *t.read.LevelByID(l.mark)
	for t.own.plan.LevelByID(added.ID) != nil {
		added.ID += "+"
	}
	t.own.plan.Levels = append(t.own.plan.Levels, added)
	t.levels[l] = added.ID
	t.changed("model-added", added.ID, l.id, "the storey was added to the model")
	return added.ID
}

// marker gives out marks that are not taken.
type marker struct {
	taken map[string]bool
	next  map[string]int
}

func newMarker() marker { return marker{map[string]bool{}, map[string]int{}} }

// escaped is a text as part of a pattern.
func escaped(text string) string { return strings.ReplaceAll(text, "%", "%%") }

// free returns the next free mark of a pattern, counted from 1.
func (m marker) free(pattern string) string {
	for {
		m.next[pattern]++
		if mark := fmt.Sprintf(pattern, m.next[pattern]); !m.taken[mark] {
			m.taken[mark] = true
			return mark
		}
	}
}

// georeference takes over what was changed of where the building lies. The plan's origin
// stays where it is in the building.
func (t *restorer) georeference() {
	was, is := &t.own.plan.Project.Georeference, t.read.Project.Georeference
	is.OriginX, is.OriginY = was.OriginX, was.OriginY
	drawn := *was
	for _, g := range []*plan.Georeference{&drawn, &is} {
		g.Scale, g.MapUnit = digits(g.Scale), digits(g.MapUnit)
		if g.Scale == 1 {
			g.Scale = 0
		}
		if g.MapUnit == 1 {
			g.MapUnit = 0
		}
	}
	if drawn != is {
		*was = is
		t.changed("model-changed", "", 0, "where on earth the building lies was changed in the model")
	}
}

// bring turns points of what was read of an entity into those of the plan: off its storey.
func (t *restorer) bring(id step.ID, points []plan.Pt) {
	at := t.storeyPlace(id)
	for i, p := range points {
		q := within(at, shape.Vec{X: p.X.MM() + t.origin.X, Y: p.Y.MM() + t.origin.Y, Z: at.O.Z})
		points[i] = plan.Pt{X: length(q[0]), Y: length(q[1])}
	}
}

// walls returns the walls of the plan that are in the model. Of several with the same
// mark, as copying makes them, the one that lies nearest to the drawn one is it.
func (t *restorer) walls() []plan.Wall {
	best := map[string]*ownWall{}
	for _, id := range t.own.order {
		w := t.own.walls[id]
		if b := best[w.spec.ID]; b == nil || w.was.AxisOff(&w.now) < b.was.AxisOff(&b.now) {
			best[w.spec.ID] = w
		}
	}
	var back []plan.Wall
	for _, id := range t.own.order {
		w := t.own.walls[id]
		if best[w.spec.ID] != w {
			delete(t.own.walls, id)
			t.changed("model-added", "", id, words.F("it is a copy of %s and read as another wall", w.spec.ID))
			continue
		}
		t.mine(id)
		back = append(back, t.wall(w))
	}
	for _, p := range t.own.in.Walls {
		if best[p.ID] == nil {
			t.changed("model-removed", p.ID, 0, "the wall is no more in the model, and so not in the plan")
		}
	}
	return back
}

// mine marks a wall with its openings and doors as ours.
func (t *restorer) mine(wall step.ID) {
	t.ours[wall] = true
	for _, o := range t.own.walls[wall].holes {
		t.ours[o] = true
		for _, f := range t.rel.fillings[o] {
			t.ours[f] = true
		}
	}
}

// wall returns one wall of the plan with what was changed in the model.
func (t *restorer) wall(w *ownWall) plan.Wall {
	level := t.own.plan.LevelByID(w.spec.Level)
	if w.now.Axis == ([3]own.Point{}) {
		t.changed("model-changed", w.spec.ID, w.id, "it has no axis in the model: the wall is kept as it was drawn")
		return w.spec
	}
	wall, told := t.carry(w, level)
	if l := t.storeyOf(w.id); l != nil {
		if id := t.level(l); id != wall.Level {
			told = append(told, words.F("it stands on %s, before on %s", id, wall.Level))
			wall.Level = id
		}
	}
	if len(told) > 0 {
		t.changed("model-changed", wall.ID, w.id, words.F("it was changed in the model: %s", words.Join(told, "; ")))
	}
	return wall
}

// addWalls adds the walls that were drawn in the model, as they were read.
func (t *restorer) addWalls(back *[]plan.Wall) {
	marks := newMarker()
	for _, w := range slices.Concat(*back, t.own.plan.Walls) {
		marks.taken[w.ID] = true
	}
	at := map[string]int{}
	for i := range t.read.Walls {
		at[t.read.Walls[i].ID] = i
	}
	buildups := map[string]string{}
	for _, w := range t.reader.walls {
		if t.own.walls[w.id] != nil || !w.partition {
			continue
		}
		i, ok := at[w.mark]
		if !ok {
			continue
		}
		added := t.read.Walls[i]
		added.Level = t.level(w.level)
		t.bring(w.id, added.Line)
		added.ID = marks.free(escaped(added.Level) + "-%02d")
		added.BuildUp = t.buildUp(added.BuildUp, buildups)
		t.marks[w.mark] = added.ID
		*back = append(*back, added)
		t.changed("model-added", added.ID, w.id, "the wall was added to the model")
	}
}

// buildUp takes a build-up that was read over into the plan, once.
func (t *restorer) buildUp(id string, known map[string]string) string {
	b := t.read.BuildUpByID(id)
	if b == nil {
		return ""
	}
	if known[id] == "" {
		added := *b
		marks := newMarker()
		for i := range t.own.plan.BuildUps {
			marks.taken[t.own.plan.BuildUps[i].ID] = true
		}
		added.ID = marks.free("P%d")
		t.own.plan.BuildUps = append(t.own.plan.BuildUps, added)
		known[id], t.marks[id] = added.ID, added.ID
	}
	return known[id]
}

// keep keeps the findings of reading that still say something: those about what was
// added, and about the file as such.
func (r *reader) keep(told finding.List, t *restorer) {
	mine := map[string]bool{}
	for id := range t.ours {
		mine[r.entity(id)] = true
	}
	added := map[string]bool{}
	for _, w := range r.walls {
		if t.marks[w.mark] != "" {
			added["wall type "+w.label] = true
		}
	}
	for _, f := range told {
		mark, rest, _ := strings.Cut(f.Object, "/")
		switch {
		case f.Object == "" && f.Code == "unit-missing", f.Code == "own-unread", added[f.Object],
			strings.HasPrefix(f.Object, "#") && !mine[f.Object]:
		case f.Object != "" && t.marks[mark] != "":
			f.Object = strings.TrimSuffix(t.marks[mark]+"/"+rest, "/")
		default:
			continue
		}
		r.found.Add(f)
	}
}
