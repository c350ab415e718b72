package app

import (
	"fmt"
	"reflect"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"

	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/takeoff"
)

// proofInputs is what a wall's proof depends on beside what its layout does.
type proofInputs struct {
	seismic plan.Seismic
	rooms   []plan.Stretch
	ends    [2]plan.Structure
}

// judge measures and proves the walls that have not been yet, folds the sums and
// gathers the findings.
func (s *State) judge() {
	s.judging.Do(func() {
		j := s.job
		specs := specsOf(j.Plan)
		ends := map[string]plan.Structure{}
		for _, x := range j.Plan.Structure {
			if _, twice := ends[x.ID]; !twice {
				ends[x.ID] = x
			}
		}
		p := j.prover()
		s.proofs, s.stands = make([]WallProof, len(s.works)), make([]Status, len(s.works))
		measured := make([]takeoff.Wall, len(s.works))
		each(len(s.works), func(i int) {
			w := s.works[i]
			measured[i] = takeoff.Wall{ID: w.laid.ID, Level: w.laid.Level, Lines: w.takeoff(j)}
			s.proofs[i], s.stands[i] = w.prove(p, specs[w.laid.ID], ends)
		})
		j.Takeoff = takeoff.Fold(j.Plan, measured)
		j.tellLaid()
		j.tellProven(s.proofs)
		s.brief(specs)
	})
}

// specsOf indexes the walls of a plan, the first of each id.
func specsOf(p *plan.Plan) map[string]*plan.Wall {
	specs := make(map[string]*plan.Wall, len(p.Walls))
	for i := range p.Walls {
		if w := &p.Walls[i]; specs[w.ID] == nil {
			specs[w.ID] = w
		}
	}
	return specs
}

// each calls f for the numbers below n on all processors. A fault in one comes to
// the caller, who may have others to go on with.
func each(n int, f func(i int)) {
	var next atomic.Int64
	var group sync.WaitGroup
	var fault atomic.Value
	for range min(runtime.GOMAXPROCS(0), n) {
		group.Go(func() {
			defer func() {
				if r := recover(); r != nil {
					fault.Store(fmt.Sprintf("%v\n%s", r, debug.Stack()))
				}
			}()
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				f(i)
			}
		})
	}
	group.Wait()
	if f := fault.Load(); f != nil {
		panic(f)
	}
}

// takeoff measures the wall once.
func (w *work) takeoff(j *Job) []takeoff.Line {
	w.measuring.Do(func() { w.lines = takeoff.OfWall(w.laid, j.Catalogue, j.Practice) })
	return w.lines
}

// prove proves the wall, unless it was proven of the same.
func (w *work) prove(p *prover, spec *plan.Wall, structure map[string]plan.Structure) (WallProof, Status) {
	w.mu.Lock()
	defer w.mu.Unlock()
	in := proofInputs{seismic: p.Plan.Seismic, rooms: w.beside(p.Plan, spec)}
	for i, end := range w.laid.Ends {
		if end.Kind == layout.Structure {
			in.ends[i] = structure[end.With]
		}
	}
	if w.asked == nil || !reflect.DeepEqual(*w.asked, in) {
		w.proof = p.wall(spec, w.laid)
		w.asked, w.stands = &in, Status{Proof: stateOf(w.proof.Checks), Needs: needsOf(w.proof.Checks)}
	}
	return w.proof, w.stands
}

// beside returns the rooms along the wall; w.mu is held.
func (w *work) beside(p *plan.Plan, spec *plan.Wall) []plan.Stretch {
	if w.asked == nil || !sameSlice(w.roomsOf, p.Rooms) {
		w.rooms, w.roomsOf = p.RoomsBeside(spec), p.Rooms
	}
	return w.rooms
}

// sameSlice reports whether two slices are one and the same.
func sameSlice[T any](a, b []T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

// Findings lists all that is to be told about the plan, as Judge leaves it.
func (s *State) Findings() finding.List { s.judge(); return s.job.Findings }

// Proof lists the checks of every laid-out wall, in the order of the plan.
func (s *State) Proof() []WallProof { s.judge(); return s.proofs }

// ProofRow is a wall in a table of proofs: its checks without their derivations.
type ProofRow struct {
	Wall    string        `json:"wall"`
	Level   string        `json:"level"`
	BuildUp string        `json:"build_up"`
	Asked   []string      `json:"asked"`
	Verdict proof.Verdict `json:"verdict"`
	State   ProofState    `json:"state"`
	Checks  []CheckBrief  `json:"checks"`
}

// CheckBrief is a check without its derivation.
type CheckBrief struct {
	Need    proof.Need    `json:"need"`
	Name    string        `json:"name"`
	Verdict proof.Verdict `json:"verdict"`
	Asked   string        `json:"asked,omitempty"`
	Use     float64       `json:"use,omitempty"`
	Got     string        `json:"got,omitempty"`
}

// ProofTable lists the laid-out walls with their checks in brief, in the order of the
// plan; WallView has them with their derivations.
func (s *State) ProofTable() []ProofRow {
	s.judge()
	rows := make([]ProofRow, len(s.works))
	for i, w := range s.works {
		p := &s.proofs[i]
		r := ProofRow{Wall: p.Wall, Level: w.laid.Level, BuildUp: p.BuildUp, Asked: append([]string{}, p.Asked...), Verdict: p.Verdict, State: s.stands[i].Proof, Checks: []CheckBrief{}}
		for k := range p.Checks {
			c := &p.Checks[k]
			r.Checks = append(r.Checks, CheckBrief{c.Need, c.Name, c.Verdict, c.Asked, c.Use, c.Result()})
		}
		rows[i] = r
	}
	return rows
}

// Takeoff returns the measured quantities.
func (s *State) Takeoff() *takeoff.Project { s.judge(); return s.job.Takeoff }

// Sums is the summary of a state, with how its walls stand against what is asked.
type Sums struct {
	Totals
	Proof map[ProofState]int `json:"proof"`
}

// Totals sums the state up.
func (s *State) Totals() Sums {
	s.judge()
	t := Sums{s.job.Totals(), map[ProofState]int{}}
	for _, b := range s.briefs {
		t.Proof[b.Status.Proof]++
	}
	return t
}
