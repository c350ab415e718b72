package plan

import (
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/yamlfile"
)

// Parse reads a plan file and checks it. The plan holds all that could be read;
// the findings say what could not, and what is wrong with the rest, in the
// order of the file. The file's name is used in findings only.
func Parse(file string, data []byte) (*Plan, finding.List) {
	p, _, found := Read(file, data)
	return p, found
}

// Read is Parse for callers that go on to find things in the plan themselves:
// the places say where in the file each value stands.
func Read(file string, data []byte) (*Plan, yamlfile.Places, finding.List) {
	p := &Plan{}
	places, found := yamlfile.Decode(file, data, p)
	if len(p.Levels) == 0 && len(p.Walls) == 0 && found.Count(finding.Error) > 0 {
		return p, places, found // nothing was read that could be checked
	}
	p.settle()
	checked := beyond(p.validate(places), found)
	p.dropFinishes()
	places.Fill(checked)
	found = append(found, checked...)
	found.Sort()
	return p, places, found
}

// settle replaces the word auto, which files may say, by what the model has
// for it.
func (p *Plan) settle() {
	for i := range p.Walls {
		p.Walls[i].settle()
	}
}

func (w *Wall) settle() {
	if w.Head == auto {
		w.Head = HeadAuto
	}
	for _, end := range []*EndCondition{&w.Start, &w.End} {
		if *end == auto {
			*end = Auto
		}
	}
}

// dropFinishes forgets surface levels that are not known, which is said.
func (p *Plan) dropFinishes() {
	for i := range p.BuildUps {
		if b := &p.BuildUps[i]; !slices.Contains(choices["BuildUp.finish"], b.Finish) {
			b.Finish = ""
		}
	}
}

// beyond drops the findings about values that could not be read in the first
// place, or not in full.
func beyond(checked, unread finding.List) finding.List {
	bad, around := map[string]bool{}, map[string]bool{}
	for _, f := range unread {
		if f.Severity == finding.Error {
			bad[f.Path] = true
			for path := outer(f.Path); path != ""; path = outer(path) {
				around[path] = true
			}
		}
	}
	return slices.DeleteFunc(checked, func(f finding.Finding) bool {
		for path := f.Path; path != ""; path = outer(path) {
			if bad[path] {
				return true
			}
		}
		return around[f.Path]
	})
}

// outer returns the path of what holds the value at the path.
func outer(path string) string { return path[:max(strings.LastIndexAny(path, ".["), 0)] }
