package catalogue

import (
	"embed"
	"fmt"
	"io/fs"
	"strings"
	"sync"

	"nogging/internal/finding"
	"nogging/internal/quantity"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

//go:embed data/*.yaml
var data embed.FS

// Shipped returns the catalogue that comes with the program. It is read once;
// callers share it and must not change it.
var Shipped = sync.OnceValue(func() *Catalogue {
	c, _ := load(data) // that there are no findings is checked by a test
	return c
})

// load reads the files of a folder data, in the order of their names, into one
// catalogue.
func load(files fs.FS) (*Catalogue, finding.List) {
	names, _ := fs.Glob(files, "data/*.yaml")
	all := &Catalogue{}
	var found finding.List
	for _, name := range names {
		content, err := fs.ReadFile(files, name)
		if err != nil {
			found.Add(finding.Finding{Code: "file-unreadable", Severity: finding.Error, Object: name, What: words.Of(err.Error())})
			continue
		}
		part := &Catalogue{}
		_, wrong := yamlfile.Decode(name, content, part)
		found = append(found, wrong...)
		all.take(part)
	}
	return all.indexed(), found
}

// take appends the entries of another catalogue.
func (c *Catalogue) take(part *Catalogue) {
	c.Boards = append(c.Boards, part.Boards...)
	c.Profiles = append(c.Profiles, part.Profiles...)
	c.Insulation = append(c.Insulation, part.Insulation...)
	c.Screws = append(c.Screws, part.Screws...)
	c.Sundries = append(c.Sundries, part.Sundries...)
	c.Practices = append(c.Practices, part.Practices...)
	c.Materials = append(c.Materials, part.Materials...)
	c.FireEvidence = append(c.FireEvidence, part.FireEvidence...)
	c.HeightEvidence = append(c.HeightEvidence, part.HeightEvidence...)
	c.SoundEvidence = append(c.SoundEvidence, part.SoundEvidence...)
	c.Masonry = append(c.Masonry, part.Masonry...)
	c.Carbon = append(c.Carbon, part.Carbon...)
	c.Prices = append(c.Prices, part.Prices...)
	c.Packs = append(c.Packs, part.Packs...)
	c.Operations = append(c.Operations, part.Operations...)
	c.Productivity = append(c.Productivity, part.Productivity...)
}

// Parse reads a user's catalogue from the text of a YAML file; file is its name
// in findings. What cannot be read is a finding, and the rest is returned to be
// merged over the shipped catalogue. Entries and rules without a status get
// the status Entered.
func Parse(file string, content []byte) (*Catalogue, finding.List) {
	c := &Catalogue{}
	places, found := yamlfile.Decode(file, content, c)
	c.text = &text{places: places, unread: map[string]bool{}}
	for _, f := range found {
		if entry, _, ok := strings.Cut(f.Path, "]"); ok && f.Severity == finding.Error {
			c.text.unread[entry+"]"] = true
		}
	}
	c.enteredByUser()
	return c.indexed(), found
}

// text is what is known of the file that a catalogue was read from.
type text struct {
	places yamlfile.Places
	unread map[string]bool // paths of entries of which a part could not be read
}

// half reports whether only a part of the entry at path could be read, which
// is a finding already.
func (t *text) half(path string) bool { return t != nil && t.unread[path] }

// locate gives findings their places in the file.
func (t *text) locate(found finding.List) {
	if t != nil {
		t.places.Fill(found)
	}
}

// has reports whether the entry at path has the key.
func (t *text) has(path, key string) bool {
	return t.places.At(path+"."+key) != t.places.At(path)
}

// enteredByUser sets the statuses that a user's file leaves out.
func (c *Catalogue) enteredByUser() {
	for i := range c.Boards {
		entered(&c.Boards[i].Status)
	}
	for i := range c.Profiles {
		entered(&c.Profiles[i].Status)
	}
	for i := range c.Insulation {
		entered(&c.Insulation[i].Status)
	}
	for i := range c.Screws {
		entered(&c.Screws[i].Status)
	}
	for i := range c.Sundries {
		entered(&c.Sundries[i].Status)
	}
	for i := range c.Materials {
		m := &c.Materials[i]
		for _, r := range []*Rule[float64]{&m.Lambda, &m.MuDry, &m.MuWet} {
			if r.given() {
				entered(&r.Status)
			}
		}
	}
	for i := range c.FireEvidence {
		entered(&c.FireEvidence[i].Status)
	}
	for i := range c.HeightEvidence {
		entered(&c.HeightEvidence[i].Status)
	}
	for i := range c.SoundEvidence {
		entered(&c.SoundEvidence[i].Status)
	}
	for i := range c.Masonry {
		m := &c.Masonry[i]
		for _, r := range []*Rule[float64]{&m.Density, &m.Coat, &m.Hours} {
			entered(&r.Status)
		}
		if m.Fire.Value != "" {
			entered(&m.Fire.Status)
		}
	}
	for i := range c.Carbon {
		entered(&c.Carbon[i].Status)
	}
	for i := range c.Prices {
		entered(&c.Prices[i].Status)
	}
	for i := range c.Packs {
		entered(&c.Packs[i].Status)
	}
	for i := range c.Operations {
		entered(&c.Operations[i].Status)
	}
	for i := range c.Productivity {
		entered(&c.Productivity[i].Status)
	}
	for i := range c.Practices {
		path := fmt.Sprintf("practices[%d]", i)
		for _, f := range fields {
			if c.text.has(path, f.name) {
				entered(f.of(&c.Practices[i]).status())
			}
		}
	}
}

// entered sets a status that nobody wrote.
func entered(s *quantity.Status) {
	if *s == "" {
		*s = quantity.Entered
	}
}
