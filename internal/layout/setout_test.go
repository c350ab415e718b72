package layout_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// The wall runs from the inner face of the left structure, 200 mm from its outer
// face, which is the lower left corner of the level with the wall's axis 2 m
// above it. Track CW75: edges 37.5 mm from the axis. Worked out by hand.
func TestSetOut(t *testing.T) {
	door := plan.Opening{Kind: plan.Door, At: 1500 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 28}
	p := room(4800*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{door}}, single("W", "GKB-12.5"))
	cat, pr := metric(t, nil)
	l := layout.Of(p, cat, pr)
	datum := layout.Datum(p, l.Walls, &p.Levels[0])
	if want := geom.Pt(-200*mm, -2000*mm); datum != want {
		t.Fatalf("datum %v, want %v", datum, want)
	}
	edge := func(y float64) geom.Segment {
		yy := layout.Length(y * 1e6)
		return geom.Segment{A: geom.Pt(200*mm, yy), B: geom.Pt(5000*mm, yy)}
	}
	ends := []layout.Running{{At: 0, What: "start"}, {At: 4800 * mm, What: "end"}}
	want := []layout.SetOut{
		{On: layout.OnFloor, EdgeA: edge(2037.5), EdgeB: edge(1962.5), Marks: []layout.Running{
			ends[0], {At: 1500 * mm, What: "L0-01/1 from"}, {At: 2385 * mm, What: "L0-01/1 to"}, ends[1],
		}},
		{On: layout.OnSoffit, EdgeA: edge(2037.5), EdgeB: edge(1962.5), Marks: ends},
	}
	if diff := cmp.Diff(want, l.Walls[0].SetOut(datum)); diff != "" {
		t.Error(diff)
	}
}
