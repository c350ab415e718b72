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
	w.file("result.json", j.WriteResult)
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

// Result is the form of result.json.
type Result struct {
	ResultHead
	Walls []ResultWall `json:"walls"` // that could be laid out, in the order of the plan
}

// ResultHead is what a result says of the whole plan.
type ResultHead struct {
	Project   plan.Project          `json:"project"`
	Practice  string                `json:"practice"` // id of the practice
	Rules     []catalogue.NamedRule `json:"rules"`    // the practice's values with their sources
	Findings  finding.List          `json:"findings"`
	Junctions []layout.Junction     `json:"junctions"`
	Takeoff   []takeoff.Line        `json:"takeoff"` // of all walls
	Levels    []takeoff.Level       `json:"takeoff_by_level"`
	SetOut    []*setout.Level       `json:"set_out"` // points to mark on slab and soffit
	Masonry   masonry.Comparison    `json:"beside_block_walls"`
	Saved     []together.Saving     `json:"boards_saved,omitempty"` // where walls were laid out so that fewest boards are bought
}

// ResultWall is one wall as laid out.
type ResultWall struct {
	*layout.Wall
	SetOut  []layout.SetOut `json:"set_out"`  // where each end lies from the level's datum
	Finish  *finish.Wall    `json:"finished"` // joints, coats and paint
	Proof   []proof.Check   `json:"proof"`
	Takeoff []Traced        `json:"takeoff"`
}

// WriteResult writes the whole result of a built plan, the form Result, as JSON, one wall a line, so that large
// projects need not be held as text.
func (j *Job) WriteResult(out io.Writer) error {
	head := ResultHead{j.Plan.Project, j.Practice.ID, j.Practice.Rules(), j.Findings, j.Layout.Junctions, j.Takeoff.Total, j.Takeoff.Levels, j.setOut(), j.Masonry(), j.Saved()}
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
		p.value(ResultWall{wall, wall.SetOut(datums[wall.Level]), finish.Of(wall, j.Catalogue, j.Practice), proofs(wall.ID), j.traced(wall, j.Takeoff.Walls[i].Lines)})
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

// Traced is a quantity of a wall with the parts it was summed from.
type Traced struct {
	takeoff.Line
	From []takeoff.Share `json:"from"`
}

func (j *Job) traced(w *layout.Wall, lines []takeoff.Line) []Traced {
	shares := takeoff.Traces(w, j.Catalogue, j.Practice)
	list := make([]Traced, len(lines))
	for i, l := range lines {
		list[i] = Traced{l, shares[l.Key()]}
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
