package structure_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/proof"
	"nogging/internal/proof/floorload"
	"nogging/internal/proof/structure"
	"nogging/internal/quantity"
)

// input lays out the first wall of a plan; extra is YAML of the user's own
// catalogue.
func input(t *testing.T, practice, head, buildup_, wall, extra string) structure.Input {
	t.Helper()
	p, found := plan.Parse("wall.yaml", []byte("nogging: 1\npractice: "+practice+"\n"+head+`
buildups:
`+buildup_+`
walls:
  - {id: L1-01, level: L1, line: [[0, 0], [6000, 0]], buildup: W, start: structure, end: structure, `+wall+`}
`))
	if found.NeedsPerson() {
		t.Fatal(found)
	}
	cat := catalogue.Shipped()
	if extra != "" {
		user, wrong := catalogue.Parse("own.yaml", []byte(extra))
		merged, also := cat.Merge(user)
		if len(wrong)+len(also) > 0 {
			t.Fatal(wrong, also)
		}
		cat = merged
	}
	pr, _ := cat.PracticeByID(practice)
	own, wrong := pr.With(p.Overrides)
	if len(wrong) > 0 {
		t.Fatal(wrong)
	}
	project := layout.Of(p, cat, &own)
	if len(project.Walls) != 1 {
		t.Fatal(project.Findings)
	}
	b, _ := buildup.NewResolver(p, cat, &own).Resolve(&p.Walls[0])
	return structure.Input{Wall: project.Walls[0], Spec: &p.Walls[0], Level: p.LevelByID("L1"), Seismic: p.Seismic, Build: b, Catalogue: cat, Practice: &own}
}

const (
	level  = "levels: [{id: L1, clear_height: 3000}]"
	level6 = "levels: [{id: L1, clear_height: 6000}]"
	cw75   = "  - {id: W, frame: {kind: single, stud: CW75}, face_a: [GKB-12.5, GKB-12.5]}"
	us33   = "  - {id: W, frame: {kind: single, stud: 362S125-33, spacing: 16 in}, face_a: [GWB-0.625X]}"
)

func find(t *testing.T, checks []proof.Check, name string) proof.Check {
	t.Helper()
	i := slices.IndexFunc(checks, func(c proof.Check) bool { return c.Name == name })
	if i < 0 {
		var names []string
		for _, c := range checks {
			names = append(names, c.Name)
		}
		t.Fatalf("no check %q among %q", name, names)
	}
	return checks[i]
}

func verdict(t *testing.T, checks []proof.Check, name string, want proof.Verdict) proof.Check {
	t.Helper()
	c := find(t, checks, name)
	if c.Verdict != want {
		t.Errorf("%s: %s (use %.3g, missing %q), want %s", name, c.Verdict, c.Use, c.Missing, want)
	}
	return c
}

// A stud inside the range of AISI S100 is proven; each figure leads down to the
// catalogue and the practice.
func TestProveInScope(t *testing.T) {
	checks := structure.Prove(input(t, "us", level, us33, "openings: []", ""))
	c := verdict(t, checks, "deflection under uniform pressure", proof.Passes)
	verdict(t, checks, "bending under uniform pressure", proof.Passes)
	verdict(t, checks, "greatest height", proof.Shown)
	if c.Asked != "239 Pa, height/240" || c.Got.Unit != "mm" || len(c.Got.From) < 4 {
		t.Errorf("%+v", c)
	}
	text, err := json.Marshal(checks)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"IBC 1607.15", "362S125-33: web 92.075", "SSMA product technical guide", "AISI S100-16 A3.3"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the derivations do not name %q", want)
		}
	}
}

// Six metres are too much for it, and the next frame that would do does.
func TestProveTooHigh(t *testing.T) {
	in := input(t, "us", level6, us33, "openings: []", "")
	checks := structure.Prove(in)
	verdict(t, checks, "deflection under uniform pressure", proof.Fails)
	c := find(t, checks, "greatest height")
	if !(c.Got.Value > 3000 && c.Got.Value < 6000) || !strings.Contains(c.Advice.String(), "would do") {
		t.Errorf("%v mm, %q", c.Got.Value, c.Advice)
	}
	stud, rest, _ := strings.Cut(c.Advice.String(), " at ")
	mm, _, _ := strings.Cut(rest, " mm")
	again := input(t, "us", level6, fmt.Sprintf("  - {id: W, frame: {kind: single, stud: %s, spacing: %s}, face_a: [GWB-0.625X]}", stud, mm), "openings: []", "")
	for _, c := range structure.Prove(again) {
		if c.Verdict == proof.Fails {
			t.Errorf("%s: %s fails", c.Name, c.Advice)
		}
	}
}

// CW studs have flanges outside the range of EN 1993-1-3: nothing is proven by
// calculation alone, and the figures say that they rest on memory.
func TestProveOutOfScope(t *testing.T) {
	checks := structure.Prove(input(t, "metric", level, cw75, "require: {duty: zone 1}", ""))
	c := verdict(t, checks, "deflection under uniform pressure", proof.NotProven)
	if len(c.Missing) != 1 || !strings.Contains(c.Missing[0], "b/t of the flange") {
		t.Errorf("%q", c.Missing)
	}
	if c.Got == nil || c.Use <= 0 || c.Got.Weakest() != quantity.Memory {
		t.Errorf("the figure is shown all the same, as from memory: %+v", c)
	}
	verdict(t, checks, "bending under line load", proof.NotProven)
	verdict(t, checks, "soft-body and hard-body impact", proof.NotProven)
}

const tested = `
height_evidence:
  - {id: H1, name: Test, document: report 7 of 2020, frames: [single], stud: CW75, spacing: 625, boards: 25, layers: 2, height: 3500,
     duties: [zone 2], pressure: 300, limit: 240, impact: true}
`

// Test evidence goes before calculation, and only where it covers the wall.
func TestEvidence(t *testing.T) {
	checks := structure.Prove(input(t, "metric", level, cw75, "require: {duty: zone 1}", tested))
	c := verdict(t, checks, "tested height", proof.Passes)
	if c.Got.Source != "report 7 of 2020" || c.Got.Status != quantity.Evidence {
		t.Errorf("%+v", c.Got)
	}
	verdict(t, checks, "soft-body and hard-body impact", proof.Passes)
	if w := proof.Worst(checks); w != proof.Passes {
		t.Errorf("worst is %s: %+v", w, checks)
	}
	for name, change := range map[string][2]string{
		"higher":        {"height: 3500", "height: 2900"},
		"closer studs":  {"spacing: 625", "spacing: 400"},
		"more boards":   {"boards: 25", "boards: 30"},
		"more layers":   {"layers: 2", "layers: 3"},
		"other frame":   {"[single]", "[lining]"},
		"thicker steel": {"stud: CW75", "stud: CW75, steel: 0.7"},
		"other boards":  {"layers: 2", "layers: 2, types: [DF]"},
		"more screws":   {"layers: 2", "layers: 2, screws: 200"},
	} {
		checks := structure.Prove(input(t, "metric", level, cw75, "require: {duty: zone 1}", strings.Replace(tested, change[0], change[1], 1)))
		if c := find(t, checks, "tested height"); c.Verdict != proof.NotProven || len(c.Missing) == 0 {
			t.Errorf("%s: %+v", name, c)
		}
		verdict(t, checks, "deflection under uniform pressure", proof.NotProven)
	}
	// evidence for less than what is asked decides nothing there
	light := strings.Replace(tested, "pressure: 300", "pressure: 100", 1)
	verdict(t, structure.Prove(input(t, "metric", level, cw75, "require: {duty: zone 1}", light)), "deflection under uniform pressure", proof.NotProven)
	verdict(t, structure.Prove(input(t, "metric", level, cw75, "openings: []", light)), "tested height", proof.NotProven)
}

// Heights that are from memory say what to expect and prove nothing; the user's
// own evidence goes before them.
func TestRecalledHeightsProveNothing(t *testing.T) {
	in := input(t, "metric", level, cw75, "require: {duty: zone 1}", "")
	c := verdict(t, structure.Prove(in), "tested height", proof.NotProven)
	if c.Got == nil || c.Got.Weakest() != quantity.Memory || !strings.Contains(c.Missing[0], "from memory") {
		t.Errorf("%+v", c)
	}
	for i := range in.Catalogue.HeightEvidence {
		if e := &in.Catalogue.HeightEvidence[i]; e.Status != quantity.Memory {
			t.Errorf("%s is shipped as %s", e.ID, e.Status)
		}
	}
	if e, proves := structure.TestedHeight(in.Build, in.Catalogue, in.Practice, in.Spec.Require, false); e == nil || proves {
		t.Errorf("%+v %v", e, proves)
	}
	own := input(t, "metric", level, cw75, "require: {duty: zone 1}", tested)
	if e, proves := structure.TestedHeight(own.Build, own.Catalogue, own.Practice, own.Spec.Require, false); e == nil || e.ID != "H1" || !proves {
		t.Errorf("%+v %v", e, proves)
	}
	if e, _ := structure.TestedHeight(own.Build, own.Catalogue, own.Practice, own.Spec.Require, true); e != nil {
		t.Errorf("%s does not cover a sliding head", e.ID)
	}
}

// What is not known is said, and nothing is taken for it.
func TestMissing(t *testing.T) {
	for _, c := range []struct {
		change func(in *structure.Input)
		name   string
		want   string
	}{
		{func(in *structure.Input) { in.Practice.SteelYield.Value = 0 }, "strength of the frame", "yield strength"},
		{func(in *structure.Input) { in.Practice.Pressure.Value = 0 }, "uniform pressure", "the uniform pressure"},
		{func(in *structure.Input) { in.Practice.DeflectionLimit.Value = 0 }, "strength of the frame", "deflection limit"},
		{func(in *structure.Input) { in.Practice.SteelMethod.Value = "" }, "strength of the frame", "steel_method"},
		{func(in *structure.Input) { in.Wall.Head.Kind = plan.HeadFree }, "strength of the frame", "upper edge"},
		{func(in *structure.Input) { in.Wall.Head.Kind = plan.HeadDeflection }, "sliding head", "legs of the head track"},
		{func(in *structure.Input) { in.Spec.Require.Duty = "HD" }, "stiffness under 500 N at 1.5 m", "test evidence"},
		{func(in *structure.Input) { in.Spec.Require.Duty = "strong" }, "duty strong", "not known"},
		{func(in *structure.Input) { in.Seismic.Soil = 1.2 }, "earthquake", "importance"},
	} {
		in := input(t, "metric", level, cw75, "openings: []", "")
		c.change(&in)
		got := verdict(t, structure.Prove(in), c.name, proof.NotProven)
		if !strings.Contains(strings.Join(got.Missing, "; "), c.want) {
			t.Errorf("%s: missing %q, want %q", c.name, got.Missing, c.want)
		}
	}
}

// An estimate of what boards help turns no failure into a pass, only into a
// question; switched off, it does not even that.
func TestHelpOfBoardsProvesNothing(t *testing.T) {
	const slip, wall = "overrides: {screw_slip: 300}\n", "openings: [], require: {pressure: 480}"
	high := "levels: [{id: L1, clear_height: 4000}]"
	checks := structure.Prove(input(t, "us", slip+high, us33, wall, ""))
	c := verdict(t, checks, "deflection under uniform pressure", proof.NotProven)
	if c.Use <= 1 || c.Missing == nil || !strings.Contains(c.Missing[0], "estimated help") || !strings.Contains(c.Got.Note, "estimated help") {
		t.Errorf("%+v", c)
	}
	verdict(t, structure.Prove(input(t, "us", high, us33, wall, "")), "deflection under uniform pressure", proof.Fails)
}

// Check case 1.4d and the classes of DIN 18183-1 as a merchants' handbook quotes
// them: 0.4 kN/m on one board of 12.5 mm, 0.7 on two, 1.5 on a ground.
func TestConsoles(t *testing.T) {
	one := "  - {id: W, frame: {kind: single, stud: CW75}, face_a: [GKB-12.5]}"
	for _, c := range []struct {
		boards string
		mass   float64
		ground bool
		want   proof.Verdict
	}{
		{one, 40, false, proof.Passes}, {one, 42, false, proof.Fails}, {cw75, 70, false, proof.Passes}, {cw75, 73, false, proof.Fails},
		{one, 150, true, proof.Passes}, {one, 155, true, proof.Fails},
	} {
		in := input(t, "metric", level, c.boards, fmt.Sprintf("fixings: [{kind: console, face: a, at: 1000, width: 1000, height: 1500, mass: %g, lever: 300}]", c.mass), "")
		if !c.ground {
			in.Wall.Members = slices.DeleteFunc(in.Wall.Members, func(m layout.Member) bool { return m.Role == layout.Nogging })
		}
		got := verdict(t, structure.Prove(in), "console on face a at 1000 mm: boards", c.want)
		if c.want == proof.Fails && got.Advice == "" {
			t.Error("it fails without a way out")
		}
	}
	for _, lacks := range []string{"mass: 40, width: 1000", "mass: 40, lever: 200", "mass: 40, width: 1000, lever: 400"} {
		in := input(t, "metric", level, cw75, "fixings: [{kind: console, face: a, at: 1000, height: 1500, "+lacks+"}]", "")
		verdict(t, structure.Prove(in), "console on face a at 1000 mm", proof.NotProven)
	}
}

// Jambs carry half of the opening; a door says what its leaf weighs.
func TestDoor(t *testing.T) {
	door := func(mass string) string {
		return "openings: [{id: D1, kind: door, at: 2000, width: 900, height: 2100" + mass + "}]"
	}
	checks := structure.Prove(input(t, "us", level, us33, door(", leaf_mass: 30"), ""))
	verdict(t, checks, "jambs of D1", proof.Passes)
	verdict(t, checks, "leaf of D1 let go while open", proof.Passes)
	verdict(t, checks, "make of the jambs of D1", proof.Passes)
	find(t, checks, "header of D1 under uniform pressure")
	verdict(t, structure.Prove(input(t, "us", level, us33, door(""), "")), "leaf of D1 let go while open", proof.NotProven)
	heavy := structure.Prove(input(t, "us", level, us33, door(", leaf_mass: 300"), ""))
	if light := find(t, checks, "leaf of D1 let go while open"); find(t, heavy, "leaf of D1 let go while open").Use <= light.Use {
		t.Error("a heavier leaf loads the jamb no more")
	}
}

// The load of an earthquake: check case 1.6 gives the coefficients; here the
// force has to come from the wall's own mass, and more of it from a higher place.
func TestEarthquake(t *testing.T) {
	site := "seismic: {ground: 0.16, soil: 1.15, importance: 1, height: 12 m, sds: 0.85}\n"
	low := structure.Prove(input(t, "metric", site+level, cw75, "openings: []", ""))
	high := structure.Prove(input(t, "metric", site+"levels: [{id: L1, clear_height: 3000, elevation: 9000}]", cw75, "openings: []", ""))
	a, b := find(t, low, "bending in an earthquake"), find(t, high, "bending in an earthquake")
	if a.Use <= 0 || b.Use <= a.Use {
		t.Errorf("use %g on the ground, %g at 9 m", a.Use, b.Use)
	}
	us := find(t, structure.Prove(input(t, "us", site+level, us33, "openings: []", "")), "bending in an earthquake")
	if us.Verdict != proof.Passes || us.Use <= 0 {
		t.Errorf("%+v", us)
	}
}

func TestDeterministic(t *testing.T) {
	in := input(t, "metric", level6, cw75, "require: {duty: zone 2}, openings: [{kind: door, at: 2000, width: 900, height: 2100, leaf_mass: 30}]", tested)
	a, _ := json.Marshal(structure.Prove(in))
	b, _ := json.Marshal(structure.Prove(in))
	if string(a) != string(b) {
		t.Error("two proofs of one wall differ")
	}
}

// Any wall gets checks that can be written down: a verdict each, finite figures,
// a reason where something is not proven, a derivation where it passes or fails.
func TestAnyWall(t *testing.T) {
	cat := catalogue.Shipped()
	rapid.Check(t, func(t *rapid.T) {
		p := plantest.Random(t)
		pr, _ := cat.PracticeByID(rapid.SampledFrom([]string{"metric", "us"}).Draw(t, "practice"))
		p.Seismic = plan.Seismic{Ground: .1, Soil: 1.2, SDS: .5, Importance: 1, Height: rapid.SampledFrom([]quantity.Length{0, 20 * quantity.Metre}).Draw(t, "building")}
		resolver := buildup.NewResolver(p, cat, pr)
		for _, w := range layout.Of(p, cat, pr).Walls {
			spec := &p.Walls[slices.IndexFunc(p.Walls, func(other plan.Wall) bool { return other.ID == w.ID })]
			b, _ := resolver.Resolve(spec)
			in := structure.Input{Wall: w, Spec: spec, Level: p.LevelByID(w.Level), Seismic: p.Seismic, Build: b, Catalogue: cat, Practice: pr}
			checks := slices.Concat(structure.Prove(in), floorload.Prove(w, in.Level, cat, pr))
			if _, err := json.Marshal(checks); err != nil {
				t.Fatalf("%s: %v", w.ID, err)
			}
			for _, c := range checks {
				decided := c.Verdict == proof.Passes || c.Verdict == proof.Fails
				if c.Name == "" || c.Need == "" || decided && c.Got == nil || c.Verdict == proof.NotProven && len(c.Missing) == 0 || decided && len(c.Missing) > 0 {
					t.Fatalf("%s: %+v", w.ID, c)
				}
			}
		}
	})
}

// MaxHeight offers to the choice of build-ups what Prove shows.
func TestMaxHeightAsShown(t *testing.T) {
	in := input(t, "us", level, us33, "openings: []", "")
	r, missing := structure.MaxHeight(in.Build, in.Practice, "", structure.DemandOf(in.Spec.Require, in.Practice))
	if c := find(t, structure.Prove(in), "greatest height"); missing != nil || c.Got.Value != r.Height.MM() {
		t.Errorf("%v %v, shown %v", r, missing, c.Got.Value)
	}
}

// What the wall lays on the floor follows from the masses of what is in it: by
// hand for a wall of 6 m by 3 m of CW75 with two layers a face.
func TestFloorLoad(t *testing.T) {
	in := input(t, "metric", "levels: [{id: L1, clear_height: 3000, imposed: 2, partitions: 0.8}]", cw75, "openings: []", "")
	m, missing := floorload.MassesOf(in.Wall, in.Catalogue, in.Practice)
	board, _ := in.Catalogue.Board("GKB-12.5")
	boards := 4 * board.Mass * 6 * 2.985 // four layers, 15 mm shorter than the wall
	steel := 11*0.852*2.985 + 2*6*0.718  // 11 studs at 600 mm and two tracks
	if want := boards + steel; missing != nil || float64(m.Total) < want*.98 || float64(m.Total) > want*1.02 {
		t.Errorf("%v kg, by hand %v (%v)", m.Total, want, missing)
	}
	checks := floorload.Prove(in.Wall, in.Level, in.Catalogue, in.Practice)
	verdict(t, checks, "weight on the floor", proof.Passes)
	verdict(t, checks, "boards stacked on the floor", proof.Passes)
	in.Level.Imposed = 0
	verdict(t, floorload.Prove(in.Wall, in.Level, in.Catalogue, in.Practice), "boards stacked on the floor", proof.NotProven)
	in.Level.Imposed, in.Level.Partitions = .5, .5
	checks = floorload.Prove(in.Wall, in.Level, in.Catalogue, in.Practice)
	verdict(t, checks, "weight on the floor", proof.Fails)
	if c := verdict(t, checks, "boards stacked on the floor", proof.Fails); !strings.Contains(c.Advice.String(), "at most") {
		t.Errorf("%q", c.Advice)
	}
}
