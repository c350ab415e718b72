package cut

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
)

// WriteCSV writes cutting plans as comma-separated values with a header row: a row
// for each piece, and one for the rest of each bar. Lengths are millimetres.
func WriteCSV(out io.Writer, zones []Zone) error {
	rows := [][]string{{"zone", "profile", "bar", "source", "bar_mm", "wall", "mark", "role", "piece_mm", "offcut"}}
	for _, l := range zones {
		for _, p := range l.Profiles {
			for i, b := range p.Bars {
				rows = append(rows, b.rows(l.ID, p.Product, i+1)...)
			}
			for i, b := range p.Spare {
				rows = append(rows, b.rows(l.ID, p.Product, len(p.Bars)+i+1)...)
			}
		}
	}
	return csv.NewWriter(out).WriteAll(rows)
}

func (b *Bar) rows(zone, product string, number int) [][]string {
	var rows [][]string
	row := func(wall, mark, role string, length Length, note string) {
		rows = append(rows, []string{zone, product, strconv.Itoa(number), string(b.Source), b.Length.String(), wall, mark, role, length.String(), note})
	}
	for _, p := range b.Pieces {
		row(p.Wall, p.Mark, string(p.Role), p.Length, b.origin())
	}
	if b.Rest > 0 {
		role := "rest"
		if b.Kept != nil {
			role = "rest kept"
		}
		row("", "", role, b.Rest, b.Kept.String())
	}
	return rows
}

// origin says of which rest the bar is.
func (b *Bar) origin() string {
	if b.From == nil {
		return ""
	}
	return fmt.Sprintf("%s from %s, bar %d", b.From.Mark, b.From.Zone, b.From.Bar)
}

// String gives the mark of the rest, and where it goes.
func (k *Kept) String() string {
	switch {
	case k == nil:
		return ""
	case k.To == "":
		return k.Mark + " to store"
	}
	return fmt.Sprintf("%s to %s, bar %d", k.Mark, k.To, k.ToBar)
}
