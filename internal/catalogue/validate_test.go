package catalogue

import (
	"fmt"
	"slices"
	"testing"

	"nogging/internal/finding"
)

// validate checks a whole catalogue: every entry by itself, ids used once, and
// the references between entries. Findings are in the catalogue's order.
func validate(c *Catalogue) finding.List {
	return slices.Concat(
		listFindings[Board](c.Boards, "boards"),
		listFindings[Profile](c.Profiles, "profiles"),
		listFindings[Insulation](c.Insulation, "insulation"),
		listFindings[Screw](c.Screws, "screws"),
		listFindings[Sundry](c.Sundries, "sundries"),
		listFindings[Pack](c.Packs, "packs"),
		listFindings[Operation](c.Operations, "operations"),
		listFindings[Productivity](c.Productivity, "productivity"),
		listFindings[CarbonFactor](c.Carbon, "carbon"),
		listFindings[Practice](c.Practices, "practices"),
		c.references(func(string) bool { return true }),
	)
}

func listFindings[E any, P entry[E]](list []E, name string) finding.List {
	var found finding.List
	seen := map[string]bool{}
	for i := range list {
		found = append(found, entryFindings(P(&list[i]), name, fmt.Sprintf("%s[%d]", name, i), seen)...)
	}
	return found
}

// Everything that is bought is sold in packs that the catalogue knows, in a unit by
// which it is measured or counted.
func TestEverythingHasPacks(t *testing.T) {
	c := Shipped()
	for _, kind := range []string{KindBoard, KindProfile, KindInsulation, KindScrew, KindSundry} {
		for _, id := range c.IDs(kind) {
			p, ok := c.Product(id)
			pack, found := c.PackOf(&p)
			if slices.Contains(p.Kinds, KindGusset) {
				continue // cut from the wall's own board
			}
			if !ok || !found || pack.Unit != p.Unit && (pack.Unit != "pcs" || len(p.Lengths) == 0) {
				t.Errorf("%s of %v, measured by %s: %v", id, p.Kinds, p.Unit, pack)
			}
		}
	}
}

// Every step of the work has a norm.
func TestEveryStepHasANorm(t *testing.T) {
	for _, id := range Operations() {
		if o, ok := Shipped().OperationFor(id); !ok || o.Minutes <= 0 {
			t.Errorf("%s: %v", id, o)
		}
	}
}
