package dxf

import "math"

// hatch keeps the outlines of a hatch: polylines, and paths of lines and arcs.
func (d *drawer) hatch(r record, at place) {
	h := &hatchReader{tags: r.tags}
	if !h.seek(91) {
		return
	}
	from := len(d.out.rings)
	for range min(h.take(91).int(), len(r.tags)) {
		if !h.seek(92) {
			break
		}
		switch flags := h.take(92).int(); {
		case flags&8 != 0: // round a text
		case flags&2 != 0:
			d.ring(h.polyline(), true, at)
		default:
			d.ring(h.edges(), true, at)
		}
	}
	islands(d.out.rings[from:])
}

// mostIslands bounds the outlines of one hatch that are held against each other.
const mostIslands = 500

// islands marks the outlines of a hatch that lie within an odd number of others: what is
// in them is not filled.
func islands(rings []ring) {
	if len(rings) > mostIslands {
		return
	}
	for i := range rings {
		for k := range rings {
			if i != k && inside(rings[i].points[0], rings[k].points) {
				rings[i].hole = !rings[i].hole
			}
		}
	}
}

// hatchReader walks over the groups of a hatch, whose order tells what they are.
type hatchReader struct {
	tags []tag
	pos  int
}

// seek goes on to the next group of a code.
func (h *hatchReader) seek(code int) bool {
	for ; h.pos < len(h.tags); h.pos++ {
		if h.tags[h.pos].code == code {
			return true
		}
	}
	return false
}

// take returns the next group if it is of the code, else an empty one.
func (h *hatchReader) take(code int) tag {
	if h.pos < len(h.tags) && h.tags[h.pos].code == code {
		h.pos++
		return h.tags[h.pos-1]
	}
	return tag{}
}

func (h *hatchReader) point(code int) vec {
	x := h.take(code).float()
	return vec{x, h.take(code + 10).float()}
}

func (h *hatchReader) polyline() []vec {
	h.take(72)
	h.take(73)
	var out []vec
	for range min(h.take(93).int(), len(h.tags)) {
		out = append(out, h.point(10))
		h.take(42)
	}
	return out
}

// ellipse takes an elliptic edge; its angles are parameters in degrees.
func (h *hatchReader) ellipse() []vec {
	centre, major := h.point(10), h.point(11)
	minor := major.left().times(h.take(40).float())
	from, to := radians(h.take(50).float()), radians(h.take(51).float())
	if h.take(73).int() == 0 {
		from, to = -from, -to
	}
	if math.Abs(to-from) > 2*math.Pi+1e-6 {
		return nil
	}
	m := affine{major, minor, centre}
	var out []vec
	for _, p := range (arc{radius: 1, from: from, sweep: to - from}).points() {
		out = append(out, m.apply(p))
	}
	return out
}

// controls takes a spline as its control points.
func (h *hatchReader) controls() []vec {
	for _, code := range []int{94, 73, 74} {
		h.take(code)
	}
	knots, n := h.take(95).int(), h.take(96).int()
	for range min(knots, len(h.tags)) {
		h.take(40)
	}
	var out []vec
	for range min(n, len(h.tags)) {
		out = append(out, h.point(10))
		h.take(42)
	}
	return out
}

func (h *hatchReader) edges() []vec {
	var out []vec
	for range min(h.take(93).int(), len(h.tags)) {
		switch h.take(72).int() {
		case 1:
			out = append(out, h.point(10), h.point(11))
		case 2:
			a := arc{centre: h.point(10), radius: h.take(40).float(), from: radians(h.take(50).float())}
			a.sweep = radians(h.take(51).float()) - a.from
			if h.take(73).int() == 0 { // clockwise edges count their angles so too
				a.from, a.sweep = -a.from, -a.sweep
			}
			if math.Abs(a.sweep) <= 2*math.Pi+1e-6 {
				out = append(out, a.points()...)
			}
		case 3:
			out = append(out, h.ellipse()...)
		default: // spline: by its control points
			out = append(out, h.controls()...)
		}
	}
	return out
}
