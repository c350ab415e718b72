// Package demo_test checks that the demo project can be built as it stands and
// that it shows every kind of thing that plans may hold.
package demo_test

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/takeoff"
)

const file = "clinic.yaml"

// clinic reads and lays out the demo project.
func clinic(t *testing.T) (*plan.Plan, *layout.Project, *catalogue.Catalogue, *catalogue.Practice) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	p, found := plan.Parse(file, data)
	quiet(t, found)
	cat := catalogue.Shipped()
	pr, ok := cat.PracticeByID(p.Practice)
	if !ok {
		t.Fatalf("practice %q does not ship", p.Practice)
	}
	return p, layout.Of(p, cat, pr), cat, pr
}

// quiet fails for every finding, assumptions included: the demo says all that
// it means.
func quiet(t *testing.T, found finding.List) {
	t.Helper()
	for _, f := range found {
		if f.Severity != finding.Note {
			t.Errorf("%s; %s", f, f.Fix)
		}
	}
}

// TestClinicNeedsNobody: the demo is read and laid out without anything that a
// person would have to see to, and every wall gives quantities.
func TestClinicNeedsNobody(t *testing.T) {
	p, l, cat, pr := clinic(t)
	quiet(t, l.Findings)
	for _, w := range l.Walls {
		quiet(t, w.Findings)
	}
	if n := len(p.Walls); n < 55 || n > 70 || len(l.Walls) != n {
		t.Errorf("%d walls, %d laid out; want about 60, all laid out", n, len(l.Walls))
	}
	for _, w := range takeoff.Of(p, l, cat, pr).Walls {
		groups := map[takeoff.Group]float64{}
		for _, line := range w.Lines {
			groups[line.Group] += line.Quantity
		}
		for _, g := range []takeoff.Group{takeoff.Profiles, takeoff.Boards, takeoff.Fixings} {
			if groups[g] <= 0 {
				t.Errorf("%s takes no %s", w.ID, g)
			}
		}
	}
}

// set collects the kinds of one sort of thing that the demo shows.
type set map[string]bool

func (s set) add(kind any) { s[fmt.Sprint(kind)] = true }

// TestClinicShowsEverything: every kind of frame, opening, end, junction, head,
// box, fixing and room that a plan may have is in the demo.
func TestClinicShowsEverything(t *testing.T) {
	p, l, _, _ := clinic(t)
	shown := map[string]set{}
	in := func(sort string) set {
		if shown[sort] == nil {
			shown[sort] = set{}
		}
		return shown[sort]
	}
	inPlan(p, in)
	inWalls(p, in)
	inLayout(p, l, in)
	words := strings.Fields
	want := map[string][]string{
		"frame":     texts(plan.FrameKinds()),
		"opening":   texts(plan.OpeningKinds()),
		"end":       texts([]layout.AbutmentKind{layout.Free, layout.Structure, layout.Corner, layout.Tee, layout.Straight}),
		"junction":  texts([]layout.JunctionKind{layout.L, layout.T, layout.X, layout.I}),
		"head":      words("rigid deflection free"),
		"ends at":   words("wall column facade"),
		"layers":    words("1 2 3"),
		"faces":     words("alike different"),
		"seal":      words("tape sealant"),
		"leaf":      words("25 33 48 60"),
		"door":      words("760 885 1010 1260"),
		"service":   words("pipe duct cable"),
		"frameless": words("true false"),
		"box":       words("socket switch data other"),
		"fixing":    words("console sanitary_frame rail radiator cabinet screen"),
		"top":       words("level sloping stepped"),
		"run":       words("square skew"),
		"line":      words("centre face_a face_b"),
		"asked":     words("fire sound duty wet"),
		"wet":       words("W0-I W1-I W2-I"),
		"joint":     texts(layout.JointKinds()),
	}
	for _, sort := range slices.Sorted(maps.Keys(want)) {
		for _, kind := range want[sort] {
			if !in(sort)[kind] {
				t.Errorf("%s: the demo shows no %s, only %s", sort, kind, slices.Sorted(maps.Keys(in(sort))))
			}
		}
	}
}

func texts[T ~string](kinds []T) []string {
	var all []string
	for _, k := range kinds {
		all = append(all, string(k))
	}
	return all
}

// inPlan collects what stands outside the walls.
func inPlan(p *plan.Plan, in func(string) set) {
	for i := range p.Rooms {
		in("wet").add(p.Rooms[i].Wet)
	}
	for i := range p.BuildUps {
		b := &p.BuildUps[i]
		in("frame").add(b.Frame.Kind)
		in("seal").add(b.Seal)
		in("layers").add(len(b.FaceA))
		if len(b.FaceB) > 0 && !slices.Equal(b.FaceA, b.FaceB) {
			in("faces").add("different")
		} else {
			in("faces").add("alike")
		}
	}
}

// inWalls collects what the walls of the plan hold.
func inWalls(p *plan.Plan, in func(string) set) {
	for i := range p.Walls {
		w := &p.Walls[i]
		in("line").add(w.Justify)
		if w.Justify == "" {
			in("line").add(plan.Centre)
		}
		asked := map[string]string{"fire": w.Require.Fire, "sound": w.Require.Sound, "duty": w.Require.Duty, "wet": w.Require.Wet}
		for _, key := range slices.Sorted(maps.Keys(asked)) {
			if asked[key] != "" {
				in("asked").add(key)
			}
		}
		for _, o := range w.Openings {
			in("opening").add(o.Kind)
			in("service").add(o.Service)
			if o.Kind == plan.Door {
				in("leaf").add(o.LeafMass)
				in("door").add(o.Width)
			}
		}
		for _, b := range w.Boxes {
			in("box").add(b.Kind)
		}
		for _, f := range w.Fixings {
			in("fixing").add(f.Kind)
		}
	}
}

// inLayout collects what the layout makes of them.
func inLayout(p *plan.Plan, l *layout.Project, in func(string) set) {
	structure := map[string]string{}
	for i := range p.Structure {
		structure[p.Structure[i].ID] = p.Structure[i].Kind
	}
	for _, j := range l.Junctions {
		in("junction").add(j.Kind)
	}
	for _, w := range l.Walls {
		in("head").add(w.Head.Kind)
		in("top").add(shape(w.Top))
		for _, e := range w.Ends {
			in("end").add(e.Kind)
			in("ends at").add(structure[e.With])
		}
		run := "square"
		if d := w.Frame.Dir; d.X != 0 && d.Y != 0 {
			run = "skew"
		}
		in("run").add(run)
		for _, o := range w.Openings {
			if o.Kind == plan.Penetration {
				in("frameless").add(!w.Framed(o))
			}
		}
		for _, j := range w.Joints {
			in("joint").add(j.Kind)
		}
	}
}

func shape(top layout.Profile) string {
	kind := "level"
	for i := 1; i < len(top); i++ {
		switch a, b := geom.Point(top[i-1]), geom.Point(top[i]); {
		case a.X == b.X && a.Y != b.Y:
			return "stepped"
		case a.Y != b.Y:
			kind = "sloping"
		}
	}
	return kind
}
