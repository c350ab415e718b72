package thermal

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	_ "nogging/internal/draws"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/quantity"
)

const mm = quantity.Millimetre

// resolved returns a build-up of the shipped catalogue.
func resolved(t interface{ Fatal(...any) }, practice, spec string) (*buildup.BuildUp, *catalogue.Catalogue) {
	p, found := plan.Parse("wall.yaml", []byte("nogging: 1\npractice: "+practice+`
levels: [{id: L1, clear_height: 3000}]
buildups:
  - {id: W, `+spec+`}
walls:
  - {id: L1-01, level: L1, line: [[0, 0], [6000, 0]], buildup: W, start: structure, end: structure}
`))
	if found.NeedsPerson() {
		t.Fatal(found)
	}
	pr, _ := catalogue.Shipped().PracticeByID(practice)
	cat := catalogue.Shipped().For(pr)
	b, notes := buildup.NewResolver(p, cat, pr).Resolve(&p.Walls[0])
	if b == nil {
		t.Fatal(notes)
	}
	return b, cat
}

const filled = `frame: {kind: single, stud: CW75}, face_a: [GKB-12.5], insulation: [{product: SW-60-30}]`

func TestProve(t *testing.T) {
	b, cat := resolved(t, "metric", filled)
	shown := Prove("", b, cat)
	if shown.Verdict != proof.Shown || shown.Got == nil {
		t.Fatalf("%+v", shown)
	}
	u := shown.Got.Value
	// The studs let more through than boards, 60 mm of wool and 15 mm of air
	// without them: R = 0.26 + 0.1 + 0.06/0.035 + 0.17 by ISO 6946, by hand.
	if clear := 1 / (0.26 + 0.1 + 0.06/0.035 + 0.17); u <= clear || u > 3*clear {
		t.Errorf("U is %.3f, without studs %.3f", u, clear)
	}
	for asked, want := range map[string]proof.Verdict{
		"2.0": proof.Passes, "U 1,9 W/m²K": proof.Passes, "0.2": proof.Fails, "warm": proof.NotProven, "-1": proof.NotProven,
	} {
		if got := Prove(asked, b, cat); got.Verdict != want {
			t.Errorf("%s: %s with U %.3f, want %s", asked, got.Verdict, u, want)
		}
	}
	if got := Prove("2.0", b, cat); math.Abs(got.Use-u/2) > 1e-9 {
		t.Errorf("utilisation %.3f with U %.3f of 2.0", got.Use, u)
	}
}

// What the catalogue does not know is named, and nothing is taken in its place.
func TestMissing(t *testing.T) {
	b, cat := resolved(t, "metric", `frame: {kind: single, stud: CW75}, face_a: [CB-12.5]`)
	got := Prove("1.0", b, cat)
	if got.Verdict != proof.NotProven || len(got.Missing) == 0 || !strings.Contains(got.Missing[0], "lambda") || got.Got != nil {
		t.Errorf("%+v", got)
	}
}

func TestUSMethod(t *testing.T) {
	for spec, want := range map[string]proof.Verdict{
		`frame: {kind: single, stud: 350S125-30, spacing: 16 in}, face_a: [GWB-0.625X], insulation: [{product: R-13}]`: proof.Passes,
		`frame: {kind: single, stud: 250S125-30, spacing: 16 in}, face_a: [GWB-0.625X], insulation: [{product: R-11}]`: proof.NotProven,
		`frame: {kind: single, stud: 350S125-30, spacing: 16 in}, face_a: [GWB-0.625X]`:                                proof.NotProven,
	} {
		b, cat := resolved(t, "us", spec)
		if got := Prove("2", b, cat); got.Verdict != want {
			t.Errorf("%s: %s %q", spec, got.Verdict, got.Missing)
		}
	}
}

// Of two frames with a gap the layers stand in order, and the air of each
// cavity and of the gap is there.
func TestLayers(t *testing.T) {
	b, cat := resolved(t, "metric", `frame: {kind: twin_independent, stud: CW75, gap: 20}, face_a: [GKB-12.5, GKF-12.5], face_b: [GKB-12.5], insulation: [{product: SW-60-30}, {product: MW-75}]`)
	layers, missing := Layers(b, cat)
	var names []string
	var total quantity.Length
	for _, l := range layers {
		names = append(names, l.Name)
		total += l.Thickness
	}
	want := "Fire board 12.5 mm|Gypsum board 12.5 mm|Stone wool 60 mm, 30 kg/m³|air|air|Glass wool 75 mm|Gypsum board 12.5 mm"
	if got := strings.Join(names, "|"); got != want || len(missing) > 0 {
		t.Errorf("layers %s, missing %v; want %s", got, missing, want)
	}
	if total != b.Thickness {
		t.Errorf("layers are %s mm together, the wall %s", total, b.Thickness)
	}
}

// More boards, more fill or studs further apart never let more heat through.
func TestNeverWorse(t *testing.T) {
	b, cat := resolved(t, "metric", filled)
	fills := []string{"SW-40-30", "SW-50-30", "SW-60-30"}
	rapid.Check(t, func(t *rapid.T) {
		one := *b
		one.Spacing = quantity.Length(rapid.Int64Range(300, 900).Draw(t, "spacing")) * mm
		k := rapid.IntRange(0, len(fills)-2).Draw(t, "fill")
		fill := func(k int) []buildup.Fill {
			p, _ := cat.InsulationProduct(fills[k])
			return []buildup.Fill{{Product: p, Thickness: p.Thicknesses[0]}}
		}
		one.Insulation = fill(k)
		more := one
		switch rapid.IntRange(0, 2).Draw(t, "change") {
		case 0:
			more.A = append([]*catalogue.Board{one.A[0]}, one.A...)
		case 1:
			more.Insulation = fill(k + 1)
		case 2:
			more.Spacing += 100 * mm
		}
		if before, after := Prove("", &one, cat).Got.Value, Prove("", &more, cat).Got.Value; after > before {
			t.Fatalf("U rises from %.4f to %.4f", before, after)
		}
	})
}
