package plan

import (
	"fmt"
	"slices"

	"nogging/internal/finding"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// Kinds of catalogue entries that plans refer to.
const (
	ProductBoard      = "board"
	ProductStud       = "stud"
	ProductTrack      = "track"
	ProductInsulation = "insulation"
	ProductPractice   = "practice"
)

// CheckProducts checks the plan's references to the catalogue. The function
// returns the ids that the catalogue has of a kind. What one build-up names
// several times is told once.
func (p *Plan) CheckProducts(ids func(kind string) []string) finding.List {
	var list finding.List
	known := map[string][]string{}
	root := &spot{list: &list, index: -1}
	refer := func(s *spot, told map[string]bool, kind, key, id string) {
		if _, asked := known[kind]; !asked {
			known[kind] = ids(kind)
		}
		if id != "" && !slices.Contains(known[kind], id) && !told[kind+" "+id] {
			told[kind+" "+id] = true
			s.wrong("unknown-"+kind, key, words.F("%s %q is not in the catalogue", kind, id), yamlfile.Suggest(id, words.F("%s ids", kind), known[kind]))
		}
	}
	refer(root, map[string]bool{}, ProductPractice, "practice", p.Practice)
	for i := range p.BuildUps {
		b := &p.BuildUps[i]
		s, told := root.entry("buildups", i, b.ID), map[string]bool{}
		refer(s.part("frame"), told, ProductStud, "stud", b.Frame.Stud)
		refer(s.part("frame"), told, ProductTrack, "track", b.Frame.Track)
		for _, face := range []struct {
			key    string
			boards []string
		}{{"face_a", b.FaceA}, {"face_b", b.FaceB}} {
			for j, id := range face.boards {
				refer(s, told, ProductBoard, fmt.Sprintf("%s[%d]", face.key, j), id)
			}
		}
		refer(s, told, ProductBoard, "liner", b.Liner)
		for j, layer := range b.Insulation {
			refer(s.entry("insulation", j, ""), told, ProductInsulation, "product", layer.Product)
		}
	}
	return list
}
