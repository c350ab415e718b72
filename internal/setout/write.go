package setout

import (
	"encoding/csv"
	"io"
	"strconv"

	"nogging/internal/quantity"
)

// WriteCSV writes points for a total station as comma-separated values with a
// header row: name, E and N in the project's coordinates, level above its zero,
// and what the point is. Values are metres, rounded half away from zero to the
// millimetre.
func WriteCSV(out io.Writer, levels []*Level) error {
	w := csv.NewWriter(out)
	rows := [][]string{{"name", "E", "N", "level", "on", "what"}}
	for _, l := range levels {
		for _, list := range [][]Point{l.Structure, l.Points} {
			for _, p := range list {
				rows = append(rows, []string{p.Name, metres(p.At.X), metres(p.At.Y), metres(p.Z), p.On, p.What})
			}
		}
	}
	return w.WriteAll(rows)
}

// metres writes a length in metres to the millimetre.
func metres(l Length) string {
	return strconv.FormatFloat(l.Round(quantity.Millimetre).Metres(), 'f', 3, 64)
}
