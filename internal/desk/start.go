package desk

import (
	"bytes"
	"context"
	"fmt"
	"path"
	"strings"

	"nogging/demo"
	"nogging/internal/exchange/dxf"
	"nogging/internal/exchange/ifc"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/store"
	"nogging/internal/words"
)

// Limits of what is taken in.
const (
	mostWalls     = 20_000    // of a plan
	mostInstances = 8_000_000 // of a building model; its largest file would have 4 million of usual length
)

// DemoLabel is the label of the first revision of projects made of the demo.
const DemoLabel = "demo"

// Empty starts a project with one empty level.
func (d *Desk) Empty(ctx context.Context, name string) (string, error) {
	p := &plan.Plan{Version: plan.Version, Project: plan.Project{Name: name},
		Levels: []plan.Level{{ID: "L0", ClearHeight: 2750 * quantity.Millimetre}}}
	id, _, err := d.start(ctx, p, "new project")
	return id, err
}

// Demo starts a project from the demo, with its price list, rates and gangs.
func (d *Desk) Demo(ctx context.Context) (string, error) {
	p, found := plan.Parse("clinic.yaml", demo.Plan)
	if found.NeedsPerson() {
		return "", fmt.Errorf("the demo has findings: %s", found[0].What)
	}
	id, _, err := d.start(ctx, p, DemoLabel,
		store.File{Kind: store.FilePrices, Name: "prices.csv", Type: "text/csv", Content: demo.Prices},
		store.File{Kind: store.FilePrices, Name: "rates.yaml", Type: "application/yaml", Content: demo.Rates},
		store.File{Kind: store.FileTables, Name: "gangs.yaml", Type: "application/yaml", Content: demo.Gangs})
	return id, err
}

// Import starts a project from a file: a building model, or a plan. The findings
// tell about the file; where nothing could be taken there is no id.
func (d *Desk) Import(ctx context.Context, name string, data []byte) (string, finding.List, error) {
	name = path.Base(strings.ReplaceAll(name, `\`, "/")) // some browsers send the whole path
	p, found := read(name, data)
	if p == nil {
		return "", found, nil
	}
	if p.Project.Name == "" {
		p.Project.Name = strings.TrimSuffix(name, path.Ext(name))
	}
	id, renamed, err := d.start(ctx, p, "from "+name)
	return id, append(found, renamed...), err
}

// read reads a plan of a file by the kind that its name tells.
func read(name string, data []byte) (*plan.Plan, finding.List) {
	var p *plan.Plan
	var found finding.List
	switch strings.ToLower(path.Ext(name)) {
	case ".ifc", ".ifczip":
		if data, found = ifc.Unpack(name, data); ifc.Refused(found) {
			return nil, found
		}
		if n := bytes.Count(data, []byte("=")); n > mostInstances { // each instance has one
			return nil, tooMany(name, n, "instances", mostInstances)
		}
		p, _, found = ifc.Options{}.Read(name, data)
		if ifc.Refused(found) {
			return nil, found
		}
	case ".dxf":
		p, _, found = dxf.Mapping{}.Read(name, data)
		if dxf.Refused(found) {
			return nil, found
		}
	case ".yaml", ".yml", ".json":
		p, found = plan.Parse(name, data)
		if len(p.Levels) == 0 && found.NeedsPerson() {
			return nil, found
		}
	default:
		return nil, finding.List{{Code: "file-kind", Severity: finding.Error, Object: name, What: "files of this kind cannot be read",
			Fix: "give a building model (.ifc, .ifczip), a drawing (.dxf) or a plan (.yaml, .json)"}}
	}
	if n := len(p.Walls); n > mostWalls {
		return nil, tooMany(name, n, "walls", mostWalls)
	}
	return p, found
}

func tooMany(name string, n int, what string, most int) finding.List {
	return finding.List{{Code: "too-many", Severity: finding.Error, Object: name,
		What: words.F("the file has %d %s; a project can have %d", n, what, most), Fix: "split it by building or by level"}}
}
