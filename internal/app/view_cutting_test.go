package app_test

import (
	"context"
	"os"
	"testing"

	"nogging/internal/app"
	"nogging/internal/cut/boards"
	"nogging/internal/layout"
)

// TestCutPictures says that the areas of each picture tile its board but for what is
// cut out of notches, that no board stands in two ways, and that each piece of the
// walls comes of exactly one board.
func TestCutPictures(t *testing.T) {
	job, err := app.Open("clinic.yaml", func(name string) ([]byte, error) { return os.ReadFile("../../demo/" + name) })
	if err != nil {
		t.Fatal(err)
	}
	job.Build(app.Quiet)
	o := boards.Options{Effort: 1}
	walls := job.Layout.Walls[:12]
	zones, err := boards.Plan(context.Background(), walls, job.Catalogue, job.Practice, o)
	if err != nil {
		t.Fatal(err)
	}
	made := map[string]int{}
	for i := range zones {
		z := app.CutZoneOf(zones[i].ID, nil, zones[i].Boards, o, job.Catalogue)
		for _, b := range z.Boards {
			for _, name := range b.Unmade {
				made[name]++
			}
			seen := map[int]bool{}
			for _, w := range b.Ways {
				checkAreas(t, b.Product, &w)
				for _, s := range w.Sheets {
					if seen[s.Number] {
						t.Errorf("%s: board %d is cut in two ways", b.Product, s.Number)
					}
					seen[s.Number] = true
					for _, p := range s.Pieces {
						made[p]++
					}
				}
			}
		}
	}
	for _, w := range walls {
		for _, f := range w.Faces {
			for k := range f.Layers {
				for n := range f.Layers[k].Pieces {
					if name := w.ID + "/" + layout.PieceMark(f.Face, k, &f.Layers[k].Pieces[n]); made[name] != 1 {
						t.Errorf("%s is cut %d times", name, made[name])
					}
				}
			}
		}
	}
}

func checkAreas(t *testing.T, product string, w *app.CutWay) {
	t.Helper()
	sum := 0.0
	for _, a := range w.Areas {
		if !a.Notch {
			sum += a.W.Metres() * a.H.Metres()
		}
		if a.X < 0 || a.Y < 0 || a.X+a.W > w.Width || a.Y+a.H > w.Length {
			t.Errorf("%s, way %d: %s reaches over the board", product, w.Number, a.Name)
		}
	}
	if whole := w.Width.Metres() * w.Length.Metres(); sum > whole+1e-6 || (!w.Offcut && sum < whole-1e-6) {
		t.Errorf("%s, way %d: its areas are %.4f m² of %.4f", product, w.Number, sum, whole)
	}
}
