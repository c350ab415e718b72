// Package document puts the pack together that goes to site and office: one
// PDF with a cover, the list of sheets, the practice with its sources, the
// set-out plans, the sheets of every wall, the take-off and the findings.
//
// It takes what the sheets are drawn from, the take-off as plain rows and the
// findings; the same input gives the same bytes.
package document

import (
	"fmt"
	"io"
	"runtime"
	"sync"

	"nogging/internal/drawing"
	"nogging/internal/drawing/pdf"
	"nogging/internal/drawing/sheets"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// Input is what a pack is made of.
type Input struct {
	sheets.Input
	TakeOff  []Row
	Findings finding.List
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
	p := newPack(in)
	p.gather()
	p.writeFront()
	p.writeDrafts(report)
	p.writeBack()
	_, err := p.doc.WriteTo(w)
	return err
}

// pack is a pack being put together.
type pack struct {
	in       Input
	set      *sheets.Set
	doc      *pdf.Document
	sections []section
	back     []*drawing.Scene // take-off and findings
	front    []*drawing.Scene // cover, list of sheets, practice
}

// section is the drawings of one kind on one level.
type section struct {
	title  string
	level  string
	drafts []sheets.Draft
	first  []int // page on which each draft begins
}

func newPack(in Input) *pack {
	title := in.Plan.Project.Name
	if title == "" {
		title = "Partitions"
	}
	return &pack{in: in, set: sheets.New(in.Input),
		doc: pdf.New(pdf.Info{Title: title, Subject: "Set-out plans, wall sheets and take-off of partitions"})}
}

// gather arranges all drawings and counts their pages.
func (p *pack) gather() {
	plans := section{title: "Set-out plans"}
	for i := range p.in.Plan.Levels {
		if d := p.set.DraftLevel(p.in.Plan.Levels[i].ID); d.Sheets > 0 {
			plans.drafts = append(plans.drafts, d)
		}
	}
	p.sections = append(p.sections, plans)
	for i := range p.in.Plan.Levels {
		level := &p.in.Plan.Levels[i]
		var walls []*layout.Wall
		for _, w := range p.in.Layout.Walls {
			if w.Level == level.ID {
				walls = append(walls, w)
			}
		}
		p.sections = append(p.sections, section{title: "Walls, " + levelName(level), level: level.ID, drafts: p.draftAll(walls)})
	}
	p.back = append(p.takeOffSheets(), p.findingSheets()...)
	p.number()
}

func levelName(l *plan.Level) string {
	if l.Name != "" {
		return l.Name
	}
	return "level " + l.ID
}

// draftAll arranges the sheets of many walls on all processors.
func (p *pack) draftAll(walls []*layout.Wall) []sheets.Draft {
	drafts := make([]sheets.Draft, len(walls))
	parallel(len(walls), func(i int) { drafts[i] = p.set.DraftWall(walls[i]) })
	return drafts
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
		s := &p.sections[i]
		s.first = s.first[:0]
		for _, d := range s.drafts {
			s.first = append(s.first, page)
			page += d.Sheets
		}
	}
}

// pages returns the number of pages of drawings.
func (p *pack) pages() int {
	n := 0
	for _, s := range p.sections {
		for _, d := range s.drafts {
			n += d.Sheets
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

// sheetRef is one sheet to be drawn.
type sheetRef struct {
	draft   *sheets.Draft
	index   int
	section *section
}

// batch is how many sheets are drawn before they are written, so that few are
// held at a time.
const batch = 64

// writeDrafts draws and writes all drawings, batch by batch.
func (p *pack) writeDrafts(report func(done, total int)) {
	var refs []sheetRef
	for i := range p.sections {
		s := &p.sections[i]
		for j := range s.drafts {
			for n := range s.drafts[j].Sheets {
				refs = append(refs, sheetRef{&s.drafts[j], n, s})
			}
		}
	}
	var last *section
	for from := 0; from < len(refs); from += batch {
		part := refs[from:min(from+batch, len(refs))]
		done := make([]*pdf.Page, len(part))
		parallel(len(part), func(i int) { done[i] = pdf.Render(part[i].draft.Sheet(part[i].index)) })
		for i, page := range done {
			p.doc.Add(page)
			p.bookmark(part[i], last)
			last = part[i].section
		}
		if report != nil {
			report(from+len(part), len(refs))
		}
	}
}

// bookmark enters a sheet in the outline if a section or drawing begins on it.
func (p *pack) bookmark(r sheetRef, last *section) {
	if r.section != last {
		p.doc.Bookmark(r.section.title, 0)
	}
	if r.index == 0 {
		p.doc.Bookmark(r.draft.Title, 1)
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
