package sound

import (
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	_ "nogging/internal/draws"
	"nogging/internal/plan"
	"nogging/internal/proof/sound/prediction"
	"nogging/internal/quantity"
)

// gypsumBoards are the boards of the catalogue that the model knows.
func gypsumBoards() []*catalogue.Board {
	var list []*catalogue.Board
	cat := catalogue.Shipped()
	for i := range cat.Boards {
		if b := &cat.Boards[i]; b.Standard == "EN 520" {
			list = append(list, b)
		}
	}
	return list
}

func drawBuild(t *rapid.T) *buildup.BuildUp {
	cat := catalogue.Shipped()
	face := func(label string) []*catalogue.Board {
		return rapid.SliceOfN(rapid.SampledFrom(gypsumBoards()), 1, 2).Draw(t, label)
	}
	stud, _ := cat.Profile(rapid.SampledFrom([]string{"CW50", "CW75", "CW100"}).Draw(t, "stud"))
	track, _ := cat.TrackFor(stud.ID)
	b := &buildup.BuildUp{
		Kind: rapid.SampledFrom([]plan.FrameKind{plan.Single, plan.TwinIndependent}).Draw(t, "frame"), Stud: stud, Track: track,
		Spacing: rapid.SampledFrom([]quantity.Length{quantity.MM(300), quantity.MM(400), quantity.MM(600)}).Draw(t, "spacing"), Gap: quantity.MM(10),
		A: face("A"), B: face("B"),
	}
	if rapid.Bool().Draw(t, "filled") {
		b.Insulation = []buildup.Fill{{Product: &catalogue.Insulation{Material: "stone wool"}, Thickness: quantity.MM(40)}}
	}
	return b
}

var ratings = []string{"Rw 50", "STC 50", "Rw + C 50", "Rw + Ctr 50", "Rw + C50-5000 50"}

// A search that leaves out what Most fails, even with the best faces that it has
// in place of the candidate's own, loses nothing.
func TestMost(t *testing.T) {
	var leaves []*prediction.Leaf
	for _, b := range gypsumBoards() {
		for _, c := range gypsumBoards() {
			leaves = append(leaves, Leaf([]*catalogue.Board{b, c}))
		}
		leaves = append(leaves, Leaf([]*catalogue.Board{b}))
	}
	best := prediction.Envelope(leaves...)
	rapid.Check(t, func(t *rapid.T) {
		c := CandidateOf(drawBuild(t))
		all := c
		all.A, all.B = best, best
		for _, text := range ratings {
			asked, _ := quantity.ParseSound(text)
			low := c.Estimate(asked).Low
			if c.Most(asked) < low || all.Most(asked) < low {
				t.Fatalf("%s: at most %g, with the best faces %g, but %g", text, c.Most(asked), all.Most(asked), low)
			}
		}
	})
}

// The proof and the search reckon alike.
func TestSameEstimate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBuild(t)
		for _, text := range ratings {
			asked, _ := quantity.ParseSound(text)
			f, c := predicted(asked, b), CandidateOf(b)
			if e := c.Estimate(asked); f.value != e.Value || f.low != e.Low || f.high != e.High {
				t.Fatalf("%s: %+v, %+v", text, f, e)
			}
		}
	})
}

func BenchmarkEstimate(b *testing.B) {
	cat := catalogue.Shipped()
	stud, _ := cat.Profile("CW75")
	track, _ := cat.TrackFor("CW75")
	c := CandidateOf(&buildup.BuildUp{Kind: plan.Single, Stud: stud, Track: track, Spacing: quantity.MM(600), A: gypsumBoards()[:2], B: gypsumBoards()[:2]})
	asked := quantity.SoundRating{Descriptor: quantity.LabRw, Value: 50}
	b.ReportAllocs()
	for b.Loop() {
		c.Estimate(asked)
	}
}
