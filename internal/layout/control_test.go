package layout_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// layUS lays out one wall by the practice of the United States.
func layUS(t *testing.T, length quantity.Length, w plan.Wall) *layout.Wall {
	t.Helper()
	b := single("W", "GWB-0.625X")
	b.Frame.Stud = "362S125-18"
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("us")
	return layout.Of(room(length, 9*quantity.Foot, w, b), cat, pr).Walls[0]
}

func usDoor(at, height quantity.Length) plan.Opening {
	return plan.Opening{Kind: plan.Door, At: at, Width: 38 * quantity.Inch, Height: height, LeafMass: 25}
}

// TestDoorsAsControlJoints: GA-216: a full-height door frame counts as a control
// joint, a lower one if joints go on from both corners of its head to the
// ceiling.
func TestDoorsAsControlJoints(t *testing.T) {
	const foot, inch = quantity.Foot, quantity.Inch
	full := layUS(t, 50*foot, plan.Wall{Openings: []plan.Opening{usDoor(24*foot, 9*foot)}})
	if len(full.Controls) != 0 || hasCode(full.Findings, "movement-joint") {
		t.Errorf("full-height door: joints %+v", full.Controls)
	}
	door := usDoor(24*foot, 82*inch)
	low := layUS(t, 50*foot, plan.Wall{Openings: []plan.Opening{door}})
	gap := 3 * inch / 8
	var got [][2]float64
	for _, c := range low.Controls {
		got = append(got, span(c.U))
	}
	want := [][2]float64{
		{(24 * foot).MM(), (24*foot + gap).Round(quantity.Millimetre / 1000).MM()},
		{(24*foot + 38*inch - gap).Round(quantity.Millimetre / 1000).MM(), (24*foot + 38*inch).Round(quantity.Millimetre / 1000).MM()},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if len(low.FrameLines) != 1 {
		t.Errorf("%d stretches of frame, want 1: the frame runs on under the head's corners", len(low.FrameLines))
	}
	for _, m := range members(low, layout.SoffitTrack) {
		if m.From.X < low.Controls[0].U.From && m.To.X > low.Controls[0].U.To {
			t.Error("the soffit track runs on over the joint")
		}
	}
	// Boards, cripples and beads: each corner has a bead on both faces from the
	// head up, each edge over the head a cripple.
	for _, f := range low.Faces {
		if b := f.Layers[0].Breaks; len(b) != 2 || b[0] != low.Controls[0].U || b[1] != low.Controls[1].U {
			t.Errorf("breaks of face %s: %v", f.Face, b)
		}
	}
	half := members(low, layout.Stud)[0].Width / 2
	for _, at := range []quantity.Length{low.Controls[0].U.To + half, low.Controls[1].U.From - half} {
		if !slices.ContainsFunc(members(low, layout.Cripple), func(m layout.Member) bool { return m.From.X == at }) {
			t.Errorf("no cripple at %s", at)
		}
	}
	beads := 0
	for _, b := range low.Beads {
		if b.Use == layout.UseControlJoint {
			beads++
			if b.From.Y != 82*inch {
				t.Errorf("bead starts at %s, want the head", b.From.Y)
			}
		}
	}
	if beads != 4 {
		t.Errorf("%d beads, want 4", beads)
	}
}

// TestDoorIsNoJointWhereNotAllowed: where the practice does not let doors serve,
// the joint keeps clear of them.
func TestDoorIsNoJointWhereNotAllowed(t *testing.T) {
	door := plan.Opening{Kind: plan.Door, At: 9600 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 28}
	high := door
	high.Height = 2750 * mm
	for _, c := range []struct {
		rule string
		door plan.Opening
		want int // joints of the wall's own
	}{
		{"full_height", door, 1}, {"full_height", high, 0}, {"none", high, 1}, {"head_corners", door, 0},
	} {
		w := lay(t, 20000*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{c.door}}, single("W", "GKB-12.5"), plan.Overrides{"door_joint": c.rule, "control_joint": 15000})
		own := 0
		for _, j := range w.Controls {
			if j.Over == "" {
				own++
				if j.U.To > c.door.At-290*mm && j.U.From < c.door.At+c.door.Width+290*mm {
					t.Errorf("%s: joint at %v beside the door", c.rule, j.U)
				}
			}
		}
		if own != c.want {
			t.Errorf("%s, head at %s: %d joints, want %d", c.rule, c.door.Height, own, c.want)
		}
	}
}

// TestStructureJoint: where a joint of the structure crosses a wall, frame and
// boards part over its whole width, with a stud on each side (DIN 18181, from
// memory: at every structural joint). By hand: 3000 and 20 mm; the frame stands 55 mm
// back where strips that lap the boards by 50 lie behind the gap.
func TestStructureJoint(t *testing.T) {
	for _, c := range []struct {
		require plan.Requirements
		strips  int
	}{
		{plan.Requirements{}, 0}, {plan.Requirements{Fire: "EI 60"}, 4}, {plan.Requirements{Sound: "Rw 42"}, 4},
	} {
		p := room(6000*mm, 2750*mm, plan.Wall{Require: c.require}, single("W", "GKB-12.5", "GKB-12.5"))
		p.Levels[0].MovementJoints = []plan.MovementJoint{{Line: []plan.Pt{{X: 3000 * mm, Y: -5000 * mm}, {X: 3000 * mm, Y: 5000 * mm}}, Width: 20 * mm}}
		cat, pr := metric(t, nil)
		w := layout.Of(p, cat, pr).Walls[0]
		back := 0.0
		if c.strips > 0 {
			back = 55
		}
		if len(w.FrameLines) != 2 || span(w.FrameLines[0].Extent) != [2]float64{0, 2990 - back} || span(w.FrameLines[1].Extent) != [2]float64{3010 + back, 6000} {
			t.Fatalf("frame: %+v", w.FrameLines)
		}
		for _, f := range w.Faces {
			for _, l := range f.Layers {
				if len(l.Breaks) != 1 || span(l.Breaks[0]) != [2]float64{2990, 3010} {
					t.Errorf("face %s: breaks %v", f.Face, l.Breaks)
				}
			}
		}
		for _, at := range []float64{2965 - back, 3035 + back} {
			if !slices.ContainsFunc(members(w, layout.EndStud), func(m layout.Member) bool { return m.From.X.MM() == at }) {
				t.Errorf("no stud at %v", at)
			}
		}
		strips, beads, seals := 0, 0, 0
		for _, p := range w.Caps {
			if p.Use == "joint backing" {
				strips++
				if p.Width != 120*mm { // the gap and 50 mm on each side
					t.Errorf("strip %s mm wide", p.Width)
				}
			}
		}
		for _, b := range w.Beads {
			if b.Use == layout.UseControlJoint {
				beads++
			}
		}
		for _, s := range w.Seals {
			if s.Use == layout.UseControlJoint {
				seals++
			}
		}
		if strips != c.strips || beads != 2 || seals != c.strips/2 {
			t.Errorf("%+v: %d strips, %d beads, %d seals", c.require, strips, beads, seals)
		}
	}
}

// TestStructureJointInTheWay: what cannot be built over a joint is told with by
// how much it has to move.
func TestStructureJointInTheWay(t *testing.T) {
	across := func(x quantity.Length) []plan.Pt { return []plan.Pt{{X: x, Y: -5000 * mm}, {X: x, Y: 5000 * mm}} }
	for _, c := range []struct {
		name string
		line []plan.Pt
		open []plan.Opening
		code string
		cut  bool
	}{
		{"along the wall", []plan.Pt{{X: -1000 * mm, Y: 2 * mm}, {X: 9000 * mm, Y: 2 * mm}}, nil, "wall-on-joint", false},
		{"at a slant of 45 degrees", []plan.Pt{{X: 2000 * mm, Y: -1000 * mm}, {X: 4000 * mm, Y: 1000 * mm}}, nil, "", true},
		{"at a slant of 10 degrees", []plan.Pt{{X: 0, Y: -529 * mm}, {X: 6000 * mm, Y: 529 * mm}}, nil, "wall-on-joint", false},
		{"at a door", across(3000 * mm), []plan.Opening{{Kind: plan.Door, At: 2600 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 28}}, "opening-on-joint", false},
		{"in a full-height opening", across(3000 * mm), []plan.Opening{{Kind: plan.Bare, At: 2600 * mm, Width: 885 * mm, Height: 2750 * mm}}, "", false},
		{"at the end", across(20 * mm), nil, "joint-at-end", false},
		{"elsewhere", across(7000 * mm), nil, "", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := room(6000*mm, 2750*mm, plan.Wall{Openings: c.open}, single("W", "GKB-12.5"))
			p.Levels[0].MovementJoints = []plan.MovementJoint{{Line: c.line, Width: 20 * mm}}
			cat, pr := metric(t, nil)
			w := layout.Of(p, cat, pr).Walls[0]
			for _, code := range []string{"wall-on-joint", "opening-on-joint", "joint-at-end"} {
				if hasCode(w.Findings, code) != (code == c.code) {
					t.Errorf("findings: %v, want %q", w.Findings, c.code)
				}
			}
			if got := len(w.Controls) == 1; got != c.cut {
				t.Errorf("joints: %+v", w.Controls)
			}
		})
	}
}
