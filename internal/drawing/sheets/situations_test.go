package sheets_test

import (
	"cmp"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/drawing"
	"nogging/internal/drawing/sheets"
	"nogging/internal/drawing/svg"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/plantest"
)

var svgFolder = flag.String("situations", "", "folder into which the drawing of every situation is written")

// TestSituations compares, for every situation, what is laid out and what its
// details show with the words that were accepted for it. The words name parts,
// sizes and places; the drawings are for looking at (make situations).
func TestSituations(t *testing.T) {
	for _, s := range plantest.Situations() {
		t.Run(s.Name, func(t *testing.T) {
			p, found := s.Plan()
			cat := catalogue.Shipped()
			pr, _ := cat.PracticeByID(p.Practice)
			in := sheets.Input{Plan: p, Catalogue: cat, Practice: pr, Layout: layout.Of(p, cat, pr)}
			set := sheets.New(in)
			checkSheets(t, set.Details())
			if *svgFolder != "" {
				writeSVG(t, filepath.Join(*svgFolder, s.Name+".svg"), set.Overview())
			}
			text := append(digest(in.Layout, found), set.DigestDetails()...)
			compare(t, filepath.Join("situations", s.Name+".txt"), []byte("# "+s.What+"\n"+strings.Join(text, "\n")+"\n"))
		})
	}
}

func writeSVG(t *testing.T, file string, s *drawing.Scene) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, svg.Append(nil, s), 0o644); err != nil {
		t.Fatal(err)
	}
}

// digest says in words where every part of a layout is; lengths in mm.
func digest(p *layout.Project, found finding.List) []string {
	var out []string
	for _, f := range slices.Concat(found, p.Findings) {
		out = append(out, fmt.Sprintf("finding: %s %s: %s %s", f.Severity, f.Code, f.Object, f.What))
	}
	for _, j := range p.Junctions {
		out = append(out, fmt.Sprintf("junction %s: %s", j.Kind, strings.Join(j.Walls, ", ")))
	}
	for _, w := range p.Walls {
		out = append(out, digestWall(w)...)
	}
	return out
}

func digestWall(w *layout.Wall) []string {
	out := []string{fmt.Sprintf("wall %s: %s long, %s thick, head %s, gap %s, from %s %s to %s %s", w.ID, short(w.Line.Length()), short(w.Thickness),
		w.Head.Kind, short(w.Head.Gap), w.Ends[0].Kind, w.Ends[0].With, w.Ends[1].Kind, w.Ends[1].With)}
	for _, f := range w.Findings {
		out = append(out, fmt.Sprintf("  finding: %s %s: %s %s", f.Severity, f.Code, f.Object, f.What))
	}
	for i, l := range w.FrameLines {
		out = append(out, fmt.Sprintf("  frame %d at %s across, %s–%s", i, short(l.Offset), short(l.Extent.From), short(l.Extent.To)))
	}
	for _, o := range w.Openings {
		out = append(out, fmt.Sprintf("  %s %s: %s–%s, %s to %s high; %s", o.Kind, o.ID, short(o.U.From), short(o.U.To), short(o.Sill), short(o.Head), o.Rule))
	}
	out = append(out, digestMembers(w)...)
	for _, g := range w.Gussets {
		out = append(out, fmt.Sprintf("  gusset %s at %s, %s: %s × %s", g.Board, short(g.At.X), short(g.At.Y), short(g.Width), short(g.Height)))
	}
	for _, f := range w.Faces {
		for k, l := range f.Layers {
			for i := range l.Pieces {
				b := l.Pieces[i].Outline.Bounds()
				out = append(out, fmt.Sprintf("  board %s %s: %s–%s, %s to %s high, %d corners", layout.PieceMark(f.Face, k, &l.Pieces[i]), l.Board,
					short(b.Min.X), short(b.Max.X), short(b.Min.Y), short(b.Max.Y), len(l.Pieces[i].Outline)))
			}
		}
	}
	for _, c := range w.Caps {
		out = append(out, fmt.Sprintf("  %s %s at %s, %s: %s × %s", c.Use, c.Board, short(c.At.X), short(c.At.Y), short(c.Width), short(c.Height)))
	}
	return append(out, totals(w)...)
}

// digestMembers lists members of one kind and height on one line.
func digestMembers(w *layout.Wall) []string {
	var keys []string
	at := map[string][]string{}
	for i := range w.Members {
		m := &w.Members[i]
		key := fmt.Sprintf("  frame %d %s %s at %s", m.Line, m.Role, m.Product, short(m.From.Y))
		place := short(m.From.X) + "–" + short(m.To.X)
		if m.Upright() {
			key = fmt.Sprintf("  frame %d %s %s, %s to %s high", m.Line, m.Role, m.Product, short(m.From.Y), short(m.To.Y))
			place = short(m.From.X)
		}
		if at[key] == nil {
			keys = append(keys, key)
		}
		at[key] = append(at[key], place)
	}
	slices.Sort(keys)
	for i, k := range keys {
		keys[i] = k + ": " + strings.Join(at[k], " ")
	}
	return keys
}

// totals sums what is listed by length, number or area, by kind.
func totals(w *layout.Wall) []string {
	sum := map[string]float64{}
	for _, j := range w.Joints {
		sum[fmt.Sprintf("  joint %s, m", j.Kind)] += j.From.Dist(j.To).Metres()
	}
	for _, s := range w.Screws {
		sum["  "+s.Screw+", pieces"] += float64(s.Count)
	}
	for _, a := range w.Anchors {
		sum["  "+a.Anchor+" into "+a.Into+", pieces"] += float64(a.Count)
	}
	for _, s := range slices.Concat(w.Seals, w.Beads) {
		sum["  "+s.Product+" "+s.Use+", m"] += s.From.Dist(s.To).Metres()
	}
	for i := range w.Batts {
		sum["  "+w.Batts[i].Product+", m²"] += w.Batts[i].Area().SquareMetres()
	}
	var out []string
	for _, k := range slices.SortedFunc(maps.Keys(sum), cmp.Compare[string]) {
		out = append(out, fmt.Sprintf("%s: %.4g", k, sum[k]))
	}
	return out
}

// short writes a length to a tenth of a mm.
func short(v layout.Length) string { return v.Round(tenthMM).String() }

const tenthMM = mm / 10
