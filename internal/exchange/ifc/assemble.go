package ifc

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// assembler writes what was read into a plan.
type assembler struct {
	*reader
	plan    *plan.Plan
	chooser *chooser
	claims  claims
}

// assemble writes the plan.
func (r *reader) assemble(p *plan.Plan) {
	p.Practice = "metric"
	if r.shape.Units().Imperial() {
		p.Practice = "us"
	}
	a := &assembler{reader: r, plan: p, chooser: newChooser(p.Practice), claims: claims{walls: map[rating]int{}}}
	a.head()
	bodies := slices.Concat(r.readColumns(), r.readFacades(), r.readObstacles())
	for _, l := range r.levels {
		p.Levels = append(p.Levels, plan.Level{ID: l.mark, Name: l.name, Elevation: length(l.elevation), ClearHeight: length(l.clear)})
		a.walls(l)
		a.bodies(l, bodies)
		a.rooms(l)
	}
	for _, k := range a.chooser.order {
		if k.err == "" {
			p.BuildUps = append(p.BuildUps, k.BuildUp)
		}
	}
	a.tellClaims()
	r.showBuildUps(a.chooser)
	r.stats.Levels = len(p.Levels)
	r.countTypes()
}

// head fills in what concerns the plan as a whole.
func (a *assembler) head() {
	for _, id := range a.file.OfType("IFCPROJECT") {
		a.plan.Project.Name = cmp.Or(a.file.Arg(id, 5).Text(), a.file.Arg(id, 2).Text())
		break
	}
	u := a.shape.Units()
	if !u.Stated {
		a.tell(finding.Warning, "unit-missing", "", "the file states no unit of length: metres are taken", "check the size of a wall that you know")
	}
	a.tell(finding.Assumed, "practice", "", words.F("lengths are given in %s: the practice %s is taken", u, a.plan.Practice), "change practice in the plan if the other is meant")
	a.settleOrigin()
	a.keepGeoreference()
}

// farAway is the distance from the origin, in mm, from which a building is
// moved: coordinates of a survey tell nothing on a set-out plan.
const farAway = 1e7

// settleOrigin moves buildings that lie far from the origin near to it, by
// whole metres.
func (a *assembler) settleOrigin() {
	box := shape.Empty
	for _, w := range a.reader.walls {
		box = box.Add(w.frame.Origin)
	}
	if box.IsEmpty() || max(box.Min.X, -box.Max.X, box.Min.Y, -box.Max.Y) < farAway {
		return
	}
	a.origin = shape.Vec{X: math.Floor(box.Min.X/1000) * 1000, Y: math.Floor(box.Min.Y/1000) * 1000}
	a.tell(finding.Assumed, "origin-moved", "", words.F("the building lies far from the origin: the plan's origin is put at %.0f, %.0f m", a.origin.X/1000, a.origin.Y/1000), "")
}

func (a *assembler) pt(p shape.Vec) plan.Pt {
	return plan.Pt{X: length(p.X - a.origin.X), Y: length(p.Y - a.origin.Y)}
}

func (a *assembler) outline(ring []shape.Vec) []plan.Pt {
	var points []plan.Pt
	for _, p := range ring {
		if q := a.pt(p); len(points) == 0 || q != points[len(points)-1] && q != points[0] {
			points = append(points, q)
		}
	}
	return points
}

// walls writes the walls of a level.
func (a *assembler) walls(l *level) {
	partitions, structure := 0, 0
	for _, w := range l.walls {
		if w.partition {
			partitions++
			w.mark = fmt.Sprintf("%s-%02d", l.mark, partitions)
			a.partition(w)
		} else {
			structure++
			w.mark = fmt.Sprintf("%s-S%02d", l.mark, structure)
			a.madeOf[w.mark] = w.id
			a.plan.Structure = append(a.plan.Structure, plan.Structure{
				ID: w.mark, Level: l.mark, Kind: w.structureKind(), Material: materialOf(w.makeup, w.typeName),
				Line: a.line(w), Thickness: length(w.thickness),
			})
			if !w.further {
				a.stats.Structure++
			}
			a.stats.Openings += w.named()
			a.stats.OpeningsInStructure += w.named()
		}
		if len(w.pieces) == 0 && !w.further {
			a.compareSizes(w)
		}
		a.doubts(w.mark, w, w.doubts)
	}
	a.structureOpenings(l)
}

// line returns the line of a wall of structure: along an arc, with corners.
func (a *assembler) line(w *wall) []plan.Pt {
	var points []plan.Pt
	for _, p := range w.frame.Along(w.ends[0], w.ends[1], cornerRise) {
		points = append(points, a.pt(p))
	}
	return points
}

// cornerRise is how far, in mm, the line of curved structure may lie off its arc.
const cornerRise = 5

func (w *wall) structureKind() string {
	if w.common.external == yes {
		return kindFacade
	}
	return kindWall
}

// structureOpenings tells how many openings of a level are in structure.
func (a *assembler) structureOpenings(l *level) {
	n, in := 0, 0
	for _, w := range l.walls {
		if !w.partition && w.named() > 0 {
			n, in = n+w.named(), in+1
		}
	}
	if n > 0 {
		a.tell(finding.Note, "openings-in-structure", l.mark,
			words.F("%s in %s of existing structure were read; a plan shows structure without its openings", words.Count(n, "1 opening", "%d openings"), words.Count(in, "1 wall", "%d walls")), "")
	}
}

// partition writes one partition.
func (a *assembler) partition(w *wall) {
	k := a.chooser.of(w)
	if k != nil && k.err != "" {
		k = nil
	}
	if k != nil {
		a.turn(w, k)
	}
	p := plan.Wall{
		ID: w.mark, Level: w.level.mark, Line: []plan.Pt{a.pt(w.frame.Origin), a.pt(w.frame.Global(w.length, 0, 0))},
		Thickness: length(w.thickness), Require: w.common.require, Note: a.note(w),
	}
	if k != nil {
		p.BuildUp = k.ID
	}
	if w.frame.Curved() {
		via := a.pt(w.frame.Global(w.length/2, 0, 0))
		p.Via = &via
	}
	base, off := w.standing()
	if p.Base = base; off != "" {
		p.Note += "; " + off
	}
	w.setHeights(&p)
	a.openings(w, &p)
	a.ratings(w, &p)
	a.plan.Walls = append(a.plan.Walls, p)
	if !w.further {
		a.stats.Walls++
	}
}

// note keeps what leads back from the plan to the model.
func (a *assembler) note(w *wall) string {
	text := fmt.Sprintf("IFC #%d", w.id)
	if w.tag != "" {
		text += ", tag " + w.tag
	}
	return text + ", type " + w.typeName
}

// turn runs a wall the other way where its build-up asks for the other face on
// the left.
func (a *assembler) turn(w *wall, k *chosen) {
	if !k.onesided {
		return
	}
	if !w.sided {
		w.doubt(finding.Assumed, "wall-side", "the file does not say on which side of the wall its layers begin: face A is taken on the left of its line", "swap the ends of its line if it is the other way round")
		return
	}
	if k.firstOnA != w.firstLeft {
		w.reverse()
	}
}

// reverse swaps start and end.
func (w *wall) reverse() {
	w.frame = w.frame.Reversed(w.length)
	w.firstLeft = !w.firstLeft
	if w.elevation != nil {
		slices.Reverse(w.elevation.top)
		for i := range w.elevation.top {
			w.elevation.top[i].u = w.length - w.elevation.top[i].u
		}
	}
	for _, o := range w.openings {
		o.rect.u0, o.rect.u1 = w.length-o.rect.u1, w.length-o.rect.u0
	}
}

// setHeights writes the wall's height, or its profile where it is not level.
func (w *wall) setHeights(p *plan.Wall) {
	e := w.elevation
	switch {
	case e == nil:
		return
	case e.level():
		p.Height = length(e.highest()) + p.Base
		return
	}
	for _, t := range e.top {
		h := plan.HeightAt{At: length(t.u), Height: max(length(t.z-e.foot), length(1)) + p.Base}
		if n := len(p.Heights); n > 1 && p.Heights[n-2].At == h.At {
			p.Heights[n-1] = h // the middle of three at one place
			continue
		}
		p.Heights = append(p.Heights, h)
	}
}

// openings writes the openings of a partition, from its start to its end.
func (a *assembler) openings(w *wall, p *plan.Wall) {
	slices.SortStableFunc(w.openings, func(x, y *opening) int {
		return cmp.Or(cmp.Compare(x.rect.u0, y.rect.u0), cmp.Compare(x.rect.z0, y.rect.z0))
	})
	for i, o := range w.openings {
		leaf, sound := a.leafOf(o)
		at, sill := length(o.rect.u0), length(o.rect.z0)+p.Base
		width := length(o.rect.u1) - at
		if w.frame.Curved() {
			width = length(o.clear())
		}
		p.Openings = append(p.Openings, plan.Opening{
			Kind: o.kind, At: at, Width: width, Sill: sill, Height: length(o.rect.z1) + p.Base - sill,
			Leaf: leaf, Sound: sound,
		})
		a.doubts(p.OpeningID(i), w, o.doubts)
		if o.id == 0 {
			a.stats.Holes++
		}
	}
	a.stats.Openings += w.named()
}

// named returns how many openings of the file a wall has.
func (w *wall) named() int {
	n := 0
	for _, o := range w.openings {
		if o.id != 0 && !o.further {
			n++
		}
	}
	return n
}

// standing tells of partitions that do not stand on the floor of their level. It
// returns the height of the foot of those that stand above it, and what stays in
// the plan of those that begin far below it and are read as standing on it.
func (w *wall) standing() (base plan.Length, note string) {
	off := w.foot - w.level.elevation
	switch {
	case w.elevation == nil || math.Abs(off) < levelFoot:
	case off > 0 && off < nearFloor:
		w.doubt(finding.Note, "wall-off-floor", words.F("it stands %.0f mm above the floor of its level, and is read so", off), "")
		return length(off), ""
	case off > 0:
		w.doubt(finding.Assumed, "wall-off-floor", words.F("it begins %.0f mm above the floor of its level: it is read as standing on something of that height", off),
			"check what carries it, and whether it shall be built as a partition")
		return length(off), ""
	case off > -nearFloor:
		w.doubt(finding.Note, "wall-off-floor", words.F("it stands %.0f mm below the floor of its level; its heights are measured from its own foot", -off), "")
	default:
		w.doubt(finding.Warning, "wall-off-floor",
			words.F("it begins %.0f mm below the floor of its level: it is read as standing on it, with its own height", -off),
			"check whether it shall be built as a partition")
		return 0, fmt.Sprintf("starts %.0f mm below the floor in the model", -off)
	}
	return 0, ""
}

// doubts adds what is to be told of an object of the plan.
func (a *assembler) doubts(object string, w *wall, doubts []doubt) {
	for _, d := range doubts {
		a.found.Add(finding.Finding{
			Code: d.code, Severity: d.severity, Object: object, Place: a.place(w.id),
			What: words.F("%s (%s)", d.what, a.entity(w.id)), Fix: d.fix,
		})
	}
}

// bodies writes the columns and other structure of a level.
func (a *assembler) bodies(l *level, all []*body) {
	n := map[string]int{}
	letters := map[string]string{kindColumn: "C", kindFacade: "F", kindWall: "X"}
	for _, b := range all {
		if !a.standsOn(b, l) {
			continue
		}
		n[b.kind]++
		s := plan.Structure{ID: fmt.Sprintf("%s-%s%02d", l.mark, letters[b.kind], n[b.kind]), Level: l.mark, Kind: b.kind, Material: b.material}
		if b.outline != nil {
			s.Outline = a.outline(b.outline)
		} else {
			s.Line, s.Thickness = []plan.Pt{a.pt(b.line[0]), a.pt(b.line[1])}, length(b.thickness)
		}
		a.madeOf[s.ID] = b.id
		a.plan.Structure = append(a.plan.Structure, s)
	}
	if n[kindFacade] > 0 {
		a.tell(finding.Note, "facades", l.mark, words.F("%s taken as existing structure: their posts and panes are no partitions", words.Count(n[kindFacade], "1 curtain wall is", "%d curtain walls are")), "")
	}
}

// rooms writes the rooms of a level.
func (a *assembler) rooms(l *level) {
	for i, m := range l.rooms {
		a.plan.Rooms = append(a.plan.Rooms, plan.Room{
			ID: fmt.Sprintf("%s-R%02d", l.mark, i+1), Level: l.mark, Name: strings.TrimSpace(m.name), Use: m.use, Outline: a.outline(m.outline),
		})
		a.stats.Rooms++
	}
}
