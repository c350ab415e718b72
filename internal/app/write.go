package app

import (
	"bufio"
	"encoding/json"
	"errors"
	"io"

	"nogging/internal/catalogue"
	"nogging/internal/cut/together"
	"nogging/internal/document"
	"nogging/internal/finding"
	"nogging/internal/finish"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/masonry"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/setout"
	"nogging/internal/takeoff"
)

// Folder is where results are written to. Names use slashes.
type Folder interface {
	Create(name string) (io.WriteCloser, error)
	// ClearDrawings removes the drawings of an earlier build from a folder, so
	// that no sheet of a wall that is gone stays among the new ones.
	ClearDrawings(dir string) error
}

// Folders of drawings.
const (
	setOutDir = "set-out"
	detailDir = "details"
	finishDir = "finish"
	wallDir   = "walls"
)

// Write writes everything that people and programs take from a built plan:
// result.json, takeoff.csv, setout.csv, the set-out plans, details and wall drawings as SVG, and
// pack.pdf with the parts that are named, or with all. It returns the number of files.
func (j *Job) Write(to Folder, progress Progress, parts ...document.Part) (files int, err error) {
	w := &writer{job: j, to: to, progress: progress, parts: parts}
	w.err = errors.Join(to.ClearDrawings(setOutDir), to.ClearDrawings(detailDir), to.ClearDrawings(finishDir), to.ClearDrawings(wallDir))
	w.file("result.json", j.writeResult)
	w.file("setout.csv", func(out io.Writer) error { return setout.WriteCSV(out, j.setOut()) })
	w.file("takeoff.csv", func(out io.Writer) error { return takeoff.WriteCSV(out, j.Takeoff) })
	w.drawings()
	return w.files, w.err
}

type writer struct {
	job      *Job
	to       Folder
	progress Progress
	parts    []document.Part
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
		SetOut    []*setout.Level       `json:"set_out"`
		Masonry   masonry.Comparison    `json:"beside_block_walls"`
		Saved     []together.Saving     `json:"boards_saved,omitempty"`
	}{j.Plan.Project, j.Practice.ID, j.Practice.Rules(), j.Findings, j.Layout.Junctions, j.Takeoff.Total, j.Takeoff.Levels, j.setOut(), j.Masonry(), j.Saved()}
	text, err := json.Marshal(head)
	if err != nil {
		return err
	}
	datums := map[string]geom.Point{}
	for i := range j.Plan.Levels {
		level := &j.Plan.Levels[i]
		datums[level.ID] = layout.Datum(j.Plan, j.Layout.Walls, level)
	}
	proofs := j.proofs()
	p := printer{out: out}
	p.write(text[:len(text)-1])
	p.write([]byte(",\"walls\":[\n"))
	for i, wall := range j.Layout.Walls {
		if i > 0 {
			p.write([]byte(",\n"))
		}
		p.value(struct {
			*layout.Wall
			SetOut  []layout.SetOut `json:"set_out"`
			Finish  *finish.Wall    `json:"finished"`
			Proof   []proof.Check   `json:"proof"`
			Takeoff []traced        `json:"takeoff"`
		}{wall, wall.SetOut(datums[wall.Level]), finish.Of(wall, j.Catalogue, j.Practice), proofs(wall.ID), j.traced(wall, j.Takeoff.Walls[i].Lines)})
	}
	p.write([]byte("\n]}\n"))
	return p.err
}

// setOut lists the points of every level.
func (j *Job) setOut() []*setout.Level {
	var list []*setout.Level
	for i := range j.Plan.Levels {
		list = append(list, setout.Of(j.Plan, j.Layout, &j.Plan.Levels[i]))
	}
	return list
}

// traced is a quantity of a wall with the parts it was summed from.
type traced struct {
	takeoff.Line
	From []takeoff.Share `json:"from"`
}

func (j *Job) traced(w *layout.Wall, lines []takeoff.Line) []traced {
	shares := takeoff.Traces(w, j.Catalogue, j.Practice)
	list := make([]traced, len(lines))
	for i, l := range lines {
		list[i] = traced{l, shares[l.Key()]}
	}
	return list
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
