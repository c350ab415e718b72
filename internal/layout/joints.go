package layout

import (
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// candidate is a place where a vertical board joint may fall.
type candidate struct {
	u       Length
	cost    int
	opening *Opening // over or under this opening a cripple is added if the joint falls here
	add     bool     // a stud is added if the joint falls here
}

// Costs by which the joints of a layer are chosen. Only their ratios matter:
// a joint on the same stud as a facing one is worse than anything, then slivers,
// then further pieces, and last a joint that leaves the run of full boards.
const (
	costPiece    = 100
	costStagger  = 100_000
	costClose    = 500    // a joint nearer to a facing one than leastStagger
	costJamb     = 20_000 // nearer to an opening's side than the practice allows
	costSliver   = 1500   // narrower than the practice's least piece
	costAround   = 60     // a piece that goes all round an opening
	costCripple  = 150    // a cripple only for this joint
	costStud     = 400    // a stud only for this joint
	costNarrow   = 40     // shared out by how much narrower than a board a piece is
	costOffStud  = 20     // a stud that is not on the module
	costOffPhase = 12     // a joint that is not a full board from the last
)

// leastStagger is how far joints of facing faces and neighbouring layers are
// kept apart where it costs no more than a stud (common practice: a stud bay;
// closer only beside openings).
const leastStagger = 250 * quantity.Millimetre

// layerPlan is where the vertical joints of one layer fall.
type layerPlan struct {
	face   plan.Face
	k      int // layer, from 0 at the frame
	board  *catalogue.Board
	extent geom.Interval
	line   int           // of the frame that carries it
	cuts   []Length      // extent's ends and the joints between them
	width  Length        // of a whole board along u
	lying  bool          // the boards' long sides lie along the wall: this is one course of them
	course geom.Interval // heights between which it lies
	first  bool          // the lowest course
	last   bool          // the top course
}

// planLayers chooses the vertical joints of every layer of a run, face by face
// and from the frame outwards.
func (w *wallLayout) planLayers(r run, module Length, lines []int) []*layerPlan {
	var plans []*layerPlan
	depth := max(len(w.spec.A), len(w.spec.B))
	for k := range depth {
		for side, f := range bothFaces {
			boards := w.spec.Boards(f)
			if k >= len(boards) {
				continue
			}
			for _, extent := range w.stretches(r, f, k) {
				l := &layerPlan{face: f, k: k, board: boards[k], extent: extent, line: lines[side*(len(lines)-1)], width: boards[k].Width}
				if w.body.arc != nil {
					plans = w.planBent(l, module, plans)
					continue
				}
				w.chooseJoints(l, module, plans)
				plans = append(plans, l)
			}
		}
	}
	return plans
}

// mustAvoid lists the joints from which those of l have to be staggered: those
// of the facing layer and of the layer beneath.
func mustAvoid(l *layerPlan, plans []*layerPlan) []Length {
	var us []Length
	for _, o := range plans {
		if (o.face != l.face && o.k == l.k || o.face == l.face && o.k == l.k-1) && l.beside(o) || l.follows(o) {
			us = append(us, o.cuts[1:len(o.cuts)-1]...)
		}
	}
	return us
}

// chooseJoints finds the cheapest row of joints over the candidates, by
// dynamic programming from left to right.
func (w *wallLayout) chooseJoints(l *layerPlan, module Length, plans []*layerPlan) {
	nodes := w.candidates(l, module, mustAvoid(l, plans))
	best, prev := w.cheapest(nodes, l.width)
	last := len(nodes) - 1
	if best[last] < 0 {
		w.breakEvenly(l)
		return
	}
	cuts := 1
	for j := last; j > 0; j = prev[j] {
		cuts++
	}
	l.cuts = make([]Length, 0, cuts)
	for j := last; j > 0; j = prev[j] {
		w.carry(nodes[j], l.line)
		l.cuts = append(l.cuts, nodes[j].u)
	}
	l.cuts = append(l.cuts, l.extent.From)
	slices.Reverse(l.cuts)
	w.tellJoints(l, best[last])
}

// tellJoints tells of joints that break a rule because none other was to be had.
func (w *wallLayout) tellJoints(l *layerPlan, cost int) {
	if cost >= costStagger {
		w.find(finding.Warning, "joints-not-staggered",
			words.F("joints of face %s, layer %d fall on the same stud as those of the facing layer or the layer beneath", faceName(l.face), l.k+1),
			words.F("use boards at least twice as wide as the stud spacing of %s mm, or move an opening", w.spec.Spacing))
	}
	for _, u := range l.cuts[1 : len(l.cuts)-1] {
		if w.atJamb(u) {
			w.find(finding.Warning, "joint-at-jamb",
				words.F("a joint of face %s, layer %d stands %s mm from the start, nearer to the side of an opening than the practice's %s mm", faceName(l.face), l.k+1, mm(u), w.pr.JointJamb.Value),
				"move the opening, or use wider boards")
		}
	}
}

// cheapest finds, for each candidate, the least cost of the joints up to it and
// the candidate before; a cost below zero says that none reaches it.
func (w *wallLayout) cheapest(nodes []candidate, width Length) (best, prev []int) {
	best, prev = w.room.row(len(nodes))
	for j := 1; j < len(nodes); j++ {
		best[j] = -1
		for i := j - 1; i >= 0 && nodes[j].u-nodes[i].u <= width; i-- {
			if best[i] < 0 {
				continue
			}
			if c := best[i] + nodes[j].cost + w.pieceCost(nodes[i].u, nodes[j].u, width); best[j] < 0 || c < best[j] {
				best[j], prev[j] = c, i
			}
		}
	}
	return best, prev
}

func faceName(f plan.Face) string {
	if f == plan.FaceA {
		return "A"
	}
	return "B"
}

// breakEvenly is what is left when no stud stands where a joint could fall:
// joints at board widths, and a finding.
func (w *wallLayout) breakEvenly(l *layerPlan) {
	for u := l.extent.From; u < l.extent.To; u += l.width {
		l.cuts = append(l.cuts, u)
	}
	l.cuts = append(l.cuts, l.extent.To)
	w.find(finding.Warning, "joint-without-stud",
		words.F("boards %s mm wide on face %s, layer %d find no stud for their joints between the openings", l.width, faceName(l.face), l.k+1),
		"use wider boards, a smaller stud spacing, or move an opening")
}

// pieceCost rates a piece from one joint to the next.
func (w *wallLayout) pieceCost(from, to, width Length) int {
	cost := costPiece + int(costNarrow*(width-to+from)/width)
	if least := w.pr.MinPiece.Value; to-from < least {
		cost += costSliver - costSliver/2*int(to-from)/int(least)
	}
	for _, o := range w.out.Openings {
		if o.framed && from < o.U.From && o.U.To < to {
			cost += costAround
		}
	}
	return cost
}

// candidates lists where joints of a layer may fall: on studs clear of the
// sides of openings, on cripples that can be added over openings, and on studs
// that can be added in the middle of a bay; before and behind them the layer's
// two ends.
func (w *wallLayout) candidates(l *layerPlan, module Length, avoid []Length) []candidate {
	list := append(w.room.nodes[:0], candidate{u: l.extent.From})
	same := w.spec.Stud.Flange / 2
	add := func(c candidate) {
		if c.u <= l.extent.From+same || c.u >= l.extent.To-same || w.inCorner(c.u) || w.atFrame(c.u, l.line) {
			return
		}
		if w.atJamb(c.u) {
			c.cost += costJamb
		}
		if !w.onPhase(l, module, c.u) {
			c.cost += costOffPhase
		}
		c.cost += staggerCost(c.u, avoid, same)
		list = append(list, c)
	}
	studs := w.uprights(l.line)
	last := l.extent.From
	for _, m := range studs {
		if m.From.X == last || m.Role == EndStud || m.Role == OpeningStud || m.Role == PocketRib {
			continue
		}
		last = m.From.X
		c := candidate{u: m.From.X}
		if m.Rule != ruleModule {
			c.cost += costOffStud
		}
		add(c)
	}
	frame, half := w.out.FrameLines[l.line].Extent, w.spec.Stud.Flange/2
	for i := range w.out.Openings {
		o := &w.out.Openings[i]
		for _, u := range w.crippleSpots(o) {
			if u-half >= frame.From && u+half <= frame.To && clearOfStuds(studs, u, 2*same) {
				add(candidate{u: u, cost: costCripple, opening: o})
			}
		}
	}
	for i := 1; i < len(studs); i++ {
		u := (studs[i-1].From.X + studs[i].From.X) / 2
		if clearOfStuds(studs, u, 2*same) && !w.overOpening(u) {
			add(candidate{u: u, cost: costStud, add: true})
		}
	}
	list = append(list, candidate{u: l.extent.To})
	slices.SortStableFunc(list, func(a, b candidate) int { return compare(a.u, b.u) })
	w.room.nodes = list
	return list
}

// staggerCost rates how near a joint at u comes to those it should avoid.
func staggerCost(u Length, avoid []Length, same Length) int {
	cost := 0
	for _, a := range avoid {
		switch d := (u - a).Abs(); {
		case d <= same:
			return costStagger
		case d < leastStagger:
			cost = costClose
		}
	}
	return cost
}

func clearOfStuds(studs []*Member, u, d Length) bool {
	return !slices.ContainsFunc(studs, func(m *Member) bool { return (m.From.X - u).Abs() < d })
}

// atFrame reports whether a joint at u would run over a frame that stands between
// opening studs of the line, where no stud can stand, or over a pocket beside its ribs.
func (w *wallLayout) atFrame(u Length, line int) bool {
	f := framer{wallLayout: w, line: line}
	if f.frameAt(u, u) != nil {
		return true
	}
	pocket := slices.ContainsFunc(w.out.Openings, func(o Opening) bool { return o.Pocket != nil && o.Pocket.From < u && u < o.Pocket.To })
	return pocket && !slices.ContainsFunc(w.out.Members, func(m Member) bool { return m.Role == PocketRib && m.Line == line && m.From.X == u })
}

// overOpening reports whether a stud at u would stand in an opening.
func (w *wallLayout) overOpening(u Length) bool {
	half := w.spec.Stud.Flange / 2
	return slices.ContainsFunc(w.out.Openings, func(o Opening) bool { return o.Bay().From < u+half && u-half < o.Bay().To }) ||
		slices.ContainsFunc(w.out.Fixtures, func(x Fixture) bool { return x.Framed && x.U.From < u+half && u-half < x.U.To })
}

// crippleSpots lists where cripples may be added over an opening to carry a
// joint: in the middle, at the quarters, and as near the jambs as joints go.
func (w *wallLayout) crippleSpots(o *Opening) []Length {
	if !o.framed {
		return nil
	}
	off := max(w.pr.JointJamb.Value, 2*w.spec.Stud.Flange)
	var spots []Length
	for _, u := range []Length{
		o.U.From + off, (3*o.U.From + o.U.To) / 4, (o.U.From + o.U.To) / 2, (o.U.From + 3*o.U.To) / 4, o.U.To - off,
	} {
		if u >= o.U.From+off && u <= o.U.To-off && w.holdsJoint(o, u) && (len(spots) == 0 || u-spots[len(spots)-1] >= w.spec.Stud.Flange) {
			spots = append(spots, u)
		}
	}
	return spots
}

// holdsJoint reports whether a joint over the opening at u finds a cripple, or
// no more than a strip of board that the soffit track holds.
func (w *wallLayout) holdsJoint(o *Opening, u Length) bool {
	half := w.spec.Stud.Flange / 2
	over := w.out.Top.Min(u-half, u+half) - w.studDrop - o.Head
	return over < leastCripple || !w.reachesTop(*o)
}

// inCorner reports whether a joint at u would run on from a corner of an opening.
func (w *wallLayout) inCorner(u Length) bool {
	return slices.ContainsFunc(w.out.Openings, func(o Opening) bool {
		return (u-o.U.From).Abs() < quantity.Millimetre || (u-o.U.To).Abs() < quantity.Millimetre
	})
}

// atJamb reports whether a joint at u would run on from a corner of an
// opening, or come nearer to one than the practice allows.
func (w *wallLayout) atJamb(u Length) bool {
	for _, o := range w.out.Openings {
		clear := w.pr.JointJamb.Value
		if !o.framed {
			clear = min(clear, w.spec.Stud.Flange)
		}
		clear = max(clear, quantity.Millimetre)
		if (u-o.U.From).Abs() < clear || (u-o.U.To).Abs() < clear {
			return true
		}
	}
	return false
}

// onPhase reports whether a joint at u keeps to the run of full boards: from
// the module's start on the odd layers of face A, from a starter on the others
// so that facing faces and neighbouring layers are staggered.
func (w *wallLayout) onPhase(l *layerPlan, module, u Length) bool {
	first := module
	odd := l.k
	if (l.face == plan.FaceB) != w.way.swap {
		odd++
	}
	if odd%2 == 1 {
		first += w.starter(l.width)
	}
	d := (u - first) % l.width
	return d.Abs() <= quantity.Millimetre || l.width-d.Abs() <= quantity.Millimetre
}

// starter returns the width of the starter that is asked or the practice's, moved to
// the stud module.
func (w *wallLayout) starter(width Length) Length {
	s := w.spec.Spacing
	if n := Length(w.way.starter); n > 0 && n*s < width {
		return n * s
	}
	n := max((w.pr.Starter.Value+s/2)/s, 1)
	if n*s >= width {
		n = max(width/s-1, 1)
	}
	return n * s
}

// carry sets what a chosen joint needs to stand on: a cripple over and under
// an opening, or a stud; on twin frames on the line that carries the boards
// only.
func (w *wallLayout) carry(c candidate, line int) {
	f := framer{wallLayout: w, line: line}
	s := upright{at: c.u, width: w.spec.Stud.Flange, role: Stud, rule: ruleJoint}
	if c.add {
		f.addStud(s)
	}
	if c.opening == nil {
		return
	}
	f.setCripples(s, *c.opening)
}
