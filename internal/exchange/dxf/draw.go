package dxf

import (
	"math"
	"slices"
	"strings"
)

// Limits of what is drawn out, against blocks that place one another over and over.
const (
	mostDepth = 16
	mostSteps = 1_000_000 // entities visited
)

// ink is where a piece of the drawing comes from.
type ink struct {
	layer string
	block string // innermost block that places it, "" outside
}

type (
	segment struct {
		ink
		a, b   vec
		wide   float64 // of the pen, where the line itself has a width
		dashed bool    // drawn as an axis or as hidden
	}
	curve struct {
		ink
		arc
	}
	ring struct { // outline of a hatch, solid, circle or closed polyline
		ink
		points []vec
		filled bool
		hole   bool // an island of a hatch
		round  bool // a circle; sides of other outlines that are not filled are segments, too
	}
	label struct {
		ink
		at   vec
		text string
	}
	dimension struct {
		measured float64
		text     string
	}
)

// drawing is the model space of a file as lines in one plane, in drawing units.
type drawing struct {
	segments   []segment
	curves     []curve
	rings      []ring
	labels     []label
	dimensions []dimension

	layers  []string // that hold anything, in the order met
	unknown map[string]int
	paper   int // entities of paper space
	unseen  int // entities on layers that are off or frozen
	full    bool
	faults  faults
}

// drawer draws a file out.
type drawer struct {
	*file
	out   *drawing
	steps int
	open  []string // blocks being drawn, outermost first
	known map[string]bool
}

// place is how a block's entities are to be drawn.
type place struct {
	affine
	ink
	dashed bool
}

// draw draws the model space out.
func (f *file) draw() *drawing {
	d := &drawer{file: f, out: &drawing{unknown: map[string]int{}}, known: map[string]bool{}}
	d.entitiesAt(f.entities, place{affine: identity})
	return d.out
}

func (d *drawer) entitiesAt(all []record, at place) {
	for i := 0; i < len(all); i++ {
		if d.steps++; d.steps > mostSteps {
			d.out.full = true
			return
		}
		r := all[i]
		if r.kind == "POLYLINE" {
			n := i + 1
			for n < len(all) && all[n].kind == "VERTEX" {
				n++
			}
			d.entity(r, all[i+1:n], at)
			i = n - 1
			continue
		}
		d.entity(r, nil, at)
	}
}

func (d *drawer) entity(r record, vertices []record, at place) {
	if r.int(67) == 1 {
		d.out.paper++
		return
	}
	here := place{at.affine, ink{d.text(r.get(8)), at.block}, at.dashed}
	if here.layer == "0" && at.layer != "" {
		here.layer = at.layer
	}
	if strings.EqualFold(here.layer, "defpoints") || r.int(60) == 1 {
		return
	}
	if d.hidden[here.layer] && (r.kind != "INSERT" || d.frozen[here.layer]) {
		d.out.unseen++
		return
	}
	if !d.known[here.layer] && r.kind != "INSERT" {
		d.known[here.layer] = true
		d.out.layers = append(d.out.layers, here.layer)
	}
	here.dashed = at.dashed || d.isDashed(r, here.layer)
	d.shape(r, vertices, here)
}

// isDashed reports whether an entity is drawn in a line of dashes, by the names that
// line types have.
func (d *drawer) isDashed(r record, layer string) bool {
	name := strings.ToUpper(r.get(6).text)
	if name == "" || name == "BYLAYER" {
		name = d.linetypes[layer]
	}
	return slices.ContainsFunc([]string{"CENTER", "DASH", "HIDDEN", "PHANTOM", "DOT", "ACAD_ISO0"}, func(s string) bool { return strings.Contains(name, s) })
}

func (d *drawer) shape(r record, vertices []record, at place) {
	own := at
	own.affine = at.after(ocs(r))
	switch r.kind {
	case "LINE":
		d.line(at, r.point(10), r.point(11))
	case "ARC", "CIRCLE":
		d.arc(r, own)
	case "LWPOLYLINE":
		d.polyline(lightVertices(r), r.int(70)&1 != 0, own)
	case "ELLIPSE":
		d.ellipse(r, at)
	case "SPLINE":
		d.spline(r, at)
	case "MLINE":
		d.multiLine(r, at)
	case "POLYLINE":
		if r.int(70)&(16|64) == 0 { // neither mesh nor faces
			d.polyline(heavyVertices(r, vertices), r.int(70)&1 != 0, own)
		}
	case "SOLID", "TRACE":
		p := []vec{r.point(10), r.point(11), r.point(13), r.point(12)}
		d.ring(p, true, own)
	case "HATCH":
		d.hatch(r, own)
	case "TEXT", "ATTRIB":
		if r.kind == "TEXT" || r.int(70)&1 == 0 {
			d.label(r, d.cut(r.get(1)), own)
		}
	case "MTEXT":
		d.label(r, d.multiline(r), at)
	case "DIMENSION":
		d.dimension(r)
	case "INSERT":
		d.insert(r, own)
	case "ATTDEF", "SEQEND", "VERTEX", "POINT", "VIEWPORT", "LEADER", "":
	default:
		d.out.unknown[r.kind]++
	}
}

func (d *drawer) line(at place, p, q vec) { d.wideLine(at, p, q, 0) }

// wideLine draws a line of a width.
func (d *drawer) wideLine(at place, p, q vec, wide float64) {
	wide *= math.Sqrt(math.Abs(at.x.cross(at.y)))
	p, q = at.apply(p), at.apply(q)
	if p.finite() && q.finite() {
		d.out.segments = append(d.out.segments, segment{at.ink, p, q, wide, at.dashed})
	}
}

func (d *drawer) arc(r record, at place) {
	a := arc{r.point(10), math.Abs(r.float(40)), 0, 2 * math.Pi}
	if r.kind == "ARC" {
		a.from = radians(r.float(50))
		a.sweep = math.Mod(radians(r.float(51))-a.from, 2*math.Pi)
		if a.sweep <= 0 {
			a.sweep += 2 * math.Pi
		}
	}
	if a.radius == 0 {
		return
	}
	if r.kind == "CIRCLE" {
		n := len(d.out.rings)
		d.ring(a.points()[1:], false, at)
		for i := n; i < len(d.out.rings); i++ {
			d.out.rings[i].round = true
		}
		return
	}
	d.curve(a, at)
}

// curve draws an arc, as a row of short lines where the block's scale makes an
// ellipse of it.
func (d *drawer) curve(a arc, at place) {
	if at.even() {
		if m := a.mapped(at.affine); m.centre.finite() && m.radius < 1e12 {
			d.out.curves = append(d.out.curves, curve{at.ink, m})
		}
		return
	}
	points := a.points()
	for i := range points[1:] {
		d.line(at, points[i], points[i+1])
	}
}

// vertex is a corner of a polyline with the bulge and width of the side that begins there.
type vertex struct {
	vec
	bulge, wide float64
}

func lightVertices(r record) []vertex {
	var out []vertex
	wide := r.float(43)
	for _, t := range r.tags {
		switch n := len(out) - 1; {
		case t.code == 10:
			out = append(out, vertex{vec: vec{x: t.float()}, wide: wide})
		case t.code == 20 && n >= 0:
			out[n].y = t.float()
		case t.code == 42 && n >= 0:
			out[n].bulge = t.float()
		case t.code == 40 && n >= 0:
			out[n].wide = t.float()
		}
	}
	return out
}

func heavyVertices(polyline record, all []record) []vertex {
	var out []vertex
	for _, r := range all {
		if r.int(70)&16 == 0 { // no control point of a spline
			out = append(out, vertex{r.point(10), r.float(42), r.or(40, polyline.float(40))})
		}
	}
	return out
}

func (d *drawer) polyline(v []vertex, closed bool, at place) {
	if len(v) < 2 {
		return
	}
	straight := true
	sides := len(v)
	if !closed {
		sides--
	}
	for i := range sides {
		p, q := v[i], v[(i+1)%len(v)]
		if p.bulge == 0 || p.vec == q.vec {
			d.wideLine(at, p.vec, q.vec, p.wide)
			continue
		}
		straight = false
		d.curve(bulged(p.vec, q.vec, p.bulge), at)
	}
	if closed && straight {
		points := make([]vec, len(v))
		for i := range v {
			points[i] = v[i].vec
		}
		d.ring(points, false, at)
	}
}

// ring keeps an outline; corners that follow one another at one place are one.
func (d *drawer) ring(points []vec, filled bool, at place) {
	var out []vec
	for _, p := range points {
		p = at.apply(p)
		if !p.finite() {
			return
		}
		if len(out) == 0 || p != out[len(out)-1] && p != out[0] {
			out = append(out, p)
		}
	}
	if len(out) >= 3 {
		d.out.rings = append(d.out.rings, ring{ink: at.ink, points: out, filled: filled})
	}
}

func (d *drawer) label(r record, text string, at place) {
	p := at.apply(r.point(10))
	if text = plain(text); text != "" && p.finite() {
		d.out.labels = append(d.out.labels, label{at.ink, p, text})
	}
}

// longestText bounds texts, in bytes.
const longestText = 10_000

// cut decodes a text as far as texts may go.
func (d *drawer) cut(t tag) string {
	if len(t.text) > longestText {
		d.out.faults.add(longText, "", t.line)
		t.text = t.text[:longestText]
	}
	return d.text(t)
}

// multiline joins the parts of a long text.
func (d *drawer) multiline(r record) string {
	var b strings.Builder
	for _, t := range r.tags {
		if (t.code == 1 || t.code == 3) && b.Len() <= longestText {
			if b.WriteString(t.text[:min(len(t.text), longestText)]); b.Len() > longestText {
				d.out.faults.add(longText, "", t.line)
			}
		}
	}
	return decode(b.String(), d.page)
}

// dimension keeps what a dimension measures beside what it says; the text that is
// shown stands in its block where it has none of its own.
func (d *drawer) dimension(r record) {
	text := d.text(r.get(1))
	if text == "" || text == "<>" {
		text = ""
		if b := d.blocks[blockName(r)]; b != nil {
			for _, e := range b.entities {
				if e.kind == "TEXT" || e.kind == "MTEXT" {
					text = d.multiline(e)
				}
			}
		}
	}
	if m := r.float(42); m > 0 && text != "" {
		d.out.dimensions = append(d.out.dimensions, dimension{m, plain(text)})
	}
}

// unplaced says why a block cannot be placed, "" where it can.
func (d *drawer) unplaced(name string, b *block) string {
	switch {
	case b == nil:
		return noBlock
	case b.external && len(b.entities) == 0:
		return xref
	case slices.Contains(d.open, name):
		return loop
	case len(d.open) >= mostDepth:
		return tooDeep
	}
	return ""
}

// insert draws a block where it is placed, once for each row and column.
func (d *drawer) insert(r record, at place) {
	name := blockName(r)
	b := d.blocks[name]
	if why := d.unplaced(name, b); why != "" {
		d.out.faults.add(why, d.text(r.get(2)), r.line)
		return
	}
	d.open = append(d.open, name)
	defer func() { d.open = d.open[:len(d.open)-1] }()
	if !strings.HasPrefix(name, "*") {
		at.block = d.text(r.get(2))
	}
	turned := radians(r.float(50))
	sx, sy := r.or(41, 1), r.or(42, 1)
	own := affine{polar(sx, turned), polar(sy, turned+math.Pi/2), r.point(10)}
	columns, rows := max(1, min(r.int(70), mostSteps)), max(1, min(r.int(71), mostSteps))
	for i := 0; i < columns && !d.out.full; i++ {
		for j := 0; j < rows && !d.out.full; j++ {
			d.steps++
			step := polar(float64(i)*r.float(44), turned).add(polar(float64(j)*r.float(45), turned+math.Pi/2))
			m := own
			m.o = m.o.add(step)
			m.o = m.o.sub(m.turn(b.base))
			d.entitiesAt(b.entities, place{at.after(m), at.ink, at.dashed})
		}
		d.out.full = d.out.full || d.steps > mostSteps
	}
	if d.out.full && columns*rows > mostSteps/10 {
		d.out.faults.add(endless, d.text(r.get(2)), r.line)
	}
}
