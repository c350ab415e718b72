// Package sheets draws a layout as the sheets that people build from: a set-out
// plan of each level, and of each wall a framing elevation, a board elevation
// of each face and layer, a section through the build-up and the lists of what
// is cut; and details, sections through everything that occurs, each drawn once
// for the whole project. It takes a plan, its layout, the catalogue and the practice, and
// gives drawing.Scenes on ISO A3 sheets.
//
// Views are arranged and scaled so that nothing overlaps and so that a print
// reduced to A4 can still be read.
package sheets

import (
	"fmt"
	"strings"
	"sync"

	"nogging/internal/catalogue"
	"nogging/internal/drawing"
	"nogging/internal/finding"
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
	Findings  finding.List // about the plan; those of a wall are in its layout
}

// Set draws the sheets of one project. Its methods may be called from several
// goroutines at once.
type Set struct {
	in    Input
	units units
	walls map[string]*plan.Wall
	found map[string]finding.List // errors and warnings, by object
	book  func() *detailBook      // made when first asked for
}

// New returns the set of sheets of a project.
func New(in Input) *Set {
	s := &Set{in: in, units: units{imperial: in.Plan.Practice == "us"}, walls: map[string]*plan.Wall{}, found: map[string]finding.List{}}
	for i := range in.Plan.Walls {
		s.walls[in.Plan.Walls[i].ID] = &in.Plan.Walls[i]
	}
	for _, f := range in.Findings {
		if f.Severity.NeedsPerson() {
			s.found[f.Object] = append(s.found[f.Object], f)
		}
	}
	s.book = sync.OnceValue(s.bindDetails)
	return s
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

// sheet is a page with its blocks drawn.
func (p *page) sheet(name, title string) *drawing.Scene {
	s := drawing.NewScene(name, title, drawing.A3)
	for _, pl := range p.placed {
		pl.block.draw(s, pl.at)
	}
	return s
}

// Draft is a drawing of one or more sheets, arranged but not drawn yet, so that
// a list of contents can stand before the sheets.
type Draft struct {
	Number string // drawing number
	Title  string
	Scale  string
	Sheets int
	draw   func(i int) *drawing.Scene
}

// Sheet draws one sheet, counting from 0. It may be called from several
// goroutines at once, for different sheets.
func (d *Draft) Sheet(i int) *drawing.Scene { return d.draw(i) }

// All draws all sheets.
func (d *Draft) All() []*drawing.Scene {
	out := make([]*drawing.Scene, d.Sheets)
	for i := range out {
		out[i] = d.draw(i)
	}
	return out
}

// Wall draws the sheets of one wall.
func (s *Set) Wall(w *layout.Wall) []*drawing.Scene {
	d := s.DraftWall(w)
	return d.All()
}

// Level draws the set-out sheets of one level.
func (s *Set) Level(id string) []*drawing.Scene {
	d := s.DraftLevel(id)
	return d.All()
}
