package ifc

import (
	"math"

	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/exchange/ifc/step"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// stoodIn returns a box of the size that a door or window is given, standing
// where it is placed: x along its width, z up. It does for an opening that has
// no body.
func (r *reader) stoodIn(filling step.ID) []*shape.Solid {
	width, height := r.overall(filling)
	at, err := r.shape.Placement(filling)
	if err != nil || !(width >= smallest && height >= smallest) {
		return nil
	}
	return []*shape.Solid{shape.Block(at, width, 1, height)}
}

// fillOpenings finds the openings of doors and windows that are not said to
// fill any, by where they stand, and tells of those that stand in none.
func (r *reader) fillOpenings() {
	var loose []step.ID
	for _, id := range append(r.all(doorTypes), r.all(windowTypes)...) {
		if !r.rel.filled[id] {
			loose = append(loose, id)
		}
	}
	if len(loose) > 0 {
		site := newSite(r)
		for _, id := range loose {
			r.fill(id, site)
		}
	}
	for _, o := range r.openings {
		switch {
		case r.is(o.filling, doorTypes):
			r.stats.Doors++
		case r.is(o.filling, windowTypes):
			r.stats.Windows++
		}
	}
}

// site finds walls by place.
type site struct{ grid *geom.Grid[*wall] }

func newSite(r *reader) site {
	s := site{geom.NewGrid[*wall](5 * quantity.Metre)}
	for _, w := range r.walls {
		half := length(w.thickness/2 + beside)
		s.grid.Add(geom.Bounds(w.corners()...).Grow(half), w)
	}
	return s
}

// at returns the place on a wall's line that lies u mm from its start.
func (w *wall) at(u float64) geom.Point {
	p := w.frame.Global(u, 0, 0)
	return geom.Pt(length(p.X), length(p.Y))
}

// corners returns points of the wall's line; along an arc, near enough to each
// other to tell where it runs.
func (w *wall) corners() []geom.Point {
	n := 1.0
	if w.frame.Curved() {
		n = 16
	}
	var points []geom.Point
	for i := 0.0; i <= n; i++ {
		points = append(points, w.at(w.length*i/n))
	}
	return points
}

// beside is how far, in mm, the middle of a door may lie beside its wall.
const beside = 300

// fill looks for the opening in which a door or window stands: the one that it
// covers most of, on its own storey. In a wall without an opening there, it
// makes one.
func (r *reader) fill(id step.ID, s site) {
	body, _ := r.shape.Body(id)
	if len(body) == 0 {
		body = r.stoodIn(id)
	}
	if len(body) == 0 {
		r.leaveOut(id, finding.Warning, "filling-unread", "it fills no opening, and nothing shows where it stands", "draw it by hand in the plan")
		return
	}
	box := shape.Extent(body, shape.Frame{Dir: shape.Vec{X: 1}})
	middle := box.Min.Add(box.Max).Times(0.5)
	if !sane(middle.X) || !sane(middle.Y) {
		r.leaveOut(id, finding.Warning, "filling-unread", "it lies outside all bounds", "mend it in the model")
		return
	}
	storey := r.storeyOf(id)
	var best *opening
	var host *wall
	most := 0.0
	here := geom.Pt(length(middle.X), length(middle.Y))
	s.grid.Each(geom.Bounds(here), func(w *wall) {
		local := w.frame.Local(middle)
		if math.Abs(local.Y) > w.thickness/2+beside || storey != nil && w.level != storey {
			return
		}
		e := shape.Extent(body, w.frame)
		stands := rect{e.Min.X, e.Max.X, e.Min.Z - w.foot, e.Max.Z - w.foot}
		for _, o := range w.openings {
			if covers := o.rect.overlap(stands) / o.rect.area(); o.filling == 0 && covers > max(most, 0.5) {
				best, most = o, covers
			}
		}
		if local.X > 0 && local.X < w.length && (w.elevation == nil || middle.Z < w.foot+w.height()) && middle.Z > w.foot && host == nil {
			host = w
		}
	})
	switch {
	case best != nil:
		best.filling = id
		best.kind = r.kindOf(best)
		if best.wall.partition {
			best.doubt(finding.Assumed, "opening-matched", words.F("%s is taken to fill it, because it stands there", r.entity(id)), "")
		}
		r.compareFilling(best)
	case host != nil && host.partition:
		r.cutFor(id, host, body)
	default:
		r.leaveOut(id, finding.Note, "filling-elsewhere", "it stands in no opening of a wall that was read", "")
	}
}

// cutFor makes the opening for a door or window that stands in a partition
// without one.
func (r *reader) cutFor(id step.ID, w *wall, body []*shape.Solid) {
	e := shape.Extent(body, w.frame)
	middle := (e.Min.X + e.Max.X) / 2
	width, height := r.overall(id)
	if !(width >= smallest && height >= smallest) {
		width, height = e.Size().X, e.Size().Z
	}
	half := w.over(width) / 2
	o := &opening{wall: w, filling: id, rect: rect{middle - half, middle + half, e.Min.Z - w.foot, e.Min.Z - w.foot + height}}
	o.rect = o.rect.shared(rect{0, w.length, 0, max(w.height(), height)})
	for _, other := range w.openings {
		if other.rect.overlap(o.rect) > 0 {
			r.leaveOut(id, finding.Warning, "filling-elsewhere", words.F("it overlaps an opening of %s that it does not fill", r.entity(w.id)), "check the opening in the plan")
			return
		}
	}
	if !o.rect.atLeast(smallest) {
		r.leaveOut(id, finding.Warning, "filling-elsewhere", "it stands outside its wall", "draw it by hand in the plan")
		return
	}
	o.kind = r.kindOf(o)
	o.doubt(finding.Assumed, "opening-made", words.F("the file has no opening for %s: one of its size is made", r.entity(id)), "check the structural opening")
	w.openings = append(w.openings, o)
	r.openings = append(r.openings, o)
}
