package ifc

import (
	"cmp"
	"errors"
	"math"
	"regexp"

	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/exchange/ifc/step"
	"nogging/internal/finding"
	"nogging/internal/words"
)

// wall is a wall on its way to the plan. Lengths are in mm. Its line runs in
// the middle of its thickness, from the origin of its frame.
type wall struct {
	id        step.ID
	mark      string // id in the plan
	typeName  string
	label     string // typeName, with the thickness where several have the name
	tag       string
	makeup    makeup
	common    common
	kind      string // PredefinedType, of the wall or of its type
	level     *level
	frame     shape.Frame
	length    float64
	ends      [2]float64 // u of its ends where they reach farthest, at its faces
	thickness float64
	foot      float64 // z of its foot
	elevation *elevation
	axis      float64 // length of its axis, 0 where it has none
	depth     float64 // height of its body before anything is cut away
	firstLeft bool    // whether the first layer lies on the left of the line
	sided     bool    // whether the file says on which side it lies

	limits   *[2]float64 // of a stretch of a wall: u between which it lies
	byBody   bool        // whether its axis is left out of account
	pieces   []*wall     // of the first stretch of a wall: all of them
	further  bool        // whether it is a further stretch of a wall
	measured bool        // whether its top was measured to what stands above

	partition bool
	why       words.Text // it is a partition or not
	openings  []*opening
	doubts    []doubt
}

// doubt is something to tell of a wall or opening that was read.
type doubt struct {
	severity  finding.Severity
	code      string
	what, fix words.Text
}

func (w *wall) doubt(severity finding.Severity, code string, what, fix words.Text) {
	w.doubts = append(w.doubts, doubt{severity, code, what, fix})
}

// height returns the wall's greatest height, 0 where it is not known.
func (w *wall) height() float64 {
	if w.elevation == nil {
		return 0
	}
	return w.elevation.highest()
}

// Reasons why a wall cannot be read.
var (
	errNoShape = words.Err("it has neither a body nor an axis")
	errBent    = words.Err("its axis is bent; only walls along one line or arc are read")

	errNotStraight = words.Err("its body is that of neither a straight nor a curved wall")
	errLeaning     = words.Err("it does not stand upright")
	errTiny        = words.Err("it has no length")
	errFar         = words.Err("it lies outside all bounds")
	errThin        = words.Err("nothing shows its thickness")
)

// readWalls reads every wall.
func (r *reader) readWalls() {
	var homeless []*wall
	for _, id := range r.all(wallTypes) {
		if parts := r.wallParts(id); len(parts) > 0 {
			r.leaveOut(id, finding.Note, "wall-composite", words.F("it is made of %d other walls, which are read instead", len(parts)), "")
			continue
		}
		w := r.describe(id)
		walls := []*wall{w}
		err := r.measure(w)
		if errors.Is(err, errBent) || errors.Is(err, errNotStraight) {
			if walls = r.readBent(w); walls != nil {
				err = nil
			} else { // its body may be straight
				w = r.describe(id)
				w.byBody, walls = true, []*wall{w}
				err = r.measure(w)
			}
		}
		if err != nil {
			r.leaveOut(id, finding.Error, "wall-unread", words.F("the wall cannot be read: %s", words.OfErr(err)), "draw it by hand in the plan, or mend it in the model")
			r.unread = append(r.unread, id)
			continue
		}
		r.walls = append(r.walls, walls...)
		r.wallByID[id] = walls[0]
		for _, w := range walls {
			if w.level = r.storeyOf(id); w.level == nil {
				homeless = append(homeless, w)
			}
		}
	}
	r.house(homeless)
}

// wallParts returns the walls that a wall is made of.
func (r *reader) wallParts(id step.ID) []step.ID {
	var walls []step.ID
	for _, part := range r.rel.parts[id] {
		if r.is(part, wallTypes) && part != id {
			walls = append(walls, part)
		}
	}
	return walls
}

// describe reads what is said of a wall apart from its geometry.
func (r *reader) describe(id step.ID) *wall {
	args := r.file.Args(id)
	w := &wall{id: id, tag: args.At(7).Text(), makeup: r.makeup(id), common: r.common(id)}
	of := r.rel.typeOf[id]
	w.kind = args.At(8).Enum()
	if w.kind == "" || w.kind == "NOTDEFINED" {
		w.kind = r.file.Arg(of, 9).Enum()
	}
	if r.file.Type(id) == "IFCWALLELEMENTEDCASE" {
		w.kind = "ELEMENTEDWALL"
	}
	for _, name := range []string{
		r.file.Arg(of, 2).Text(), w.makeup.name, withoutNumber(args.At(4).Text()), withoutNumber(args.At(2).Text()), "without a type",
	} {
		if name != "" {
			w.typeName = name
			break
		}
	}
	return w
}

// serial is the number that exporters hang on to names to make them unique.
var serial = regexp.MustCompile(`:\d+$`)

func withoutNumber(name string) string { return serial.ReplaceAllString(name, "") }

// measure finds where a wall stands and how large it is.
func (r *reader) measure(w *wall) error {
	axis, errAxis := r.shape.Curve(w.id, "Axis")
	body, errBody := r.shape.Body(w.id)
	assembled := false
	if len(body) == 0 {
		body, assembled = r.partBodies(w.id), true
	}
	r.measureOwn(w.id, axis.Points, body, assembled)
	if len(body) == 0 && len(axis.Points) < 2 {
		return cmp.Or(errBody, errAxis, errNoShape)
	}
	if errBody != nil {
		w.doubt(finding.Warning, "wall-body", words.F("a part of its body is not read: %s", words.OfErr(errBody)), "check its length and height")
	}
	if err := r.align(w, axis, body); err != nil {
		return err
	}
	if err := r.across(w, body); err != nil {
		return err
	}
	if err := r.along(w, body, assembled); err != nil {
		return err
	}
	if !w.sane() {
		return errFar
	}
	return nil
}

func (w *wall) sane() bool {
	return sane(w.frame.Origin.X) && sane(w.frame.Origin.Y) && sane(w.foot) && sane(w.length) && sane(w.thickness) && sane(w.height())
}

// partBodies returns the bodies of the parts that an element is assembled from,
// and of their parts.
func (r *reader) partBodies(id step.ID) []*shape.Solid {
	var solids []*shape.Solid
	seen := map[step.ID]bool{id: true}
	for open := r.rel.parts[id]; len(open) > 0; {
		var next []step.ID
		for _, part := range open {
			if !seen[part] {
				seen[part] = true
				body, _ := r.shape.Body(part)
				solids = append(solids, body...)
				next = append(next, r.rel.parts[part]...)
			}
		}
		open = next
	}
	return solids
}

// Tolerances of aligning a wall.
const (
	offAxis   = 1.0  // mm: how far the axis may stray from a straight line
	offBody   = 0.02 // sine of the angle between axis and body above which the body is followed
	minShare  = 0.45 // part of the upright area that the faces along a straight wall have at least
	minLength = 1.0  // mm
)

// align finds the direction of a wall and puts the origin of its frame on its
// axis: that of the file, or else along the largest faces of its body.
func (r *reader) align(w *wall, axis shape.Curve, body []*shape.Solid) error {
	placement, err := r.shape.Placement(w.id)
	if err != nil {
		return err
	}
	sides := shape.SidesOf(body)
	if sides.Leaning > 1 {
		return errLeaning
	}
	if curved, err := r.followArc(w, axis, body); curved {
		return err
	}
	w.frame.Origin = placement.O
	if len(axis.Points) >= 2 {
		err = w.followAxis(axis.Points)
		if errors.Is(err, errBent) && !w.byBody && w.bends(axis.Points) {
			return err
		}
		skew := math.Abs(w.frame.Dir.Cross(sides.Along).Z)
		if err == nil && len(body) > 0 && sides.Share < minShare && r.followRing(w, body) == nil {
			w.doubt(finding.Warning, "wall-axis", "its axis is straight, its body is curved: the body is followed", "check where it stands")
			return nil
		}
		if err == nil && (sides.Share < 0.6 || skew < offBody || skew > 1-offBody) {
			return nil
		}
		if len(body) == 0 || sides.Share < minShare || err != nil && !r.straight(w, sides, body) {
			return err
		}
		w.doubt(finding.Warning, "wall-axis", "its axis does not run along its body: the body is followed", "check where it stands")
	}
	if bent := r.followRing(w, body); bent == nil || sides.Share < minShare || !r.straight(w, sides, body) {
		return bent
	}
	if !w.byBody && r.farApart(w, sides, body) {
		return errNotStraight
	}
	w.frame.Dir = sides.Along
	if x := w.frame.Dir.Dot(placement.X); x < -1e-6 || math.Abs(x) <= 1e-6 && w.frame.Dir.Dot(placement.Y) < 0 {
		w.frame.Dir = w.frame.Dir.Times(-1)
	}
	if r.stubby(w, body) {
		w.frame.Dir = shape.Vec{X: -w.frame.Dir.Y, Y: w.frame.Dir.X}
	}
	return nil
}

// straight reports whether a body has two faces along its largest side and
// little beside them: no leg and no bend.
func (r *reader) straight(w *wall, sides shape.Sides, body []*shape.Solid) bool {
	f := shape.Frame{Origin: w.frame.Origin, Dir: sides.Along}
	from, to, ok := shape.MainFaces(body, f)
	return ok && shape.Extent(body, f).Size().Y < maxBeside*(to-from)
}

// farApart reports whether the outermost faces along a body's largest side are
// farther apart than its layers or any wall would be: those of two stretches of a
// wall round a corner.
func (r *reader) farApart(w *wall, sides shape.Sides, body []*shape.Solid) bool {
	from, to, _ := shape.MainFaces(body, shape.Frame{Origin: w.frame.Origin, Dir: sides.Along})
	built, layers := to-from, w.makeup.total
	return built > thickestNamed || layers > 0 && built > maxBeside*layers
}

// maxBeside is how many times as wide as a wall is thick its body may be and
// still be straight.
const maxBeside = 2

// stubby reports whether a wall's layers are as thick as its body is long, so
// that the body's largest faces are those at its ends.
func (r *reader) stubby(w *wall, body []*shape.Solid) bool {
	size := shape.Extent(body, w.frame).Size()
	t := w.makeup.total
	return t > 0 && math.Abs(size.Y-t) > sameThickness && math.Abs(size.X-t) < sameThickness
}

// followAxis aligns a wall with its straight axis.
func (w *wall) followAxis(axis []shape.Vec) error {
	first, last := axis[0], axis[len(axis)-1]
	run := last.Sub(first)
	length := math.Hypot(run.X, run.Y)
	switch {
	case length < minLength && len(axis) > 3:
		return errBent // it closes
	case !(length >= minLength), length > 1e11:
		return errTiny
	}
	if math.Abs(run.Z) > 0.01*length+offAxis {
		return errLeaning
	}
	w.frame = shape.Frame{Origin: first, Dir: shape.Vec{X: run.X / length, Y: run.Y / length}}
	for _, p := range axis {
		if local := w.frame.Local(p); math.Abs(local.Y) > offAxis || local.X < -offAxis || local.X > length+offAxis {
			return errBent
		}
	}
	w.axis = length
	return nil
}

// sameThickness is how far layers and body may differ in thickness, in mm.
const sameThickness = 2.0

// across finds a wall's thickness and moves its line to the middle of it.
func (r *reader) across(w *wall, body []*shape.Solid) error {
	placement, _ := r.shape.Placement(w.id)
	m := &w.makeup
	left := shape.Vec{X: -w.frame.Dir.Y, Y: w.frame.Dir.X}
	sign := 1.0 // of local +y towards the left of the line
	if alongAxis := w.frame.Curved() || w.limits != nil; !alongAxis && placement.Y.Dot(left) < 0 || alongAxis && placement.Z.Z < 0 {
		sign = -1
	}
	sense := sign
	if !m.positive {
		sense = -sign
	}
	middle := 0.0
	w.thickness = m.total
	if m.usage && m.total > 0 {
		w.sided, w.firstLeft = true, sense < 0
		middle = sign*m.offset + sense*m.total/2
	}
	if from, to, ok := shape.MainFaces(body, w.frame); ok {
		built := to - from
		if !w.sided || math.Abs(built-w.thickness) <= sameThickness {
			middle = (from + to) / 2
		}
		if beside := shape.Extent(body, w.frame).Size().Y - built; beside > 5*sameThickness && !w.frame.Curved() {
			w.doubt(finding.Warning, "wall-beside", words.F("its body reaches %.0f mm beside its faces: what stands out is left out", beside), "add what stands out by hand")
		}
		switch {
		case w.thickness == 0:
			w.thickness = built
		case math.Abs(built-w.thickness) > sameThickness:
			w.doubt(finding.Warning, "wall-thickness",
				words.F("its layers are %.1f mm thick together, its body is %.1f mm: the layers count", w.thickness, built), "check its thickness")
		}
	}
	if !(w.thickness > minLength) {
		return errThin
	}
	w.frame = w.frame.At(0, middle, w.frame.Origin.Z)
	if w.frame.Curved() && math.Abs(w.frame.Radius) < max(leastRadius, w.thickness/2+minLength) {
		return errTight
	}
	return nil
}

// along finds where a wall begins and ends and how high it is, from the
// section through the middle of its body.
func (r *reader) along(w *wall, body []*shape.Solid, assembled bool) error {
	if len(body) == 0 {
		if w.frame.Curved() {
			w.axis = 2 * w.frame.Middle // its line may lie beside the axis
		}
		w.length, w.foot, w.ends = w.axis, w.frame.Origin.Z, [2]float64{0, w.axis}
		w.doubt(finding.Assumed, "wall-height", "it has no body: it is taken as long as its axis and as high as the level", "give its height")
		return nil
	}
	for s := range leaves(body) {
		w.depth = max(w.depth, s.Rise)
	}
	box := shape.Extent(body, w.frame)
	if l := w.limits; l != nil {
		box.Min.X, box.Max.X = l[0], l[1]
	}
	w.elevation = r.section(w, body, box, assembled)
	e := w.elevation
	if assembled && w.axis > 0 { // its parts give way to other walls at its ends
		e.from, e.to = 0, w.axis
	}
	if !(e.to-e.from >= minLength && e.highest() >= minLength) {
		return errTiny
	}
	w.ends = [2]float64{e.from, e.to}
	if !assembled {
		r.cutFaces(w, body)
	}
	w.frame = w.frame.At(e.from, 0, e.foot)
	w.length, w.foot = e.to-e.from, e.foot
	w.ends[0], w.ends[1] = w.ends[0]-e.from, w.ends[1]-e.from
	e.shift(-e.from)
	return nil
}

func leaves(body []*shape.Solid) func(yield func(*shape.Solid) bool) {
	return func(yield func(*shape.Solid) bool) {
		for _, s := range body {
			for l := range s.Leaves {
				if !yield(l) {
					return
				}
			}
		}
	}
}

// section cuts the body in the middle of the wall; where it is hollow or
// interrupted there, at a quarter and three quarters. Of bodies that cannot be cut, or that are
// assembled from parts with gaps between them, it takes the extent.
func (r *reader) section(w *wall, body []*shape.Solid, box shape.Box, assembled bool) *elevation {
	whole := &elevation{
		from: box.Min.X, to: box.Max.X, foot: box.Min.Z,
		top: []at{{box.Min.X, box.Max.Z}, {box.Max.X, box.Max.Z}},
	}
	if assembled && w.frame.Curved() {
		return whole
	}
	var e *elevation
	for _, v := range []float64{0, w.thickness / 4, -w.thickness / 4} {
		section, err := r.cut(w, body, v)
		if err != nil {
			w.doubt(finding.Warning, "wall-body", "its body is too intricate: the box around it is taken", "check its length and height")
			return whole
		}
		if len(section) == 0 {
			continue
		}
		if cut := elevationOf(section); e == nil || cut.gap < e.gap-offAxis {
			e = &cut
		}
		if e.gap <= offAxis || assembled {
			break
		}
	}
	switch {
	case e == nil, assembled && (e.gap > offAxis || e.uneven):
		return whole
	case assembled:
		e.holes = nil // bays between studs as well as openings
	}
	if e.uneven {
		w.doubt(finding.Warning, "wall-foot", "its foot is not level: heights are measured from its lowest point", "split it where the floor steps")
	}
	if e.gap > offAxis {
		w.doubt(finding.Warning, "wall-gap", words.F("its body is interrupted over %.0f mm: it is read as running through", e.gap), "split it, or draw what interrupts it")
	}
	return e
}

// cut cuts a wall's body at v beside its line; of a stretch of a wall, between
// its ends.
func (r *reader) cut(w *wall, body []*shape.Solid, v float64) (shape.Section, error) {
	if w.limits != nil {
		return r.shape.CutBetween(body, w.frame, v, w.limits[0], w.limits[1])
	}
	return r.shape.Cut(body, w.frame, v)
}

// shift moves the elevation along the wall.
func (e *elevation) shift(du float64) {
	e.from, e.to = e.from+du, e.to+du
	for i := range e.top {
		e.top[i].u += du
	}
	for i := range e.holes {
		e.holes[i].u0, e.holes[i].u1 = e.holes[i].u0+du, e.holes[i].u1+du
	}
}
