package plantest

import (
	"fmt"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/plan"
)

// Situation is a small plan of one thing that the trade has to solve, such as a
// corner at 60 degrees or two doors that share a jamb.
type Situation struct {
	Name string // fit for a file name
	What string
	Text string // the plan file
}

// Plan reads the situation's plan.
func (s Situation) Plan() (*plan.Plan, finding.List) {
	return plan.Parse(s.Name+".yaml", []byte(s.Text))
}

// Situations lists every situation.
func Situations() []Situation {
	list := make([]Situation, len(situations))
	for i, r := range situations {
		list[i] = Situation{Name: r.name, What: r.what, Text: r.text()}
	}
	return list
}

// row is one line of the table of situations.
type row struct {
	name, what string
	us         bool   // US practice; metric otherwise
	between    int    // mm; existing walls stand at 0 and there
	level      string // values of the level; the clear height is 2750 mm if left out
	structure  string // further existing structure
	walls      string
	more       string // further parts of the file
}

// text writes the row as a plan file.
func (r row) text() string {
	var b strings.Builder
	practice, level := "metric", "clear_height: 2750"
	if r.us {
		practice = "us"
	}
	if r.level != "" {
		level = r.level
	}
	fmt.Fprintf(&b, "nogging: 1\nproject: {name: %q}\npractice: %s\nlevels:\n  - {id: L1, %s}\n", r.what, practice, level)
	b.WriteString(buildUpText)
	if r.between > 0 || r.structure != "" {
		b.WriteString("structure:" + r.structure + "\n")
	}
	if r.between > 0 {
		for i, x := range []int{-100, r.between + 100} {
			fmt.Fprintf(&b, "  - {id: S-%d, level: L1, kind: wall, material: concrete, thickness: 200, line: [[%d, -800], [%d, 800]]}\n", i+8, x, x)
		}
	}
	b.WriteString("walls:\n" + r.walls + "\n" + r.more + "\n")
	return b.String()
}

// buildUpText is the build-ups by which situations name what walls are made of.
const buildUpText = `buildups:
  - {id: one, frame: {kind: single, stud: CW75}, face_a: [GKB-12.5], insulation: [{product: MW-60}]}
  - {id: two, frame: {kind: single, stud: CW75}, face_a: [GKB-12.5, GKB-12.5], insulation: [{product: MW-60}]}
  - {id: three, frame: {kind: single, stud: CW100}, face_a: [GKF-12.5, GKF-12.5, GKF-12.5], insulation: [{product: SW-80-50}], seal: sealant}
  - {id: mixed, frame: {kind: single, stud: CW75}, face_a: [GKF-12.5, GKR-12.5], face_b: [GKB-12.5], insulation: [{product: MW-60}]}
  - {id: bare, frame: {kind: single, stud: CW50}, face_a: [GKB-12.5]}
  - {id: fills, frame: {kind: single, stud: CW100}, face_a: [GKB-12.5], insulation: [{product: MW-40}, {product: SW-60-40}]}
  - {id: close, frame: {kind: single, stud: CW50, spacing: 400}, face_a: [GKB-12.5], insulation: [{product: MW-40}]}
  - {id: high, frame: {kind: single, stud: CW150}, face_a: [GKB-12.5, GKB-12.5], insulation: [{product: SW-80-50}]}
  - {id: twin, frame: {kind: twin_independent, stud: CW75}, face_a: [GKF-12.5, GKB-12.5], insulation: [{product: MW-60}, {product: MW-60}], seal: sealant}
  - {id: braced, frame: {kind: twin_braced, stud: CW50, gap: 150}, face_a: [GKBI-12.5, GKBI-12.5], insulation: [{product: MW-40}, {product: MW-40}]}
  - {id: lining, frame: {kind: lining, stud: CW50, gap: 20}, face_a: [GKB-12.5], insulation: [{product: MW-40}]}
  - {id: shaft, frame: {kind: shaft, stud: CW75}, face_a: [GKF-20, GKF-20], insulation: [{product: SW-60-40}], seal: sealant}
  - {id: furring, frame: {kind: furring, stud: CD60, gap: 30}, face_a: [GKB-12.5], insulation: [{product: MW-40}]}
  - {id: liner, frame: {kind: shaft, stud: CW75}, face_a: [GKF-12.5, GKF-12.5], liner: GKF-20, insulation: [{product: SW-50-40}], seal: sealant}
  - {id: wet, frame: {kind: single, stud: CW75}, face_a: [GKBI-12.5, GKBI-12.5], face_b: [GKB-12.5, GKB-12.5], insulation: [{product: MW-60}], seal: sealant}
  - {id: pocket, frame: {kind: single, stud: CW100}, face_a: [GKB-12.5, GKB-12.5]}
  - {id: curved, frame: {kind: single, stud: CW75}, face_a: [GKB-9.5, GKB-9.5], insulation: [{product: MW-60}]}
  - {id: us, frame: {kind: single, stud: 362S125-18}, face_a: [GWB-0.625X], insulation: [{product: R-11}]}
`
