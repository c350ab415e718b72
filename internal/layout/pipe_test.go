package layout_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// pipe returns a pipe through the points (along, height) given in mm.
func pipe(diameter float64, path ...float64) plan.Pipe {
	p := plan.Pipe{Service: "waste", Diameter: quantity.MM(diameter)}
	for i := 0; i < len(path); i += 2 {
		p.Path = append(p.Path, plan.Pt{X: quantity.MM(path[i]), Y: quantity.MM(path[i+1])})
	}
	return p
}

// holes are the practice's limits for holes in studs, given here.
var holes = plan.Overrides{"stud_hole": 0.5, "stud_hole_end": 250, "stud_hole_apart": 600, "service_clear": 10}

func withPipes(t *testing.T, b plan.BuildUp, w plan.Wall, pipes ...plan.Pipe) *layout.Wall {
	t.Helper()
	w.Pipes = pipes
	return lay(t, 3600*mm, 2750*mm, w, b, holes)
}

// TestPipeThroughStuds: a pipe of 25 mm from 100 to 1700, 1000 mm up, crosses the
// studs at 600 and 1200 with holes of 35 mm in their middle; it needs no more than
// half of a web of 73.8 mm (36.9). One of 40 mm needs 50, which is 13 more, and
// CW 125 has it (61.9).
func TestPipeThroughStuds(t *testing.T) {
	b := single("W", "GKB-12.5")
	w := withPipes(t, b, plan.Wall{}, pipe(25, 100, 1000, 1700, 1000))
	var at []float64
	for _, c := range w.Cutouts {
		at = append(at, c.At.X.MM(), c.At.Y.MM(), c.Diameter.MM())
		if c.Member == "" {
			t.Error("a cut-out without a member")
		}
	}
	if diff := cmp.Diff([]float64{600, 1000, 35, 1200, 1000, 35}, at); diff != "" {
		t.Error(diff)
	}
	wantSaid(t, w.Findings, "stud-hole-too-big")
	w = withPipes(t, b, plan.Wall{}, pipe(40, 100, 1000, 1700, 1000))
	wantSaid(t, w.Findings, "stud-hole-too-big",
		"L0-01: pipe 1 (waste, 40 mm) needs a hole of 50 mm in the stud at 600 mm, 1000 mm up, 13 mm more than the practice cuts out of a web of 73.8 mm | take studs CW125, or a twin braced frame with a gap of 40 mm")
}

// TestPipeRules: each rule broken by a known amount.
func TestPipeRules(t *testing.T) {
	b := single("W", "GKB-12.5")
	openings := plan.Wall{Openings: []plan.Opening{door(1500*mm, 885*mm, 30)}}
	for _, c := range []struct {
		name, code string
		wall       plan.Wall
		pipes      []plan.Pipe
		want       string
	}{
		{"thicker than the cavity", "pipe-too-thick", plan.Wall{}, []plan.Pipe{pipe(110, 100, 300, 1700, 300)},
			"pipe 1 (waste, 110 mm) is 35 mm thicker than the cavity of 75 mm; it is left out | take studs CW125, 125 mm deep, or a twin braced frame with a gap of 110 mm"},
		{"near a stud's end", "stud-hole-at-end", plan.Wall{}, []plan.Pipe{pipe(25, 100, 200, 1000, 200)},
			"pipe 1 (waste, 25 mm) needs a hole of 35 mm in the stud at 600 mm, 200 mm up, whose edge is 183 mm from the stud's end; the practice asks for 250 mm | move the pipe 68 mm up"},
		{"two holes in a stud", "stud-holes-close", plan.Wall{}, []plan.Pipe{pipe(25, 100, 1000, 1000, 1000), pipe(25, 100, 1400, 1000, 1400)},
			"pipe 2 (waste, 25 mm) needs a hole of 35 mm in the stud at 600 mm, 1400 mm up, 400 mm from that of pipe 1; the practice asks for 600 mm | move it 200 mm, or lead both through one hole"},
		{"upright in a stud", "pipe-in-stud", plan.Wall{}, []plan.Pipe{pipe(40, 610, 100, 610, 2000)},
			"pipe 1 (waste, 40 mm), upright at 610 mm, stands 35 mm in the stud at 600 mm | move it 35 mm or more towards the wall's end"},
		{"through a jamb", "pipe-through-jamb", openings, []plan.Pipe{pipe(25, 1300, 1000, 1480, 1000)},
			"pipe 1 (waste, 25 mm) needs a hole of 35 mm in the opening stud at 1475 mm, 1000 mm up, which carries an opening whole | end the pipe 38 mm before it, or take a frame with a service space of 25 mm"},
		{"in a door", "pipe-in-opening", openings, []plan.Pipe{pipe(25, 1600, 2100, 1900, 2100)},
			"pipe 1 (waste, 25 mm) runs 43 mm into L0-01/1 | lead it above 2143 mm or beside the opening"},
		{"through a header", "pipe-through-header", openings, []plan.Pipe{pipe(25, 1800, 2050, 1800, 2500)},
			"pipe 1 (waste, 25 mm) crosses the header at 1800 mm, 2130 mm up | lead it beside the opening, before 1475 mm or after 2410 mm"},
		{"at a box", "pipe-at-box", plan.Wall{Boxes: []plan.Box{box(plan.FaceA, 300*mm)}}, []plan.Pipe{pipe(40, 340, 100, 340, 900)},
			"pipe 1 (waste, 40 mm) runs 14 mm into the room of box 1 | move one of the two by 14 mm"},
		{"two pipes crossing", "pipes-meet", plan.Wall{}, []plan.Pipe{pipe(25, 100, 1000, 500, 1000), pipe(25, 300, 800, 300, 1200)},
			"pipe 2 (waste, 25 mm) comes within 0 mm of pipe 1; their middles need 25 mm | move one of the two by 25 mm"},
	} {
		w := withPipes(t, b, c.wall, c.pipes...)
		t.Run(c.name, func(t *testing.T) { wantSaid(t, w.Findings, c.code, "L0-01: "+c.want) })
	}
}

// TestPipeInServiceSpace: in a twin braced wall a pipe that fits the space between
// the frames cuts no stud; one that does not fit cuts studs.
func TestPipeInServiceSpace(t *testing.T) {
	b := single("W", "GKB-12.5")
	b.Frame.Kind, b.Frame.Gap, b.Frame.Stud = plan.TwinBraced, 110*mm, "CW50"
	w := withPipes(t, b, plan.Wall{}, pipe(110, 100, 920, 3500, 880))
	if len(w.Cutouts) > 0 || len(w.Pipes) != 1 || w.Pipes[0].Line != -1 || w.Pipes[0].Offset != 0 {
		t.Errorf("cut-outs %v, pipes %+v", w.Cutouts, w.Pipes)
	}
	if w = withPipes(t, b, plan.Wall{}, pipe(111, 100, 1000, 3500, 1000)); len(w.Cutouts) == 0 {
		t.Error("a pipe of 111 mm passes a gap of 110 mm")
	}
}
