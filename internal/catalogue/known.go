package catalogue

import (
	"maps"
	"slices"

	"nogging/internal/yamlfile"
)

// Known reports whether the catalogue holds an entry of the given kind and id.
// Kinds are the Kind constants board, profile, insulation, screw, sundry and
// practice.
func (c *Catalogue) Known(kind, id string) bool {
	ix := c.look()
	switch kind {
	case KindBoard:
		return has(ix.boards, id)
	case KindProfile:
		return has(ix.profiles, id)
	case KindInsulation:
		return has(ix.insulation, id)
	case KindScrew:
		return has(ix.screws, id)
	case KindSundry:
		return has(ix.sundries, id)
	case KindPractice:
		return has(ix.practices, id)
	}
	return false
}

func has[E any](m map[string]*E, id string) bool {
	_, ok := m[id]
	return ok
}

// Suggest says what to write instead of an id that the catalogue does not know:
// the id of that kind which is most like it, or those of the practice's
// standards.
func (c *Catalogue) Suggest(kind, id string, p *Practice) string {
	ids := c.IDs(kind)
	if _, near := yamlfile.Nearest(id, ids); !near {
		ids = slices.DeleteFunc(ids, func(other string) bool { return !p.follows(c.standard(kind, other)) })
	}
	return yamlfile.Suggest(id, "known ids", ids)
}

// standard returns the standard of a product, or "".
func (c *Catalogue) standard(kind, id string) string {
	ix := c.look()
	switch kind {
	case KindBoard:
		return ix.boards[id].Standard
	case KindProfile:
		return ix.profiles[id].Standard
	case KindInsulation:
		return ix.insulation[id].Standard
	case KindScrew:
		return ix.screws[id].Standard
	case KindSundry:
		return ix.sundries[id].Standard
	}
	return ""
}

// IDs lists the ids of a kind in alphabetical order.
func (c *Catalogue) IDs(kind string) []string {
	ix := c.look()
	switch kind {
	case KindBoard:
		return sortedKeys(ix.boards)
	case KindProfile:
		return sortedKeys(ix.profiles)
	case KindInsulation:
		return sortedKeys(ix.insulation)
	case KindScrew:
		return sortedKeys(ix.screws)
	case KindSundry:
		return sortedKeys(ix.sundries)
	case KindPractice:
		return sortedKeys(ix.practices)
	}
	return nil
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
