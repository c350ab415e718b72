// Package layout finds where every part of every partition is. It takes a
// checked plan, the catalogue and a practice, and gives for each wall its
// junctions, tracks, studs, door frames, board pieces, joints, screws, anchors,
// seals, beads and cavity fill, each as measured geometry and never as an area
// times a factor.
//
// It follows the practice's rules (internal/catalogue) and no single standard;
// the rules are those of DIN 18181/18183-1 and ASTM C754/C840 as far as the
// practice cites them. A wall's result depends on that wall, the walls it
// meets, the catalogue and the practice; a wall that cannot be laid out is a
// finding and leaves the others as they are.
package layout

import (
	"runtime"
	"sync"
	"sync/atomic"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/plan"
)

// Of lays out every usable wall of the plan. Findings of the whole plan stand
// in Project.Findings, those of one wall in Wall.Findings.
func Of(p *plan.Plan, cat *catalogue.Catalogue, pr *catalogue.Practice) *Project {
	return WithProgress(p, cat, pr, func(done, total int) {})
}

// WithProgress is Of that reports how many walls are laid out; report may be
// called from several goroutines at once.
func WithProgress(p *plan.Plan, cat *catalogue.Catalogue, pr *catalogue.Practice, report func(done, total int)) *Project {
	return Prepare(p, cat, pr).Layout(nil, report)
}

// settle finds what every wall meets, level by level.
func settle(p *plan.Plan, bodies []*body, pr *catalogue.Practice, out *Project) {
	for i := range p.Levels {
		on := onLevel(bodies, p.Levels[i].ID)
		site := newSite(on, solidsOn(p, p.Levels[i].ID), ordersOn(p, on), pr.TeeCutSound.Value)
		site.closing = pr.ClosingLength.Value
		junctions, found := site.resolve()
		out.Junctions = append(out.Junctions, junctions...)
		out.Findings = append(out.Findings, found...)
	}
}

func findOverlaps(p *plan.Plan, out *Project) {
	for i := range p.Levels {
		out.Findings = append(out.Findings, overlaps(p.Levels[i].ID, out.Walls, solidsOn(p, p.Levels[i].ID))...)
	}
}

// collect resolves the build-up of every wall that can be laid out.
func collect(p *plan.Plan, cat *catalogue.Catalogue, pr *catalogue.Practice, found *finding.List) []*body {
	var bodies []*body
	specs := buildup.NewResolver(p, cat, pr)
	wet := wetRooms(p)
	seen := map[string]bool{}
	for i := range p.Walls {
		w := &p.Walls[i]
		level := p.LevelByID(w.Level)
		if !p.Usable(w) || level == nil || seen[w.ID] {
			continue // the plan's own check has said why
		}
		seen[w.ID] = true
		spec, notes := specs.Resolve(w)
		*found = append(*found, notes...)
		if spec != nil && turns(w, spec, found) {
			b := newBody(w, level, spec, i)
			b.wet = wetFaces(wet, b)
			bodies = append(bodies, b)
		}
	}
	return bodies
}

func onLevel(bodies []*body, level string) []*body {
	var list []*body
	for _, b := range bodies {
		if b.level.ID == level {
			list = append(list, b)
		}
	}
	return list
}

func solidsOn(p *plan.Plan, level string) []*solid {
	var list []*solid
	for i := range p.Structure {
		if p.Structure[i].Level != level {
			continue
		}
		if x, ok := newSolid(&p.Structure[i]); ok {
			list = append(list, x)
		}
	}
	return list
}

// layAll lays out the walls on all processors; each result has its place, so
// the order in which they finish does not matter.
func layAll(bodies []*body, cat *catalogue.Catalogue, pr *catalogue.Practice, ways map[string]Way, report func(done, total int)) []*Wall {
	walls := make([]*Wall, len(bodies))
	var next, done atomic.Int64
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(bodies)) {
		group.Go(func() {
			var room bench
			for i := int(next.Add(1)) - 1; i < len(bodies); i = int(next.Add(1)) - 1 {
				walls[i] = layWall(bodies[i], cat, pr, ways[bodies[i].wall.ID], &room)
				report(int(done.Add(1)), len(bodies))
			}
		})
	}
	group.Wait()
	return walls
}
