package sheets

import (
	"math"
	"slices"

	"nogging/internal/geom"
)

// matter is what a part of a detail is made of; it decides how it is drawn.
type matter int

// What details show, in painting order.
const (
	ground   matter = iota // existing structure, floor, soffit
	wool                   // insulation; its outline starts with a side along the wall
	board                  // cut board
	blank                  // the room within a steel shape
	steel                  // cut steel, by the middle of its sheet
	beyond                 // seen behind the section
	sealing                // tape, strip, sealant, filler, bead
	fixing                 // screw or anchor, along its middle
	pipework               // a pipe or another service
	space                  // an opening: named, not drawn
)

// part is one thing that a detail shows: an outline, or the line of steel,
// fixings and what lies beyond. Coordinates are those of the detail: x to the
// right, y up, from the point at which it is taken.
type part struct {
	matter matter
	name   string // what its leader says; "" for none
	shape  []geom.Point
	wall   string // and the mark of the part of a wall that it shows, where it shows one
	mark   string
}

// own marks the parts from a place in the list on as showing one part of a wall.
func (d *detail) own(from int, wall, mark string) {
	for i := from; i < len(d.parts); i++ {
		d.parts[i].wall, d.parts[i].mark = wall, mark
	}
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
	leads    map[scale][]lead
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
	spliceDetail
	jambDetail
	lintelDetail
	sillDetail
	bracketDetail
	pipeDetail
	riserDetail
	sealDetail
	detailKinds
)

var detailTitles = [detailKinds]string{
	"Head", "Base", "Stud and boards", "T junction", "Corner", "Crossing", "Walls in one line",
	"End at structure", "Free end", "Movement joint", "Splice of a stud", "Opening, jamb", "Opening, head", "Opening, sill",
	"Bracket to the wall behind", "Pipe along the wall", "Pipe up the wall", "Service through the wall",
}

// level reports whether details of the kind are level sections; the others are
// upright ones.
func (k detailKind) level() bool {
	switch k {
	case headDetail, baseDetail, lintelDetail, sillDetail, bracketDetail, pipeDetail, sealDetail:
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
		q := p
		q.shape = make([]geom.Point, len(p.shape))
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
// whose parts have the same names, shapes and places, once turned over as said.
// What lies behind, where a screw sits and how existing structure goes on make no
// other detail, and at a plain stud neither does the kind of joint.
func (d *detail) key(flipX, flipY bool) uint64 {
	signX, signY := Length(1), Length(1)
	if flipX {
		signX = -1
	}
	if flipY {
		signY = -1
	}
	sum := uint64(d.kind)
	for i := range d.parts {
		p := &d.parts[i]
		shape := p.shape
		switch {
		case p.matter == beyond, p.matter == fixing, p.matter == sealing && d.kind == bodyDetail:
			continue
		case p.matter == ground:
			shape = nil
		}
		name := mix(uint64(p.matter), uint64(len(shape)))
		for _, c := range []byte(p.name) {
			name = mix(name, uint64(c))
		}
		var points uint64
		for _, pt := range shape {
			points += mix(step(signX*pt.X), step(signY*pt.Y))
		}
		sum += mix(name, points)
	}
	return sum
}

func step(v Length) uint64 { return uint64(int64(math.Round(v.MM() / alike))) }

// mix hashes two numbers into one (the finisher of the SplitMix64 generator).
func mix(a, b uint64) uint64 {
	x := a*0x9e3779b97f4a7c15 + b
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// usual returns the detail's key, and how to turn it over, so that places that
// mirror each other give one drawing. An axis to keep is left as it is.
func (d *detail) usual(keepX, keepY bool) (key uint64, overX, overY bool) {
	key = d.key(false, false)
	for _, x := range []bool{false, true} {
		for _, y := range []bool{false, true} {
			if x && keepX || y && keepY || !x && !y {
				continue
			}
			if k := d.key(x, y); k < key {
				key, overX, overY = k, x, y
			}
		}
	}
	return key, overX, overY
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
