//go:build unix

// Command benchprogramme plans the public scheduling instances and prints, for each
// set and budget, how far the ends lie above the best known ones and what that took.
// It takes the folder of the instances, and then sets to keep to.
package main

import (
	"context"
	"fmt"
	"os"
	"slices"
	"syscall"
	"text/tabwriter"
	"time"

	"nogging/internal/programme/schedule"
	"nogging/internal/programme/schedule/check"
	"nogging/internal/programme/schedule/instances"
)

func main() {
	if len(os.Args) < 2 {
		fmt.Fprintln(os.Stderr, "usage: benchprogramme FOLDER [SET...]")
		os.Exit(2)
	}
	if err := run(os.Args[1], os.Args[2:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// budgets are the numbers of generated schedules at which literature compares methods.
var budgets = []int{1000, 5000}

// row sums up one set at one budget.
type row struct {
	n, best, proven int
	above, bound    float64
	took            time.Duration
}

func run(folder string, only []string) error {
	all, err := instances.Read(os.DirFS(folder))
	if err != nil {
		return err
	}
	w := tabwriter.NewWriter(os.Stdout, 2, 8, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "set\tschedules\tinstances\tabove best known\tbest known reached\tproven here\tbound below best known\tCPU per instance\t")
	for len(all) > 0 {
		end := slices.IndexFunc(all, func(in instances.Instance) bool { return in.Set != all[0].Set })
		if end < 0 {
			end = len(all)
		}
		for _, budget := range budgets {
			if len(only) > 0 && !slices.Contains(only, all[0].Set) {
				continue
			}
			var r row
			for _, in := range all[:end] {
				if err := r.add(in, budget); err != nil {
					return fmt.Errorf("%s: %w", in.Name, err)
				}
			}
			n := float64(r.n)
			fmt.Fprintf(w, "%s\t%d\t%d\t%.2f %%\t%d\t%d\t%.2f %%\t%s\t\n", all[0].Set, budget, r.n, 100*r.above/n, r.best, r.proven,
				100*r.bound/n, (r.took / time.Duration(r.n)).Round(time.Millisecond))
		}
		all = all[end:]
	}
	return w.Flush()
}

// add plans an instance and holds the result against what is known of it.
func (r *row) add(in instances.Instance, budget int) error {
	start := used()
	s, err := schedule.Solve(context.Background(), in.Problem, schedule.Options{Seed: 1, Schedules: budget})
	r.took += used() - start
	if err != nil {
		return err
	}
	if wrong := check.Verify(in.Problem, s); len(wrong) > 0 {
		return fmt.Errorf("%v", wrong)
	}
	if in.Proven && s.Finish < in.Best || s.Bound > in.Best || s.Schedules > budget {
		return fmt.Errorf("end %d, bound %d after %d schedules, but best known is %d", s.Finish, s.Bound, s.Schedules, in.Best)
	}
	r.n++
	r.above += float64(s.Finish-in.Best) / float64(in.Best)
	r.bound += float64(in.Best-s.Bound) / float64(in.Best)
	if s.Finish <= in.Best {
		r.best++
	}
	if s.Finish == s.Bound {
		r.proven++
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
