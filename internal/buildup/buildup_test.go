package buildup

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	_ "nogging/internal/draws"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

func practice(t testing.TB, id string) *catalogue.Practice {
	t.Helper()
	pr, ok := catalogue.Shipped().PracticeByID(id)
	if !ok {
		t.Fatalf("practice %s is missing", id)
	}
	return pr
}

func single(stud string, boards ...string) plan.BuildUp {
	return plan.BuildUp{ID: "W", Frame: plan.FrameSpec{Kind: plan.Single, Stud: stud}, FaceA: boards}
}

// resolve gives the build-up of the only wall of a plan.
func resolve(t testing.TB, practiceID string, w plan.Wall, specs ...plan.BuildUp) (BuildUp, finding.List) {
	t.Helper()
	w.ID = "L1-01"
	p := &plan.Plan{BuildUps: specs, Walls: []plan.Wall{w}}
	b, found := NewResolver(p, catalogue.Shipped(), practice(t, practiceID)).Resolve(&p.Walls[0])
	if b == nil {
		b = &BuildUp{}
	}
	return *b, found
}

func TestThickness(t *testing.T) {
	mm := quantity.MM
	twin := func(kind plan.FrameKind, gap Length) plan.BuildUp {
		return plan.BuildUp{ID: "W", Frame: plan.FrameSpec{Kind: kind, Stud: "CW50", Gap: gap}, FaceA: []string{"GKF-12.5", "GKF-12.5"}}
	}
	for _, tt := range []struct {
		name, practice string
		spec           plan.BuildUp
		want           Length
	}{
		// The trade's usual thicknesses, common practice.
		{"one layer on 75", "metric", single("CW75", "GKB-12.5"), mm(100)},
		{"two layers on 75", "metric", single("CW75", "GKB-12.5", "GKB-12.5"), mm(125)},
		{"two layers on 100", "metric", single("CW100", "GKF-12.5", "GKF-12.5"), mm(150)},
		{"wall between dwellings", "metric", twin(plan.TwinIndependent, mm(5)), mm(155)},
		{"service wall", "metric", twin(plan.TwinBraced, mm(100)), mm(250)},
		{"lining", "metric", plan.BuildUp{ID: "W", Frame: plan.FrameSpec{Kind: plan.Lining, Stud: "CW50", Gap: mm(20)}, FaceA: []string{"GKB-12.5"}}, mm(62.5)},
		{"shaft wall", "metric", plan.BuildUp{ID: "W", Frame: plan.FrameSpec{Kind: plan.Shaft, Stud: "CW50"}, FaceA: []string{"GKF-20", "GKF-20"}}, mm(90)},
		{"unequal faces", "metric", plan.BuildUp{ID: "W", Frame: plan.FrameSpec{Stud: "CW75"}, FaceA: []string{"GKB-12.5"}, FaceB: []string{"GKF-15", "GKB-12.5"}}, mm(115)},
		// GA-600 WP 1200: 5/8 in Type X each side of 3-5/8 in studs is 4-7/8 in.
		{"WP 1200", "us", single("362S125-18", "GWB-0.625X"), 4*quantity.Inch + 7*quantity.Inch/8},
		// IBC table 721.1(2), 13-1.1 and 13-1.2 (from memory): 2-7/8 in with one
		// layer of 5/8 in and 3-5/8 in with two of 1/2 in on 1-5/8 in studs.
		{"13-1.1", "us", single("162S125-18", "GWB-0.625X"), 2*quantity.Inch + 7*quantity.Inch/8},
		{"13-1.2", "us", single("162S125-18", "GWB-0.5X", "GWB-0.5X"), 3*quantity.Inch + 5*quantity.Inch/8},
	} {
		b, found := resolve(t, tt.practice, plan.Wall{BuildUp: "W"}, tt.spec)
		if len(found) > 0 || b.Thickness != tt.want {
			t.Errorf("%s: %s mm, want %s; %v", tt.name, b.Thickness, tt.want, found)
		}
	}
}

// The frames of a twin wall never touch: where no gap is given the practice's
// is taken, and said. Common practice: an isolating strip of 5 mm and tolerance
// between frames of a wall between dwellings, room for pipes in a service wall.
func TestAssumedGap(t *testing.T) {
	for _, tt := range []struct {
		practice, stud, board string
		kind                  plan.FrameKind
		gap                   Length
	}{
		{"metric", "CW50", "GKF-12.5", plan.TwinIndependent, quantity.MM(10)},
		{"metric", "CW50", "GKF-12.5", plan.TwinBraced, quantity.MM(100)},
		{"us", "362S125-18", "GWB-0.625X", plan.TwinIndependent, quantity.Inch},
		{"us", "362S125-18", "GWB-0.625X", plan.TwinBraced, 4 * quantity.Inch},
	} {
		spec := single(tt.stud, tt.board)
		spec.Frame.Kind = tt.kind
		b, found := resolve(t, tt.practice, plan.Wall{BuildUp: "W"}, spec)
		if b.Gap != tt.gap || len(found) != 1 || found[0].Code != "gap-assumed" || found[0].Severity != finding.Assumed ||
			!strings.Contains(found[0].What.String(), tt.gap.String()+" mm") || found[0].Path != "buildups[0].frame.gap" {
			t.Errorf("%s %s: gap %s, %v", tt.practice, tt.kind, b.Gap, found)
		}
	}
}

func TestProducts(t *testing.T) {
	spec := plan.BuildUp{
		ID:         "W",
		Frame:      plan.FrameSpec{Kind: plan.Single, Stud: "CW75", Spacing: quantity.MM(400)},
		FaceA:      []string{"GKF-12.5", "GKBI-12.5"},
		Insulation: []plan.Insulation{{Product: "SW-60-40"}},
	}
	b, found := resolve(t, "metric", plan.Wall{BuildUp: "W"}, spec)
	if len(found) > 0 {
		t.Fatal(found)
	}
	got := []string{b.Stud.ID, b.Track.ID, b.OpeningStud.ID, b.Spacing.String(), b.FrameDepth().String(), b.A[0].ID, b.B[1].ID,
		b.BoardsThickness(plan.FaceA).String(), b.Insulation[0].Product.ID, b.Insulation[0].Thickness.String()}
	want := []string{"CW75", "UW75", "UA75", "400", "75", "GKF-12.5", "GKBI-12.5", "25", "SW-60-40", "60"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	b, _ = resolve(t, "metric", plan.Wall{BuildUp: "W"}, single("CW50", "GKB-12.5"))
	if b.Spacing != quantity.MM(600) || b.Kind != plan.Single || b.FrameLines() != 1 {
		t.Errorf("spacing %s, %s", b.Spacing, b.Kind)
	}
}

func TestWrongBuildUps(t *testing.T) {
	with := func(change func(*plan.BuildUp)) plan.BuildUp {
		s := single("CW75", "GKB-12.5")
		change(&s)
		return s
	}
	for _, tt := range []struct {
		name string
		spec plan.BuildUp
		code string
		path string
		fix  string
		left bool // the wall is left out
	}{
		{"unknown stud", single("CW57", "GKB-12.5"), "unknown-stud", "buildups[0].frame.stud", "CW50, CW75", true},
		{"no stud", single("", "GKB-12.5"), "unknown-stud", "buildups[0].frame.stud", "", true},
		{"track as stud", single("UW75", "GKB-12.5"), "product-kind", "buildups[0].frame.stud", "CW75", true},
		{"unknown board", single("CW75", "GKB-12.5", "GKX-12.5"), "unknown-board", "buildups[0].face_a[1]", "", true},
		{"no boards", single("CW75"), "boards-missing", "buildups[0].face_a", "GKB-12.5", true},
		{"other track", with(func(s *plan.BuildUp) { s.Frame.Track = "UW50" }), "track-misfit", "buildups[0].frame.track", "UW75", true},
		{"unknown track", with(func(s *plan.BuildUp) { s.Frame.Track = "UW57" }), "unknown-track", "buildups[0].frame.track", "", true},
		{"stud as track", with(func(s *plan.BuildUp) { s.Frame.Track = "CW75" }), "track-misfit", "buildups[0].frame.track", "UW75", true},
		{"unknown frame", with(func(s *plan.BuildUp) { s.Frame.Kind = "triple" }), "frame-kind", "buildups[0].frame.kind", "twin_braced", true},
		{"negative spacing", with(func(s *plan.BuildUp) { s.Frame.Spacing = -1 }), "frame-size", "buildups[0].frame", "", true},
		{"unknown wool", with(func(s *plan.BuildUp) { s.Insulation = []plan.Insulation{{Product: "MW-6O"}} }), "unknown-insulation", "buildups[0].insulation[0].product", "MW-60", true},
		{"wool of another thickness", with(func(s *plan.BuildUp) {
			s.Insulation = []plan.Insulation{{Product: "MW-60", Thickness: quantity.MM(55)}}
		}),
			"fill-thickness", "buildups[0].insulation[0].thickness", "60", false},
		{"too much wool", with(func(s *plan.BuildUp) { s.Insulation = []plan.Insulation{{Product: "MW-100"}} }), "fill-too-thick", "buildups[0].insulation", "", false},
		{"boards on face B of a lining", with(func(s *plan.BuildUp) { s.Frame.Kind, s.FaceB = plan.Lining, []string{"GKB-12.5"} }), "boards-unused", "buildups[0].face_b", "", false},
		{"boards that miss the studs", with(func(s *plan.BuildUp) { s.Frame.Spacing = quantity.MM(625) }), "boards-off-studs", "buildups[0].frame.spacing", "600 mm", false},
		{"studs that touch", with(func(s *plan.BuildUp) { s.Frame.Spacing = quantity.MM(30) }), "frame-size", "buildups[0].frame", "", true},
		{"studs far apart", with(func(s *plan.BuildUp) { s.Frame.Spacing = quantity.MM(1200) }), "spacing-wide", "buildups[0].frame.spacing", "625", false},
	} {
		b, found := resolve(t, "metric", plan.Wall{BuildUp: "W"}, tt.spec)
		if len(found) == 0 {
			t.Errorf("%s: nothing found", tt.name)
			continue
		}
		f := found[0]
		if f.Code != tt.code || f.Path != tt.path || f.Object != "W" || f.Fix == "" || !strings.Contains(f.Fix.String(), tt.fix) {
			t.Errorf("%s: %+v", tt.name, f)
		}
		left := found[len(found)-1].Code == "buildup-unusable" && b.Track == nil
		if left != tt.left || found.Count(finding.Error) > 0 != tt.left {
			t.Errorf("%s: left out %v, want %v: %v", tt.name, left, tt.left, found)
		}
	}
}

// Boards and studs of the trade's modules go together: 1250/2, 1250/3, 1200/2,
// 1200/3 and 48 in at 16 and 24 in (DIN 18181 and ASTM C840, from memory).
func TestModules(t *testing.T) {
	for _, tt := range []struct {
		stud, board string
		spacing     Length
		good        bool
	}{
		{"CW75", "GKB-12.5", quantity.MM(600), true},
		{"CW75", "GKB-12.5", quantity.MM(400), true},
		{"CW75", "GKB-12.5", quantity.MM(300), true},
		{"CW75", "GKB-12.5x1250", quantity.MM(625), true},
		{"CW75", "GKB-12.5x1250", quantity.MM(417), true},
		{"CW75", "GKB-12.5x1250", quantity.MM(600), false},
		{"CW75", "GKB-12.5", quantity.MM(500), false},
		{"362S125-18", "GWB-0.625X", 16 * quantity.Inch, true},
		{"362S125-18", "GWB-0.625X", 24 * quantity.Inch, true},
		{"362S125-18", "GWB-0.625X", 20 * quantity.Inch, false},
	} {
		spec := single(tt.stud, tt.board)
		spec.Frame.Spacing = tt.spacing
		if _, found := resolve(t, "metric", plan.Wall{BuildUp: "W"}, spec); (len(found) == 0) != tt.good {
			t.Errorf("%s at %s mm: %v", tt.board, tt.spacing, found)
		}
	}
}

func TestAssumedBuildUps(t *testing.T) {
	drawn := []plan.BuildUp{single("CW75", "GKB-12.5"), single("CW100", "GKF-12.5", "GKF-12.5")}
	drawn[0].ID, drawn[1].ID = "P-100", "P-150"
	lining := plan.BuildUp{ID: "LINING", Frame: plan.FrameSpec{Kind: plan.Lining, Stud: "CW50"}, FaceA: []string{"GKB-12.5"}}
	for _, tt := range []struct {
		practice  string
		thickness Length
		specs     []plan.BuildUp
		want      string
		severity  finding.Severity
		says      string
	}{
		{"metric", quantity.MM(100), drawn, "P-100", finding.Assumed, "100 mm thick, as drawn"},
		{"metric", quantity.MM(115), drawn, "P-100", finding.Assumed, "15 mm thinner than drawn"},
		{"metric", quantity.MM(130), drawn, "P-150", finding.Assumed, "20 mm thicker than drawn"},
		{"metric", quantity.MM(200), drawn, "CW150 + 2 x GKB-12.5", finding.Assumed, "as drawn"},
		{"metric", quantity.MM(75), append(drawn, lining), "CW50 + 1 x GKB-12.5", finding.Assumed, "as drawn"},
		{"metric", quantity.MM(125), nil, "CW75 + 2 x GKB-12.5", finding.Assumed, "as drawn"},
		{"metric", quantity.MM(240), nil, "CW150 + 2 x GKB-12.5", finding.Warning, "40 mm thinner than drawn"},
		{"metric", 0, drawn, "CW75 + 2 x GKB-12.5", finding.Assumed, "neither build-up nor thickness"},
		{"us", 4*quantity.Inch + 7*quantity.Inch/8, nil, "362S125-18 + 1 x GWB-0.625X", finding.Assumed, "as drawn"},
		{"us", 0, nil, "362S125-18 + 1 x GWB-0.625X", finding.Assumed, "neither build-up nor thickness"},
	} {
		b, found := resolve(t, tt.practice, plan.Wall{Thickness: tt.thickness}, tt.specs...)
		if b.Spec.ID != tt.want || len(found) != 1 || found[0].Severity != tt.severity ||
			!strings.Contains(found[0].What.String(), tt.says) || found[0].Object != "L1-01" || found[0].Path != "walls[0].buildup" {
			t.Errorf("%s mm: %q, want %q; %+v", tt.thickness, b.Spec.ID, tt.want, found)
		}
	}
}

// One layer of fill goes into one frame of a twin wall, which is said.
func TestTwinFilledOnce(t *testing.T) {
	spec := single("CW50", "GKF-12.5")
	spec.Frame.Kind, spec.Frame.Gap = plan.TwinIndependent, quantity.MM(10)
	for n, want := range []int{0, 1, 0} {
		spec.Insulation = make([]plan.Insulation, n)
		for i := range spec.Insulation {
			spec.Insulation[i].Product = "SW-50-40"
		}
		_, found := resolve(t, "metric", plan.Wall{BuildUp: "W"}, spec)
		if len(found) != want || want > 0 && (found[0].Code != "fill-one-frame" || found[0].Severity != finding.Assumed) {
			t.Errorf("%d layers: %v", n, found)
		}
	}
}

// A wall of which something is asked needs a person to choose its build-up.
func TestAssumedWithDemands(t *testing.T) {
	for _, thickness := range []Length{0, quantity.MM(125)} {
		w := plan.Wall{Thickness: thickness, Require: plan.Requirements{Fire: "EI 90", Sound: "Rw 60", UValue: "0.4"}}
		_, found := resolve(t, "metric", w)
		if len(found) != 1 || found[0].Severity != finding.Warning ||
			!strings.HasSuffix(found[0].What.String(), "is assumed; what is asked of it (EI 90, Rw 60, U 0.4) was not considered in choosing it") {
			t.Errorf("%v", found)
		}
	}
}

// An assumed build-up is the nearest there is, and never further off than half
// a step of the series where the series reaches.
func TestAssumedIsNear(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		drawn := quantity.MM(float64(rapid.IntRange(75, 200).Draw(rt, "thickness")))
		b, _ := resolve(t, "metric", plan.Wall{Thickness: drawn})
		if off := (b.Thickness - drawn).Abs(); off > quantity.MM(12.5) {
			rt.Errorf("%s mm for a wall of %s", b.Thickness, drawn)
		}
	})
}

// Each build-up is resolved once; what there is to say about it comes with the
// first wall that has it, and every wall without a build-up is named.
func TestResolverSharesBuildUps(t *testing.T) {
	narrow := single("CW75", "GKB-12.5")
	narrow.Frame.Spacing = quantity.MM(625)
	bad := single("CW57", "GKB-12.5")
	bad.ID = "X"
	p := &plan.Plan{BuildUps: []plan.BuildUp{narrow, bad}}
	for i, id := range []string{"W", "W", "X", "X", "Y"} {
		p.Walls = append(p.Walls, plan.Wall{ID: fmt.Sprintf("L1-%02d", i+1), BuildUp: id})
	}
	r := NewResolver(p, catalogue.Shipped(), practice(t, "metric"))
	var got []string
	var shared [5]*BuildUp
	for i := range p.Walls {
		b, found := r.Resolve(&p.Walls[i])
		shared[i] = b
		for _, f := range found {
			got = append(got, fmt.Sprintf("%s %s %s", p.Walls[i].ID, f.Code, f.Object))
		}
	}
	want := []string{
		"L1-01 boards-off-studs W",
		"L1-03 unknown-stud X", "L1-03 buildup-unusable L1-03",
		"L1-04 buildup-unusable L1-04",
		"L1-05 buildup-unknown L1-05",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if shared[0] == nil || shared[0] != shared[1] || shared[2] != nil || shared[4] != nil {
		t.Errorf("%v", shared)
	}
}

// A practice whose usual products are not in the catalogue cannot serve walls
// without a build-up.
func TestNoUsualProducts(t *testing.T) {
	p := &plan.Plan{Walls: []plan.Wall{{ID: "L1-01"}, {ID: "L1-02", Thickness: quantity.MM(100)}}}
	pr := *practice(t, "metric")
	pr.UsualStud.Value = "CW57"
	for i := range p.Walls {
		b, found := NewResolver(p, catalogue.Shipped(), &pr).Resolve(&p.Walls[i])
		if b != nil || len(found) != 1 || found[0].Code != "buildup-missing" {
			t.Errorf("%v %v", b, found)
		}
	}
}

func BenchmarkResolver20000Walls(b *testing.B) {
	p := &plan.Plan{BuildUps: []plan.BuildUp{single("CW75", "GKB-12.5")}}
	for i := range 20_000 {
		w := plan.Wall{ID: fmt.Sprintf("L1-%05d", i), BuildUp: "W"}
		if i%2 == 1 {
			w.BuildUp, w.Thickness = "", quantity.MM(150)
		}
		p.Walls = append(p.Walls, w)
	}
	pr := practice(b, "metric")
	for b.Loop() {
		r := NewResolver(p, catalogue.Shipped(), pr)
		for i := range p.Walls {
			r.Resolve(&p.Walls[i])
		}
	}
}
