package plan

import (
	"fmt"

	"nogging/internal/finding"
)

// LevelByID returns the level of the given id, or nil. Plans have few levels.
func (p *Plan) LevelByID(id string) *Level {
	for i := range p.Levels {
		if p.Levels[i].ID == id {
			return &p.Levels[i]
		}
	}
	return nil
}

// BuildUpByID returns the build-up of the given id, or nil. Plans have few
// build-ups.
func (p *Plan) BuildUpByID(id string) *BuildUp {
	for i := range p.BuildUps {
		if p.BuildUps[i].ID == id {
			return &p.BuildUps[i]
		}
	}
	return nil
}

// OpeningID returns the id of the wall's opening i, counted from 0: its own, or
// the wall's with the opening's number counted from 1, as in L1-07/2.
func (w *Wall) OpeningID(i int) string {
	if id := w.Openings[i].ID; id != "" {
		return id
	}
	return fmt.Sprintf("%s/%d", w.ID, i+1)
}

// Usable reports whether the wall can be laid out at all: all of it could be
// read, it has two different ends, stands on a known level, is higher than
// nothing, and the build-up that it names, if any, can be built. Whether its
// openings fit it is another matter.
func (p *Plan) Usable(w *Wall) bool {
	var list finding.List
	c := p.checker(&list)
	c.wall(w, c.root)
	if b := p.BuildUpByID(w.BuildUp); b != nil {
		c.buildUp(b, c.root)
		if b.Unread {
			return false
		}
	}
	return !w.Unread && p.LevelByID(w.Level) != nil && c.profile(w) != nil && list.Count(finding.Error) == 0
}
