package schedule_test

import (
	"context"
	"fmt"
	"testing"

	"nogging/internal/programme/schedule"
	"nogging/internal/programme/schedule/check"
)

// job makes a programme as of partition walls: in each zone some walls, each with the
// same row of stages, of which some dry; gangs by trade, so many to a zone at once;
// days of eight hours in slots of a quarter, five a week. Durations differ by wall.
func job(zones, walls int) schedule.Problem {
	week := schedule.Calendar{ID: "week", Working: make([]bool, 7*96), Repeat: 7 * 96}
	for t := range 5 * 96 {
		week.Working[t] = t%96 >= 7*4 && t%96 < 12*4 || t%96 >= 13*4 && t%96 < 16*4
	}
	p := schedule.Problem{Calendars: []schedule.Calendar{week}}
	stages := []struct{ gang, slots, dries int }{
		{0, 2, 0}, {1, 3, 0}, {1, 5, 0}, {2, 6, 0}, {3, 4, 0}, {2, 2, 0}, {0, 1, 0}, {2, 6, 0},
		{4, 2, 8}, {4, 4, 48}, {4, 3, 48}, {4, 3, 96}, {4, 3, 0}, {0, 1, 0}, {0, 1, 0},
	}
	for g, n := range []int{2, 4, 8, 3, 8} {
		p.Resources = append(p.Resources, schedule.Resource{ID: fmt.Sprint("gang ", g), Capacity: max(1, n*zones/16), Crew: true})
	}
	for z := range zones {
		p.Resources = append(p.Resources, schedule.Resource{ID: fmt.Sprint("zone ", z), Capacity: 4, Calendar: schedule.Always})
		for w := range walls {
			for k, st := range stages {
				i := len(p.Tasks)
				p.Tasks = append(p.Tasks, schedule.Task{ID: fmt.Sprint(z, "-", w, "-", k), Duration: st.slots + (w*7+k*3+z)%4, Zone: z,
					Demands: []schedule.Demand{{Resource: st.gang, Units: 1}, {Resource: 5 + z, Units: 1}}})
				if k > 0 {
					p.Links = append(p.Links, schedule.Link{From: i - 1, To: i, Work: schedule.All, Elapsed: stages[k-1].dries})
				}
			}
		}
	}
	return p
}

// TestLarge: a job of some hundred walls is sound through all goals.
func TestLarge(t *testing.T) {
	p := job(6, 20)
	plain, _ := solve(t, p, schedule.Options{Seed: 1, Schedules: 40})
	s, ok := solve(t, p, schedule.Options{Seed: 1, Schedules: 40, Then: []schedule.Goal{schedule.Level, schedule.Moves}})
	if !ok || s.Finish != plain.Finish || s.Roughness >= plain.Roughness {
		t.Errorf("end %d, roughness %d, moves %d; without goals %d, %d, %d", s.Finish, s.Roughness, s.Moves, plain.Finish, plain.Roughness, plain.Moves)
	}
	if s.Moves >= plain.Moves {
		t.Errorf("%d moves, without goals %d", s.Moves, plain.Moves)
	}
	chain(t, p, s)
	t.Logf("gap %.1f %%, roughness %d to %d, moves %d to %d", 100*s.Gap(), plain.Roughness, s.Roughness, plain.Moves, s.Moves)
}

// BenchmarkLarge plans 2,000 walls, 30,000 tasks, with all goals.
func BenchmarkLarge(b *testing.B) {
	p := job(40, 50)
	for b.Loop() {
		s, err := schedule.Solve(context.Background(), p, schedule.Options{Seed: 1, Schedules: 40, Then: []schedule.Goal{schedule.Level, schedule.Moves}})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(100*s.Gap(), "%gap")
		b.ReportMetric(float64(s.Finish)/(7*96), "weeks")
		b.ReportMetric(float64(len(p.Tasks)), "tasks")
		b.ReportMetric(float64(s.Schedules), "schedules")
	}
	b.StopTimer()
	s, _ := schedule.Solve(context.Background(), p, schedule.Options{Seed: 1, Schedules: 1})
	if wrong := check.Verify(p, s); len(wrong) > 0 {
		b.Fatal(wrong)
	}
}
