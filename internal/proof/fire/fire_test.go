package fire

import (
	"slices"
	"strings"
	"testing"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/quantity"
)

const (
	millimetre = quantity.Millimetre
	inch       = quantity.Inch
)

// record returns a shipped record.
func record(t *testing.T, id string) *catalogue.FireEvidence {
	t.Helper()
	for i := range catalogue.Shipped().FireEvidence {
		if e := &catalogue.Shipped().FireEvidence[i]; e.ID == id {
			return e
		}
	}
	t.Fatalf("no record %s", id)
	return nil
}

// laid lays out a single wall of a US plan and reads its facts.
func laid(t *testing.T, practice, buildups, wall string) Facts {
	t.Helper()
	p, found := plan.Parse("wall.yaml", []byte("nogging: 1\npractice: "+practice+`
levels: [{id: L1, clear_height: 3000}]
buildups:
`+buildups+`
walls:
  - {id: L1-01, level: L1, line: [[0, 0], [6000, 0]], buildup: W, start: structure, end: structure, `+wall+`}
`))
	if found.NeedsPerson() {
		t.Fatal(found)
	}
	pr, _ := catalogue.Shipped().PracticeByID(practice)
	cat := catalogue.Shipped().For(pr)
	project := layout.Of(p, cat, pr)
	if len(project.Walls) != 1 {
		t.Fatal(project.Findings)
	}
	b, _ := buildup.NewResolver(p, cat, pr).Resolve(&p.Walls[0])
	return FactsOf(project.Walls[0], &p.Walls[0], b)
}

const wp1200 = `  - {id: W, frame: {kind: single, stud: 362S125-30, spacing: 24 in}, face_a: [GWB-0.625X]}`

// GA-600, generic listing WP 1200, and ways to leave it.
func TestMatchWP1200(t *testing.T) {
	e := *record(t, "GA-WP1200")
	e.Height = 3600 * millimetre // the listing states none: taken from elsewhere, for the test
	for _, c := range []struct {
		name   string
		break_ func(*Facts)
		about  string // the point that leaves the listing; "" for none
	}{
		{"as listed", func(*Facts) {}, ""},
		{"1/2 in boards", func(f *Facts) { b, _ := catalogue.Shipped().Board("GWB-0.5X"); f.Faces[1] = []*catalogue.Board{b} }, "face B, layer 1"},
		{"regular boards", func(f *Facts) { b, _ := catalogue.Shipped().Board("GWB-0.625"); f.Faces[0] = []*catalogue.Board{b} }, "face A, layer 1"},
		{"no boards on face B", func(f *Facts) { f.Faces[1] = nil }, "face B"},
		{"screws at 16 in in the field", func(f *Facts) { f.Screws[0] = []Length{16 * inch} }, "screws of face A, layer 1"},
		{"studs at 30 in", func(f *Facts) { f.Spacing = 30 * inch }, "stud spacing"},
		{"studs of 2.5 in", func(f *Facts) { f.Stud, _ = catalogue.Shipped().Profile("250S125-30") }, "stud depth"},
		{"twin frame", func(f *Facts) { f.Frame = plan.TwinIndependent }, "frame"},
		{"a moving head", func(f *Facts) { f.HeadMove = inch }, "head"},
		{"too high", func(f *Facts) { f.Height = 3601 * millimetre }, "height"},
		{"joints on one stud", func(f *Facts) { f.Stagger = 0 }, "stagger of joints"},
		{"boxes back to back", func(f *Facts) { f.BackToBack = []string{"socket at 900 and socket at 950"} }, "boxes back to back"},
		{"a deeper stud", func(f *Facts) { f.Stud, _ = catalogue.Shipped().Profile("600S125-33") }, ""},
		{"closer studs", func(f *Facts) { f.Spacing = 16 * inch }, ""},
		{"one layer more", func(f *Facts) {
			b, _ := catalogue.Shipped().Board("GWB-0.5")
			f.Faces[0] = append([]*catalogue.Board{b}, f.Faces[0]...)
			f.Screws[0] = append([]Length{24 * inch}, f.Screws[0]...)
		}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := laid(t, "us", wp1200, "height: 3000")
			c.break_(&f)
			var outside []string
			for _, p := range Match(&e, f) {
				if p.Standing != Inside {
					outside = append(outside, p.About)
				}
			}
			var want []string
			if c.about != "" {
				want = []string{c.about}
			}
			if !slices.Equal(outside, want) {
				t.Errorf("outside in %q, want %q", outside, want)
			}
		})
	}
}

// The listing states no height, so it proves no wall by itself.
func TestProveNeedsHeight(t *testing.T) {
	f := laid(t, "us", wp1200, "height: 3000")
	records := []catalogue.FireEvidence{*record(t, "GA-WP1200")}
	c := Prove("1 h", f, records)
	if c.Verdict != proof.NotProven || len(c.Missing) != 1 || !strings.HasPrefix(c.Missing[0], "height: 3000 mm") {
		t.Errorf("%s: %q", c.Verdict, c.Missing)
	}
	records[0].Height = 3000 * millimetre
	if c := Prove("1 h", f, records); c.Verdict != proof.Passes || c.Got.Note != Caution {
		t.Errorf("inside the listing: %s %q", c.Verdict, c.Missing)
	}
	for _, asked := range []string{"2 h", "EI 60", "as the architect says"} {
		if c := Prove(asked, f, records); c.Verdict != proof.NotProven || len(c.Missing) == 0 {
			t.Errorf("%s: %s %q", asked, c.Verdict, c.Missing)
		}
	}
}

// A record that nobody held against its document proves nothing, however well
// the wall fits it.
func TestMemoryProvesNothing(t *testing.T) {
	e := *record(t, "DIN-F90-CW")
	e.Height = 5000 * millimetre
	f := laid(t, "metric", `  - {id: W, frame: {kind: single, stud: CW75}, face_a: [GKF-12.5, GKF-12.5], insulation: [{product: SW-40-100}]}`, "height: 3000")
	if got := Prove("F90-A", f, []catalogue.FireEvidence{e}); got.Verdict != proof.NotProven || len(got.Missing) != 1 || !strings.Contains(got.Missing[0], "from memory") {
		t.Errorf("%s: %q", got.Verdict, got.Missing)
	}
	e.Status = quantity.Evidence
	if got := Prove("F90-A", f, []catalogue.FireEvidence{e}); got.Verdict != proof.Passes {
		t.Errorf("held against its document: %s %q", got.Verdict, got.Missing)
	}
}

// DIN 4102-4, metal stud walls of class F90: wool of 80 mm and 30 kg/m³, 60 and
// 50, or 40 and 100, each with a melting point of 1000 °C (from memory).
func TestFill(t *testing.T) {
	e := record(t, "DIN-F90-CW")
	for _, c := range []struct {
		thickness, density, melting float64
		material                    string
		want                        bool
	}{
		{40, 100, 1000, "stone wool", true},
		{80, 30, 1000, "stone wool", true},
		{60, 50, 1000, "stone wool", true},
		{80, 100, 1000, "stone wool", true},
		{60, 40, 1000, "stone wool", false},
		{40, 99, 1000, "stone wool", false},
		{80, 30, 0, "stone wool", false}, // stone wool alone is not enough (DIN 4102-4, note)
		{80, 30, 1000, "glass wool", false},
	} {
		f := laid(t, "metric", `  - {id: W, frame: {kind: single, stud: CW100}, face_a: [GKF-12.5, GKF-12.5]}`, "height: 3000")
		f.Fill = []buildup.Fill{{Thickness: Length(c.thickness) * millimetre, Product: &catalogue.Insulation{
			Material: c.material, Density: c.density, Melting: c.melting,
		}}}
		got := !slices.ContainsFunc(Match(e, f), func(p Point) bool { return p.About == "fill" && p.Standing == Outside })
		if got != c.want {
			t.Errorf("%v: inside %v", c, got)
		}
	}
}

// Boxes back to back in one bay, and in neighbouring bays.
func TestBackToBack(t *testing.T) {
	const build = `  - {id: W, frame: {kind: single, stud: CW75}, face_a: [GKB-12.5]}`
	for boxes, want := range map[string]int{
		`boxes: [{face: a, at: 900, height: 300}, {face: b, at: 1000, height: 300}]`:  1,
		`boxes: [{face: a, at: 900, height: 300}, {face: b, at: 1500, height: 300}]`:  0,
		`boxes: [{face: a, at: 900, height: 300}, {face: a, at: 1000, height: 1100}]`: 0,
	} {
		if f := laid(t, "metric", build, boxes); len(f.BackToBack) != want {
			t.Errorf("%s: %q", boxes, f.BackToBack)
		}
	}
}

// What a document covers does not reach to doors and penetrations.
func TestOthersEvidence(t *testing.T) {
	f := laid(t, "us", wp1200, "height: 3000, openings: [{kind: door, at: 1000, width: 900, height: 2100, leaf_mass: 30}, {kind: penetration, at: 3000, width: 200, height: 200, sill: 2000, service: pipe}]")
	e := *record(t, "GA-WP1200")
	e.Height = 3000 * millimetre
	c := Prove("1 h", f, []catalogue.FireEvidence{e})
	if len(c.Missing) < 2 {
		t.Errorf("doors and penetrations are not told of: %q", c.Missing)
	}
}
