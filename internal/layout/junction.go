package layout

import (
	"cmp"
	"math"
	"slices"

	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Tolerances of finding junctions in a drawn plan.
const (
	// junctionTolerance is how far beyond the half thickness of the wall it
	// meets a wall's line may end and still meet it.
	junctionTolerance = 5 * quantity.Millimetre
	// structureTolerance is the same for existing structure, which is drawn
	// and built less exactly.
	structureTolerance = 20 * quantity.Millimetre
	// straightTolerance is how far apart the ends of two walls in one line may
	// be drawn and still be one run.
	straightTolerance = 20 * quantity.Millimetre
	// nearMiss is how near something has to be for a free end to look like a
	// drawing slip.
	nearMiss = 150 * quantity.Millimetre
)

// endPoint is one end of a wall and what it was found to meet.
type endPoint struct {
	body    *body
	end     int
	kind    AbutmentKind
	partner *endPoint // at a corner or a straight joint
	through bool      // this wall runs through
	hosts   []*body   // at a tee: the walls whose surfaces it has to clear, or through which it runs
	cuts    bool      // at a tee: the hosts' boards are cut for its frame
	closing *closing  // at a facade post narrower than the wall
	solid   *solid    // at structure; nil where the plan only says so
	corner  []*endPoint
}

// site is everything on one level that walls can meet.
type site struct {
	bodies  []*body
	solids  []*solid
	grid    *geom.Grid[*body]
	stone   *geom.Grid[*solid]
	rules   []*order // of the plan about walls on the level
	closing Length   // of a closing piece, where the plan gives none
	demand  int      // sound demand in dB from which boards are cut; 0 for never
}

func newSite(bodies []*body, solids []*solid, rules []*order, demand int) *site {
	s := &site{bodies: bodies, solids: solids, grid: geom.NewGrid[*body](gridCell), stone: geom.NewGrid[*solid](gridCell), rules: rules, demand: demand}
	for _, b := range bodies {
		s.grid.Add(b.bounds().Grow(b.half), b)
	}
	for _, x := range solids {
		s.stone.Add(x.outline.Bounds(), x)
	}
	return s
}

const gridCell = 3 * quantity.Metre

// resolve finds what every wall end on the level meets and where walls cross.
func (s *site) resolve() ([]Junction, finding.List) {
	var found finding.List
	s.open(s.meetStructure)
	s.open(func(ep *endPoint) { s.meetSides(ep, ep.body.half+junctionTolerance) })
	s.open(s.meetEnds)
	junctions := s.settleCorners()
	s.open(func(ep *endPoint) { s.meetSides(ep, -ep.body.half) })
	for _, b := range s.bodies {
		s.cross(b, &found)
	}
	s.open(func(ep *endPoint) { s.leaveFree(ep, &found) })
	junctions = append(junctions, s.teeJunctions()...)
	s.unmet(&found)
	return junctions, found
}

// open calls f for every end of which it is not yet known what it meets.
func (s *site) open(f func(*endPoint)) {
	for _, b := range s.bodies {
		for end := range b.ends {
			if ep := &b.ends[end]; ep.kind == "" {
				f(ep)
			}
		}
	}
}

func condition(ep *endPoint) plan.EndCondition {
	if ep.end == 0 {
		return ep.body.wall.Start
	}
	return ep.body.wall.End
}

// meetStructure settles ends that the plan declares, and ends at existing
// structure.
func (s *site) meetStructure(ep *endPoint) {
	switch condition(ep) {
	case plan.FreeEnd:
		ep.kind = Free
		return
	case plan.ToStructure:
		ep.kind = Structure
	}
	at := ep.body.at(ep.end)
	s.stone.Each(geom.Bounds(at).Grow(structureTolerance), func(x *solid) {
		if ep.solid == nil && x.stops(ep) {
			ep.kind, ep.solid, ep.closing = Structure, x, closingAt(ep, x, s.closing)
		}
	})
}

// meetEnds collects the ends of other walls that come together with this one.
func (s *site) meetEnds(ep *endPoint) {
	s.near(ep, func(o *body) {
		for end := range o.ends {
			if other := &o.ends[end]; other.kind == "" && endsMeet(ep, other) {
				ep.corner = append(ep.corner, other)
			}
		}
	})
	slices.SortFunc(ep.corner, compareEnds)
}

func compareEnds(a, b *endPoint) int {
	return cmp.Or(cmp.Compare(a.body.ordinal, b.body.ordinal), cmp.Compare(a.end, b.end))
}

// near calls f for each other wall around an end.
func (s *site) near(ep *endPoint, f func(*body)) {
	reach := ep.body.half + nearMiss
	s.grid.Each(geom.Bounds(ep.body.at(ep.end)).Grow(reach), func(o *body) {
		if o != ep.body {
			f(o)
		}
	})
}

// endsMeet reports whether two wall ends form a corner or a straight joint.
func endsMeet(a, b *endPoint) bool {
	if a.body.parallel(b.body, a.body.at(a.end)) {
		opposite := a.body.outward(a.end).Dot(b.body.outward(b.end)) < 0
		frame := a.body.frameAt(a.end)
		between := frame.Local(b.body.at(b.end)).Sub(frame.Local(a.body.at(a.end)))
		aside := (a.body.half - b.body.half).Abs() + straightTolerance // flush on one face, whatever their thickness
		return opposite && between.X.Abs() <= straightTolerance && between.Y.Abs() <= aside
	}
	return a.meets(b.body) && b.meets(a.body)
}

// meets reports whether the wall ends at o: short of its surface by no more than
// the tolerance, or past it by no more than drawings overshoot, which is to the
// far corner.
func (ep *endPoint) meets(o *body) bool {
	past := ep.past(o)
	return past <= ep.reach(o) && -past <= ep.reach(o)+ep.body.half
}

// past returns how far the axis of o lies beyond the end, along the wall;
// negative when the end overshoots it.
func (ep *endPoint) past(o *body) Length {
	u := ep.body.meet(0, o, 0, ep.body.at(ep.end))
	if ep.end == 0 {
		return -u
	}
	return u - ep.body.length
}

// reach returns how far from the axis of o, measured along the wall, an end
// may stop and still meet o: at its surface as it will be built, or as the
// architect drew it where the build-up is thinner.
func (ep *endPoint) reach(o *body) Length {
	sine := ep.body.sine(o, ep.body.at(ep.end))
	return Length(float64(max(o.half, o.wall.Thickness/2))/sine) + junctionTolerance
}

// settleCorners turns groups of ends that come together into corners, straight
// joints and tees.
func (s *site) settleCorners() []Junction {
	var junctions []Junction
	for _, b := range s.bodies {
		for end := range b.ends {
			ep := &b.ends[end]
			if ep.kind != "" || len(ep.corner) == 0 {
				continue
			}
			group := []*endPoint{ep}
			for _, o := range ep.corner {
				if o.kind == "" {
					group = append(group, o)
				}
			}
			if len(group) > 1 {
				junctions = append(junctions, s.settle(group))
			}
		}
	}
	return junctions
}

// settle decides who runs through in one group of ends.
func (s *site) settle(group []*endPoint) Junction {
	s.inOrder(group)
	first, second, straight := leadingPair(group)
	if lone := s.runsPast(group, first, second); straight && lone != nil {
		return s.passBetween(lone, group)
	}
	kind := L
	if straight {
		kind = I
		join(first, second, Straight)
	} else {
		join(first, second, Corner)
		first.through = true
	}
	j := Junction{
		Level: first.body.level.ID, At: first.body.at(first.end), Walls: []string{first.body.wall.ID, second.body.wall.ID},
		Reason: s.why(first.body, second.body),
	}
	settled := []*endPoint{first, second}
	for _, ep := range group {
		if ep == first || ep == second {
			continue
		}
		j.Walls = append(j.Walls, ep.body.wall.ID)
		if hosts := clearOf(ep, settled); len(hosts) > 0 {
			s.standAgainst(ep, hosts, straight && hosts[0] == first.body, &j)
			kind = T
		} else { // in one line with both: the plan has walls on each other
			ep.kind, ep.partner = Straight, first
		}
		settled = append(settled, ep)
	}
	if straight && kind == I {
		j.Reason = "in one line"
	}
	if len(group) > 3 && kind == T {
		kind = X
	}
	j.Kind = kind
	return j
}

// standAgainst ends a wall at the walls that lead a junction. Where these run in
// one line, boards may be cut for it.
func (s *site) standAgainst(ep *endPoint, hosts []*body, straight bool, j *Junction) {
	ep.kind, ep.hosts = Tee, hosts
	lead := hosts[:1]
	if straight && len(hosts) > 1 && hosts[0].parallel(hosts[1], ep.body.at(ep.end)) {
		lead = hosts[:2]
	}
	ep.cuts = straight && s.cutsBoards(ep.body, lead[0])
	if ep.cuts {
		j.Cut = append(j.Cut, ep.body.wall.ID)
	}
	for _, h := range lead {
		h.addTee(ep)
	}
}

// leadingPair picks the two ends that carry the junction: the best-ranked pair
// in one line, or else the two best-ranked.
func leadingPair(group []*endPoint) (first, second *endPoint, straight bool) {
	for i, a := range group {
		for _, b := range group[i+1:] {
			if a.body.parallel(b.body, a.body.at(a.end)) {
				return a, b, true
			}
		}
	}
	return group[0], group[1], false
}

func join(a, b *endPoint, kind AbutmentKind) {
	a.kind, b.kind = kind, kind
	a.partner, b.partner = b, a
}

// clearOf lists which of the walls settled before it an end has to stay clear
// of: the leading pair, the thicker first, and those that go the same way.
func clearOf(ep *endPoint, settled []*endPoint) []*body {
	var hosts []*body
	away := ep.body.outward(ep.end)
	for i, o := range settled {
		sameWay := away.Dot(o.body.outward(o.end)) > -nearlyParallel
		if !o.body.parallel(ep.body, ep.body.at(ep.end)) && (i < 2 || sameWay) {
			hosts = append(hosts, o.body)
		}
	}
	if len(hosts) >= 2 && hosts[1].half > hosts[0].half {
		hosts[0], hosts[1] = hosts[1], hosts[0]
	}
	return hosts
}

// addTee notes on the host that another wall's end stands against it.
func (b *body) addTee(ep *endPoint) {
	b.tees = append(b.tees, tee{
		other: ep.body, end: ep.end, cut: ep.cuts,
		u:    b.meet(0, ep.body, 0, ep.body.at(ep.end)),
		left: b.local(ep.body.within(ep.end, b)).Y > 0,
	})
}

// meetSides settles an end that stands against the side of another wall, at
// least the margin from that wall's own ends.
func (s *site) meetSides(ep *endPoint, margin Length) {
	var host *body
	best := Length(math.MaxInt64)
	s.near(ep, func(o *body) {
		at := ep.body.at(ep.end)
		if o.parallel(ep.body, at) {
			return
		}
		along := o.meet(0, ep.body, 0, at)
		miss := ep.past(o).Abs()
		if along < margin || along > o.length-margin || !ep.meets(o) {
			return
		}
		if miss < best || miss == best && o.ordinal < host.ordinal {
			host, best = o, miss
		}
	})
	if host == nil {
		return
	}
	ep.kind, ep.hosts = Tee, []*body{host}
	if r := s.ruleOn(ep.body, host); r != nil && r.rule.Through == ep.body.wall.ID {
		s.passThrough(ep, host)
		return
	}
	ep.cuts = s.cutsBoards(ep.body, host)
	host.addTee(ep)
}

// cross notes where a wall of higher rank or existing structure runs through
// b. The lesser wall is interrupted, so that both can be built.
func (s *site) cross(b *body, found *finding.List) {
	s.stone.Each(b.bounds(), func(x *solid) {
		for _, span := range x.inside(b, 0) {
			if span.From > structureTolerance && span.To < b.length-structureTolerance {
				b.breaks = append(b.breaks, wallBreak{solid: x, u: (span.From + span.To) / 2})
			}
		}
	})
	s.grid.Each(b.bounds(), func(o *body) {
		if o == b {
			return
		}
		for _, near := range b.meetings(o) {
			s.crossAt(b, o, near, found)
		}
	})
	slices.SortFunc(b.breaks, func(x, y wallBreak) int {
		return cmp.Compare(x.u, y.u)
	})
}

// crossAt notes that o runs through b near a point, unless one of them ends
// there.
func (s *site) crossAt(b, o *body, near geom.Point, found *finding.List) {
	if o.parallel(b, near) {
		return
	}
	u, on := b.meet(0, o, 0, near), o.meet(0, b, 0, near)
	clear := o.half + b.half + junctionTolerance
	if u < clear || u > b.length-clear || on < clear || on > o.length-clear || !s.over(o, b) {
		return
	}
	cut := s.cutsBoards(b, o)
	b.breaks = append(b.breaks, wallBreak{other: o, u: u, cut: cut})
	o.tees = append(o.tees, tee{other: b, end: -1, u: on, cut: cut})
	if r := s.ruleOn(b, o); r != nil && r.rule.Through != "" {
		return
	}
	found.Add(finding.Finding{
		Code: "wall-interrupted", Severity: finding.Assumed, Object: b.wall.ID, Other: o.wall.ID,
		What: words.F("is crossed by %s %s mm from its start: %s is taken to run through and %s to stop on both sides of it (%s)",
			o.wall.ID, mm(u), o.wall.ID, b.wall.ID, s.why(o, b)),
		Fix: words.F("confirm it with `junctions: [{walls: [%s, %s], through: %s}]`, or name %s there if it shall run through instead", o.wall.ID, b.wall.ID, o.wall.ID, b.wall.ID),
	})
}

// leaveFree settles an end that meets nothing, and says so.
func (s *site) leaveFree(ep *endPoint, found *finding.List) {
	ep.kind = Free
	at := ep.body.at(ep.end)
	where := ofEnd(ep.end, words.F("its start at %s, %s", mm(at.X), mm(at.Y)), words.F("its end at %s, %s", mm(at.X), mm(at.Y)))
	if name, gap := s.nearest(ep); name != "" {
		found.Add(finding.Finding{
			Code: "end-short", Severity: finding.Warning, Object: ep.body.wall.ID,
			What: words.F("%s stops %s mm short of %s and is laid out as a free end", where, mm(gap), name),
			Fix:  words.F("lengthen the wall by %s mm if it shall meet %s, or write `%s: free`", mm(gap), name, endName(ep.end)),
		})
		return
	}
	found.Add(finding.Finding{
		Code: "end-free", Severity: finding.Assumed, Object: ep.body.wall.ID,
		What: words.F("%s meets nothing in the plan and is laid out as a free end, boarded over", where),
		Fix:  words.F("write `%s: free` to confirm it, or `%s: structure` if it meets structure that is not drawn", endName(ep.end), endName(ep.end)),
	})
}

// nearest looks for something that a free end narrowly misses.
func (s *site) nearest(ep *endPoint) (name string, gap Length) {
	gap = nearMiss
	s.near(ep, func(o *body) {
		at := ep.body.at(ep.end)
		if o.parallel(ep.body, at) {
			return
		}
		along := o.meet(0, ep.body, 0, at)
		miss := ep.past(o) - ep.reach(o) + junctionTolerance
		if along >= 0 && along <= o.length && miss > 0 && miss < gap {
			name, gap = o.wall.ID, miss
		}
	})
	at := ep.body.at(ep.end)
	s.stone.Each(geom.Bounds(at).Grow(nearMiss), func(x *solid) {
		if d, ok := x.ahead(ep); ok && d > 0 && d < gap {
			name, gap = x.id, d
		}
	})
	return name, gap
}

// endName is what an end of a wall is called in the plan.
func endName(end int) string { return ofEnd(end, "start", "end") }

func ofEnd[T any](end int, start, finish T) T {
	if end == 0 {
		return start
	}
	return finish
}

// teeJunctions lists tees, and crosses where two walls stand against one wall
// opposite each other.
func (s *site) teeJunctions() []Junction {
	var list []Junction
	for _, b := range s.bodies {
		slices.SortStableFunc(b.tees, func(x, y tee) int {
			return cmp.Or(cmp.Compare(x.u, y.u), cmp.Compare(x.other.ordinal, y.other.ordinal))
		})
		for i := 0; i < len(b.tees); i++ {
			t := b.tees[i]
			if t.end >= 0 && len(t.other.ends[t.end].corner) > 1 {
				continue // listed with its corner
			}
			j := Junction{
				Kind: T, Level: b.level.ID, At: b.point(t.u, 0), Walls: []string{b.wall.ID, t.other.wall.ID},
				Reason: s.standsWhy(b, t),
			}
			if t.cut {
				j.Cut = append(j.Cut, t.other.wall.ID)
			}
			if t.end < 0 && !t.past {
				j.Kind = X
			} else if i+1 < len(b.tees) {
				if n := b.tees[i+1]; n.end >= 0 && n.left != t.left && n.u-t.u <= t.other.half {
					j.Kind = X
					j.Walls = append(j.Walls, n.other.wall.ID)
					if j.Reason == endsAgainst(t.other) {
						j.Reason = t.other.wall.ID + " and " + n.other.wall.ID + " end against it"
					}
					if n.cut {
						j.Cut = append(j.Cut, n.other.wall.ID)
					}
					i++
				}
			}
			list = append(list, j)
		}
	}
	return list
}

// mm writes a length in whole millimetres for messages.
func mm(l Length) string { return l.Round(quantity.Millimetre).String() }
