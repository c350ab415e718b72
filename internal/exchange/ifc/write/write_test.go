package write_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	"nogging/internal/exchange/ifc/step"
	"nogging/internal/exchange/ifc/write"
	"nogging/internal/layout"
	"nogging/internal/parts"
	"nogging/internal/plan"
	"nogging/internal/plantest"
)

func input(p *plan.Plan, s write.Schema, simple bool) write.Input {
	cat := catalogue.Shipped()
	pr, ok := cat.PracticeByID(p.Practice)
	if !ok {
		pr, _ = cat.PracticeByID("metric")
	}
	return write.Input{Plan: p, Layout: layout.Of(p, cat, pr), Catalogue: cat, Practice: pr, Schema: s, Simple: simple,
		Proofs: func(string) []write.Verdict { return []write.Verdict{{"Fire", "not proven: no record"}} }}
}

func written(t interface{ Fatal(...any) }, in write.Input) []byte {
	var out bytes.Buffer
	if err := write.Write(&out, in); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

var schemas = map[write.Schema]string{write.IFC4: "IFC4_ADD2_TC1.exp", write.IFC4X3: "IFC4X3_ADD2.exp"}

// TestExpress holds what is written of every situation, and of random plans, against
// the schemas of buildingSMART: entities, number of attributes, their types, items of
// enumerations and selects, sizes of lists; and identifiers are unique.
func TestExpress(t *testing.T) {
	type failer interface{ Fatalf(string, ...any) }
	hold := func(t failer, x *express, in write.Input, what string) {
		var out bytes.Buffer
		if err := write.Write(&out, in); err != nil {
			t.Fatalf("%v", err)
		}
		f := step.Parse(out.Bytes())
		if len(f.Problems()) > 0 {
			t.Fatalf("%s: %v", what, f.Problems()[0])
		}
		x.check(f, func(id step.ID, wrong string) {
			t.Fatalf("%s, %s, simple %v: #%d: %s", what, in.Schema, in.Simple, id, wrong)
		})
		unique(t, f, x, what)
	}
	read := map[write.Schema]*express{}
	for name, file := range schemas {
		read[name] = schema(t, file)
	}
	for _, s := range plantest.Situations() {
		p, _ := s.Plan()
		in := input(p, write.IFC4, false)
		for name, x := range read {
			in.Schema, in.Simple = name, false
			hold(t, x, in, s.Name)
			in.Simple = true
			hold(t, x, in, s.Name)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom([]write.Schema{write.IFC4, write.IFC4X3}).Draw(t, "schema")
		hold(t, read[name], input(plantest.Random(t), name, rapid.Bool().Draw(t, "simple")), "random plan")
	})
}

func unique(t interface{ Fatalf(string, ...any) }, f *step.File, x *express, what string) {
	seen := map[string]step.ID{}
	for _, name := range f.Types() {
		if !x.is(name, "IFCROOT") {
			continue
		}
		for _, id := range f.OfType(name) {
			guid := f.Arg(id, 0).Text()
			if other, twice := seen[guid]; twice || len(guid) != 22 || guid[0] > '3' {
				t.Fatalf("%s: #%d %s has the id %q, which #%d has", what, id, name, guid, other)
			}
			seen[guid] = id
		}
	}
}

// A schema check that finds nothing would prove nothing.
func TestExpressFinds(t *testing.T) {
	x := schema(t, schemas[write.IFC4])
	for _, bad := range []string{
		"#1=IFCDIRECTION((0,0.,1.));", "#1=IFCDIRECTION((0.));", "#1=IFCDIRECTION($);", "#1=IFCDIRECTION((0.,1.),$);",
		"#1=IFCROOT('x',$,$,$);", "#1=IFCSIUNIT(*,.LENGTH.,$,.METRE.);", "#1=IFCPROPERTYSINGLEVALUE('a',$,IFCWORD('b'),$);",
		"#1=IFCSIUNIT($,.LENGTHUNIT.,$,.METRE.);", "#1=IFCDIRECTION((0.,1.));\n#2=IFCLOCALPLACEMENT($,#1);",
	} {
		found := 0
		x.check(step.Parse([]byte("ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\n"+bad+"\nENDSEC;\nEND-ISO-10303-21;\n")), func(step.ID, string) { found++ })
		if found == 0 {
			t.Errorf("nothing wrong with %s", bad)
		}
	}
}

// TestPieces: one occurrence for each part, under its wall, with its mark.
func TestPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plantest.Random(t)
		in := input(p, write.IFC4, false)
		f := step.Parse(written(t, in))
		want, got := map[string]int{}, map[string]int{}
		for _, w := range in.Layout.Walls {
			for _, part := range parts.Of(w, in.Catalogue, in.Practice) {
				want[part.ID]++
			}
		}
		for _, kind := range []string{"IFCMEMBER", "IFCPLATE", "IFCBUILDINGELEMENTPART", "IFCDISCRETEACCESSORY"} {
			for _, id := range f.OfType(kind) {
				got[f.Arg(id, 7).Text()]++
			}
		}
		if len(want) != len(got) || fmt.Sprint(want) != fmt.Sprint(got) {
			t.Fatalf("parts %v, written %v", want, got)
		}
		if n := len(f.OfType("IFCWALL")); n < len(in.Layout.Walls) {
			t.Fatalf("%d walls for %d", n, len(in.Layout.Walls))
		}
	})
}

// TestTexts: strings as ISO 10303-21 codes them come back.
func TestTexts(t *testing.T) {
	p := &plan.Plan{Version: 1, Practice: "metric", Levels: []plan.Level{{ID: "L'1\\", Name: "Étage 木 😀\n2", ClearHeight: 2500e6}}}
	f := step.Parse(written(t, input(p, write.IFC4, false)))
	id := f.OfType("IFCBUILDINGSTOREY")[0]
	if n, l := f.Arg(id, 2).Text(), f.Arg(id, 7).Text(); n != "L'1\\" || l != "Étage 木 😀\n2" {
		t.Errorf("%q %q", n, l)
	}
}

// TestSameIDs: what is written again keeps its ids.
func TestSameIDs(t *testing.T) {
	p, _ := plantest.Situations()[0].Plan()
	if a, b := written(t, input(p, write.IFC4, false)), written(t, input(p, write.IFC4, false)); !bytes.Equal(a, b) {
		t.Error("two writings differ")
	}
}

// TestOtherReader: another reader meshes the same number of pieces, in the same box, of
// the same volume. It is a reader of the npm registry; `make readers` fetches it.
func TestOtherReader(t *testing.T) {
	module, _ := filepath.Abs("../../../../tools/readers/node_modules/web-ifc")
	if _, err := os.Stat(module); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("the reader is missing: make readers")
		}
		t.Skip("no other reader of IFC here: make readers")
	}
	dir := t.TempDir()
	for i, s := range plantest.Situations() {
		if i%6 > 0 {
			continue // a reader's start takes most of the time
		}
		for name := range schemas {
			p, _ := s.Plan()
			in := input(p, name, false)
			if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%02d_%s.ifc", i, name)), written(t, in), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
	out, err := exec.Command("node", "-e", measure, module, dir).Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var got map[string]struct {
		Pieces int
		Volume float64
		Low    [3]float64
		High   [3]float64
	}
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatalf("%v\n%.400s", err, out)
	}
	for i, s := range plantest.Situations() {
		for name := range schemas {
			g, ok := got[fmt.Sprintf("%02d_%s.ifc", i, name)]
			if !ok {
				continue
			}
			p, _ := s.Plan()
			in := input(p, name, false)
			pieces, volume := 0, 0.0
			for _, w := range in.Layout.Walls {
				for k, part := range parts.Of(w, in.Catalogue, in.Practice) {
					if k < len(w.Members) && w.Curve == nil || part.Solid != nil && part.Solid.V.Len() > 0 {
						pieces++
					}
					if part.Solid != nil && part.Kind != parts.Steel {
						area := float64(part.Solid.Outline.Area())
						for _, h := range part.Solid.Holes {
							area -= float64(h.Area())
						}
						volume += area / 1e6 * part.Solid.V.Len().Metres()
					}
				}
			}
			if g.Pieces != pieces {
				t.Errorf("%s, %s: the other reader finds %d pieces, %d were written", s.Name, name, g.Pieces, pieces)
			}
			if d := g.Volume - volume; d > 0.02*volume+1e-4 || d < -0.02*volume-1e-4 {
				t.Errorf("%s, %s: boards and fill of %.4f m³, written were %.4f", s.Name, name, g.Volume, volume)
			}
		}
	}
}

// measure prints, for each file of a folder, how many pieces have a mesh and which
// volume those that are not of steel enclose.
var measure = strings.TrimSpace(`
const [, module, dir] = process.argv, fs = require('fs'), path = require('path');
const ifc = require(path.join(module, 'web-ifc-api-node.js'));
(async () => {
  const api = new ifc.IfcAPI(), result = {};
  await api.Init();
  api.SetLogLevel(ifc.LogLevel.LOG_LEVEL_OFF);
  for (const file of fs.readdirSync(dir)) {
    const model = api.OpenModel(new Uint8Array(fs.readFileSync(path.join(dir, file))));
    let pieces = 0, volume = 0;
    for (const kind of [ifc.IFCMEMBER, ifc.IFCPLATE, ifc.IFCBUILDINGELEMENTPART, ifc.IFCDISCRETEACCESSORY]) {
      const ids = api.GetLineIDsWithType(model, kind);
      for (let i = 0; i < ids.size(); i++) {
        const mesh = api.GetFlatMesh(model, ids.get(i));
        if (mesh.geometries.size() === 0) continue;
        pieces++;
        if (kind === ifc.IFCMEMBER) continue;
        for (let k = 0; k < mesh.geometries.size(); k++) {
          const placed = mesh.geometries.get(k), g = api.GetGeometry(model, placed.geometryExpressID);
          const v = api.GetVertexArray(g.GetVertexData(), g.GetVertexDataSize()), f = api.GetIndexArray(g.GetIndexData(), g.GetIndexDataSize());
          let six = 0;
          for (let n = 0; n < f.length; n += 3) {
            const [a, b, c] = [f[n] * 6, f[n + 1] * 6, f[n + 2] * 6];
            six += v[a] * (v[b + 1] * v[c + 2] - v[b + 2] * v[c + 1]) - v[a + 1] * (v[b] * v[c + 2] - v[b + 2] * v[c]) + v[a + 2] * (v[b] * v[c + 1] - v[b + 1] * v[c]);
          }
          const m = placed.flatTransformation;
          const det = m[0] * (m[5] * m[10] - m[6] * m[9]) - m[4] * (m[1] * m[10] - m[2] * m[9]) + m[8] * (m[1] * m[6] - m[2] * m[5]);
          volume += Math.abs(six / 6 * det);
        }
      }
    }
    api.CloseModel(model);
    result[file] = { Pieces: pieces, Volume: volume };
  }
  console.log(JSON.stringify(result));
})()`)
