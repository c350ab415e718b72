package sheets

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/setout"
)

// detailBook is every detail of a project, each drawn once, and where it
// applies.
type detailBook struct {
	list []*detail
	refs map[string][]detailRef // by wall
	seen map[uint64]*detail
}

// detailRef says which detail shows one place of a wall.
type detailRef struct {
	where string
	d     *detail
}

// bindDetails takes the details of every wall, and numbers those that differ.
func (s *Set) bindDetails() *detailBook {
	b := &detailBook{refs: map[string][]detailRef{}, seen: map[uint64]*detail{}}
	t := &taker{set: s, book: b, walls: map[string]*layout.Wall{}, bodies: map[string][]standing{}}
	for i := range s.in.Plan.Structure {
		x := &s.in.Plan.Structure[i]
		for _, b := range setout.Outlines(x) {
			t.bodies[x.Level] = append(t.bodies[x.Level], standing{structureName(x), b})
		}
	}
	for _, w := range s.in.Layout.Walls {
		t.walls[w.ID] = w.OnAxis()
	}
	for _, w := range s.in.Layout.Walls {
		if len(w.FrameLines) > 0 {
			t.wall(t.walls[w.ID])
		}
	}
	for i := range s.in.Layout.Junctions {
		t.junction(&s.in.Layout.Junctions[i])
	}
	slices.SortStableFunc(b.list, func(x, y *detail) int { return cmp.Compare(x.kind, y.kind) })
	for i, d := range b.list {
		d.number = i + 1
	}
	return b
}

// taker takes details off a layout.
type taker struct {
	set    *Set
	book   *detailBook
	walls  map[string]*layout.Wall
	bodies map[string][]standing // existing structure, by level
}

// standing is one body of existing structure in plan.
type standing struct {
	name  string
	shape geom.Polygon
}

func structureName(x *plan.Structure) string {
	kind := cmp.Or(x.Kind, "wall")
	if kind == "other" {
		kind = "structure"
	}
	return strings.Join(strings.Fields("existing "+x.Material+" "+kind), " ")
}

// file keeps a detail unless one like it is there, and notes where it applies.
func (t *taker) file(d *detail, where string, keepX, keepY bool, walls ...string) {
	if len(d.parts) == 0 {
		return
	}
	d, key := d.usual(keepX, keepY)
	if old, ok := t.book.seen[key]; ok {
		d = old
	} else {
		t.book.seen[key] = d
		t.book.list = append(t.book.list, d)
	}
	for _, w := range walls {
		if !slices.Contains(d.walls, w) {
			d.walls = append(d.walls, w)
		}
		if r := (detailRef{where, d}); !slices.Contains(t.book.refs[w], r) {
			t.book.refs[w] = append(t.book.refs[w], r)
		}
	}
}

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
	for _, s := range w.Beads {
		if s.Use == "control joint" {
			t.along(w, movementDetail, "movement joint", s.From.X)
			break
		}
	}
	for i := range w.Openings {
		if w.Framed(w.Openings[i]) {
			t.opening(w, &w.Openings[i])
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
	t.file(t.level(w, kind, at, false, geom.Interval{From: at - reachOut, To: at + reachOut}, z), where, false, false, w.ID)
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
			d.parts = append([]part{{ground, body.name, shape}}, d.parts...)
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
		if m := &w.Members[i]; m.Upright() && m.From.Y == 0 && (best == nil || score(m) < score(best)) {
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
	at, u := e.To, geom.Interval{From: e.To - reachOut, To: e.To}
	if end == 0 {
		at, u = e.From, geom.Interval{From: e.From, To: e.From + reachOut}
	}
	t.file(t.level(w, kind, at, end == 0, u, cutHeight(w)), where, true, false, w.ID)
}

// opening takes the sections at the jambs, the head and the sill of an opening.
func (t *taker) opening(w *layout.Wall, o *layout.Opening) {
	const into = 40 * millimetre
	top := topAt(w.Top, (o.U.From+o.U.To)/2)
	z := (o.Sill + min(o.Head, top)) / 2
	name := string(o.Kind) + " " + o.ID
	if o.U.From > extentOf(w).From {
		t.file(t.level(w, jambDetail, o.U.From, false, geom.Interval{From: o.U.From - reachOut, To: o.U.From + into}, z), name+" jamb", true, false, w.ID)
	}
	if o.U.To < extentOf(w).To {
		t.file(t.level(w, jambDetail, o.U.To, true, geom.Interval{From: o.U.To - into, To: o.U.To + reachOut}, z), name+" jamb", true, false, w.ID)
	}
	u := t.clearBay(w, o.U, o.Head)
	if o.Head < top {
		t.upright(w, lintelDetail, name+" head", u, o.Head, geom.Interval{From: o.Head - into, To: min(top, o.Head+tallShown)})
	}
	if o.Sill > 0 {
		t.upright(w, sillDetail, name+" sill", u, o.Sill, geom.Interval{From: max(0, o.Sill-tallShown), To: o.Sill + into})
	}
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
func (t *taker) upright(w *layout.Wall, kind detailKind, where string, u, z Length, shown geom.Interval) {
	d := &detail{kind: kind}
	c := uprightCut{detail: d, set: t.set, wall: w, u: u, z: shown, origin: z}
	c.cut()
	level := t.set.in.Plan.LevelByID(w.Level)
	top := topAt(w.Top, u)
	if shown.To >= top && w.Head.Kind != plan.HeadFree && level != nil {
		c.slab(slabName("soffit", level.Soffit), top, 150*millimetre)
		c.gaps(top, true)
	}
	if shown.From <= 0 && level != nil {
		c.slab(slabName("floor", level.Floor), 0, -150*millimetre)
		if kind == baseDetail {
			c.gaps(0, false)
		}
	}
	c.thicknesses()
	t.file(d, where, false, true, w.ID)
}

// headAndBase takes the upright sections at the middle of a bay without opening.
func (t *taker) headAndBase(w *layout.Wall) {
	u, ok := openBay(w)
	if !ok {
		return
	}
	top := topAt(w.Top, u)
	t.upright(w, headDetail, "head", u, top, geom.Interval{From: max(top-tallShown, top/2), To: top})
	t.upright(w, baseDetail, "base", u, 0, geom.Interval{From: 0, To: min(tallShown, top/2)})
}

// openBay returns the middle of the bay nearest to the middle of the wall that no
// opening touches.
func openBay(w *layout.Wall) (Length, bool) {
	var us []Length
	for i := range w.Members {
		if m := &w.Members[i]; m.Upright() && m.Line == 0 && m.From.Y == 0 {
			us = append(us, m.From.X)
		}
	}
	slices.Sort(us)
	middle := (w.FrameLines[0].Extent.From + w.FrameLines[0].Extent.To) / 2
	best, least := Length(0), Length(math.MaxInt64)
	for i := 1; i < len(us); i++ {
		u := (us[i-1] + us[i]) / 2
		touched := slices.ContainsFunc(w.Openings, func(o layout.Opening) bool { return o.U.Overlaps(geom.Interval{From: us[i-1], To: us[i]}) })
		if !touched && us[i]-us[i-1] > 60*millimetre && (u-middle).Abs() < least {
			best, least = u, (u - middle).Abs()
		}
	}
	return best, least < math.MaxInt64
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
	t.file(d, string(j.Kind)+" "+strings.Join(j.Walls, ", "), kind == cornerDetail, kind == cornerDetail || kind == teeDetail, j.Walls...)
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

// DraftDetails arranges the sheets of details: sections through everything that
// occurs in the project, each drawn once, at scales of 1:2 to 1:10.
func (s *Set) DraftDetails() Draft {
	d := Draft{Number: s.numbered("D"), Title: "Details"}
	ps := &pages{field: drawing.A3.Field()}
	for _, x := range s.book().list {
		ps.first = max(0, len(ps.list)-2) // so that numbers stay in order
		if !ps.add(s.newDetailView(x, x.title(), x.subtitle(), 0), false) {
			ps.add(s.newDetailView(x, x.title(), x.subtitle(), 4*s.units.detailScales()[1]), false)
		}
	}
	d.Sheets, d.Scale = len(ps.list), "as shown"
	d.draw = func(i int) *drawing.Scene {
		b := s.title()
		b.Title, b.Subtitle, b.Drawing, b.Kind = "Details", "sections through the parts as laid out; mirrored places count as the same", d.Number, "Construction drawing"
		b.Scale, b.Sheet, b.Sheets = "as shown", i+1, d.Sheets
		sc := ps.list[i].sheet("details-"+strconv.Itoa(i+1), "Details")
		drawing.Finish(sc, b, caution, []string{s.units.note() + " Do not scale; check on site before cutting.", fireNote})
		return sc
	}
	return d
}

// fireNote stands on the sheets of details.
const fireNote = "Where a wall is asked to resist fire, the details of its test evidence go before these."

// Details draws the sheets of details.
func (s *Set) Details() []*drawing.Scene {
	d := s.DraftDetails()
	return d.All()
}

// detailNote says which details show the places of a wall.
func (s *Set) detailNote(w *layout.Wall) []string {
	var parts []string
	at := map[string]int{}
	for _, r := range s.book().refs[w.ID] {
		n := strconv.Itoa(r.d.number)
		if i, ok := at[r.where]; ok {
			parts[i] += " and " + n
			continue
		}
		at[r.where] = len(parts)
		parts = append(parts, fmt.Sprintf("%s %s", r.where, n))
	}
	if len(parts) == 0 {
		return nil
	}
	return []string{"Details (drawing " + s.numbered("D") + "): " + strings.Join(parts, "; ") + "."}
}

// addSection places the section at a wall's stud at the largest scale that saves
// a sheet.
func (s *Set) addSection(ps *pages, w *layout.Wall, right bool) bool {
	var ref *detailRef
	for i := range s.book().refs[w.ID] {
		if r := &s.book().refs[w.ID][i]; r.d.kind == bodyDetail {
			ref = r
		}
	}
	if ref == nil {
		return true
	}
	title := fmt.Sprintf("Build-up %s (detail %d)", w.BuildUp, ref.d.number)
	scales := s.units.detailScales()[1:]
	for _, sc := range scales {
		if v := s.newDetailView(ref.d, title, "level section at a stud", sc); ps.takes(v) {
			return ps.add(v, right)
		}
	}
	return ps.add(s.newDetailView(ref.d, title, "level section at a stud", scales[len(scales)-1]), right)
}
