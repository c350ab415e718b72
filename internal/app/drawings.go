package app

import (
	"context"
	"fmt"
	"io"

	"nogging/internal/document"
	"nogging/internal/drawing"
	"nogging/internal/drawing/sheets"
	"nogging/internal/drawing/svg"
	"nogging/internal/takeoff"
)

// drawn is what sheets are drawn from.
func (j *Job) drawn() sheets.Input {
	return sheets.Input{Plan: j.Plan, Layout: j.Layout, Catalogue: j.Catalogue, Practice: j.Practice, Findings: j.Findings}
}

// drawings writes the set-out plans, details and wall drawings as SVG, and the PDF pack.
func (w *writer) drawings() {
	j := w.job
	in := j.drawn()
	set := sheets.New(in)
	for i := range j.Plan.Levels {
		id := j.Plan.Levels[i].ID
		w.sheets(setOutDir+"/"+sheets.FileName(id), set.Level(id))
	}
	w.sheets(detailDir+"/details", set.Details())
	for i := range j.Plan.Levels {
		id := j.Plan.Levels[i].ID
		w.sheets(finishDir+"/"+sheets.FileName(id), set.FinishSchedule(id))
	}
	for i, wall := range j.Layout.Walls {
		w.sheets(wallDir+"/"+sheets.FileName(wall.ID), set.Wall(wall))
		w.progress("drawing walls", i+1, len(j.Layout.Walls))
	}
	w.file("pack.pdf", func(out io.Writer) error {
		beside := j.Masonry()
		pack := document.Input{Input: in, Set: set, TakeOff: j.rows(), Findings: j.Findings, Proof: j.proofs(), Masonry: &beside, Parts: w.parts}
		if pack.Wants(document.PartCutting) {
			pack.Cutting, _ = j.cutting(context.Background()) // which fails only where somebody ends the work
		}
		return document.Pack(out, pack, func(done, total int) { w.progress("making the pack", done, total) })
	})
}

// sheets writes the sheets of one drawing, numbered where there are several:
// A_sheet1.svg and A_sheet2.svg, a name that no id gives, where A-1 may be
// another wall's.
func (w *writer) sheets(name string, list []*drawing.Scene) {
	for i, s := range list {
		file := name + ".svg"
		if len(list) > 1 {
			file = fmt.Sprintf("%s_sheet%d.svg", name, i+1)
		}
		w.file(file, func(out io.Writer) error { return svg.Write(out, s) })
	}
}

// rows turns the take-off into the pack's rows.
func (j *Job) rows() []document.Row {
	levels := make([]map[takeoff.Key]float64, len(j.Takeoff.Levels))
	for i, l := range j.Takeoff.Levels {
		levels[i] = map[takeoff.Key]float64{}
		for _, line := range l.Lines {
			levels[i][line.Key()] = line.Quantity
		}
	}
	var rows []document.Row
	for _, line := range j.Takeoff.Total {
		row := document.Row{Group: string(line.Group), Code: line.Code, Description: line.Name, Unit: line.Unit, Total: line.Quantity}
		for _, level := range levels {
			row.PerLevel = append(row.PerLevel, level[line.Key()])
		}
		rows = append(rows, row)
	}
	return rows
}
