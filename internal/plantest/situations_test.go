package plantest_test

import (
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/plantest"
)

// TestSituations: every situation is a plan without a mistake, has a name of its
// own, and there are at least the 40 that are asked for.
func TestSituations(t *testing.T) {
	list := plantest.Situations()
	if len(list) < 40 {
		t.Errorf("%d situations, want 40 or more", len(list))
	}
	seen := map[string]bool{}
	for _, s := range list {
		if seen[s.Name] {
			t.Errorf("%s stands there twice", s.Name)
		}
		seen[s.Name] = true
		p, found := s.Plan()
		if found.Count(finding.Error) > 0 || len(p.Walls) == 0 {
			t.Errorf("%s: %v", s.Name, found)
		}
		if found := p.CheckProducts(catalogue.Shipped().IDs); len(found) > 0 {
			t.Errorf("%s: %v", s.Name, found)
		}
	}
}
