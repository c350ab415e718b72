package layout_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// laps lists, for each place along the wall, the heights over which pieces lap,
// in millimetres from below.
func laps(w *layout.Wall) map[float64][][2]float64 {
	at := map[float64][][2]float64{}
	for _, m := range w.Members {
		if m.Lap > 0 {
			u := m.From.X.MM()
			at[u] = append(at[u], [2]float64{m.From.Y.MM(), (m.From.Y + m.Lap).MM()})
		}
	}
	return at
}

// TestSplices: studs of 7000 mm out of stock of 6000 mm lap by ten times their
// depth of 75 mm (DIN 18183-1, from memory), high and low by turns (common
// practice). By hand: 7000 less 15 is 6985; a piece of 6000 and one of
// 6985 - 6000 + 750 = 1735. High splices run from 5250 to 6000, low ones from
// 985 to 1735.
func TestSplices(t *testing.T) {
	w := lay(t, 2400*mm, 7000*mm, plan.Wall{}, single("W", "GKB-12.5"), nil)
	high, low := [][2]float64{{5250, 6000}}, [][2]float64{{985, 1735}}
	want := map[float64][][2]float64{25: high, 600: low, 1200: high, 1800: low, 2375: high}
	if diff := cmp.Diff(want, laps(w)); diff != "" {
		t.Error(diff)
	}
	var cuts []float64
	marks := map[string]bool{}
	for i := range w.Members {
		if m := &w.Members[i]; m.Upright() {
			cuts = append(cuts, m.Cut.MM())
			marks[m.Mark()] = true
		}
	}
	slices.Sort(cuts)
	if diff := cmp.Diff([]float64{1735, 1735, 1735, 1735, 1735, 6000, 6000, 6000, 6000, 6000}, cuts); diff != "" || len(marks) != 10 {
		t.Errorf("%d marks; %s", len(marks), diff)
	}
}

// TestSpliceOfThree: 14 000 mm need three pieces. By hand, CW75 from stock of
// 6000: 13 985 less two steps of 5250 leaves 3485, which is more than two laps
// and less than 6000 less a lap.
func TestSpliceOfThree(t *testing.T) {
	w := lay(t, 1200*mm, 14000*mm, plan.Wall{}, single("W", "GKB-12.5"), nil)
	high, low := [][2]float64{{5250, 6000}, {10500, 11250}}, [][2]float64{{2735, 3485}, {7985, 8735}}
	if diff := cmp.Diff(map[float64][][2]float64{25: high, 600: low, 1175: high}, laps(w)); diff != "" {
		t.Error(diff)
	}
}

// TestBoxedSplices: of two studs boxed into each other one is spliced high, one
// low.
func TestBoxedSplices(t *testing.T) {
	door := plan.Opening{Kind: plan.Door, At: 900 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 20}
	w := lay(t, 3000*mm, 7000*mm, plan.Wall{Openings: []plan.Opening{door}}, single("W", "GKB-12.5"),
		plan.Overrides{"jambs": []any{map[string]any{"jamb": "boxed"}}})
	boxed := map[float64][]float64{}
	for _, m := range w.Members {
		if m.Boxed && m.Lap > 0 {
			boxed[m.From.X.MM()] = append(boxed[m.From.X.MM()], m.From.Y.MM())
		}
	}
	if diff := cmp.Diff(map[float64][]float64{875: {985, 5250}, 1810: {985, 5250}}, boxed); diff != "" {
		t.Error(diff)
	}
}

// TestStiffStudsInOnePiece: stiff profiles are not spliced unless the practice
// lets them be, and then by the same lap.
func TestStiffStudsInOnePiece(t *testing.T) {
	wall := plan.Wall{Openings: []plan.Opening{{Kind: plan.Door, At: 900 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 60}}}
	for _, may := range []bool{false, true} {
		w := lay(t, 3000*mm, 7000*mm, wall, single("W", "GKB-12.5"), plan.Overrides{"splice_opening_studs": may})
		told := slices.ContainsFunc(w.Findings, func(f finding.Finding) bool {
			return f.Code == "stud-longer-than-stock" && f.What.String() == "needs UA75 6985 mm long, 985 mm longer than the longest that is sold, and the practice does not let stiff profiles be spliced"
		})
		spliced := slices.ContainsFunc(members(w, layout.OpeningStud), func(m layout.Member) bool { return m.Lap == 750*mm })
		if told == may || spliced != may {
			t.Errorf("may %v: told %v, spliced %v", may, told, spliced)
		}
	}
}

// TestSplicedLengths: whatever the height, no piece is longer than stock, the
// pieces make up the stud, and the laps of neighbours are clear of each other.
func TestSplicedLengths(t *testing.T) {
	cat, pr := metric(t, nil)
	rapid.Check(t, func(t *rapid.T) {
		height := quantity.Length(rapid.IntRange(6050, 30000).Draw(t, "height")) * mm
		stud := rapid.SampledFrom([]string{"CW50", "CW75", "CW100", "CW150"}).Draw(t, "stud")
		b := single("W", "GKB-12.5")
		b.Frame.Stud = stud
		w := layout.Of(room(1800*mm, height, plan.Wall{}, b), cat, pr).Walls[0]
		checkSplices(t, w, 6000*mm)
		if len(laps(w)) != 4 {
			t.Fatalf("studs spliced at %v", laps(w))
		}
	})
}

// checkSplices: pieces of one stud run on from foot to head with their laps, none
// is longer than stock, and beside each other studs of one length never lap at
// one height.
func checkSplices(t reporter, w *layout.Wall, stock quantity.Length) {
	var last []layout.Member // pieces of the stud before
	var stud []layout.Member
	finish := func() {
		if len(stud) == 0 {
			return
		}
		for _, a := range last {
			for _, b := range stud {
				level := last[len(last)-1].To.Y == stud[len(stud)-1].To.Y && last[0].From.Y == stud[0].From.Y && a.Product == b.Product
				if level && a.Lap > 0 && b.Lap > 0 && a.From.Y < b.From.Y+b.Lap && b.From.Y < a.From.Y+a.Lap {
					t.Fatalf("%s: %s and %s lap side by side at %s and %s mm", w.ID, a.Mark(), b.Mark(), a.From.Y, b.From.Y)
				}
			}
		}
		last, stud = stud, nil
	}
	for _, m := range w.Members {
		if !m.Spliced || m.Boxed {
			continue
		}
		if m.Cut > stock || m.Cut != m.To.Y-m.From.Y {
			t.Fatalf("%s: %s is %s mm long, from %s to %s", w.ID, m.Mark(), m.Cut, m.From.Y, m.To.Y)
		}
		if m.Lap == 0 {
			finish()
			if len(last) > 0 && last[0].Line != m.Line {
				last = nil
			}
		} else if n := len(stud); n == 0 || stud[n-1].To.Y != m.From.Y+m.Lap || stud[n-1].From.X != m.From.X {
			t.Fatalf("%s: %s does not lap the piece beneath it%s", w.ID, m.Mark(), describe(w))
		}
		stud = append(stud, m)
	}
	finish()
}

// TestBackedCrossJoints: behind each cross joint of a single layer stands a
// nogging between every two studs, and none in an opening; under two layers, or
// where the practice says none, there is none (common practice).
func TestBackedCrossJoints(t *testing.T) {
	opening := plan.Opening{Kind: plan.Bare, At: 1500 * mm, Width: 1500 * mm, Height: 4500 * mm}
	for _, c := range []struct {
		boards  []string
		backing string
		length  quantity.Length
	}{
		{[]string{"GKB-12.5"}, "nogging", 6000 * mm},
		{[]string{"GKB-12.5", "GKB-12.5"}, "nogging", 6000 * mm},
		{[]string{"GKB-12.5"}, "none", 6000 * mm},
		{[]string{"GKB-12.5"}, "strap", 6000 * mm},
	} {
		w := lay(t, c.length, 5000*mm, plan.Wall{Openings: []plan.Opening{opening}}, single("W", c.boards...), plan.Overrides{"cross_joint_backing": c.backing})
		nogs := members(w, layout.Nogging)
		if len(c.boards) > 1 || c.backing == "none" {
			if len(nogs) > 0 {
				t.Errorf("%d layers, %s: %d noggings", len(c.boards), c.backing, len(nogs))
			}
			continue
		}
		product := map[string]string{"nogging": "UW75", "strap": "STRAP-60x0.6"}[c.backing]
		for _, n := range nogs {
			if n.Product != product || n.From.X < 3000*mm && n.To.X > 1500*mm && n.From.Y < 4500*mm {
				t.Errorf("%s: %s from %s to %s at %s", n.Mark(), n.Product, n.From.X, n.To.X, n.From.Y)
			}
		}
		for _, j := range w.Joints {
			if j.Kind == layout.CrossJoint && !backed(nogs, j) {
				t.Errorf("%s: the cross joint of face %s from %s to %s at %s has no backing", c.backing, j.Face, j.From.X, j.To.X, j.From.Y)
			}
		}
	}
}

// backed reports whether noggings stand behind the whole of a cross joint, less
// the thickness of a stud at its ends.
func backed(nogs []layout.Member, j layout.Joint) bool {
	var length quantity.Length
	seen := map[geom.Point]bool{}
	for _, n := range nogs {
		if n.From.Y == j.From.Y && !seen[n.From] {
			seen[n.From] = true
			length += max(min(n.To.X, j.To.X)-max(n.From.X, j.From.X), 0)
		}
	}
	return length >= j.To.X-j.From.X-50*mm
}

// TestInnerJoints: each layer has its joints along the soffit and the structure;
// those of inner layers are not outer ones and get no bead (design: joints of
// inner layers are filled, without tape).
func TestInnerJoints(t *testing.T) {
	w := lay(t, 2400*mm, 2750*mm, plan.Wall{}, single("W", "GKB-12.5", "GKB-12.5"), nil)
	length := map[int]quantity.Length{}
	for _, j := range w.Joints {
		if j.Kind == layout.Perimeter && j.Face == plan.FaceA {
			length[j.Layer] += j.From.Dist(j.To)
			if j.Outer != (j.Layer == 1) {
				t.Errorf("layer %d: outer %v", j.Layer+1, j.Outer)
			}
		}
	}
	if want := 2400*mm + 2*2735*mm; length[0] != want || length[1] != want {
		t.Errorf("joints along the rim: %v, want %s on each layer", length, want)
	}
}
