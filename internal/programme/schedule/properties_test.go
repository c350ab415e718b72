package schedule_test

import (
	"context"
	"fmt"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/programme/schedule"
	"nogging/internal/programme/schedule/check"
	"nogging/internal/programme/schedule/instances"
)

// problems draws problems of all kinds: calendars of several lengths that repeat and
// that end, shifts, lags of both kinds, done work, releases, due dates, zones.
func problems(t *rapid.T) schedule.Problem {
	num := func(lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, "n") }
	p := schedule.Problem{}
	for c := range num(0, 3) {
		mask := make([]bool, num(8, 30))
		for k := range mask {
			mask[k] = k%8 < 5 || k == len(mask)-1
		}
		p.Calendars = append(p.Calendars, schedule.Calendar{ID: fmt.Sprint("c", c), Working: mask, Repeat: num(8, len(mask))})
	}
	if ends := num(0, 3) == 0; ends {
		p.Calendars = append(p.Calendars, schedule.Calendar{ID: "ends", Working: slices.Repeat([]bool{true, true, true, false}, num(4, 12))})
	}
	calendar := func() int { return num(schedule.Always, len(p.Calendars)-1) }
	for r := range num(1, 3) {
		res := schedule.Resource{ID: fmt.Sprint("r", r), Capacity: num(1, 4), Calendar: calendar(), Crew: r < 2}
		if num(0, 3) == 0 {
			at := num(1, 40)
			res.Changes = []schedule.Change{{At: at, Capacity: num(0, 4)}, {At: at + num(1, 40), Capacity: num(2, 4)}}
		}
		p.Resources = append(p.Resources, res)
	}
	for i := range num(0, 14) {
		task := schedule.Task{ID: fmt.Sprint("t", i), Duration: num(0, 7), Calendar: calendar(), Zone: num(-1, 2), Release: max(0, num(-40, 30)), Due: max(0, num(-40, 60))}
		task.Whole = task.Duration < 3 && num(0, 3) == 0
		for range num(1, 2) {
			task.Demands = append(task.Demands, schedule.Demand{Resource: num(0, len(p.Resources)-1), Units: num(0, 1)})
		}
		if num(0, 9) == 0 {
			task.Fixed, task.Start = true, num(0, 20)
			task.End = task.Start + num(0, 9)
		}
		p.Tasks = append(p.Tasks, task)
	}
	for to := 1; to < len(p.Tasks); to++ {
		for range num(0, 2) {
			l := schedule.Link{From: num(0, to-1), To: to, Work: schedule.All, Elapsed: max(0, num(-8, 16))}
			if num(0, 2) == 0 {
				l.Work = num(0, p.Tasks[l.From].Duration)
			}
			p.Links = append(p.Links, l)
		}
	}
	return p
}

func solve(t interface{ Fatal(...any) }, p schedule.Problem, o schedule.Options) (schedule.Solution, bool) {
	s, err := schedule.Solve(context.Background(), p, o)
	if err != nil {
		return s, false
	}
	if wrong := check.Verify(p, s); len(wrong) > 0 {
		t.Fatal(wrong)
	}
	return s, true
}

// TestSound: every schedule holds before a checker that shares no code with the
// scheduler; the bound never lies after the end, nor does its reasoning refute it; the same seed gives the same schedule;
// goals after the end leave end and lateness alone; the chain is one.
func TestSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problems(t)
		plain, ok := solve(t, p, schedule.Options{Seed: 3, Schedules: 150})
		if !ok {
			t.Skip("not to be planned")
		}
		if schedule.Refuted(p, plain.Finish) {
			t.Fatalf("it is over at %d, which the bound's reasoning refutes", plain.Finish)
		}
		for _, then := range [][]schedule.Goal{{schedule.Level, schedule.Moves}, {schedule.Moves, schedule.Level}} {
			o := schedule.Options{Seed: 3, Schedules: 150, Then: then}
			s, _ := solve(t, p, o)
			again, _ := solve(t, p, o)
			if d := cmp.Diff(s, again); d != "" {
				t.Fatal("the same seed gives two schedules: " + d)
			}
			if s.Finish != plain.Finish || s.Late != plain.Late {
				t.Fatalf("end %d and lateness %d became %d and %d", plain.Finish, plain.Late, s.Finish, s.Late)
			}
			if then[0] == schedule.Level && s.Roughness > plain.Roughness || then[0] == schedule.Moves && s.Moves > plain.Moves {
				t.Fatalf("%s: roughness %d became %d, moves %d became %d", then[0], plain.Roughness, s.Roughness, plain.Moves, s.Moves)
			}
			chain(t, p, s)
		}
	})
}

// TestEnding: orders of tasks for which a resource that goes away leaves no room do not
// count as plans. One of its tasks, put first, leaves too little for the others; five tasks
// on two machines keep the search going, since no bound shows that two must wait.
func TestEnding(t *testing.T) {
	p := schedule.Problem{Resources: []schedule.Resource{
		{ID: "leaves", Capacity: 1, Calendar: schedule.Always, Changes: []schedule.Change{{At: 9, Capacity: 0}}},
		{ID: "machines", Capacity: 2, Calendar: schedule.Always}}}
	add := func(r, duration, release int) {
		p.Tasks = append(p.Tasks, schedule.Task{ID: fmt.Sprint(len(p.Tasks)), Duration: duration, Release: release, Zone: -1,
			Calendar: schedule.Always, Demands: []schedule.Demand{{Resource: r, Units: 1}}})
	}
	add(0, 4, 0)
	add(0, 4, 0)
	add(0, 1, 2)
	for range 5 {
		add(1, 10, 0)
	}
	for seed := range 5 {
		s, ok := solve(t, p, schedule.Options{Seed: uint64(seed), Schedules: 300})
		if !ok || s.Finish != 30 || s.Schedules != 300 {
			t.Errorf("seed %d: end %d after %d schedules, %t", seed, s.Finish, s.Schedules, ok)
		}
	}
}

// chain checks that the critical chain ends with the end of all and that each of its
// steps begins no sooner than its cause lets it.
func chain(t interface{ Fatalf(string, ...any) }, p schedule.Problem, s schedule.Solution) {
	for k, why := range s.Chain {
		if k > 0 && why.By != s.Chain[k-1].Task || k == 0 && why.By >= 0 {
			t.Fatalf("step %d of the chain hangs on nothing: %+v", k, s.Chain)
		}
		if why.Cause != schedule.WasFixed && (why.Ready+why.Calendar != s.Start[why.Task] || why.Calendar < 0) {
			t.Fatalf("task %d starts at %d: %+v", why.Task, s.Start[why.Task], why)
		}
		if why.Link >= 0 && p.Links[why.Link].To != why.Task {
			t.Fatalf("link %d is none of task %d", why.Link, why.Task)
		}
	}
	if n := len(s.Chain); n > 0 && s.End[s.Chain[n-1].Task] != s.Finish {
		t.Fatalf("the chain does not end with the end")
	}
}

// moreGangs is how much later the end may at most be when there is one gang more: the
// search is no proof, and a richer problem is another path through it.
const moreGangs = 0.05

func TestAnotherGang(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problems(t)
		for i := range p.Tasks {
			p.Tasks[i].Due = 0
		}
		o := schedule.Options{Seed: 5, Schedules: 400}
		before, ok := solve(t, p, o)
		if !ok {
			t.Skip("not to be planned")
		}
		r := rapid.IntRange(0, len(p.Resources)-1).Draw(t, "r")
		p.Resources[r].Capacity++
		for k := range p.Resources[r].Changes {
			p.Resources[r].Changes[k].Capacity++
		}
		after, _ := solve(t, p, o)
		if float64(after.Finish) > float64(before.Finish)*(1+moreGangs) {
			t.Fatalf("with another gang the end moves from %d to %d", before.Finish, after.Finish)
		}
	})
}

// public reads the instances beside the repository.
func public(t testing.TB) []instances.Instance {
	all, _, err := instances.Read(os.DirFS("../../../../shared/data/rcpsp"))
	if err == nil {
		return all
	}
	if os.Getenv("CI") == "true" {
		t.Fatal(err)
	}
	t.Skip("public instances are not beside the repository: ", err)
	return nil
}

// TestPublic: schedules of PSPLIB and of problems with minimum lags are sound, never
// shorter than a proven optimum, bounds never above a best-known end, and ends as near
// to the best known as a genetic algorithm with justification comes with 1,000
// schedules (measured by make bench-programme).
func TestPublic(t *testing.T) {
	above, n := map[string]float64{}, map[string]float64{}
	for k, in := range public(t) {
		if k%4 != 0 {
			continue
		}
		s, ok := solve(t, in.Problem, schedule.Options{Seed: 1, Schedules: 1000})
		if !ok || in.Proven && s.Finish < in.Best || s.Bound > in.Best || s.Schedules > 1000 {
			t.Errorf("%s: end %d, bound %d after %d schedules; best known is %d", in.Name, s.Finish, s.Bound, s.Schedules, in.Best)
		}
		above[in.Set] += float64(s.Finish-in.Best) / float64(in.Best)
		n[in.Set]++
	}
	for set, most := range map[string]float64{"j30": 0.015, "j60": 0.02, "j120": 0.06, "lags j20": 0.02, "lags ubo20": 0.02, "lags ubo50": 0.03} {
		if mean := above[set] / n[set]; mean > most {
			t.Errorf("%s: %.2f %% above the best known", set, 100*mean)
		}
	}
}

// TestCancel: a search that is stopped gives the best schedule so far, and at least one.
func TestCancel(t *testing.T) {
	in := public(t)[0]
	for after := range 20 {
		ctx, cancel := context.WithCancel(context.Background())
		if after == 0 {
			cancel()
		}
		s, err := schedule.Solve(ctx, in.Problem, schedule.Options{Seed: 1, Schedules: 5000, Progress: func(p schedule.Progress) {
			if p.Schedules >= 20*after {
				cancel()
			}
		}})
		if wrong := check.Verify(in.Problem, s); err != nil || len(wrong) > 0 || s.Schedules > 20*after+10 {
			t.Errorf("stopped after %d schedules: %d made, %v %v", 20*after, s.Schedules, err, wrong)
		}
		cancel()
	}
}
