package gltf_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"nogging/internal/layout"
	"nogging/internal/parts"
	"nogging/internal/plantest"
)

// TestOtherReader: the reader that pages show such scenes with finds as many pieces as
// were laid out, each as long, wide and high, and the whole as high as it is; the
// validator counts as many triangles.
func TestOtherReader(t *testing.T) {
	readers, _ := filepath.Abs("../../../tools/readers/node_modules")
	if _, err := os.Stat(filepath.Join(readers, "three")); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("the reader is missing: make readers")
		}
		t.Skip("no other reader of glTF here: make readers")
	}
	dir := t.TempDir()
	want := map[string][][3]float64{}
	triangles := map[string]int{}
	for i, s := range plantest.Situations() {
		p, _ := s.Plan()
		data, laid, cat, pr := written(t, p)
		if slices.ContainsFunc(laid.Walls, func(w *layout.Wall) bool { return w.Curve != nil }) {
			continue // parts of curved walls are bent: TestVolumes
		}
		name := fmt.Sprintf("%02d.glb", i)
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
		want[name] = [][3]float64{}
		for _, w := range laid.Walls {
			for _, part := range parts.Of(w, cat, pr) {
				if part.Solid == nil || len(part.Solid.Mesh().Faces) == 0 {
					continue
				}
				b := part.Solid.Outline.Bounds()
				want[name] = append(want[name], [3]float64{(b.Max.X - b.Min.X).MM(), part.Solid.V.Len().MM(), (b.Max.Y - b.Min.Y).MM()})
			}
		}
		g := read(t, data)
		for _, m := range g.Meshes {
			triangles[name] += g.Accessors[m.Primitives[0].Indices].Count / 3
		}
	}
	out, err := exec.Command("node", "--input-type=module", "-e", look, "-", readers, dir).Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var got map[string]struct {
		Sizes     [][3]float64
		Triangles int
	}
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatalf("%v\n%.300s", err, out)
	}
	for name, sizes := range want {
		left := got[name].Sizes
		if len(left) != len(sizes) {
			t.Errorf("%s: %d pieces, want %d", name, len(left), len(sizes))
		}
		for _, size := range sizes {
			i := slices.IndexFunc(left, func(g [3]float64) bool { return same(g, size) })
			if i < 0 {
				t.Errorf("%s: no piece of %.2f mm is left", name, size)
				continue
			}
			left = slices.Delete(left, i, i+1)
		}
		if got[name].Triangles != triangles[name] {
			t.Errorf("%s: %d triangles, written were %d", name, got[name].Triangles, triangles[name])
		}
	}
}

// same compares sizes in metres, as read, with those in millimetres, as laid out: corners
// are written to a hundredth of a millimetre.
func same(read, laid [3]float64) bool {
	for i := range read {
		if math.Abs(1000*read[i]-laid[i]) > 0.03 {
			return false
		}
	}
	return true
}

// look prints the size of each piece of each file, in its wall's own directions.
const look = `
import fs from 'fs';
import { createRequire } from 'module';
const [, , readers, dir] = process.argv;
globalThis.self = globalThis;
const { GLTFLoader } = await import(readers + '/three/examples/jsm/loaders/GLTFLoader.js');
const validator = createRequire(readers + '/')('gltf-validator');
const all = {};
for (const file of fs.readdirSync(dir)) {
  const data = fs.readFileSync(dir + '/' + file);
  const Triangles = (await validator.validateBytes(new Uint8Array(data))).info.totalTriangleCount;
  const { scene } = await new GLTFLoader().parseAsync(data.buffer.slice(data.byteOffset, data.byteOffset + data.length), '');
  const Sizes = [];
  scene.traverse((o) => {
    if (!o.isMesh) return;
    o.geometry.computeBoundingBox();
    const { min, max } = o.geometry.boundingBox;
    Sizes.push([max.x - min.x, max.y - min.y, max.z - min.z]);
  });
  all[file] = { Sizes, Triangles };
}
console.log(JSON.stringify(all));`
