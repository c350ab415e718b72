// Package app holds the use cases: open a plan, check it, lay it out, measure
// it and write what people take away. It puts the core packages together and
// declares what it needs of the world (reading files, a folder to write to);
// the command line and the page give it those.
package app

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/cut/together"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/takeoff"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// ReadFile gives the content of a file by its name.
type ReadFile func(name string) ([]byte, error)

// Progress is told how far a long piece of work has come. It may be called from
// several goroutines at once.
type Progress func(work string, done, total int)

// Quiet is a Progress that tells nobody.
func Quiet(string, int, int) {}

// Job is one plan with everything that belongs to it.
type Job struct {
	Plan      *plan.Plan
	Catalogue *catalogue.Catalogue
	Practice  *catalogue.Practice
	Findings  finding.List // about the files, the plan and, once it is laid out, the walls
	Layout    *layout.Project
	Takeoff   *takeoff.Project

	saved *together.Choice // how walls are laid out so that fewest boards are bought; nil before it is chosen

	places yamlfile.Places
	said   map[about]bool
	zones  *zonePlans
}

// DefaultPractice is the practice of plans that name none.
const DefaultPractice = "metric"

// Open reads a plan file and the user catalogues that it names, and checks
// them. The error says that the plan file itself could not be read; everything
// else is a finding.
func Open(name string, read ReadFile) (*Job, error) {
	data, err := read(name)
	if err != nil {
		return nil, err
	}
	j := &Job{Catalogue: catalogue.Shipped(), said: map[about]bool{}}
	var found finding.List
	j.Plan, j.places, found = plan.Read(name, data)
	j.add(found)
	j.mergeAll(path.Dir(name), read)
	j.choosePractice()
	j.add(j.Plan.CheckProducts(j.ids))
	j.Findings.Sort()
	return j, nil
}

// OfPlan checks a plan that is in hand, with the user catalogues that it names,
// which read gives by those names. Findings have paths in the plan and no places.
func OfPlan(p *plan.Plan, read ReadFile) *Job {
	j := &Job{Plan: p, Catalogue: catalogue.Shipped(), said: map[about]bool{}}
	j.add(p.Validate())
	j.mergeAll("", read)
	j.choosePractice()
	j.add(p.CheckProducts(j.ids))
	j.Findings.Sort()
	return j
}

// mergeAll lays the plan's catalogues over the shipped one.
func (j *Job) mergeAll(dir string, read ReadFile) {
	for i, file := range j.Plan.Catalogue {
		j.merge(file, path.Join(dir, file), fmt.Sprintf("catalogue[%d]", i), read)
	}
}

// add takes findings over, with their places in the plan file. What has been
// said of a place already is not said again.
func (j *Job) add(found finding.List) {
	j.places.Fill(found)
	for _, f := range found {
		if f.Path == "" || !j.said[about{f.Code, f.Path, f.What.String()}] {
			j.Findings.Add(f)
		}
		j.said[about{f.Code, f.Path, f.What.String()}] = true
	}
}

// about is what makes two findings one; what they say is compared in English.
type about struct {
	code, path string
	what       string
}

// merge lays a user's catalogue over the one in hand.
func (j *Job) merge(file, name, where string, read ReadFile) {
	data, err := read(name)
	if err != nil {
		j.add(finding.List{{
			Code: "catalogue-unread", Severity: finding.Error, Object: file, Path: where,
			What: words.F("the catalogue could not be read: %s", err.Error()),
			Fix:  "give its path from the plan's folder",
		}})
		return
	}
	user, found := catalogue.Parse(file, data)
	j.Findings = append(j.Findings, found...)
	merged, found := j.Catalogue.Merge(user)
	j.Findings = append(j.Findings, found...)
	j.Catalogue = merged
}

// ids lists the catalogue's ids of a kind that plans refer to, those of the
// plan's practice first.
func (j *Job) ids(kind string) []string {
	list := j.Catalogue.For(j.Practice).IDs(kind)
	for _, id := range j.Catalogue.IDs(kind) {
		if !slices.Contains(list, id) {
			list = append(list, id)
		}
	}
	return list
}

// choosePractice takes the plan's practice with the project's changes.
func (j *Job) choosePractice() {
	id := j.Plan.Practice
	if id == "" {
		id = DefaultPractice
	}
	pr, ok := j.Catalogue.PracticeByID(id)
	if !ok {
		pr, _ = j.Catalogue.PracticeByID(DefaultPractice)
	}
	changed, found := pr.With(j.Plan.Overrides)
	j.add(found)
	j.Practice = &changed
}

// Build lays the plan out and measures it.
func (j *Job) Build(progress Progress) {
	ready := layout.Prepare(j.Plan, j.Catalogue, j.Practice)
	j.Layout = ready.Layout(j.ways(ready, progress), func(done, total int) { progress("laying out walls", done, total) })
	j.Takeoff = takeoff.Of(j.Plan, j.Layout, j.Catalogue, j.Practice)
	j.tellLaid()
}

// tellLaid adds what laying the plan out found.
func (j *Job) tellLaid() {
	found := append(finding.List{}, j.Layout.Findings...)
	for _, w := range j.Layout.Walls {
		found = append(found, w.Findings...)
	}
	found = append(found, j.finishAssumed()...)
	found = append(found, j.notProven()...)
	found = j.oneCrossing(found)
	j.locate(found)
	j.add(found)
	j.Findings.Sort()
}

// finishAssumed says that walls whose build-up gives no surface level get the
// practice's usual one.
func (j *Job) finishAssumed() finding.List {
	n := 0
	for _, w := range j.Layout.Walls {
		if _, ok := j.Practice.FinishFor(w.Finish); !ok || w.Finish == "" {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	return finding.List{{
		Code: "finish-assumed", Severity: finding.Assumed,
		What: words.F("the build-ups of %s give no surface level of this practice; %s is taken", words.Count(n, "1 wall", "%d walls"), j.Practice.UsualFinish.Value),
		Fix:  words.F("write `finish` in the build-up: %s", strings.Join(j.finishLevels(), ", ")),
	}}
}

func (j *Job) finishLevels() []string {
	var list []string
	for _, l := range j.Practice.FinishLevels.Value {
		list = append(list, l.Level)
	}
	return list
}

// notProven says that requirements are taken over and shown, but not proven.
func (j *Job) notProven() finding.List {
	n := 0
	for i := range j.Plan.Walls {
		if j.Plan.Walls[i].Require != (plan.Requirements{}) {
			n++
		}
	}
	of := fmt.Sprintf("%d walls are shown on their sheets, and nothing has proven yet that their build-ups meet", n)
	switch n {
	case 0:
		return nil
	case 1:
		of = "1 wall are shown on its sheets, and nothing has proven yet that its build-up meets"
	}
	return finding.List{{
		Code: notProvenCode, Severity: finding.Note,
		What: words.F("requirements of %s them", of),
		Fix:  "the proof holds the walls against them",
	}}
}

// locate gives findings about walls and openings their path in the plan.
func (j *Job) locate(found finding.List) {
	paths := map[string]string{}
	for i := range j.Plan.Walls {
		w := &j.Plan.Walls[i]
		paths[w.ID] = fmt.Sprintf("walls[%d]", i)
		for k := range w.Openings {
			paths[w.OpeningID(k)] = fmt.Sprintf("walls[%d].openings[%d]", i, k)
		}
	}
	for i := range found {
		if f := &found[i]; f.Path == "" {
			f.Path = paths[f.Object]
		}
	}
}
