package ifc

import (
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/words"
)

// Limits of what a partition can be, in mm.
const (
	thinnest = 25
	thickest = 350
	// thinnestPlain is the least thickness of a partition whose layers are not
	// given: a frame of 50 mm with one board of 12.5 mm.
	thinnestPlain = 60
	// heavyLayer is the thickness from which a layer of masonry or concrete
	// makes a wall existing structure.
	heavyLayer = 50
)

// sortPartitions decides for every wall whether it is a partition or existing
// structure, and shows that as an assumption per type.
func (r *reader) sortPartitions() {
	r.labelTypes()
	external := r.externalMeans()
	for _, w := range r.walls {
		choice, ok := r.options.Partitions[w.label]
		if !ok {
			choice, ok = r.options.Partitions[w.typeName]
		}
		if ok {
			w.partition, w.why = choice, "the options of this reading say so"
			continue
		}
		w.partition, w.why = judge(w, external)
	}
	r.showTypes()
	r.showChoices()
	r.showWood()
	r.showNone()
}

// externalMeans reports whether the mark IsExternal tells walls apart. Some
// exporters set it on every wall.
func (r *reader) externalMeans() bool {
	marked := 0
	for _, w := range r.walls {
		if w.common.external != yes {
			return true
		}
		marked++
	}
	if marked > 1 {
		r.tell(finding.Assumed, "external-ignored", "", "every wall in the file is marked external: the mark is taken to mean nothing", "set IsExternal in the model where it holds")
	}
	return marked == 1
}

// partitionKinds are the predefined types of partitions.
var partitionKinds = []string{"PARTITIONING", "PLUMBINGWALL", "ELEMENTEDWALL"}

// thickestNamed is the greatest thickness, in mm, of a wall that the file itself calls a
// partition: two frames with a space for pipes between them.
const thickestNamed = 800

// judge says whether a wall is a partition, and why: not external, not
// load-bearing, of a partition's thickness, and of studs or boards by its
// layers, its predefined type or its name.
func judge(w *wall, external bool) (partition bool, why words.Text) {
	for _, l := range w.makeup.layers {
		if word, heavy := heavyWords.in(l.words); heavy && l.thickness >= heavyLayer {
			return false, words.F("it has a layer of %.0f mm with %q in its name", l.thickness, word)
		}
	}
	switch {
	case w.thickness < thinnest || w.thickness > thickest && !(slices.Contains(partitionKinds, w.kind) && w.thickness <= thickestNamed):
		return false, words.F("it is %.0f mm thick, and a partition is %d to %d mm", w.thickness, thinnest, thickest)
	case external && w.common.external == yes:
		return false, "it is external (IsExternal)"
	case w.common.bearing == yes:
		return false, "it bears load (LoadBearing)"
	case slices.Contains([]string{"SHEAR", "PARAPET", "RETAININGWALL", "WAVEWALL"}, w.kind):
		return false, words.F("its predefined type is %s", w.kind)
	case w.common.status != "":
		return false, words.F("its status is %s", w.common.status)
	}
	if word, ok := outsideWords.in(strings.ToLower(w.typeName)); ok && w.common.external != no {
		return false, words.F("it has %q in its name", word)
	}
	return built(w)
}

// built judges a wall by what it is made of and called.
func built(w *wall) (partition bool, why words.Text) {
	if slices.Contains(partitionKinds, w.kind) {
		return true, words.F("its predefined type is %s", w.kind)
	}
	for _, l := range w.makeup.layers {
		for _, v := range []vocabulary{studWords, boardWords} {
			if word, ok := v.in(l.words); ok && (len(w.makeup.layers) > 1 || w.thickness >= thinnestPlain) {
				return true, words.F("it has a layer with %q in its name", word)
			}
		}
	}
	if w.thickness < thinnestPlain && len(w.makeup.layers) < 2 {
		return false, words.F("it is only %.0f mm thick, and nothing shows studs or boards", w.thickness)
	}
	if word, heavy := heavyWords.in(w.makeup.words + " | " + strings.ToLower(w.typeName)); heavy {
		return false, words.F("it has %q in its name", word)
	}
	for _, v := range []vocabulary{partitionWords, studWords, boardWords} {
		if word, ok := v.in(w.makeup.words + " | " + strings.ToLower(w.typeName)); ok {
			return true, words.F("it has %q in its name", word)
		}
	}
	return false, "nothing shows studs or boards"
}

// showTypes tells, per wall type and reason, what its walls were taken for.
func (r *reader) showTypes() {
	type key struct {
		name      string
		why       words.Text
		partition bool
	}
	count := map[key]int{}
	var order []key
	for _, w := range r.walls {
		if w.further {
			continue
		}
		k := key{w.label, w.why, w.partition}
		if count[k] == 0 {
			order = append(order, k)
		}
		count[k]++
	}
	for _, k := range order {
		as, other := words.Text("existing structure"), words.Text("a partition")
		if k.partition {
			as, other = other, as
		}
		r.tell(finding.Assumed, "wall-type", "wall type "+k.name,
			words.F("%s: each is taken as %s, because %s", words.Count(count[k], "1 wall", "%d walls"), as, k.why),
			words.F("if the type is %s, read the file again with %s", other, option(!k.partition, k.name)))
	}
}
