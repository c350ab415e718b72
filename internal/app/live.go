package app

import (
	"context"
	"io/fs"
	"reflect"
	"slices"
	"sync"

	"nogging/internal/catalogue"
	"nogging/internal/drawing/sheets"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/takeoff"
)

// Live follows a plan from edit to edit: Set takes the next version of the plan
// and works out again only what differs. What it gives is, byte for byte, what
// OfPlan, Build and Judge give of that plan by themselves.
//
// To fit all walls of a zone to boards (plan.SaveBoards) takes too long to be done at
// every edit: walls of such plans stand as they were fitted last, and new ones plainly,
// until Settled fits them anew.
//
// It may be used from several goroutines. States are fixed values, so that one can
// be read for as long as it takes while the plan moves on.
type Live struct {
	mu     sync.Mutex
	files  LiveFiles
	kept   layout.Kept
	shared rules
	state  *State
	zones  *zonePlans
	ways   map[string]layout.Way // of plans that ask for fewest boards, as chosen last
}

// LiveFiles are the files beside a plan. Read gives them by name, user catalogues
// by the names by which plans call them; it may be nil where there are none.
type LiveFiles struct {
	Read   ReadFile
	Rates  string   // the firm's rates; "" where there are none, and so no prices
	Prices []string // price lists, CSV files or workbooks
}

// rules is what a plan takes from its catalogues.
type rules struct {
	files     []string // as the plan names them
	catalogue *catalogue.Catalogue
	found     finding.List
}

// NewLive begins with a plan, every object of which has an id of its own
// (plan.Distinct).
func NewLive(p *plan.Plan, files LiveFiles) *Live {
	l := &Live{}
	l.use(files)
	l.set(p)
	return l
}

// Use takes other files beside the plan. The state is a new one even where they
// change nothing.
func (l *Live) Use(files LiveFiles) Delta {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.use(files)
	return l.set(l.state.job.Plan)
}

func (l *Live) use(files LiveFiles) {
	if files.Read == nil {
		files.Read = func(string) ([]byte, error) { return nil, fs.ErrNotExist }
	}
	l.files, l.shared, l.zones = files, rules{}, &zonePlans{}
}

// State returns the newest state.
func (l *Live) State() *State {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.state
}

// Delta says what a new version of the plan changed in the layout. What it changed
// in findings and proofs, State.Since tells.
type Delta struct {
	Walls   []string `json:"walls,omitempty"`   // new, laid out again, or given anew in the plan, in its order
	Removed []string `json:"removed,omitempty"` // no longer in the plan
	Levels  []string `json:"levels,omitempty"`  // on which these stand or stood
}

// Apply makes changes to the plan and lays out again what they bear on. The inverse
// takes them back. Findings refuse the changes whole; then nothing has happened.
func (l *Live) Apply(changes []plan.Change) (d Delta, inverse []plan.Change, refused finding.List) {
	l.mu.Lock()
	defer l.mu.Unlock()
	next, inverse, refused := l.state.job.Plan.Apply(changes)
	if refused != nil {
		return Delta{}, nil, refused
	}
	return l.set(next), inverse, nil
}

// Set takes the next version of the plan.
func (l *Live) Set(p *plan.Plan) Delta {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.set(p)
}

func (l *Live) set(p *plan.Plan) Delta {
	next := l.stateOf(p, &l.kept, l.ways)
	delta := next.deltaFrom(l.state)
	l.state = next
	return delta
}

// At gives the state of another version of the plan, such as an earlier revision,
// and leaves the newest as it is. What the two have in common is worked out once.
func (l *Live) At(p *plan.Plan) *State {
	l.mu.Lock()
	defer l.mu.Unlock()
	kept := l.kept
	return l.stateOf(p, &kept, l.ways)
}

// Settled returns the state of the newest plan with its walls fitted to boards where
// the plan asks for that; orders, cutting plans, prices and packs are to be made of it.
// The delta says what that changed in the layout. Most plans do not ask, and their
// newest state is settled. The error is that of ctx.
func (l *Live) Settled(ctx context.Context) (*State, Delta, error) {
	s := l.State()
	if !s.job.Plan.SaveBoards || s.job.saved != nil {
		return s, Delta{}, nil
	}
	j := &Job{Plan: s.job.Plan, Catalogue: s.job.Catalogue, Practice: s.job.Practice}
	switch err := j.saveBoards(ctx, layout.Prepare(j.Plan, j.Catalogue, j.Practice), Quiet); {
	case ctx.Err() != nil:
		return nil, Delta{}, ctx.Err()
	case err != nil:
		return s, Delta{}, nil // boards that cannot be cut, which the cutting plans say
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	kept := l.kept
	next := l.stateOf(j.Plan, &kept, j.saved.Ways)
	next.job.saved = j.saved
	delta := next.deltaFrom(l.state)
	if l.state == s {
		l.state, l.kept, l.ways = next, kept, j.saved.Ways
	} else {
		delta = Delta{} // the plan has moved on
	}
	return next, delta, nil
}

// stateOf checks a plan and lays it out.
func (l *Live) stateOf(p *plan.Plan, kept *layout.Kept, ways map[string]layout.Way) *State {
	if !p.SaveBoards {
		ways = nil
	}
	rules := l.rulesOf(p)
	practice := &Job{Plan: p, Catalogue: rules.catalogue, said: map[about]bool{}}
	practice.choosePractice()
	j := &Job{Plan: p, Catalogue: rules.catalogue, Practice: practice.Practice, said: map[about]bool{}, zones: l.zones}
	var checked finding.List
	each(2, func(i int) { // beside each other
		if i == 0 {
			checked = p.Validate()
		} else {
			j.Layout = kept.Of(p, j.Catalogue, j.Practice, ways)
		}
	})
	j.add(checked)
	j.Findings = append(j.Findings, rules.found...)
	j.add(practice.Findings)
	j.add(p.CheckProducts(j.ids))
	return newState(j, l.files, l.state)
}

// rulesOf merges the plan's catalogues, unless they are those of before.
func (l *Live) rulesOf(p *plan.Plan) rules {
	if l.shared.catalogue == nil || !slices.Equal(l.shared.files, p.Catalogue) {
		j := &Job{Plan: p, Catalogue: catalogue.Shipped(), said: map[about]bool{}}
		j.mergeAll("", l.files.Read)
		l.shared = rules{p.Catalogue, j.Catalogue, j.Findings}
	}
	return l.shared
}

// State is one version of a plan with everything that follows from it. What takes
// long is worked out when it is first asked for, and kept.
type State struct {
	files LiveFiles
	job   *Job // its findings and take-off are there once judged
	works []*work
	byID  map[string]*work

	judging sync.Once
	proofs  []WallProof // of each work
	stands  []Status    // their proof and needs
	briefs  map[string]WallBrief

	ordered once[*orderedJob]
	priced  once[*pricedBid]
	cut     once[*Cutting]
	drawn   [2]once[*sheets.Set] // metric and imperial
}

// work is one laid-out wall with what was worked out about it. It goes on from
// state to state while its layout does.
type work struct {
	laid *layout.Wall

	measuring sync.Once
	lines     []takeoff.Line
	shape     shape

	mu      sync.Mutex
	rooms   []plan.Stretch
	roomsOf []plan.Room
	asked   *proofInputs
	proof   WallProof
	stands  Status // its proof and needs
}

func newState(j *Job, files LiveFiles, before *State) *State {
	s := &State{
		files: files, job: j, works: make([]*work, len(j.Layout.Walls)), byID: make(map[string]*work, len(j.Layout.Walls)),
		ordered: newOnce[*orderedJob](), priced: newOnce[*pricedBid](), cut: newOnce[*Cutting](),
		drawn: [2]once[*sheets.Set]{newOnce[*sheets.Set](), newOnce[*sheets.Set]()},
	}
	for i, laid := range j.Layout.Walls {
		if before != nil && before.byID[laid.ID] != nil && before.byID[laid.ID].laid == laid {
			s.works[i] = before.byID[laid.ID]
		} else {
			s.works[i] = &work{laid: laid}
		}
		s.byID[laid.ID] = s.works[i]
	}
	return s
}

// Plan returns the plan, which must not be changed.
func (s *State) Plan() *plan.Plan { return s.job.Plan }

// deltaFrom compares two states wall by wall.
func (s *State) deltaFrom(before *State) Delta {
	var d Delta
	old, levels := map[string]*plan.Wall{}, map[string]bool{}
	if before != nil {
		for i := range before.job.Plan.Walls {
			w := &before.job.Plan.Walls[i]
			old[w.ID] = w
		}
	}
	for i := range s.job.Plan.Walls {
		w := &s.job.Plan.Walls[i]
		was := old[w.ID]
		delete(old, w.ID)
		if was == nil || s.byID[w.ID] != before.byID[w.ID] || s.byID[w.ID] == nil && !reflect.DeepEqual(was, w) {
			d.Walls = append(d.Walls, w.ID)
			levels[w.Level] = true
			if was != nil {
				levels[was.Level] = true
			}
		}
	}
	if before != nil {
		for i := range before.job.Plan.Walls {
			if w := &before.job.Plan.Walls[i]; old[w.ID] == w {
				d.Removed = append(d.Removed, w.ID)
				levels[w.Level] = true
			}
		}
	}
	for _, p := range []*State{s, before} {
		for i := 0; p != nil && i < len(p.job.Plan.Levels); i++ {
			if id := p.job.Plan.Levels[i].ID; levels[id] {
				d.Levels = append(d.Levels, id)
				delete(levels, id)
			}
		}
	}
	return d
}

// Layout returns where every part is.
func (s *State) Layout() *layout.Project { return s.job.Layout }
