//go:build unix

// Command benchcp plans twenty made-up programmes of partition work side by side with
// a constraint solver, and prints the ends and the processor times of both. It takes
// the folder of the solver (tools/cp, after npm install) and how many seconds of
// processor time the solver has for each.
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"nogging/internal/programme/schedule"
	"nogging/internal/programme/schedule/check"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "usage: benchcp FOLDER SECONDS")
		os.Exit(2)
	}
	if err := run(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// budget is how many schedules ours generates: what takes about a tenth of the five
// seconds that the solver has.
const budget = 24_000

// stages are the gang, slots of work and slots of drying of each stage of a wall.
var stages = [][3]int{{0, 2, 0}, {1, 5, 0}, {2, 5, 0}, {3, 3, 0}, {2, 5, 0}, {4, 3, 6}, {4, 2, 12}, {4, 2, 12}, {0, 1, 0}}

// job makes the k-th programme: walls of a zone go through the stages, gangs go from
// zone to zone, and only so many tasks go on in a zone at once. Calendars are left out,
// since the solver knows none.
func job(k int) schedule.Problem {
	zones, walls := 2+k%4, 2+k/4
	var p schedule.Problem
	for g, n := range []int{1, 1 + k%2, 2, 1, 2} {
		p.Resources = append(p.Resources, schedule.Resource{ID: fmt.Sprint("gang ", g), Capacity: n, Calendar: schedule.Always})
	}
	for z := range zones {
		p.Resources = append(p.Resources, schedule.Resource{ID: fmt.Sprint("zone ", z), Capacity: 2, Calendar: schedule.Always})
		for w := range walls {
			for s, st := range stages {
				i := len(p.Tasks)
				p.Tasks = append(p.Tasks, schedule.Task{ID: fmt.Sprintf("%d-%d-%d", z, w, s), Calendar: schedule.Always,
					Duration: st[1] + (w*7+s*3+z*5+k)%4, Zone: z,
					Demands: []schedule.Demand{{Resource: st[0], Units: 1}, {Resource: 5 + z, Units: 1}}})
				if s > 0 {
					p.Links = append(p.Links, schedule.Link{From: i - 1, To: i, Work: schedule.All, Elapsed: stages[s-1][2]})
				}
			}
		}
	}
	return p
}

func run(folder, seconds string) error {
	limit, err := strconv.Atoi(seconds)
	if err != nil {
		return err
	}
	trivial := schedule.Problem{Tasks: []schedule.Task{{Duration: 1}}, Resources: []schedule.Resource{{Capacity: 1}}}
	start, err := solve(folder, trivial, 60)
	if err != nil {
		return err
	}
	fmt.Printf("The solver takes %s to begin, which is left out below.\n", start.took.Round(time.Millisecond))
	fmt.Printf("%9s %6s %6s %8s %8s %7s %9s %9s\n", "programme", "tasks", "bound", "our end", "its end", "proven", "our CPU", "its CPU")
	var ours, theirs time.Duration
	sooner, later := 0, 0
	for k := range 20 {
		mine, its, err := compare(k, folder, limit+int(start.took.Seconds()+1))
		if err != nil {
			return fmt.Errorf("programme %d: %w", k+1, err)
		}
		its.took = max(its.took-start.took, 0)
		ours, theirs = ours+mine.took, theirs+its.took
		if its.end < 0 || mine.end < its.end {
			sooner++
		} else if mine.end > its.end {
			later++
		}
		fmt.Printf("%9d %6d %6d %8d %8d %7t %9s %9s\n", k+1, len(job(k).Tasks), mine.bound, mine.end, its.end, its.proven,
			mine.took.Round(time.Millisecond), its.took.Round(time.Millisecond))
	}
	fmt.Printf("Ours ends sooner in %d, as soon in %d, later in %d of 20, in %s against %s of processor time.\n",
		sooner, 20-sooner-later, later, ours.Round(time.Millisecond), theirs.Round(time.Millisecond))
	return nil
}

// result is what came of a programme.
type result struct {
	took       time.Duration // processor time
	end, bound int           // -1 where none was found
	proven     bool
}

// compare plans the k-th programme in both ways. It is an error if what one says
// contradicts the other.
func compare(k int, folder string, limit int) (mine, its result, err error) {
	p := job(k)
	before := used()
	s, err := schedule.Solve(context.Background(), p, schedule.Options{Seed: 1, Schedules: budget})
	mine = result{used() - before, s.Finish, s.Bound, s.Finish == s.Bound}
	if err != nil {
		return mine, its, err
	}
	if wrong := check.Verify(p, s); len(wrong) > 0 {
		return mine, its, fmt.Errorf("%v", wrong)
	}
	its, err = solve(folder, p, limit)
	if err == nil && (its.proven && s.Finish < its.end || its.end > 0 && s.Bound > its.end) {
		err = fmt.Errorf("end %d and bound %d, but the solver says %d", s.Finish, s.Bound, its.end)
	}
	return mine, its, err
}

// solve runs the solver on a problem in a process of its own, which is stopped after so
// many seconds of processor time.
func solve(folder string, p schedule.Problem, limit int) (result, error) {
	r := result{end: -1, bound: -1}
	dir, err := os.MkdirTemp("", "benchcp")
	if err != nil {
		return r, err
	}
	defer os.RemoveAll(dir)
	data := filepath.Join(dir, "d.dzn")
	if err := os.WriteFile(data, []byte(text(p)), 0o600); err != nil {
		return r, err
	}
	c := exec.Command("sh", "-c", `ulimit -t "$1"; exec node "$2/solve.js" "$2/model.mzn" "$3"`, "sh", strconv.Itoa(limit), folder, data)
	out, err := c.Output()
	var stopped *exec.ExitError
	if err != nil && !errors.As(err, &stopped) || strings.Contains(string(out), "error") {
		return r, errors.Join(err, fmt.Errorf("solver: %s", out))
	}
	for line := range strings.Lines(string(out)) {
		if end, err := strconv.Atoi(strings.TrimSpace(strings.TrimPrefix(line, "end "))); err == nil {
			r.end = end
		}
	}
	r.took = c.ProcessState.UserTime() + c.ProcessState.SystemTime()
	r.proven = strings.Contains(string(out), "OPTIMAL")
	return r, nil
}

// text writes a problem as data of the model.
func text(p schedule.Problem) string {
	var from, to, lag, work, caps []int
	until := 0
	for _, l := range p.Links {
		from, to = append(from, l.From+1), append(to, l.To+1)
		lag = append(lag, p.Tasks[l.From].Duration+l.Elapsed)
		until += l.Elapsed
	}
	units := make([]string, len(p.Resources))
	for r, res := range p.Resources {
		caps = append(caps, res.Capacity)
		row := make([]int, len(p.Tasks))
		for i, t := range p.Tasks {
			for _, d := range t.Demands {
				if d.Resource == r {
					row[i] += d.Units
				}
			}
		}
		units[r] = strings.Trim(list(row), "[]")
	}
	for _, t := range p.Tasks {
		work = append(work, t.Duration)
		until += t.Duration
	}
	return fmt.Sprintf("n=%d; nr=%d; m=%d; ub=%d; cap=%s; d=%s; r=[|%s|]; a=%s; b=%s; lag=%s;\n",
		len(p.Tasks), len(p.Resources), len(p.Links), until, list(caps), list(work), strings.Join(units, "|"), list(from), list(to), list(lag))
}

func list(n []int) string {
	return "[" + strings.Join(strings.Fields(strings.Trim(fmt.Sprint(n), "[]")), ",") + "]"
}

// used returns the processor time that the process has used.
func used() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
