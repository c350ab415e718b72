package ifc_test

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nogging/internal/exchange/ifc"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
)

// samples returns the folder of sample plans, which lies beside the
// repository. Where it is missing the test is skipped, but not on the build
// server.
func samples(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for !exists(filepath.Join(dir, "go.mod")) {
		if dir == filepath.Dir(dir) {
			t.Fatal("no go.mod above the package")
		}
		dir = filepath.Dir(dir)
	}
	open := filepath.Join(dir, "..", "shared", "data", "plans", "open")
	if !exists(open) {
		if os.Getenv("CI") == "true" {
			t.Fatalf("the sample plans are not at %s", open)
		}
		t.Skipf("the sample plans are not at %s", open)
	}
	return open
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

func sample(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(samples(t), name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// truth is one row of TRUTH.md: what a reader that is not ours found in a file
// for one wall type.
type truth struct {
	name                            string
	walls, openings, doors, windows int
	axis                            float64 // m
	thicknesses                     []float64
	heights                         []float64 // m: least, median, greatest before clipping; none where bodies are not extruded
	storeys                         map[string]int
}

// readTruth reads the tables of TRUTH.md, by file.
func readTruth(t *testing.T) map[string][]truth {
	t.Helper()
	all := map[string][]truth{}
	file := ""
	for lines := bufio.NewScanner(bytes.NewReader(sample(t, "TRUTH.md"))); lines.Scan(); {
		line := lines.Text()
		if rest, ok := strings.CutPrefix(line, "### "); ok {
			file, _, _ = strings.Cut(rest, " ")
		}
		cells := strings.Split(strings.Trim(line, "| "), " | ")
		if len(cells) == 9 && cells[0] != "wall type" && file != "" {
			all[file] = append(all[file], row(t, cells))
		}
	}
	return all
}

func row(t *testing.T, cells []string) truth {
	t.Helper()
	r := truth{name: cells[0], axis: number(t, cells[2]), storeys: map[string]int{}}
	for i, to := range map[int]*int{1: &r.walls, 5: &r.openings, 6: &r.doors, 7: &r.windows} {
		*to = int(number(t, cells[i]))
	}
	if cells[3] != "-" {
		for v := range strings.SplitSeq(cells[3], ", ") {
			r.thicknesses = append(r.thicknesses, number(t, v))
		}
	}
	if cells[4] != "-" {
		for v := range strings.SplitSeq(cells[4], "/") {
			r.heights = append(r.heights, number(t, v))
		}
	}
	for v := range strings.SplitSeq(cells[8], "; ") {
		i := strings.LastIndex(v, ":")
		r.storeys[v[:i]] = int(number(t, v[i+1:]))
	}
	return r
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// TestTruth compares what is read from the sample plans with TRUTH.md beside
// them: counts exactly, lengths to the last digit given there.
func TestTruth(t *testing.T) {
	files := readTruth(t)
	if len(files) != 6 {
		t.Fatalf("truth of %d files, want 6", len(files))
	}
	for file, rows := range files {
		t.Run(file, func(t *testing.T) {
			_, stats, found := ifc.Options{}.Read(file, sample(t, file))
			balance(t, stats, found)
			types := map[string]ifc.TypeStats{}
			for _, s := range stats.Types {
				types[s.Name] = s
			}
			if len(types) != len(rows) {
				t.Errorf("%d wall types, want %d", len(types), len(rows))
			}
			for _, want := range rows {
				compare(t, want, types[want.name], stats.Entities.Storeys > 0)
			}
		})
	}
}

func compare(t *testing.T, want truth, got ifc.TypeStats, storeys bool) {
	t.Helper()
	counts := []int{got.Walls, got.Openings, got.Doors, got.Windows}
	if w := []int{want.walls, want.openings, want.doors, want.windows}; fmt.Sprint(counts) != fmt.Sprint(w) {
		t.Errorf("%s: walls, openings, doors, windows %v, want %v", want.name, counts, w)
	}
	within(t, want.name+": axis", got.Axis, want.axis*1000, 5)
	for i, v := range want.thicknesses {
		if len(got.Thicknesses) != len(want.thicknesses) {
			t.Errorf("%s: thicknesses %v, want %v", want.name, got.Thicknesses, want.thicknesses)
			break
		}
		within(t, want.name+": thickness", got.Thicknesses[i], v, 0.05)
	}
	for i, v := range want.heights {
		within(t, want.name+": height", got.Heights[i], v*1000, 0.5)
	}
	for _, l := range got.Levels {
		if storeys && want.storeys[l.Level] != l.Walls {
			t.Errorf("%s: %d walls on %s, want %d", want.name, l.Walls, l.Level, want.storeys[l.Level])
		}
	}
}

func within(t *testing.T, what string, got plan.Length, want, tolerance float64) {
	t.Helper()
	if d := got.MM() - want; d > tolerance || d < -tolerance {
		t.Errorf("%s: %s mm, want %.1f mm", what, got, want)
	}
}

// TestSamples reads every sample: everything in it is read or named, the plan
// passes the plan's own checks, and reading twice gives the same.
func TestSamples(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join(samples(t), "*.ifc"))
	if len(files) == 0 {
		t.Fatal("no samples")
	}
	for _, path := range files {
		name := filepath.Base(path)
		t.Run(name, func(t *testing.T) {
			data := sample(t, name)
			p, stats, found := ifc.Options{}.Read(name, data)
			balance(t, stats, found)
			if stats.Levels != len(p.Levels) || stats.Walls != len(p.Walls) || stats.Rooms != len(p.Rooms) {
				t.Errorf("counts %+v do not fit the plan", stats)
			}
			text, err := plan.Marshal(p)
			if err != nil {
				t.Fatal(err)
			}
			if _, faults := plan.Parse("plan.yaml", text); len(ofReading(faults)) > 0 {
				t.Errorf("the plan has faults:\n%v", faults)
			}
			again, _, foundAgain := ifc.Options{}.Read(name, data)
			textAgain, err := plan.Marshal(again)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(text, textAgain) || fmt.Sprint(found) != fmt.Sprint(foundAgain) {
				t.Error("reading twice gives two different plans")
			}
		})
	}
}

// ofReading drops the findings about what is so in a model: walls that rise
// through ceilings, upstands, and no partitions.
func ofReading(faults finding.List) finding.List {
	inModel := []string{"wall-above-soffit", "implausible", "no-walls"}
	return slices.DeleteFunc(faults, func(f finding.Finding) bool { return slices.Contains(inModel, f.Code) })
}

// What is read of the partitions of one sample, as its source shows them:
// the house's partitions stand between its outer walls, 95 mm thick, with two
// doors of 810 by 2110 mm.
func TestSampleHouse(t *testing.T) {
	p, _, _ := ifc.Options{}.Read("house.ifc", sample(t, "ifc4_samplehouse.ifc"))
	if len(p.Walls) != 2 {
		t.Fatalf("%d partitions, want 2", len(p.Walls))
	}
	for _, w := range p.Walls {
		near(t, "thickness", w.Thickness, 95)
		near(t, "height", w.Height, 2335)
	}
	for _, o := range p.Walls[0].Openings {
		if o.Kind != plan.Door || o.Width != mm(810) || o.Height != mm(2110) || o.Sill != 0 {
			t.Errorf("opening %+v", o)
		}
	}
}

// The boards of a lining face a room, and the wall that it is set against is
// behind it. The sample's linings lie in both senses of its layer sets.
func TestLiningsFaceRooms(t *testing.T) {
	p, _, _ := ifc.Options{}.Read("duplex.ifc", sample(t, "ifc2x3_duplex_A.ifc"))
	seen := 0
	for i := range p.Walls {
		w := &p.Walls[i]
		if p.BuildUpByID(w.BuildUp).Frame.Kind != plan.Lining {
			continue
		}
		line := geom.FrameOf(geom.Segment{A: geom.Point(w.Line[0]), B: geom.Point(w.Line[1])})
		inRoom := func(v plan.Length) bool { return inRoom(p, w.Level, line.Global(w.Length()/2, v)) }
		beside := w.Thickness/2 + mm(60)
		if a, b := inRoom(beside), inRoom(-beside); a != b { // the linings of roof lights have a room on either side
			seen++
			if b {
				t.Errorf("%s turns its back to the room", w.ID)
			}
		}
	}
	if seen != 6 {
		t.Errorf("%d linings beside one room, want 6", seen)
	}
}

func inRoom(p *plan.Plan, level string, at geom.Point) bool {
	for _, r := range p.Rooms {
		var ring geom.Polygon
		for _, c := range r.Outline {
			ring = append(ring, geom.Point(c))
		}
		if r.Level == level && ring.Contains(at) {
			return true
		}
	}
	return false
}
