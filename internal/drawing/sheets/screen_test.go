package sheets_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"nogging/internal/app"
	"nogging/internal/drawing"
	"nogging/internal/drawing/sheets"
	"nogging/internal/drawing/svg"
	"nogging/internal/parts"
)

// screenSet builds the demo's set of drawings.
func screenSet(t *testing.T) (*app.Job, *sheets.Set) {
	t.Helper()
	job, err := app.Open("clinic.yaml", func(name string) ([]byte, error) {
		return os.ReadFile(filepath.Join("../../../demo", name))
	})
	if err != nil {
		t.Fatal(err)
	}
	job.Build(app.Quiet)
	return job, sheets.New(sheets.Input{Plan: job.Plan, Layout: job.Layout, Catalogue: job.Catalogue, Practice: job.Practice})
}

// TestEveryPartIsDrawn says that each upright, track and board of a wall can be
// pointed at in one of its views by the id that its list has, in both units.
func TestEveryPartIsDrawn(t *testing.T) {
	job, metric := screenSet(t)
	for _, set := range []*sheets.Set{metric, metric.InUnits(true)} {
		for _, w := range job.Layout.Walls {
			drawn := map[string]bool{}
			for _, v := range set.Views(w) {
				sc := set.Draw(w, v.ID)
				if sc == nil {
					t.Fatalf("%s: no drawing of %s", w.ID, v.ID)
				}
				for _, id := range partsIn(sc) {
					drawn[id] = true
				}
			}
			for _, p := range parts.Of(w, job.Catalogue, job.Practice) {
				if (p.Kind == parts.Steel || p.Kind == parts.Board) && p.Layer != parts.TrimLayer && p.What != "holding angle" && !drawn[p.ID] {
					t.Errorf("%s: %s (%s) stands in no view", w.ID, p.ID, p.What)
				}
			}
		}
	}
}

// partsIn lists the ids of the parts that a drawing shows; two in one place are
// joined by a plus sign.
func partsIn(sc *drawing.Scene) []string {
	var list []string
	for _, piece := range strings.Split(string(svg.Append(nil, sc)), `data-part="`)[1:] {
		ids, _, _ := strings.Cut(piece, `"`)
		list = append(list, strings.Split(ids, "+")...)
	}
	return list
}

// TestViewsOfAWall says what there is to see of a wall with two layers a face.
func TestViewsOfAWall(t *testing.T) {
	job, set := screenSet(t)
	w := job.Layout.Walls[0]
	views := set.Views(w)
	for _, id := range []string{"frame1", "a1", "a2", "b1", "b2"} {
		if !slices.ContainsFunc(views, func(v sheets.View) bool { return v.ID == id }) {
			t.Errorf("%s has no view %s", w.ID, id)
		}
	}
	for _, what := range []string{"head", "base", "jamb", "L", "studs"} {
		if !slices.ContainsFunc(views, func(v sheets.View) bool { return v.What == what }) {
			t.Errorf("%s has no section at %s", w.ID, what)
		}
	}
	for i, v := range views {
		if v.What == "studs" || v.What == "base" {
			if marks := partsIn(set.Draw(w, v.ID)); !slices.ContainsFunc(marks, func(m string) bool { return strings.HasPrefix(m, "A2-") }) || len(marks) < 5 {
				t.Errorf("view %d, %s, shows the parts %v", i+1, v.What, marks)
			}
		}
	}
	if set.Draw(w, "frame9") != nil {
		t.Error("a wall with one plane of studs draws no ninth")
	}
}
