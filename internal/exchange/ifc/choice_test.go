package ifc_test

import (
	"strings"
	"testing"

	"nogging/internal/exchange/ifc"
	"nogging/internal/finding"
)

// about returns the finding of a code, which must be the only one.
func about(t *testing.T, found finding.List, code string) finding.Finding {
	t.Helper()
	var of finding.List
	for _, f := range found {
		if f.Code == code {
			of = append(of, f)
		}
	}
	if len(of) != 1 {
		t.Fatalf("%d findings %s: %v", len(of), code, found)
	}
	return of[0]
}

// choose reads a model with a choice of one type.
func choose(m *model, name string, partition bool) (walls int, found finding.List) {
	p, _, found := ifc.Options{Partitions: map[string]bool{name: partition}}.Read("test.ifc", m.bytes())
	return len(p.Walls), found
}

// thicknesses is a model with walls of one type name in two thicknesses.
func thicknesses() *model {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	for i, t := range []float64{100, 200} {
		w := m.wall(m.place(0, float64(i)*3000, 0), m.shape(m.polyline([]float64{0, 0}, []float64{3000, 0}), m.block(0, 0, 0, 3000, t, 2500)))
		m.layers(w, "POSITIVE", 0, layer{"Kalksandstein", t})
	}
	return m
}

// Types of one name are told apart by their thickness; the name alone means
// both.
func TestTypesOfOneName(t *testing.T) {
	for name, want := range map[string]int{"Type 100, 100 mm": 1, "Type 100, 200 mm": 1, "Type 100": 2} {
		if got, found := choose(thicknesses(), name, true); got != want || has(found, "type-unknown", "") {
			t.Errorf("%s: %d partitions, want %d\n%v", name, got, want, found)
		}
	}
	_, _, found := read(t, thicknesses())
	for _, want := range []string{`--partition "Type 100, 100 mm"`, `--partition "Type 100, 200 mm"`} {
		if f := about(t, found, "no-partitions"); f.Severity != finding.Warning || !strings.Contains(f.Fix.String(), want) {
			t.Errorf("%v\n%s", f, f.Fix)
		}
	}
}

func TestUnknownChoice(t *testing.T) {
	for name, want := range map[string]string{
		"Type 10, 100 mm": `did you mean --partition "Type 100, 100 mm"?`,
		"200 mm":          `did you mean --partition "Type 100, 200 mm"?`,
		"Cloison":         "wall types: Type 100, 100 mm, Type 100, 200 mm",
	} {
		_, found := choose(thicknesses(), name, true)
		if f := about(t, found, "type-unknown"); f.Severity != finding.Warning || f.Fix.String() != want {
			t.Errorf("%s: %v\n%s", name, f, f.Fix)
		}
	}
}

// The option that a finding names can be copied into a shell.
func TestOptionIsQuoted(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	m.plain(m.place(), 3000, 2500)
	text := strings.ReplaceAll(string(m.bytes()), "Type 100", `Wall 4 "x" $1`)
	_, _, found := ifc.Options{}.Read("test.ifc", []byte(text))
	if f := about(t, found, "wall-type"); !strings.HasSuffix(f.Fix.String(), `--structure 'Wall 4 "x" $1'`) {
		t.Error(f.Fix)
	}
}

// Where the frame is said to be of wood, the steel of the plan is in doubt.
func TestWood(t *testing.T) {
	for name, want := range map[string]bool{"Wood stud": true, "Holzständer": true, "Ossature bois": true, "Metal stud": false} {
		m := newModel("mm")
		m.floorAt("Ground floor", 0)
		for i := range 2 {
			w := m.wall(m.place(0, float64(i)*3000, 0), m.shape(m.polyline([]float64{0, 0}, []float64{3000, 0}), m.block(0, 0, 0, 3000, 100, 2500)))
			m.layers(w, "POSITIVE", 0, layer{"Plasterboard", 12.5}, layer{name, 75}, layer{"Plywood", 12.5})
		}
		_, _, found := read(t, m)
		if !want {
			if has(found, "wall-of-wood", "") {
				t.Errorf("%s: %v", name, found)
			}
			continue
		}
		if f := about(t, found, "wall-of-wood"); f.Severity != finding.Warning || !strings.Contains(f.What.String(), name) || !strings.HasSuffix(f.Fix.String(), `--structure "Type 100"`) {
			t.Errorf("%v\n%s", f, f.Fix)
		}
	}
}

// A model without walls says so.
func TestNoWalls(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	_, _, found := read(t, m)
	if f := about(t, found, "no-partitions"); f.Severity != finding.Warning || !strings.Contains(f.What.String(), "no walls") {
		t.Error(f)
	}
}
