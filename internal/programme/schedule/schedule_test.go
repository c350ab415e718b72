package schedule

import (
	"context"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// day is eight working slots of 24.
func day() Calendar {
	c := Calendar{ID: "day", Working: make([]bool, 24), Repeat: 24}
	for t := 8; t < 16; t++ {
		c.Working[t] = true
	}
	return c
}

// TestCoats: work keeps to the calendar, drying runs on through the night.
func TestCoats(t *testing.T) {
	p := Problem{
		Calendars: []Calendar{day()},
		Resources: []Resource{{ID: "jointers", Capacity: 1, Calendar: 0}},
		Tasks: []Task{
			{ID: "first", Duration: 6, Demands: []Demand{{0, 1}}, Calendar: Always},
			{ID: "second", Duration: 4, Demands: []Demand{{0, 1}}, Calendar: Always},
			{ID: "third", Duration: 4, Demands: []Demand{{0, 1}}, Calendar: Always, Whole: true},
		},
		Links: []Link{{From: 0, To: 1, Work: All, Elapsed: 10}, {From: 1, To: 2, Work: All, Elapsed: 20}},
	}
	got, err := Solve(context.Background(), p, Options{Schedules: 1})
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]int{8, 32, 56}, got.Start); d != "" {
		t.Error("starts: " + d)
	}
	if d := cmp.Diff([]int{14, 36, 60}, got.End); d != "" {
		t.Error("ends: " + d)
	}
}

// TestMistakes: what cannot be planned is named, and nothing is planned.
func TestMistakes(t *testing.T) {
	task := func(id string, units int) Task {
		return Task{ID: id, Duration: 9, Demands: []Demand{{0, units}}, Calendar: Always}
	}
	one := []Resource{{ID: "gang", Capacity: 1, Calendar: Always}}
	for name, c := range map[string]struct {
		p    Problem
		want Mistake
	}{
		"ring": {Problem{Tasks: []Task{task("a", 1), task("b", 1), task("c", 1), task("d", 1)}, Resources: one,
			Links: []Link{{From: 0, To: 1}, {From: 1, To: 2}, {From: 2, To: 3}, {From: 3, To: 0}, {From: 2, To: 1}}},
			Mistake{Kind: Cycle, Tasks: []int{1, 2}, IDs: []string{"b", "c"}, Resource: -1, Calendar: -1}},
		"too much": {Problem{Tasks: []Task{task("a", 2)}, Resources: one},
			Mistake{Kind: TooMuch, Tasks: []int{0}, IDs: []string{"a"}, Calendar: -1, Need: 2, Have: 1}},
		"nobody": {Problem{Tasks: []Task{task("a", 2)}, Resources: []Resource{{Calendar: Always}}},
			Mistake{Kind: NoResource, Tasks: []int{0}, IDs: []string{"a"}, Calendar: -1, Need: 2}},
		"no work": {Problem{Tasks: []Task{{ID: "a", Duration: 1}}, Calendars: []Calendar{{Working: make([]bool, 7), Repeat: 7}}},
			Mistake{Kind: NoWork, Tasks: []int{0}, IDs: []string{"a"}, Resource: -1}},
		"too long": {Problem{Tasks: []Task{{ID: "a", Duration: 9, Whole: true}}, Calendars: []Calendar{day()}},
			Mistake{Kind: TooLong, Tasks: []int{0}, IDs: []string{"a"}, Resource: -1, Need: 9, Have: 8}},
		"no room": {Problem{Tasks: []Task{task("a", 1)}, Resources: []Resource{{Capacity: 1, Calendar: Always, Changes: []Change{{8, 0}}}}},
			Mistake{Kind: NoRoom, Tasks: []int{0}, IDs: []string{"a"}, Resource: -1, Calendar: -1}},
		"unknown": {Problem{Tasks: []Task{task("a", 1)}},
			Mistake{Kind: Unknown, Tasks: []int{0}, IDs: []string{"a"}, Calendar: -1, Need: 1}},
	} {
		got, err := Solve(context.Background(), c.p, Options{})
		var bad Mistakes
		if !errors.As(err, &bad) {
			t.Errorf("%s: no mistake found", name)
			continue
		}
		if d := cmp.Diff(Mistakes{c.want}, bad); d != "" || got.Start != nil {
			t.Errorf("%s: %s (starts %v)", name, d, got.Start)
		}
	}
}
