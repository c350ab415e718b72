package catalogue

import (
	"fmt"
	"slices"

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
