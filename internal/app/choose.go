package app

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/choice"
	"nogging/internal/plan"
	"nogging/internal/proof/moisture/din18534_1"
	"nogging/internal/yamlfile"
)

// OpenCatalogues reads catalogues over the shipped one, for work without a plan.
// The error says that there is no such practice; what is wrong with a catalogue is
// a finding.
func OpenCatalogues(files []string, practice string, read ReadFile) (*Job, error) {
	j := &Job{Catalogue: catalogue.Shipped(), Plan: &plan.Plan{Practice: practice}, said: map[about]bool{}}
	for i, file := range files {
		j.merge(file, file, fmt.Sprintf("catalogue[%d]", i), read)
	}
	if practice == "" {
		practice = DefaultPractice
	}
	if _, ok := j.Catalogue.PracticeByID(practice); !ok {
		return nil, fmt.Errorf("there is no practice %s\n  hint: %s", practice, yamlfile.Suggest(practice, "practices", j.Catalogue.IDs(catalogue.KindPractice)))
	}
	j.choosePractice()
	j.Findings.Sort()
	return j, nil
}

// DemandOf returns what is asked of a laid-out wall, for a choice among build-ups:
// its requirements, the water action classes of the rooms at its faces, its
// greatest height and its head. The plan has to be built before.
func (j *Job) DemandOf(id string) (choice.Demand, error) {
	at := slices.IndexFunc(j.Plan.Walls, func(w plan.Wall) bool { return w.ID == id })
	for _, laid := range j.Layout.Walls {
		if laid.ID != id || at < 0 {
			continue
		}
		wall := &j.Plan.Walls[at]
		d := choice.Demand{Require: wall.Require, Head: laid.Head.Kind, HeadMove: laid.Head.Gap}
		d.Require.Wet = ""
		for _, p := range laid.Top {
			d.Height = max(d.Height, p.Y)
		}
		for _, s := range j.Plan.RoomsBeside(wall) {
			for side, room := range s.Rooms {
				if room != nil {
					d.Wet[side] = string(din18534_1.Severest(din18534_1.Class(d.Wet[side]), din18534_1.Class(room.Wet)))
				}
			}
		}
		for side := range d.Wet {
			d.Wet[side] = cmp.Or(wall.Require.Wet, d.Wet[side])
		}
		if b := j.prover().builds[id]; b != nil && b.Kind.OneSided() {
			d.Frames = []plan.FrameKind{b.Kind}
		}
		for _, p := range wall.Pipes {
			d.Service = max(d.Service, p.Diameter)
		}
		return d, nil
	}
	return choice.Demand{}, fmt.Errorf("no wall %s was laid out", id)
}

// Choose chooses a build-up for a demand among what the job's catalogue and
// practice have.
func (j *Job) Choose(d choice.Demand, o choice.Options) (*choice.Result, error) {
	r, errs := choice.Choose(d, j.Catalogue, j.Practice, o)
	if len(errs) > 0 {
		var all []string
		for _, err := range errs {
			all = append(all, err.Error())
		}
		return nil, fmt.Errorf("the demand cannot be understood: %s", strings.Join(all, "; "))
	}
	return r, nil
}
