package dxf_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"nogging/internal/exchange/dxf"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// sample reads a sample drawing, which lies beside the repository. Where they are
// missing the test is skipped, but not on the build server.
func sample(t testing.TB, name string) []byte {
	t.Helper()
	path := filepath.Join("..", "..", "..", "..", "shared", "data", "plans", "open", name)
	data, err := os.ReadFile(path)
	if err != nil && os.Getenv("CI") != "true" {
		t.Skipf("the sample drawings are not there: %v", err)
	}
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// drawn is a wall as a person, or the reader, sees it, in mm.
type drawn struct {
	geom.Segment
	thickness plan.Length
}

// table reads the rows of a truth file.
func table(t *testing.T, name string) [][]string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	in := csv.NewReader(bytes.NewReader(text))
	in.Comment = '#'
	rows, err := in.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func scaled(t *testing.T, cell string, unit quantity.Length) quantity.Length {
	t.Helper()
	f, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		t.Fatal(err)
	}
	return quantity.Length(f * float64(unit))
}

// truth reads walls that a person took from a drawing.
func truth(t *testing.T, name string, unit quantity.Length) []drawn {
	t.Helper()
	var all []drawn
	for _, row := range table(t, name) {
		var v [5]quantity.Length
		for i, cell := range row {
			v[i] = scaled(t, cell, unit)
		}
		all = append(all, drawn{geom.Segment{A: geom.Pt(v[0], v[1]), B: geom.Pt(v[2], v[3])}, v[4]})
	}
	return all
}

// wallsOf returns the walls of a plan, partitions and structure.
func wallsOf(p *plan.Plan) []drawn {
	var all []drawn
	for _, w := range p.Walls {
		all = append(all, drawn{geom.Segment{A: geom.Point(w.Line[0]), B: geom.Point(w.Line[1])}, w.Thickness})
	}
	for _, s := range p.Structure {
		if len(s.Line) == 2 {
			all = append(all, drawn{geom.Segment{A: geom.Point(s.Line[0]), B: geom.Point(s.Line[1])}, s.Thickness})
		}
	}
	return all
}

// covered returns the share of the length of some walls beside which others lie, on
// the same line to 25 mm and of the same thickness to 10 mm.
func covered(walls, by []drawn) float64 {
	const step = 50 * quantity.Millimetre
	all, hit := 0, 0
	for _, w := range walls {
		n := max(1, int(w.Length()/step))
		for i := range n {
			share := (float64(i) + 0.5) / float64(n)
			d := w.B.Sub(w.A)
			p := geom.Pt(w.A.X+quantity.Length(share*float64(d.X)), w.A.Y+quantity.Length(share*float64(d.Y)))
			all++
			for _, o := range by {
				turn := w.Dir().Cross(o.Dir())
				if (w.thickness-o.thickness).Abs() <= 10*quantity.Millimetre && turn*turn < 0.001 && o.Nearest(p).Dist(p) <= 25*quantity.Millimetre {
					hit++
					break
				}
			}
		}
	}
	return float64(hit) / float64(max(all, 1))
}

// The walls that are found are those that a person took from the drawings by hand:
// recall is the share of the length of true walls that was found, precision the share
// of the length found that is true. The figures are what the reader reaches, rounded
// down; a change must not make them worse.
func TestPrecisionAndRecall(t *testing.T) {
	for _, c := range []struct {
		file, truth       string
		unit              quantity.Length
		moved             geom.Point // of the plan in the file
		mute              bool       // the names of layers are taken away
		precision, recall float64
	}{
		{"dxf2013_barcelona_plan.dxf", "barcelona.csv", quantity.Metre, geom.Point{}, false, 0.99, 0.96},
		{"dxf2004_house_aia_layers.dxf", "aia.csv", quantity.Inch, geom.Point{}, false, 0.99, 0.99},
		{"dxf2000_house_door_inserts.dxf", "stonehouse.csv", quantity.Metre, geom.Point{}, false, 0.93, 0.97},
		{"dxfR12_barcelona_in_blocks.dxf", "barcelona.csv", quantity.Metre, geom.Pt(47_840*quantity.Millimetre, -15_160*quantity.Millimetre), false, 0.96, 0.96},
		{"dxf2013_barcelona_plan.dxf", "barcelona.csv", quantity.Metre, geom.Point{}, true, 0.99, 0.96},
		{"dxf2004_house_aia_layers.dxf", "aia.csv", quantity.Inch, geom.Point{}, true, 0.99, 0.99},
		{"dxf2000_house_door_inserts.dxf", "stonehouse.csv", quantity.Metre, geom.Point{}, true, 0.93, 0.97},
	} {
		t.Run(fmt.Sprintf("%s, mute %t", c.file, c.mute), func(t *testing.T) {
			data := sample(t, c.file)
			if c.mute {
				data = mute(data)
			}
			p, _, _ := dxf.Mapping{}.Read(c.file, data)
			want, got := truth(t, c.truth, c.unit), wallsOf(p)
			for i := range want {
				want[i].A, want[i].B = want[i].A.Add(c.moved), want[i].B.Add(c.moved)
			}
			precision, recall := covered(got, want), covered(want, got)
			t.Logf("%d walls by hand, %d found: precision %.3f, recall %.3f", len(want), len(got), precision, recall)
			if precision < c.precision || recall < c.recall {
				t.Errorf("precision %.3f and recall %.3f, want %.2f and %.2f", precision, recall, c.precision, c.recall)
			}
			if testing.Verbose() {
				for _, w := range want {
					if s := covered([]drawn{w}, got); s < 0.8 {
						t.Logf("missed: %v %s (%.2f)", w.Segment, w.thickness, s)
					}
				}
				for _, w := range got {
					if s := covered([]drawn{w}, want); s < 0.8 {
						t.Logf("false: %v %s (%.2f)", w.Segment, w.thickness, s)
					}
				}
			}
		})
	}
}

// mute gives the layers of a text file names that say nothing.
func mute(data []byte) []byte {
	lines := strings.Split(string(data), "\n")
	names := map[string]string{}
	kind := ""
	for i := 0; i+1 < len(lines); i += 2 {
		code, value := strings.TrimSpace(lines[i]), strings.TrimSpace(lines[i+1])
		if code == "0" {
			kind = value
		}
		if code == "8" || code == "2" && kind == "LAYER" {
			if names[value] == "" {
				names[value] = fmt.Sprintf("L%d", len(names)+1)
			}
			lines[i+1] = names[value]
		}
	}
	return []byte(strings.Join(lines, "\n"))
}

// Openings are found where a person reads them, to 50 mm, as wide to 25 mm; most are
// known for what they are.
func TestOpenings(t *testing.T) {
	const file = "dxf2004_house_aia_layers.dxf"
	p, stats, _ := dxf.Mapping{}.Read(file, sample(t, file))
	rows := table(t, "aia_openings.csv")
	hit, kind := 0, 0
	for _, row := range rows {
		at, width := geom.Pt(scaled(t, row[0], quantity.Inch), scaled(t, row[1], quantity.Inch)), scaled(t, row[2], quantity.Inch)
		for _, w := range p.Walls {
			frame := geom.FrameOf(geom.Segment{A: geom.Point(w.Line[0]), B: geom.Point(w.Line[1])})
			for _, o := range w.Openings {
				if frame.Global(o.At+o.Width/2, 0).Dist(at) <= 50*quantity.Millimetre && (o.Width-width).Abs() <= 25*quantity.Millimetre {
					hit++
					if string(o.Kind) == row[3] {
						kind++
					} else {
						t.Logf("%v, %s wide, is a %s and was read as a %s", at, width, row[3], o.Kind)
					}
				}
			}
		}
	}
	t.Logf("%d openings by hand, %d found, %d of them true, %d of their kind", len(rows), stats.Openings, hit, kind)
	if hit != len(rows) || stats.Openings != len(rows) || kind < 24 {
		t.Errorf("of %d openings %d were found and %d known for what they are; %d were found in all", len(rows), hit, kind, stats.Openings)
	}
}
