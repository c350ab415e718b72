package app_test

import (
	"fmt"
	"strings"
	"testing"

	"nogging/internal/app"
	"nogging/internal/choice"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/quantity"
)

// ours is a catalogue of test evidence that proves whole walls.
const ours = `
fire_evidence:
  - {id: F-1, name: ours, document: report and date, rating: EI 60, frames: [single], height: 4000, spacing: 625,
     face_a: [{types: [DF, DFH2], thickness: 12.5}, {types: [DF, DFH2], thickness: 12.5}],
     fill: [{materials: [stone wool], thickness: 40, density: 40, melting: 1000}]}
height_evidence:
  - {id: H-75, name: ours, document: report and date, frames: [single], stud: CW75, spacing: 625, layers: 2, boards: 25, height: 4000,
     duties: [zone 2], pressure: 200, limit: 240, impact: true}
sound_evidence:
  - {id: S-1, name: ours, document: report and date, ratings: [Rw 54], frame: single, depth: 75, steel: 0.6, spacing: 600,
     face_a: [{types: [DF], thickness: 12.5, mass: 10}, {types: [DF], thickness: 12.5, mass: 10}], fill: [{materials: [stone wool], thickness: 40}]}
`

// The full proof of a wall of what was chosen says what the choice says: nothing
// is called proven that is open, nor expected that fails.
func TestChosenIsProvenAlike(t *testing.T) {
	for _, c := range []struct {
		name, practice, catalogue string
		require                   plan.Requirements
		wet                       string
		height                    float64
		want                      choice.Standing
	}{
		{"records from memory", "metric", "", plan.Requirements{Fire: "F60-A", Sound: "Rw 50", Duty: "zone 2"}, "", 3600, choice.Expected},
		{"another scheme only guides", "metric", "", plan.Requirements{Fire: "EI 60", Duty: "zone 1"}, "", 3000, choice.Expected},
		{"evidence of one's own", "metric", ours, plan.Requirements{Fire: "EI 60", Sound: "Rw 52", Duty: "zone 2"}, "", 3600, choice.Proven},
		{"heat and water", "metric", "", plan.Requirements{UValue: "0.5", Sound: "Rw 44"}, "W1-I", 3000, choice.Expected},
		{"by calculation", "us", "", plan.Requirements{Sound: "STC 45"}, "", 3000, choice.Proven},
		{"listings without a height", "us", "", plan.Requirements{Fire: "1 h", Sound: "STC 45"}, "", 3000, choice.Expected},
		{"one layer more than predicted", "metric", "", plan.Requirements{Sound: "Rw 62"}, "", 3000, choice.Expected},
		{"cement boards", "metric", "", plan.Requirements{Sound: "Rw 40"}, "W2-I", 3000, choice.Unknown},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := map[string]string{"ours.yaml": "fire_evidence: []\n" + c.catalogue}
			if c.catalogue != "" {
				files["ours.yaml"] = c.catalogue
			}
			read := func(name string) ([]byte, error) { return []byte(files[name]), nil }
			j, err := app.OpenCatalogues([]string{"ours.yaml"}, c.practice, read)
			if err != nil || len(j.Findings) > 0 {
				t.Fatal(err, j.Findings)
			}
			for _, rank := range []choice.Measure{choice.Thickness, choice.Labour} {
				d := choice.Demand{Require: c.require, Height: quantity.MM(c.height), Wet: [2]string{c.wet, c.wet}}
				r, err := j.Choose(d, choice.Options{Rank: rank, Most: 4})
				if err != nil || r.Standing != c.want {
					t.Fatalf("%s, want %s: %v", r.Standing, c.want, err)
				}
				for i := range r.Front {
					files["plan.yaml"] = planOf(t, &r.Front[i], d, c.practice, c.wet)
					alike(t, &r.Front[i], read)
				}
			}
		})
	}
}

// planOf writes a plan of one wall of a candidate.
func planOf(t *testing.T, c *choice.Candidate, d choice.Demand, practice, wet string) string {
	t.Helper()
	text, err := choice.YAML(c.Build, "W1")
	if err != nil {
		t.Fatal(err)
	}
	q := d.Require
	return fmt.Sprintf(`nogging: 1
practice: %s
catalogue: [ours.yaml]
levels: [{id: L1, clear_height: %s}]
%s
walls:
  - {id: L1-01, level: L1, line: [[0, 0], [6000, 0]], buildup: W1, start: structure, end: structure,
     require: {fire: %q, sound: %q, duty: %q, u_value: %q, wet: %q}}
`, practice, d.Height, text, q.Fire, q.Sound, q.Duty, q.UValue, wet)
}

// alike holds the standings of a candidate against the checks of the full proof.
func alike(t *testing.T, c *choice.Candidate, read app.ReadFile) {
	t.Helper()
	j, err := app.Open("plan.yaml", read)
	if err != nil {
		t.Fatal(err)
	}
	j.Build(app.Quiet)
	proofs, _ := j.Prove(nil, app.Quiet)
	if len(proofs) != 1 {
		t.Fatalf("%s is not laid out: %v", choice.Words(c.Build), j.Findings)
	}
	of := map[string]proof.Need{"fire": proof.Fire, "sound": proof.Sound, "structure": proof.Structure, "heat": proof.Heat, "moisture, face A": proof.Moisture}
	for _, n := range c.Needs {
		open := 0
		for _, check := range proofs[0].Checks {
			impact := strings.Contains(check.Name, "impact")
			if n.About == "duty" && !impact || n.About != "duty" && (check.Need != of[n.About] || impact) || n.About == "moisture, face B" {
				continue
			}
			switch check.Verdict {
			case proof.Fails:
				t.Errorf("%s: %s is %s, and %s fails: %s", choice.Words(c.Build), n.About, n.Standing, check.Name, check.Result())
			case proof.NotProven:
				open++
			}
		}
		if (n.Standing == choice.Proven) != (open == 0) {
			t.Errorf("%s: %s is %s, and %d checks are not proven", choice.Words(c.Build), n.About, n.Standing, open)
		}
	}
}

func TestDemandOf(t *testing.T) {
	j, _ := proven(t, proofPlan)
	d, err := j.DemandOf("L1-01")
	if err != nil || d.Height != quantity.MM(3000) || d.Require.Sound != "Rw 38" || d.Wet != [2]string{"W2-I", ""} {
		t.Errorf("%+v, %v", d, err)
	}
	if _, err := j.DemandOf("L9-99"); err == nil {
		t.Error("a wall that is not there")
	}
}
