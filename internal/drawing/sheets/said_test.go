package sheets_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"nogging/internal/drawing"
	"nogging/internal/drawing/sheets"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// said returns what is written on a sheet as running text.
func said(s *drawing.Scene) string {
	return strings.Join(wordsOf([]*drawing.Scene{s}), " ")
}

// TestBanner: what is wrong with a wall or its openings stands on every one of
// its sheets; what was only assumed does not.
func TestBanner(t *testing.T) {
	in := input(t, named(t, "five-doors").plan())
	w := in.Layout.Walls[0]
	w.Findings = finding.List{{Severity: finding.Warning, Object: w.ID, What: "is too high for its studs", Fix: "take deeper studs"}}
	in.Findings = finding.List{
		w.Findings[0],
		{Severity: finding.Error, Object: w.Openings[1].ID, What: "reaches beyond the wall"},
		{Severity: finding.Assumed, Object: w.ID, What: "is taken to be dry"},
		{Severity: finding.Error, Object: "L9-99", What: "is another wall"},
	}
	list := sheets.New(in).Wall(w)
	checkSheets(t, list)
	for _, s := range list {
		text := said(s)
		for _, want := range []string{"Not for building until mended", "is too high for its studs; what would work: take deeper studs", w.Openings[1].ID + ": reaches beyond the wall"} {
			if strings.Count(text, want) != 1 {
				t.Errorf("%s: %q stands there %d times", s.Name, want, strings.Count(text, want))
			}
		}
		for _, no := range []string{"taken to be dry", "another wall"} {
			if strings.Contains(text, no) {
				t.Errorf("%s tells of %q", s.Name, no)
			}
		}
	}
}

// TestManyFindings: a wall with everything wrong still has room for drawings.
func TestManyFindings(t *testing.T) {
	in := input(t, named(t, "door").plan())
	w := in.Layout.Walls[0]
	for range 40 {
		w.Findings.Add(finding.Finding{Severity: finding.Error, Object: w.ID, What: words.Text(strings.Repeat("wrong ", 1+len(w.Findings)))})
	}
	list := sheets.New(in).Wall(w)
	checkSheets(t, list)
	if want := "more, in the list of findings"; !strings.Contains(said(list[0]), want) {
		t.Errorf("no %q", want)
	}
}

// TestHeadNote: the note on the head says what is true of this wall. With a slab
// that sinks 15 mm and the practice's 5 mm of tolerance, studs and boards stop
// 20 mm short; under a rigid head studs are cut 15 mm short (DIN 18183-1, from
// memory), under a free top by its strip of 12.5 mm more.
func TestHeadNote(t *testing.T) {
	tests := []struct {
		fixture string
		head    string
		want    []string
		not     string
	}{
		{"openings", plan.HeadDeflection, []string{"Sliding head: studs are cut 20 short of the soffit", "boards stop 20 below it"}, "15 short"},
		{"plain", plan.HeadRigid, []string{"Rigid head: studs are cut 15 short of the soffit", "boards stop 5 below it"}, "Sliding"},
		{"plain", plan.HeadFree, []string{"close its upper edge", "studs are cut 27.5 short of the upper edge", "boards reach up to it", "top track"}, "soffit track"},
		{"us", plan.HeadRigid, []string{"Rigid head: studs are cut"}, "mm high"},
	}
	for _, tt := range tests {
		f := named(t, tt.fixture)
		f.wall.Head = tt.head
		set, w := f.laid(t)
		text := ""
		for _, s := range set.Wall(w) {
			text += said(s) + " "
		}
		for _, want := range tt.want {
			if !strings.Contains(text, want) {
				t.Errorf("%s, %s: no %q", tt.fixture, tt.head, want)
			}
		}
		if strings.Contains(text, tt.not) {
			t.Errorf("%s, %s: there is %q", tt.fixture, tt.head, tt.not)
		}
	}
}

// TestLiftLimit: cautions and notes speak of the practice's limit alone: 25 kg
// (HSE guidance), in the US practice 51 lb (NIOSH 1991 gives 23 kg or 51 lb).
func TestLiftLimit(t *testing.T) {
	for fixture, want := range map[string]string{"tall": "over 25 kg", "us": "over 51 lb"} {
		set, w := named(t, fixture).laid(t)
		for _, s := range set.Wall(w) {
			text := said(s)
			if strings.Contains(text, "Boards, face") && !strings.Contains(text, want) {
				t.Errorf("%s: no %q", s.Name, want)
			}
			if n, all := strings.Count(text, want), strings.Count(strings.ToLower(text), "pieces over"); n != all {
				t.Errorf("%s: %d limits, %d of them %q", s.Name, all, n, want)
			}
		}
	}
}

// all joins what is written on all sheets.
func all(list []*drawing.Scene) string {
	text := ""
	for _, s := range list {
		text += said(s) + " "
	}
	return text
}

// TestThings: boxes, fixings and penetrations are listed with their face, place
// and height, and marked on the elevations. The places are the fixture's own.
func TestThings(t *testing.T) {
	tests := map[string][]string{
		"door": {"X01 socket, 2 gangs, lined A 600 300"},
		"openings": {"X01 console, 40 kg A 5000–6200 1600", "nogging, 1600 up",
			"L1-07/4 pipe 150 × 150 both 5400–5550 2500–2650"},
	}
	for fixture, want := range tests {
		set, w := named(t, fixture).laid(t)
		list := set.Wall(w)
		text := all(list)
		for _, x := range want {
			if !strings.Contains(text, x) {
				t.Errorf("%s: no %q in %s", fixture, x, text)
			}
		}
		for _, mark := range []string{"X01"} {
			if strings.Count(text, mark) < 2 {
				t.Errorf("%s: %s is not marked on an elevation", fixture, mark)
			}
		}
	}
}

// TestMovementJoint: the joint of a long wall is named where it is, with both its
// edges dimensioned, on frame, boards and the set-out plan. The practice divides
// runs over 15 m (DIN 18181, from memory).
func TestMovementJoint(t *testing.T) {
	in := input(t, named(t, "long").plan())
	w := in.Layout.Walls[0]
	lines := w.FrameLines
	if len(lines) < 2 {
		t.Fatal("the wall has no movement joint")
	}
	from, to := lines[0].Extent.To, lines[1].Extent.From
	set := sheets.New(in)
	joint := from.Round(mm).String() + "–" + to.Round(mm).String()
	if n := strings.Count(all(set.Wall(w)), "movement joint at "+joint); n < 1+len(w.Faces)*len(w.Faces[0].Layers) {
		t.Errorf("named %d times on frame and boards", n)
	}
	level := all(set.Level("L1"))
	for _, want := range []string{"movement joint " + joint, "UW75, part 2", "then movement joint 10"} {
		if !strings.Contains(level, want) {
			t.Errorf("no %q on the set-out sheets", want)
		}
	}
}

// TestProfileHeights: every corner of a sloping or stepped soffit has its height
// on the frame, and where the boards end below it on theirs.
func TestProfileHeights(t *testing.T) {
	for fixture, want := range map[string][]string{
		"sloping": {"2300", "h 3400", "3000", "h 3395"},
		"stepped": {"h 3000", "h 2400", "2995"},
	} {
		set, w := named(t, fixture).laid(t)
		list := wordsOf(set.Wall(w))
		for _, x := range want {
			if !slices.Contains(list, x) {
				t.Errorf("%s: no height %q", fixture, x)
			}
		}
	}
}

// TestSchedule: the schedule gives both edges of the track by coordinates. The
// wall of the fixture runs along y = 0 from 0 to 4200 with a 75 mm track; the
// datum is the wall's own lower left corner, half its 125 mm below the axis.
func TestSchedule(t *testing.T) {
	set, _ := named(t, "door").laid(t)
	text := all(set.Level("L1"))
	for _, want := range []string{"L1-07 P1 UW75 0 100 4200 100 0 25 4200 25 4200 2750 L1-07/1 1350–2235", "1350–2235"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
}

// TestRoomNames: every room of a level is named on its plan, down to the smallest
// cubicle, and a running dimension names every wall on its line.
func TestRoomNames(t *testing.T) {
	p := storey(6, 2)
	for i := range 8 {
		x := quantity.Length(i) * 900 * mm
		p.Rooms = append(p.Rooms, plan.Room{ID: wallID(50 + i), Level: "L1", Name: fmt.Sprintf("Accessible cubicle %d", i+1),
			Outline: []plan.Pt{{X: x}, {X: x + 900*mm}, {X: x + 900*mm, Y: 1100 * mm}, {X: x, Y: 1100 * mm}}})
	}
	for i := range 6 {
		w := plan.Wall{ID: fmt.Sprintf("L1-%02d", 40+2*i), Level: "L1", BuildUp: "P2", Line: []plan.Pt{{X: quantity.Length(i) * 2 * 900 * mm, Y: 1100 * mm}, {X: quantity.Length(2*i+1) * 900 * mm, Y: 1100 * mm}}}
		p.Walls = append(p.Walls, w)
	}
	list := sheets.New(input(t, p)).Level("L1")
	checkSheets(t, list)
	text := all(list)
	for _, r := range p.Rooms {
		if !strings.Contains(text, r.Name) {
			t.Errorf("%s is not named", r.Name)
		}
	}
	if want := "L1-40, 42, 44, 46, 48, 50"; !strings.Contains(text, want) {
		t.Errorf("no %q", want)
	}
}

// TestWholeNumbers: no line of a table ends inside a length in feet and inches.
func TestWholeNumbers(t *testing.T) {
	set, w := named(t, "us").laid(t)
	broken := regexp.MustCompile(`\d'-\d+$`)
	for _, x := range wordsOf(append(set.Wall(w), set.Level("L1")...)) {
		if broken.MatchString(x) {
			t.Errorf("%q", x)
		}
	}
}

// TestReadingOrder: what is continued of a table stands below, to the right of, or
// on a sheet after what went before.
func TestReadingOrder(t *testing.T) {
	for _, f := range fixtures {
		set, w := f.laid(t)
		last := map[string][3]float64{}
		for n, s := range set.Wall(w) {
			for _, x := range drawing.Texts(s) {
				title, continued := strings.CutSuffix(x.Text, " (continued)")
				if !x.Bold || x.Height != drawing.Large {
					continue
				}
				at := [3]float64{float64(n), x.At.X, x.At.Y}
				if before, ok := last[title]; continued && (!ok || slices.Compare(at[:], before[:]) < 0) {
					t.Errorf("%s: %s is continued at %v after %v", f.name, title, at, before)
				}
				last[title] = at
			}
		}
	}
}
