package dxf_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
)

// Drawings of our own making, whose walls are known: floors divided at random, drawn in
// the manners of architects, with what else stands on plans. The manners are common
// practice; no drawing of anybody is copied. Seeds up to 1100 served to work on
// the reader, those from heldOut on did not.

// manner is how a drawing is made.
type manner struct {
	layers string // named, mute (names that say nothing) or flat (all on layer 0)
	walls  string // lines, split (at every crossing), outlines, or hatched
	doors  string // block, arc or gap
	mm     float64
	turn   float64 // degrees
	header int     // $INSUNITS, mostly right
}

// band is a wall: where it lies, true along x or y.
type band struct {
	x0, y0, x1, y1 float64 // of its body
	alongX         bool
	thick          float64
	lo, hi         float64 // of its centre line
	gaps           []gap
}

type gap struct {
	lo, hi float64
	window bool
}

// floor is a storey of rooms, in mm.
type floor struct {
	rng   *rand.Rand
	w, h  float64
	bands []band
	rooms [][4]float64
}

func newFloor(rng *rand.Rand) *floor {
	round := func(v float64) float64 { return math.Round(v/10) * 10 }
	f := &floor{rng: rng, w: round(9000 + 12000*rng.Float64()), h: round(7000 + 7000*rng.Float64())}
	outer := []float64{150, 200, 240, 300, 365}[rng.IntN(5)]
	inner := [][]float64{{100, 125}, {75, 100, 150}, {115, 175}, {100, 205}}[rng.IntN(4)]
	for _, b := range []band{{alongX: true, lo: 0, hi: f.w}, {alongX: true, lo: 0, hi: f.w, y0: f.h}, {lo: 0, hi: f.h}, {lo: 0, hi: f.h, x0: f.w}} {
		b.thick = outer
		f.place(b, b.x0+b.y0)
	}
	f.divide(0, 0, f.w, f.h, inner, 0)
	for i := range f.bands {
		f.open(i, i < 4)
	}
	return f
}

// place adds a wall with its centre line at an offset.
func (f *floor) place(b band, at float64) {
	if b.alongX {
		b.x0, b.x1, b.y0, b.y1 = b.lo-b.thick/2, b.hi+b.thick/2, at-b.thick/2, at+b.thick/2
	} else {
		b.y0, b.y1, b.x0, b.x1 = b.lo-b.thick/2, b.hi+b.thick/2, at-b.thick/2, at+b.thick/2
	}
	f.bands = append(f.bands, b)
}

// divide parts a space by walls until the rooms are small; ends meet the walls around.
func (f *floor) divide(x0, y0, x1, y1 float64, inner []float64, depth int) {
	w, h := x1-x0, y1-y0
	if depth > 4 || max(w, h) < 3600 || w*h < 9e6 || depth > 1 && f.rng.IntN(6) == 0 {
		f.rooms = append(f.rooms, [4]float64{x0, y0, x1, y1})
		return
	}
	share := 0.35 + 0.3*f.rng.Float64()
	thick := inner[f.rng.IntN(len(inner))]
	if w > h {
		x := math.Round((x0+share*w)/5) * 5
		b := band{lo: y0, hi: y1, thick: thick}
		f.place(b, x)
		f.divide(x0, y0, x, y1, inner, depth+1)
		f.divide(x, y0, x1, y1, inner, depth+1)
	} else {
		y := math.Round((y0+share*h)/5) * 5
		f.place(band{alongX: true, lo: x0, hi: x1, thick: thick}, y)
		f.divide(x0, y0, x1, y, inner, depth+1)
		f.divide(x0, y, x1, y1, inner, depth+1)
	}
}

// crossings lists where other walls meet a wall, along it.
func (f *floor) crossings(i int) []gap {
	var out []gap
	b := f.bands[i]
	for k, o := range f.bands {
		if k == i || o.alongX == b.alongX || o.x0 > b.x1 || o.x1 < b.x0 || o.y0 > b.y1 || o.y1 < b.y0 {
			continue
		}
		if b.alongX {
			out = append(out, gap{lo: o.x0, hi: o.x1})
		} else {
			out = append(out, gap{lo: o.y0, hi: o.y1})
		}
	}
	return out
}

// open puts doors or windows into the stretches of a wall between others.
func (f *floor) open(i int, outer bool) {
	met := f.crossings(i)
	slices.SortFunc(met, func(a, b gap) int { return int(a.lo - b.lo) })
	for k := 0; k+1 < len(met); k++ {
		free := gap{lo: met[k].hi + 150, hi: met[k+1].lo - 150}
		width := []float64{760, 885, 1010}[f.rng.IntN(3)]
		if outer {
			width = []float64{1000, 1200, 1500}[f.rng.IntN(3)]
		}
		if free.hi-free.lo < width || f.rng.IntN(5) == 0 {
			continue
		}
		at := math.Round((free.lo+(free.hi-free.lo-width)*f.rng.Float64())/5) * 5
		f.bands[i].gaps = append(f.bands[i].gaps, gap{at, at + width, outer})
	}
}

// pen writes entities of a drawing.
type pen struct {
	strings.Builder
	manner
	number   map[string]string
	linetype string
}

func (p *pen) at(x, y float64) (float64, float64) {
	s, c := math.Sincos(p.turn * math.Pi / 180)
	return (x*c - y*s) / p.mm, (x*s + y*c) / p.mm
}

// layer gives the name of what a layer shows.
func (p *pen) layer(of string) string {
	switch p.layers {
	case "named":
		return map[string]string{"wall": "A-WALL", "hatch": "A-WALL-PATT", "door": "A-DOOR", "window": "A-GLAZ", "furniture": "A-FURN", "grid": "S-GRID", "text": "A-ANNO-TEXT", "dims": "A-ANNO-DIMS", "stairs": "A-STRS", "frame": "TITLE"}[of]
	case "flat":
		return "0"
	}
	if p.number[of] == "" {
		p.number[of] = fmt.Sprintf("L%02d", 10+7*len(p.number)%50)
	}
	return p.number[of]
}

func (p *pen) groups(list ...any) {
	for i := 0; i < len(list); i += 2 {
		fmt.Fprintf(p, "%v\n%v\n", list[i], list[i+1])
	}
}

func (p *pen) line(of string, x0, y0, x1, y1 float64) {
	a, b := p.at(x0, y0)
	c, d := p.at(x1, y1)
	p.groups(0, "LINE", 8, p.layer(of))
	if p.linetype != "" {
		p.groups(6, p.linetype)
	}
	p.groups(10, a, 20, b, 11, c, 21, d)
}

func (p *pen) box(of string, x0, y0, x1, y1 float64) {
	p.line(of, x0, y0, x1, y0)
	p.line(of, x1, y0, x1, y1)
	p.line(of, x1, y1, x0, y1)
	p.line(of, x0, y1, x0, y0)
}

func (p *pen) circle(of string, x, y, r float64) {
	a, b := p.at(x, y)
	p.groups(0, "CIRCLE", 8, p.layer(of), 10, a, 20, b, 40, r/p.mm)
}

func (p *pen) text(x, y float64, words string) {
	a, b := p.at(x, y)
	p.groups(0, "TEXT", 8, p.layer("text"), 10, a, 20, b, 40, 200/p.mm, 1, words)
}

// door draws a leaf and its swing, hinged at one jamb.
func (p *pen) door(b band, g gap, at float64) {
	w := g.hi - g.lo
	hinge, face := g.lo, at+b.thick/2
	var x, y float64
	from := 0.0
	if b.alongX {
		x, y = hinge, face
	} else {
		x, y, from = face, hinge, 0
	}
	switch p.doors {
	case "gap":
		return
	case "block":
		a, c := p.at(x, y)
		p.groups(0, "INSERT", 8, p.layer("door"), 2, fmt.Sprintf("D%.0f", w), 10, a, 20, c, 41, 1/p.mm, 42, 1/p.mm, 50, p.turn)
		return
	}
	a, c := p.at(x, y)
	p.groups(0, "ARC", 8, p.layer("door"), 10, a, 20, c, 40, w/p.mm, 50, from+p.turn, 51, from+90+p.turn)
	if b.alongX {
		p.box("door", x, y, x+40, y+w)
	} else {
		p.box("door", x, y, x+w, y+40)
	}
}

// leafBlock defines a door of a width as a block.
func leafBlock(w float64) string {
	return fmt.Sprintf("0\nBLOCK\n2\nD%.0f\n10\n0\n20\n0\n0\nARC\n8\n0\n10\n0\n20\n0\n40\n%g\n50\n0\n51\n90\n0\nLINE\n8\n0\n10\n0\n20\n0\n11\n0\n21\n%g\n0\nENDBLK\n", w, w, w)
}

// draw draws the floor and what stands on it.
func (f *floor) draw(m manner) []byte {
	p := &pen{manner: m, number: map[string]string{}}
	f.faces(p)
	for _, b := range f.bands {
		at := (b.y0 + b.y1) / 2
		if !b.alongX {
			at = (b.x0 + b.x1) / 2
		}
		for _, g := range b.gaps {
			if !g.window {
				p.door(b, g, at)
				continue
			}
			for _, off := range []float64{-b.thick / 2, 0, b.thick / 2} {
				if b.alongX {
					p.line("window", g.lo, at+off, g.hi, at+off)
				} else {
					p.line("window", at+off, g.lo, at+off, g.hi)
				}
			}
		}
	}
	f.clutter(p)
	blocks := "0\nSECTION\n2\nBLOCKS\n" + leafBlock(760) + leafBlock(885) + leafBlock(1010) + "0\nENDSEC\n"
	header := fmt.Sprintf("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n%d\n0\nENDSEC\n", m.header)
	return []byte(header + blocks + "0\nSECTION\n2\nENTITIES\n" + p.String() + "0\nENDSEC\n0\nEOF\n")
}

// faces draws the edges of all walls together, without what lies within.
func (f *floor) faces(p *pen) {
	var boxes [][4]float64
	for _, b := range f.bands {
		lo, hi := b.x0, b.x1
		if !b.alongX {
			lo, hi = b.y0, b.y1
		}
		from := lo
		for _, g := range append(slices.Clone(b.gaps), gap{lo: hi}) {
			if b.alongX {
				boxes = append(boxes, [4]float64{from, b.y0, g.lo, b.y1})
			} else {
				boxes = append(boxes, [4]float64{b.x0, from, b.x1, g.lo})
			}
			from = g.hi
		}
	}
	if p.walls == "outlines" { // each piece by itself, as some draw
		for _, b := range boxes {
			p.polyline(b)
		}
		return
	}
	if p.walls == "hatched" {
		for _, b := range boxes {
			p.hatch(b)
		}
	}
	edges(boxes, p.walls == "split", func(x0, y0, x1, y1 float64) { p.line("wall", x0, y0, x1, y1) })
}

func (p *pen) polyline(b [4]float64) {
	p.groups(0, "LWPOLYLINE", 8, p.layer("wall"), 70, 1)
	for _, c := range corners(b) {
		x, y := p.at(c[0], c[1])
		p.groups(10, x, 20, y)
	}
}

func (p *pen) hatch(b [4]float64) {
	p.groups(0, "HATCH", 8, p.layer("hatch"), 2, "ANSI31", 70, 0, 91, 1, 92, 2, 72, 0, 73, 1, 93, 4)
	for _, c := range corners(b) {
		x, y := p.at(c[0], c[1])
		p.groups(10, x, 20, y)
	}
	p.groups(97, 0)
}

func corners(b [4]float64) [4][2]float64 {
	return [4][2]float64{{b[0], b[1]}, {b[2], b[1]}, {b[2], b[3]}, {b[0], b[3]}}
}

// edges draws the edges of the union of boxes: in whole lines, or in pieces from corner
// to corner of any box.
func edges(boxes [][4]float64, split bool, draw func(x0, y0, x1, y1 float64)) {
	var xs, ys []float64
	for _, b := range boxes {
		xs, ys = append(xs, b[0], b[2]), append(ys, b[1], b[3])
	}
	slices.Sort(xs)
	slices.Sort(ys)
	xs, ys = slices.Compact(xs), slices.Compact(ys)
	full := func(i, k int) bool {
		if i < 0 || k < 0 || i+1 >= len(xs) || k+1 >= len(ys) {
			return false
		}
		x, y := (xs[i]+xs[i+1])/2, (ys[k]+ys[k+1])/2
		return slices.ContainsFunc(boxes, func(b [4]float64) bool { return b[0] < x && x < b[2] && b[1] < y && y < b[3] })
	}
	run := func(n int, edge func(i int) bool, out func(i, k int)) {
		for i := 0; i < n; i++ {
			if !edge(i) {
				continue
			}
			k := i + 1
			for !split && k < n && edge(k) {
				k++
			}
			out(i, k)
			i = k - 1
		}
	}
	for k := range ys {
		run(len(xs)-1, func(i int) bool { return full(i, k) != full(i, k-1) }, func(i, j int) { draw(xs[i], ys[k], xs[j], ys[k]) })
	}
	for i := range xs {
		run(len(ys)-1, func(k int) bool { return full(i, k) != full(i-1, k) }, func(k, j int) { draw(xs[i], ys[k], xs[i], ys[j]) })
	}
}

// clutter draws what else stands on plans: furniture, a stair, axes, dimensions, words
// and a frame.
func (f *floor) clutter(p *pen) {
	for i, r := range f.rooms {
		off := 105 + 90*f.rng.Float64() // from the middles of walls: against them, or nearly
		x0, y0, x1, y1 := r[0]+off, r[1]+off, r[2]-off, r[3]-off
		w, h := x1-x0, y1-y0
		p.text(x0+w/2, y0+h/2, []string{"OFFICE", "STORE", "MEETING", "HALL"}[i%4])
		switch {
		case w < 1800 || h < 1800:
		case i%3 == 0: // a table with its edge, chairs, and a wardrobe with a door line
			p.box("furniture", x0+w/3, y0+h/3, x0+w/3+1600, y0+h/3+800)
			p.box("furniture", x0+w/3+40, y0+h/3+40, x0+w/3+1560, y0+h/3+760)
			p.box("furniture", x0, y1-600, x0+min(w, 2000), y1)
			p.line("furniture", x0, y1-580, x0+min(w, 2000), y1-580)
		case i%3 == 1: // shelves and a bed
			p.box("furniture", x0, y0, x0+350, y0+min(h, 2400))
			p.box("furniture", x1-900, y1-2000, x1, y1)
			p.box("furniture", x1-850, y1-450, x1-50, y1-100)
		default: // a stair of 280 mm treads, with its string
			for k := range 7 {
				p.line("stairs", x0+280*float64(k), y0, x0+280*float64(k), y0+1000)
			}
			p.line("stairs", x0, y0+1000, x0+280*6, y0+1000)
			p.line("stairs", x0, y0+1050, x0+280*6, y0+1050)
		}
	}
	for i := range 4 {
		x := f.w * float64(i) / 3
		p.linetype = "CENTER"
		p.line("grid", x, -3000, x, f.h+2000)
		p.linetype = ""
		p.circle("grid", x, -3400, 400)
		p.line("dims", x, -1600, x, -1400)
	}
	for _, y := range []float64{-1500, -1900} {
		p.line("dims", 0, y, f.w, y)
	}
	p.box("frame", -6000, -6000, f.w+6000, f.h+6000)
	p.box("frame", -5500, -5500, f.w+5500, f.h+5500)
	for k := range 6 {
		p.line("frame", f.w+1000, -5500+float64(k)*120, f.w+5500, -5500+float64(k)*120)
	}
}
