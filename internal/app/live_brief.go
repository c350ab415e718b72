package app

import (
	"reflect"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/quantity"
)

// ProofState says how a wall stands against what is asked of it.
type ProofState string

// The proof states, gravest first.
const (
	NotMet    ProofState = "not_met"
	NotProven ProofState = "not_proven"
	Met       ProofState = "met"
	NotAsked  ProofState = "not_asked"
)

// Corner is a point in plan, written [x, y] in millimetres.
type Corner [2]quantity.Length

// WallBrief is what a plan on the screen shows of a wall.
type WallBrief struct {
	ID        string          `json:"id"`
	Level     string          `json:"level"`
	Outline   []Corner        `json:"outline"`         // of the finished body, joints resolved
	Parts     [][]Corner      `json:"parts,omitempty"` // of a wall through which others run: its stretches; outline goes round them all
	Openings  []OpeningBrief  `json:"openings,omitempty"`
	Length    quantity.Length `json:"length"` // of its line
	Height    quantity.Length `json:"height"` // greatest
	BuildUp   string          `json:"buildup"`
	Thickness quantity.Length `json:"thickness"`
	LaidOut   bool            `json:"laid_out"`        // false: an error keeps it from being laid out, and the outline is that of its line
	Rooms     []*string       `json:"rooms,omitempty"` // ids at face A and at face B, along its longest stretch; null where none is
	Status    Status          `json:"status"`
}

// Status is the worst that is to be told about a wall.
type Status struct {
	Findings finding.Severity `json:"findings"` // "" for none
	Proof    ProofState       `json:"proof"`
	Needs    []NeedBrief      `json:"needs,omitempty"`
}

// NeedBrief is the gravest check of a wall for one need of which something is asked,
// or which it fails.
type NeedBrief struct {
	Need    proof.Need    `json:"need"`
	Name    string        `json:"name"`
	Verdict proof.Verdict `json:"verdict"`
	Asked   string        `json:"asked,omitempty"`
	Got     string        `json:"got,omitempty"` // the figure, or what is missing
	Use     float64       `json:"use,omitempty"` // utilisation, 1 at the limit
}

// needsOf sums up checks need by need, in their order.
func needsOf(checks []proof.Check) []NeedBrief {
	var list []NeedBrief
	for i := range checks {
		c := &checks[i]
		if c.Asked == "" && c.Verdict != proof.Fails {
			continue
		}
		at := slices.IndexFunc(list, func(n NeedBrief) bool { return n.Need == c.Need })
		n := NeedBrief{c.Need, c.Name, c.Verdict, c.Asked, c.Result(), c.Use}
		switch {
		case at < 0:
			list = append(list, n)
		case graver(n, list[at]):
			list[at] = n
		}
	}
	return list
}

// graver reports whether a check says worse than another, or is nearer to its limit.
func graver(a, b NeedBrief) bool {
	if a.Verdict == b.Verdict {
		return a.Use > b.Use
	}
	return proof.Worst([]proof.Check{{Verdict: a.Verdict}, {Verdict: b.Verdict}}) == a.Verdict
}

// OpeningBrief is an opening on the screen.
type OpeningBrief struct {
	ID      string           `json:"id"`
	U0      quantity.Length  `json:"u0"` // along the wall's axis
	U1      quantity.Length  `json:"u1"`
	Sill    quantity.Length  `json:"sill"`
	Head    quantity.Length  `json:"head"`
	Kind    plan.OpeningKind `json:"kind"`
	Pocket  string           `json:"pocket,omitempty"` // side into which a sliding leaf runs: start or end
	Outline []Corner         `json:"outline"`
}

// shape is what a layout alone tells of a wall on the screen.
type shape struct {
	outline  []Corner
	parts    [][]Corner
	openings []OpeningBrief
	height   quantity.Length
}

// screen is how exactly places on the screen are given.
const screen = quantity.Millimetre / 100

// curveOnScreen is how far the straight parts of a curve may lie off it.
const curveOnScreen = 2 * quantity.Millimetre

func corners(points []geom.Point) []Corner {
	list := make([]Corner, len(points))
	for i, p := range points {
		list[i] = Corner{p.X.Round(screen), p.Y.Round(screen)}
	}
	return list
}

// shapeOf draws a laid-out wall.
func shapeOf(laid *layout.Wall) shape {
	var s shape
	half := laid.Thickness / 2
	runs := laid.Body()
	for _, r := range runs {
		s.parts = append(s.parts, corners(laid.Between(r[1], r[0], curveOnScreen)))
	}
	if len(runs) > 0 {
		first, last := runs[0], runs[len(runs)-1]
		s.outline = corners(laid.Between(geom.Interval{From: first[1].From, To: last[1].To}, geom.Interval{From: first[0].From, To: last[0].To}, curveOnScreen))
	}
	if len(runs) < 2 {
		s.parts = nil
	}
	for _, o := range laid.Openings {
		b := OpeningBrief{ID: o.ID, U0: o.U.From, U1: o.U.To, Sill: o.Sill, Head: o.Head, Kind: o.Kind, Outline: corners(laid.Ground(o.U, -half, half, curveOnScreen))}
		if o.Pocket != nil {
			if b.Pocket = plan.AtEnd; o.Pocket.From < o.U.From {
				b.Pocket = plan.AtStart
			}
		}
		s.openings = append(s.openings, b)
	}
	for _, p := range laid.Top {
		s.height = max(s.height, p.Y)
	}
	return s
}

// brief makes the briefs of all walls of the plan.
func (s *State) brief(specs map[string]*plan.Wall) {
	p := s.job.Plan
	status := make(map[string]Status, len(p.Walls))
	for i, w := range s.works {
		status[w.laid.ID] = s.stands[i]
	}
	note := func(wall string, severity finding.Severity) {
		st := status[wall]
		if st.Findings == "" || slices.Index(finding.Severities(), severity) < slices.Index(finding.Severities(), st.Findings) {
			st.Findings = severity
			status[wall] = st
		}
	}
	for _, f := range s.job.Findings {
		if i, ok := wallOf(f.Path); ok && i < len(p.Walls) {
			note(p.Walls[i].ID, f.Severity)
		}
		if specs[f.Other] != nil {
			note(f.Other, f.Severity)
		}
	}
	s.briefs = make(map[string]WallBrief, len(p.Walls))
	for id, spec := range specs {
		s.briefs[id] = s.briefOf(spec, status[id])
	}
}

func (s *State) briefOf(spec *plan.Wall, st Status) WallBrief {
	b := WallBrief{ID: spec.ID, Level: spec.Level, BuildUp: spec.BuildUp, Length: spec.Length(), Thickness: spec.Thickness, Status: st}
	if w := s.byID[spec.ID]; w != nil {
		w.mu.Lock()
		defer w.mu.Unlock()
		if w.shape.outline == nil {
			if w.shape = shapeOf(w.laid); len(w.shape.outline) == 0 {
				w.shape.outline = drawnOutline(spec) // it is too short for a frame
			}
		}
		b.LaidOut, b.BuildUp, b.Thickness = true, w.laid.BuildUp, w.laid.Thickness
		b.Outline, b.Parts, b.Openings, b.Height = w.shape.outline, w.shape.parts, w.shape.openings, w.shape.height
		b.Rooms = roomIDs(w.rooms)
		return b
	}
	if b.Height = spec.Height; b.Height == 0 {
		if l := s.job.Plan.LevelByID(spec.Level); l != nil {
			b.Height = l.ClearHeight
		}
	}
	if b.Status.Proof = NotAsked; spec.Require != (plan.Requirements{}) {
		b.Status.Proof = NotProven
	}
	b.Outline = drawnOutline(spec)
	return b
}

// assumedThickness is how thick walls are drawn that cannot be laid out and of which
// the plan gives no thickness.
const assumedThickness = 100 * quantity.Millimetre

// drawnOutline is the body of a wall that cannot be laid out.
func drawnOutline(w *plan.Wall) []Corner {
	if len(w.Line) != 2 {
		return []Corner{}
	}
	half := w.Thickness / 2
	if half <= 0 {
		half = assumedThickness / 2
	}
	if arc, ok := w.Arc(); ok {
		e := geom.Interval{To: arc.Length()}
		outline, back := arc.Points(e, -half, curveOnScreen), arc.Points(e, half, curveOnScreen)
		slices.Reverse(back)
		return corners(append(outline, back...))
	}
	line := geom.Segment{A: geom.Point(w.Line[0]), B: geom.Point(w.Line[1])}
	f, l := geom.FrameOf(line), line.Length()
	return corners([]geom.Point{f.Global(0, -half), f.Global(l, -half), f.Global(l, half), f.Global(0, half)})
}

// roomIDs names the rooms along the longest stretch of a wall.
func roomIDs(stretches []plan.Stretch) []*string {
	if len(stretches) == 0 {
		return nil
	}
	longest := stretches[0]
	for _, s := range stretches[1:] {
		if s.Len() > longest.Len() {
			longest = s
		}
	}
	ids := make([]*string, 2)
	for i, r := range longest.Rooms {
		if r != nil {
			ids[i] = &r.ID
		}
	}
	return ids
}

// stateOf sums up what is asked of a wall.
func stateOf(checks []proof.Check) ProofState {
	var asked []proof.Check
	for _, c := range checks {
		if c.Asked != "" {
			asked = append(asked, c)
		}
	}
	switch proof.Worst(asked) {
	case proof.Fails:
		return NotMet
	case proof.NotProven:
		return NotProven
	case proof.Passes:
		return Met
	}
	return NotAsked
}

// wallOf returns the number of the wall in which a path leads.
func wallOf(path string) (int, bool) {
	rest, ok := strings.CutPrefix(path, "walls[")
	if !ok {
		return 0, false
	}
	number, _, ok := strings.Cut(rest, "]")
	i, err := strconv.Atoi(number)
	return i, ok && err == nil && i >= 0
}

// Briefs returns the briefs of walls of the plan by their ids, in the order given;
// ids that the plan does not have are left out.
func (s *State) Briefs(ids []string) []WallBrief {
	s.judge()
	list := make([]WallBrief, 0, len(ids))
	for _, id := range ids {
		if b, ok := s.briefs[id]; ok {
			list = append(list, b)
		}
	}
	return list
}

// Outlines returns briefs as Briefs does, without waiting for proofs and findings:
// what a wall's status was for the same layout before, or an empty one.
func (s *State) Outlines(ids []string) []WallBrief {
	specs := specsOf(s.job.Plan)
	list := make([]WallBrief, 0, len(ids))
	for _, id := range ids {
		if spec := specs[id]; spec != nil {
			list = append(list, s.briefOf(spec, s.stoodAs(id)))
		}
	}
	return list
}

// stoodAs returns how a wall of this layout was proven last.
func (s *State) stoodAs(id string) Status {
	w := s.byID[id]
	if w == nil {
		return Status{}
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.stands
}

// LevelOutlines returns the outlines of the walls of a level; false if the plan has
// no such level.
func (s *State) LevelOutlines(id string) ([]WallBrief, bool) {
	var ids []string
	for i := range s.job.Plan.Walls {
		if s.job.Plan.Walls[i].Level == id {
			ids = append(ids, s.job.Plan.Walls[i].ID)
		}
	}
	return s.Outlines(ids), s.job.Plan.LevelByID(id) != nil
}

// Since returns the briefs that differ from those of a state before, in the order
// of the plan, and the ids of the walls that are gone. Of a nil state all differ.
func (s *State) Since(before *State) (changed []WallBrief, removed []string) {
	s.judge()
	old := map[string]WallBrief{}
	if before != nil {
		before.judge()
		old = before.briefs
		for i := range before.job.Plan.Walls {
			if id := before.job.Plan.Walls[i].ID; !has(s.briefs, id) {
				removed = append(removed, id)
			}
		}
	}
	for i := range s.job.Plan.Walls {
		is := s.briefs[s.job.Plan.Walls[i].ID]
		if was, there := old[is.ID]; !there || !reflect.DeepEqual(was, is) {
			changed = append(changed, is)
		}
	}
	return changed, removed
}

func has[T any](m map[string]T, id string) bool { _, ok := m[id]; return ok }

// LevelView is what a plan on the screen shows of a level.
type LevelView struct {
	Level     string            `json:"level"`
	Walls     []WallBrief       `json:"walls"`
	Rooms     []RoomBrief       `json:"rooms"`
	Junctions []layout.Junction `json:"junctions"`
	Findings  finding.List      `json:"findings"` // about what stands on the level
}

// RoomBrief is a room with what was reckoned of it.
type RoomBrief struct {
	ID     string  `json:"id"`
	Name   string  `json:"name,omitempty"`
	Use    string  `json:"use,omitempty"`
	Area   float64 `json:"area"`   // m², inside its outline
	Volume float64 `json:"volume"` // m³, under the level's clear height
}

// Level returns what is on a level; false if the plan has no such level.
func (s *State) Level(id string) (LevelView, bool) {
	s.judge()
	p := s.job.Plan
	v := LevelView{Level: id, Walls: []WallBrief{}, Rooms: []RoomBrief{}, Junctions: []layout.Junction{}, Findings: finding.List{}}
	if p.LevelByID(id) == nil {
		return v, false
	}
	for i := range p.Walls {
		if p.Walls[i].Level == id {
			v.Walls = append(v.Walls, s.briefs[p.Walls[i].ID])
		}
	}
	for i := range p.Rooms {
		if r := &p.Rooms[i]; r.Level == id {
			v.Rooms = append(v.Rooms, RoomBrief{r.ID, r.Name, r.Use, r.Area().SquareMetres(), float64(p.Volume(r))})
		}
	}
	for _, x := range s.job.Layout.Junctions {
		if x.Level == id {
			v.Junctions = append(v.Junctions, x)
		}
	}
	for _, f := range s.job.Findings {
		if levelOf(p, f) == id {
			v.Findings = append(v.Findings, f)
		}
	}
	return v, true
}

// levelOf returns the level on which a finding's object stands, or "".
func levelOf(p *plan.Plan, f finding.Finding) string {
	list, rest, _ := strings.Cut(f.Path, "[")
	number, _, _ := strings.Cut(rest, "]")
	i, err := strconv.Atoi(number)
	switch {
	case err != nil || i < 0:
	case list == "walls" && i < len(p.Walls):
		return p.Walls[i].Level
	case list == "rooms" && i < len(p.Rooms):
		return p.Rooms[i].Level
	case list == "structure" && i < len(p.Structure):
		return p.Structure[i].Level
	case list == "levels" && i < len(p.Levels):
		return p.Levels[i].ID
	}
	return ""
}
