package parts_test

import (
	"encoding/json"
	"math"
	"os"
	"strconv"
	"testing"

	"nogging/internal/app"
	"nogging/internal/geom"
	"nogging/internal/parts"
	"nogging/internal/plan"
	"nogging/internal/plantest"
)

// clinic builds the demo, in which nearly everything occurs that a wall can have.
func clinic(t *testing.T) *app.Job {
	t.Helper()
	job, err := app.Open("clinic.yaml", func(name string) ([]byte, error) { return os.ReadFile("../../demo/" + name) })
	if err != nil {
		t.Fatal(err)
	}
	job.Build(app.Quiet)
	return job
}

// TestMassesAgree holds the parts against the take-off, which is another way round
// the same wall: both must weigh the same and count the same pieces of each product.
func TestMassesAgree(t *testing.T) {
	job := clinic(t)
	for i, w := range job.Layout.Walls {
		mass, count := map[string]float64{}, map[string]int{}
		for _, p := range parts.Of(w, job.Catalogue, job.Practice) {
			mass[p.Product] += p.Mass
			count[p.Product]++
		}
		for _, l := range job.Takeoff.Walls[i].Lines {
			if l.Mass == 0 {
				continue
			}
			if math.Abs(mass[l.Code]-l.Mass) > 1e-6*l.Mass || count[l.Code] != l.Pieces {
				t.Errorf("%s, %s: parts have %.4f kg in %d, the take-off %.4f kg in %d", w.ID, l.Code, mass[l.Code], count[l.Code], l.Mass, l.Pieces)
			}
		}
	}
}

// TestPlaces says that no two parts of a wall have one id, and that every solid has
// a thickness and lies in the finished wall.
func TestPlaces(t *testing.T) {
	job := clinic(t)
	for _, w := range job.Layout.Walls {
		seen := map[string]bool{}
		for _, p := range parts.Of(w, job.Catalogue, job.Practice) {
			if seen[p.ID] {
				t.Errorf("%s: %s stands twice", w.ID, p.ID)
			}
			seen[p.ID] = true
			if p.Solid == nil {
				continue
			}
			if p.Solid.V.Len() <= 0 || p.Solid.Outline.Area() <= 0 {
				t.Errorf("%s: %s has no room: v %v, outline %v", w.ID, p.ID, p.Solid.V, p.Solid.Outline)
			}
			if half := w.Thickness/2 + geom.Same; p.Kind == parts.Board && p.Layer != parts.TrimLayer && len(w.Faces) == 2 && (p.Solid.V.To > half || p.Solid.V.From < -half) {
				t.Errorf("%s: %s reaches from %s to %s, the wall is %s thick", w.ID, p.ID, p.Solid.V.From, p.Solid.V.To, w.Thickness)
			}
		}
	}
}

// TestLayersTouch holds the thicknesses of layers on each other against the finished
// thickness that the layout gives: the outermost boards end at its surfaces.
func TestLayersTouch(t *testing.T) {
	job := clinic(t)
	for _, w := range job.Layout.Walls {
		var lo, hi parts.Length
		for _, p := range parts.Of(w, job.Catalogue, job.Practice) {
			if p.Solid != nil && p.Kind == parts.Board && p.Layer != parts.TrimLayer && p.Layer != parts.FrameLayer {
				lo, hi = min(lo, p.Solid.V.From), max(hi, p.Solid.V.To)
			}
		}
		if len(w.Faces) == 2 && (hi-lo-w.Thickness).Abs() > geom.Same {
			t.Errorf("%s: boards reach over %s, the wall is %s thick", w.ID, hi-lo, w.Thickness)
		}
	}
}

// TestWhy says that the rule behind a stud of the module is the practice's value,
// with its source or status.
func TestWhy(t *testing.T) {
	job := clinic(t)
	for _, p := range parts.Of(job.Layout.Walls[0], job.Catalogue, job.Practice) {
		if p.Why == "stud_spacing" && (p.Rule == nil || p.Rule.Name != "stud_spacing" || p.Rule.Status == "") {
			t.Fatalf("%s stands by stud_spacing, and its rule is %+v", p.ID, p.Rule)
		}
	}
	if parts.LayerName(plan.FaceB, 1) != "b2" {
		t.Error("the second layer of face B is b2")
	}
}

// TestModel says that the model of the demo can be read again, that each part's
// places point into the lists, and that a curved wall brings its arc.
func TestModel(t *testing.T) {
	job := clinic(t)
	text, err := json.Marshal(parts.ModelOf(job.Layout.Walls, job.Plan.Levels, job.Catalogue, job.Practice))
	if err != nil {
		t.Fatal(err)
	}
	var m struct {
		Layers, Whats []string
		Products      []struct{ ID string }
		Walls         []struct {
			ID    string
			Arc   []float64
			Parts [][]json.RawMessage
		}
	}
	if err := json.Unmarshal(text, &m); err != nil {
		t.Fatal(err)
	}
	curved := 0
	for _, w := range m.Walls {
		curved += len(w.Arc) / 5
		for _, p := range w.Parts {
			for i, list := range []int{len(m.Layers), len(m.Products), len(m.Whats)} {
				if n, err := strconv.Atoi(string(p[1+i])); err != nil || n >= list {
					t.Fatalf("%s %s: %s is no place in a list of %d", w.ID, p[0], p[1+i], list)
				}
			}
			var shape []float64
			if err := json.Unmarshal(p[5], &shape); err != nil || len(shape) < 4 {
				t.Fatalf("%s %s has no shape: %s", w.ID, p[0], p[5])
			}
		}
	}
	if curved != 1 {
		t.Errorf("%d walls come with an arc, the demo has 1", curved)
	}
}

// BenchmarkModel gathers and writes the model of a whole level.
func BenchmarkModel(b *testing.B) {
	text, err := plan.Marshal(plantest.Offices(2000))
	if err != nil {
		b.Fatal(err)
	}
	job, err := app.Open("offices.yaml", func(string) ([]byte, error) { return text, nil })
	if err != nil {
		b.Fatal(err)
	}
	job.Build(app.Quiet)
	for b.Loop() {
		out, err := json.Marshal(parts.ModelOf(job.Layout.Walls, job.Plan.Levels, job.Catalogue, job.Practice))
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(out))/1e6, "MB")
	}
}
