//go:build unix

// Command benchcp plans twenty made-up programmes of partition work side by side with
// a constraint solver, and prints the ends and the processor times of both. It takes
// the folder of the solver (tools/cp, after npm install) and how many seconds the
// solver has for each.
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
	"text/tabwriter"
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

// budget is how many schedules ours generates.
const budget = 1000

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
	start, _, _, err := solve(folder, schedule.Problem{Tasks: []schedule.Task{{Duration: 1}}, Resources: []schedule.Resource{{Capacity: 1}}}, limit)
	if err != nil {
		return err
	}
	fmt.Printf("The solver takes %s to begin, which is left out below.\n", start.Round(time.Millisecond))
	w := tabwriter.NewWriter(os.Stdout, 2, 8, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "programme\ttasks\tbound\tour end\tits end\tproven\tour CPU\tits CPU\t")
	var ours, theirs time.Duration
	sooner, later := 0, 0
	for k := range 20 {
		p := job(k)
		before := used()
		s, err := schedule.Solve(context.Background(), p, schedule.Options{Seed: 1, Schedules: budget})
		mine := used() - before
		if err != nil {
			return err
		}
		if wrong := check.Verify(p, s); len(wrong) > 0 {
			return fmt.Errorf("programme %d: %v", k+1, wrong)
		}
		took, end, proven, err := solve(folder, p, limit)
		if err != nil {
			return err
		}
		if proven && s.Finish < end || end > 0 && s.Bound > end {
			return fmt.Errorf("programme %d: end %d and bound %d, but the solver says %d", k+1, s.Finish, s.Bound, end)
		}
		took = max(took-start, 0)
		ours, theirs = ours+mine, theirs+took
		if end < 0 || s.Finish < end {
			sooner++
		} else if s.Finish > end {
			later++
		}
		fmt.Fprintf(w, "%d\t%d\t%d\t%d\t%d\t%t\t%s\t%s\t\n", k+1, len(p.Tasks), s.Bound, s.Finish, end, proven, mine.Round(time.Millisecond), took.Round(time.Millisecond))
	}
	if err := w.Flush(); err != nil {
		return err
	}
	fmt.Printf("Ours ends sooner in %d, as soon in %d, later in %d of 20, in %s against %s of processor time.\n",
		sooner, 20-sooner-later, later, ours.Round(time.Millisecond), theirs.Round(time.Millisecond))
	return nil
}

// solve runs the solver on a problem, in a process of its own: what it took, the best
// end it found or -1, and whether that is proven.
func solve(folder string, p schedule.Problem, limit int) (took time.Duration, end int, proven bool, err error) {
	dir, err := os.MkdirTemp("", "benchcp")
	if err != nil {
		return 0, 0, false, err
	}
	defer os.RemoveAll(dir)
	data := filepath.Join(dir, "d.dzn")
	if err := os.WriteFile(data, []byte(text(p)), 0o600); err != nil {
		return 0, 0, false, err
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Duration(limit+120)*time.Second)
	defer cancel()
	c := exec.CommandContext(ctx, "node", filepath.Join(folder, "solve.js"), filepath.Join(folder, "model.mzn"), data, strconv.Itoa(1000*limit))
	out, err := c.Output()
	if err != nil || strings.Contains(string(out), "error") {
		return 0, 0, false, errors.Join(err, fmt.Errorf("solver: %s", out))
	}
	end = -1
	for line := range strings.Lines(string(out)) {
		if n, err := strconv.Atoi(strings.TrimSpace(strings.TrimPrefix(line, "end "))); err == nil {
			end = n
		}
	}
	return c.ProcessState.UserTime() + c.ProcessState.SystemTime(), end, strings.Contains(string(out), "OPTIMAL"), nil
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
