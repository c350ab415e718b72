package plantest

import (
	"pgregory.net/rapid"

	"nogging/internal/geom"
	"nogging/internal/plan"
)

// addServices lets boxes into a wall, hangs things on it and runs pipes along it.
func addServices(t *rapid.T, w *plan.Wall, oneSided bool) {
	length := geom.Point(w.Line[0]).Dist(geom.Point(w.Line[1]))
	if length < 1000*mm {
		return
	}
	most := int(length/mm) - 100
	if rapid.Bool().Draw(t, "asked") {
		w.Require.Fire = rapid.SampledFrom([]string{"", "EI 60"}).Draw(t, "fire")
		w.Require.Sound = rapid.SampledFrom([]string{"", "Rw 50"}).Draw(t, "sound")
	}
	face := func() plan.Face {
		if oneSided {
			return plan.FaceA
		}
		return rapid.SampledFrom([]plan.Face{plan.FaceA, plan.FaceB}).Draw(t, "face")
	}
	for range rapid.IntRange(0, 3).Draw(t, "boxes") {
		w.Boxes = append(w.Boxes, plan.Box{Kind: "socket", Face: face(), At: lengthIn(t, "box at", 100, most), Height: lengthIn(t, "box height", 200, 1100), Gangs: rapid.IntRange(0, 3).Draw(t, "gangs")})
	}
	for range rapid.IntRange(0, 2).Draw(t, "fixings") {
		w.Fixings = append(w.Fixings, plan.Fixing{
			Kind: rapid.SampledFrom([]string{"wc", "basin", "grab_rail", "radiator", "cabinet", "screen", "console"}).Draw(t, "fixing"), Face: face(),
			At: lengthIn(t, "fixing at", 50, most-20), Width: rapid.SampledFrom([]plan.Length{0, 40 * mm}).Draw(t, "fixing width"),
		})
	}
	for range rapid.IntRange(0, 2).Draw(t, "pipes") {
		a := plan.Pt{X: lengthIn(t, "pipe from", 0, most), Y: lengthIn(t, "pipe height", 0, 900)}
		b := plan.Pt{X: lengthIn(t, "pipe to", 0, most), Y: a.Y}
		w.Pipes = append(w.Pipes, plan.Pipe{Service: "water", Diameter: lengthIn(t, "pipe", 10, 130), Path: []plan.Pt{a, b, {X: b.X, Y: b.Y + lengthIn(t, "pipe up", 10, 90)}}})
	}
}
