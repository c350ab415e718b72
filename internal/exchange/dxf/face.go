package dxf

import (
	"cmp"
	"math"
	"slices"
)

// Tolerances of lines that belong together, in mm and radians.
const (
	shortestLine = 1
	sameOffset   = 2
	sameEnd      = 5
	sameAngle    = 0.2 * math.Pi / 180
)

// span is a stretch along a line.
type span struct{ lo, hi float64 }

func (s span) length() float64       { return s.hi - s.lo }
func (s span) overlap(o span) span   { return span{max(s.lo, o.lo), min(s.hi, o.hi)} }
func (s span) holds(v float64) bool  { return s.lo <= v && v <= s.hi }
func (s span) wider(by float64) span { return span{s.lo - by, s.hi + by} }

// without returns what remains of a stretch.
func (s span) without(taken []span) []span {
	left := []span{s}
	for _, t := range taken {
		var next []span
		for _, l := range left {
			if t.hi <= l.lo || t.lo >= l.hi {
				next = append(next, l)
				continue
			}
			if t.lo > l.lo {
				next = append(next, span{l.lo, t.lo})
			}
			if t.hi < l.hi {
				next = append(next, span{t.hi, l.hi})
			}
		}
		left = next
	}
	return left
}

// axis is a direction of lines; offsets are measured to the left of it.
type axis struct{ dir vec }

func (a axis) along(p vec) float64  { return p.dot(a.dir) }
func (a axis) across(p vec) float64 { return p.dot(a.dir.left()) }
func (a axis) at(along, across float64) vec {
	return a.dir.times(along).add(a.dir.left().times(across))
}

// face is a straight line of the drawing that may be one side of a wall, made of all
// lines that lie on it and touch.
type face struct {
	span
	axis  int // index
	off   float64
	role  Role
	taken []span // by walls
}

// faces merges the lines of walls. It returns the directions that occur and the
// faces, by direction and offset.
func faces(lines []segment, role func(ink) Role) ([]axis, []*face) {
	type line struct {
		segment
		angle, length float64
	}
	var all []line
	for _, s := range lines {
		d := s.b.sub(s.a)
		if l := d.length(); l >= shortestLine {
			angle := math.Mod(d.angle()+math.Pi, math.Pi)
			if angle > math.Pi-sameAngle {
				angle -= math.Pi
			}
			all = append(all, line{s, angle, l})
		}
	}
	slices.SortStableFunc(all, func(a, b line) int { return cmp.Compare(a.angle, b.angle) })
	var axes []axis
	var out []*face
	for len(all) > 0 {
		n, sum, weight := 0, 0.0, 0.0
		for n < len(all) && all[n].angle-all[0].angle <= 2*sameAngle && (n == 0 || all[n].angle-all[n-1].angle < sameAngle/4) {
			sum, weight = sum+all[n].angle*all[n].length, weight+all[n].length
			n++
		}
		ax := axis{polar(1, sum/weight)}
		var parallel []*face
		for _, l := range all[:n] {
			a, b := ax.along(l.a), ax.along(l.b)
			parallel = append(parallel, &face{span: span{min(a, b), max(a, b)}, axis: len(axes), off: ax.across(l.a.mid(l.b)), role: role(l.ink)})
		}
		out = append(out, merge(parallel)...)
		axes, all = append(axes, ax), all[n:]
	}
	return axes, out
}

// merge joins parallel lines that lie on one another or end to end.
func merge(all []*face) []*face {
	slices.SortStableFunc(all, func(a, b *face) int { return cmp.Compare(a.off, b.off) })
	var out []*face
	for len(all) > 0 {
		n := 1
		for n < len(all) && all[n].off-all[0].off <= sameOffset {
			n++
		}
		same := all[:n]
		all = all[n:]
		slices.SortStableFunc(same, func(a, b *face) int { return cmp.Compare(a.lo, b.lo) })
		at := len(out)
		for _, f := range same {
			if k := len(out) - 1; k >= at && f.lo <= out[k].hi+sameEnd {
				if f.hi > out[k].hi {
					out[k].hi = f.hi
				}
				if out[k].role == Wall {
					out[k].role = f.role
				}
				continue
			}
			out = append(out, f)
		}
	}
	return out
}
