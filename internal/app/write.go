package app

import (
	"bufio"
	"encoding/json"
	"errors"
	"io"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/takeoff"
)

// Folder is where results are written to. Names use slashes.
type Folder interface {
	Create(name string) (io.WriteCloser, error)
}

// Write writes everything that people and programs take from a built plan:
// result.json, takeoff.csv, the set-out plans and wall drawings as SVG, and
// pack.pdf. It returns the number of files.
func (j *Job) Write(to Folder, progress Progress) (files int, err error) {
	w := &writer{job: j, to: to, progress: progress}
	w.file("result.json", j.writeResult)
	w.file("takeoff.csv", func(out io.Writer) error { return takeoff.WriteCSV(out, j.Takeoff) })
	w.drawings()
	return w.files, w.err
}

type writer struct {
	job      *Job
	to       Folder
	progress Progress
	files    int
	err      error
}

// file writes one file; after an error it does nothing.
func (w *writer) file(name string, fill func(io.Writer) error) {
	if w.err != nil {
		return
	}
	out, err := w.to.Create(name)
	if err != nil {
		w.err = err
		return
	}
	buffer := bufio.NewWriterSize(out, 1<<16)
	w.err = errors.Join(fill(buffer), buffer.Flush(), out.Close())
	w.files++
}

// writeResult writes the whole result as JSON, one wall a line, so that large
// projects need not be held as text.
func (j *Job) writeResult(out io.Writer) error {
	head := struct {
		Project   plan.Project          `json:"project"`
		Practice  string                `json:"practice"`
		Rules     []catalogue.NamedRule `json:"rules"`
		Findings  finding.List          `json:"findings"`
		Junctions []layout.Junction     `json:"junctions"`
		Takeoff   []takeoff.Line        `json:"takeoff"`
		Levels    []takeoff.Level       `json:"takeoff_by_level"`
	}{j.Plan.Project, j.Practice.ID, j.Practice.Rules(), j.Findings, j.Layout.Junctions, j.Takeoff.Total, j.Takeoff.Levels}
	text, err := json.Marshal(head)
	if err != nil {
		return err
	}
	p := printer{out: out}
	p.write(text[:len(text)-1])
	p.write([]byte(",\"walls\":[\n"))
	for i, wall := range j.Layout.Walls {
		if i > 0 {
			p.write([]byte(",\n"))
		}
		p.value(struct {
			*layout.Wall
			Takeoff []takeoff.Line `json:"takeoff"`
		}{wall, j.Takeoff.Walls[i].Lines})
	}
	p.write([]byte("\n]}\n"))
	return p.err
}

// printer writes until the first error.
type printer struct {
	out io.Writer
	err error
}

func (p *printer) write(b []byte) {
	if p.err == nil {
		_, p.err = p.out.Write(b)
	}
}

func (p *printer) value(v any) {
	text, err := json.Marshal(v)
	if err != nil && p.err == nil {
		p.err = err
	}
	p.write(text)
}
