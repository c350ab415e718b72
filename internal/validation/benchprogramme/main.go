//go:build unix

// Command benchprogramme plans the public scheduling instances and prints, for each
// set and budget, how far the ends lie above the best known ones and what that took.
// It takes the folder of the instances, and then sets to keep to.
package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path"
	"slices"
	"strings"
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

// seeds is how many seeds, from 1 on, each instance is planned with: figures are means
// over them, so that no seed is favoured.
const seeds = 10

// row sums up one set at one budget.
type row struct {
	n, best, proven int // plans: an instance with a seed
	above           [seeds]float64
	bound           float64
	took            time.Duration
}

func run(folder string, only []string) error {
	all, missing, err := instances.Read(os.DirFS(folder))
	if err != nil {
		return err
	}
	if len(missing) > 0 {
		fmt.Printf("%d instances are listed but not in %s and left out: %s\n", len(missing), folder, bySet(missing))
	}
	w := tabwriter.NewWriter(os.Stdout, 2, 8, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "set\tschedules\tinstances\tabove best known\tworst seed\tbest known reached\tproven here\tbound below best known\tCPU per instance\t")
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
				for seed := range seeds {
					if err := r.add(in, budget, seed); err != nil {
						return fmt.Errorf("%s: %w", in.Name, err)
					}
				}
			}
			r.print(w, all[0].Set, budget)
		}
		all = all[end:]
	}
	return w.Flush()
}

// print writes a row of the table.
func (r *row) print(w io.Writer, set string, budget int) {
	n, each := float64(r.n), float64(r.n)/seeds
	mean := 0.0
	for _, above := range r.above {
		mean += above / n
	}
	fmt.Fprintf(w, "%s\t%d\t%.0f\t%.2f %%\t%.2f %%\t%.1f\t%.1f\t%.2f %%\t%s\t\n", set, budget, each, 100*mean, 100*slices.Max(r.above[:])/each,
		float64(r.best)/seeds, float64(r.proven)/seeds, 100*r.bound/n, (r.took / time.Duration(r.n)).Round(time.Millisecond))
}

// bySet counts files by their folder: 'j60: 16, j120: 20'.
func bySet(files []string) string {
	var counts []string
	for len(files) > 0 {
		set := path.Dir(files[0])
		n := slices.IndexFunc(files, func(f string) bool { return path.Dir(f) != set })
		if n < 0 {
			n = len(files)
		}
		counts = append(counts, fmt.Sprintf("%s: %d", set, n))
		files = files[n:]
	}
	return strings.Join(counts, ", ")
}

// add plans an instance with a seed and holds the result against what is known of it.
func (r *row) add(in instances.Instance, budget, seed int) error {
	start := used()
	s, err := schedule.Solve(context.Background(), in.Problem, schedule.Options{Seed: uint64(seed + 1), Schedules: budget})
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
	r.above[seed] += float64(s.Finish-in.Best) / float64(in.Best)
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
