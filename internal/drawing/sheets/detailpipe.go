package sheets

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"nogging/internal/geom"
	"nogging/internal/layout"
)

// round returns the outline of a round pipe.
func round(x, y, diameter Length) []geom.Point {
	const corners = 24
	shape := make([]geom.Point, corners)
	for i := range shape {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		shape[i] = geom.Pt(x+Length(cos*float64(diameter)/2), y+Length(sin*float64(diameter)/2))
	}
	return shape
}

// met returns where a pipe's middle line passes through the height z, or through u.
func met(p *layout.Pipe, at Length, upright bool) (Length, bool) {
	for i := 1; i < len(p.Path); i++ {
		a, b := p.Path[i-1], p.Path[i]
		if !upright {
			a, b = geom.Pt(a.Y, a.X), geom.Pt(b.Y, b.X)
		}
		if a.X != b.X && spans(at, a.X, b.X) {
			return zOn(a, b, at), true
		}
	}
	return 0, false
}

// pipes adds the pipes that the cut meets.
func (c *levelCut) pipes() {
	for i := range c.wall.Pipes {
		p := &c.wall.Pipes[i]
		if u, ok := met(p, c.z, false); ok && u-p.Diameter/2 >= c.u.From && u+p.Diameter/2 <= c.u.To {
			c.add(pipework, pipeThing(c.set, p).what, round(u, p.Offset, p.Diameter)...)
		}
	}
}

func (c *uprightCut) pipes() {
	for i := range c.wall.Pipes {
		p := &c.wall.Pipes[i]
		if z, ok := met(p, c.u, true); ok && z-p.Diameter/2 >= c.z.From && z+p.Diameter/2 <= c.z.To {
			c.line(pipework, pipeThing(c.set, p).what, round(p.Offset, z, p.Diameter)...)
		}
	}
}

// pipe takes the section across the first stretch of each pipe that runs along the
// wall, or of one that only rises.
func (t *taker) pipe(w *layout.Wall, p *layout.Pipe) {
	for i := 1; i < len(p.Path); i++ {
		a, b := p.Path[i-1], p.Path[i]
		at := geom.Pt((a.X+b.X)/2, (a.Y+b.Y)/2)
		reach := max(tallShown, p.Diameter)
		switch {
		case a.Y == b.Y && a.X != b.X:
			u := t.clearBay(w, geom.Interval{From: min(a.X, b.X), To: max(a.X, b.X)}, a.Y)
			t.upright(w, pipeDetail, "pipe", nil, u, a.Y, geom.Interval{From: max(a.Y-reach, w.Base), To: min(a.Y+reach, topAt(w.Top, u))})
		case a.X == b.X && len(p.Path) == 2:
			half := max(reachOut, p.Diameter)
			t.file(t.level(w, riserDetail, at.X, false, geom.Interval{From: at.X - half, To: at.X + half}, at.Y), "pipe", nil, false, true, w.ID)
		default:
			continue
		}
		return
	}
}

// penetration takes the upright section through a service that runs through the wall,
// with what closes the gap round it.
func (t *taker) penetration(w *layout.Wall, o *layout.Opening) {
	i := slices.IndexFunc(w.FireStops, func(f layout.FireStop) bool { return f.Opening == o.ID })
	if i < 0 {
		return
	}
	u := (o.U.From + o.U.To) / 2
	d := &detail{kind: sealDetail}
	c := uprightCut{detail: d, set: t.set, wall: w, u: u, origin: o.Sill,
		z: geom.Interval{From: max(o.Sill-tallShown, w.Base), To: min(o.Head+tallShown, topAt(w.Top, u))}}
	c.cut()
	c.service(o, &w.FireStops[i])
	c.thicknesses()
	t.file(d, "seal", []string{o.ID}, true, true, w.ID)
}

// service adds a service through the wall, the stop round it, and the sealant at
// every face.
func (c *uprightCut) service(o *layout.Opening, stop *layout.FireStop) {
	const past, collar, bead = 40 * millimetre, 25 * millimetre, 10 * millimetre
	a, b := c.set.surfaces(c.wall)
	mid, half := (o.Sill+o.Head)/2, o.Diameter/2
	if half == 0 || 2*half > o.Head-o.Sill {
		half = (o.Head-o.Sill)/2 - fillDrawn
	}
	name := strings.ReplaceAll(cmp.Or(o.Service, "service"), "_", " ")
	if o.Diameter > 0 {
		name += " " + c.set.units.thin(o.Diameter)
	}
	c.box(pipework, name, b-past, a+past, mid-half, mid+half)
	for _, side := range []struct{ z, hole Length }{{mid - half, o.Sill}, {mid + half, o.Head}} {
		lo, hi := min(side.z, side.hole), max(side.z, side.hole)
		if lo == hi {
			continue
		}
		for _, x := range []struct{ v, in Length }{{a, -bead}, {b, bead}} {
			if len(c.wall.Faces) < 2 && x.v == b {
				continue
			}
			c.box(sealing, c.set.sundryName(stop.Sealant), min(x.v, x.v+x.in), max(x.v, x.v+x.in), lo, hi)
			if stop.Use == "collar" {
				out := -collar
				if side.z > mid {
					out = collar
				}
				c.box(sealing, c.set.sundryName(stop.Product), min(x.v, x.v-2*x.in), max(x.v, x.v-2*x.in), min(side.z, side.z+out), max(side.z, side.z+out))
			}
		}
		if stop.Use == "sleeve" || stop.Use == "cable" {
			c.line(wool, c.set.sundryName(stop.Product), geom.Pt(b+bead, lo), geom.Pt(a-bead, lo), geom.Pt(a-bead, hi), geom.Pt(b+bead, hi))
		}
	}
}
