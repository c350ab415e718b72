package instances

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"nogging/internal/cut/linear"
)

// folder finds the public instances beside the repository; their sources stand in
// SOURCES.md there.
func folder(t *testing.T) fs.FS {
	t.Helper()
	dir, err := os.Getwd()
	for err == nil {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			break
		}
		if filepath.Dir(dir) == dir {
			break
		}
		dir = filepath.Dir(dir)
	}
	path := filepath.Join(dir, "..", "shared", "data", "bpp1d")
	if _, err := os.Stat(path); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("the public instances are not there: %v", err)
		}
		t.Skip("the public instances are not there; see ../shared/data/bpp1d")
	}
	return os.DirFS(path)
}

// effort is what the tool spends.
const effort = 1_000_000_000

// TestOptimum holds a sample of every set against the proven optimum: of BPPLIB for
// bins of one size, and for several lengths of stock the optimum of all patterns,
// as best_known.csv and best_known_multistock.csv give them.
func TestOptimum(t *testing.T) {
	all, err := ReadBars(folder(t))
	if err != nil {
		t.Fatal(err)
	}
	if len(all) != 576 {
		t.Errorf("%d instances, want 576", len(all))
	}
	sample := []string{"Falkenauer_u120_00", "Falkenauer_u250_07", "Falkenauer_u500_01", "Falkenauer_t60_00", "Falkenauer_t120_00", "HARD0", "Hard28_BPP832", "Hard28_BPP175", "Hard28_BPP359", "Hard28_BPP781", "N1C1W1_A", "N2C3W2_K", "N1W1B1R0", "N2W2B2R5",
		"2023-08-01", "2024-04-06_t0", "2024-04-06_t1", "2024-04-06_t2", "2024-04-06_t3", "2024-04-09", "2024-04-20_1", "2024-04-20_2", "2024-04-21", "2024-09-18"}
	solved := 0
	for _, in := range all {
		if !slices.Contains(sample, in.Name) {
			continue
		}
		solved++
		plan, err := linear.Solve(context.Background(), in.Problem, effort)
		if err == nil {
			err = linear.Verify(in.Problem, plan)
		}
		if err != nil {
			t.Errorf("%s: %v", in.Name, err)
			continue
		}
		if plan.Cost != in.Best || plan.Bound > in.Best {
			t.Errorf("%s: cost %d with bound %d, the optimum is %d", in.Name, plan.Cost, plan.Bound, in.Best)
		}
		if in.Set == "hard28" && !plan.Proven() {
			t.Errorf("%s: not proven", in.Name)
		}
	}
	if solved != len(sample) {
		t.Errorf("%d of %d instances found", solved, len(sample))
	}
}

// TestBounds holds what is found and proven of every instance with little effort
// against the values that BPPLIB and best_known_multistock.csv give.
func TestBounds(t *testing.T) {
	all, err := ReadBars(folder(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, in := range all {
		plan, err := linear.Solve(context.Background(), in.Problem, effort/50)
		if err == nil {
			err = linear.Verify(in.Problem, plan)
		}
		if err != nil || plan.Bound > in.Best || in.Proven && plan.Cost < in.Best {
			t.Errorf("%s: cost %d with bound %d, the best known is %d: %v", in.Name, plan.Cost, plan.Bound, in.Best, err)
		}
	}
}
