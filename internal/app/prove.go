package app

import (
	"cmp"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"nogging/internal/buildup"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/proof/fire"
	"nogging/internal/proof/floorload"
	"nogging/internal/proof/moisture"
	"nogging/internal/proof/moisture/din18534_1"
	"nogging/internal/proof/sound"
	"nogging/internal/proof/structure"
	"nogging/internal/proof/thermal"
	"nogging/internal/words"
)

// WallProof is all checks of one wall.
type WallProof struct {
	Wall    string        `json:"wall"`
	BuildUp string        `json:"build_up,omitempty"`
	Asked   []string      `json:"asked,omitempty"` // as the plan asks it
	Verdict proof.Verdict `json:"verdict"`         // the gravest
	Checks  []proof.Check `json:"checks"`
}

// Prove checks every laid-out wall, or those named, in the order of the plan.
// The plan has to be built before. A name of no laid-out wall is an error.
func (j *Job) Prove(only []string, progress Progress) ([]WallProof, error) {
	laid := map[string]*layout.Wall{}
	for _, w := range j.Layout.Walls {
		laid[w.ID] = w
	}
	for _, id := range only {
		if laid[id] == nil {
			return nil, fmt.Errorf("no wall %s was laid out", id)
		}
	}
	p := j.prover()
	var walls []*plan.Wall
	for i := range j.Plan.Walls {
		w := &j.Plan.Walls[i]
		if laid[w.ID] != nil && (len(only) == 0 || slices.Contains(only, w.ID)) {
			walls = append(walls, w)
		}
	}
	proofs := make([]WallProof, len(walls))
	var next, done atomic.Int64
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(walls)) {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(walls); i = int(next.Add(1)) - 1 {
				proofs[i] = p.wall(walls[i], laid[walls[i].ID])
				progress("proving walls", int(done.Add(1)), len(walls))
			}
		})
	}
	group.Wait()
	return proofs, nil
}

// proofs returns a function that proves one laid-out wall.
func (j *Job) proofs() func(wall string) []proof.Check {
	p := j.prover()
	specs := map[string]*plan.Wall{}
	for i := range j.Plan.Walls {
		if w := &j.Plan.Walls[i]; specs[w.ID] == nil {
			specs[w.ID] = w
		}
	}
	laid := map[string]*layout.Wall{}
	for _, w := range j.Layout.Walls {
		laid[w.ID] = w
	}
	return func(id string) []proof.Check { return p.wall(specs[id], laid[id]).Checks }
}

// Judge proves every wall and adds what the proofs find. The plan has to be built
// before.
func (j *Job) Judge(progress Progress) {
	proofs, _ := j.Prove(nil, progress) // no wall is named that could be unknown
	j.tellProven(proofs)
}

// tellProven adds what proofs found.
func (j *Job) tellProven(proofs []WallProof) {
	j.Findings = slices.DeleteFunc(j.Findings, func(f finding.Finding) bool { return f.Code == notProvenCode })
	found := proven(proofs)
	j.locate(found)
	j.add(found)
	j.Findings.Sort()
}

// prover holds what the proofs of all walls share.
type prover struct {
	*Job
	builds map[string]*buildup.BuildUp // of laid-out walls
}

func (j *Job) prover() *prover {
	p := &prover{Job: j, builds: map[string]*buildup.BuildUp{}}
	specs := buildup.NewResolver(j.Plan, j.Catalogue, j.Practice)
	for i := range j.Plan.Walls {
		w := &j.Plan.Walls[i]
		if b, _ := specs.Resolve(w); b != nil && p.builds[w.ID] == nil {
			p.builds[w.ID] = b
		}
	}
	return p
}

// wall proves one wall.
func (p *prover) wall(spec *plan.Wall, laid *layout.Wall) WallProof {
	b := p.builds[spec.ID]
	level := p.Plan.LevelByID(spec.Level)
	out := WallProof{Wall: spec.ID, BuildUp: laid.BuildUp, Asked: spec.Require.Asked()}
	out.Checks = append(out.Checks, structure.Prove(structure.Input{
		Wall: laid, Spec: spec, Level: level, Seismic: p.Plan.Seismic, Build: b, Catalogue: p.Catalogue, Practice: p.Practice,
	})...)
	if spec.Require.Fire != "" {
		out.Checks = append(out.Checks, fire.Prove(spec.Require.Fire, fire.FactsOf(laid, spec, b), p.Catalogue.FireEvidence))
	}
	out.Checks = append(out.Checks, sound.Prove(sound.Input{
		Plan: p.Plan, Wall: spec, Build: b, Laid: laid, BuildOf: func(id string) *buildup.BuildUp { return p.builds[id] },
		Evidence: p.Catalogue.SoundEvidence,
	})...)
	out.Checks = append(out.Checks, thermal.Prove(spec.Require.UValue, b, p.Catalogue))
	out.Checks = append(out.Checks, p.moisture(spec, b)...)
	out.Checks = append(out.Checks, floorload.Prove(laid, level, p.Catalogue, p.Practice)...)
	out.Verdict = proof.Worst(out.Checks)
	return out
}

// moisture holds the faces against the water action classes of their rooms, and
// the wall against condensation where rooms on both sides tell their climate.
func (p *prover) moisture(spec *plan.Wall, b *buildup.BuildUp) []proof.Check {
	classes := [2]din18534_1.Class{}
	var checks []proof.Check
	stretches := p.Plan.RoomsBeside(spec)
	for _, s := range stretches {
		for side, room := range s.Rooms {
			if room != nil {
				classes[side] = din18534_1.Severest(classes[side], din18534_1.Class(room.Wet))
			}
		}
	}
	for side, face := range []plan.Face{plan.FaceA, plan.FaceB} {
		class := cmp.Or(spec.Require.Wet, string(classes[side]))
		if class != "" && (face == plan.FaceA || !b.Kind.OneSided()) {
			checks = append(checks, moisture.ProveWet(class, face, b.Boards(face)))
		}
	}
	for _, s := range stretches {
		a, c := s.Rooms[0], s.Rooms[1]
		if a != nil && c != nil && (a.Climate.Known() || c.Climate.Known()) {
			pair := moisture.ProveCondensation(b, p.Catalogue, moisture.Side{Room: a.ID, Climate: a.Climate}, moisture.Side{Room: c.ID, Climate: c.Climate})
			for i := range pair {
				pair[i].Name += fmt.Sprintf(", %s and %s", a.ID, c.ID)
			}
			checks = append(checks, pair...)
		}
	}
	return checks
}

// notProvenCode marks what is asked and stays open.
const notProvenCode = "not-proven"

// proven turns what is asked and fails, or is not proven, into findings: a warning
// for each demand that a wall does not meet, and one note for what stays open.
func proven(proofs []WallProof) finding.List {
	var found finding.List
	open := 0
	for _, p := range proofs {
		for _, c := range p.Checks {
			switch {
			case c.Asked == "":
			case c.Verdict == proof.Fails:
				found.Add(finding.Finding{
					Code: "demand-not-met", Severity: finding.Warning, Object: p.Wall,
					What: words.F("%s: %s is asked and not met: %s", c.Name, c.Asked, c.Result()), Fix: c.Advice,
				})
			case c.Verdict == proof.NotProven:
				open++
			}
		}
	}
	if open > 0 {
		what := words.F("%d demands are neither proven nor disproven", open)
		if open == 1 {
			what = "1 demand is neither proven nor disproven"
		}
		found.Add(finding.Finding{
			Code: notProvenCode, Severity: finding.Note, What: what,
			Fix: "the proof says what is missing for each; test evidence of your own goes into a catalogue",
		})
	}
	return found
}
