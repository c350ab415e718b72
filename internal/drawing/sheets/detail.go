package sheets

import (
	"encoding/binary"
	"hash/fnv"
	"math"
	"slices"

	"nogging/internal/geom"
)

// matter is what a part of a detail is made of; it decides how it is drawn.
type matter int

// What details show, in painting order.
const (
	ground  matter = iota // existing structure, floor, soffit
	wool                  // insulation; its outline starts with a side along the wall
	board                 // cut board
	blank                 // the room within a steel shape
	steel                 // cut steel, by the middle of its sheet
	beyond                // seen behind the section
	sealing               // tape, strip, sealant, filler, bead
	fixing                // screw or anchor, along its middle
	space                 // an opening: named, not drawn
)

// part is one thing that a detail shows: an outline, or the line of steel,
// fixings and what lies beyond. Coordinates are those of the detail: x to the
// right, y up, from the point at which it is taken.
type part struct {
	matter matter
	name   string // what its leader says; "" for none
	shape  []geom.Point
}

// measure is a row of dimensions beside a detail.
type measure struct {
	upright bool // measures y and stands at the left; otherwise x, below
	row     int  // 0 next to what is measured
	at      []Length
	texts   []string
}

// detail is a section through the real parts of one place, to scale.
type detail struct {
	kind     detailKind
	number   int
	parts    []part
	measures []measure
	breaks   []geom.Segment // where the drawing stops and the wall goes on
	walls    []string       // where it applies
}

// detailKind says what a detail shows.
type detailKind int

// The kinds of detail, in the order of their numbers.
const (
	headDetail detailKind = iota
	baseDetail
	bodyDetail
	teeDetail
	cornerDetail
	crossDetail
	straightDetail
	structureDetail
	freeDetail
	movementDetail
	jambDetail
	lintelDetail
	sillDetail
	detailKinds
)

var detailTitles = [detailKinds]string{
	"Head", "Base", "Stud and boards", "T junction", "Corner", "Crossing", "Walls in one line",
	"End at structure", "Free end", "Movement joint", "Opening, jamb", "Opening, head", "Opening, sill",
}

// level reports whether details of the kind are level sections; the others are
// upright ones.
func (k detailKind) level() bool {
	switch k {
	case headDetail, baseDetail, lintelDetail, sillDetail:
		return false
	}
	return true
}

// mirrored returns the detail turned over: left and right, up and down.
func (d *detail) mirrored(x, y bool) *detail {
	if !x && !y {
		return d
	}
	turn := func(p geom.Point) geom.Point {
		if x {
			p.X = -p.X
		}
		if y {
			p.Y = -p.Y
		}
		return p
	}
	m := &detail{kind: d.kind, walls: d.walls}
	for _, p := range d.parts {
		q := part{matter: p.matter, name: p.name, shape: make([]geom.Point, len(p.shape))}
		for i, pt := range p.shape {
			q.shape[i] = turn(pt)
		}
		m.parts = append(m.parts, q)
	}
	for _, b := range d.breaks {
		m.breaks = append(m.breaks, geom.Segment{A: turn(b.A), B: turn(b.B)})
	}
	for _, r := range d.measures {
		m.measures = append(m.measures, r.mirrored(r.upright && y || !r.upright && x))
	}
	return m
}

func (m measure) mirrored(over bool) measure {
	if !over {
		return m
	}
	out := measure{upright: m.upright, row: m.row, texts: slices.Clone(m.texts)}
	for _, v := range m.at {
		out.at = append(out.at, -v)
	}
	slices.Reverse(out.at)
	slices.Reverse(out.texts)
	return out
}

// alike is how far apart, in mm, the parts of two details may lie for one
// drawing to show both. It is an odd number so that the usual sizes do not fall
// on the border between two steps.
const alike = 4.1

// key returns what identifies the detail among others: the same for details
// whose parts have the same names, shapes and places. What lies behind, where a
// screw sits and how existing structure goes on make no other detail, and at a
// plain stud neither does the kind of joint.
func (d *detail) key() uint64 {
	sum := uint64(d.kind)
	for _, p := range d.parts {
		switch {
		case p.matter == beyond, p.matter == fixing, p.matter == sealing && d.kind == bodyDetail:
			continue
		case p.matter == ground:
			p.shape = nil
		}
		h := fnv.New64a()
		h.Write([]byte{byte(p.matter), byte(len(p.shape))})
		h.Write([]byte(p.name))
		var points uint64
		for _, pt := range p.shape {
			points += mix(step(pt.X), step(pt.Y))
		}
		sum += mix(h.Sum64(), points)
	}
	return sum
}

func step(v Length) uint64 { return uint64(int64(math.Round(v.MM() / alike))) }

// mix hashes two numbers into one.
func mix(a, b uint64) uint64 {
	var buf [16]byte
	binary.LittleEndian.PutUint64(buf[:8], a)
	binary.LittleEndian.PutUint64(buf[8:], b)
	h := fnv.New64a()
	h.Write(buf[:])
	return h.Sum64()
}

// usual returns the detail turned over so that places that mirror each other
// give one drawing, and its key. A mark of true leaves that axis as it is.
func (d *detail) usual(keepX, keepY bool) (*detail, uint64) {
	best, key := d, d.key()
	for _, x := range []bool{false, true} {
		for _, y := range []bool{false, true} {
			if x && keepX || y && keepY || !x && !y {
				continue
			}
			if m := d.mirrored(x, y); m.key() < key {
				best, key = m, m.key()
			}
		}
	}
	return best, key
}

// bounds returns the rectangle around what the detail shows, but for existing
// structure.
func (d *detail) bounds() geom.Rect {
	var pts []geom.Point
	for _, p := range d.parts {
		if p.matter != ground && p.matter != space {
			pts = append(pts, p.shape...)
		}
	}
	for _, b := range d.breaks {
		pts = append(pts, b.A, b.B)
	}
	return geom.Bounds(pts...)
}
