//go:build unix

// Command benchmip cuts ten zones of our own walls side by side with a general-purpose
// mixed-integer solver on the same cutting model, and prints for each zone what both
// buy and the processor time that both took. Bars are modelled as arc flows, boards as
// arc flows of two stages: exact models, solved by HiGHS as WASM in Node. It takes the
// folder in which npm installed `highs`, and the demo's plan.
package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"text/tabwriter"
	"time"

	"nogging/internal/cut"
	"nogging/internal/cut/linear"
	"nogging/internal/cut/sheet"
)

func main() {
	if len(os.Args) != 4 {
		fmt.Fprintln(os.Stderr, "usage: benchmip FOLDER SCRIPT PLAN")
		os.Exit(2)
	}
	if err := run(os.Args[1], os.Args[2], os.Args[3]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// Effort of our own plans, as `nogging cut` makes them.
const (
	barEffort   = cut.UsualEffort
	sheetEffort = 4
)

// The solver gets ten times what we took, and so much at least: it has to begin. Node's
// own time counts; what it takes to start is not in it.
const (
	times     = 10
	leastTime = 10 * time.Second
)

// answer is what one side pays for a problem.
type answer struct {
	cost  int64
	found bool
	took  time.Duration
}

// score sums up both sides over problems of one kind. What they pay is summed where
// the solver found a plan; what they took, over all.
type score struct {
	problems, open, better, worse int // better and worse: ours
	slow                          int // ours took more than a tenth
	ours, solver                  int64
	oursTook, solverTook          time.Duration
}

func run(folder, script, demo string) error {
	list, err := zones(demo)
	if err != nil {
		return err
	}
	w := tabwriter.NewWriter(os.Stdout, 2, 8, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "zone\tcut\tproblems\tours better\tworse\tsolver open\tours\tsolver\tCPU: ours\tsolver\ttimes\tabove a tenth\t")
	var bars, boards score
	for _, z := range list {
		s, err := start(folder, script)
		if err != nil {
			return err
		}
		a, b, err := z.solve(s)
		if err == nil {
			err = s.end()
		}
		if err != nil {
			return fmt.Errorf("%s: %w", z.name, err)
		}
		a.print(w, fmt.Sprintf("%s, %d walls", z.name, z.walls), metres)
		b.print(w, "", squareMetres)
		bars.add(a)
		boards.add(b)
	}
	bars.print(w, "all", metres)
	boards.print(w, "", squareMetres)
	return w.Flush()
}

func (s *score) add(o score) {
	s.problems, s.open, s.better, s.worse = s.problems+o.problems, s.open+o.open, s.better+o.better, s.worse+o.worse
	s.slow += o.slow
	s.ours, s.solver = s.ours+o.ours, s.solver+o.solver
	s.oursTook, s.solverTook = s.oursTook+o.oursTook, s.solverTook+o.solverTook
}

// Units of what is bought, with how many units of cost they have.
var (
	metres       = unitOf{"bars, m", 1000}
	squareMetres = unitOf{"boards, m²", 10000}
)

type unitOf struct {
	name  string
	parts float64
}

func (s *score) print(w io.Writer, zone string, u unitOf) {
	fmt.Fprintf(w, "%s\t%s\t%d\t%d\t%d\t%d\t%.2f\t%.2f\t%s\t%s\t%.0f\t%d\t\n", zone, u.name, s.problems, s.better, s.worse, s.open,
		float64(s.ours)/u.parts, float64(s.solver)/u.parts, s.oursTook.Round(time.Millisecond), s.solverTook.Round(10*time.Millisecond),
		float64(s.solverTook)/float64(max(s.oursTook, time.Microsecond)), s.slow)
}

// solve cuts a zone on both sides.
func (z *zone) solve(s *solver) (bars, boards score, err error) {
	for _, p := range z.bars {
		before := used()
		plan, err := linear.Solve(context.Background(), p, barEffort)
		took := used() - before
		if err == nil {
			err = linear.Verify(p, plan)
		}
		if err != nil {
			return bars, boards, err
		}
		if err := bars.beside(s, plan.Cost, plan.Bound, took, barModel(p)); err != nil {
			return bars, boards, err
		}
	}
	for _, p := range z.sheets {
		before := used()
		plan, err := sheet.Solve(context.Background(), p, sheetEffort)
		took := used() - before
		if err == nil {
			err = sheet.Verify(p, plan)
		}
		if err != nil {
			return bars, boards, err
		}
		if err := boards.beside(s, plan.Cost, plan.Bound, took, sheetModel(p)); err != nil {
			return bars, boards, err
		}
	}
	return bars, boards, nil
}

// beside adds one problem: what we pay, and what the solver does.
func (x *score) beside(s *solver, cost, bound int64, took time.Duration, model string) error {
	theirs, err := s.solve(model, max(times*took, leastTime))
	if err != nil {
		return err
	}
	x.problems++
	x.oursTook += took
	x.solverTook += theirs.took
	if times*took > theirs.took {
		x.slow++
	}
	if !theirs.found {
		x.open++
		return nil
	}
	if theirs.cost < bound {
		return fmt.Errorf("the solver pays %d, which we hold to be impossible: %d at least", theirs.cost, bound)
	}
	x.ours += cost
	x.solver += theirs.cost
	switch {
	case cost < theirs.cost:
		x.better++
	case cost > theirs.cost:
		x.worse++
	}
	return nil
}

// used returns the processor time that the process has used.
func used() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// solver is a running Node with the solver in it.
type solver struct {
	command *exec.Cmd
	in      io.WriteCloser
	out     *bufio.Scanner
	folder  string
}

func start(folder, script string) (*solver, error) {
	c := exec.Command("node", script, folder)
	c.Stderr = os.Stderr
	in, err := c.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := c.StdoutPipe()
	if err != nil {
		return nil, err
	}
	return &solver{c, in, bufio.NewScanner(out), folder}, c.Start()
}

func (s *solver) end() error {
	s.in.Close()
	return s.command.Wait()
}

// solve has one programme solved.
func (s *solver) solve(model string, limit time.Duration) (answer, error) {
	file := filepath.Join(s.folder, "model.lp")
	if err := os.WriteFile(file, []byte(model), 0o644); err != nil {
		return answer{}, err
	}
	fmt.Fprintf(s.in, "%s\t%.3f\n", file, limit.Seconds())
	if !s.out.Scan() {
		return answer{}, fmt.Errorf("the solver ended")
	}
	parts := strings.Split(s.out.Text(), "\t")
	if len(parts) != 3 {
		return answer{}, fmt.Errorf("the solver says %q", s.out.Text())
	}
	seconds, err := strconv.ParseFloat(parts[2], 64)
	if err != nil {
		return answer{}, err
	}
	a := answer{took: time.Duration(seconds * float64(time.Second))}
	cost, err := strconv.ParseFloat(parts[1], 64)
	a.found = err == nil && cost > 0.5 && cost < 1e15 && (parts[0] == "Optimal" || strings.HasPrefix(parts[0], "Time limit"))
	if a.found {
		a.cost = int64(cost + 0.5)
	}
	return a, nil
}
