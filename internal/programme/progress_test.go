package programme

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// recordOf reads a record that has no mistakes.
func recordOf(t *testing.T, text string) *Record {
	t.Helper()
	r, found := ReadRecord("done.yaml", []byte(text))
	if len(found) > 0 {
		t.Fatal(found)
	}
	return r
}

// Work that is done stands as recorded; the rest is planned from today on, and a group
// of which some walls are done is left with the others.
func TestDoneStands(t *testing.T) {
	in := inputOf(t, offices(), site+services)
	before := Of(context.Background(), in)
	first := before.Groups[0]
	second := before.Groups[1+slices.IndexFunc(before.Groups[1:], func(g Group) bool { return len(g.Walls) > 1 })]
	walls := strings.Join(first.walls(), ", ")
	in.Today = mustDate("2027-01-25")
	in.Done = recordOf(t, fmt.Sprintf(`done:
  - {walls: [%s], stage: set_out, date: 2027-01-11, gang: lead}
  - {walls: [%s], stage: tracks, date: 2027-01-12, gang: lead, minutes: 240}
  - {walls: [%s], stage: studs, date: 2027-01-13, gang: lead}
  - {wall: %s, stage: set_out, date: 2027-01-14, gang: lead}
`, walls, walls, walls, second.Walls[0].ID))
	p := verified(t, in)
	for i := range p.Tasks {
		x := &p.Tasks[i]
		if !x.Done && x.Start < in.Today.At(7*60) {
			t.Errorf("%s is planned for %s, before today", x.ID, x.Start)
		}
	}
	tracks := p.task(first.ID, Tracks)
	if !tracks.Done || tracks.Start.Date().String() != "2027-01-12" || tracks.Left != 0 || tracks.Gang != "lead" {
		t.Errorf("%+v", tracks)
	}
	rest := p.task(second.ID, SetOut)
	if rest.Done || rest.Left <= 0 || rest.Left >= rest.Minutes || rest.Begun.String() != "2027-01-14" || slices.Contains(rest.open(), second.Walls[0].ID) {
		t.Errorf("%+v", rest)
	}
	if p.End <= before.End {
		t.Errorf("two weeks behind, and it ends %s instead of %s", p.End, before.End)
	}
	if p.Progress.Earned <= 0 || math.Abs(p.Left+p.Progress.Earned-p.Hours) > 1e-6 {
		t.Errorf("%g h earned and %g h left of %g h", p.Progress.Earned, p.Left, p.Hours)
	}
}

// What comes after a coat that is recorded waits until it is dry: from the end of its
// day, 16:00, on.
func TestRecordedCoatDries(t *testing.T) {
	in := inputOf(t, offices(), site+"compound: drying\n")
	plain := Of(context.Background(), in)
	g := plain.Groups[0]
	text := "done:\n"
	for _, s := range Stages() {
		if x := plain.task(g.ID, s); x.ID != "" && s.rank() <= FirstCoat.rank() {
			text += fmt.Sprintf("  - {walls: [%s], stage: %s, date: 2027-01-25, gang: x}\n", strings.Join(x.Walls, ", "), s)
		}
	}
	in.Done, in.Today = recordOf(t, text), mustDate("2027-01-25")
	p := verified(t, in)
	coat, next := p.task(g.ID, FirstCoat), p.task(g.ID, SecondCoat)
	hours, _ := DryingHours(Air{20, 50}, 1.3)
	if wait := float64(next.Start-mustDate("2027-01-25").At(16*60)) / 60; coat.Dry == nil || wait < hours {
		t.Errorf("second coat after %g h, %g h are needed", wait, hours)
	}
}

// A face that is closed without its inspection is told: what it had to show is behind
// boards.
func TestClosedWithoutInspection(t *testing.T) {
	in := inputOf(t, offices(), site)
	in.Today = mustDate("2027-01-25")
	g := Of(context.Background(), in).Groups[0]
	in.Done = recordOf(t, fmt.Sprintf("done:\n  - {wall: %s, stage: second_face, date: 2027-01-20, gang: boards-1}\n", g.Walls[0].ID))
	p := Of(context.Background(), in)
	says(t, p.Findings, "done-before", "inspection before closing", g.Walls[0].ID, "open the face")
}

// Mistakes of the record are told with their places, and the rest counts.
func TestRecordMistakes(t *testing.T) {
	in := inputOf(t, offices(), site)
	in.Today = mustDate("2027-01-25")
	for _, c := range []struct{ entry, place, words string }{
		{"{wall: L0-0001, stage: tracks, date: 2027-01-12}", "done.yaml:2:", "no wall L0-0001"},
		{"{wall: L0-001, stage: trakcs, date: 2027-01-12}", "done.yaml:2:27", "tracks"},
		{"{wall: L0-001, stage: fourth_layer, date: 2027-01-12}", "done.yaml:2:27", "no work in the stage"},
		{"{wall: L0-001, stage: tracks, date: 2027-02-12}", "done.yaml:2:", "after today"},
		{"{walls: [L0-001, L0-001], stage: tracks, date: 2027-01-12}", "done.yaml:2:", "twice"},
		{"{stage: tracks, date: 2027-01-12}", "done.yaml:2:", "names no wall"},
		{"{wall: L0-001, stage: tracks, date: 2027-01-12, minutes: -3}", "done.yaml:2:", "no time"},
		{"{other: cables, zone: L0 east, date: 2027-01-12}", "done.yaml:2:", "nothing \"cables\" by others"},
		{"{other: cables, date: 2027-01-12}", "done.yaml:2:", "in which zone"},
	} {
		r, found := ReadRecord("done.yaml", []byte("done:\n  - "+c.entry+"\n"))
		in.Done = r
		found = append(found, Of(context.Background(), in).Findings...)
		ok := false
		for _, f := range found {
			ok = ok || f.Code == "record-wrong" && strings.HasPrefix(f.String(), c.place) && strings.Contains(f.String()+f.Fix.String(), c.words)
		}
		if !ok {
			t.Errorf("%s: want %s %q, got %v", c.entry, c.place, c.words, found)
		}
	}
}

// Factors of 0.8, 1.0, 1.2, 1.6 and 1.4 by single records: quartiles 1.0 and 1.4, median
// 1.2, sample deviation 0.3162 (reckoned by hand: squares 0.16, 0.04, 0, 0.16, 0.04 sum
// to 0.4; by 4, the root).
func TestSuggestedNorms(t *testing.T) {
	in := inputOf(t, offices(), site)
	in.Today = mustDate("2027-01-25")
	n, _ := planned(context.Background(), in)
	text, recorded, norm := "done:\n", 0.0, 0.0
	factors := []float64{0.8, 1.0, 1.2, 1.6, 1.4}
	for i, f := range factors {
		m := n.works[i].minutes(Tracks)
		text += fmt.Sprintf("  - {wall: %s, stage: tracks, date: 2027-01-12, gang: lead, minutes: %.6f}\n", n.works[i].wall.ID, m*f)
		recorded, norm = recorded+m*f, norm+m
	}
	in.Done = recordOf(t, text)
	p := Of(context.Background(), in).Progress
	if len(p.Norms) != 1 || p.Norms[0].Name != "tracks" || p.Norms[0].Records != 5 || p.Norms[0].Few {
		t.Fatalf("%+v", p.Norms)
	}
	got := p.Norms[0]
	for what, v := range map[string][2]float64{
		"factor": {got.Factor, recorded / norm}, "low": {got.Low, 1.0}, "median": {got.Median, 1.2}, "high": {got.High, 1.4}, "spread": {got.Spread, math.Sqrt(0.1)},
		"track": {got.Operations[0].Suggested, 4 * recorded / norm}, "recorded": {p.Recorded, recorded / 60}, "norm": {p.Norm, norm / 60},
	} {
		if math.Abs(v[0]-v[1]) > 1e-6 {
			t.Errorf("%s: %g, want %g", what, v[0], v[1])
		}
	}
	want := []Earned{{Gang: "lead", Stage: Tracks, Walls: 5, Earned: norm / 60, Norm: norm / 60, Recorded: recorded / 60, Ratio: recorded / norm}}
	for i := range factors {
		want[0].Area += n.works[i].area
	}
	if diff := cmp.Diff(want, p.Rows, cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-6 })); diff != "" {
		t.Error(diff)
	}
}
