package app

import (
	"slices"

	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/words"
)

// pair is two walls that cross, in the order of their ids.
type pair [2]string

func pairOf(a, b string) pair { return pair{min(a, b), max(a, b)} }

// oneCrossing makes one of what the plan's check and the layout say of two
// walls that cross: the plan's warning is told how they are built, and what the
// layout assumed of a wall is left out where that says all of it.
func (j *Job) oneCrossing(laid finding.List) finding.List {
	warned := map[pair]*finding.Finding{}
	for i := range j.Findings {
		if f := &j.Findings[i]; f.Code == "walls-cross" {
			warned[pairOf(f.Object, f.Other)] = f
		}
	}
	said, unsaid := map[string]bool{}, map[string]bool{} // interrupted walls
	for _, x := range j.Layout.Junctions {
		if x.Kind != layout.X || len(x.Walls) != 2 {
			continue
		}
		through, stopped := x.Walls[0], x.Walls[1]
		f := warned[pairOf(through, stopped)]
		if f == nil {
			unsaid[stopped] = true
			continue
		}
		said[stopped] = true
		f.What += words.F("; %s is taken to run through and %s to stop on both sides of it", through, stopped)
	}
	return slices.DeleteFunc(laid, func(f finding.Finding) bool {
		return f.Code == "wall-interrupted" && said[f.Object] && !unsaid[f.Object]
	})
}
