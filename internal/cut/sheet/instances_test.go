package sheet_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"nogging/internal/cut/instances"
	"nogging/internal/cut/sheet"
)

// shared opens the public instances beside the repository.
func shared(t *testing.T) string {
	t.Helper()
	folder := filepath.Join("..", "..", "..", "..", "shared", "data", "gbp2d")
	if _, err := os.Stat(folder); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("the public cutting instances are missing: ", err)
		}
		t.Skip("the public cutting instances are not beside the repository")
	}
	return folder
}

// Instances: Berkey and Wang 1987, Martello and Vigo 1998; best-known values of
// three stages and lower bounds as their SOURCES file says.
func TestClasses(t *testing.T) {
	list, err := instances.ReadClasses(os.DirFS(shared(t)))
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != 500 {
		t.Fatalf("%d instances where there are 500", len(list))
	}
	for i := 0; i < len(list); i += 17 {
		b := list[i]
		plan, err := sheet.Solve(context.Background(), b.Problem, 0)
		if err != nil {
			t.Fatal(err)
		}
		if err := sheet.Verify(b.Problem, plan); err != nil {
			t.Errorf("%s: %v", b.Name, err)
		}
		if plan.Bound > b.Best || plan.Cost < b.Bound || plan.Cost > b.Best+2+b.Best/15 {
			t.Errorf("%s: %d sheets with bound %d; known are %d and %d", b.Name, plan.Cost, plan.Bound, b.Best, b.Bound)
		}
	}
}

// Instances: Cintra and others 2008; best known and bounds of two stages.
func TestSeveralSheets(t *testing.T) {
	list, err := instances.ReadSeveralSheets(os.DirFS(shared(t)))
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range list[:3] {
		plan, err := sheet.Solve(context.Background(), b.Problem, 1)
		if err != nil {
			t.Fatal(err)
		}
		if err := sheet.Verify(b.Problem, plan); err != nil {
			t.Errorf("%s: %v", b.Name, err)
		}
		if plan.Bound > b.Best || plan.Cost < b.Bound {
			t.Errorf("%s: cost %d with bound %d; known are %d and %d", b.Name, plan.Cost, plan.Bound, b.Best, b.Bound)
		}
	}
}
