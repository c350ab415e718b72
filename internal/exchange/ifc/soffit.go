package ifc

import (
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
	hollow       = 200  // hollows lower than this belong to what is above and below them, as the cores of planks
	betweenJoist = 700  // where beams lie nearer to each other than this, a wall ends under them all along
	sameJoists   = 20   // by how much their undersides may differ
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
		w.doubt(finding.Note, "wall-below-soffit", words.F("it ends %.0f mm below %s: its own height is taken", lower, r.names(w, soffit, above)), "")
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
		w.doubt(finding.Assumed, "wall-soffit", topTold(r.names(w, top, above), off), "check its height")
	}
	w.elevation.top = simplified(top.points())
}

// topTold says to what the top of a wall is measured, and how far that lies above the
// wall's body in mm.
func topTold(soffit words.Text, off float64) words.Text {
	if off < 0 {
		return words.F("its top is measured to %s, up to %.0f mm below the top of its body in the model", soffit, -off)
	}
	return words.F("its top is measured to %s, up to %.0f mm above its body in the model", soffit, off)
}

// standUnder gives a wall without a body the height up to the soffit, if one
// covers all of it.
func (r *reader) standUnder(w *wall, soffit profile, above []*overhead) {
	if n := len(soffit); n == 0 || soffit[0].u0 > straight || soffit[n-1].u1 < w.length-straight || !soffit.closed() {
		return
	}
	w.elevation = &elevation{to: w.length, foot: w.foot, top: simplified(soffit.points())}
	w.measured = true
	w.doubt(finding.Assumed, "wall-soffit", words.F("it has no body: its height is measured to %s", r.names(w, soffit, above)), "check its height")
}

// names names the elements along whose undersides a profile runs.
func (r *reader) names(w *wall, p profile, above []*overhead) words.Text {
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
		return words.F("%s and %d more", strings.Join(names[:most], ", "), n-most)
	}
	return words.Of(strings.Join(names, ", "))
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
		of     stopper
	}{{all, 0, slabs}, {roofs, 0, roof}, {beams, 0, beam}, {beams, face, beam}, {beams, -face, beam}} {
		if len(cut.solids) == 0 {
			continue
		}
		section, err := r.shape.CutBetween(cut.solids, w.frame, cut.v, 0, w.length)
		if err != nil {
			return nil, err
		}
		soffit = lowest(soffit, w.undersides(section, cut.of))
	}
	return soffit.bridged(w.length).underJoists(), nil
}

// undersides returns the lowest underside over each place of a wall that stops
// the wall there.
func (w *wall) undersides(section shape.Section, of stopper) profile {
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
		for _, span := range solid(s.Spans) {
			kind := of
			if math.Abs(span.Lo[1]-span.Lo[0]) > roofSlope*(s.To-s.From) {
				kind = roof
			}
			if w.stops(span, top, kind) {
				p = append(p, slope{s.From, s.To, span.Lo[0], span.Lo[1]})
				break
			}
		}
	}
	return p
}

// stopper is what a wall may end under.
type stopper int

const (
	slabs stopper = iota
	beam
	roof
)

// solid joins spans with low hollows between them.
func solid(spans []shape.Span) []shape.Span {
	var joined []shape.Span
	for _, s := range spans {
		if n := len(joined); n > 0 && s.Lo[0]+s.Lo[1]-joined[n-1].Hi[0]-joined[n-1].Hi[1] < 2*hollow {
			joined[n-1].Hi = s.Hi
			continue
		}
		joined = append(joined, s)
	}
	return joined
}

// stops reports whether a wall ends under something, where its body in the model
// reaches up to top.
func (w *wall) stops(s shape.Span, top float64, of stopper) bool {
	low, high := (s.Lo[0]+s.Lo[1])/2, (s.Hi[0]+s.Hi[1])/2
	goesOn := top - high
	switch {
	case high < w.foot+lowestSoffit/4, low < w.foot+levelFoot: // the floor
		return false
	case math.IsInf(top, 0):
		return low > w.foot+lowestSoffit
	case of == roof:
		return true
	case low < w.foot+lowestSoffit:
		return goesOn < underSoffit
	case of == slabs && high-low < thinSoffit:
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
			r.tell(finding.Note, "wall-tops", l.mark, words.F("the tops of %s are measured to slabs, roofs and beams above, those of %d are as their bodies in the model", words.Count(measured, "1 partition", "%d partitions"), own), "")
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
			r.tell(finding.Note, "wall-past-ceiling", l.mark, words.F("%s past suspended ceilings, the lowest %.0f mm above the floor: ceilings do not stop walls", words.Count(n, "1 partition rises", "%d partitions rise"), lowest), "")
		}
	}
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
