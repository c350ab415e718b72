package plan

import (
	"fmt"
	"strings"
	"testing"
)

// bigPlan writes a plan of n walls: rooms in rows, each wall with a door and
// two boxes, meeting its neighbours in corners and tees.
func bigPlan(n int) []byte {
	var b strings.Builder
	b.WriteString("nogging: 1\npractice: metric\nlevels:\n  - {id: L1, clear_height: 2750}\nbuildups:\n" +
		"  - id: P75\n    frame: {kind: single, stud: CW75}\n    face_a: [GKB-12.5]\nwalls:\n")
	const row = 50
	for i := range n {
		x, y := i/2%row*4000, i/2/row*5000
		line := fmt.Sprintf("[[%d, %d], [%d, %d]]", x, y, x+4000, y)
		if i%2 == 1 {
			line = fmt.Sprintf("[[%d, %d], [%d, %d]]", x, y, x, y+5000)
		}
		fmt.Fprintf(&b, "  - id: L1-%05d\n    level: L1\n    line: %s\n    buildup: P75\n    require: {fire: EI 30, sound: Rw 50}\n"+
			"    openings:\n      - {kind: door, at: 1600, width: 1010, height: 2130, leaf_mass: 30}\n"+
			"    boxes:\n      - {kind: switch, face: a, at: 1300, height: 1050}\n      - {kind: socket, face: b, at: 700, height: 300}\n\n", i, line)
	}
	return []byte(b.String())
}

func BenchmarkParse(b *testing.B) {
	for _, n := range []int{2000, 20000} {
		data := bigPlan(n)
		b.Run(fmt.Sprintf("walls=%d", n), func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			for b.Loop() {
				if p, found := Parse("big.yaml", data); len(found) > 0 || len(p.Walls) != n {
					b.Fatal(len(p.Walls), found[:min(len(found), 3)])
				}
			}
		})
	}
}

func BenchmarkValidate(b *testing.B) {
	p, _ := Parse("big.yaml", bigPlan(20000))
	for b.Loop() {
		p.Validate()
	}
}
