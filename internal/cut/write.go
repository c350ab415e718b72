package cut

import (
	"encoding/csv"
	"io"
	"strconv"
)

// WriteCSV writes cutting plans as comma-separated values with a header row: a row
// for each piece, and one for the rest of each bar. Lengths are millimetres.
func WriteCSV(out io.Writer, levels []Level) error {
	rows := [][]string{{"level", "profile", "bar", "source", "bar_mm", "wall", "mark", "role", "piece_mm"}}
	for _, l := range levels {
		for _, p := range l.Profiles {
			for i, b := range p.Bars {
				rows = append(rows, b.rows(l.Level, p.Product, i+1)...)
			}
			for i, b := range p.Spare {
				rows = append(rows, b.rows(l.Level, p.Product, len(p.Bars)+i+1)...)
			}
		}
	}
	return csv.NewWriter(out).WriteAll(rows)
}

func (b *Bar) rows(level, product string, number int) [][]string {
	var rows [][]string
	row := func(wall, mark, role string, length Length) {
		rows = append(rows, []string{level, product, strconv.Itoa(number), string(b.Source), b.Length.String(), wall, mark, role, length.String()})
	}
	for _, p := range b.Pieces {
		row(p.Wall, p.Mark, string(p.Role), p.Length)
	}
	if b.Rest > 0 {
		role := "rest"
		if b.Kept {
			role = "rest kept"
		}
		row("", "", role, b.Rest)
	}
	return rows
}
