package moisture

import (
	"strings"
	"testing"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/proof"
)

// resolved returns a build-up of the shipped catalogue.
func resolved(t *testing.T, spec string) (*buildup.BuildUp, *catalogue.Catalogue) {
	t.Helper()
	p, found := plan.Parse("wall.yaml", []byte(`nogging: 1
levels: [{id: L1, clear_height: 3000}]
buildups:
  - {id: W, `+spec+`}
walls:
  - {id: L1-01, level: L1, line: [[0, 0], [6000, 0]], buildup: W, start: structure, end: structure}
`))
	if found.NeedsPerson() {
		t.Fatal(found)
	}
	pr, _ := catalogue.Shipped().PracticeByID("metric")
	cat := catalogue.Shipped().For(pr)
	b, notes := buildup.NewResolver(p, cat, pr).Resolve(&p.Walls[0])
	if b == nil {
		t.Fatal(notes)
	}
	return b, cat
}

func constant(room string, temperature, humidity float64) Side {
	return Side{room, plan.RoomClimate{Temperature: []float64{temperature}, Humidity: []float64{humidity}}}
}

const (
	filled = `frame: {kind: single, stud: CW75}, face_a: [GKB-12.5], insulation: [{product: SW-60-30}]`
	thin   = `frame: {kind: single, stud: CW50}, face_a: [GKB-9.5]`
)

func TestCondensation(t *testing.T) {
	for _, c := range []struct {
		name            string
		spec            string
		a, b            Side
		surface, inside proof.Verdict
	}{
		{"two heated rooms", filled, constant("1", 20, 50), constant("2", 20, 50), proof.Passes, proof.Passes},
		{"a bathroom and a cold store", filled, constant("bath", 24, 80), constant("store", -5, 80), proof.Fails, proof.Fails},
		{"the same turned round", filled, constant("store", -5, 80), constant("bath", 24, 80), proof.Fails, proof.Fails},
		{"an empty wall to an unheated stair", thin, constant("1", 20, 65), constant("stair", 5, 60), proof.Fails, proof.Passes},
		{"a filled wall to an unheated stair", filled, constant("1", 20, 50), constant("stair", 5, 60), proof.Passes, proof.Passes},
		{"no climate", filled, constant("1", 20, 50), Side{Room: "2"}, proof.NotProven, proof.NotProven},
		{"a lining", `frame: {kind: lining, stud: CW50, gap: 20}, face_a: [GKB-12.5]`, constant("1", 20, 50), constant("2", 5, 50), proof.NotProven, proof.NotProven},
		{"unknown boards", `frame: {kind: single, stud: CW75}, face_a: [CB-12.5]`, constant("1", 20, 50), constant("2", 5, 50), proof.NotProven, proof.NotProven},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, cat := resolved(t, c.spec)
			got := ProveCondensation(b, cat, c.a, c.b)
			for i, want := range []proof.Verdict{c.surface, c.inside} {
				if got[i].Verdict != want {
					t.Errorf("%s: %s, want %s: %+v", got[i].Name, got[i].Verdict, want, got[i].Missing)
				}
				if (got[i].Got == nil) != (want == proof.NotProven) || (len(got[i].Missing) == 0) != (want != proof.NotProven) {
					t.Errorf("%s: what is missing and what is got do not go with %s", got[i].Name, want)
				}
			}
		})
	}
}

// DIN 18534-1: gypsum boards end at W1-I, and every layer has to suit.
func TestProveWet(t *testing.T) {
	for _, c := range []struct {
		boards string
		class  string
		want   proof.Verdict
		says   string
	}{
		{"[GKBI-12.5]", "W1-I", proof.Passes, ""},
		{"[GKBI-12.5]", "W2-I", proof.Fails, "layer 1"},
		{"[CB-12.5]", "W2-I", proof.Passes, ""},
		{"[GKB-12.5, GKBI-12.5]", "W1-I", proof.Fails, "layer 1"},
		{"[GKBI-12.5, GKB-12.5]", "W0-I", proof.Fails, "layer 2"},
		{"[GKBI-12.5]", "wet", proof.NotProven, ""},
	} {
		b, _ := resolved(t, "frame: {kind: single, stud: CW75}, face_a: "+c.boards)
		got := ProveWet(c.class, plan.FaceA, b.A)
		if got.Verdict != c.want || c.says != "" && !strings.HasPrefix(got.Got.Text, c.says) || c.want != proof.NotProven && got.Advice == "" {
			t.Errorf("%s in %s: %+v", c.boards, c.class, got)
		}
	}
	if got := ProveWet("W1-I", plan.FaceB, nil); got.Verdict != proof.NotProven {
		t.Errorf("a face without boards: %s", got.Verdict)
	}
}
