package app_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/app"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/takeoff"
)

var update = flag.Bool("update", false, "write golden files anew; look at the difference before accepting it")

// TestStarterGolden lists every member, piece and quantity of the starter plan.
func TestStarterGolden(t *testing.T) {
	j, err := app.Open("starter.yaml", func(string) ([]byte, error) { return plan.Starter(), nil })
	if err != nil {
		t.Fatal(err)
	}
	j.Build(app.Quiet)
	var out bytes.Buffer
	for _, w := range j.Layout.Walls {
		list(&out, w)
	}
	if err := takeoff.WriteCSV(&out, j.Takeoff); err != nil {
		t.Fatal(err)
	}
	const name = "testdata/starter.golden"
	if *update {
		if err := os.WriteFile(name, out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), out.String()); diff != "" {
		t.Errorf("run with -update if this is meant:\n%s", diff)
	}
}

// list writes a wall's parts as a person would check them.
func list(out *bytes.Buffer, w *layout.Wall) {
	fmt.Fprintf(out, "%s %s, %s thick, %s to %s\n", w.ID, w.BuildUp, w.Thickness, w.Ends[0].Kind, w.Ends[1].Kind)
	for i := range w.Members {
		m := &w.Members[i]
		fmt.Fprintf(out, "  %s %-13s %-5s %6s  at %s, %s  (%s)\n", m.Mark(), m.Role, m.Product, m.Cut, m.From.X, m.From.Y, m.Rule)
	}
	for _, f := range w.Faces {
		for k := range f.Layers {
			for i := range f.Layers[k].Pieces {
				p := &f.Layers[k].Pieces[i]
				fmt.Fprintf(out, "  %s %s %s x %s, %d corners\n", layout.PieceMark(f.Face, k, p), p.Board, p.Width, p.Height, len(p.Outline))
			}
		}
	}
}
