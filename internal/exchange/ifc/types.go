package ifc

import (
	"cmp"
	"slices"
)

// countTypes describes the walls by type, in the order in which types are met.
func (r *reader) countTypes() {
	at := map[string]int{}
	heights := map[string][]float64{}
	for _, w := range r.walls {
		i, ok := at[w.typeName]
		if !ok {
			i = len(r.stats.Types)
			at[w.typeName] = i
			r.stats.Types = append(r.stats.Types, TypeStats{Name: w.typeName})
		}
		r.stats.Types[i].count(r, w)
		if w.depth > 0 && !w.further {
			heights[w.typeName] = append(heights[w.typeName], w.depth)
		}
	}
	for i := range r.stats.Types {
		t := &r.stats.Types[i]
		slices.Sort(t.Thicknesses)
		if h := heights[t.Name]; len(h) > 0 {
			slices.Sort(h)
			middle := (h[(len(h)-1)/2] + h[len(h)/2]) / 2
			t.Heights[0], t.Heights[1], t.Heights[2] = length(h[0]), length(middle), length(h[len(h)-1])
		}
	}
}

// count adds a wall, or a stretch of one, to its type.
func (t *TypeStats) count(r *reader, w *wall) {
	t.Axis += length(cmp.Or(w.axis, w.length))
	t.Openings += w.named()
	for _, o := range w.openings {
		switch {
		case r.is(o.filling, doorTypes):
			t.Doors++
		case r.is(o.filling, windowTypes):
			t.Windows++
		}
	}
	if thickness := length(w.thickness); !slices.Contains(t.Thicknesses, thickness) {
		t.Thicknesses = append(t.Thicknesses, thickness)
	}
	if w.further {
		return
	}
	t.Walls++
	if w.partition {
		t.Partitions++
	}
	for i := range t.Levels {
		if t.Levels[i].Level == w.level.name {
			t.Levels[i].Walls++
			return
		}
	}
	t.Levels = append(t.Levels, LevelCount{w.level.name, 1})
}
