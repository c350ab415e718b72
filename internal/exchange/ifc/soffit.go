package ifc

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/exchange/ifc/step"
	"nogging/internal/finding"
	"nogging/internal/words"
)

// Tolerances of walls under what stands above them, in mm.
const (
	underSoffit  = 50   // a wall that ends this far below a soffit, or less, is meant to reach it
	lowestSoffit = 1200 // what lies lower over a wall's foot stops the wall only where the wall ends there
	farThrough   = 500  // a wall that goes on this far above what crosses it is not stopped by it, unless that is a roof
	thinSoffit   = 60   // what is thinner is a ceiling or a finish, and stops no wall that goes on above it
	soffitGap    = 300  // narrower gaps in a soffit are closed: joints, and the walls between slabs
	worthTelling = 5    // differences between the model's wall and what is measured
	highestRoom  = 12e3 // a soffit higher than this above a wall's foot does not concern it, unless its body reaches there
	roofSlope    = 0.01 // rise per run from which an underside is that of a roof
)

// overhead is an element that walls may end under.
type overhead struct {
	id     step.ID
	solids []*shape.Solid // without its openings
	box    shape.Box      // in the project's axes
	beam   bool
	roof   bool
}

var (
	beamTypes = []string{"IFCBEAM", "IFCBEAMSTANDARDCASE"}
	roofTypes = []string{"IFCROOF"}
)

// readOverheads reads slabs, roofs and beams, less their openings.
func (r *reader) readOverheads() {
	voids := map[step.ID][]step.ID{}
	for _, id := range r.all(openingTypes) {
		if host, ok := r.rel.host[id]; ok && !r.is(host, wallTypes) {
			voids[host] = append(voids[host], id)
		}
	}
	for _, id := range r.all(slices.Concat(slabTypes, roofTypes, beamTypes)) {
		solids, _ := r.shape.Body(id)
		if len(solids) == 0 && !r.is(id, roofTypes) { // the slabs of a roof stand for themselves
			solids = r.partBodies(id)
		}
		box := shape.Extent(solids, shape.Frame{Dir: shape.Vec{X: 1}})
		if box.IsEmpty() {
			continue
		}
		var holes []*shape.Solid
		for _, v := range voids[id] {
			hole, _ := r.shape.Body(v)
			holes = append(holes, hole...)
		}
		o := &overhead{id: id, solids: shape.Less(solids, holes), box: box, beam: r.is(id, beamTypes)}
		o.roof = r.is(id, roofTypes) || !o.beam && r.predefined(id, 8) == "ROOF"
		r.overheads = append(r.overheads, o)
	}
}

// predefined returns the PredefinedType of an element, which is its attribute
// at, or else that of its type.
func (r *reader) predefined(id step.ID, at int) string {
	kind := r.file.Arg(id, at).Enum()
	if kind == "" || kind == "NOTDEFINED" {
		kind = r.file.Arg(r.rel.typeOf[id], 9).Enum()
	}
	return kind
}

// measureTops measures the tops of partitions up to what stands above them.
func (r *reader) measureTops() {
	r.readOverheads()
	for _, w := range r.walls {
		if above := r.above(w); w.partition && len(above) > 0 {
			r.measureTop(w, above)
		}
	}
}

// above lists what lies over a wall, or crosses it.
func (r *reader) above(w *wall) []*overhead {
	top := w.foot + max(highestRoom, w.height()+underSoffit)
	ground := shape.Empty
	for _, p := range w.frame.Along(0, w.length, w.thickness/2) {
		ground = ground.Add(p)
	}
	var list []*overhead
	for _, o := range r.overheads {
		if o.box.Min.X < ground.Max.X+w.thickness && o.box.Max.X > ground.Min.X-w.thickness &&
			o.box.Min.Y < ground.Max.Y+w.thickness && o.box.Max.Y > ground.Min.Y-w.thickness &&
			o.box.Min.Z < top && o.box.Max.Z > w.foot+levelFoot {
			list = append(list, o)
		}
	}
	return list
}

// measureTop takes the underside of what stands above a wall for its top,
// wherever its body reaches there. Where the body ends lower, it stays.
func (r *reader) measureTop(w *wall, above []*overhead) {
	soffit, err := r.soffitOver(w, above)
	if err != nil {
		w.doubt(finding.Note, "wall-soffit", "what stands above it is too intricate to measure to: its own height is taken", "check its height")
		return
	}
	if w.elevation == nil {
		r.standUnder(w, soffit, above)
		return
	}
	own := profileOf(w.elevation.top)
	top, lower, reaches := underneath(own, soffit)
	w.measured = reaches
	if lower > 0 {
		w.doubt(finding.Note, "wall-below-soffit", fmt.Sprintf("it ends %.0f mm below %s: its own height is taken", lower, r.names(w, soffit, above)), "")
	}
	if !reaches {
		return
	}
	off := 0.0
	each([]profile{top, own}, func(_, _ float64, z [][2]float64, ok []bool) {
		for i := range z[0] {
			if d := z[0][i] - z[1][i]; ok[0] && ok[1] && math.Abs(d) > math.Abs(off) {
				off = d
			}
		}
	})
	if math.Abs(off) > worthTelling {
		w.doubt(finding.Assumed, "wall-soffit", fmt.Sprintf("its top is measured to %s, up to %.0f mm %s its body in the model", r.names(w, top, above), math.Abs(off), belowAbove(off)), "check its height")
	}
	w.elevation.top = simplified(top.points())
}

func belowAbove(off float64) string {
	if off < 0 {
		return "below the top of"
	}
	return "above"
}

// standUnder gives a wall without a body the height up to the soffit, if one
// covers all of it.
func (r *reader) standUnder(w *wall, soffit profile, above []*overhead) {
	if n := len(soffit); n == 0 || soffit[0].u0 > straight || soffit[n-1].u1 < w.length-straight || !soffit.closed() {
		return
	}
	w.elevation = &elevation{to: w.length, foot: w.foot, top: simplified(soffit.points())}
	w.measured = true
	w.doubt(finding.Assumed, "wall-soffit", fmt.Sprintf("it has no body: its height is measured to %s", r.names(w, soffit, above)), "check its height")
}

// names names the elements along whose undersides a profile runs.
func (r *reader) names(w *wall, p profile, above []*overhead) string {
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range p {
		low, high = min(low, s.z0, s.z1), max(high, s.z0, s.z1)
	}
	var names []string
	for _, o := range above {
		if o.box.Min.Z <= high+straight && o.box.Max.Z >= low-straight && o.box.Max.Z > w.foot+thinSoffit {
			names = append(names, r.entity(o.id))
		}
	}
	const most = 3
	if n := len(names); n > most {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), n-most)
	}
	return strings.Join(names, ", ")
}

// soffitOver returns the underside of what stands above a wall: over its
// middle, and of beams also over its faces.
func (r *reader) soffitOver(w *wall, above []*overhead) (profile, error) {
	var all, beams, roofs []*shape.Solid
	for _, o := range above {
		all = append(all, o.solids...)
		switch {
		case o.beam:
			beams = append(beams, o.solids...)
		case o.roof:
			roofs = append(roofs, o.solids...)
		}
	}
	var soffit profile
	face := w.thickness/2 - levelFoot
	for _, cut := range []struct {
		solids []*shape.Solid
		v      float64
		roof   bool
	}{{all, 0, false}, {roofs, 0, true}, {beams, face, false}, {beams, -face, false}} {
		if len(cut.solids) == 0 {
			continue
		}
		section, err := r.shape.CutBetween(cut.solids, w.frame, cut.v, 0, w.length)
		if err != nil {
			return nil, err
		}
		soffit = lowest(soffit, w.undersides(section, cut.roof))
	}
	return soffit.bridged(w.length), nil
}

// undersides returns the lowest underside over each place of a wall that stops
// the wall there.
func (w *wall) undersides(section shape.Section, roof bool) profile {
	var own profile
	if w.elevation != nil {
		own = profileOf(w.elevation.top)
	}
	var p profile
	for _, s := range section {
		top := math.Inf(1)
		if z, ok := own.over(s.From, s.To); ok {
			top = (z[0] + z[1]) / 2
		}
		for _, span := range s.Spans {
			sloping := math.Abs(span.Lo[1]-span.Lo[0]) > roofSlope*(s.To-s.From)
			if w.stops(span, top, roof || sloping) {
				p = append(p, slope{s.From, s.To, span.Lo[0], span.Lo[1]})
				break
			}
		}
	}
	return p
}

// stops reports whether a wall ends under something, a roof or another thing,
// where its body in the model reaches up to top.
func (w *wall) stops(s shape.Span, top float64, roof bool) bool {
	low, high := (s.Lo[0]+s.Lo[1])/2, (s.Hi[0]+s.Hi[1])/2
	goesOn := top - high
	switch {
	case high < w.foot+lowestSoffit/4, low < w.foot+levelFoot: // the floor
		return false
	case math.IsInf(top, 0):
		return low > w.foot+lowestSoffit
	case roof:
		return true
	case low < w.foot+lowestSoffit:
		return goesOn < underSoffit
	case high-low < thinSoffit:
		return goesOn < underSoffit
	}
	return goesOn < farThrough
}

// tellTops tells for each level how the heights of its partitions were found.
func (r *reader) tellTops() {
	for _, l := range r.levels {
		measured, own := 0, 0
		for _, w := range l.walls {
			switch {
			case w.partition && w.measured:
				measured++
			case w.partition && w.elevation != nil:
				own++
			}
		}
		if measured > 0 {
			r.tell(finding.Note, "wall-tops", l.mark, words.F("the tops of %s are measured to slabs, roofs and beams above, those of %d are as their bodies in the model", plural(measured, "partition"), own), "")
		}
	}
}

// tellCeilings tells for each level how many partitions rise past suspended
// ceilings: ceilings stop no wall.
func (r *reader) tellCeilings() {
	var ceilings []shape.Box
	for _, id := range r.file.OfType("IFCCOVERING") {
		if r.predefined(id, 8) != "CEILING" {
			continue
		}
		solids, _ := r.shape.Body(id)
		if box := shape.Extent(solids, shape.Frame{Dir: shape.Vec{X: 1}}); !box.IsEmpty() {
			ceilings = append(ceilings, box)
		}
	}
	for _, l := range r.levels {
		n, lowest := 0, math.Inf(1)
		for _, w := range l.walls {
			if z, ok := w.past(ceilings); ok {
				n, lowest = n+1, min(lowest, z-l.elevation)
			}
		}
		if n > 0 {
			r.tell(finding.Note, "wall-past-ceiling", l.mark, words.F("%s past suspended ceilings, the lowest %.0f mm above the floor: ceilings do not stop walls", pluralVerb(n, "partition", "rises", "rise"), lowest), "")
		}
	}
}

func pluralVerb(n int, noun, one, more string) string {
	return plural(n, noun) + " " + map[bool]string{true: one, false: more}[n == 1]
}

// past returns the height of a ceiling beside a partition that rises past it.
func (w *wall) past(ceilings []shape.Box) (float64, bool) {
	if !w.partition || w.elevation == nil {
		return 0, false
	}
	p := w.frame.Global(w.length/2, 0, 0)
	near := w.thickness + beside
	for _, c := range ceilings {
		if c.Min.X < p.X+near && c.Max.X > p.X-near && c.Min.Y < p.Y+near && c.Max.Y > p.Y-near &&
			c.Min.Z > w.foot+lowestSoffit && c.Max.Z < w.foot+w.height()-underSoffit {
			return c.Min.Z, true
		}
	}
	return 0, false
}

// slope is a stretch of a line in a wall's plane, without steps.
type slope struct{ u0, u1, z0, z1 float64 }

// at returns the height at a place on the line through the stretch.
func (s slope) at(u float64) float64 {
	if s.u1-s.u0 < straight {
		return (s.z0 + s.z1) / 2
	}
	return s.z0 + (s.z1-s.z0)*(u-s.u0)/(s.u1-s.u0)
}

// profile is a line in a wall's plane from left to right, which may have steps
// and gaps.
type profile []slope

// profileOf is the profile along points.
func profileOf(points []at) profile {
	var p profile
	for i := 1; i < len(points); i++ {
		if a, b := points[i-1], points[i]; b.u > a.u {
			p = append(p, slope{a.u, b.u, a.z, b.z})
		}
	}
	return p
}

// points returns the ends of the profile's stretches.
func (p profile) points() []at {
	var points []at
	for _, s := range p {
		a, b := at{s.u0, s.z0}, at{s.u1, s.z1}
		if n := len(points); n == 0 || points[n-1] != a {
			points = append(points, a)
		}
		points = append(points, b)
	}
	return points
}

// over returns the heights at both ends of a stretch within which the profile
// neither begins nor ends nor bends.
func (p profile) over(a, b float64) ([2]float64, bool) {
	middle := (a + b) / 2
	i, _ := slices.BinarySearchFunc(p, middle, func(s slope, u float64) int { return cmp.Compare(s.u1, u) })
	if i == len(p) || p[i].u0 > middle {
		return [2]float64{}, false
	}
	return [2]float64{p[i].at(a), p[i].at(b)}, true
}

// closed reports whether the profile has no gaps.
func (p profile) closed() bool {
	for i := 1; i < len(p); i++ {
		if p[i].u0-p[i-1].u1 > straight {
			return false
		}
	}
	return true
}

// bridged closes narrow gaps in the profile and at its ends.
func (p profile) bridged(length float64) profile {
	if len(p) == 0 {
		return nil
	}
	p = slices.Clone(p)
	if first := p[0]; first.u0 > 0 && first.u0 < soffitGap {
		p = slices.Insert(p, 0, slope{0, first.u0, first.z0, first.z0})
	}
	if last := p[len(p)-1]; last.u1 < length && length-last.u1 < soffitGap {
		p = append(p, slope{last.u1, length, last.z1, last.z1})
	}
	var whole profile
	for i, s := range p {
		if i > 0 {
			if a := p[i-1]; s.u0 > a.u1 && s.u0-a.u1 < soffitGap {
				whole = append(whole, slope{a.u1, s.u0, a.z1, s.z0})
			}
		}
		whole = append(whole, s)
	}
	return whole
}

// each calls f for the stretches in which several profiles run on without bends
// or steps, and the first two do not cross; ok tells which have no gap there.
func each(profiles []profile, f func(a, b float64, z [][2]float64, ok []bool)) {
	var us []float64
	for _, p := range profiles {
		for _, s := range p {
			us = append(us, s.u0, s.u1)
		}
	}
	slices.Sort(us)
	us = slices.CompactFunc(us, func(a, b float64) bool { return math.Abs(b-a) < straight/5 })
	z, ok := make([][2]float64, len(profiles)), make([]bool, len(profiles))
	emit := func(a, b float64) {
		for i, p := range profiles {
			z[i], ok[i] = p.over(a, b)
		}
		if slices.Contains(ok, true) {
			f(a, b, z, ok)
		}
	}
	for i := 1; i < len(us); i++ {
		a, b := us[i-1], us[i]
		if cross, crosses := crossing(profiles, a, b); crosses {
			emit(a, cross)
			a = cross
		}
		emit(a, b)
	}
}

// crossing returns where the first two profiles cross in a stretch.
func crossing(profiles []profile, a, b float64) (float64, bool) {
	p, okP := profiles[0].over(a, b)
	q, okQ := profiles[1].over(a, b)
	d0, d1 := p[0]-q[0], p[1]-q[1]
	if !okP || !okQ || d0*d1 >= 0 {
		return 0, false
	}
	at := a + (b-a)*d0/(d0-d1)
	return at, at > a && at < b
}

// lowest returns the lower of two profiles at each place, and the other where
// one has a gap.
func lowest(p, q profile) profile {
	if len(p) == 0 || len(q) == 0 {
		return append(p, q...)
	}
	var low profile
	each([]profile{p, q}, func(a, b float64, z [][2]float64, ok []bool) {
		one := z[0]
		if !ok[0] || ok[1] && z[1][0]+z[1][1] < one[0]+one[1] {
			one = z[1]
		}
		low = append(low, slope{a, b, one[0], one[1]})
	})
	return low
}

// underneath returns the top of a wall under a soffit: that of its body, cut off
// at the soffit, and raised to it where the body ends just below. lower is how
// far, at most, it ends below elsewhere; reaches tells whether it reaches the
// soffit anywhere.
func underneath(body, soffit profile) (top profile, lower float64, reaches bool) {
	if len(body) == 0 || len(soffit) == 0 {
		return body, 0, false
	}
	var below []slope // a stretch over which the soffit is higher: the body there
	var soffits []slope
	off := 0.0
	settle := func() {
		if off <= underSoffit {
			below, reaches = soffits, reaches || len(soffits) > 0
		} else {
			lower = max(lower, off)
		}
		top = append(top, below...)
		below, soffits, off = nil, nil, 0
	}
	each([]profile{body, soffit}, func(a, b float64, z [][2]float64, ok []bool) {
		if !ok[0] {
			return
		}
		own, under := slope{a, b, z[0][0], z[0][1]}, slope{a, b, z[1][0], z[1][1]}
		switch d0, d1 := z[1][0]-z[0][0], z[1][1]-z[0][1]; {
		case !ok[1]:
			settle()
			top = append(top, own)
		case d0+d1 > 0:
			below, soffits, off = append(below, own), append(soffits, under), max(off, d0, d1)
		default:
			settle()
			top, reaches = append(top, under), true
		}
	})
	settle()
	return top, lower, reaches
}
