package layout_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// The room's lower left corner lies 1.5 m below the wall's axis where the wall
// starts. Track CW75: edges 37.5 mm from the axis. Worked out by hand.
func TestSetOut(t *testing.T) {
	door := plan.Opening{Kind: plan.Door, At: 1500 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 28}
	p := room(4800*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{door}}, single("W", "GKB-12.5"))
	cat, pr := metric(t, nil)
	l := layout.Of(p, cat, pr)
	datum := layout.Datum(p, l.Walls, &p.Levels[0])
	if want := geom.Pt(0, -50*mm); datum != want {
		t.Errorf("datum without rooms %v, want %v", datum, want)
	}
	p.Rooms = []plan.Room{{ID: "R-01", Level: "L0", Outline: []plan.Pt{{X: 0, Y: -1500 * mm}, {X: 4800 * mm, Y: -1500 * mm}, {X: 4800 * mm}}}}
	if datum = layout.Datum(p, l.Walls, &p.Levels[0]); datum != geom.Pt(0, -1500*mm) {
		t.Fatalf("datum %v", datum)
	}
	edge := func(y float64) geom.Segment {
		yy := layout.Length(y * 1e6)
		return geom.Segment{A: geom.Pt(0, yy), B: geom.Pt(4800*mm, yy)}
	}
	ends := []layout.Running{{At: 0, What: "start"}, {At: 4800 * mm, What: "end"}}
	want := []layout.SetOut{
		{On: layout.OnFloor, EdgeA: edge(1537.5), EdgeB: edge(1462.5), Marks: []layout.Running{
			ends[0], {At: 1500 * mm, What: "L0-01/1 from"}, {At: 2385 * mm, What: "L0-01/1 to"}, ends[1],
		}},
		{On: layout.OnSoffit, EdgeA: edge(1537.5), EdgeB: edge(1462.5), Marks: ends},
	}
	if diff := cmp.Diff(want, l.Walls[0].SetOut(datum)); diff != "" {
		t.Error(diff)
	}
}

// TestSetOutPocket: the floor track leaves out the pocket with the opening. By hand: a
// door from 1000 to 1885 slides to the end into a pocket to 2820.
func TestSetOutPocket(t *testing.T) {
	door := plan.Opening{Kind: plan.Door, At: 1000 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 28, Pocket: "end"}
	w := lay(t, 4800*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{door}}, single("W", "GKB-12.5"), nil)
	at := map[string]layout.Length{}
	for _, m := range w.SetOut(geom.Point{})[0].Marks {
		at[m.What] = m.At
	}
	if at["L0-01/1 from"] != 1000*mm || at["L0-01/1 to"] != 2820*mm {
		t.Errorf("%v", at)
	}
}
