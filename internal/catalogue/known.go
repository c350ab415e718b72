package catalogue

import (
	"maps"
	"slices"

	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// The kinds of entry, as Known, IDs and Suggest take them.
const (
	KindBoard      = "board"
	KindProfile    = "profile" // of any kind
	KindStud       = "stud"    // profiles that stand in frames, opening studs and furring channels among them
	KindTrack      = "track"   // profiles that take studs or channels, deep tracks among them
	KindInsulation = "insulation"
	KindScrew      = "screw"
	KindSundry     = "sundry"
	KindPractice   = "practice"
)

// note keeps the standard of an entry under its kind and id.
func (ix *index) note(kind, id, standard string) {
	if ix.standards[kind] == nil {
		ix.standards[kind] = map[string]string{}
	}
	ix.standards[kind][id] = standard
}

func (ix *index) noteAll() {
	for id, e := range ix.boards {
		ix.note(KindBoard, id, e.Standard)
	}
	for id, e := range ix.profiles {
		ix.note(KindProfile, id, e.Standard)
		switch e.Kind {
		case Stud, OpeningStud, Channel:
			ix.note(KindStud, id, e.Standard)
		case Track, DeepTrack, Rail:
			ix.note(KindTrack, id, e.Standard)
		}
	}
	for id, e := range ix.insulation {
		ix.note(KindInsulation, id, e.Standard)
	}
	for id, e := range ix.screws {
		ix.note(KindScrew, id, e.Standard)
	}
	for id, e := range ix.sundries {
		ix.note(KindSundry, id, e.Standard)
	}
	for id := range ix.practices {
		ix.note(KindPractice, id, "")
	}
}

// Known reports whether the catalogue holds an entry of the given kind and id.
func (c *Catalogue) Known(kind, id string) bool {
	_, ok := c.look().standards[kind][id]
	return ok
}

// IDs lists the ids of a kind in alphabetical order.
func (c *Catalogue) IDs(kind string) []string { return sortedKeys(c.look().standards[kind]) }

// Suggest says what to write instead of an id that the catalogue does not know:
// the id of that kind which is most like it, or those of the practice's
// standards.
func (c *Catalogue) Suggest(kind, id string, p *Practice) words.Text {
	ids := c.IDs(kind)
	if _, near := yamlfile.Nearest(id, ids); !near {
		standards := c.look().standards[kind]
		ids = slices.DeleteFunc(ids, func(other string) bool { return !p.follows(standards[other]) })
	}
	return yamlfile.Suggest(id, words.F("%s ids", kind), ids)
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
