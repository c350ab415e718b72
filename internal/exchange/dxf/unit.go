package dxf

import (
	"math"
	"slices"
	"strings"

	"nogging/internal/quantity"
	"nogging/internal/words"
)

// unit is a unit of length in which drawings are made.
type unit struct {
	name   string
	mm     float64
	header int // in $INSUNITS
}

var units = []unit{{"mm", 1, 4}, {"m", 1000, 6}, {"cm", 10, 5}, {"in", 25.4, 1}, {"ft", 304.8, 2}}

// Units lists the names of the units that a drawing may be said to have.
func Units() []string {
	var names []string
	for _, u := range units {
		names = append(names, u.name)
	}
	return names
}

func unitNamed(name string) (unit, bool) {
	i := slices.IndexFunc(units, func(u unit) bool { return u.name == name })
	if i < 0 {
		return unit{}, false
	}
	return units[i], true
}

// findUnit settles the unit by what speaks for it: first what dimensions say beside
// what they measure, else door leaves, thicknesses of walls, the size of the whole
// and the header together. The header alone is often wrong.
func findUnit(d *drawing, role func(ink) Role, header int) (u unit, why words.Text) {
	if u, n, ok := d.dimensioned(); ok {
		return u, words.F("%d dimensions say so", n)
	}
	best, reasons := -1.0, []words.Text(nil)
	for _, c := range units {
		score, found := 0.0, []words.Text(nil)
		for _, e := range []struct {
			share, weight float64
			name          words.Text
		}{
			{d.leaves(c.mm), 2, "the widths of door leaves"}, {d.thicknesses(c.mm, role), 2, "the thicknesses of walls"},
			{d.size(c.mm, role), 2, "the size of the plan"}, {share(c.header == header), 0.9, "the file's header"},
		} {
			if score += e.share * e.weight; e.share > 0.3 {
				found = append(found, e.name)
			}
		}
		if score > best {
			best, u, reasons = score, c, found
		}
	}
	if reasons == nil {
		return u, "nothing in the drawing tells"
	}
	return u, words.F("judged by %s", listed(reasons))
}

// listed says texts one after the other.
func listed(texts []words.Text) words.Text {
	all := texts[0]
	for _, t := range texts[1:] {
		all = words.F("%s, %s", all, t)
	}
	return all
}

func share(is bool) float64 {
	if is {
		return 1
	}
	return 0
}

// dimensioned returns the unit on which most dimensions that tell one agree.
func (d *drawing) dimensioned() (u unit, n int, ok bool) {
	votes := make([]int, len(units))
	all := 0
	for _, x := range d.dimensions {
		mm := x.saidMM()
		if mm == 0 {
			continue
		}
		all++
		for i, u := range units {
			if r := mm / x.measured / u.mm; math.Abs(r-1) < 0.01 {
				votes[i]++
			}
		}
	}
	most := slices.Index(votes, slices.Max(votes))
	return units[most], votes[most], votes[most] >= 2 && 10*votes[most] >= 6*all
}

// saidMM returns the length that a dimension's text tells in mm; 0 where the text has
// no unit and is the number measured, which tells nothing.
func (x dimension) saidMM() float64 {
	text := strings.ReplaceAll(x.text, ",", ".")
	l, err := quantity.ParseLength(text)
	if err != nil || l <= 0 {
		return 0
	}
	if strings.Trim(text, "0123456789. ") != "" {
		return l.MM()
	}
	for _, u := range []struct{ ratio, mm float64 }{{1000, 1}, {100, 10}, {10, 1}} { // metres in mm or cm, centimetres in mm
		if math.Abs(l.MM()/x.measured/u.ratio-1) < 0.01 {
			return l.MM() * u.mm
		}
	}
	return 0
}

// leaves returns the share of arcs of about a quarter turn that have the radius of a
// door leaf. Leaves are 600 to 1200 mm wide (common practice).
func (d *drawing) leaves(mm float64) float64 {
	all, fit := 0, 0
	for _, c := range d.curves {
		if s := math.Abs(c.sweep); s < radians(80) || s > radians(100) {
			continue
		}
		all++
		if r := c.radius * mm; r >= 550 && r <= 1300 {
			fit++
		}
	}
	return float64(fit) / float64(max(all, 4))
}

// thicknesses returns the share of wall lines that lie beside another one at 60 to
// 450 mm.
func (d *drawing) thicknesses(mm float64, role func(ink) Role) float64 {
	r := recogniser{drawing: d.scaled(mm), role: role}
	_, all := faces(r.wallLines(), role)
	whole, paired := 0.0, 0.0
	for _, f := range all {
		whole += f.length()
	}
	for _, p := range pairs(all) {
		if p.thick >= 60 && p.thick <= 450 {
			paired += 2 * p.length()
		}
	}
	return paired / max(whole, 1)
}

// headerUnit names the unit that a header's number stands for, "" where it is none of
// those in which plans are drawn.
func headerUnit(n int) string {
	for _, u := range units {
		if u.header == n {
			return u.name
		}
	}
	return ""
}

// MM returns how many millimetres a unit that Units lists has, 0 of any other.
func MM(name string) float64 {
	u, _ := unitNamed(name)
	return u.mm
}

// size tells whether the walls together are as large as a building, 3 to 300 m.
func (d *drawing) size(mm float64, role func(ink) Role) float64 {
	size := d.sizeOf(role)
	across := max(size[0], size[1]) * mm
	return share(across >= 3000 && across <= 300_000)
}

// sizeOf returns the width and height of what lies on layers of walls.
func (d *drawing) sizeOf(role func(ink) Role) [2]float64 {
	lo, hi := vec{math.Inf(1), math.Inf(1)}, vec{math.Inf(-1), math.Inf(-1)}
	for _, s := range d.segments {
		if role(s.ink).isWall() {
			lo = vec{min(lo.x, s.a.x, s.b.x), min(lo.y, s.a.y, s.b.y)}
			hi = vec{max(hi.x, s.a.x, s.b.x), max(hi.y, s.a.y, s.b.y)}
		}
	}
	return [2]float64{max(0, hi.x-lo.x), max(0, hi.y-lo.y)}
}

// scaled returns the drawing in mm.
func (d *drawing) scaled(mm float64) *drawing {
	out := d.mapped(func(p vec) vec { return p.times(mm) })
	for i := range out.curves {
		out.curves[i].radius *= mm
	}
	for i := range out.segments {
		out.segments[i].wide *= mm
	}
	return out
}

// moved returns the drawing at another place.
func (d *drawing) moved(by vec) *drawing {
	return d.mapped(func(p vec) vec { return p.add(by) })
}

// mapped returns the drawing with every point put elsewhere.
func (d *drawing) mapped(to func(vec) vec) *drawing {
	out := *d
	out.segments = slices.Clone(d.segments)
	for i := range out.segments {
		s := &out.segments[i]
		s.a, s.b = to(s.a), to(s.b)
	}
	out.curves = slices.Clone(d.curves)
	for i := range out.curves {
		out.curves[i].centre = to(out.curves[i].centre)
	}
	out.rings = slices.Clone(d.rings)
	for i := range out.rings {
		g := &out.rings[i]
		g.points = slices.Clone(g.points)
		for k := range g.points {
			g.points[k] = to(g.points[k])
		}
	}
	out.labels = slices.Clone(d.labels)
	for i := range out.labels {
		out.labels[i].at = to(out.labels[i].at)
	}
	return &out
}
