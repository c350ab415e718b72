package layout_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

func caps(w *layout.Wall, use string) []layout.Piece {
	var list []layout.Piece
	for _, p := range w.Caps {
		if p.Use == use {
			list = append(list, p)
		}
	}
	return list
}

// TestFireHead: a sliding head that is asked to resist fire has strips of board
// packed under the soffit, so thick that boards lap them by 20 mm when the slab is
// up (common practice). By hand: 20 mm of deflection and 5 of tolerance are a gap
// of 25; 25 + 20 = 45 need 4 strips of 12.5, which are 50; the head track lies 50
// below the soffit and the studs end 25 below that; boards end 25 below the soffit.
func TestFireHead(t *testing.T) {
	for _, c := range []struct {
		name                 string
		fire, head           string
		deflection           quantity.Length
		strips               int
		track, studs, boards float64
	}{
		{"sliding, fire", "EI 60", "", 20 * mm, 4, 2950, 2925, 2975},
		{"sliding, no fire", "", "", 20 * mm, 0, 3000, 2975, 2975},
		{"rigid, fire", "EI 60", "", 5 * mm, 0, 3000, 2985, 2995},
		{"sliding because the plan says so", "EI 60", plan.HeadDeflection, 2 * mm, 3, 2962.5, 2947.5, 2993},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := room(2400*mm, 3000*mm, plan.Wall{Require: plan.Requirements{Fire: c.fire}, Head: c.head}, single("W", "GKF-12.5"))
			p.Levels[0].Deflection = c.deflection
			cat, pr := metric(t, plan.Overrides{"head_tolerance": 5, "head_strip_lap": 20, "stud_shortfall": 15})
			w := layout.Of(p, cat, pr).Walls[0]
			if got := members(w, layout.SoffitTrack)[0].From.Y.MM(); got != c.track {
				t.Errorf("head track at %v, want %v", got, c.track)
			}
			if got := members(w, layout.EndStud)[0].To.Y.MM(); got != c.studs {
				t.Errorf("studs end at %v, want %v", got, c.studs)
			}
			if got := w.Faces[0].Layers[0].Top[0].Y.MM(); got != c.boards {
				t.Errorf("boards end at %v, want %v", got, c.boards)
			}
			strips := caps(w, "head strip")
			if len(strips) != c.strips || w.Head.Strips != c.strips {
				t.Errorf("%d strips, want %d", len(strips), c.strips)
			}
			for _, s := range strips {
				if s.Width != 75*mm || s.Height != 2400*mm {
					t.Errorf("strip %s x %s", s.Width, s.Height)
				}
			}
			for _, s := range w.Screws {
				if s.Layer >= 0 && s.To.Y > members(w, layout.EndStud)[0].To.Y+15*mm {
					t.Errorf("screws up to %s, above the studs", s.To.Y)
				}
			}
		})
	}
}

// deckPlan is a wall of 6 m under a deck with flutes 120 mm wide at 200 mm.
func deckPlan(direction float64, w plan.Wall) *plan.Plan {
	b := single("W", "GKF-12.5", "GKF-12.5")
	b.Insulation = []plan.Insulation{{Product: "MW-60"}}
	p := room(6000*mm, 3000*mm, w, b)
	p.Levels[0].Soffit = plan.MetalDeck
	p.Levels[0].Deck = &plan.Deck{Pitch: 200 * mm, Depth: 80 * mm, Flute: 120 * mm, Crown: 40 * mm, Direction: direction, At: &plan.Pt{}}
	return p
}

// TestFlutesAcross: flutes at 200, from one under the wall's start, are crossed
// at 0, 200 ... 6000: 31 of them, closed over each face, by one piece or by one
// for each layer where fire is asked. Each is a trapezium of (120 + 40) / 2 x 80
// mm². Anchors stand in the ribs, at 100, 300 and so on, no more than a metre
// apart (common practice).
func TestFlutesAcross(t *testing.T) {
	for _, c := range []struct {
		require plan.Requirements
		layers  int
		sealed  bool
	}{
		{plan.Requirements{}, 1, false}, {plan.Requirements{Sound: "Rw 42"}, 1, true}, {plan.Requirements{Fire: "EI 60"}, 2, true},
	} {
		cat, pr := metric(t, plan.Overrides{"track_fixing": 1000})
		w := layout.Of(deckPlan(90, plan.Wall{Require: c.require}), cat, pr).Walls[0]
		closers := caps(w, "flute closer")
		if len(closers) != 2*31*c.layers {
			t.Errorf("%+v: %d closers, want %d", c.require, len(closers), 2*31*c.layers)
		}
		for _, p := range closers {
			if p.Area() != (120+40)/2*80 || p.Width != 120*mm || p.Height != 80*mm {
				t.Fatalf("closer %+v", p)
			}
		}
		seals := slices.ContainsFunc(w.Seals, func(s layout.Strip) bool { return s.Use == "flute closer" })
		if seals != c.sealed {
			t.Errorf("%+v: sealed %v", c.require, seals)
		}
		var at []float64
		for _, a := range w.Anchors {
			if a.Into != "ribs" {
				continue
			}
			for i := range quantity.Length(a.Count) {
				u := a.From.X
				if i > 0 {
					u += (a.To.X - a.From.X) * i / quantity.Length(a.Count-1)
				}
				if r := u % (200 * mm); r != 100*mm {
					t.Errorf("an anchor at %s is in a flute", u)
				}
				at = append(at, u.MM())
			}
		}
		slices.Sort(at)
		for i := 1; i < len(at); i++ {
			if at[i]-at[i-1] > 1000 {
				t.Errorf("anchors %v and %v are more than a metre apart", at[i-1], at[i])
			}
		}
		if len(at) == 0 || at[0] != 100 || at[len(at)-1] != 5900 {
			t.Errorf("anchors at %v", at)
		}
		fill := 0
		for _, b := range w.Batts {
			if b.Outline.Bounds().Min.Y >= 3000*mm {
				fill++
			}
		}
		if fill != 31 {
			t.Errorf("%d flutes filled, want 31", fill)
		}
	}
}

// TestFlutesAslant: at 45 degrees a flute is 1.414 times as wide along the wall.
func TestFlutesAslant(t *testing.T) {
	cat, pr := metric(t, nil)
	w := layout.Of(deckPlan(45, plan.Wall{}), cat, pr).Walls[0]
	for _, p := range caps(w, "flute closer") {
		if got := p.Width.Round(quantity.Millimetre).MM(); got != 170 {
			t.Errorf("closer %v mm wide, want 170", got)
		}
	}
}

// TestFlutesAlong: a wall under a rib is fixed to it; under a flute a strip of
// steel 120 mm wide and 50 more on each side carries its track (common practice).
// Ribs are 80 mm wide, so an anchor may stand 25 mm off their middle at most.
func TestFlutesAlong(t *testing.T) {
	for y, want := range map[quantity.Length]bool{0: true, 100 * mm: false, 124 * mm: false, 126 * mm: true} {
		p := deckPlan(0, plan.Wall{})
		p.Levels[0].Deck.At = &plan.Pt{Y: -y}
		cat, pr := metric(t, nil)
		w := layout.Of(p, cat, pr).Walls[0]
		if got := len(w.Plates) > 0; got != want {
			t.Errorf("flute %s mm beside the wall: strip %v", y, got)
		}
		for _, plate := range w.Plates {
			if plate.Width != 220*mm {
				t.Errorf("strip %s mm wide", plate.Width)
			}
		}
		if len(caps(w, "flute closer")) > 0 {
			t.Error("closers over a wall along the flutes")
		}
	}
}

func TestDeckFindings(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(p *plan.Plan)
		code   string
	}{
		{"askew", func(p *plan.Plan) { p.Levels[0].Deck.Direction = 8 }, "deck-askew"},
		{"ribs far apart", func(p *plan.Plan) { p.Levels[0].Deck.Direction, p.Levels[0].Deck.Pitch = 90, 1200*mm }, "ribs-far-apart"},
		{"short track", func(p *plan.Plan) {
			p.Levels[0].Deck.Direction, p.Levels[0].Deck.Pitch = 90, 950*mm
			p.Walls[0].Openings = []plan.Opening{{Kind: plan.Bare, At: 300 * mm, Width: 1000 * mm, Height: 3000 * mm}}
		}, "track-without-rib"},
		{"good", func(p *plan.Plan) { p.Levels[0].Deck.Direction = 90 }, ""},
	} {
		p := deckPlan(0, plan.Wall{})
		c.change(p)
		cat, pr := metric(t, nil)
		w := layout.Of(p, cat, pr).Walls[0]
		for _, code := range []string{"deck-askew", "ribs-far-apart", "track-without-rib"} {
			if hasCode(w.Findings, code) != (code == c.code) {
				t.Errorf("%s: %v", c.name, w.Findings)
			}
		}
	}
}

// TestStepInSoffit: the stud on the higher side of a step is fixed to the step's
// side and sealed there, over the height of the step (common practice).
func TestStepInSoffit(t *testing.T) {
	up := []plan.HeightAt{{At: 0, Height: 2500 * mm}, {At: 2000 * mm, Height: 2500 * mm}, {At: 2000 * mm, Height: 3100 * mm}, {At: 4000 * mm, Height: 3100 * mm}}
	down := []plan.HeightAt{{At: 0, Height: 3100 * mm}, {At: 2000 * mm, Height: 3100 * mm}, {At: 2000 * mm, Height: 2500 * mm}, {At: 4000 * mm, Height: 2500 * mm}}
	for at, heights := range map[float64][]plan.HeightAt{2025: up, 1975: down} {
		w := lay(t, 4000*mm, 3100*mm, plan.Wall{Heights: heights}, single("W", "GKB-12.5"), plan.Overrides{"stud_shortfall": 15})
		var seal [][3]float64
		for _, s := range w.Seals {
			if s.Use == "side of the step" {
				seal = append(seal, [3]float64{s.From.X.MM(), s.From.Y.MM(), s.To.Y.MM()})
			}
		}
		if diff := cmp.Diff([][3]float64{{at, 2500, 3085}}, seal); diff != "" {
			t.Error(diff)
		}
		anchors := 0
		for _, a := range w.Anchors {
			if a.Into == "side of the step" {
				anchors += a.Count
			}
		}
		if anchors < 2 {
			t.Errorf("%d anchors", anchors)
		}
	}
}

// TestFlutesOverPocket: a sliding door whose running gear reaches up to the deck leaves
// no closer and no fill in the flutes over it and its pocket.
func TestFlutesOverPocket(t *testing.T) {
	door := plan.Opening{Kind: plan.Door, At: 2000 * mm, Width: 885 * mm, Height: 2990 * mm, LeafMass: 28, Pocket: "end"}
	cat, pr := metric(t, nil)
	w := layout.Of(deckPlan(90, plan.Wall{Openings: []plan.Opening{door}}), cat, pr).Walls[0]
	bay := w.Openings[0].Bay()
	for _, c := range caps(w, "flute closer") {
		if c.At.X < bay.To && c.At.X+c.Width > bay.From {
			t.Errorf("closer at %s, bay %v", c.At.X, bay)
		}
	}
	for _, b := range w.Batts {
		if box := b.Outline.Bounds(); box.Min.Y >= 3000*mm && box.Min.X < bay.To && box.Max.X > bay.From {
			t.Errorf("fill at %v, bay %v", box, bay)
		}
	}
}
