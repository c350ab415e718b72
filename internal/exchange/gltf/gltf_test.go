package gltf_test

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	_ "nogging/internal/draws"
	"nogging/internal/exchange/gltf"
	"nogging/internal/layout"
	"nogging/internal/parts"
	"nogging/internal/plan"
	"nogging/internal/plantest"
)

// glb is what a test reads of a file, by the specification and not by our types.
type glb struct {
	Nodes []struct {
		Name        string
		Children    []int
		Mesh        *int
		Translation []float64
		Rotation    []float64
		Extras      map[string]any
	}
	Meshes []struct {
		Primitives []struct {
			Attributes map[string]int
			Indices    int
		}
	}
	Accessors []struct {
		BufferView, ComponentType, Count int
		Min, Max                         []float64
	}
	BufferViews []struct{ ByteOffset, ByteLength int }
	Scenes      []struct{ Nodes []int }
	data        []byte
}

func written(t interface{ Fatal(...any) }, p *plan.Plan) ([]byte, *layout.Project, *catalogue.Catalogue, *catalogue.Practice) {
	cat := catalogue.Shipped()
	pr, ok := cat.PracticeByID(p.Practice)
	if !ok {
		pr, _ = cat.PracticeByID("metric")
	}
	laid := layout.Of(p, cat, pr)
	var out bytes.Buffer
	if err := gltf.Write(&out, p, laid.Walls, cat, pr); err != nil {
		t.Fatal(err)
	}
	return out.Bytes(), laid, cat, pr
}

func read(t interface{ Fatal(...any) }, data []byte) *glb {
	if string(data[:4]) != "glTF" || binary.LittleEndian.Uint32(data[4:]) != 2 || int(binary.LittleEndian.Uint32(data[8:])) != len(data) {
		t.Fatal("no header of glTF 2.0")
	}
	n := int(binary.LittleEndian.Uint32(data[12:]))
	g := &glb{}
	if err := json.Unmarshal(data[20:20+n], g); err != nil {
		t.Fatal(err)
	}
	if rest := data[20+n:]; len(rest) > 8 {
		g.data = rest[8:]
	}
	return g
}

// volume is the volume that the triangles of a mesh enclose, by the divergence theorem.
func (g *glb) volume(mesh int) float64 {
	p := g.Meshes[mesh].Primitives[0]
	points, faces := g.Accessors[p.Attributes["POSITION"]], g.Accessors[p.Indices]
	at := func(i int) (v [3]float64) {
		o := g.BufferViews[points.BufferView].ByteOffset + 12*int(binary.LittleEndian.Uint32(g.data[g.BufferViews[faces.BufferView].ByteOffset+4*i:]))
		for k := range v {
			v[k] = float64(math.Float32frombits(binary.LittleEndian.Uint32(g.data[o+4*k:])))
		}
		return v
	}
	sum := 0.0
	for i := 0; i < faces.Count; i += 3 {
		a, b, c := at(i), at(i+1), at(i+2)
		sum += a[0]*(b[1]*c[2]-b[2]*c[1]) - a[1]*(b[0]*c[2]-b[2]*c[0]) + a[2]*(b[0]*c[1]-b[1]*c[0])
	}
	return sum / 6
}

// TestVolumes: each part is there under its wall and encloses the area of its outline
// less its holes times its depth; on curved walls it is within the sagitta of that.
func TestVolumes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plantest.Random(t)
		data, laid, cat, pr := written(t, p)
		g := read(t, data)
		nodes := map[string]int{}
		for i, n := range g.Nodes {
			if _, ok := n.Extras["wall"]; ok {
				nodes[n.Name] = i
			}
		}
		for _, w := range laid.Walls {
			var want []parts.Part
			for _, part := range parts.Of(w, cat, pr) {
				if part.Solid != nil {
					want = append(want, part)
				}
			}
			children := g.Nodes[nodes[w.ID]].Children
			if len(children) != len(want) {
				t.Fatalf("%s: %d nodes for %d parts", w.ID, len(children), len(want))
			}
			for i, part := range want {
				n := g.Nodes[children[i]]
				area := float64(part.Solid.Outline.Area())
				for _, h := range part.Solid.Holes {
					area -= float64(h.Area())
				}
				vol := area / 1e6 * part.Solid.V.Len().Metres()
				if n.Mesh == nil {
					if vol > 1e-9 {
						t.Fatalf("%s %s is not shown", w.ID, part.ID)
					}
					continue
				}
				got := g.volume(*n.Mesh)
				b := part.Solid.Outline.Bounds()
				wide, high, deep := (b.Max.X - b.Min.X).Metres(), (b.Max.Y - b.Min.Y).Metres(), part.Solid.V.Len().Metres()
				allowed := 2e-5*(wide*high+high*deep+deep*wide) + 1e-9 // corners are rounded to a hundredth of a millimetre
				if w.Curve != nil {
					allowed = 0.3*vol + 1e-5 // u is measured on the axis, off which the part lies
				}
				if n.Name != part.ID || math.Abs(got-vol) > allowed {
					t.Fatalf("%s %s: encloses %g m³, want %g (node %s)", w.ID, part.ID, got, vol, n.Name)
				}
			}
		}
	})
}

// TestPlace: a part of a known wall stands where the plan puts it, after all turns.
func TestPlace(t *testing.T) {
	p, _, found := plan.Read("x.yaml", []byte(`nogging: 1
practice: metric
levels: [{id: L1, clear_height: 2500, elevation: 3000, floor: concrete, soffit: concrete}]
buildups: [{id: W, frame: {kind: single, stud: CW75}, face_a: [GKB-12.5]}]
walls: [{id: L1-01, level: L1, line: [[500000, 0], [500000, 4000]], buildup: W, start: structure, end: structure}]
`))
	if len(found) > 0 {
		t.Fatal(found)
	}
	data, _, _, _ := written(t, p)
	g := read(t, data)
	low, high := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}, [3]float64{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	var walk func(n int, m func([3]float64) [3]float64)
	walk = func(n int, m func([3]float64) [3]float64) {
		node := g.Nodes[n]
		local := func(v [3]float64) [3]float64 {
			if q := node.Rotation; q != nil {
				v = turned(v, q)
			}
			for k, d := range node.Translation {
				v[k] += d
			}
			return m(v)
		}
		if node.Mesh != nil {
			a := g.Accessors[g.Meshes[*node.Mesh].Primitives[0].Attributes["POSITION"]]
			for corner := range 8 {
				var v [3]float64
				for k := range v {
					v[k] = a.Min[k]
					if corner>>k&1 == 1 {
						v[k] = a.Max[k]
					}
				}
				for k, x := range local(v) {
					low[k], high[k] = min(low[k], x), max(high[k], x)
				}
			}
		}
		for _, c := range node.Children {
			walk(c, local)
		}
	}
	walk(g.Scenes[0].Nodes[0], func(v [3]float64) [3]float64 { return v })
	// y is up; plan north is -z. The scene's zero is the middle of the walls' starts.
	want := [6]float64{-0.05, 3, -4, 0.05, 5.5, 0}
	for k, x := range [6]float64{low[0], low[1], low[2], high[0], high[1], high[2]} {
		if math.Abs(x-want[k]) > 0.012 { // gaps at floor, soffit and ends
			t.Errorf("axis %d: %g, want %g", k, x, want[k])
		}
	}
}

// turned turns a vector by a unit quaternion x, y, z, w.
func turned(v [3]float64, q []float64) [3]float64 {
	cross := func(a, b [3]float64) [3]float64 {
		return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
	}
	u := [3]float64{q[0], q[1], q[2]}
	t := cross(u, v)
	for k := range t {
		t[k] = 2 * (t[k])
	}
	s := cross(u, t)
	for k := range v {
		v[k] += q[3]*t[k] + s[k]
	}
	return v
}

// TestValidator holds the files against the validator that belongs to the format, where
// `make readers` has fetched it.
func TestValidator(t *testing.T) {
	module, _ := filepath.Abs("../../../tools/readers/node_modules/gltf-validator")
	if _, err := os.Stat(module); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("the validator is missing: make readers")
		}
		t.Skip("no validator of glTF here: make readers")
	}
	dir := t.TempDir()
	for i, s := range plantest.Situations() {
		p, _ := s.Plan()
		data, _, _, _ := written(t, p)
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%02d.glb", i)), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	out, err := exec.Command("node", "-e", validate, module, dir).CombinedOutput()
	if err != nil {
		t.Errorf("%s", out)
	}
}

// validate tells the errors and warnings of each file of a folder.
const validate = `
const [, module, dir] = process.argv, validator = require(module), fs = require('fs');
(async () => {
  for (const file of fs.readdirSync(dir)) {
    const { issues } = await validator.validateBytes(new Uint8Array(fs.readFileSync(dir + '/' + file)), { maxIssues: 5 });
    if (issues.numErrors + issues.numWarnings > 0) { console.log(file, JSON.stringify(issues.messages)); process.exitCode = 1; }
  }
})()`
