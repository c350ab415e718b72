package app

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"

	"nogging/internal/cut/together"
	"nogging/internal/exchange/xlsx"
	"nogging/internal/layout"
)

// SaveBoards chooses how the walls are laid out so that fewest boards are bought;
// Build then lays them out so. It gives the error of ctx when that ends before.
func (j *Job) SaveBoards(ctx context.Context, progress Progress) error {
	j.Plan.SaveBoards = true
	return j.saveBoards(ctx, layout.Prepare(j.Plan, j.Catalogue, j.Practice), progress)
}

func (j *Job) saveBoards(ctx context.Context, ready *layout.Prepared, progress Progress) error {
	c, err := together.Choose(ctx, together.Input{
		Ready: ready, Catalogue: j.Catalogue, Practice: j.Practice, Options: j.boardOptions(boardEffort),
		Progress: func(done, total int) { progress("fitting walls to boards", done, total) },
	})
	if err != nil {
		return err
	}
	j.saved = &c
	return nil
}

// ways returns how the layout is asked to lay walls out.
func (j *Job) ways(ready *layout.Prepared, progress Progress) map[string]layout.Way {
	if !j.Plan.SaveBoards {
		return nil
	}
	if j.saved == nil && j.saveBoards(context.Background(), ready, progress) != nil {
		return nil // boards that cannot be cut, which the cutting plans say
	}
	return j.saved.Ways
}

// Saved lists what laying walls out for fewest boards saves against the plain layout,
// zone by zone; nil where that was not asked for.
func (j *Job) Saved() []together.Saving {
	if j.saved == nil {
		return nil
	}
	return j.saved.Savings
}

// writeSaved writes savings as comma-separated values with a header row.
func writeSaved(out io.Writer, list []together.Saving) error {
	rows := [][]string{{"zone", "board", "boards", "boards_of_plain_layout", "m2", "m2_of_plain_layout"}}
	for _, s := range list {
		rows = append(rows, []string{s.Zone, s.Board, strconv.Itoa(s.Boards), strconv.Itoa(s.Plain), fmt.Sprintf("%.2f", s.Area), fmt.Sprintf("%.2f", s.PlainArea)})
	}
	return csv.NewWriter(out).WriteAll(rows)
}

// savedSheet lists savings beside what the plain layout takes.
func savedSheet(list []together.Saving, j *Job) *xlsx.Sheet {
	s := &xlsx.Sheet{Name: "Boards saved", Heading: []string{"Boards saved by laying walls out for fewest boards", j.heading(), "Beside the plain layout, both cut by plans of the same effort; no wall takes more pieces, screws or steel."}, Columns: []xlsx.Column{
		{Head: "Zone", Width: 16}, {Head: "Board", Width: 18}, {Head: "Boards", Width: 10, Format: xlsx.Whole}, {Head: "Plain layout", Width: 10, Format: xlsx.Whole}, {Head: "Boards saved", Width: 10, Format: xlsx.Whole},
		{Head: "m²", Width: 11, Format: xlsx.Two}, {Head: "Plain layout, m²", Width: 11, Format: xlsx.Two}, {Head: "m² saved", Width: 11, Format: xlsx.Two},
	}}
	from := s.Next()
	sum := together.Sum(list)
	for _, x := range list {
		r := s.Next()
		s.Add(xlsx.Text(x.Zone), xlsx.Text(x.Board), xlsx.Int(x.Boards), xlsx.Int(x.Plain), xlsx.Formula(xlsx.At(3, r)+"-"+xlsx.At(2, r), xlsx.Int(x.Plain-x.Boards)),
			xlsx.Float(x.Area, 2), xlsx.Float(x.PlainArea, 2), xlsx.Formula(xlsx.At(6, r)+"-"+xlsx.At(5, r), xlsx.Float(x.PlainArea-x.Area, 2)))
	}
	if to := s.Next() - 1; to >= from {
		total := func(column int, result xlsx.Cell) xlsx.Cell { return xlsx.Formula(xlsx.Sum(column, from, to), result) }
		s.AddBold(xlsx.Text("Total"), xlsx.Cell{}, total(2, xlsx.Int(sum.Boards)), total(3, xlsx.Int(sum.Plain)), total(4, xlsx.Int(sum.Plain-sum.Boards)),
			total(5, xlsx.Float(sum.Area, 2)), total(6, xlsx.Float(sum.PlainArea, 2)), total(7, xlsx.Float(sum.PlainArea-sum.Area, 2)))
	}
	return s
}
