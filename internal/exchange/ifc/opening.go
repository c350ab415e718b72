package ifc

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/exchange/ifc/step"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// opening is an opening on its way to the plan.
type opening struct {
	id      step.ID // 0 where it is a hole that the file does not name
	wall    *wall
	rect    rect // in the wall's plane; z from the foot. In a curved wall its sides are where those of the opening meet the inside of the curve
	further bool // whether it is a further hole of an opening that has several
	filling step.ID
	kind    plan.OpeningKind
	doubts  []doubt
}

func (o *opening) doubt(severity finding.Severity, code string, what, fix words.Text) {
	o.doubts = append(o.doubts, doubt{severity, code, what, fix})
}

// Tolerances of openings in mm.
const (
	smallest = 10 // what remains of an opening within its wall is one from this size
	samePart = 5  // how far sizes given twice may differ
	smallGap = 50 // of an opening outside its wall that is worth no word
)

// readOpenings reads every opening in a wall that was read.
func (r *reader) readOpenings() {
	for _, id := range r.all(openingTypes) {
		host, ok := r.rel.host[id]
		if !ok {
			r.leaveOut(id, finding.Warning, "opening-homeless", "the opening belongs to no element", "mend it in the model")
			continue
		}
		switch w := r.hostOf(id, host); {
		case w != nil:
			r.readOpening(id, w)
		case r.is(host, wallTypes):
			r.leaveOut(id, finding.Error, "opening-unread", words.F("its wall %s was not read", r.entity(host)), "draw it by hand in the plan")
		default:
			r.leaveOut(id, finding.Note, "opening-elsewhere", words.F("it is in %s, which is no wall", r.entity(host)), "")
		}
	}
	for _, t := range []string{"IFCVOIDINGFEATURE", "IFCEDGEFEATURE"} {
		for _, id := range r.file.OfType(t) {
			if host := r.rel.host[id]; r.is(host, wallTypes) {
				r.leaveOut(id, finding.Warning, "opening-feature", words.F("this cut into %s is not read", r.entity(host)), "draw it by hand in the plan")
			}
		}
	}
	for _, w := range r.walls {
		r.mergeOpenings(w)
		r.takeHoles(w)
		r.openings = append(r.openings, w.openings...)
	}
}

// hostOf returns the wall that an opening is in: its host, the wall that its
// host is a part of, or the part or stretch of its host in which most of it lies.
func (r *reader) hostOf(id, host step.ID) *wall {
	up := host
	for range maxTree {
		if w := r.wallByID[up]; w != nil && len(w.pieces) > 0 {
			return cmp.Or(r.best(id, w.pieces), w)
		} else if w != nil {
			return w
		}
		whole, ok := r.rel.whole[up]
		if !ok {
			break
		}
		up = whole
	}
	var walls []*wall
	parts := r.rel.parts[host]
	for _, part := range parts[:min(len(parts), maxTree)] {
		walls = append(walls, r.wallByID[part])
	}
	return r.best(id, walls)
}

// readOpening projects an opening's body into its wall. A body of several
// solids that lie apart makes as many holes.
func (r *reader) readOpening(id step.ID, w *wall) {
	body, err := r.shape.Body(id)
	filling := r.filling(id)
	if len(body) == 0 && filling != 0 {
		body = r.stoodIn(filling)
	}
	if len(body) == 0 {
		r.leaveOut(id, finding.Error, "opening-unread", words.F("the opening cannot be read: %s", cmp.Or(err, errNoBody).Error()), "draw it by hand in the plan")
		return
	}
	voids := r.voids(w, body)
	var through []void
	for i, v := range voids {
		if !r.recess(id, w, v, i == 0 && filling != 0) { // what fills it stands in the largest
			through = append(through, v)
		}
	}
	if len(through) == 0 {
		v := voids[0]
		r.leaveOut(id, w.asks(finding.Warning), "opening-recess",
			words.F("it is a recess of %.0f mm in %s, %.0f mm wide and %.0f mm high: the plan has no recesses", w.cuts(v.box), r.entity(w.id), v.rect.width(), v.rect.height()),
			"frame the recess by hand, or make the wall thicker there")
		return
	}
	read := 0
	for _, v := range through {
		o := &opening{id: id, wall: w, rect: v.rect, further: read > 0}
		if read == 0 {
			o.filling = filling
		}
		if !o.clip() {
			continue
		}
		if o.kind = r.kindOf(o); v.round && o.kind != plan.Penetration {
			o.doubt(finding.Assumed, "opening-shape", "it is no rectangle: the rectangle around it is taken", "frame it by hand")
		}
		r.compareFilling(o)
		w.openings = append(w.openings, o)
		read++
	}
	if read == 0 {
		r.leaveOut(id, w.asks(finding.Error), "opening-outside", words.F("the opening lies outside its wall %s", r.entity(w.id)), "mend it in the model, or draw it by hand in the plan")
	} else if n := len(voids) - read; n > 0 {
		w.openings[len(w.openings)-1].doubt(finding.Warning, "opening-parts", words.F("%s of it are recesses or lie outside the wall, and are left out", words.Count(n, "1 part", "%d parts")), "check the opening in the model")
	}
}

// asks returns how grave something about an opening of the wall is: nobody has
// to act where the wall is existing structure.
func (w *wall) asks(s finding.Severity) finding.Severity {
	if w.partition {
		return s
	}
	return finding.Note
}

var errNoBody = words.Err("it has no body")

// void is one hole of an opening.
type void struct {
	rect  rect // z from the wall's foot
	box   shape.Box
	round bool // whether it is no rectangle
}

// voids returns the holes that the solids of an opening make in a wall, the
// largest first. Solids that overlap or touch make one.
func (r *reader) voids(w *wall, body []*shape.Solid) []void {
	var voids []void
	for _, s := range body {
		v := r.void(w, []*shape.Solid{s})
		for i := 0; i < len(voids); i++ {
			if both := v.rect.shared(voids[i].rect); both.width() > -samePart && both.height() > -samePart {
				v = v.join(voids[i])
				voids = slices.Delete(voids, i, i+1)
				i = -1
			}
		}
		voids = append(voids, v)
	}
	slices.SortStableFunc(voids, func(a, b void) int { return cmp.Compare(b.rect.area(), a.rect.area()) })
	return voids
}

// join returns the hole that two holes make together.
func (v void) join(o void) void {
	all := v.rect.around(o.rect)
	filled := v.rect.area() + o.rect.area() - v.rect.overlap(o.rect)
	return void{all, shape.Box{Min: v.box.Min, Max: v.box.Max}.Add(o.box.Min).Add(o.box.Max), v.round || o.round || filled < rectangular*all.area()}
}

// rectangular is the part of the rectangle around it that a rectangle fills.
const rectangular = 0.97

// void returns the hole that one solid makes: where it meets the middle of the
// wall, which is less than its extent where it goes through at an angle.
func (r *reader) void(w *wall, body []*shape.Solid) void {
	box := shape.Extent(body, w.frame)
	v := void{rect: rect{box.Min.X, box.Max.X, box.Min.Z - w.foot, box.Max.Z - w.foot}, box: box}
	section, err := r.shape.Cut(body, w.frame, 0)
	if err != nil || len(section) == 0 {
		return v
	}
	e := elevationOf(section)
	v.rect = rect{e.from, e.to, e.foot - w.foot, e.foot - w.foot + e.highest()}
	if w.frame.Curved() {
		if within := r.cutInside(w, body); len(within) > 0 {
			v.rect.u0, v.rect.u1 = within[0].From, within[len(within)-1].To
			section = within
		}
	}
	filled := 0.0
	for _, s := range section {
		for _, span := range s.Spans {
			filled += (s.To - s.From) * (span.Hi[0] + span.Hi[1] - span.Lo[0] - span.Lo[1]) / 2
		}
	}
	v.round = filled < rectangular*v.rect.area()
	return v
}

// cuts returns how deep a body cuts into the wall.
func (w *wall) cuts(box shape.Box) float64 {
	return min(box.Max.Y, w.thickness/2) - max(box.Min.Y, -w.thickness/2)
}

// recess reports whether a hole does not go through its wall. Openings that are
// filled, or said to be openings, do; so do bodies beside the wall, which
// exporters draw carelessly.
func (r *reader) recess(id step.ID, w *wall, v void, filled bool) bool {
	args := r.file.Args(id)
	deep := w.cuts(v.box)
	partly := deep > smallest && deep < w.thickness-smallest
	switch kind := args.At(8).Enum(); {
	case kind == "RECESS", kind == "" && strings.EqualFold(args.At(4).Text(), "Recess"):
		return true
	case kind == "OPENING":
		return false
	}
	return !filled && partly
}

// clip cuts an opening off at its wall's rims and reports whether anything is
// left of it.
func (o *opening) clip() bool {
	w := o.wall
	rim := rect{0, w.length, 0, math.Inf(1)}
	if w.elevation != nil {
		w.elevation.heal(o.rect)
		rim.z1 = w.elevation.lowestTop(max(o.rect.u0, 0), min(o.rect.u1, w.length))
	}
	inside := o.rect.shared(rim)
	if !inside.atLeast(smallest) {
		return false
	}
	if over := max(-o.rect.u0, o.rect.u1-w.length, o.rect.z1-rim.z1); over > smallGap {
		o.doubt(finding.Note, "opening-clipped", words.F("it reaches %.0f mm beyond the rim of its wall and is cut off there", over), "")
	}
	o.rect = inside
	return true
}

// filling returns the door, window or other element that fills an opening:
// doors before windows before others.
func (r *reader) filling(id step.ID) step.ID {
	all := slices.Clone(r.rel.fillings[id])
	rank := func(f step.ID) int {
		switch {
		case r.is(f, doorTypes):
			return 0
		case r.is(f, windowTypes):
			return 1
		case r.file.Has(f):
			return 2
		}
		return 3
	}
	slices.SortStableFunc(all, func(a, b step.ID) int { return rank(a) - rank(b) })
	if len(all) == 0 || rank(all[0]) == 3 {
		return 0
	}
	return all[0]
}

// Sizes by which openings are told apart, in mm.
const (
	serviceSize = 400  // openings without a filling up to this size let services through
	hatchHeight = 1200 // doors lower than this and above the floor are hatches
	doorSill    = 200
)

// kindOf says what an opening is for.
func (r *reader) kindOf(o *opening) plan.OpeningKind {
	switch {
	case r.is(o.filling, doorTypes):
		if o.rect.height() < hatchHeight && o.rect.z0 > doorSill || r.file.Arg(o.filling, 10).Enum() == "TRAPDOOR" {
			return plan.Hatch
		}
		return plan.Door
	case r.is(o.filling, windowTypes), r.is(o.filling, []string{"IFCCURTAINWALL", "IFCPLATE", "IFCPLATESTANDARDCASE"}):
		return plan.Window
	case o.filling == 0 && o.rect.width() <= serviceSize && o.rect.height() <= serviceSize && o.rect.z0 > smallGap:
		return plan.Penetration
	}
	return plan.Bare
}

// compareFilling tells where a door or window says another size than its
// opening has.
func (r *reader) compareFilling(o *opening) {
	if !r.is(o.filling, doorTypes) && !r.is(o.filling, windowTypes) {
		return
	}
	width, height := r.overall(o.filling)
	if width > 0 && math.Abs(width-o.clear()) > samePart || height > 0 && math.Abs(height-o.rect.height()) > samePart {
		o.doubt(finding.Warning, "opening-size",
			words.F("the opening is %.0f x %.0f mm, but %s that fills it is given as %.0f x %.0f mm: the opening counts",
				o.clear(), o.rect.height(), r.entity(o.filling), width, height),
			"check the structural opening")
	}
}

// overall returns the width and height that a door or window is given, in mm.
func (r *reader) overall(id step.ID) (width, height float64) {
	args := r.file.Args(id)
	height, _ = args.At(8).Real()
	width, _ = args.At(9).Real()
	mm := r.shape.Units().Length
	return width * mm, height * mm
}

// mostOpenings is how many openings of one wall are compared with each other.
const mostOpenings = 1000

// mergeOpenings joins openings of a wall that overlap: one hole in the wall,
// however often it is drawn.
func (r *reader) mergeOpenings(w *wall) {
	if len(w.openings) > mostOpenings {
		return
	}
	slices.SortStableFunc(w.openings, func(a, b *opening) int {
		if (a.filling != 0) != (b.filling != 0) {
			if a.filling != 0 {
				return -1
			}
			return 1
		}
		return 0
	})
	var kept []*opening
next:
	for _, o := range w.openings {
		for _, k := range kept {
			both := k.rect.shared(o.rect)
			if both.width() > samePart && both.height() > samePart {
				if !o.further {
					r.leaveOut(o.id, finding.Note, "opening-merged", words.F("it overlaps %s in %s: both are read as one opening", r.entity(k.id), r.entity(w.id)), "")
				}
				k.rect = k.rect.around(o.rect)
				continue next
			}
		}
		kept = append(kept, o)
	}
	w.openings = kept
}

// takeHoles adds the holes in a partition's body for which the file has no
// opening.
func (r *reader) takeHoles(w *wall) {
	if w.elevation == nil || !w.partition {
		return
	}
	for _, h := range w.elevation.holes {
		h.z0, h.z1 = h.z0-w.foot, h.z1-w.foot
		known := slices.ContainsFunc(w.openings, func(o *opening) bool { return o.rect.overlap(h) > h.area()/2 })
		if known || !h.atLeast(smallest) {
			continue
		}
		o := &opening{wall: w, rect: h}
		o.kind = r.kindOf(o)
		o.doubt(finding.Assumed, "opening-hole", "the body of the wall has a hole here that is no opening in the file: it is read as one", "check what it is for")
		w.openings = append(w.openings, o)
	}
}
