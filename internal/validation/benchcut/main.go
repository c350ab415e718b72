//go:build unix

// Command benchcut solves the public cutting instances and prints, for each set,
// how many are solved to the best known value, the gaps and the processor times. It
// takes the folder of the instances; what it misses goes to standard error.
package main

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"
	"syscall"
	"text/tabwriter"
	"time"

	"nogging/internal/cut"
	"nogging/internal/cut/instances"
	"nogging/internal/cut/linear"
)

func main() {
	if len(os.Args) < 2 {
		fmt.Fprintln(os.Stderr, "usage: benchcut FOLDER [SET]")
		os.Exit(2)
	}
	only := strings.Join(os.Args[2:], " ")
	err := bars(os.Args[1]+"/bpp1d", only)
	if err == nil {
		err = sheets(os.Args[1]+"/gbp2d", only)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// effort is what one instance may take, in elementary steps: a second or less on
// the machines of 2026.
const effort = cut.UsualEffort

// set sums up one set.
type set struct {
	name                 string
	n, hit, proven, soon int
	gap                  float64
	times                []time.Duration
}

func bars(folder, only string) error {
	all, err := instances.ReadBars(os.DirFS(folder))
	if err != nil {
		return err
	}
	var sets []*set
	for _, in := range all {
		if only != "" && in.Set != only {
			continue
		}
		if len(sets) == 0 || sets[len(sets)-1].name != in.Set {
			sets = append(sets, &set{name: in.Set})
		}
		if err := sets[len(sets)-1].solve(in); err != nil {
			return err
		}
	}
	w := tabwriter.NewWriter(os.Stdout, 2, 8, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "set\tinstances\tbest known reached\tproven here\tmean gap\tmedian\tworst\tproven in 1 s\t")
	for _, s := range sets {
		slices.Sort(s.times)
		fmt.Fprintf(w, "%s\t%d\t%d\t%d\t%.3f %%\t%s\t%s\t%d\t\n", s.name, s.n, s.hit, s.proven, 100*s.gap/float64(s.n),
			s.times[s.n/2].Round(time.Millisecond/10), s.times[s.n-1].Round(time.Millisecond), s.soon)
	}
	return w.Flush()
}

// used returns the processor time that the process has used.
func used() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func (s *set) solve(in instances.Bars) error {
	start := used()
	plan, err := linear.Solve(context.Background(), in.Problem, effort)
	took := used() - start
	if err == nil {
		err = linear.Verify(in.Problem, plan)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", in.Name, err)
	}
	s.n++
	s.times = append(s.times, took)
	if plan.Cost <= in.Best {
		s.hit++
	} else {
		fmt.Fprintf(os.Stderr, "%s: %d, best known %d, bound %d, %s\n", in.Name, plan.Cost, in.Best, plan.Bound, took.Round(time.Millisecond))
	}
	if plan.Bound > in.Best || in.Proven && plan.Cost < in.Best {
		return fmt.Errorf("%s: cost %d with bound %d, but the optimum is %d", in.Name, plan.Cost, plan.Bound, in.Best)
	}
	if plan.Proven() {
		s.proven++
		if took <= time.Second {
			s.soon++
		}
	}
	s.gap += float64(plan.Cost-in.Best) / float64(in.Best)
	return nil
}
