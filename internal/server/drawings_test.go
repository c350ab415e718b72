package server_test

import (
	"encoding/json"
	"strings"
	"testing"
)

// plainDrawing is one wall of two lines, 100 mm apart on layer X.
const plainDrawing = "0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nX\n10\n0\n20\n0\n11\n3000\n21\n0\n0\nLINE\n8\nX\n10\n0\n20\n100\n11\n3000\n21\n100\n0\nENDSEC\n0\nEOF\n"

// A drawing is read by what was said of it and nothing is stored; what is none, or is
// too large, is refused.
func TestDrawings(t *testing.T) {
	s := newSite(t)
	var read struct {
		Plan struct {
			Walls []struct{ Thickness float64 }
		}
		Stats struct {
			Unit   string
			Layers []struct{ Layer, As string }
		}
		Mapping string
	}
	for mapping, thick := range map[string]float64{`{}`: 100, `{"unit":"cm","layers":[{"layer":"X","as":"wall"}]}`: 0} {
		a := s.ask("POST", "/api/drawings?name=a.dxf", mapping+"\n"+plainDrawing)
		a.want(t, 200)
		read.Plan.Walls = nil
		if err := json.Unmarshal([]byte(a.body), &read); err != nil {
			t.Fatal(err)
		}
		if len(read.Plan.Walls) == 1 != (thick > 0) || thick > 0 && read.Plan.Walls[0].Thickness != thick {
			t.Errorf("%s: %s", mapping, a.body)
		}
	}
	a := s.ask("POST", "/api/drawings?name=a.dxf", "{}\nno drawing")
	a.want(t, 422)
	if !strings.Contains(a.body, "export the plan as .dxf") {
		t.Error(a.body)
	}
	s.ask("POST", "/api/drawings?name=a.dxf", `{"layers": [{"layer": "X", "as": "walls"}]}`+"\n"+plainDrawing).want(t, 200) // told among the findings
	s.ask("POST", "/api/drawings?name=a.dxf", strings.Repeat(" ", 9<<20)+"\n"+plainDrawing).want(t, 413)
	s.ask("POST", "/api/drawings?name=a.dxf", "{}\n"+plainDrawing, "Origin", "http://evil.example").want(t, 403)
	if list := s.ask("GET", "/api/projects", ""); list.body != "[]" {
		t.Errorf("something was stored: %s", list.body)
	}
}

// A file of layers is read as the command line writes it.
func TestDrawingLayers(t *testing.T) {
	s := newSite(t)
	a := s.ask("POST", "/api/drawings/layers?name=layers.yaml", "unit: m\nlayers:\n  - {layer: A-WALL, as: structure}\n")
	a.want(t, 200)
	if want := `{"unit":"m","layers":[{"layer":"A-WALL","as":"structure"}]}`; a.body != want {
		t.Errorf("got %s", a.body)
	}
	s.ask("POST", "/api/drawings/layers?name=layers.yaml", "layers: [{layer: A, as: walls}]").want(t, 422)
}
