package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"nogging/internal/exchange/dxf"
	"nogging/internal/finding"
)

// drawingFlags are how a drawing is to be read.
type drawingFlags struct {
	Unit   string `enum:",mm,cm,m,in,ft" default:"" placeholder:"UNIT" help:"Unit of a DXF drawing: mm, cm, m, in or ft; judged by the drawing if left out."`
	Layers string `placeholder:"FILE" help:"What the layers of a DXF drawing show. The file is written if it is not there, to be mended and used again."`
}

// isDrawing reports whether a file is a DXF drawing, by its name or its first bytes.
func isDrawing(name string, data []byte) bool {
	return strings.EqualFold(filepath.Ext(name), ".dxf") || bytes.HasPrefix(data, []byte("AutoCAD Binary DXF"))
}

// readDrawing reads a plan of a DXF drawing.
func (r *readCommand) readDrawing(c *console, data []byte) error {
	m, found, remembered, err := r.mapping()
	if err != nil {
		return err
	}
	p, stats, more := m.Read(filepath.Base(r.File), data)
	found = append(found, more...)
	refused := dxf.Refused(found)
	if !refused {
		if err := r.write(c, p); err != nil {
			return err
		}
	}
	if r.Layers != "" && !remembered && !refused {
		if err := r.remember(c, stats.Mapping()); err != nil {
			return err
		}
	}
	return r.tell(c, struct {
		dxf.Stats
		Findings finding.List `json:"findings"`
	}{stats, list(found)}, found, refused, fmt.Sprintf("%s, %s of existing structure, %s, %s, %s; %s left over", count(stats.Walls, "partition"), count(stats.Structure, "wall"),
		count(stats.Openings, "opening"), count(stats.Columns, "column"), count(stats.Rooms, "room"), count(len(stats.LeftOver), "line")))
}

// mapping is what the user said of the drawing; remembered tells that the file with it
// is there.
func (r *readCommand) mapping() (m dxf.Mapping, found finding.List, remembered bool, err error) {
	if r.Layers != "" {
		text, err := os.ReadFile(r.Layers)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return m, nil, false, err
		}
		if remembered = err == nil; remembered {
			m, found = dxf.ParseMapping(r.Layers, text)
		}
	}
	if r.Unit != "" {
		m.Unit = r.Unit
	}
	return m, found, remembered, nil
}

// remember writes what the layers were taken to show.
func (r *readCommand) remember(c *console, m dxf.Mapping) error {
	text, err := m.Marshal()
	if err != nil {
		return err
	}
	fmt.Fprintf(c.err, "wrote %s: mend what the layers show, and read the drawing again\n", r.Layers)
	return os.WriteFile(r.Layers, text, 0o644)
}
