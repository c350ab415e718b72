package dxf

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// ParseMapping reads a mapping file. Layers with a role that is not known are left to
// their names.
func ParseMapping(name string, data []byte) (Mapping, finding.List) {
	var m Mapping
	places, found := yamlfile.Decode(name, data, &m)
	add := func(path string, what, fix words.Text) {
		found.Add(finding.Finding{Code: "bad-value", Severity: finding.Error, Path: path, Place: places.At(path), What: what, Fix: fix})
	}
	if _, ok := unitNamed(m.Unit); !ok && m.Unit != "" {
		add("unit", words.F("there is no unit %q", m.Unit), words.F("give one of %s", strings.Join(Units(), ", ")))
		m.Unit = ""
	}
	var names []string
	for _, r := range Roles() {
		names = append(names, string(r))
	}
	for i := range m.Layers {
		l := &m.Layers[i]
		if !slices.Contains(Roles(), l.As) {
			add(fmt.Sprintf("layers[%d].as", i), words.F("a layer cannot show %q", l.As), yamlfile.Suggest(string(l.As), "roles", names))
			l.As = ""
		}
	}
	return m, found
}

// Marshal writes the mapping as a file for people to mend.
func (m Mapping) Marshal() ([]byte, error) {
	return yamlfile.Encode(m, "What each layer of the drawing shows: wall (up to 200 mm a partition), partition,",
		"structure, column, door, window, room or other.")
}
