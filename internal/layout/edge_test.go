package layout_test

import (
	"testing"

	"nogging/internal/layout"
	"nogging/internal/plan"
)

// TestEdges: a full board keeps both its tapered edges; the starter and the last
// piece of a face keep the one towards the next piece, so that their cut edges lie
// at the wall's ends and every joint between is of two tapered edges (common
// practice: cut edges are bevelled and filled with more care, so they are kept out
// of joints).
func TestEdges(t *testing.T) {
	w := lay(t, 3600*mm, 2500*mm, plan.Wall{}, single("W", "GKB-12.5"), nil)
	const f, c = layout.Factory, layout.CutEdge
	want := map[plan.Face][][2]layout.EdgeKind{
		plan.FaceA: {{f, f}, {f, f}, {f, f}},
		plan.FaceB: {{c, f}, {f, f}, {f, f}, {f, c}},
	}
	for _, face := range w.Faces {
		for i, p := range face.Layers[0].Pieces {
			if got := [2]layout.EdgeKind{p.Left, p.Right}; i >= len(want[face.Face]) || got != want[face.Face][i] {
				t.Errorf("face %s, piece %d, %s mm wide: edges %v", face.Face, i+1, p.Width, got)
			}
		}
	}
	for _, j := range w.Joints {
		if j.Kind == layout.MixedJoint || j.Kind == layout.CutJoint {
			t.Errorf("a %s joint at %s", j.Kind, j.From.X)
		}
	}
}
