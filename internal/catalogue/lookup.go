package catalogue

import (
	"cmp"
	"slices"
)

// index finds entries by id. The first entry of an id counts.
type index struct {
	boards     map[string]*Board
	profiles   map[string]*Profile
	insulation map[string]*Insulation
	screws     map[string]*Screw
	sundries   map[string]*Sundry
	practices  map[string]*Practice
	standards  map[string]map[string]string // by kind and id

	byLength []*Screw              // shortest first, then for the thinnest steel
	bySize   map[string][]*Profile // tracks and deep tracks by the size they share with studs, thinnest first
	byKind   map[ProfileKind][]*Profile
	byUse    map[sundryUse][]*Sundry // in the catalogue's order
}

type sundryUse struct{ kind, use string }

func newIndex(c *Catalogue) *index {
	ix := &index{
		boards:     byID(c.Boards, func(e *Board) string { return e.ID }),
		profiles:   byID(c.Profiles, func(e *Profile) string { return e.ID }),
		insulation: byID(c.Insulation, func(e *Insulation) string { return e.ID }),
		screws:     byID(c.Screws, func(e *Screw) string { return e.ID }),
		sundries:   byID(c.Sundries, func(e *Sundry) string { return e.ID }),
		practices:  byID(c.Practices, func(e *Practice) string { return e.ID }),
		standards:  map[string]map[string]string{},
		bySize:     map[string][]*Profile{},
		byKind:     map[ProfileKind][]*Profile{},
		byUse:      map[sundryUse][]*Sundry{},
	}
	ix.sortScrews(c)
	ix.sortTracks(c)
	ix.noteAll()
	for i := range c.Sundries {
		s := &c.Sundries[i]
		for _, use := range s.For {
			key := sundryUse{s.Kind, use}
			ix.byUse[key] = append(ix.byUse[key], s)
		}
	}
	return ix
}

func byID[E any](entries []E, id func(*E) string) map[string]*E {
	m := make(map[string]*E, len(entries))
	for i := range entries {
		e := &entries[i]
		if _, taken := m[id(e)]; !taken {
			m[id(e)] = e
		}
	}
	return m
}

func (ix *index) sortScrews(c *Catalogue) {
	for i := range c.Screws {
		ix.byLength = append(ix.byLength, &c.Screws[i])
	}
	slices.SortStableFunc(ix.byLength, func(a, b *Screw) int {
		return cmp.Or(cmp.Compare(a.Length, b.Length), cmp.Compare(a.Steel, b.Steel))
	})
}

func (ix *index) sortTracks(c *Catalogue) {
	for i := range c.Profiles {
		p := &c.Profiles[i]
		ix.byKind[p.Kind] = append(ix.byKind[p.Kind], p)
		if p.Fits != "" && (p.Kind == Track || p.Kind == DeepTrack || p.Kind == Rail) {
			ix.bySize[p.Fits] = append(ix.bySize[p.Fits], p)
		}
	}
	for _, tracks := range ix.bySize {
		slices.SortStableFunc(tracks, func(a, b *Profile) int { return cmp.Compare(a.Thickness, b.Thickness) })
	}
}

// indexed gives c an index. It must run before c is shared.
func (c *Catalogue) indexed() *Catalogue {
	c.index = newIndex(c)
	return c
}

func (c *Catalogue) look() *index {
	if c.index != nil {
		return c.index
	}
	return newIndex(c)
}

func find[E any](m map[string]*E, id string) (*E, bool) {
	e, ok := m[id]
	return e, ok
}

// Board returns the board of the given id.
func (c *Catalogue) Board(id string) (*Board, bool) { return find(c.look().boards, id) }

// Profile returns the profile of the given id.
func (c *Catalogue) Profile(id string) (*Profile, bool) { return find(c.look().profiles, id) }

// InsulationProduct returns the cavity fill of the given id.
func (c *Catalogue) InsulationProduct(id string) (*Insulation, bool) {
	return find(c.look().insulation, id)
}

// Screw returns the screw of the given id.
func (c *Catalogue) Screw(id string) (*Screw, bool) { return find(c.look().screws, id) }

// Sundry returns the sundry of the given id.
func (c *Catalogue) Sundry(id string) (*Sundry, bool) { return find(c.look().sundries, id) }

// PracticeByID returns the practice of the given id.
func (c *Catalogue) PracticeByID(id string) (*Practice, bool) { return find(c.look().practices, id) }

// NominalDepth returns the depth of the frame made with the profile.
func (p *Profile) NominalDepth() Length {
	if p.Depth > 0 {
		return p.Depth
	}
	return p.Web
}

// ScrewFor returns the shortest screw that holds a stack of boards on steel of
// the given thickness: it reaches past the stack by the practice's penetration
// and its point goes through the steel (DIN 18181 and ASTM C840, as the
// practice says). Only screws of the practice's standards are taken.
func (c *Catalogue) ScrewFor(stack, steel Length, p *Practice) (*Screw, bool) {
	need := stack + p.ScrewPenetration.Value
	for _, s := range c.look().byLength {
		if s.Length >= need && s.Steel >= steel && p.follows(s.Standard) {
			return s, true
		}
	}
	return nil, false
}

// follows reports whether the practice's rules choose products of a standard
// by themselves. A product of no standard suits every practice.
func (p *Practice) follows(standard string) bool {
	return standard == "" || len(p.Standards) == 0 || slices.Contains(p.Standards, standard)
}

// AnchorFor returns the anchor for a substrate: concrete, masonry, screed,
// raised_floor, timber, metal_deck, steel.
func (c *Catalogue) AnchorFor(substrate string) (*Sundry, bool) {
	s := c.look().byUse[sundryUse{KindAnchor, substrate}]
	if len(s) == 0 {
		return nil, false
	}
	return s[0], true
}

// SundryFor returns the first sundry of a kind that is made for a use and
// follows one of the practice's standards or none.
func (c *Catalogue) SundryFor(kind, use string, p *Practice) (*Sundry, bool) {
	for _, s := range c.look().byUse[sundryUse{kind, use}] {
		if p.follows(s.Standard) {
			return s, true
		}
	}
	return nil, false
}

// TrackFor returns the track that takes a stud: of the same size and not
// thinner than the stud, or the thickest there is.
func (c *Catalogue) TrackFor(stud string) (*Profile, bool) { return c.trackFor(stud, Track) }

// RailFor returns the perimeter channel that takes a furring channel.
func (c *Catalogue) RailFor(channel string) (*Profile, bool) { return c.trackFor(channel, Rail) }

// StrapFor returns the flat strap that goes with a stud, of the same standard.
func (c *Catalogue) StrapFor(stud string) (*Profile, bool) { return c.firstOf(Strap, stud) }

// AngleFor returns the holding angle that goes with a stud, of the same standard.
func (c *Catalogue) AngleFor(stud string) (*Profile, bool) { return c.firstOf(Angle, stud) }

// firstOf returns the first profile of a kind that is of a stud's standard.
func (c *Catalogue) firstOf(kind ProfileKind, stud string) (*Profile, bool) {
	ix := c.look()
	s, ok := ix.profiles[stud]
	if !ok {
		return nil, false
	}
	for _, p := range ix.byKind[kind] {
		if p.Standard == s.Standard {
			return p, true
		}
	}
	return nil, false
}

// DeepTrackFor returns the head track with long legs that takes a stud under a
// deflection head.
func (c *Catalogue) DeepTrackFor(stud string) (*Profile, bool) { return c.trackFor(stud, DeepTrack) }

func (c *Catalogue) trackFor(stud string, kind ProfileKind) (*Profile, bool) {
	ix := c.look()
	s, ok := ix.profiles[stud]
	if !ok {
		return nil, false
	}
	var best *Profile
	for _, t := range ix.bySize[s.Fits] {
		if t.Kind != kind || t.Standard != s.Standard {
			continue
		}
		if best = t; t.Thickness >= s.Thickness {
			break
		}
	}
	return best, best != nil
}

// OpeningStudFor returns the stiff profile that goes beside openings in a frame
// of the given stud.
func (c *Catalogue) OpeningStudFor(stud string) (*Profile, bool) {
	ix := c.look()
	s, ok := ix.profiles[stud]
	if !ok {
		return nil, false
	}
	return find(ix.profiles, s.Opening)
}
