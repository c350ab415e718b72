package choice

import (
	"slices"
	"syscall"
	"testing"
	"time"

	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	_ "nogging/internal/draws"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

func practice(t testing.TB, cat *catalogue.Catalogue, id string) *catalogue.Practice {
	t.Helper()
	pr, ok := cat.PracticeByID(id)
	if !ok {
		t.Fatalf("no practice %s", id)
	}
	return pr
}

// usual is the demand of the benchmark and of a few tests.
func usual() Demand {
	return Demand{Require: plan.Requirements{Fire: "F60-A", Sound: "Rw 52", Duty: "zone 2"}, Height: 3600 * quantity.Millimetre}
}

func BenchmarkChoose(b *testing.B) {
	cat := catalogue.Shipped()
	heat, wet, us := usual(), usual(), usual()
	heat.Require.UValue, heat.Thickness = "0.6", 250*quantity.Millimetre
	wet.Wet[0], wet.Service = "W1-I", 60*quantity.Millimetre
	us.Require.Fire, us.Require.Sound = "1 h", "STC 50"
	quiet := usual()
	quiet.Require.Fire = ""
	for _, one := range []struct {
		name, practice string
		demand         Demand
	}{{"usual", "metric", usual()}, {"sound", "metric", quiet}, {"heat", "metric", heat}, {"wet", "metric", wet}, {"us", "us", us}} {
		b.Run(one.name, func(b *testing.B) {
			pr := practice(b, cat, one.practice)
			var r *Result
			before := cpu(b)
			for b.Loop() {
				r, _ = Choose(one.demand, cat, pr, Options{Rank: Thickness, Most: 8})
			}
			b.ReportMetric(1000*(cpu(b)-before).Seconds()/float64(b.N), "cpu-ms/op")
			b.ReportMetric(float64(r.Tried), "build-ups")
			b.ReportMetric(float64(r.OnFront), "on-front")
		})
	}
}

// cpu returns what processor time the process has taken, which other work on the
// machine does not lengthen.
func cpu(b *testing.B) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// small returns a catalogue small enough to try everything.
func small(t *rapid.T) (*catalogue.Catalogue, *catalogue.Practice) {
	all := catalogue.Shipped()
	id := rapid.SampledFrom([]string{"metric", "us"}).Draw(t, "practice")
	pr, _ := all.PracticeByID(id)
	all = all.For(pr)
	some := func(label string, n, least, most int) []int {
		return rapid.SliceOfNDistinct(rapid.IntRange(0, n-1), least, most, func(i int) int { return i }).Draw(t, label)
	}
	c := &catalogue.Catalogue{Materials: all.Materials, Carbon: all.Carbon, FireEvidence: all.FireEvidence, HeightEvidence: all.HeightEvidence}
	boards := slices.DeleteFunc(slices.Clone(all.Boards), func(b catalogue.Board) bool { return b.Width != all.Boards[0].Width || b.Thickness < thinnest })
	fire := slices.IndexFunc(boards, func(b catalogue.Board) bool { return b.Type == "DF" || b.Type == "Type X" })
	for _, i := range some("boards", len(boards), 1, 2) {
		c.Boards = append(c.Boards, boards[i])
	}
	if !slices.ContainsFunc(c.Boards, func(b catalogue.Board) bool { return b.ID == boards[fire].ID }) {
		c.Boards = append(c.Boards, boards[fire])
	}
	frames := studs(all)
	for _, i := range some("studs", len(frames), 1, 2) {
		track, _ := all.TrackFor(frames[i].ID)
		c.Profiles = append(c.Profiles, *frames[i], *track)
	}
	fills := slices.DeleteFunc(slices.Clone(all.Insulation), func(n catalogue.Insulation) bool {
		return n.Standard == "EN 13162" && n.Thicknesses[0] > quantity.MM(50)
	})
	for _, i := range some("fills", len(fills), 1, min(5, len(fills))) {
		c.Insulation = append(c.Insulation, fills[i])
	}
	if rapid.Bool().Draw(t, "prices") {
		for _, b := range c.Boards {
			c.Prices = append(c.Prices, catalogue.Price{ID: b.ID, Price: rapid.Float64Range(2, 9).Draw(t, "price")})
		}
	}
	evidence(t, c)
	return c, pr
}

// evidence records tests of some walls.
func evidence(t *rapid.T, c *catalogue.Catalogue) {
	stud := &c.Profiles[0]
	b := &c.Boards[0]
	if rapid.Bool().Draw(t, "height evidence") {
		c.HeightEvidence = append(c.HeightEvidence, catalogue.HeightEvidence{ID: "H", Name: "h", Document: "d", Frames: []string{"single"}, Stud: stud.ID,
			Spacing: quantity.MM(625), Layers: rapid.IntRange(1, 2).Draw(t, "layers"), Height: quantity.MM(4000), Duties: []string{"zone 2"}, Pressure: 300, Limit: 360,
			Impact: rapid.Bool().Draw(t, "impact"), Status: quantity.Entered})
	}
	if rapid.Bool().Draw(t, "fire evidence") {
		c.FireEvidence = append(c.FireEvidence, catalogue.FireEvidence{ID: "F", Name: "f", Document: "d", Rating: "EI 60", Frames: []string{"single", "twin_independent"},
			Height: quantity.MM(4000), FaceA: []catalogue.FireLayer{{Types: []string{b.Type}, Thickness: b.Thickness}}, Status: quantity.Entered})
	}
	if rapid.Bool().Draw(t, "sound evidence") {
		c.SoundEvidence = append(c.SoundEvidence, catalogue.SoundEvidence{ID: "S", Name: "s", Document: "d", Ratings: []string{"Rw 57", "STC 56"}, Frame: "single",
			Depth: stud.NominalDepth(), Steel: stud.Thickness, Spacing: quantity.MM(300), Status: quantity.Entered,
			FaceA: []catalogue.SoundLayer{{Types: []string{b.Type}, Thickness: b.Thickness, Mass: b.Mass}}})
	}
}

func drawDemand(t *rapid.T, pr *catalogue.Practice) Demand {
	one := func(label string, of ...string) string { return rapid.SampledFrom(of).Draw(t, label) }
	length := func(label string, of ...float64) Length { return quantity.MM(rapid.SampledFrom(of).Draw(t, label)) }
	d := Demand{Height: length("height", 2400, 2600, 3000, 3600, 5000)}
	// Most demands ask for little at once, so that something meets them.
	switch rapid.IntRange(0, 5).Draw(t, "what") {
	case 0:
		d.Require.Fire = one("fire", "F30-A", "F60-A", "F90-A", "EI 60")
		if pr.ID == "us" {
			d.Require.Fire = one("fire", "1 h", "2 h", "EI 60")
		}
	case 1:
		d.Require.UValue = one("heat", "0.4", "0.6", "0.8")
	case 2:
		d.Wet = [2]string{one("wet A", "", "W1-I"), one("wet B", "W0-I", "W3-I")}
	case 3:
		d.Service = length("service", 20, 40, 60, 120)
	case 4:
		d.Head = plan.HeadDeflection
	}
	if rapid.Bool().Draw(t, "quiet") {
		d.Require.Sound = one("sound", "Rw 35", "Rw 40", "Rw 44", "Rw 50", "Rw + C 42", "R'w 45", "STC 44")
	}
	d.Require.Duty = one("duty", "", "", "zone 1", "zone 2")
	d.Thickness = length("thickness", 0, 0, 100, 150, 250)
	kinds := []plan.FrameKind{plan.Single, plan.TwinIndependent, plan.TwinBraced, plan.Shaft, plan.Lining}
	d.Frames = rapid.SliceOfNDistinct(rapid.SampledFrom(kinds), 1, 2, func(k plan.FrameKind) plan.FrameKind { return k }).Draw(t, "frames")
	if !slices.Contains(d.Frames, plan.Single) {
		d.Frames[0] = plan.Single
	}
	return d
}

// everything tries all build-ups without leaving anything out, each looked up and
// held against the demand as proofs do it.
func everything(j *judge) map[Standing][]Measures {
	m := newMeter(j.cat, j.pr, j.Height)
	all := map[Standing][]Measures{}
	try := func(f frameOf, a, b []*catalogue.Board) {
		build := f.build(a, b, j.cat, j.pr)
		c := Candidate{Build: build, Needs: j.needs(build)}
		all[c.Standing()] = append(all[c.Standing()], m.of(build))
	}
	free := j.wet[0] != j.wet[1]
	for _, k := range j.Demand.frames() {
		for _, stud := range studs(j.cat) {
			for _, width := range widths(j.cat) {
				for _, spacing := range spacings(width, j.pr) {
					for _, gap := range gaps(k, j.pr, j.Service) {
						for _, fill := range fills(j.cat) {
							if track, _ := j.cat.TrackFor(stud.ID); fill.thickness > track.NominalDepth() {
								continue
							}
							f := frameOf{k, stud, width, spacing, gap, fill}
							list := faces(j.cat, width)
							for a := range list {
								if k.OneSided() {
									try(f, list[a].boards(), nil)
									continue
								}
								for b := range list {
									if goTogether(&list[a], &list[b], free) {
										try(f, list[a].boards(), list[b].boards())
									}
								}
							}
						}
					}
				}
			}
		}
	}
	return all
}

// frontOf returns the measures of the best standing that no other betters.
func frontOf(all map[Standing][]Measures) (Standing, []Measures) {
	var found []Measures
	for limit := Proven; limit < Fails; limit++ {
		for _, m := range all[limit] {
			if slices.ContainsFunc(found, func(o Measures) bool { return noWorse(&o, &m) }) {
				continue
			}
			found = append(slices.DeleteFunc(found, func(o Measures) bool { return noWorse(&m, &o) }), m)
		}
		if len(found) > 0 {
			return limit, found
		}
	}
	return Fails, nil
}

// Leaving out loses nothing: the front is that of trying everything.
func TestSearchLosesNothing(t *testing.T) {
	seen := map[Standing]int{}
	defer func() { t.Logf("standing of the fronts: %v", seen) }()
	rapid.Check(t, func(t *rapid.T) {
		cat, pr := small(t)
		a, errs := func() (asked, []error) { d := drawDemand(t, pr); return d.read() }()
		if len(errs) > 0 {
			t.Fatal(errs)
		}
		j := newJudge(a, cat, pr)
		standing, want := frontOf(everything(&j))
		hits, got := newSearchBy(j, rapid.IntRange(1, 8).Draw(t, "block")).best()
		seen[standing]++
		if got != standing || len(hits) != len(want) {
			t.Fatalf("%d %s build-ups, trying everything %d %s", len(hits), got, len(want), standing)
		}
		for _, h := range hits {
			if !slices.Contains(want, h.measures) {
				t.Fatalf("%v is not on the front", h.measures)
			}
		}
	})
}
