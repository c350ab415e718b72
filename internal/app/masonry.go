package app

import (
	"nogging/internal/layout"
	"nogging/internal/masonry"
)

// Masonry holds the partitions beside block walls that do the same. The plan has
// to be built before.
func (j *Job) Masonry() masonry.Comparison {
	p := j.prover()
	laid := map[string]*layout.Wall{}
	for _, w := range j.Layout.Walls {
		laid[w.ID] = w
	}
	var walls []masonry.Input
	for i := range j.Plan.Walls {
		w := &j.Plan.Walls[i]
		if laid[w.ID] != nil {
			walls = append(walls, masonry.Input{Spec: w, Laid: laid[w.ID], Build: p.builds[w.ID]})
			delete(laid, w.ID) // a second wall of the same id is not laid out
		}
	}
	return masonry.Compare(walls, j.Catalogue, j.Practice)
}
