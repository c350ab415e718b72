//go:build unix

package main

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"text/tabwriter"
	"time"

	"nogging/internal/cut/instances"
	"nogging/internal/cut/sheet"
)

// sheetEffort is what one instance of sheets may take: about five seconds of the
// machines of 2026 where a plan is not proven before.
const sheetEffort = 40

// sheetSet sums up one set.
type sheetSet struct {
	name              string
	n, hit, proven    int
	gap               float64
	times             []time.Duration
	cost, best, bound int64
}

// sheets solves all instances and prints a row for each set.
func sheets(folder, only string) error {
	files := os.DirFS(folder)
	classes, err := instances.ReadClasses(files)
	if err != nil {
		return err
	}
	several, err := instances.ReadSeveralSheets(files)
	if err != nil {
		return err
	}
	var sets []*sheetSet
	for _, in := range append(classes, several...) {
		if only != "" && in.Set != only {
			continue
		}
		if len(sets) == 0 || sets[len(sets)-1].name != in.Set {
			sets = append(sets, &sheetSet{name: in.Set})
		}
		if err := sets[len(sets)-1].solve(in); err != nil {
			return err
		}
	}
	filled, err := fill(files, only)
	if err != nil {
		return err
	}
	printSheets(append(sets, filled...))
	return nil
}

func printSheets(sets []*sheetSet) {
	if len(sets) == 0 {
		return
	}
	w := tabwriter.NewWriter(os.Stdout, 2, 8, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "set\tinstances\tbest known reached\tproven here\tmean gap\tmedian\tworst\ttotal\tbest known\tbound\t")
	for _, s := range sets {
		slices.Sort(s.times)
		fmt.Fprintf(w, "%s\t%d\t%d\t%d\t%.3f %%\t%s\t%s\t%d\t%d\t%d\t\n", s.name, s.n, s.hit, s.proven, 100*s.gap/float64(s.n),
			s.times[s.n/2].Round(time.Millisecond/10), s.times[s.n-1].Round(time.Millisecond), s.cost, s.best, s.bound)
	}
	_ = w.Flush()
}

func (s *sheetSet) solve(in instances.Boards) error {
	start := used()
	plan, err := sheet.Solve(context.Background(), in.Problem, sheetEffort)
	took := used() - start
	if err == nil {
		err = sheet.Verify(in.Problem, plan)
	}
	if err == nil && plan.Bound > in.Best {
		err = fmt.Errorf("bound %d where %d is known", plan.Bound, in.Best)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", in.Name, err)
	}
	if plan.Cost > in.Best {
		fmt.Fprintf(os.Stderr, "%s: %d, best known %d, bound %d, %s\n", in.Name, plan.Cost, in.Best, plan.Bound, took.Round(time.Millisecond))
	}
	s.count(plan.Cost, plan.Bound, in.Best, took)
	return nil
}

func (s *sheetSet) count(cost, bound, best int64, took time.Duration) {
	s.n++
	s.times = append(s.times, took)
	s.cost, s.best, s.bound = s.cost+cost, s.best+best, s.bound+bound
	s.gap += float64(cost-best) / float64(best)
	if cost <= best {
		s.hit++
	}
	if cost == bound {
		s.proven++
	}
}

// fill fills single sheets exactly; the gap is what is missing of the optimum.
func fill(files fs.FS, only string) ([]*sheetSet, error) {
	var sets []*sheetSet
	list, err := instances.ReadValued(files)
	if err != nil {
		return nil, err
	}
	for _, turn := range []bool{false, true} {
		s := &sheetSet{name: "gcut"}
		if turn {
			s.name = "gcut turned"
		}
		if only != "" && only != s.name {
			continue
		}
		for _, v := range list {
			best := v.Best
			if turn {
				best = v.BestWhereTurned
			}
			for i := range v.Pieces {
				v.Pieces[i].Turn = turn
			}
			start := used()
			_, worth, ok := sheet.Fill(v.Sheet, v.Pieces, v.Values)
			if !ok {
				return nil, fmt.Errorf("%s is too fine", v.Name)
			}
			s.count(best-worth+best, best, best, used()-start)
		}
		sets = append(sets, s)
	}
	return sets, nil
}
