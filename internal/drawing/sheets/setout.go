package sheets

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/setout"
)

// site is what a set-out plan shows of one level.
type site struct {
	set    *Set
	level  *plan.Level
	walls  []*layout.Wall
	bodies [][]geom.Point // outlines of existing structure
	rooms  []*plan.Room
	bounds geom.Rect
	datum  geom.Point
	banner *banner

	marks   *setout.Level  // once measured
	corners []setout.Point // of the structure, that tapes start from
}

// site gathers a level; nil if there is no wall on it.
func (s *Set) site(id string) *site {
	l := &site{set: s, level: s.in.Plan.LevelByID(id)}
	if l.level == nil {
		return nil
	}
	var points []geom.Point
	for _, w := range s.in.Layout.Walls {
		if w.Level == id && len(w.FrameLines) > 0 {
			l.walls = append(l.walls, w)
			points = append(append(points, footprint(w)...), swept(w)...)
		}
	}
	if len(l.walls) == 0 {
		return nil
	}
	for i := range s.in.Plan.Structure {
		if st := &s.in.Plan.Structure[i]; st.Level == id {
			for _, b := range setout.Outlines(st) {
				l.bodies = append(l.bodies, b)
				points = append(points, b...)
			}
		}
	}
	for i := range s.in.Plan.Rooms {
		if r := &s.in.Plan.Rooms[i]; r.Level == id {
			l.rooms = append(l.rooms, r)
		}
	}
	l.bounds = geom.Bounds(points...)
	l.datum = layout.Datum(s.in.Plan, l.walls, l.level)
	l.banner = s.newBanner(l.wrong(), drawing.A3.Field().Width())
	return l
}

// footprint returns the corners of a wall's finished body in plan.
func footprint(w *layout.Wall) []geom.Point {
	e := extentOf(w)
	half := w.Thickness / 2
	return w.Ground(e, -half, half, geom.Same)
}

// extentOf returns from where to where a wall's frame runs.
func extentOf(w *layout.Wall) geom.Interval {
	e := w.FrameLines[0].Extent
	for _, fl := range w.FrameLines[1:] {
		e.From, e.To = min(e.From, fl.Extent.From), max(e.To, fl.Extent.To)
	}
	return e
}

// DraftLevel arranges the set-out sheets of one level: the plan, in several
// parts where the level is large, and the set-out schedule. A level without
// walls has none.
func (s *Set) DraftLevel(id string) Draft {
	d := Draft{Number: s.numbered("S-" + id)}
	l := s.site(id)
	if l == nil {
		return d
	}
	l.measure()
	list, sc := l.arrange()
	d.Title, d.Scale, d.Sheets = "Set-out plan, "+l.name(), s.units.name(sc), len(list)
	d.draw = func(i int) *drawing.Scene { return l.sheet(list[i], sc, i+1, len(list)) }
	return d
}

func (l *site) sheet(p *page, sc scale, n, of int) *drawing.Scene {
	b := l.set.title()
	b.Title = "Set-out plan, " + l.name()
	b.Subtitle = "lines for tracks on floor and soffit"
	b.Drawing = l.set.numbered("S-" + l.level.ID)
	b.Kind = "Set-out drawing"
	b.Scale = l.set.units.name(sc)
	b.Sheet, b.Sheets = n, of
	name := "set-out-" + FileName(l.level.ID)
	if of > 1 {
		name += "-" + strconv.Itoa(n)
	}
	scene := p.sheet(name, b.Title)
	drawing.Finish(scene, b, "Set out every wall on floor, soffit and the walls it meets before any profile is fixed.", []string{
		l.set.units.note() + " Coordinates count from the datum, x to the right, y up the sheet.",
		l.pointNote(),
		"Check against the building: report differences over " + l.set.units.tolerance() + " before fixing. Before drilling, find out about cables and pipes in floor and soffit."})
	return scene
}

func (l *site) name() string {
	if l.level.Name != "" {
		return l.level.Name
	}
	return "level " + l.level.ID
}

// crowded is the share of a plan's area on paper that wall marks may take up.
const crowded = 0.16

// tagArea is what one wall's mark takes up on paper, in mm².
const tagArea = 70.0

// density is the share of the plan's area on paper that wall marks take up.
func (l *site) density(sc scale) float64 {
	w := sc.paper(l.bounds.Max.X - l.bounds.Min.X)
	h := sc.paper(l.bounds.Max.Y - l.bounds.Min.Y)
	return float64(len(l.walls)) * tagArea / max(w*h, 1)
}

// arrange puts the plan on one sheet at the largest scale that fits and is not
// crowded; failing that, cuts it into parts. The schedule follows.
func (l *site) arrange() ([]*page, scale) {
	scales := l.set.units.planScales()
	for i, sc := range scales {
		if l.density(sc) > crowded && i > 0 {
			break
		}
		for _, flat := range []bool{false, true} {
			whole, k := l.newPlan(sc, l.bounds), l.newKey(sc, nil, 0)
			k.flat = flat
			ps := pages{field: drawing.A3.Field(), banner: l.banner}
			if whole.fits() && ps.add(whole, false) && ps.add(k, !flat) && len(ps.list) == 1 {
				ps.addWhole(l.schedule())
				ps.addTable(l.strikes(), false)
				if t := l.junctionTable(); t != nil {
					ps.addTable(t, false)
				}
				l.addPoints(&ps)
				return ps.list, sc
			}
		}
	}
	for _, sc := range slices.Backward(scales[:len(scales)-1]) {
		if l.density(sc) <= crowded || sc == scales[0] {
			return l.tiles(sc), sc
		}
	}
	return nil, 0
}

// tiles cuts the level into equal parts that each fit a sheet beside the key.
func (l *site) tiles(sc scale) []*page {
	rest := pages{field: drawing.A3.Field(), banner: l.banner}
	field := rest.fresh().free[0]
	windows := l.cut(sc, field.Width()-keyWidth-air, field.Height())
	var list []*page
	for i, w := range windows {
		p := rest.fresh()
		p.put(l.newPlan(sc, w), field, false)
		p.put(l.newKey(sc, windows, i), field, true)
		list = append(list, p)
	}
	rest.addTable(l.schedule(), false)
	rest.addTable(l.strikes(), false)
	if t := l.junctionTable(); t != nil {
		rest.addTable(t, false)
	}
	l.addPoints(&rest)
	return slices.Concat(list, rest.list)
}

// mostParts bounds into how many parts a level is cut in each direction.
const mostParts = 60

// cut returns the windows of the fewest equal parts whose plans are no larger
// than the given size on paper. Parts without walls are left out.
func (l *site) cut(sc scale, wide, high float64) []geom.Rect {
	nx, ny := Length(1), Length(1)
	for {
		windows := l.grid(nx, ny)
		w, h := 0.0, 0.0
		for _, win := range windows {
			width, height := l.newPlan(sc, win).size()
			w, h = max(w, width/wide), max(h, height/high)
		}
		switch {
		case w <= 1 && h <= 1, nx > mostParts, ny > mostParts:
			return windows
		case w > h:
			nx++
		default:
			ny++
		}
	}
}

// grid divides the level into nx by ny windows and returns those with walls.
func (l *site) grid(nx, ny Length) []geom.Rect {
	stepX, stepY := (l.bounds.Max.X-l.bounds.Min.X)/nx, (l.bounds.Max.Y-l.bounds.Min.Y)/ny
	var windows []geom.Rect
	for j := range ny {
		for i := range nx {
			corner := geom.Pt(l.bounds.Min.X+i*stepX, l.bounds.Min.Y+j*stepY)
			w := geom.Rect{Min: corner, Max: geom.Pt(corner.X+stepX, corner.Y+stepY)}
			if len(l.wallsIn(w)) > 0 {
				windows = append(windows, w)
			}
		}
	}
	return windows
}

// wallsIn returns the walls whose body touches a window.
func (l *site) wallsIn(window geom.Rect) []*layout.Wall {
	var out []*layout.Wall
	for _, w := range l.walls {
		if geom.Bounds(footprint(w)...).Overlaps(window) {
			out = append(out, w)
		}
	}
	return out
}

// ordinate is one running dimension of a set-out plan: a coordinate and the
// walls whose axis lies on it.
type ordinate struct {
	at     Length // from the datum
	lo, hi Length // where the walls begin and end, in the other coordinate
	edges  string // of the tracks
	marks  []string
}

// edges writes both edges of each track of a wall, as coordinates along x or y,
// ascending; in feet and inches, which are long, the first edge and the track's
// depth.
func (l *site) edges(w *layout.Wall, alongX bool) string {
	var at []Length
	for _, p := range planes(w) {
		for _, v := range []Length{p.offset - p.depth/2, p.offset + p.depth/2} {
			q := w.Frame.Global(0, v).Sub(l.datum)
			if alongX {
				at = append(at, q.X)
			} else {
				at = append(at, q.Y)
			}
		}
	}
	slices.Sort(at)
	var parts []string
	for i := 0; i < len(at); i += 2 {
		second := "–" + l.set.units.exact(at[i+1])
		if l.set.units.imperial {
			second = " + " + l.set.units.thin(at[i+1]-at[i])
		}
		parts = append(parts, l.set.units.exact(at[i])+second)
	}
	return strings.Join(parts, ", ")
}

// ordinates gathers the walls that run along y, for dimensions along x, or the
// other way about.
func (l *site) ordinates(window geom.Rect, alongY bool) []ordinate {
	var list []ordinate
	for _, w := range l.wallsIn(window) {
		d := w.Frame.Dir
		run, off := d.X, d.Y
		if alongY {
			run, off = d.Y, d.X
		}
		if w.Curve != nil || abs(off) > geom.Parallel || abs(run) < 0.5 {
			continue
		}
		a, b := w.Line.A, w.Line.B
		at, lo, hi := a.Y-l.datum.Y, min(a.X, b.X), max(a.X, b.X)
		if alongY {
			at, lo, hi = a.X-l.datum.X, min(a.Y, b.Y), max(a.Y, b.Y)
		}
		list = append(list, ordinate{at: at, lo: lo, hi: hi, edges: l.edges(w, alongY), marks: []string{w.ID}})
	}
	slices.SortStableFunc(list, func(a, b ordinate) int {
		return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.edges, b.edges), cmp.Compare(a.marks[0], b.marks[0]))
	})
	var merged []ordinate
	for _, o := range list {
		if n := len(merged) - 1; n >= 0 && o.edges == merged[n].edges {
			merged[n].marks = append(merged[n].marks, o.marks...)
			merged[n].lo, merged[n].hi = min(merged[n].lo, o.lo), max(merged[n].hi, o.hi)
			continue
		}
		merged = append(merged, o)
	}
	return merged
}

func abs(x float64) float64 { return max(x, -x) }
