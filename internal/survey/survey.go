// Package survey bends a plan to what was measured on site. It takes a plan and
// measured points of floor, soffit and structure, as a laser or a total station
// gives them, and gives the plan as built, with a list of every place that differs
// by more than the practice allows.
//
// Heights of walls are measured from the floor under them, so a wall's height as
// built is soffit less floor, station by station. Structure is moved face by face,
// and walls that end at a face follow it along their own line; openings, boxes and
// fixings stay where they are in the building. Within the tolerance the planned
// figure stands: the shortfall of studs and boards takes it up. Common practice; no
// standard is followed.
package survey

import (
	"cmp"
	"math"
	"slices"

	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Length is a length.
type Length = quantity.Length

const (
	// reach is how far from a wall's line a point of floor or soffit says something
	// about the wall.
	reach = 300 * quantity.Millimetre
	// offPlan is how far floor, soffit or a face can be from the plan and still be
	// what the plan means.
	offPlan = 300 * quantity.Millimetre
	// supposed is how near a face a point has to be that does not say that it is of one.
	supposed = 50 * quantity.Millimetre
	// together is how close two stations are one.
	together = 20 * quantity.Millimetre
	// bend is what a height profile may leave out between two of its points.
	bend = 2 * quantity.Millimetre
	// seldom is how far apart points along a wall leave too much between them.
	seldom = 3 * quantity.Metre
)

// Surface is what a point was measured on.
type Surface string

// The surfaces.
const (
	Unsaid Surface = ""
	Floor  Surface = "floor"
	Soffit Surface = "soffit"
	Face   Surface = "face" // of existing structure
)

// Point is a measured point in plan coordinates; Z is its height above the
// project's zero.
type Point struct {
	Name    string
	Level   string // empty where its height tells
	X, Y, Z Length
	On      Surface // empty where its height tells
	Place   finding.Place
}

// Deviation is a place at which the building is not as planned.
type Deviation struct {
	Level    string `json:"level"`
	Object   string `json:"object"` // id of the wall or structure
	What     string `json:"what"`   // floor, soffit, face or end
	At       Length `json:"at"`     // along the wall, or along the structure's face
	Planned  Length `json:"planned"`
	Measured Length `json:"measured"`
	By       Length `json:"by"`
	Point    string `json:"point,omitempty"`
	X        Length `json:"x"`
	Y        Length `json:"y"`
}

// Wall sums up what was measured of a wall.
type Wall struct {
	ID     string `json:"wall"`
	Floor  int    `json:"floor_points"`
	Soffit int    `json:"soffit_points"`
	Lowest Length `json:"lowest"`  // clear height as built
	Most   Length `json:"highest"` // likewise
	Bent   bool   `json:"bent"`
}

// Result is a plan as built.
type Result struct {
	Plan       *plan.Plan      `json:"-"`
	Walls      []Wall          `json:"walls"`
	Structure  []string        `json:"moved_structure"`
	Deviations []Deviation     `json:"deviations"`
	Unused     int             `json:"unused_points"`
	Findings   finding.List    `json:"findings"`
	Tolerance  quantity.Length `json:"tolerance"`
}

// Bend returns the plan as measured. The plan itself is left as it is.
func Bend(p *plan.Plan, points []Point, tolerance Length) *Result {
	b := &bender{plan: clone(p), out: &Result{Tolerance: tolerance, Findings: finding.List{}}, tolerance: tolerance, used: make([]bool, len(points))}
	b.out.Plan = b.plan
	if b.tooSmall(points) {
		return b.out
	}
	b.points = b.sorted(points)
	b.structure()
	for i := range b.plan.Walls {
		b.wall(&b.plan.Walls[i])
	}
	for i, used := range b.used {
		if !used {
			b.out.Unused++
			if b.out.Unused == 1 {
				b.first = points[i]
			}
		}
	}
	b.unused(len(points))
	b.out.Findings.Sort()
	return b.out
}

// tooSmall reports whether all points crowd round the project's zero, as metres do that
// are read as millimetres, and tells it.
func (b *bender) tooSmall(points []Point) bool {
	const crowd = 50 // times closer to the zero than the plan reaches
	var far, most Length
	for _, w := range b.plan.Walls {
		for _, p := range w.Line {
			far = max(far, p.X.Abs(), p.Y.Abs())
		}
	}
	for _, p := range points {
		most = max(most, p.X.Abs(), p.Y.Abs(), p.Z.Abs())
	}
	if len(points) == 0 || most*crowd > far {
		return false
	}
	b.tell("survey-unit", finding.Error, points[0], words.F("no point is more than %s mm from the project's zero, and walls of the plan are up to %s mm from it; nothing was bent", most, far), "give the unit of the coordinates, such as --unit m")
	return true
}

type bender struct {
	plan      *plan.Plan
	out       *Result
	points    []placed
	used      []bool
	tolerance Length
	first     Point // that is used nowhere
}

// placed is a point that is known to be of a surface of a level.
type placed struct {
	Point
	number  int
	level   *plan.Level
	guessed bool // to be of a face, since it is of no floor and no soffit
}

func (p placed) at() geom.Point { return geom.Pt(p.X, p.Y) }

// clone copies what bending changes.
func clone(p *plan.Plan) *plan.Plan {
	c := *p
	c.Walls, c.Structure = slices.Clone(p.Walls), slices.Clone(p.Structure)
	for i := range c.Walls {
		w := &c.Walls[i]
		w.Line, w.Heights = slices.Clone(w.Line), slices.Clone(w.Heights)
		w.Openings, w.Boxes, w.Fixings, w.Pipes = slices.Clone(w.Openings), slices.Clone(w.Boxes), slices.Clone(w.Fixings), slices.Clone(w.Pipes)
		for k := range w.Pipes {
			w.Pipes[k].Path = slices.Clone(w.Pipes[k].Path)
		}
	}
	for i := range c.Structure {
		c.Structure[i].Line, c.Structure[i].Outline = slices.Clone(p.Structure[i].Line), slices.Clone(p.Structure[i].Outline)
	}
	return &c
}

// sorted finds level and surface of each point. Points that lie near no floor and no
// soffit are left for the faces of the structure.
func (b *bender) sorted(points []Point) []placed {
	var list []placed
	for i, p := range points {
		level, guessed := b.plan.LevelByID(p.Level), false
		if p.Level != "" && level == nil {
			b.tell("survey-level", finding.Error, p, words.F("there is no level %q", p.Level), "write the id of a level of the plan, or leave the level out")
			b.used[i] = true
			continue
		}
		for k := range b.plan.Levels {
			if l := &b.plan.Levels[k]; level == nil || b.off(p, l) < b.off(p, level) && p.Level == "" {
				level = l
			}
		}
		if level == nil {
			continue
		}
		if p.On == Unsaid {
			if p.On = surfaceAt(p.Z, level); b.off(p, level) > offPlan {
				p.On, guessed = Face, true
			}
		}
		list = append(list, placed{p, i, level, guessed})
	}
	return list
}

// surfaceAt returns the surface that is nearer.
func surfaceAt(z Length, l *plan.Level) Surface {
	if (z - l.Elevation).Abs() <= (z - l.Elevation - l.ClearHeight).Abs() {
		return Floor
	}
	return Soffit
}

// off is how far a point is from the surface of a level that it would be of.
func (b *bender) off(p Point, l *plan.Level) Length {
	floor, soffit := (p.Z - l.Elevation).Abs(), (p.Z - l.Elevation - l.ClearHeight).Abs()
	switch p.On {
	case Floor:
		return floor
	case Soffit:
		return soffit
	case Face: // between the two is on the level
		return max(0, l.Elevation-p.Z, p.Z-l.Elevation-l.ClearHeight)
	}
	return min(floor, soffit)
}

func (b *bender) tell(code string, s finding.Severity, p Point, what, fix words.Text) {
	b.out.Findings.Add(finding.Finding{Code: code, Severity: s, Object: p.Name, Place: p.Place, What: what, Fix: fix})
}

// unused says how many points say nothing about any wall, and why that may be.
func (b *bender) unused(all int) {
	switch n := b.out.Unused; {
	case n == 0:
	case n == all:
		b.tell("survey-elsewhere", finding.Error, b.first, words.F("none of the %d points lies within %s mm of a wall or a face of the plan; the first is at [%s, %s], height %s", all, reach, b.first.X, b.first.Y, b.first.Z),
			"check the unit (--unit m) and that the points are in the plan's coordinates")
	default:
		b.tell("survey-unused", finding.Note, b.first, words.F("%d of %d points lie near no wall and no face of structure, or more than %s mm from floor and soffit", n, all, offPlan), "nothing, if they are of other parts of the building")
	}
}

func (b *bender) deviates(level, object, what string, at, planned, measured Length, p placed) {
	by := measured - planned
	if by.Abs() > b.tolerance {
		b.out.Deviations = append(b.out.Deviations, Deviation{Level: level, Object: object, What: what, At: at, Planned: planned, Measured: measured, By: by, Point: p.Name, X: p.X, Y: p.Y})
	}
}

// line is a wall's line, straight or curved, with what lies along it.
type line interface {
	Local(geom.Point) geom.Point
	Global(u, v Length) geom.Point
}

func lineOf(w *plan.Wall) (line, bool) {
	if len(w.Line) != 2 || w.Line[0] == w.Line[1] {
		return nil, false
	}
	if arc, ok := w.Arc(); ok {
		return arc, true
	}
	return geom.FrameOf(geom.Segment{A: geom.Point(w.Line[0]), B: geom.Point(w.Line[1])}), true
}

// byStation sorts points along a wall.
func byStation(list []station) {
	slices.SortStableFunc(list, func(a, c station) int { return cmp.Compare(a.u, c.u) })
}

func round(v float64) Length { return Length(math.Round(v)) }
