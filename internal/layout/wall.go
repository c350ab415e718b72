package layout

import (
	"fmt"
	"slices"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// Why a part is where it is: the practice value or the need that put it there.
const (
	ruleModule   = "stud_spacing"
	ruleBay      = "stud_spacing: a bay would be wider"
	ruleEnd      = "wall end"
	ruleStep     = "step in the soffit"
	ruleJunction = "junction: holds the other wall"
	ruleControl  = "movement joint over the head"
	ruleSlit     = "junction: holds the edge of cut boards"
	ruleTrack    = "tracks between openings"
	ruleHeader   = "opening"
	ruleJoint    = "board joint"
	ruleGround   = "backing for a fixing"
	ruleBacking  = "cross_joint_backing"
)

// wallLayout lays out one wall.
type wallLayout struct {
	body      *body
	spec      *buildup.BuildUp
	cat       *catalogue.Catalogue
	pr        *catalogue.Practice
	out       *Wall
	studDrop  Length
	headTrack *catalogue.Profile
	numbers   map[string]int
	toldHead  map[string]bool // findings about the head that were told
	room      *bench
	bent      map[sheet]Bend // of a curved wall
	way       variant        // in which the run at hand is laid out
	wanted    Way            // in which the wall shall be laid out where that is as right
}

// layWall lays out one wall whose junctions are settled, in the way that is asked if
// the wall is then as right as without.
func layWall(b *body, cat *catalogue.Catalogue, pr *catalogue.Practice, asked Way, room *bench) *Wall {
	w := layOnce(b, cat, pr, Way{}, room)
	if asked == (Way{}) {
		return w
	}
	if other := layOnce(b, cat, pr, asked, room); needing(other.Findings) <= needing(w.Findings) {
		return other
	}
	return w
}

// layOnce lays out one wall. Its lists grow in the bench, which serves one wall after
// another.
func layOnce(b *body, cat *catalogue.Catalogue, pr *catalogue.Practice, asked Way, room *bench) *Wall {
	w := &wallLayout{body: b, spec: b.spec, cat: cat, pr: pr, numbers: map[string]int{}, room: room, wanted: asked}
	w.out = &Wall{
		ID: b.wall.ID, Level: b.level.ID, BuildUp: b.spec.Spec.ID,
		Line: b.axis, Frame: b.frame, Thickness: b.spec.Thickness, Finish: b.spec.Spec.Finish,
		Top: profileOf(b.wall, b.level, b.length),
	}
	w.curve()
	w.out.Head = headOf(b, pr, &w.out.Findings)
	w.out.Base, w.out.Head.Cap = b.wall.Foot(b.level), w.capDepth()
	w.setFoot()
	w.packHead()
	w.studDrop = studDrop(w.out.Head, pr) + w.out.Head.Cap + w.out.Head.Pack
	w.headTrack = w.chooseHeadTrack()
	w.setOpenings()
	w.setFixtures()
	room.lend(w.out)
	runs := w.divide(b.runs())
	w.out.Ends = [2]Abutment{abutment(runs[0].from), abutment(runs[len(runs)-1].to)}
	w.layRuns(runs)
	w.checkOpenings()
	w.checkNeighbours()
	w.checkPockets()
	w.checkTees()
	w.setBoxes()
	w.setFireStops()
	w.backCrossJoints()
	w.setGrounds()
	w.setPipes()
	w.closeEnds(runs)
	w.fasten()
	w.holdFurring()
	w.setLiner()
	w.tieBack()
	w.splice()
	w.number()
	w.markCutouts()
	w.unroll()
	room.takeBack(w.out)
	return w.out
}

func abutment(c cut) Abutment { return Abutment{Kind: c.kind, With: c.with, Through: c.through} }

// layRuns frames and boards every run of the wall.
func (w *wallLayout) layRuns(runs []run) {
	w.startFaces(runs)
	for i := range runs {
		r := runs[i]
		if w.shortest(r) < w.spec.Stud.Flange {
			w.find(finding.Error, "wall-too-short", "has no room left for a stud between what it meets at its two ends",
				"check the wall's line, or leave it out")
			continue
		}
		w.layRun(r)
	}
}

// shortest returns the length of a run's shortest frame line.
func (w *wallLayout) shortest(r run) Length {
	least := r.frameExtent(0, 0).Len()
	for _, offset := range w.body.lineOffsets() {
		least = min(least, r.frameExtent(offset, w.spec.FrameDepth()).Len())
	}
	return least
}

func (w *wallLayout) find(s finding.Severity, code string, what, fix words.Text) {
	w.out.Findings.Add(finding.Finding{Code: code, Severity: s, Object: w.body.wall.ID, What: what, Fix: fix})
}

// frameRun sets the frame lines of one run and returns their indices.
func (w *wallLayout) frameRun(r run, module Length) []int {
	var lines []int
	depth := w.spec.FrameDepth()
	for _, offset := range w.body.lineOffsets() {
		line := len(w.out.FrameLines)
		extent := r.frameExtent(offset, depth)
		w.out.FrameLines = append(w.out.FrameLines, FrameLine{
			Offset: offset, Depth: depth, Extent: extent,
			Stud: w.spec.Stud.ID, Track: w.spec.Track.ID, Spacing: w.spec.Spacing, cuts: [2]cut{r.from, r.to},
		})
		lines = append(lines, line)
	}
	w.decidePenetrations(r, module, lines)
	for _, line := range lines {
		f := framer{wallLayout: w, run: r, line: line, extent: w.out.FrameLines[line].Extent, module: module}
		f.frame()
	}
	return lines
}

// chooseHeadTrack returns the track at the soffit: one with long legs where
// the head slides further than the ordinary track can hold.
func (w *wallLayout) chooseHeadTrack() *catalogue.Profile {
	track, gap := w.spec.Track, w.out.Head.Gap
	need := gap + w.pr.HeadEngagement.Value
	if gap == 0 || track.Flange >= need {
		return track
	}
	if deep, ok := w.cat.DeepTrackFor(w.spec.Stud.ID); ok {
		track = deep
	}
	if track.Flange < need {
		w.find(finding.Warning, "head-track-short",
			words.F("the soffit moves by %s mm, which needs a head track with %s mm legs; %s has %s mm", gap, need, track.ID, track.Flange),
			"use a head track with longer legs, or ask for less deflection of the slab above")
	}
	return track
}

// setOpenings takes the plan's openings over, left to right.
func (w *wallLayout) setOpenings() {
	for i := range w.body.wall.Openings {
		o := &w.body.wall.Openings[i]
		if o.Width <= 0 || o.Height <= 0 || o.At < 0 || o.At+o.Width > w.body.length ||
			o.Sill >= w.out.Top.Min(o.At, o.At+o.Width)-w.studDrop || o.Sill+o.Height <= w.out.Base {
			continue // the plan's own check has said so
		}
		id := w.body.wall.OpeningID(i)
		jamb, stud, rule := w.jambOf(o, id)
		laid := Opening{
			ID: id, Kind: o.Kind, LeafMass: o.LeafMass, HungMass: o.HungMass, Sound: o.Sound, Service: o.Service, Diameter: o.Diameter,
			U: geom.Interval{From: o.At, To: o.At + o.Width}, Clear: w.clearWidth(i),
			Leaf: o.Leaf, Sill: w.sillOf(o), Head: o.Sill + o.Height, base: w.out.Base,
			Rule: rule, jamb: jamb, stud: stud, framed: o.Kind != plan.Penetration,
		}
		w.setPocket(&laid, o)
		w.out.Openings = append(w.out.Openings, laid)
	}
	slices.SortStableFunc(w.out.Openings, func(a, b Opening) int { return compare(a.U.From, b.U.From) })
	w.out.Openings = slices.DeleteFunc(w.out.Openings, w.overlapsEarlier())
	w.dropPockets()
}

// overlapsEarlier drops openings that overlap one before them, which the
// plan's own check has reported.
func (w *wallLayout) overlapsEarlier() func(Opening) bool {
	var kept []Opening
	return func(o Opening) bool {
		for _, k := range kept {
			if k.U.Overlaps(o.U) && k.Sill < o.Head && o.Sill < k.Head {
				return true
			}
		}
		kept = append(kept, o)
		return false
	}
}

// jambOf decides the jambs of an opening by the practice's rule.
func (w *wallLayout) jambOf(o *plan.Opening, id string) (catalogue.Jamb, *catalogue.Profile, string) {
	if o.Kind == plan.Penetration {
		return "", w.spec.Stud, "penetration"
	}
	height := w.out.Top.Max(o.At, o.At+o.Width)
	leaf, said := o.LeafMass, fmt.Sprintf("leaf %g kg", o.LeafMass)
	switch {
	case o.Kind == plan.Window || o.Kind == plan.Bare:
		leaf, said = noLeaf, "no leaf"
	case leaf == 0:
		said = "leaf of unknown mass"
	}
	width := w.straightWidth(o)
	row, _ := w.pr.JambFor(leaf, width, height)
	if leaf == 0 {
		w.out.Findings.Add(finding.Finding{
			Code: "leaf-mass-unknown", Severity: finding.Assumed, Object: id,
			What: words.F("the mass of the leaf is not given; its jambs are made for a heavy one: %s", row.Jamb.Words()),
			Fix:  "write `leaf_mass` in kg, with the hardware",
		})
	}
	stud, made := w.jambStud(row)
	w.checkLeaf(o, id, row.Jamb)
	return row.Jamb, stud, fmt.Sprintf("jambs: %s, %s mm wide, wall %s mm high: %s", said, width, height, made)
}

// noLeaf is the leaf mass in kg for openings that carry none: small, but known.
const noLeaf = 1e-9

// decidePenetrations frames the penetrations in which an upright of the run would
// stand, or which fill a bay. One that gets a frame moves studs, so all are asked
// again until none is met.
func (w *wallLayout) decidePenetrations(r run, module Length, lines []int) {
	for again := true; again; {
		again = false
		for i := range w.out.Openings {
			o := &w.out.Openings[i]
			if o.Kind != plan.Penetration || o.framed || !w.out.FrameLines[lines[0]].Extent.Overlaps(o.U) {
				continue
			}
			o.framed = o.U.Len()+2*w.spec.Stud.Flange > w.spec.Spacing || w.trimmed(o)
			for _, line := range lines {
				f := framer{wallLayout: w, run: r, line: line, extent: w.out.FrameLines[line].Extent, module: module}
				o.framed = o.framed || f.meets(*o)
			}
			again = again || o.framed
		}
	}
}

// add files a member.
func (w *wallLayout) add(m Member) { w.out.Members = append(w.out.Members, m) }

// number gives each role its running numbers from left to right, line by line.
func (w *wallLayout) number() {
	w.sortMembers()
	for i := range w.out.Members {
		m := &w.out.Members[i]
		letter := m.letter()
		w.numbers[letter]++
		m.Number = w.numbers[letter]
	}
}

// sortMembers sorts members line by line, from left to right and from below
// upwards.
func (w *wallLayout) sortMembers() {
	slices.SortStableFunc(w.out.Members, func(a, b Member) int {
		switch {
		case a.Line != b.Line:
			return a.Line - b.Line
		case a.From.X != b.From.X:
			return compare(a.From.X, b.From.X)
		}
		return compare(a.From.Y, b.From.Y)
	})
}

// ground sets noggings at height z between the uprights that bound the span,
// and returns how much of the span they and close studs back. A nogging that is there already
// serves.
func (w *wallLayout) ground(z Length, span geom.Interval, line int) (backed Length) {
	var left *Member
	var set []Member
	for _, m := range w.uprights(line) {
		if z < m.From.Y || z > m.To.Y {
			continue
		}
		if left != nil && left.From.X < span.To && span.From < m.From.X && !w.open(left.From.X, m.From.X, z) {
			backed += min(m.From.X, span.To) - max(left.From.X, span.From)
			set = append(set, Member{
				Role: Nogging, Line: line, Product: w.spec.Track.ID, Rule: ruleGround, Width: w.spec.Track.Flange,
				From: geom.Pt(left.From.X, z), To: geom.Pt(m.From.X, z), Cut: m.From.X - left.From.X,
			})
		}
		left = m
	}
	for _, n := range set {
		if n.Cut >= leastNogging && !w.hasNogging(n) {
			w.add(n)
		}
	}
	return backed
}

// open reports whether an opening lies between two uprights at height z.
func (w *wallLayout) open(from, to, z Length) bool {
	for _, o := range w.out.Openings {
		if bay := o.Bay(); bay.From < to && from < bay.To && o.Sill <= z && z <= o.Top() {
			return true
		}
	}
	return false
}

// uprights lists the standing members of a frame line from left to right, one
// of each boxed pair.
func (w *wallLayout) uprights(line int) []*Member {
	count := 0
	for i := range w.out.Members {
		if m := &w.out.Members[i]; m.Line == line && m.Upright() {
			count++
		}
	}
	list := make([]*Member, 0, count)
	for i := range w.out.Members {
		if m := &w.out.Members[i]; m.Line == line && m.Upright() {
			list = append(list, m)
		}
	}
	slices.SortStableFunc(list, func(a, b *Member) int { return compare(a.From.X, b.From.X) })
	return slices.CompactFunc(list, func(a, b *Member) bool { return a.PairedWith(b) })
}

// Framed reports whether studs and tracks make way for the opening: true for
// all but small holes between two studs.
func (w *Wall) Framed(o Opening) bool { return o.framed }
