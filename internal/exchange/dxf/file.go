package dxf

import (
	"strings"

	"nogging/internal/words"

	"golang.org/x/text/encoding"
)

// record is one entity, table entry or section mark: what stands from one group 0
// to the next.
type record struct {
	kind string
	line int
	tags []tag
}

// get returns the first value of a code, zero where there is none.
func (r record) get(code int) tag {
	for _, t := range r.tags {
		if t.code == code {
			return t
		}
	}
	return tag{}
}

func (r record) float(code int) float64 { return r.get(code).float() }
func (r record) int(code int) int       { return r.get(code).int() }

// or returns the number of a code, or another where the code is not there.
func (r record) or(code int, other float64) float64 {
	if t := r.get(code); t.line != 0 {
		return t.float()
	}
	return other
}

// point returns the coordinates whose first code is given.
func (r record) point(code int) vec { return vec{r.float(code), r.float(code + 10)} }

// block is a set of entities that inserts place.
type block struct {
	base     vec
	external bool // another drawing
	entities []record
}

// file is a drawing parted into what is used of it.
type file struct {
	version   string
	page      encoding.Encoding
	insunits  int
	hidden    map[string]bool   // layers that are off or frozen
	frozen    map[string]bool   // layers that are frozen: inserts on them are not drawn
	linetypes map[string]string // of layers, in capitals
	blocks    map[string]*block
	entities  []record
	broken    words.Text // why the rest could not be read
	lastLine  int        // of what could
	faults    faults
}

func parse(data []byte) *file {
	tags, broken := readTags(data)
	f := &file{hidden: map[string]bool{}, linetypes: map[string]string{}, frozen: map[string]bool{}, blocks: map[string]*block{}, broken: broken}
	if len(tags) > 0 {
		f.lastLine = tags[len(tags)-1].line
	}
	section := ""
	var into *block
	for _, r := range records(tags) {
		switch {
		case r.kind == "SECTION":
			section = r.get(2).text
			if section == "HEADER" {
				f.header(r)
			}
		case r.kind == "ENDSEC":
			section = ""
		case section == "TABLES" && r.kind == "LAYER":
			f.layer(r)
		case section == "BLOCKS" && r.kind == "BLOCK":
			into = &block{base: r.point(10), external: r.int(70)&(4|8) != 0}
			f.blocks[blockName(r)] = into
		case section == "BLOCKS" && r.kind == "ENDBLK":
			into = nil
		case section == "BLOCKS" && into != nil:
			checkNumbers(r, &f.faults)
			into.entities = append(into.entities, r)
		case section == "ENTITIES":
			checkNumbers(r, &f.faults)
			f.entities = append(f.entities, r)
		}
	}
	return f
}

// blockName returns the name of a block that a record defines or places, as names
// are compared: without regard to case.
func blockName(r record) string { return strings.ToUpper(r.get(2).text) }

func records(tags []tag) []record {
	var all []record
	start := -1
	for i := 0; i <= len(tags); i++ {
		if i < len(tags) && tags[i].code != 0 {
			continue
		}
		if start >= 0 {
			all = append(all, record{strings.TrimSpace(tags[start].text), tags[start].line, tags[start+1 : i]})
		}
		start = i
	}
	return all
}

// header reads the variables that matter, each a group 9 followed by its value.
func (f *file) header(r record) {
	for i, t := range r.tags {
		if t.code != 9 || i+1 == len(r.tags) {
			continue
		}
		switch value := r.tags[i+1]; strings.TrimSpace(t.text) {
		case "$ACADVER":
			f.version = strings.TrimSpace(value.text)
		case "$DWGCODEPAGE":
			f.page = codePage(strings.TrimSpace(value.text))
		case "$INSUNITS":
			f.insunits = value.int()
		}
	}
}

func (f *file) layer(r record) {
	name := f.text(r.get(2))
	f.linetypes[name] = strings.ToUpper(r.get(6).text)
	frozen := r.int(70)&1 != 0
	f.frozen[name] = frozen
	f.hidden[name] = frozen || r.int(62) < 0
}

// text decodes a value.
func (f *file) text(t tag) string { return decode(t.text, f.page) }
