package layout_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// postPlan is a wall 100 mm thick that ends at a facade post of a width.
func postPlan(width quantity.Length, w plan.Wall) *plan.Plan {
	p := floor(line{0, 0, 4000, 0})
	w.ID, w.Level, w.BuildUp, w.Line, w.Start = "L0-01", "L0", "W", p.Walls[0].Line, plan.FreeEnd
	p.Walls[0] = w
	h := width / 2
	p.Structure = []plan.Structure{{ID: "P-01", Level: "L0", Kind: plan.FacadePost, Material: "steel", Outline: []plan.Pt{
		{X: 4000 * mm, Y: -h}, {X: 4150 * mm, Y: -h}, {X: 4150 * mm, Y: h}, {X: 4000 * mm, Y: h}}}}
	return p
}

// TestClosingPiece: a wall that ends at a post narrower than itself stops short of
// it, and a slim piece goes between: framed where a stud and two boards have room,
// else of boards on each other (common practice). By hand for boards of 12.5 and
// the thinnest stud, CW50: 80 leaves room for 50 + 25, 60 for four boards.
func TestClosingPiece(t *testing.T) {
	for _, c := range []struct {
		width, thick float64
		stud         string
		boards       int
		given        *plan.ClosingPiece
		from         float64
		code         string
	}{
		{80, 75, "CW50", 2, nil, 3750, ""},
		{60, 50, "", 4, nil, 3750, ""},
		{60, 50, "", 4, &plan.ClosingPiece{Length: 400 * mm}, 3600, ""},
		{60, 25, "", 2, &plan.ClosingPiece{Thickness: 30 * mm}, 3750, ""},
		{60, 75, "CW50", 2, &plan.ClosingPiece{Thickness: 80 * mm}, 3750, "closing-piece-too-thick"},
		{10, 0, "", 0, nil, 3750, "closing-piece-too-thin"},
	} {
		p := postPlan(quantity.MM(c.width), plan.Wall{EndPiece: c.given})
		cat, pr := metric(t, plan.Overrides{"closing_length": 250})
		w := layout.Of(p, cat, pr).Walls[0]
		if diff := cmp.Diff([2]float64{0, c.from}, extents(w)["a1"]); diff != "" {
			t.Errorf("post of %v: boards\n%s", c.width, diff)
		}
		for _, code := range []string{"closing-piece-too-thick", "closing-piece-too-thin"} {
			if hasCode(w.Findings, code) != (code == c.code) {
				t.Errorf("post of %v: findings %v", c.width, w.Findings)
			}
		}
		if c.boards == 0 {
			continue
		}
		if len(w.Closings) != 1 {
			t.Fatalf("post of %v: %d closing pieces", c.width, len(w.Closings))
		}
		got := w.Closings[0]
		if got.Thickness.MM() != c.thick || got.Stud != c.stud || len(got.Boards) != c.boards || span(got.U) != [2]float64{c.from, 4000} {
			t.Errorf("post of %v: %+v", c.width, got)
		}
		if hasCode(w.Findings, "closing-piece") != (c.given == nil) {
			t.Errorf("post of %v: findings %v", c.width, w.Findings)
		}
		for _, m := range members(w, layout.EndStud) {
			if m.From.X.MM() > c.from {
				t.Errorf("post of %v: end stud at %s", c.width, m.From.X)
			}
		}
	}
	p := postPlan(120*mm, plan.Wall{})
	cat, pr := metric(t, nil)
	if w := layout.Of(p, cat, pr).Walls[0]; len(w.Closings) > 0 || extents(w)["a1"][1] != 4000 {
		t.Errorf("a wall that a post covers has a closing piece: %+v", w.Closings)
	}
}

// TestClosingPieceIsWeaker: where sound or fire is asked, the weak place is told.
func TestClosingPieceIsWeaker(t *testing.T) {
	for require, want := range map[plan.Requirements]bool{{}: false, {Sound: "Rw 42"}: true, {Fire: "EI 30"}: true} {
		cat, pr := metric(t, nil)
		w := layout.Of(postPlan(60*mm, plan.Wall{Require: require}), cat, pr).Walls[0]
		if hasCode(w.Findings, "closing-piece-weaker") != want {
			t.Errorf("%+v: %v", require, w.Findings)
		}
	}
}

// TestEndAtGlass: nothing is fixed to glass.
func TestEndAtGlass(t *testing.T) {
	p := postPlan(200*mm, plan.Wall{})
	p.Structure[0].Kind, p.Structure[0].Material = "facade", "glass"
	cat, pr := metric(t, nil)
	w := layout.Of(p, cat, pr).Walls[0]
	for _, a := range w.Anchors {
		if a.Into == "structure" {
			t.Errorf("anchors %+v", a)
		}
	}
	if !hasCode(w.Findings, "end-at-glass") {
		t.Errorf("findings: %v", w.Findings)
	}
}

// TestStepBetweenWalls: where a wall 125 mm thick is carried on by one of 100 mm,
// 12.5 mm of its end show on each face: a strip for each of its two layers, a bead
// and an inner corner there (common practice). Flush on one face, 25 mm show on the
// other.
func TestStepBetweenWalls(t *testing.T) {
	for _, c := range []struct {
		y      float64
		strips []float64
		flush  int
	}{
		{0, []float64{12.5, 12.5, 12.5, 12.5}, 0},
		{12.5, []float64{25, 25}, 1},
	} {
		p := floor(line{0, 0, 2400, 0})
		p.Walls[0].BuildUp, p.Walls[0].Start = "W2", plan.ToStructure
		p.Walls = append(p.Walls, plan.Wall{ID: "L0-02", Level: "L0", BuildUp: "W", End: plan.ToStructure,
			Line: []plan.Pt{{X: 2400 * mm, Y: quantity.MM(c.y)}, {X: 4800 * mm, Y: quantity.MM(c.y)}}})
		cat, pr := metric(t, nil)
		l := layout.Of(p, cat, pr)
		var strips []float64
		for _, s := range caps(l.Walls[0], "step between walls") {
			strips = append(strips, s.Width.MM())
		}
		if diff := cmp.Diff(c.strips, strips); diff != "" {
			t.Errorf("at %v:\n%s", c.y, diff)
		}
		beads, inner, flush := 0, 0, 0
		for _, w := range l.Walls {
			beads += len(w.Beads)
			for _, j := range w.Joints {
				if j.Kind == layout.InnerCorner {
					inner++
				}
				if j.Kind == layout.CutJoint && j.Outer {
					flush++
				}
			}
		}
		if want := len(c.strips) / 2; beads != want || inner != want || flush != c.flush {
			t.Errorf("at %v: %d beads, %d inner corners, %d flush joints", c.y, beads, inner, flush)
		}
	}
}
