package app_test

import (
	"slices"
	"strings"
	"testing"

	"nogging/internal/app"
	"nogging/internal/finding"
	"nogging/internal/proof"
	"nogging/internal/quantity"
)

// proven opens, builds and proves a plan.
func proven(t *testing.T, text string, only ...string) (*app.Job, []app.WallProof) {
	t.Helper()
	j, err := app.Open("plan.yaml", func(string) ([]byte, error) { return []byte(text), nil })
	if err != nil {
		t.Fatal(err)
	}
	j.Build(app.Quiet)
	proofs, err := j.Prove(only, app.Quiet)
	if err != nil {
		t.Fatal(err)
	}
	return j, proofs
}

const proofPlan = `nogging: 1
levels: [{id: L1, clear_height: 3000}]
buildups:
  - {id: W, frame: {kind: single, stud: CW75}, face_a: [GKB-12.5], insulation: [{product: SW-60-30}]}
rooms:
  - {id: R1, level: L1, wet: W2-I, outline: [[0, 50], [6000, 50], [6000, 3000], [0, 3000]], climate: {temperature: [20], humidity: [50]}}
  - {id: R2, level: L1, outline: [[0, -50], [0, -3000], [6000, -3000], [6000, -50]], climate: {temperature: [5], humidity: [70]}}
walls:
  - {id: L1-01, level: L1, line: [[0, 0], [6000, 0]], buildup: W, start: structure, end: structure, require: {fire: EI 30, sound: Rw 38, u_value: "0.2"}}
  - {id: L1-02, level: L1, line: [[0, 9000], [6000, 9000]], buildup: W, start: structure, end: structure}
`

// Every need has its checks: those asked for are judged, and the rooms beside a
// wall bring in moisture and condensation.
func TestProve(t *testing.T) {
	_, proofs := proven(t, proofPlan)
	if len(proofs) != 2 || proofs[0].Wall != "L1-01" || proofs[0].Verdict != proof.Fails {
		t.Fatalf("%d proofs, the first of %s: %s", len(proofs), proofs[0].Wall, proofs[0].Verdict)
	}
	verdict := func(need proof.Need, name string) proof.Verdict {
		for _, c := range proofs[0].Checks {
			if c.Need == need && strings.HasPrefix(c.Name, name) {
				return c.Verdict
			}
		}
		return "none"
	}
	for _, c := range []struct {
		need proof.Need
		name string
		want proof.Verdict
	}{
		{proof.Fire, "fire resistance", proof.NotProven},
		{proof.Heat, "U-value", proof.Fails},
		{proof.Moisture, "boards of face A", proof.Fails}, // a room of class W2-I lies there
		{proof.Moisture, "boards of face B", "none"},
		{proof.Moisture, "mould on the surface, R1 and R2", proof.Passes},
		{proof.FloorLoad, "weight on the floor", proof.Shown},
		{proof.Structure, "deflection under uniform pressure", proof.NotProven},
	} {
		if got := verdict(c.need, c.name); got != c.want {
			t.Errorf("%s, %s: %s, want %s", c.need, c.name, got, c.want)
		}
	}
	if v := verdict(proof.Sound, "the wall alone"); v != proof.Passes && v != proof.NotProven {
		t.Errorf("sound: %s", v)
	}
}

// Whatever a check says, it can be followed: what passes or fails has a figure
// with its method, what is not proven says what is missing, and every figure says
// how far it can be relied on.
func TestProofsAreWhole(t *testing.T) {
	_, proofs := proven(t, proofPlan)
	for _, p := range proofs {
		for _, c := range p.Checks {
			switch c.Verdict {
			case proof.Passes, proof.Fails:
				if c.Got == nil {
					t.Errorf("%s: %s %s without a figure", p.Wall, c.Name, c.Verdict)
				}
			case proof.NotProven:
				if len(c.Missing) == 0 {
					t.Errorf("%s: %s is not proven, and nothing is missing", p.Wall, c.Name)
				}
			}
			if c.Got != nil {
				follow(t, p.Wall+": "+c.Name, c.Got)
			}
		}
	}
}

func follow(t *testing.T, where string, d *quantity.Derivation) {
	t.Helper()
	if d.Name == "" || !slices.Contains(quantity.Statuses(), d.Status) {
		t.Errorf("%s: %q has status %q", where, d.Name, d.Status)
	}
	for i := range d.From {
		follow(t, where, &d.From[i])
	}
}

func TestProveOne(t *testing.T) {
	j, proofs := proven(t, proofPlan, "L1-02")
	if len(proofs) != 1 || proofs[0].Wall != "L1-02" {
		t.Errorf("%d proofs", len(proofs))
	}
	if _, err := j.Prove([]string{"L9-99"}, app.Quiet); err == nil {
		t.Error("a wall that is not there is proven")
	}
}

// What is asked and not met is a warning on the wall; what stays open is one note.
func TestJudge(t *testing.T) {
	j, _ := proven(t, proofPlan)
	j.Judge(app.Quiet)
	var failed, open []finding.Finding
	for _, f := range j.Findings {
		switch f.Code {
		case "demand-not-met":
			failed = append(failed, f)
		case "not-proven":
			open = append(open, f)
		}
	}
	if len(failed) != 2 || failed[0].Object != "L1-01" || failed[0].Place.Line != 9 {
		t.Errorf("unmet demands: %v", failed)
	}
	if len(open) != 1 || open[0].Severity != finding.Note {
		t.Errorf("open demands: %v", open)
	}
}
