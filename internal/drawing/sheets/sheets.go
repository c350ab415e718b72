// Package sheets draws a layout as the sheets that people build from: a set-out
// plan of each level, and of each wall a framing elevation, a board elevation
// of each face and layer, a section through the build-up and the lists of what
// is cut. It takes a plan, its layout, the catalogue and the practice, and
// gives drawing.Scenes on ISO A3 sheets.
//
// Views are arranged and scaled so that nothing overlaps and so that a print
// reduced to A4 can still be read.
package sheets

import (
	"fmt"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/drawing"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// Input is what sheets are drawn from. Practice may be nil; notes then leave
// out what it would say.
type Input struct {
	Plan      *plan.Plan
	Layout    *layout.Project
	Catalogue *catalogue.Catalogue
	Practice  *catalogue.Practice
}

// Set draws the sheets of one project. Its methods may be called from several
// goroutines at once.
type Set struct {
	in        Input
	units     units
	boards    map[string]*catalogue.Board
	profiles  map[string]*catalogue.Profile
	wools     map[string]*catalogue.Insulation
	screws    map[string]*catalogue.Screw
	sundries  map[string]*catalogue.Sundry
	buildUps  map[string]*plan.BuildUp
	planWalls map[string]*plan.Wall
	levels    map[string]*plan.Level
}

// New returns the set of sheets of a project.
func New(in Input) *Set {
	s := &Set{in: in, units: units{imperial: in.Plan.Practice == "us"}}
	cat := in.Catalogue
	s.boards = index(cat.Boards, func(b *catalogue.Board) string { return b.ID })
	s.profiles = index(cat.Profiles, func(p *catalogue.Profile) string { return p.ID })
	s.wools = index(cat.Insulation, func(i *catalogue.Insulation) string { return i.ID })
	s.screws = index(cat.Screws, func(c *catalogue.Screw) string { return c.ID })
	s.sundries = index(cat.Sundries, func(y *catalogue.Sundry) string { return y.ID })
	s.buildUps = index(in.Plan.BuildUps, func(b *plan.BuildUp) string { return b.ID })
	s.planWalls = index(in.Plan.Walls, func(w *plan.Wall) string { return w.ID })
	s.levels = index(in.Plan.Levels, func(l *plan.Level) string { return l.ID })
	return s
}

// index maps the entries of a list by their id; of equal ids the last counts.
func index[T any](list []T, id func(*T) string) map[string]*T {
	m := make(map[string]*T, len(list))
	for i := range list {
		m[id(&list[i])] = &list[i]
	}
	return m
}

// FileName makes an id fit for a file name. Different ids give different names.
func FileName(id string) string {
	var b strings.Builder
	for _, c := range []byte(id) {
		switch {
		case c >= '0' && c <= '9', c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c == '-', c == '.':
			b.WriteByte(c)
		default:
			fmt.Fprintf(&b, "_%02x", c)
		}
	}
	return b.String()
}

// title returns a title block with what all sheets of the project share.
func (s *Set) title() drawing.TitleBlock {
	p := s.in.Plan.Project
	return drawing.TitleBlock{Project: p.Name, Number: p.Number, Revision: p.Revision, Date: p.Date}
}

// numbered puts the project's number before a drawing number.
func (s *Set) numbered(drawing string) string {
	if n := s.in.Plan.Project.Number; n != "" {
		return n + "-" + drawing
	}
	return drawing
}

// caution stands on every sheet that shows how a wall is built.
const caution = "Not a certificate: for fire and structure the local code and a licensed professional decide."

// sheetScene is a sheet with its blocks drawn.
func (p *page) sheet(name, title string) *drawing.Scene {
	s := drawing.NewScene(name, title, drawing.A3)
	for _, pl := range p.placed {
		pl.block.draw(s, pl.at)
	}
	return s
}
