package catalogue

import (
	"slices"
	"strings"
	"sync"
	"testing"

	"nogging/internal/quantity"
)

func practice(t testing.TB, id string) *Practice {
	t.Helper()
	p, ok := Shipped().PracticeByID(id)
	if !ok {
		t.Fatalf("practice %s is missing", id)
	}
	return p
}

func TestScrewFor(t *testing.T) {
	mm := quantity.MM
	inch := func(v float64) Length { return mm(v * 25.4) }
	tests := []struct {
		practice     string
		stack, steel Length
		want         string
	}{
		// DIN 18181 (from memory): stack + 10 mm, then the next stock length of
		// 25, 35, 45, 55, 70; drill point above 0.7 mm.
		{"metric", mm(12.5), mm(0.6), "SP-3.5x25"},
		{"metric", mm(25), mm(0.6), "SP-3.5x35"},
		{"metric", mm(27.5), mm(0.6), "SP-3.5x45"},
		{"metric", mm(37.5), mm(0.6), "SP-3.5x55"},
		{"metric", mm(12.5), mm(0.7), "SP-3.5x25"},
		{"metric", mm(12.5), mm(2), "DP-3.5x25"},
		{"metric", mm(25), mm(2), "DP-3.5x35"},
		{"metric", mm(70), mm(0.6), ""},
		{"metric", mm(12.5), mm(3), ""},
		// GA-600 WP 1200: 1 in Type S for one layer of 5/8 in. ASTM C840 (from
		// memory): 3/8 in past the boards; C954 screws from 33 mils on.
		{"us", inch(0.625), inch(0.0188), "S-6x1"},
		{"us", inch(1.25), inch(0.0188), "S-6x1.625"},
		{"us", inch(1.875), inch(0.0188), "S-6x2.25"},
		{"us", inch(0.625), inch(0.0312), "S-6x1"},
		{"us", inch(0.625), inch(0.0346), "S12-6x1"},
	}
	for _, tt := range tests {
		got := ""
		if s, ok := Shipped().ScrewFor(tt.stack, tt.steel, practice(t, tt.practice)); ok {
			got = s.ID
		}
		if got != tt.want {
			t.Errorf("%s, %s mm of boards on %s mm: %q, want %q", tt.practice, tt.stack, tt.steel, got, tt.want)
		}
	}
}

func TestTracksAndOpeningStuds(t *testing.T) {
	id := func(p *Profile, ok bool) string {
		if !ok {
			return ""
		}
		return p.ID
	}
	for _, tt := range []struct{ stud, track, deep, opening string }{
		{"CW50", "UW50", "UW50-D", "UA50"},
		{"CW75", "UW75", "UW75-D", "UA75"},
		{"CW150", "UW150", "UW150-D", "UA150"},
		{"UA75", "UW75", "UW75-D", ""},
		{"362S125-18", "362T125-18", "362T250-33", "362S162-54"},
		{"362S125-30", "362T125-33", "362T250-33", "362S162-54"},
		{"600S162-43", "600T125-43", "600T250-43", "600S162-54"},
		{"362S162-54", "362T125-43", "362T250-43", ""},
		{"CW80", "", "", ""},
	} {
		c := Shipped()
		track, deep, opening := id(c.TrackFor(tt.stud)), id(c.DeepTrackFor(tt.stud)), id(c.OpeningStudFor(tt.stud))
		if track != tt.track || deep != tt.deep || opening != tt.opening {
			t.Errorf("%s: %q %q %q, want %+v", tt.stud, track, deep, opening, tt)
		}
	}
}

// A stud stands in its track: the track of DIN 18182-1 is 1.2 mm wider outside,
// that of AISI S201 as wide inside as the stud outside.
func TestStudsFitTracks(t *testing.T) {
	c := Shipped()
	for i := range c.Profiles {
		s := &c.Profiles[i]
		if s.Kind != Stud && s.Kind != OpeningStud {
			continue
		}
		for _, look := range []func(string) (*Profile, bool){c.TrackFor, c.DeepTrackFor} {
			track, ok := look(s.ID)
			if !ok || track.Web-2*track.Thickness < s.Web || track.Web-s.Web > 3*quantity.Millimetre {
				t.Errorf("%s stands badly in %v", s.ID, track)
			}
			if ok && track.NominalDepth() != s.NominalDepth() {
				t.Errorf("%s: depth %s, its track %s", s.ID, s.NominalDepth(), track.NominalDepth())
			}
		}
	}
}

// The deep tracks take the standard sliding head of DIN 18183-1 (from memory):
// 20 mm of movement, and 20 mm of engagement when the slab is up.
func TestDeepTracksTakeSlidingHead(t *testing.T) {
	p := practice(t, "metric")
	need := 20*quantity.Millimetre + p.HeadTolerance.Value + p.HeadEngagement.Value
	for i := range Shipped().Profiles {
		if d := &Shipped().Profiles[i]; d.Kind == DeepTrack && d.Flange < need {
			t.Errorf("%s: legs of %s mm, want %s", d.ID, d.Flange, need)
		}
	}
}

func TestAnchorsForEverySubstrate(t *testing.T) {
	for _, substrate := range []string{"concrete", "masonry", "screed", "raised_floor", "timber", "metal_deck", "steel"} {
		if a, ok := Shipped().AnchorFor(substrate); !ok || a.Kind != KindAnchor || a.Unit != "pcs" {
			t.Errorf("%s: %v", substrate, a)
		}
	}
	if a, ok := Shipped().AnchorFor("glass"); ok {
		t.Errorf("%s is no anchor for glass", a.ID)
	}
}

func TestSundriesForBothPractices(t *testing.T) {
	uses := []sundryUse{
		{KindSealant, "acoustic"}, {KindSealant, "fire"}, {KindStrip, "twin_independent"}, {KindGusset, "twin_braced"},
		{KindJointTape, "tapered"}, {KindJointTape, "cross"}, {KindJointTape, "inner corner"},
		{KindFiller, "tapered"}, {KindFiller, "cut"}, {KindFiller, "inner layer"}, {KindFiller, "skim"},
		{KindBead, "outer corner"}, {KindBead, "control joint"}, {KindBead, "edge"},
	}
	for i := range Shipped().Practices {
		p := &Shipped().Practices[i]
		for _, u := range uses {
			s, ok := Shipped().SundryFor(u.kind, u.use, p)
			if !ok || !p.follows(s.Standard) {
				t.Errorf("%s: no %s for %s", p.ID, u.kind, u.use)
			}
			if u.kind == KindFiller && s.Uses[u.use] <= 0 && s.Density <= 0 {
				t.Errorf("%s: %s has no consumption for %s", p.ID, s.ID, u.use)
			}
		}
	}
}

// Every frame size has a sealing tape that is no wider than the track.
func TestSealTapes(t *testing.T) {
	c := Shipped()
	for i := range c.Profiles {
		p := &c.Profiles[i]
		if p.Fits == "" {
			continue // stands in no frame by itself
		}
		tape, ok := c.SundryFor(KindSealTape, p.Fits, practice(t, "metric"))
		if !ok {
			t.Errorf("no tape for frames of size %s", p.Fits)
		} else if width := atoi(strings.TrimPrefix(tape.ID, "TAPE-")); float64(width) > p.NominalDepth().MM() {
			t.Errorf("%s is wider than %s", tape.ID, p.ID)
		}
	}
}

func TestKnownAndSuggest(t *testing.T) {
	c := Shipped()
	for kind, ids := range map[string][]string{
		KindBoard: {"GKB-12.5", "GWB-0.625X"}, KindStud: {"UA75", "CW75"}, KindTrack: {"UW75", "UW75-D"}, KindProfile: {"CW75", "362S125-18"}, KindInsulation: {"MW-60", "SW-40-40", "R-13"},
		KindScrew: {"SP-3.5x25"}, KindSundry: {"BEAD-CORNER"}, KindPractice: {"metric", "us"},
	} {
		for _, id := range ids {
			if !c.Known(kind, id) {
				t.Errorf("%s %s is not known", kind, id)
			}
		}
		if c.Known(kind, "") || !slices.IsSorted(c.IDs(kind)) {
			t.Errorf("%s: the empty id is known, or ids are out of order", kind)
		}
	}
	if c.Known(KindStud, "UW75") || c.Known(KindTrack, "CW75") {
		t.Error("studs and tracks are mixed up")
	}
	if c.Known("colour", "CW75") || c.IDs("colour") != nil {
		t.Error("there is no such kind")
	}
	for id, want := range map[string]string{
		"CW 75":  `did you mean "CW75"?`,
		"":       "stud ids: CD60, CW100, CW125, CW150, CW50, CW75, UA100, UA125, UA150, UA50, UA75",
		"C-stud": "stud ids: CD60, CW100, CW125, CW150, CW50, CW75, UA100, UA125, UA150, UA50, UA75",
	} {
		if got := c.Suggest(KindStud, id, practice(t, "metric")); !strings.HasPrefix(got.String(), want) {
			t.Errorf("%q: %s, want %s", id, got, want)
		}
	}
}

// A catalogue put together by hand finds the same as an indexed one.
func TestWithoutIndex(t *testing.T) {
	c := &Catalogue{Boards: []Board{{ID: "X", Mass: 1}, {ID: "X", Mass: 2}}}
	if b, ok := c.Board("X"); !ok || b != &c.Boards[0] {
		t.Errorf("%v", b)
	}
}

func TestConcurrentReaders(t *testing.T) {
	p := practice(t, "metric")
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for _, id := range Shipped().IDs(KindProfile) {
				Shipped().TrackFor(id)
				Shipped().ScrewFor(quantity.MM(12.5), quantity.MM(0.6), p)
			}
		})
	}
	wg.Wait()
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		load(data)
	}
}

func BenchmarkScrewFor(b *testing.B) {
	c, p := Shipped(), practice(b, "metric")
	for b.Loop() {
		c.ScrewFor(quantity.MM(37.5), quantity.MM(0.6), p)
	}
}
