package sheets

import (
	"math"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"slices"
)

// reachOut is how much of a wall shows beside what a detail is about.
const reachOut = 190 * millimetre

// tallShown is the same for upright sections.
const tallShown = 95 * millimetre

// wall takes the details of one wall on its own.
func (t *taker) wall(w *layout.Wall) {
	t.headAndBase(w)
	t.body(w)
	for end := range w.Ends {
		t.end(w, end)
	}
	t.interruptions(w)
	for _, s := range w.Beads {
		if s.Use == "control joint" {
			t.along(w, movementDetail, "movement joint", s.From.X)
			break
		}
	}
	t.splice(w)
	t.bracket(w)
	for i := range w.Pipes {
		t.pipe(w, &w.Pipes[i])
	}
	for i := range w.Openings {
		if w.Framed(w.Openings[i]) {
			t.opening(w, &w.Openings[i])
		}
		t.penetration(w, &w.Openings[i])
	}
}

// splice takes the section through the lap of a spliced stud.
func (t *taker) splice(w *layout.Wall) {
	for i := range w.Members {
		if m := &w.Members[i]; m.Spliced && m.Lap > 0 && m.Role == layout.Stud {
			u := geom.Interval{From: m.From.X - reachOut, To: m.From.X + reachOut}
			t.file(t.level(w, spliceDetail, m.From.X, false, u, m.From.Y+m.Lap/2), "splice", nil, false, false, w.ID)
			return
		}
	}
}

// handHeight is the height of level sections above the floor.
const handHeight = 1100 * millimetre

// cutHeight returns the height of level cuts through walls.
func cutHeight(walls ...*layout.Wall) Length {
	z := handHeight
	for _, w := range walls {
		z = min(z, highest(w.Top)/2)
	}
	return z
}

// level takes a level section of one wall, in a frame at u that looks along the
// wall or back.
func (t *taker) level(w *layout.Wall, kind detailKind, at Length, back bool, u geom.Interval, z Length) *detail {
	d := &detail{kind: kind}
	f := geom.Frame{Origin: w.Point(at, 0), Dir: w.Dir(at)}
	if back {
		f.Dir = geom.Vec{X: -f.Dir.X, Y: -f.Dir.Y}
	}
	c := levelCut{detail: d, set: t.set, wall: w, from: f, z: z, u: u, near: at}
	c.cut(true, false)
	t.around(d, w.Level, f)
	return d
}

// along takes a level section through a wall that goes on at both sides.
func (t *taker) along(w *layout.Wall, kind detailKind, where string, at Length) {
	z := cutHeight(w)
	if kind == bodyDetail && len(w.Gussets) > 0 {
		z = w.Gussets[0].At.Y
	}
	if i := slices.IndexFunc(w.Brackets, func(b layout.Bracket) bool { return b.Behind() && b.At.X == at }); kind == bodyDetail && i >= 0 {
		z = w.Brackets[i].At.Y
	}
	t.file(t.level(w, kind, at, false, geom.Interval{From: at - reachOut, To: at + reachOut}, z), where, nil, false, true, w.ID)
}

// around adds the existing structure that stands by what a detail shows.
func (t *taker) around(d *detail, level string, f geom.Frame) {
	b := d.bounds()
	r := b.Grow(150 * millimetre)
	window := geom.Polygon{r.Min, geom.Pt(r.Max.X, r.Min.Y), r.Max, geom.Pt(r.Min.X, r.Max.Y)}
	near := b.Grow(5 * millimetre)
	for _, body := range t.bodies[level] {
		shape := make(geom.Polygon, len(body.shape))
		for i, p := range body.shape {
			shape[i] = f.Local(p)
		}
		if !shape.Bounds().Overlaps(near) {
			continue
		}
		if shape = shape.Clip(window); len(shape) > 2 && shape.Bounds().Overlaps(near) {
			d.parts = append([]part{{matter: ground, name: body.name, shape: shape}}, d.parts...)
		}
	}
}

// body takes the section at the stud that says most: one of the module, on which
// a joint of face A falls, near the middle of the wall.
func (t *taker) body(w *layout.Wall) {
	e := extentOf(w)
	const far = 1000 * 1000 * millimetre // longer than any wall
	score := func(m *layout.Member) Length {
		s := (m.From.X - (e.From+e.To)/2).Abs()
		if m.Role != layout.Stud {
			s += 2 * far
		}
		if !jointAt(w, m.From.X) {
			s += far
		}
		return s
	}
	var best *layout.Member
	for i := range w.Members {
		if m := &w.Members[i]; m.Upright() && m.From.Y == w.Base && (best == nil || score(m) < score(best)) {
			best = m
		}
	}
	if best != nil {
		t.along(w, bodyDetail, "studs", best.From.X)
	}
}

// jointAt reports whether an upright joint of the outer layer of face A, low in
// the wall, falls at u.
func jointAt(w *layout.Wall, u Length) bool {
	return slices.ContainsFunc(w.Joints, func(j layout.Joint) bool {
		return j.Outer && j.Face == plan.FaceA && j.From.X == u && j.To.X == u && j.From.Y < handHeight/2
	})
}

// end takes the section at an end that meets structure or nothing; the others
// are junctions.
func (t *taker) end(w *layout.Wall, end int) {
	kind, where := structureDetail, "start"
	if end == 1 {
		where = "end"
	}
	switch w.Ends[end].Kind {
	case layout.Free:
		kind = freeDetail
	case layout.Structure:
	default:
		return
	}
	e := wholeExtent(w)
	at := e.To
	if end == 0 {
		at = e.From
	}
	t.stop(w, kind, where, at, end == 0)
}

// stop takes the section at a place where a wall stops: its end, or its start
// with the wall seen the other way.
func (t *taker) stop(w *layout.Wall, kind detailKind, where string, at Length, start bool) {
	u := geom.Interval{From: at - reachOut, To: at}
	if start {
		u = geom.Interval{From: at, To: at + reachOut}
	}
	t.file(t.level(w, kind, at, start, u, cutHeight(w)), where, nil, true, false, w.ID)
}

// interruptions takes the sections where existing structure stands in the run of
// a wall.
func (t *taker) interruptions(w *layout.Wall) {
	for _, gap := range planes(w)[0].breaks {
		middle := w.Point((gap.From+gap.To)/2, 0)
		for _, b := range t.bodies[w.Level] {
			if b.shape.Contains(middle) {
				t.stop(w, structureDetail, "at "+b.name, gap.From, false)
				t.stop(w, structureDetail, "at "+b.name, gap.To, true)
			}
		}
	}
}

// opening takes the sections at the jambs, the head and the sill of an opening.
func (t *taker) opening(w *layout.Wall, o *layout.Opening) {
	const into = 40 * millimetre
	top := topAt(w.Top, (o.U.From+o.U.To)/2)
	z := (o.Sill + min(o.Head, top)) / 2
	if o.U.From > extentOf(w).From {
		t.file(t.level(w, jambDetail, o.U.From, false, geom.Interval{From: o.U.From - reachOut, To: o.U.From + into}, z), "jamb", []string{o.ID}, true, false, w.ID)
	}
	if o.U.To < extentOf(w).To {
		t.file(t.level(w, jambDetail, o.U.To, true, geom.Interval{From: o.U.To - into, To: o.U.To + reachOut}, z), "jamb", []string{o.ID}, true, false, w.ID)
	}
	u := t.clearBay(w, o.U, o.Head)
	if o.Head < top {
		t.upright(w, lintelDetail, "opening head", []string{o.ID}, u, o.Head, geom.Interval{From: o.Head - into, To: min(top, headerOver(w, o, u)+tallShown)})
	}
	if o.Sill > 0 {
		t.upright(w, sillDetail, "sill", []string{o.ID}, u, o.Sill, geom.Interval{From: max(0, o.Sill-tallShown), To: o.Sill + into})
	}
}

// headerOver returns the height of the header over an opening at u: its head, or
// higher where the running gear of a sliding leaf is.
func headerOver(w *layout.Wall, o *layout.Opening, u Length) Length {
	z := o.Head
	for _, m := range w.Members {
		if m.Role == layout.Header && m.From.X <= u && u <= m.To.X && m.From.Y >= o.Head && m.From.Y < o.Head+2*reachOut {
			z = max(z, m.From.Y)
		}
	}
	return z
}

// clearBay returns a place near the middle of a stretch that is clear of the
// uprights that stand at height z.
func (t *taker) clearBay(w *layout.Wall, u geom.Interval, z Length) Length {
	at := (u.From + u.To) / 2
	for _, off := range []Length{0, -100, 100, -200, 200} {
		x := at + off*millimetre
		if !slices.ContainsFunc(w.Members, func(m layout.Member) bool {
			return m.Upright() && (m.From.X-x).Abs() < m.Width/2+10*millimetre && m.To.Y > z
		}) {
			return x
		}
	}
	return at
}

// upright takes an upright section at u, with its origin at height z.
func (t *taker) upright(w *layout.Wall, kind detailKind, what string, which []string, u, z Length, shown geom.Interval) {
	d := &detail{kind: kind}
	c := uprightCut{detail: d, set: t.set, wall: w, u: u, z: shown, origin: z}
	c.cut()
	level := t.set.in.Plan.LevelByID(w.Level)
	top := topAt(w.Top, u)
	if shown.To >= top && w.Head.Kind != plan.HeadFree && level != nil {
		c.soffit(level, top)
		c.gaps(top, true)
	}
	if shown.From <= w.Base && level != nil {
		name := slabName("floor", level.Floor)
		if w.Base > 0 {
			name = "upstand"
		}
		c.slab(name, w.Base, -150*millimetre)
		if kind == baseDetail {
			c.gaps(w.Base, false)
		}
	}
	c.thicknesses()
	t.file(d, what, which, true, true, w.ID)
}

// headAndBase takes the upright sections at the middle of a bay without opening.
func (t *taker) headAndBase(w *layout.Wall) {
	u, ok := openBay(w)
	if !ok {
		return
	}
	top := topAt(w.Top, u)
	if at, ok := closerBeside(w, u); ok {
		u, top = at, topAt(w.Top, at)
	}
	t.upright(w, headDetail, "head", nil, u, top, geom.Interval{From: max(top-headShown(w), top/2), To: top})
	t.upright(w, baseDetail, "base", nil, u, w.Base, geom.Interval{From: w.Base, To: min(w.Base+tallShown, (w.Base+top)/2)})
}

// headShown is how much of a wall an upright section through its head shows: past
// the legs of the head track.
func headShown(w *layout.Wall) Length {
	shown := tallShown
	for i := range w.Members {
		if m := &w.Members[i]; m.Role == layout.SoffitTrack {
			shown = max(shown, w.Head.Pack+m.Width+30*millimetre)
		}
	}
	return shown
}

// openBay returns the middle of the bay nearest to the middle of the wall that no
// opening touches.
func openBay(w *layout.Wall) (Length, bool) {
	var us []Length
	for i := range w.Members {
		if m := &w.Members[i]; m.Upright() && m.Line == 0 && m.From.Y == w.Base {
			us = append(us, m.From.X)
		}
	}
	slices.Sort(us)
	middle := (w.FrameLines[0].Extent.From + w.FrameLines[0].Extent.To) / 2
	best, least := Length(0), Length(math.MaxInt64)
	for i := 1; i < len(us); i++ {
		u := (us[i-1] + us[i]) / 2
		bay := geom.Interval{From: us[i-1], To: us[i]}
		off := (u - middle).Abs()
		if bay.Len() < 250*millimetre {
			off += middle + bay.To // only where there is no other
		}
		if !touched(w, bay) && bay.Len() > 60*millimetre && off < least {
			best, least = u, off
		}
	}
	return best, least < math.MaxInt64
}

// touched reports whether an opening, or a break of the boards, lies in a bay.
func touched(w *layout.Wall, bay geom.Interval) bool {
	for i := range w.Faces {
		for _, l := range w.Faces[i].Layers {
			if slices.ContainsFunc(l.Breaks, bay.Overlaps) {
				return true
			}
		}
	}
	return slices.ContainsFunc(w.Openings, func(o layout.Opening) bool { return o.U.Overlaps(bay) })
}

// junction takes the section at a place where walls meet; the through wall lies
// level, and what butts on it comes from below.
func (t *taker) junction(j *layout.Junction) {
	var walls []*layout.Wall
	for _, id := range j.Walls {
		if w := t.walls[id]; w != nil && len(w.FrameLines) > 0 {
			walls = append(walls, w)
		}
	}
	if len(walls) < 2 {
		return
	}
	kind := map[layout.JunctionKind]detailKind{layout.L: cornerDetail, layout.T: teeDetail, layout.X: crossDetail, layout.I: straightDetail}[j.Kind]
	through := walls[0]
	at := through.Local(j.At).X
	f := geom.Frame{Origin: through.Point(at, 0), Dir: through.Dir(at)}
	d := &detail{kind: kind}
	for i, w := range walls {
		u := w.Local(f.Origin).X
		r := t.reachAt(walls, i)
		c := levelCut{detail: d, set: t.set, wall: w, from: f, z: cutHeight(walls...), u: geom.Interval{From: u - r, To: u + r}, near: u}
		square := math.Abs(w.Dir(u).Dot(f.Dir)) < 1e-3
		c.cut(i == 0 || i == 1 && square, i == 1)
	}
	t.around(d, j.Level, f)
	d = t.turned(d, walls, f, kind)
	t.file(d, string(j.Kind), j.Walls, kind == cornerDetail, kind == cornerDetail || kind == teeDetail, j.Walls...)
}

// turned turns a junction over so that the through wall of a corner comes from
// the left, and what butts comes from below.
func (t *taker) turned(d *detail, walls []*layout.Wall, f geom.Frame, kind detailKind) *detail {
	mid := func(w *layout.Wall) geom.Point {
		return f.Local(geom.Pt((w.Line.A.X+w.Line.B.X)/2, (w.Line.A.Y+w.Line.B.Y)/2))
	}
	x := kind == cornerDetail && mid(walls[0]).X > 0
	y := (kind == cornerDetail || kind == teeDetail) && mid(walls[1]).Y > 0
	return d.mirrored(x, y)
}

// reachAt returns how far a wall shows from the middle of a junction: past the
// others, which at an acute angle takes longer.
func (t *taker) reachAt(walls []*layout.Wall, i int) Length {
	r := reachOut
	for j, o := range walls {
		if sin := math.Abs(o.Frame.Dir.Cross(walls[i].Frame.Dir)); j != i && sin > 0.1 {
			r = max(r, Length(float64(o.Thickness)/2/sin)+120*millimetre)
		}
	}
	return min(r, 900*millimetre)
}
