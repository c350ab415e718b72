package desk

import (
	"encoding/json"
	"path"
	"strings"

	"nogging/internal/exchange/dxf"
	"nogging/internal/finding"
	"nogging/internal/plan"
)

// Drawing is what was read of a drawing, for a person to look at before anything of
// it becomes a plan.
type Drawing struct {
	Plan     *plan.Plan    `json:"plan"`
	Stats    dxf.Stats     `json:"stats"`
	Picture  dxf.Picture   `json:"picture"`
	Findings finding.List  `json:"findings"`
	Units    []DrawingUnit `json:"units"`   // that the drawing can be said to have
	Roles    []dxf.Role    `json:"roles"`   // that its layers can
	Mapping  string        `json:"mapping"` // what it was read with, as the file that `nogging read --layers` takes
}

// DrawingUnit is a unit of drawings.
type DrawingUnit struct {
	Name string  `json:"name"`
	MM   float64 `json:"mm"`
}

// ReadDrawing reads a drawing by what somebody said of it, as JSON or as the file of a
// mapping. Nothing is stored.
func ReadDrawing(name, mapping string, data []byte) (*Drawing, error) {
	name = path.Base(strings.ReplaceAll(name, `\`, "/"))
	m, found := dxf.ParseMapping("layers", []byte(mapping))
	r := m.Reading(name, data)
	found = append(found, r.Found...)
	if dxf.Refused(found) {
		return nil, &Refused{found}
	}
	if n := len(r.Plan.Walls); n > mostWalls {
		return nil, &Refused{tooMany(name, n, "walls", mostWalls)}
	}
	text, err := r.Stats.Mapping().Marshal()
	if err != nil {
		return nil, err
	}
	d := &Drawing{Plan: r.Plan, Stats: r.Stats, Picture: r.Picture, Findings: append(finding.List{}, found...), Roles: dxf.Roles(), Mapping: string(text)}
	for _, u := range dxf.Units() {
		d.Units = append(d.Units, DrawingUnit{u, dxf.MM(u)})
	}
	return d, nil
}

// ReadMapping reads the file that says what the layers of drawings show.
func ReadMapping(name string, data []byte) (json.RawMessage, error) {
	m, found := dxf.ParseMapping(name, data)
	if found.NeedsPerson() {
		return nil, &Refused{found}
	}
	return json.Marshal(m)
}
