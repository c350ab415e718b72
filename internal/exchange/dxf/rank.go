package dxf

import (
	"cmp"
	"math"
	"slices"
)

// Layers whose names say nothing are ranked by what lies on them. The limits are
// judgement, settled on drawings that the tests make.
const (
	leastPaired = 0.3  // share of a wall layer's lines that are paired
	leastOfBest = 0.15 // of the score of the best layer, or group of walls
	purePaired  = 0.42 // share above which a layer holds little else than walls
	leastArcs   = 3    // of leaves on a layer of doors
	leastUsual  = 0.2  // of the length of walls is of a thickness that is usual
	slimGuess   = 70   // mm; thinner pairs are frames of glazing as often as walls
	thickGuess  = 300  // mm; thicker pairs of a seldom thickness are furniture as often as walls
	longAlone   = 10   // times its thickness is a wall that stands alone
)

// ranked returns the mapping with the layers that were only supposed to show walls judged
// by their content: those on which walls are found that meet each other stay, the others
// show something else; doors, where leaves swing. Mixed tells that much else lies on the
// layers of walls. The drawing is in millimetres.
func (m Mapping) ranked(d *drawing) (out Mapping, mixed bool) {
	out = Mapping{m.Unit, slices.Clone(m.Layers)}
	scores := map[string]layerScore{}
	best := 0.0
	for _, layer := range m.candidates(d) {
		scores[layer] = m.scoreOf(d, layer)
		best = max(best, scores[layer].score)
	}
	if best == 0 {
		return m, true
	}
	for i := range out.Layers {
		l := &out.Layers[i]
		switch {
		case l.As != Wall:
		case scores[l.Layer].score >= leastOfBest*best:
			mixed = mixed || scores[l.Layer].paired < purePaired
		case d.swingsOn(l.Layer) >= leastArcs:
			l.As = Door
		default:
			l.As = Other
		}
	}
	return out, mixed
}

// layerScore is how much a layer looks like one of walls, and which share of its lines
// are in walls.
type layerScore struct{ score, paired float64 }

// mostRanked bounds the layers that are judged: those with most lines.
const mostRanked = 60

// candidates lists the layers that may show walls, those with most lines first.
func (m Mapping) candidates(d *drawing) []string {
	lines := map[string]int{}
	for _, s := range d.segments {
		lines[s.layer]++
	}
	for _, r := range d.rings {
		lines[r.layer] += len(r.points)
	}
	var out []string
	for _, l := range m.Layers {
		if l.As == Wall && lines[l.Layer] > 0 {
			out = append(out, l.Layer)
		}
	}
	slices.SortStableFunc(out, func(a, b string) int { return cmp.Compare(lines[b], lines[a]) })
	return out[:min(len(out), mostRanked)]
}

// scoreOf tells how much a layer looks like one of walls: by the length of the walls that
// are found on it alone, more where they meet each other and have openings; not at all
// where most of its lines are in no wall.
func (m Mapping) scoreOf(d *drawing, layer string) layerScore {
	known := m.roles()
	g := (&recogniser{drawing: d, mixed: true, most: mostSpent / mostRanked, role: func(i ink) Role {
		if r := known(i); r != Wall || i.layer == layer {
			return r
		}
		return Other
	}}).run()
	all, paired := 0.0, 0.0
	for _, f := range g.faces {
		all += f.length()
	}
	for _, w := range g.walls {
		paired += 2 * w.drawn
	}
	out := layerScore{paired: paired / max(all, 1)}
	if out.paired >= leastPaired {
		for _, c := range g.groups() {
			out.score = max(out.score, c.score)
		}
	}
	return out
}

// swingsOn counts the arcs of a layer that are as large as the swing of a leaf.
func (d *drawing) swingsOn(layer string) int {
	n := 0
	for _, c := range d.curves {
		if s := math.Abs(c.sweep); c.layer == layer && s >= radians(80) && s <= radians(100) && c.radius >= 550 && c.radius <= 1300 {
			n++
		}
	}
	return n
}

// wallGroup is walls that hang together.
type wallGroup struct {
	walls []*wall
	score float64
}

// groups returns the walls by what hangs together: a plan's walls meet each other in
// tees and have openings, furniture and frames do not.
func (r *recogniser) groups() []wallGroup {
	parent := make([]int, len(r.walls))
	for i := range parent {
		parent[i] = i
	}
	root := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	tees := make([]int, len(r.walls))
	if r.spend(2 * len(r.walls) * len(r.walls)) {
		for i, w := range r.walls {
			for k, o := range r.walls {
				if met, tee := w.meets(o); met {
					parent[root(i)] = root(k)
					if tee {
						tees[i]++
					}
				}
			}
		}
	}
	var out []wallGroup
	at := map[int]int{}
	length, marks := map[int]float64{}, map[int]float64{}
	for i, w := range r.walls {
		k := root(i)
		if _, ok := at[k]; !ok {
			at[k] = len(out)
			out = append(out, wallGroup{})
		}
		g := &out[at[k]]
		g.walls = append(g.walls, w)
		length[at[k]] += w.length()
		marks[at[k]] += float64(tees[i] + len(w.openings))
	}
	for i := range out {
		out[i].score = length[i] * (1 + marks[i])
	}
	return out
}

// meets reports whether an end of a wall lies at another one, and whether it stands there
// against its side.
func (w *wall) meets(o *wall) (met, tee bool) {
	for _, at := range []float64{w.lo, w.hi} {
		if _, ok := w.reach(o, at); ok {
			along := o.axis.along(w.axis.at(at, w.off))
			return true, along > o.lo+o.thick+w.thick && along < o.hi-o.thick-w.thick
		}
	}
	return false, false
}

// joinedTwice reports whether both ends of a wall lie at others.
func (r *recogniser) joinedTwice(w *wall) bool {
	for _, at := range []float64{w.lo, w.hi} {
		if !slices.ContainsFunc(r.walls, func(o *wall) bool { _, ok := w.reach(o, at); return ok }) {
			return false
		}
	}
	return true
}

// dropLoose leaves out groups of walls that are small beside the greatest one, but for
// long walls that are as thick as many of those that stay: walls may stand free.
func (r *recogniser) dropLoose() {
	r.walls = slices.DeleteFunc(r.walls, func(w *wall) bool {
		return w.thick < slimGuess || !w.usual && w.thick > thickGuess && !r.joinedTwice(w)
	})
	groups := r.groups()
	best := 0.0
	for _, g := range groups {
		best = max(best, g.score)
	}
	kept, whole := map[*wall]bool{}, 0.0
	thick := map[int]float64{}
	for _, g := range groups {
		if g.score < leastOfBest*best {
			continue
		}
		for _, w := range g.walls {
			kept[w] = true
			whole += w.length()
			thick[int(math.Round(w.thick/sameThick))] += w.length()
		}
	}
	usual := func(w *wall) bool {
		k := int(math.Round(w.thick / sameThick))
		return thick[k-1]+thick[k]+thick[k+1] >= leastUsual*whole
	}
	r.walls = slices.DeleteFunc(r.walls, func(w *wall) bool { return !kept[w] && (!usual(w) || w.length() < longAlone*w.thick) })
}
