package catalogue

import (
	"fmt"
	"slices"
	"strings"
)

// LeafLimit is the heaviest door leaf that opening studs carry in frames of a
// depth or more.
type LeafLimit struct {
	Depth Length  `json:"depth"`
	Leaf  float64 `json:"leaf"` // kg, with hardware
}

// String says what the row allows.
func (l LeafLimit) String() string {
	return fmt.Sprintf("frame %s mm: leaf up to %s kg", l.Depth, inWords(l.Leaf))
}

// HeaviestLeaf returns the heaviest leaf in kg that opening studs carry in a
// frame of the given depth.
func (p *Practice) HeaviestLeaf(depth Length) float64 {
	most := 0.0
	for _, l := range p.OpeningStudLeaf.Value {
		if l.Depth <= depth {
			most = l.Leaf
		}
	}
	return most
}

// DepthForLeaf returns the least depth of a frame whose opening studs carry a
// leaf of the given mass in kg.
func (p *Practice) DepthForLeaf(leaf float64) (Length, bool) {
	for _, l := range p.OpeningStudLeaf.Value {
		if l.Leaf >= leaf {
			return l.Depth, true
		}
	}
	return 0, false
}

// Fixture is what one kind of thing that is hung on a wall usually needs.
type Fixture struct {
	Kind    string   `json:"kind"`            // as plans name fixings
	Height  Length   `json:"height"`          // above the floor, where the plan gives none
	Grounds []Length `json:"grounds"`         // heights of its backing, from its own height upwards
	Depth   Length   `json:"depth,omitempty"` // least depth of the cavity that takes it
	Load    float64  `json:"load,omitempty"`  // kg that it has to carry, where the plan gives no mass
	Frame   bool     `json:"frame,omitempty"` // a frame that stands on the floor between two opening studs
	Width   Length   `json:"width,omitempty"` // of that frame, where the plan gives none
	Note    string   `json:"note,omitempty"`
}

// String says what the row asks for.
func (x Fixture) String() string {
	parts := []string{fmt.Sprintf("%s at %s mm", strings.ReplaceAll(x.Kind, "_", " "), x.Height)}
	if len(x.Grounds) != 1 || x.Grounds[0] != 0 {
		parts = append(parts, "backing at "+joined(x.Grounds, " / ")+" mm from there")
	}
	if x.Frame {
		parts = append(parts, "between opening studs")
	}
	if x.Depth > 0 {
		parts = append(parts, fmt.Sprintf("cavity %s mm", x.Depth))
	}
	if x.Load > 0 {
		parts = append(parts, inWords(x.Load)+" kg")
	}
	return strings.Join(parts, ", ")
}

// FixtureFor returns what a kind of fixing usually needs.
func (p *Practice) FixtureFor(kind string) (*Fixture, bool) {
	list := p.Fixtures.Value
	i := slices.IndexFunc(list, func(x Fixture) bool { return x.Kind == kind })
	if i < 0 {
		return nil, false
	}
	return &list[i], true
}

func leafConflict(rows []LeafLimit) string {
	for i, r := range rows {
		if r.Depth <= 0 || r.Leaf <= 0 || i > 0 && (r.Depth <= rows[i-1].Depth || r.Leaf < rows[i-1].Leaf) {
			return fmt.Sprintf("row %d: a deeper frame has to carry at least the leaf of the one before, and both are above zero", i+1)
		}
	}
	return ""
}

func fixtureConflict(rows []Fixture) string {
	seen := map[string]bool{}
	for i, r := range rows {
		switch {
		case r.Kind == "" || seen[r.Kind]:
			return fmt.Sprintf("row %d: kind %q is empty or named twice", i+1, r.Kind)
		case r.Height <= 0 || r.Depth < 0 || r.Load < 0 || r.Width < 0 || len(r.Grounds) == 0:
			return fmt.Sprintf("row %d: %s needs a height and at least one ground", i+1, r.Kind)
		}
		for _, g := range r.Grounds {
			if r.Height+g <= 0 {
				return fmt.Sprintf("row %d: a ground of %s lies below the floor", i+1, r.Kind)
			}
		}
		seen[r.Kind] = true
	}
	return ""
}

// StudAtLeast returns the thinnest stud of a stud's size and flange or wider
// whose sheet is as thick as asked, or the stud itself where that is thick
// enough or none is.
func (c *Catalogue) StudAtLeast(stud *Profile, sheet Length) *Profile {
	best := stud
	if stud.Thickness >= sheet {
		return stud
	}
	for i := range c.Profiles {
		p := &c.Profiles[i]
		if p.Kind != Stud || p.Fits != stud.Fits || p.Standard != stud.Standard || p.Thickness < sheet {
			continue
		}
		if best == stud || p.Thickness < best.Thickness || p.Thickness == best.Thickness && p.Flange < best.Flange {
			best = p
		}
	}
	return best
}
