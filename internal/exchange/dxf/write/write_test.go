package write_test

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	"nogging/internal/exchange/dxf"
	"nogging/internal/exchange/dxf/write"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/quantity"
)

func written(t rapid.TB, p *plan.Plan) ([]byte, *layout.Project) {
	t.Helper()
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	laid := layout.Of(p, cat, pr)
	var out bytes.Buffer
	if err := write.Write(&out, write.Input{Plan: p, Layout: laid, Catalogue: cat, Practice: pr}); err != nil {
		t.Fatal(err)
	}
	return out.Bytes(), laid
}

// Walls that are written and read again lie where they did and are as thick, to 0.1 mm.
func TestRoundTrip(t *testing.T) {
	p := plantest.Offices(40)
	data, laid := written(t, p)
	m := dxf.Mapping{Unit: "mm"}
	_, stats, _ := m.Read("walls.dxf", data)
	for _, l := range stats.Layers {
		l.As = dxf.Other
		if l.Layer == "X-220---E-N01---0" {
			l.As = dxf.Partition
		}
		m.Layers = append(m.Layers, l)
	}
	back, _, _ := m.Read("walls.dxf", data)
	const near = quantity.Millimetre / 10
	for _, w := range laid.Walls {
		if w.Level != p.Levels[0].ID {
			continue
		}
		middle := w.Point(w.Frame.Local(w.Line.B).X/2, 0)
		found := false
		for _, r := range back.Walls {
			line := geom.Segment{A: geom.Point(r.Line[0]), B: geom.Point(r.Line[1])}
			found = found || (r.Thickness-w.Thickness).Abs() <= near && line.Nearest(middle).Dist(middle) <= near
		}
		if !found {
			t.Errorf("%s, %s thick, was not read again", w.ID, w.Thickness)
		}
	}
}

// audit asks ezdxf (Debian's python3-ezdxf) what it makes of the file.
const audit = `
import sys, json, collections, ezdxf
doc = ezdxf.readfile(sys.argv[1]); a = doc.audit(); m = doc.modelspace()
outlines = [e for e in m if e.dxftype() == "LWPOLYLINE" and e.dxf.layer == "X-221---E-N01---0"]
print(json.dumps({"version": doc.dxfversion, "units": doc.units, "errors": [e.message for e in a.errors], "fixes": [e.message for e in a.fixes],
  "tracks": len(outlines), "dimensions": [d.get_measurement() for d in m.query("DIMENSION")], "marks": [e.dxf.text for e in m.query("TEXT")]}))
`

// A reader that is not ours finds no error in the file, and in it the tracks, marks and
// lengths that were laid out.
func TestAudit(t *testing.T) {
	python := ""
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(name, "-c", "import ezdxf").Run() == nil {
			python = name
			break
		}
	}
	if python == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("python3-ezdxf is not installed")
		}
		t.Skip("python3-ezdxf is not installed: the drawing was not read by another program")
	}
	p := plantest.Offices(20)
	data, laid := written(t, p)
	name := filepath.Join(t.TempDir(), "walls.dxf")
	if err := os.WriteFile(name, data, 0o600); err != nil {
		t.Fatal(err)
	}
	text, err := exec.Command(python, "-c", audit, name).Output()
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Version       string
		Units, Tracks int
		Errors, Fixes []string
		Dimensions    []float64
		Marks         []string
	}
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	if got.Version != "AC1015" || got.Units != 4 || len(got.Errors)+len(got.Fixes) > 0 {
		t.Errorf("version %s, units %d, errors %v, fixes %v", got.Version, got.Units, got.Errors, got.Fixes)
	}
	tracks, marks := 0, " "+strings.Join(got.Marks, " ")+" "
	for _, w := range laid.Walls {
		if w.Level != p.Levels[0].ID {
			continue
		}
		for _, l := range w.FrameLines {
			tracks++
			for _, o := range w.Openings {
				if o.Sill <= 0 && o.U.Overlaps(l.Extent) {
					tracks++ // a door parts it
				}
			}
		}
		if !strings.Contains(marks, " "+w.ID+" ") {
			t.Errorf("the mark %s is missing", w.ID)
		}
		length, found := w.FrameLines[0].Extent.Len().MM(), false
		for _, d := range got.Dimensions {
			found = found || d-length < 0.001 && length-d < 0.001
		}
		if !found {
			t.Errorf("no dimension says %.1f, the length of %s", length, w.ID)
		}
	}
	if got.Tracks != tracks {
		t.Errorf("%d tracks, want %d", got.Tracks, tracks)
	}
}
