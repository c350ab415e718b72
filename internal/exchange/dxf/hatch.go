package dxf

import "math"

// hatch keeps the outlines of a hatch: polylines, and paths of lines and arcs.
func (d *drawer) hatch(r record, at place) {
	h := &hatchReader{tags: r.tags}
	if !h.seek(91) {
		return
	}
	for range min(h.take(91).int(), len(r.tags)) {
		if !h.seek(92) {
			return
		}
		if h.take(92).int()&2 != 0 {
			d.ring(h.polyline(), true, at)
		} else {
			d.ring(h.edges(), true, at)
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
		default: // ellipse or spline: the next path begins afresh
			return nil
		}
	}
	return out
}
