package layout

import (
	"fmt"
	"slices"

	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// order is what the plan says of the junction of two walls.
type order struct {
	rule *plan.Junction
	met  bool // the two walls were found to meet
}

// ordersOn lists what the plan says of junctions between the given walls, the
// first entry of a pair only.
func ordersOn(p *plan.Plan, bodies []*body) []*order {
	if len(p.Junctions) == 0 {
		return nil
	}
	there := map[string]bool{}
	for _, b := range bodies {
		there[b.wall.ID] = true
	}
	var list []*order
	for i := range p.Junctions {
		j := &p.Junctions[i]
		if !j.Usable() || !there[j.Walls[0]] || !there[j.Walls[1]] ||
			slices.ContainsFunc(list, func(o *order) bool { return o.rule.Names(j.Walls[0], j.Walls[1]) }) {
			continue // the plan's own check has said so
		}
		list = append(list, &order{rule: j})
	}
	return list
}

// ruleOn returns what the plan says of the junction of two walls, or nil.
func (s *site) ruleOn(a, b *body) *order {
	for _, r := range s.rules {
		if r.rule.Names(a.wall.ID, b.wall.ID) {
			r.met = true
			return r
		}
	}
	return nil
}

// over reports whether a runs through b where they cross or form a corner.
func (s *site) over(a, b *body) bool {
	if r := s.ruleOn(a, b); r != nil && r.rule.Through != "" {
		return r.rule.Through == a.wall.ID
	}
	return a.rank.over(b.rank)
}

// why says why a runs through where it meets b.
func (s *site) why(a, b *body) string {
	if r := s.ruleOn(a, b); r != nil && r.rule.Through == a.wall.ID {
		return orElse(r.rule.Reason, "as the plan says")
	}
	return a.rank.why(b.rank)
}

// standsWhy says why the boards and frame of a host run on where another wall
// stands against it.
func (s *site) standsWhy(host *body, t tee) string {
	if r := s.ruleOn(host, t.other); r != nil && r.rule.Through == host.wall.ID {
		return orElse(r.rule.Reason, "as the plan says")
	}
	switch {
	case t.past:
		return s.why(host, t.other)
	case t.end < 0:
		return s.why(host, t.other)
	}
	return endsAgainst(t.other)
}

func endsAgainst(b *body) string { return b.wall.ID + " ends against it" }

// why says by what a wall of rank r runs through one of rank q.
func (r rank) why(q rank) string {
	switch {
	case r.fire != q.fire:
		return fmt.Sprintf("fire resistance %d min against %s", r.fire, orNone(q.fire, " min"))
	case r.sound != q.sound:
		return fmt.Sprintf("sound insulation %d dB against %s", r.sound, orNone(q.sound, " dB"))
	case r.thickness != q.thickness:
		return fmt.Sprintf("thicker: %s mm against %s mm", mm(r.thickness), mm(q.thickness))
	case r.length != q.length:
		return fmt.Sprintf("longer: %s mm against %s mm", mm(r.length), mm(q.length))
	}
	return "alike; it stands first in the plan"
}

func orNone(n int, unit string) string {
	if n == 0 {
		return "none"
	}
	return fmt.Sprint(n) + unit
}

// inOrder sorts the ends that come together: by rank, and then, entry by entry,
// as the plan says.
func (s *site) inOrder(group []*endPoint) {
	slices.SortFunc(group, func(a, b *endPoint) int {
		if a.body.rank.over(b.body.rank) {
			return -1
		}
		return 1
	})
	for _, r := range s.rules {
		first, second := -1, -1
		for i, ep := range group {
			switch {
			case ep.body.wall.ID == r.rule.Through:
				first = i
			case slices.Contains(r.rule.Walls, ep.body.wall.ID):
				second = i
			}
		}
		if r.rule.Through != "" && first > second && second >= 0 {
			ep := group[first]
			copy(group[second+1:first+1], group[second:first])
			group[second] = ep
		}
	}
}

// runsPast returns the end that the plan lets run past a pair of walls in one
// line, which then stand against it on both sides; nil if there is none.
func (s *site) runsPast(group []*endPoint, first, second *endPoint) *endPoint {
	for _, ep := range group {
		if ep == first || ep == second || ep.body.parallel(first.body, ep.body.at(ep.end)) {
			continue
		}
		for _, o := range []*endPoint{first, second} {
			if r := s.ruleOn(ep.body, o.body); r != nil && r.rule.Through == ep.body.wall.ID && len(group) == 3 {
				return ep
			}
		}
	}
	return nil
}

// passBetween lets one wall run to the far surface of two others in one line,
// which stand against it.
func (s *site) passBetween(ep *endPoint, group []*endPoint) Junction {
	j := Junction{Kind: T, Level: ep.body.level.ID, At: ep.body.at(ep.end), Walls: []string{ep.body.wall.ID}}
	ep.kind, ep.through = Tee, true
	for _, o := range group {
		if o == ep {
			continue
		}
		ep.hosts = append(ep.hosts, o.body)
		o.kind, o.hosts, o.cuts = Tee, []*body{ep.body}, s.cutsBoards(o.body, ep.body)
		ep.body.addTee(o)
		j.Walls = append(j.Walls, o.body.wall.ID)
		if o.cuts {
			j.Cut = append(j.Cut, o.body.wall.ID)
		}
		if r := s.ruleOn(ep.body, o.body); r != nil && r.rule.Through == ep.body.wall.ID {
			j.Reason = s.why(ep.body, o.body)
		}
	}
	return j
}

// passThrough interrupts a host so that the wall which ends at it runs to its
// far surface.
func (s *site) passThrough(ep *endPoint, host *body) {
	b := ep.body
	cut := s.cutsBoards(host, b)
	ep.through = true
	host.breaks = append(host.breaks, wallBreak{other: b, u: host.meet(0, b, 0, b.at(ep.end)), cut: cut})
	b.tees = append(b.tees, tee{other: host, end: -1, u: b.meet(0, host, 0, b.at(ep.end)), cut: cut, past: true})
}

// throughCut ends a wall that runs through others at their far surface, where
// boards close it.
func throughCut(ep *endPoint) cut {
	b := ep.body
	u := ep.drawnEnd()
	for i, h := range ep.hosts {
		left := h.local(b.within(ep.end, h)).Y > 0
		for j, v := range []Length{-b.half, b.half} {
			at := b.meet(v, h, h.surface(!left), b.at(ep.end))
			if i+j == 0 {
				u = at
			}
			u = inward(ep.end, u, at)
		}
	}
	c := cappedCut(ep, u)
	c.kind, c.with, c.through = Tee, ep.hosts[0].wall.ID, true
	return c
}

// cutsBoards reports whether the boards of a through wall are cut where another
// stands against it: the plan decides, or else the sound demand on the other,
// past which the boards would carry sound (flanking).
func (s *site) cutsBoards(other, through *body) bool {
	if r := s.ruleOn(other, through); r != nil && r.rule.Boards != "" {
		return r.rule.Boards == plan.BoardsCut
	}
	return s.demand > 0 && other.rank.sound >= s.demand
}

// unmet tells of entries about walls that do not meet.
func (s *site) unmet(found *finding.List) {
	for _, r := range s.rules {
		if !r.met {
			found.Add(finding.Finding{
				Code: "junction-not-found", Severity: finding.Warning, Object: r.rule.Walls[0], Other: r.rule.Walls[1],
				What: words.F("the plan says how it meets %s, but the two do not meet", r.rule.Walls[1]),
				Fix:  "mend the lines of the walls, or take the entry out of `junctions`",
			})
		}
	}
}

// cutGap is what is left beside a frame for which boards are cut; sealant fills
// it (common practice).
const cutGap = 5 * quantity.Millimetre
