package ifc

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// labelTypes names the types so that those of one name are told apart by
// their thickness, to the millimetre.
func (r *reader) labelTypes() {
	thicknesses := map[string]map[string]bool{}
	for _, w := range r.walls {
		if thicknesses[w.typeName] == nil {
			thicknesses[w.typeName] = map[string]bool{}
		}
		thicknesses[w.typeName][w.thick()] = true
	}
	for _, w := range r.walls {
		w.label = w.typeName
		if len(thicknesses[w.typeName]) > 1 {
			w.label += ", " + w.thick()
		}
	}
}

func (w *wall) thick() string { return fmt.Sprintf("%.0f mm", w.thickness) }

// labels lists the types in the order of the file.
func (r *reader) labels() []string {
	var all []string
	seen := map[string]bool{}
	for _, w := range r.walls {
		if !seen[w.label] {
			seen[w.label] = true
			all = append(all, w.label)
		}
	}
	return all
}

// option writes the option by which walls of a type are taken as partitions or
// as structure, quoted for a shell.
func option(partition bool, name string) string {
	flag := "--structure "
	if partition {
		flag = "--partition "
	}
	if strings.ContainsAny(name, "\"$`\\!") && !strings.Contains(name, "'") {
		return flag + "'" + name + "'"
	}
	return flag + `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "$", `\$`, "`", "\\`").Replace(name) + `"`
}

// showChoices tells of choices for types that the file does not have.
func (r *reader) showChoices() {
	labels := r.labels()
	known := map[string]bool{}
	for _, w := range r.walls {
		known[w.label], known[w.typeName] = true, true
	}
	for _, name := range slices.Sorted(maps.Keys(r.options.Partitions)) {
		if known[name] {
			continue
		}
		fix := yamlfile.Suggest(name, "wall types", labels)
		if near, ok := nearestType(name, labels); ok {
			fix = words.F("did you mean %s?", option(r.options.Partitions[name], near))
		}
		r.tell(finding.Warning, "type-unknown", "", words.F("the file has no walls of the type %q", name), fix)
	}
}

// nearestType returns the type that was probably meant: the one that is spelt
// nearly so, or the only one of whose name a part is given.
func nearestType(name string, labels []string) (string, bool) {
	if near, ok := yamlfile.Nearest(name, labels); ok {
		return near, true
	}
	near, n := "", 0
	for _, l := range labels {
		if name != "" && strings.Contains(strings.ToLower(l), strings.ToLower(name)) {
			near, n = l, n+1
		}
	}
	return near, n == 1
}

// showWood tells of partitions that the model frames with wood: a plan has
// steel only.
func (r *reader) showWood() {
	told := map[string]bool{}
	for _, w := range r.walls {
		text := w.wood()
		if !w.partition || text == "" || told[w.label] {
			continue
		}
		told[w.label] = true
		r.tell(finding.Warning, "wall-of-wood", "wall type "+w.label, words.F("the model says wood (%q): walls of this type are read as framed with steel", text),
			words.F("check that they shall be steel; if not, read the file again with %s", option(false, w.label)))
	}
}

// wood returns the name in which a wall's frame is said to be of wood, or "".
func (w *wall) wood() string {
	names := []string{w.typeName, w.makeup.words}
	for i, part := range partsOf(w.makeup.layers) {
		if part == framePart {
			names = append(names, w.makeup.layers[i].name)
		}
	}
	for _, name := range names {
		if _, ok := woodWords.in(strings.ReplaceAll(strings.ToLower(name), "plywood", "")); ok {
			return name
		}
	}
	return ""
}

// showNone tells that there is no partition, and how to say which walls are.
func (r *reader) showNone() {
	var candidates []string
	told := map[string]bool{}
	for _, w := range r.walls {
		if w.partition {
			return
		}
		if !told[w.label] && w.thickness >= thinnest && w.thickness <= thickest {
			candidates = append(candidates, option(true, w.label))
		}
		told[w.label] = true
	}
	what, fix := words.Text("the file holds no walls"), words.Text("export the model with its walls as IfcWall")
	if n := len(r.walls); n > 0 {
		what, fix = words.F("no partitions were found: %s, taken as existing structure", words.Count(n, "1 wall", "%d walls")), "draw the partitions by hand in the plan"
	}
	const most = 10
	if n := len(candidates); n > 0 {
		fix = words.F("read the file again with an option for each type that is a partition: %s", strings.Join(candidates[:min(n, most)], " "))
		if n > most {
			fix += words.F(" and %d more", n-most)
		}
	}
	r.tell(finding.Warning, "no-partitions", "", what, fix)
}
