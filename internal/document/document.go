// Package document puts the pack together that goes to site and office: one
// PDF with a cover, the list of sheets, the practice with its sources, the
// set-out plans, the sheets of every wall, the take-off and the findings. The plan
// file is attached to it, so that what is kept can be made anew.
//
// It takes what the sheets are drawn from, the take-off as plain rows and the
// findings; the same input gives the same bytes.
package document

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"slices"
	"sync"
	"time"

	"nogging/internal/cut"
	"nogging/internal/cut/boards"
	"nogging/internal/drawing"
	"nogging/internal/drawing/pdf"
	"nogging/internal/drawing/sheets"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/masonry"
	"nogging/internal/plan"
	"nogging/internal/proof"
)

// Input is what a pack is made of.
type Input struct {
	sheets.Input
	Set      *sheets.Set // of the same input, where one was made already; may be nil
	TakeOff  []Row
	Findings finding.List
	Masonry  *masonry.Comparison             // nil for a pack without it
	Proof    func(wall string) []proof.Check // nil for a pack without proofs
	Cutting  *Cutting                        // nil for a pack without cutting plans
	Parts    []Part                          // that are wanted; all if empty
	Levels   []string                        // whose sheets are wanted; all if empty
}

// Cutting is how everything is cut, zone by zone.
type Cutting struct {
	Zones   []CutZone
	Options boards.Options
}

// CutZone is how one zone is cut.
type CutZone struct {
	ID     string
	Bars   []cut.Profile
	Boards []boards.Board
}

// Part is a part of a pack that can be left out. The cover and the list of sheets
// stand before every pack.
type Part string

// The parts of a pack.
const (
	PartPractice Part = "practice"
	PartSetOut   Part = "set_out"
	PartDetails  Part = "details"
	PartWalls    Part = "walls"
	PartFinish   Part = "finish"
	PartCutting  Part = "cutting"
	PartProofs   Part = "proofs"
	PartTakeOff  Part = "takeoff"
	PartMasonry  Part = "masonry"
	PartFindings Part = "findings"
)

// Parts lists the parts in the order of the pack.
func Parts() []Part {
	return []Part{PartPractice, PartSetOut, PartDetails, PartWalls, PartFinish, PartCutting, PartProofs, PartTakeOff, PartMasonry, PartFindings}
}

// Wants reports whether a part is wanted.
func (in *Input) Wants(p Part) bool { return len(in.Parts) == 0 || slices.Contains(in.Parts, p) }

// levels lists the levels whose sheets are wanted.
func (in *Input) levels() []plan.Level {
	return slices.DeleteFunc(slices.Clone(in.Plan.Levels), func(l plan.Level) bool { return len(in.Levels) > 0 && !slices.Contains(in.Levels, l.ID) })
}

// Row is one line of the take-off. PerLevel gives the quantity on each level of
// the plan, in the plan's order.
type Row struct {
	Group       string // heading under which the row stands
	Code        string
	Description string
	Unit        string
	Total       float64
	PerLevel    []float64
}

// Pack writes the pack. Report is told how many sheets are done, now and then;
// it may be nil.
func Pack(w io.Writer, in Input, report func(done, total int)) error {
	return PackIn(context.Background(), w, in, report)
}

// PackIn is Pack that ends early, with an error, when ctx does.
func PackIn(ctx context.Context, w io.Writer, in Input, report func(done, total int)) error {
	p := newPack(in)
	p.ctx = ctx
	p.gather()
	if ctx.Err() != nil {
		return ctx.Err()
	}
	made, err := plan.Marshal(in.Plan)
	if err != nil {
		return err
	}
	p.doc = pdf.New(w, pdf.Info{
		Title: p.title(), Subject: "Set-out plans, wall sheets and take-off of partitions", Created: dated(in.Plan.Project),
		Attached: []pdf.Attachment{{Name: "plan.yaml", Type: "application/yaml", What: "The plan from which this pack was made", Data: made}},
	})
	p.writeFront()
	p.writeDrafts(report)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	p.writeBack()
	return p.doc.Close()
}

// pack is a pack being put together.
type pack struct {
	ctx      context.Context
	in       Input
	set      *sheets.Set
	doc      *pdf.Document
	sections []section
	back     []*drawing.Scene // take-off and findings
	front    []*drawing.Scene // cover, list of sheets, practice
	open     string           // section in the outline that is being filled
}

// section is the drawings of one kind on one level.
type section struct {
	title   string
	entries []entry
}

// entry is one drawing in the list of sheets. The drawing itself is arranged
// anew when its turn comes, so that a large pack does not hold all at once.
type entry struct {
	number, title, scale string
	sheets               int
	page                 int // on which it begins
	draw                 func() []*drawing.Scene
}

func newEntry(draft func() sheets.Draft) entry {
	d := draft()
	return entry{number: d.Number, title: d.Title, scale: d.Scale, sheets: d.Sheets, draw: func() []*drawing.Scene {
		d := draft()
		return d.All()
	}}
}

func newPack(in Input) *pack {
	in.Input.Findings = in.Findings // so that a wall's own stand on its sheets
	if in.Set == nil {
		in.Set = sheets.New(in.Input)
	}
	return &pack{in: in, set: in.Set}
}

// dated returns the plan's date; zero if it is none that a calendar has.
func dated(p plan.Project) time.Time {
	day, _ := time.Parse(time.DateOnly, p.Date)
	return day
}

// title names the pack.
func (p *pack) title() string {
	if name := p.in.Plan.Project.Name; name != "" {
		return name
	}
	return "Partitions"
}

// gather arranges all drawings and counts their pages.
func (p *pack) gather() {
	levels := p.in.levels()
	perLevel := func(part Part, title string, draft func(id string) sheets.Draft) {
		s := section{title: title}
		for i := range levels {
			if !p.in.Wants(part) {
				break
			}
			if e := newEntry(func() sheets.Draft { return draft(levels[i].ID) }); e.sheets > 0 {
				s.entries = append(s.entries, e)
			}
		}
		if len(s.entries) > 0 || part == PartSetOut && p.in.Wants(part) {
			p.sections = append(p.sections, s)
		}
	}
	perLevel(PartSetOut, "Set-out plans", p.set.DraftLevel)
	if p.in.Wants(PartDetails) {
		if e := newEntry(p.set.DraftDetails); e.sheets > 0 {
			p.sections = append(p.sections, section{title: "Details", entries: []entry{e}})
		}
	}
	for i := range levels {
		if p.in.Wants(PartWalls) {
			p.sections = append(p.sections, section{title: "Walls, " + levelName(&levels[i]), entries: p.wallEntries(levels[i].ID)})
		}
	}
	perLevel(PartFinish, "Finish schedules", p.set.DraftFinish)
	if p.in.Cutting != nil && p.in.Wants(PartCutting) {
		p.cutting()
	}
	if p.in.Proof != nil && p.in.Wants(PartProofs) {
		p.sections = append(p.sections, section{title: "Proofs", entries: p.proofEntries()})
	}
	for _, x := range []struct {
		part Part
		of   func() []*drawing.Scene
	}{{PartTakeOff, p.takeOffSheets}, {PartMasonry, p.masonrySheets}, {PartFindings, p.findingSheets}} {
		if p.in.Wants(x.part) {
			p.back = append(p.back, x.of()...)
		}
	}
	p.number()
}

// cutting adds a section with the cutting plans of each zone: bars, then boards.
func (p *pack) cutting() {
	for _, z := range p.in.Cutting.Zones {
		s := section{title: "Cutting, " + z.ID}
		if e := newEntry(func() sheets.Draft { return p.set.DraftBarSheets(z.ID, z.Bars) }); e.sheets > 0 {
			s.entries = append(s.entries, e)
		}
		for k := range z.Boards {
			s.entries = append(s.entries, newEntry(func() sheets.Draft { return p.set.DraftCutSheets(z.ID, &z.Boards[k], p.in.Cutting.Options) }))
		}
		p.sections = append(p.sections, s)
	}
}

// wallEntries arranges the walls of a level on all processors.
func (p *pack) wallEntries(level string) []entry {
	var walls []*layout.Wall
	for _, w := range p.in.Layout.Walls {
		if w.Level == level {
			walls = append(walls, w)
		}
	}
	list := make([]entry, len(walls))
	parallel(len(walls), func(i int) {
		if p.ctx.Err() != nil {
			return // nobody wants the pack any more
		}
		w := walls[i]
		list[i] = newEntry(func() sheets.Draft { return p.set.DraftWall(w) })
	})
	return list
}

func levelName(l *plan.Level) string {
	if l.Name != "" {
		return l.Name
	}
	return "level " + l.ID
}

// parallel calls f for 0 to n-1 on all processors.
func parallel(n int, f func(i int)) {
	next := make(chan int)
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		group.Go(func() {
			for i := range next {
				f(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	group.Wait()
}

// number fixes on which page each drawing begins. The list of sheets is one of
// the pages it counts, so its length is found by making it twice.
func (p *pack) number() {
	p.count(0)
	p.front = p.frontSheets()
	p.count(len(p.front))
	p.front = p.frontSheets()
}

func (p *pack) count(front int) {
	page := front + 1
	for i := range p.sections {
		for j := range p.sections[i].entries {
			e := &p.sections[i].entries[j]
			e.page = page
			page += e.sheets
		}
	}
}

// pages returns the number of pages of drawings.
func (p *pack) pages() int {
	n := 0
	for _, s := range p.sections {
		for _, e := range s.entries {
			n += e.sheets
		}
	}
	return n
}

func (p *pack) writeFront() {
	for i, s := range p.front {
		p.doc.Add(pdf.Render(s))
		if i == 0 {
			p.doc.Bookmark("Cover", 0)
		}
		if i == 1 {
			p.doc.Bookmark("List of sheets", 0)
		}
	}
}

// batch is how many drawings are made before they are written.
const batch = 32

// writeDrafts draws and writes all drawings, batch by batch.
func (p *pack) writeDrafts(report func(done, total int)) {
	done, total := 0, p.pages()
	for _, s := range p.sections {
		for from := 0; from < len(s.entries); from += batch {
			if p.ctx.Err() != nil {
				return
			}
			part := s.entries[from:min(from+batch, len(s.entries))]
			pages := make([][]*pdf.Page, len(part))
			parallel(len(part), func(i int) {
				for _, s := range part[i].draw() {
					pages[i] = append(pages[i], pdf.Render(s))
				}
			})
			for i, list := range pages {
				p.writeEntry(s, from+i, list)
				done += len(list)
			}
			if report != nil {
				report(done, total)
			}
		}
	}
}

// writeEntry writes the sheets of one drawing and enters it in the outline.
func (p *pack) writeEntry(s section, n int, pages []*pdf.Page) {
	for i, page := range pages {
		p.doc.Add(page)
		if i > 0 {
			continue
		}
		if s.title != p.open {
			p.doc.Bookmark(s.title, 0)
			p.open = s.title
		}
		p.doc.Bookmark(s.entries[n].title, 1)
	}
}

func (p *pack) writeBack() {
	last := ""
	for _, s := range p.back {
		p.doc.Add(pdf.Render(s))
		if s.Title != last {
			p.doc.Bookmark(s.Title, 0)
			last = s.Title
		}
	}
}

// titled returns a sheet finished with the project's title block.
func (p *pack) titled(s *drawing.Scene, number string, n, of int, caution string, notes []string) *drawing.Scene {
	pr := p.in.Plan.Project
	drawing.Finish(s, drawing.TitleBlock{
		Project: pr.Name, Number: pr.Number, Revision: pr.Revision, Date: pr.Date,
		Title: s.Title, Drawing: numbered(pr.Number, number), Kind: "Schedule", Scale: "–", Sheet: n, Sheets: of,
	}, caution, notes)
	return s
}

func numbered(project, number string) string {
	if project == "" {
		return number
	}
	return fmt.Sprintf("%s-%s", project, number)
}
