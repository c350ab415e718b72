package plan

import "fmt"

// LevelByID returns the level of the given id, or nil.
func (p *Plan) LevelByID(id string) *Level {
	for i := range p.Levels {
		if p.Levels[i].ID == id {
			return &p.Levels[i]
		}
	}
	return nil
}

// OpeningID returns the id of the wall's opening i: its own, or the wall's with
// a number.
func (w *Wall) OpeningID(i int) string {
	if id := w.Openings[i].ID; id != "" {
		return id
	}
	return fmt.Sprintf("%s/%d", w.ID, i+1)
}

// Usable reports whether the wall can be laid out at all: it has two different
// ends, stands on a known level and is higher than nothing.
func (p *Plan) Usable(w *Wall) bool {
	level := p.LevelByID(w.Level)
	if level == nil || len(w.Line) != 2 || w.Line[0] == w.Line[1] {
		return false
	}
	if len(w.Heights) == 0 {
		return w.Height > 0 || w.Height == 0 && level.ClearHeight > 0
	}
	for _, h := range w.Heights {
		if h.Height <= 0 {
			return false
		}
	}
	return true
}
