package catalogue

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/quantity"
)

// The table of fields names every rule of Practice once, in its order.
func TestFieldsFollowPractice(t *testing.T) {
	var want []string
	for f := range reflect.TypeFor[Practice]().Fields() {
		if _, isRule := reflect.New(f.Type).Interface().(rule); isRule {
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			want = append(want, name)
		}
	}
	if diff := cmp.Diff(want, fieldNames()); diff != "" {
		t.Error(diff)
	}
	var p Practice
	for i, f := range fields {
		*f.of(&p).status() = "marked"
		marked := 0
		for _, g := range fields {
			if g.of(&p).given() {
				marked++
			}
		}
		if marked != i+1 {
			t.Errorf("%s points at a rule that another name has", f.name)
		}
	}
}

// What DIN 18181, DIN 18183-1, ASTM C754 and others say was recalled, not read,
// and has to say so.
func TestPracticeStatus(t *testing.T) {
	memory := map[string][]string{
		"metric": {"stud_shortfall", "board_floor_gap", "board_max_length", "joint_jamb", "cross_joint_offset", "screw_spacing", "screw_edge",
			"screw_penetration", "track_fixing", "track_fixing_end", "edge_stud_fixing", "edge_stud_minimum", "rigid_head_limit",
			"head_engagement", "control_joint", "opening_stud_leaf", "header_safety", "fixtures", "taper_width", "taper_depth", "splice_lap", "splice_depths",
			"bending"},
		"us": {"bending", "slit_spacing", "stud_spacing", "stud_shortfall", "board_floor_gap", "board_max_length", "screw_edge", "screw_penetration", "track_fixing",
			"track_fixing_end", "edge_stud_fixing", "lift_limit", "steel_yield", "header_safety", "box_apart", "stud_hole",
			"stud_hole_end", "stud_hole_apart", "fixtures", "taper_width", "taper_depth", "splice_lap", "furring_spacing", "furring_brackets", "consoles", "console_lever"},
	}
	estimates := map[string][]string{"metric": {"screw_slip", "board_modulus", "coat_thickness"}, "us": {"board_modulus", "coat_thickness"}}
	published := map[string][]string{
		"metric": {"jambs", "joint_minimum", "lift_limit", "finish_levels", "pressure", "deflection_limit", "consoles", "console_lever"},
		"us":     {"screw_spacing", "control_joint", "door_joint", "joint_minimum", "finish_levels", "pressure"},
	}
	for _, id := range []string{"metric", "us"} {
		for _, r := range practice(t, id).Rules() {
			want := quantity.Practice
			if slices.Contains(memory[id], r.Name) {
				want = quantity.Memory
			} else if slices.Contains(published[id], r.Name) {
				want = quantity.Published
			} else if slices.Contains(estimates[id], r.Name) {
				want = quantity.Estimate
			}
			if r.Status != want {
				t.Errorf("%s %s: status %q, want %q", id, r.Name, r.Status, want)
			}
		}
	}
}

// The figures of the trade's rules: those that the metric practice must hold,
// and the published ones. Common practice or as the rule's own source says.
func TestPracticeFigures(t *testing.T) {
	for _, tt := range []struct{ practice, name, value, unit string }{
		{"metric", "stud_spacing", "600", "mm"},
		{"metric", "board_shortfall", "15", "mm"},
		{"metric", "starter", "600", "mm"},
		{"metric", "coat_widths", "100 / 200 / 300", "mm"},
		{"metric", "coat_wait", "2", "h"},
		{"metric", "screw_spacing", "250; 750 / 250; 750 / 500 / 250", "mm"},         // DIN 18181, from memory
		{"metric", "track_fixing", "1000", "mm"},                                     // DIN 18183-1, from memory
		{"metric", "edge_stud_minimum", "3", ""},                                     // DIN 18183-1, from memory
		{"metric", "control_joint", "15000", "mm"},                                   // DIN 18181, from memory
		{"metric", "lift_limit", "25", "kg"},                                         // HSE
		{"us", "control_joint", "9144", "mm"},                                        // GA-216 4.7: 30 ft
		{"us", "joint_minimum", "10", "°C"},                                          // GA-216: 50 °F
		{"us", "screw_spacing", "304.8; 609.6 / 304.8; 609.6 / 609.6 / 304.8", "mm"}, // GA-600 WP 1200, WP 1090
		{"metric", "jambs", "leaf up to 35 kg, opening up to 900 mm wide, wall up to 2800 mm high: boxed; any door: opening stud", ""},
	} {
		r, ok := practice(t, tt.practice).Rule(tt.name)
		if !ok || r.Value != tt.value || r.Unit != tt.unit {
			t.Errorf("%s %s: %s %s, want %s %s", tt.practice, tt.name, r.Value, r.Unit, tt.value, tt.unit)
		}
	}
}

// The trade press gives for a door, by leaf mass with hardware, opening width
// and wall height: up to 25 kg, 885 mm and 2600 mm a single stud; up to 35 kg,
// 900 mm and 2800 mm two studs boxed; beyond that opening studs. The practice
// must be at least as stiff everywhere.
func TestJambsAtLeastAsStiffAsPublished(t *testing.T) {
	stiffness := map[Jamb]int{JambBoxed: 2, JambOpeningStud: 3}
	published := func(leaf float64, width, height Length) int {
		mm := quantity.Millimetre
		switch {
		case leaf <= 25 && width <= 885*mm && height <= 2600*mm:
			return 1
		case leaf <= 35 && width <= 900*mm && height <= 2800*mm:
			return 2
		}
		return 3
	}
	p := practice(t, "metric")
	rapid.Check(t, func(t *rapid.T) {
		leaf := rapid.Float64Range(1, 120).Draw(t, "leaf")
		width := quantity.MM(float64(rapid.IntRange(500, 2500).Draw(t, "width")))
		height := quantity.MM(float64(rapid.IntRange(2100, 6000).Draw(t, "height")))
		r, ok := p.JambFor(leaf, width, height)
		if !ok || stiffness[r.Jamb] < published(leaf, width, height) {
			t.Errorf("%v, published stiffness %d", r, published(leaf, width, height))
		}
	})
	for _, tt := range []struct {
		leaf float64
		want Jamb
	}{{24, JambBoxed}, {30, JambBoxed}, {36, JambOpeningStud}, {0, JambOpeningStud}} {
		if r, _ := p.JambFor(tt.leaf, quantity.MM(885), quantity.MM(2550)); r.Jamb != tt.want {
			t.Errorf("leaf of %v kg: %s, want %s", tt.leaf, r.Jamb, tt.want)
		}
	}
}

func TestOverrides(t *testing.T) {
	base := *practice(t, "metric")
	p, found := base.With(map[string]any{
		"stud_spacing":      float64(625),
		"track_fixing":      "24 in",
		"screw_spacing":     []any{[]any{float64(200)}, []any{float64(600), "20 cm"}},
		"coat_widths":       []any{float64(120), float64(240)},
		"edge_stud_minimum": float64(4),
		"waste_boards":      float64(0),
		"board_shortfall":   float64(8),
		"board_floor_gap":   float64(5),
		"usual_stud":        "CW100",
		"jambs":             []any{map[string]any{"max_leaf": float64(25), "max_width": "90 cm", "jamb": "boxed"}, map[string]any{"jamb": "opening_stud"}},
	})
	if len(found) > 0 {
		t.Fatal(found)
	}
	want := base
	want.StudSpacing = byUser(625 * quantity.Millimetre)
	want.TrackFixing = byUser(24 * quantity.Inch)
	want.ScrewSpacing = byUser([][]Length{{200 * quantity.Millimetre}, {600 * quantity.Millimetre, 200 * quantity.Millimetre}})
	want.CoatWidths = byUser([]Length{120 * quantity.Millimetre, 240 * quantity.Millimetre})
	want.EdgeStudMinimum = byUser(4)
	want.WasteBoards = byUser(0.0)
	want.BoardShortfall = byUser(8 * quantity.Millimetre)
	want.BoardFloorGap = byUser(5 * quantity.Millimetre)
	want.UsualStud = byUser("CW100")
	want.Jambs = byUser([]JambRule{{MaxLeaf: 25, MaxWidth: 900 * quantity.Millimetre, Jamb: JambBoxed}, {Jamb: JambOpeningStud}})
	if diff := cmp.Diff(want, p); diff != "" {
		t.Error(diff)
	}
}

func byUser[T any](v T) Rule[T] { return Rule[T]{Value: v, Status: quantity.Entered} }

func TestBadOverrides(t *testing.T) {
	base := *practice(t, "metric")
	for _, tt := range []struct {
		name      string
		value     any
		code, fix string
	}{
		{"stud_spaceing", 600.0, "override-unknown", `did you mean "stud_spacing"?`},
		{"colour", "red", "override-unknown", "rules: "},
		{"stud_spacing", -600.0, "override-value", "100 to 1250 mm"},
		{"stud_spacing", 99.0, "override-value", "100 to 1250 mm"},
		{"stud_spacing", 0.0, "override-value", "100 to 1250 mm"},
		{"stud_spacing", "wide", "override-value", "a length"},
		{"stud_spacing", []any{600.0}, "override-value", "a length"},
		{"stud_spacing", nil, "override-value", "a length"},
		{"waste_boards", 101.0, "override-value", "0 to 100 %"},
		{"waste_boards", "some", "override-value", "a number"},
		{"edge_stud_minimum", 2.5, "override-value", "a whole number"},
		{"usual_stud", 3.0, "override-value", "an id"},
		{"screw_spacing", []any{[]any{250.0}, []any{250.0}}, "override-value", "one spacing for each layer"},
		{"screw_spacing", []any{}, "override-value", "a single layer"},
		{"screw_spacing", []any{[]any{20.0}}, "override-value", "50 to 1250 mm"},
		{"coat_widths", []any{300.0, 200.0}, "override-value", "first coat to the last"},
		{"board_shortfall", 5.0, "override-value", "at most board_shortfall"},
		{"jambs", []any{map[string]any{"max_leaf": 35.0, "jamb": "boxed"}}, "override-value", "without limits"},
		{"jambs", []any{map[string]any{"jamb": "glued"}}, "override-value", "without limits"},
		{"jambs", []any{map[string]any{"max_mass": 35.0, "jamb": "boxed"}}, "override-value", "max_leaf"},
		{"jambs", []any{}, "override-value", "without limits"},
		{"finish_levels", []any{map[string]any{"level": "Q1", "coats": 1.0}}, "override-value", "level: Q2"}, // the usual level is Q2
		{"finish_levels", []any{map[string]any{"level": "Q2", "coats": -1.0}}, "override-value", "level: Q2"},
		{"usual_finish", "Q9", "override-value", "level: Q2"},
	} {
		p, found := base.With(map[string]any{tt.name: tt.value})
		if len(found) != 1 || found[0].Code != tt.code || !strings.Contains(found[0].Fix.String(), tt.fix) || !strings.HasPrefix(found[0].Path, "overrides.") {
			t.Errorf("%s: %v: %+v", tt.name, tt.value, found)
		}
		if diff := cmp.Diff(base, p); diff != "" {
			t.Errorf("%s: %v changed the practice: %s", tt.name, tt.value, diff)
		}
	}
}

// Whatever is written, the practice that comes out holds together, and what is
// not overridden stays.
func TestOverridesKeepPracticeSound(t *testing.T) {
	base := *practice(t, "metric")
	value := rapid.OneOf(
		rapid.Map(rapid.Float64Range(-100, 2000), func(v float64) any { return v }),
		rapid.Map(rapid.SampledFrom([]string{"16 in", "600", "", "boxed", "2 m"}), func(s string) any { return s }),
		rapid.Map(rapid.SliceOfN(rapid.Float64Range(0, 1500), 0, 3), func(l []float64) any { return []any{l} }),
	)
	rapid.Check(t, func(t *rapid.T) {
		overrides := rapid.MapOf(rapid.SampledFrom(append(fieldNames(), "nothing")), value).Draw(t, "overrides")
		p, _ := base.With(overrides)
		if wrong := p.faults(); len(wrong) > 0 {
			t.Errorf("%+v", wrong)
		}
		for _, f := range fields {
			if _, asked := overrides[f.name]; !asked && !cmp.Equal(f.named(&p), f.named(&base)) {
				t.Errorf("%s changed by itself", f.name)
			}
		}
	})
}
