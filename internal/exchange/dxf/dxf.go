// Package dxf reads drawings in the drawing exchange format, R12 to 2018, as text or
// binary, and recognises the walls in them. It takes the bytes of a file and gives a
// plan with one level: partitions and existing walls, gaps in them as openings,
// columns, and the rooms that the walls enclose with the words that stand in them.
// The format follows its maker's published reference.
//
// Layers of walls are told by their names, else by what lies on them (rank.go). Walls are
// pairs of lines: lines of wall layers are merged where they lie on one
// another, and paired with the parallel one beside them, first in the thicknesses that
// the drawing has much of; each stretch of a line serves one wall. Parts on one centre
// line are joined over crossing walls, and over gaps that a door leaf's arc, a layer,
// lines along the gap or closed sides show to be openings. Ends run to the centre lines
// of the walls that they meet. The way follows L. Domínguez, A. García-Fernández and
// F. Feito, Semiautomatic detection of floor topology from CAD architectural drawings
// (Computer-Aided Design 44, 2012), by its abstract.
//
// Reading never fails. A drawing holds lines, not walls: whatever is recognised has a
// confidence (Stats.Recognised), what is doubtful has a finding of its own, and the
// lines of wall layers that belong to no wall are listed (Stats.LeftOver).
package dxf

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// Recognised is one thing that was recognised.
type Recognised struct {
	ID         string     `json:"id"` // of the wall, opening, column or room in the plan
	Kind       string     `json:"kind"`
	Confidence float64    `json:"confidence"` // from 0 to 1
	Why        words.Text `json:"why"`
	Signs      []Sign     `json:"signs"` // what speaks for it, the same as in Why
}

// Left is a line of a wall layer that belongs to no wall, in the plan's coordinates.
type Left struct {
	From plan.Pt `json:"from"`
	To   plan.Pt `json:"to"`
}

// Stats tells what was read.
type Stats struct {
	Version    string         `json:"version"` // as the header gives it, AC1009 to AC1032
	Unit       string         `json:"unit"`
	Header     string         `json:"header_unit,omitempty"` // the unit that the header tells
	Size       [2]float64     `json:"size"`                  // width and height of what lies on layers of walls, in units of the drawing
	Layers     []LayerRole    `json:"layers"`                // with the roles in which they were read
	Walls      int            `json:"walls"`                 // read as partitions
	Structure  int            `json:"structure"`
	Openings   int            `json:"openings"`
	Columns    int            `json:"columns"`
	Rooms      int            `json:"rooms"`
	Recognised []Recognised   `json:"recognised"`
	LeftOver   []Left         `json:"left_over"`
	Heights    []SaidHeight   `json:"heights"`           // that words tell
	Unknown    map[string]int `json:"unknown,omitempty"` // entities of kinds that are not read
	Paper      int            `json:"paper"`             // entities of paper space, left alone
	Unseen     int            `json:"unseen"`            // entities on layers that are off or frozen
}

// Mapping returns what the drawing was read with, to be kept and mended.
func (s Stats) Mapping() Mapping { return Mapping{s.Unit, s.Layers} }

// refused is the code of the one finding about a file that is not read at all.
const refused = "dxf-file"

// Refused reports whether Read found that the file is no drawing that can be read.
func Refused(found finding.List) bool {
	return slices.ContainsFunc(found, func(f finding.Finding) bool { return f.Code == refused })
}

// mostLines bounds the lines of wall layers.
const mostLines = 100_000

// reader holds one drawing on its way to a plan.
type reader struct {
	name  string
	found finding.List
	stats Stats
}

// Reading is what was read of a drawing.
type Reading struct {
	Plan    *plan.Plan
	Stats   Stats
	Picture Picture
	Found   finding.List
}

// Read reads a drawing as somebody said that it is to be read; name is the file's
// name in findings.
func (m Mapping) Read(name string, data []byte) (*plan.Plan, Stats, finding.List) {
	r := m.Reading(name, data)
	return r.Plan, r.Stats, r.Found
}

// Reading reads a drawing as Read does, and gives the drawing itself with it.
func (m Mapping) Reading(name string, data []byte) *Reading {
	r := &reader{name: name, stats: Stats{Layers: []LayerRole{}, Recognised: []Recognised{}, LeftOver: []Left{}}}
	out := &Reading{Plan: &plan.Plan{Version: plan.Version, Levels: []plan.Level{}, Walls: []plan.Wall{}}}
	if g := r.recognise(m, data, out.Plan); g != nil {
		out.Picture = g.picture()
	}
	r.found.Sort()
	out.Stats, out.Found = r.stats, r.found
	return out
}

// recognise reads a drawing into a plan; nothing is returned where it cannot be read.
func (r *reader) recognise(m Mapping, data []byte, p *plan.Plan) *recogniser {
	f := parse(data)
	r.stats.Version = f.version
	if f.entities == nil && len(f.blocks) == 0 {
		r.tell(finding.Error, refused, "", "is no DXF drawing, or an empty one", "export the plan as .dxf (R12 or later, text or binary)")
		return nil
	}
	if f.broken != "" {
		r.found.Add(finding.Finding{Code: "dxf-broken", Severity: finding.Warning, Place: finding.Place{File: r.name, Line: f.lastLine}, What: words.F("the file was read in part only: %s", f.broken), Fix: "export it again"})
	}
	d := f.draw()
	r.told(d)
	r.tellFaults(append(f.faults, d.faults...))
	full, guessed := m.proposal(d.layers)
	r.stats.Layers = full.Layers
	role := full.roles()
	if n := len((&recogniser{drawing: d, role: role}).wallLines()); n > mostLines {
		r.tell(finding.Error, refused, "", words.F("%d lines lie on layers of walls; at most %d can be searched", n, mostLines), "say which layers show walls, and other for the rest, with --layers FILE")
		return nil
	}
	u := r.unit(d, role, f.insunits, m.Unit)
	r.stats.Unit, r.stats.Header, r.stats.Size = u.name, headerUnit(f.insunits), d.sizeOf(role)
	mixed, layer := false, Named
	if guessed {
		full, mixed = full.ranked(d.scaled(u.mm))
		r.stats.Layers, role, layer = full.Layers, full.roles(), Pure
	}
	if mixed {
		layer = ""
	}
	g := recognise(d.scaled(u.mm), role, mixed)
	r.assemble(p, g, layer, u)
	if g.spent > mostSpent {
		r.tell(finding.Warning, "dxf-too-large", "", "there are too many lines to look at all of them: walls and openings are missing", "say which layers show walls, and other for the rest, with --layers FILE")
	}
	return g
}

// roles returns what a piece of the drawing shows: by its block's name where that
// tells a door, window or column, else by its layer.
func (m Mapping) roles() func(ink) Role {
	layers := map[string]Role{}
	for _, l := range m.Layers {
		layers[l.Layer] = l.As
	}
	blocks := map[string]Role{}
	return func(i ink) Role {
		of, known := blocks[i.block]
		if !known && i.block != "" {
			if of = roleByName(i.block); of.isWall() || of == Other {
				of = ""
			}
			blocks[i.block] = of
		}
		if of != "" {
			return of
		}
		return layers[i.layer]
	}
}

// told tells what of the drawing is not read.
func (r *reader) told(d *drawing) {
	r.stats.Paper, r.stats.Unseen, r.stats.Unknown = d.paper, d.unseen, d.unknown
	if d.full {
		r.tell(finding.Warning, "dxf-too-large", "", words.F("its blocks place more than %d entities: the rest is left out", mostSteps), "export the plan alone, without details and furniture")
	}
	if d.unseen > 0 {
		r.tell(finding.Note, "dxf-hidden", "", words.F("%d entities lie on layers that are off or frozen and were left out", d.unseen), "switch the layers on and export it again if they show walls")
	}
	if d.paper > 0 {
		r.tell(finding.Note, "dxf-paper", "", words.F("%d entities of paper space were left alone", d.paper), "")
	}
	var kinds []string
	for _, k := range slices.Sorted(maps.Keys(d.unknown)) {
		kinds = append(kinds, fmt.Sprintf("%d %s", d.unknown[k], k))
	}
	if kinds != nil {
		r.tell(finding.Note, "dxf-unknown", "", words.F("not read: %s", strings.Join(kinds, ", ")), "explode them before export if they show walls")
	}
}

// unit settles the unit of the drawing and says by what.
func (r *reader) unit(d *drawing, role func(ink) Role, header int, given string) unit {
	if u, ok := unitNamed(given); ok {
		return u
	}
	if given != "" {
		r.tell(finding.Warning, "dxf-unit", "", words.F("there is no unit %q: it was judged by the drawing", given), words.F("give one of %s", strings.Join(Units(), ", ")))
	}
	u, why := findUnit(d, role, header)
	r.tell(finding.Assumed, "dxf-unit", "", words.F("one unit of the drawing is taken as 1 %s: %s", u.name, why), "check the length of a wall that you know; else give the unit with --unit")
	for _, h := range units {
		if h.header == header && h != u {
			r.tell(finding.Note, "dxf-unit-header", "", words.F("the header says %s, which the drawing does not bear out", h.name), "")
		}
	}
	return u
}

// tell adds a finding about the drawing, or about the object named.
func (r *reader) tell(severity finding.Severity, code, object string, what, fix words.Text) {
	r.found.Add(finding.Finding{Code: code, Severity: severity, Object: object, Place: finding.Place{File: r.name}, What: what, Fix: fix})
}
