package plan

import (
	"strings"
	"testing"

	"nogging/internal/finding"
)

// TestDoorFire: classes as EN 13501-2, DIN 4102-5 and NFPA 80 write them (from memory);
// walls' classes of DIN and texts are none of a door.
func TestDoorFire(t *testing.T) {
	for _, text := range []string{"EI2 30-C", "EI 60", "E30", "EW 30", "EI₂ 90-C5-S200", "EI1 30", "EI2 30 C5 Sa", "T30", "T90-RS", "t 30-1", "45 min", "20 MIN", "3/4 HR", "1 h", "1-1/2 HR"} {
		if err := CheckDoorFire(text); err != nil {
			t.Errorf("%s: %v", text, err)
		}
	}
	for _, text := range []string{"", "30", "F30", "REI 60", "EI2", "T0", "EI 999", "yes", "3/5 HR"} {
		if CheckDoorFire(text) == nil {
			t.Errorf("%q is taken as a class", text)
		}
	}
}

func TestLeafChecks(t *testing.T) {
	for text, want := range map[string]string{
		"{kind: door, at: 100, width: 1000, height: 2100, leaf: {count: 2, opens: a, hinge: end, width: 900, height: 2050, frame: 50, frame_depth: 100, fire: T30}}": "",
		"{kind: door, at: 100, width: 1000, height: 2100, leaf: {count: 3}}":                                                                                         "leaf-count walls[0].openings[0].leaf.count",
		"{kind: door, at: 100, width: 1000, height: 2100, leaf: {hinge: left}}":                                                                                      "unknown-word walls[0].openings[0].leaf.hinge",
		"{kind: door, at: 100, width: 1000, height: 2100, leaf: {opens: in}}":                                                                                        "unknown-word walls[0].openings[0].leaf.opens",
		"{kind: door, at: 100, width: 1000, height: 2100, leaf: {width: 1001}}":                                                                                      "leaf-larger walls[0].openings[0].leaf.width",
		"{kind: door, at: 100, width: 1000, height: 2100, leaf: {height: 2101}}":                                                                                     "leaf-larger walls[0].openings[0].leaf.height",
		"{kind: door, at: 100, width: 1000, height: 2100, leaf: {frame: -1}}":                                                                                        "negative walls[0].openings[0].leaf.frame",
		"{kind: door, at: 100, width: 1000, height: 2100, leaf: {frame_depth: -1}}":                                                                                  "negative walls[0].openings[0].leaf.frame_depth",
		"{kind: door, at: 100, width: 1000, height: 2100, leaf: {fire: good}}":                                                                                       "unknown-demand walls[0].openings[0].leaf.fire",
		"{kind: window, at: 100, width: 1000, height: 1000, sill: 900, leaf: {count: 1}}":                                                                            "leaf-not-used walls[0].openings[0].leaf",
	} {
		_, found := Parse("p.yaml", []byte("nogging: 1\nlevels: [{id: L, clear_height: 2600}]\nwalls:\n  - {id: W, level: L, line: [[0, 0], [4000, 0]], openings: ["+text+"]}\n"))
		var got []string
		for _, f := range found {
			if (f.Severity == finding.Error || f.Severity == finding.Warning) && f.Code != "no-buildup" {
				got = append(got, f.Code+" "+f.Path)
			}
		}
		if strings.Join(got, ", ") != want {
			t.Errorf("%s: %v, want %s", text, got, want)
		}
	}
}
