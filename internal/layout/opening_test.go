package layout_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
)

// said returns the findings of a code, what with fix.
func said(list finding.List, code string) []string {
	var all []string
	for _, f := range list {
		if f.Code == code {
			all = append(all, f.Object+": "+f.What.String()+" | "+f.Fix.String())
		}
	}
	return all
}

func wantSaid(t *testing.T, list finding.List, code string, want ...string) {
	t.Helper()
	if diff := cmp.Diff(want, said(list, code)); diff != "" {
		t.Errorf("%s:\n%s", code, diff)
	}
}

func door(at, width quantity.Length, leaf float64) plan.Opening {
	return plan.Opening{Kind: plan.Door, At: at, Width: width, Height: 2130 * mm, LeafMass: leaf}
}

func kindsOf(list []layout.Member) []string {
	var all []string
	for _, m := range list {
		text := m.Product
		if m.Boxed {
			text += " boxed"
		}
		all = append(all, text)
	}
	return all
}

// TestJambs: the door-jamb rule of the trade press for DIN 18340 and DIN 18183-1
// (up to 35 kg, 900 mm and 2800 mm two studs boxed, else opening studs), each limit
// passed by itself; in the US practice boxed jambs are of 33 mil studs and heavier
// doors stand on 54 mil studs (common practice).
func TestJambs(t *testing.T) {
	boxed := []string{"CW75 boxed", "CW75 boxed", "CW75 boxed", "CW75 boxed"}
	ua := []string{"UA75", "UA75"}
	for _, c := range []struct {
		name          string
		width, height quantity.Length
		leaf          float64
		want          []string
	}{
		{"all at their limits", 900 * mm, 2800 * mm, 35, boxed},
		{"leaf too heavy", 900 * mm, 2800 * mm, 35.5, ua},
		{"opening too wide", 901 * mm, 2800 * mm, 35, ua},
		{"wall too high", 900 * mm, 2801 * mm, 35, ua},
		{"leaf unknown", 900 * mm, 2800 * mm, 0, ua},
	} {
		w := lay(t, 4800*mm, c.height, plan.Wall{Openings: []plan.Opening{door(1500*mm, c.width, c.leaf)}}, single("W", "GKB-12.5"), nil)
		if diff := cmp.Diff(c.want, kindsOf(members(w, layout.OpeningStud))); diff != "" {
			t.Errorf("%s:\n%s", c.name, diff)
		}
	}
	_, _ = metric(t, nil)
	cat, _ := metric(t, nil)
	us, _ := cat.PracticeByID("us")
	for _, c := range []struct {
		leaf float64
		want []string
	}{
		{45, []string{"362S125-33 boxed", "362S125-33 boxed", "362S125-33 boxed", "362S125-33 boxed"}},
		{60, []string{"362S162-54", "362S162-54"}},
	} {
		b := single("W", "GWB-0.625X")
		b.Frame.Stud = "362S125-18"
		w := layout.Of(room(16*quantity.Foot, 9*quantity.Foot, plan.Wall{Openings: []plan.Opening{door(4*quantity.Foot, 38*quantity.Inch, c.leaf)}}, b), cat, us).Walls[0]
		if diff := cmp.Diff(c.want, kindsOf(members(w, layout.OpeningStud))); diff != "" {
			t.Errorf("US, leaf of %v kg:\n%s", c.leaf, diff)
		}
	}
}

// TestLeafTooHeavy: UA 75 carries 75 kg, UA 100 carries 100 kg (trade guides,
// from memory, so the limits are given here).
func TestLeafTooHeavy(t *testing.T) {
	limits := plan.Overrides{"opening_stud_leaf": []any{map[string]any{"depth": 75, "leaf": 75.0}, map[string]any{"depth": 100, "leaf": 100.0}}}
	for leaf, want := range map[float64][]string{
		75:  nil,
		90:  {"L0-01/1: the leaf of 90 kg is 15 kg heavier than opening studs of a frame 75 mm deep carry | take a frame 100 mm deep or more, or have the jambs proofed by an engineer"},
		120: {"L0-01/1: the leaf of 120 kg is 45 kg heavier than opening studs of a frame 75 mm deep carry | have the jambs proofed by an engineer"},
	} {
		w := lay(t, 4800*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{door(1500*mm, 1000*mm, leaf)}}, single("W", "GKB-12.5"), limits)
		wantSaid(t, w.Findings, "leaf-too-heavy", want...)
	}
}

// TestHeaders: the header grows with the opening and with what it carries. By
// hand for two layers of 12.5 mm a face (4 x 8.5 kg/m² = 34 kg/m², over 620 mm
// 0.21 kN/m): a track spans a door; the sag of a lone UA 75, 5 q L⁴/384 EI with
// I = 52 000 mm⁴, passes L/360 at 2.16 m.
func TestHeaders(t *testing.T) {
	two := single("W", "GKB-12.5", "GKB-12.5")
	for _, c := range []struct {
		name  string
		width quantity.Length
		hung  float64
		want  []string
	}{
		{"door", 885 * mm, 0, []string{"UW75"}},
		{"double door", 2000 * mm, 0, []string{"UW75 boxed", "UW75 boxed"}},
		{"wide opening", 2150 * mm, 0, []string{"UA75"}},
		{"very wide opening", 3000 * mm, 0, []string{"UA75 boxed", "UA75 boxed"}},
		{"door with glazing hung over it", 885 * mm, 60, []string{"UA75"}},
	} {
		o := door(1200*mm, c.width, 30)
		o.HungMass = c.hung
		w := lay(t, 8000*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{o}}, two, nil)
		got := members(w, layout.Header)
		if diff := cmp.Diff(c.want, kindsOf(got)); diff != "" {
			t.Errorf("%s:\n%s%s", c.name, diff, got[0].Rule)
		}
		wantSaid(t, w.Findings, "header-too-weak")
	}
}

// TestHeaderTooWeak: where no header spans an opening, the finding names one that
// does, and an opening just as wide as that has none.
func TestHeaderTooWeak(t *testing.T) {
	two := single("W", "GKB-12.5", "GKB-12.5")
	layWidth := func(width quantity.Length) finding.List {
		return lay(t, 9000*mm, 3500*mm, plan.Wall{Openings: []plan.Opening{door(1200*mm, width, 30)}}, two, nil).Findings
	}
	list := said(layWidth(6000*mm), "header-too-weak")
	if len(list) != 1 || !strings.Contains(list[0], "is framed 6000 mm wide under") {
		t.Fatalf("findings: %v", list)
	}
	_, after, _ := strings.Cut(list[0], "make the opening at most ")
	number, _, _ := strings.Cut(after, " mm")
	widest, err := quantity.ParseLength(number)
	if err != nil || widest < 1000*mm {
		t.Fatalf("no width in %q", list[0])
	}
	if s := said(layWidth(widest), "header-too-weak"); len(s) > 0 {
		t.Errorf("%s mm: %v", widest, s)
	}
	if s := said(layWidth(widest+mm), "header-too-weak"); len(s) == 0 {
		t.Errorf("%s mm passes", widest+mm)
	}
}

// TestHeaderOfTwinFrame: each header of a twin frame carries the boards of its own
// face alone (statics), so it is weaker than that of a single frame.
func TestHeaderOfTwinFrame(t *testing.T) {
	b := single("W", "GKB-12.5", "GKB-12.5")
	b.Frame.Kind = plan.TwinIndependent
	o := []plan.Opening{door(1200*mm, 1000*mm, 30)}
	twin := members(lay(t, 6000*mm, 2950*mm, plan.Wall{Openings: o}, b, nil), layout.Header)
	b.Frame.Kind = plan.Single
	one := members(lay(t, 6000*mm, 2950*mm, plan.Wall{Openings: o}, b, nil), layout.Header)
	if diff := cmp.Diff([]string{"UW75 boxed", "UW75 boxed"}, kindsOf(one)); diff != "" {
		t.Errorf("single frame:\n%s", diff)
	}
	if diff := cmp.Diff([]string{"UW75", "UW75"}, kindsOf(twin)); diff != "" {
		t.Errorf("twin frame:\n%s", diff)
	}
}

// TestBracketsOfOpeningStuds: opening studs stand from floor to soffit with an
// angle at each end (DIN 18340 practice, from memory), each with two anchors; a
// head that slides has slotted ones. Boxed studs have none.
func TestBracketsOfOpeningStuds(t *testing.T) {
	uses := func(leaf float64, head string) (all []string, anchors int) {
		w := lay(t, 4800*mm, 2750*mm, plan.Wall{Head: head, Openings: []plan.Opening{door(1500*mm, 885*mm, leaf)}}, single("W", "GKB-12.5"), nil)
		for _, b := range w.Brackets {
			all = append(all, b.Use)
		}
		for _, a := range w.Anchors {
			if a.From == a.To {
				anchors += a.Count
			}
		}
		return all, anchors
	}
	for _, c := range []struct {
		leaf    float64
		head    string
		want    []string
		anchors int
	}{
		{30, plan.HeadRigid, nil, 0},
		{50, plan.HeadRigid, []string{"foot", "head", "foot", "head"}, 8},
		{50, plan.HeadDeflection, []string{"foot", "sliding head", "foot", "sliding head"}, 8},
	} {
		got, anchors := uses(c.leaf, c.head)
		if diff := cmp.Diff(c.want, got); diff != "" || anchors != c.anchors {
			t.Errorf("leaf of %v kg, head %s: %d anchors\n%s", c.leaf, c.head, anchors, diff)
		}
	}
	cat, pr := metric(t, nil)
	p := room(4800*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{door(1500*mm, 885*mm, 50)}}, single("W", "GKB-12.5"))
	if n := quantityOf(takeoff.Of(p, layout.Of(p, cat, pr), cat, pr).Total, takeoff.Fixings, "ANGLE-OPENING"); n != 4 {
		t.Errorf("%v angles in the take-off, want 4", n)
	}
}

// TestSharedJamb: two doors with 60 mm between them share one jamb, the stiffer
// of theirs, in the middle; with 40 mm there is no room for it.
func TestSharedJamb(t *testing.T) {
	doors := func(gap quantity.Length) *layout.Wall {
		return lay(t, 4800*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{
			door(1000*mm, 885*mm, 30), door(1885*mm+gap, 885*mm, 60),
		}}, single("W", "GKB-12.5"), nil)
	}
	w := doors(60 * mm)
	var at []float64
	for _, m := range members(w, layout.OpeningStud) {
		if m.Product == "UA75" {
			at = append(at, m.From.X.MM())
		}
	}
	if diff := cmp.Diff([]float64{1915, 1885 + 60 + 885 + 20}, at); diff != "" {
		t.Error(diff)
	}
	wantSaid(t, w.Findings, "openings-too-close")
	heavyFirst := lay(t, 4800*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{door(1000*mm, 885*mm, 60), door(1945*mm, 885*mm, 30)}}, single("W", "GKB-12.5"), nil)
	if diff := cmp.Diff([]string{"UA75", "UA75", "CW75 boxed", "CW75 boxed"}, kindsOf(members(heavyFirst, layout.OpeningStud))); diff != "" {
		t.Errorf("the heavy door first:\n%s", diff)
	}
	wantSaid(t, doors(40*mm).Findings, "openings-too-close",
		"L0-01/2: is only 40 mm from L0-01/1; the jamb that they share needs 50 mm | move it by 10 mm")
}

// tee puts another wall's end against the side of the wall that has openings.
func tee(t *testing.T, u quantity.Length, overrides plan.Overrides, openings ...plan.Opening) (*layout.Wall, *layout.Wall) {
	t.Helper()
	p := room(6000*mm, 2750*mm, plan.Wall{Openings: openings}, single("W", "GKB-12.5"))
	p.Walls = append(p.Walls, plan.Wall{ID: "L0-02", Level: "L0", BuildUp: "W", Line: []plan.Pt{{X: u, Y: 0}, {X: u, Y: 2000 * mm}}, End: plan.FreeEnd})
	cat, pr := metric(t, overrides)
	l := layout.Of(p, cat, pr)
	return l.Walls[0], l.Walls[1]
}

// TestDoorAtJunction: a door from 1000 to 1885; the wall beside it is 100 mm
// thick, so one with its axis at 1985 leaves 50 mm. With its axis in the opening
// no stud can hold it.
func TestDoorAtJunction(t *testing.T) {
	d := door(1000*mm, 885*mm, 30)
	clear := plan.Overrides{"door_clear": 100}
	w, _ := tee(t, 2035*mm, clear, d)
	wantSaid(t, w.Findings, "door-at-junction")
	w, _ = tee(t, 1985*mm, clear, d)
	wantSaid(t, w.Findings, "door-at-junction",
		"L0-01/1: is 50 mm from the face of wall L0-02; frame and architrave need 100 mm | move it by 50 mm")
	w, _ = tee(t, 920*mm, clear, d)
	wantSaid(t, w.Findings, "door-at-junction",
		"L0-01/1: is 30 mm from the face of wall L0-02; frame and architrave need 100 mm | move it by 70 mm")
	w, _ = tee(t, 1800*mm, clear, d)
	wantSaid(t, w.Findings, "tee-at-opening",
		"L0-02: stands against L0-01 where that has opening L0-01/1, and 100 mm into it: no stud can hold it there | move the wall by 185 mm or more towards the end of L0-01, or the opening the other way")
}

// TestJunctionStudBesideJamb: where the middle of a wall meets this one just
// beside a jamb, its stud stands next to the jamb and still holds it.
func TestJunctionStudBesideJamb(t *testing.T) {
	w, _ := tee(t, 1950*mm, nil, door(1000*mm, 885*mm, 30))
	list := members(w, layout.JunctionStud)
	if len(list) != 1 || list[0].From.X != 1960*mm {
		t.Errorf("junction studs: %+v", list)
	}
	w, _ = tee(t, 1920*mm, nil, door(1000*mm, 885*mm, 30))
	if list := members(w, layout.JunctionStud); len(list) != 0 {
		t.Errorf("the jamb from 1885 to 1935 holds the wall at 1920, but there are %+v", list)
	}
}

// TestJointsKeepFromJambs: with a stud of the module 100 mm beside a door, no
// joint falls on it but on the next, with 50 mm asked it may (common practice; the
// distance is given here).
func TestJointsKeepFromJambs(t *testing.T) {
	joints := func(clear int) (near bool) {
		w := lay(t, 4800*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{door(1300*mm, 700*mm, 30)}},
			single("W", "GKB-12.5"), plan.Overrides{"joint_jamb": clear, "min_piece": 100})
		for _, j := range w.Joints {
			near = near || j.From.X == j.To.X && j.From.X == 1200*mm
		}
		wantSaid(t, w.Findings, "joint-at-jamb")
		return near
	}
	if joints(150) {
		t.Error("150 mm asked: a joint 100 mm from the door")
	}
	if !joints(50) {
		t.Error("50 mm asked: the full board does not end on its stud")
	}
}

// TestJointsOverOpeningsFallOnCripples: over an opening of 3 m, wider than any
// board, the joints fall on cripples, none nearer to the jambs than the practice
// asks (common practice).
func TestJointsOverOpeningsFallOnCripples(t *testing.T) {
	w := lay(t, 6000*mm, 2950*mm, plan.Wall{Openings: []plan.Opening{
		{Kind: plan.Bare, At: 1500 * mm, Width: 3000 * mm, Height: 2130 * mm}}}, single("W", "GKB-12.5"), nil)
	_, pr := metric(t, nil)
	cripples := members(w, layout.Cripple)
	over := 0
	for _, j := range w.Joints {
		if j.From.X != j.To.X || j.From.X <= 1500*mm || j.From.X >= 4500*mm || j.Kind == layout.OuterCorner {
			continue
		}
		over++
		if !slices.ContainsFunc(cripples, func(m layout.Member) bool { return m.From.X == j.From.X && m.From.Y == 2130*mm }) {
			t.Errorf("joint at %s on no cripple", j.From.X)
		}
		if clear := min(j.From.X-1500*mm, 4500*mm-j.From.X); clear < pr.JointJamb.Value {
			t.Errorf("joint at %s is %s mm from the jamb", j.From.X, clear)
		}
	}
	if over < 4 {
		t.Errorf("%d joints over the opening, want two or more a face", over)
	}
}
