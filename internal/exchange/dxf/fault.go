package dxf

import (
	"math"
	"strconv"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/words"
)

// fault is something wrong with a file that is left out of the drawing: where it was
// met first, and how often.
type fault struct {
	code, name string
	line, n    int
}

// faults collects what is wrong, each kind and name once, in the order met.
type faults []fault

// mostFaults bounds the kinds and names that are told.
const mostFaults = 200

func (f *faults) add(code, name string, line int) {
	for i := range *f {
		if x := &(*f)[i]; x.code == code && x.name == name {
			x.n++
			return
		}
	}
	if len(*f) < mostFaults {
		*f = append(*f, fault{code, name, line, 1})
	}
}

// The codes of faults.
const (
	badNumber = "dxf-number"
	loop      = "dxf-loop"
	tooDeep   = "dxf-deep"
	noBlock   = "dxf-no-block"
	xref      = "dxf-xref"
	longText  = "dxf-long-text"
	endless   = "dxf-endless"
)

// said says what is wrong and what would work.
func (f fault) said() (what, fix words.Text) {
	switch f.code {
	case badNumber:
		return words.F("%d values that should be numbers are none and were read as 0", f.n), "export the drawing again"
	case loop:
		return words.F("block %q places itself and was left out there", f.name), "take the block out of itself"
	case tooDeep:
		return words.F("block %q lies more than %d blocks deep and was left out", f.name, mostDepth), "explode the blocks before export if they show walls"
	case noBlock:
		return words.F("block %q is placed %d times and is not in the file", f.name, f.n), "purge it, or export the drawing again"
	case xref:
		return words.F("%q is another drawing that is only referred to: what it shows is not in this file", f.name), "bind it into the drawing before export, or read that drawing, too"
	case longText:
		return words.F("%d texts are longer than %d bytes and were cut", f.n, longestText), ""
	default:
		return words.F("block %q is repeated so often that the rest was left out", f.name), "export the plan alone, without patterns of blocks"
	}
}

// tellFaults tells what is wrong with the file, with the line where it was met first.
func (r *reader) tellFaults(list faults) {
	for _, f := range list {
		what, fix := f.said()
		severity := finding.Warning
		if f.code == longText {
			severity = finding.Note
		}
		r.found.Add(finding.Finding{Code: f.code, Severity: severity, Place: finding.Place{File: r.name, Line: f.line}, What: what, Fix: fix})
	}
}

// isNumeric reports whether values of a code are numbers.
func isNumeric(code int) bool {
	return code >= 10 && code <= 59 || code >= 110 && code <= 149 || code >= 210 && code <= 239 || code >= 1010 && code <= 1059
}

// checkNumbers tells of values of an entity that are no numbers, or none that a length
// can be.
func checkNumbers(r record, list *faults) {
	for _, t := range r.tags {
		if !isNumeric(t.code) {
			continue
		}
		text := strings.TrimSpace(t.text)
		plain := text != "" && strings.Trim(text, "0123456789+-.") == ""
		if v, err := strconv.ParseFloat(text, 64); !plain && (err != nil || math.IsNaN(v) || math.Abs(v) > longest) {
			list.add(badNumber, "", t.line)
		}
	}
}
