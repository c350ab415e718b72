package takeoff

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
)

// WriteCSV writes the take-off as comma-separated values with a header row:
// every wall's lines, then every level's, then the project's. Units are written
// in plain letters (m2), which every spreadsheet reads right.
func WriteCSV(out io.Writer, p *Project) error {
	w := csv.NewWriter(out)
	rows := [][]string{{"scope", "level", "wall", "group", "code", "name", "quantity", "unit", "pieces", "mass_kg"}}
	for _, x := range p.Walls {
		rows = appendRows(rows, "wall", x.Level, x.ID, x.Lines)
	}
	for _, x := range p.Levels {
		rows = appendRows(rows, "level", x.ID, "", x.Lines)
	}
	rows = appendRows(rows, "project", "", "", p.Total)
	return w.WriteAll(rows)
}

func appendRows(rows [][]string, scope, level, wall string, lines []Line) [][]string {
	for _, l := range lines {
		rows = append(rows, []string{
			scope, level, wall, string(l.Group), l.Code, l.Name, Format(l.Quantity, l.Unit), strings.ReplaceAll(l.Unit, "²", "2"), count(l.Pieces), mass(l.Mass),
		})
	}
	return rows
}

// Format writes a quantity with the decimals that its unit deserves: whole
// pieces, otherwise two decimals.
func Format(q float64, unit string) string {
	if unit == Pieces {
		return strconv.FormatFloat(q, 'f', 0, 64)
	}
	return strconv.FormatFloat(q, 'f', 2, 64)
}

func count(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func mass(kg float64) string {
	if kg == 0 {
		return ""
	}
	return strconv.FormatFloat(kg, 'f', 1, 64)
}
