package write_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/exchange/dxf"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

const mm = quantity.Millimetre

// stub is how long the pieces of walls beside openings are at least, in mm: those that
// are hardly longer than the wall is thick are not told from columns.
const stub = 500.0

// rooms draws a plan of rooms in rows: walls from one centre line to the next, of one
// kind along each line, turned as a whole by any angle, with doors and windows.
func rooms(t *rapid.T) *plan.Plan {
	p := &plan.Plan{Version: plan.Version, Levels: []plan.Level{{ID: "L0", ClearHeight: 2750 * mm}}, BuildUps: []plan.BuildUp{
		{ID: "W1", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW50"}, FaceA: []string{"GKB-12.5"}},
		{ID: "W2", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: []string{"GKB-12.5", "GKB-12.5"}},
		{ID: "W3", Frame: plan.FrameSpec{Kind: plan.TwinIndependent, Stud: "CW75", Gap: 10 * mm}, FaceA: []string{"GKF-12.5", "GKB-12.5"}},
	}}
	sin, cos := math.Sincos(rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "turn"))
	at := func(x, y float64) plan.Pt {
		return plan.Pt{X: quantity.MM(x*cos - y*sin), Y: quantity.MM(x*sin + y*cos)}
	}
	lines := func(name string) (list []float64) {
		x := rapid.Float64Range(-20_000, 20_000).Draw(t, name)
		for range rapid.IntRange(2, 4).Draw(t, name+"s") {
			list = append(list, x)
			x += math.Round(rapid.Float64Range(2500, 6500).Draw(t, name))
		}
		return list
	}
	kinds := func(n int) (list []string) {
		for range n {
			list = append(list, rapid.SampledFrom([]string{"W1", "W2", "W3"}).Draw(t, "kind"))
		}
		return list
	}
	xs, ys := lines("x"), lines("y")
	wall := func(kind string, a, b plan.Pt, length float64) {
		w := plan.Wall{ID: fmt.Sprintf("L0-%02d", len(p.Walls)+1), Level: "L0", BuildUp: kind, Line: []plan.Pt{a, b}}
		if rapid.Bool().Draw(t, "opening") {
			width := math.Round(rapid.Float64Range(626, 1400).Draw(t, "width"))
			o := plan.Opening{Kind: plan.Door, Width: quantity.MM(width), Height: 2100 * mm, At: quantity.MM(math.Round(rapid.Float64Range(stub, length-width-stub).Draw(t, "at")))}
			if rapid.IntRange(0, 3).Draw(t, "window") == 0 {
				o.Kind, o.Sill, o.Height = plan.Window, 850*mm, 1200*mm
			} else if rapid.Bool().Draw(t, "leaf") {
				o.Leaf = plan.Leaf{Count: 1, Hinge: rapid.SampledFrom([]string{plan.AtStart, plan.AtEnd}).Draw(t, "hinge"), Opens: rapid.SampledFrom([]plan.Face{plan.FaceA, plan.FaceB}).Draw(t, "opens")}
			}
			w.Openings = append(w.Openings, o)
		}
		p.Walls = append(p.Walls, w)
	}
	across, up := kinds(len(ys)), kinds(len(xs))
	for i, y := range ys {
		for k := range xs[1:] {
			wall(across[i], at(xs[k], y), at(xs[k+1], y), xs[k+1]-xs[k])
		}
	}
	for k, x := range xs {
		for i := range ys[1:] {
			wall(up[k], at(x, ys[i]), at(x, ys[i+1]), ys[i+1]-ys[i])
		}
	}
	return p
}

// roles are what the layers of a first level show; the reader is told, not let guess.
var roles = map[string]dxf.Role{"X-220---E-N01---0": dxf.Partition, "X-320---E-N01---0": dxf.Door, "X-310---E-N01---0": dxf.Window}

func readBack(data []byte) *plan.Plan {
	m := dxf.Mapping{Unit: "mm"}
	_, stats, _ := m.Read("walls.dxf", data)
	for _, l := range stats.Layers {
		l.As = dxf.Other
		if as, ok := roles[l.Layer]; ok {
			l.As = as
		}
		m.Layers = append(m.Layers, l)
	}
	back, _, _ := m.Read("walls.dxf", data)
	return back
}

// TestPlansRoundTrip: of plans of rooms, drawn and read again, every wall's axis lies
// where it did with the same thickness, from end to end, and every opening keeps its
// kind, its place and its width, all to 0.1 mm; and nothing else is read.
func TestPlansRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rooms(t)
		data, laid := written(t, p)
		back := readBack(data)
		openings, ends := 0, 0
		for _, w := range laid.Walls {
			r := on(back, w)
			if r == nil {
				t.Fatalf("%s, %s thick, from %v to %v, was not read again: %s", w.ID, w.Thickness, w.Line.A, w.Line.B, listed(back))
			}
			for _, o := range w.Openings {
				openings++
				if !holds(r, w, o) {
					t.Fatalf("%s: %s at %s, %s wide, is not among %+v", w.ID, o.Kind, o.U.From, o.U.Len(), r.Openings)
				}
			}
		}
		for i := range back.Walls {
			r := &back.Walls[i]
			openings -= len(r.Openings)
			for _, end := range r.Line {
				for _, w := range laid.Walls {
					if geom.Point(end).Dist(w.Line.A) <= near || geom.Point(end).Dist(w.Line.B) <= near {
						ends++
						break
					}
				}
			}
		}
		if openings != 0 || ends != 2*len(back.Walls) {
			t.Fatalf("%d openings too few; %d ends of %d walls lie where walls end: %s", openings, ends, len(back.Walls), listed(back))
		}
	})
}

// near is what a round trip may lose.
const near = mm / 10

func listed(p *plan.Plan) (s string) {
	for _, w := range p.Walls {
		s += fmt.Sprintf("\n%s thick %v %v", w.Thickness, w.Line, w.Openings)
	}
	return s
}

// on returns the wall as read that a wall lies on; walls in one line are read as one.
func on(p *plan.Plan, w *layout.Wall) *plan.Wall {
	for i := range p.Walls {
		r := &p.Walls[i]
		line := geom.Segment{A: geom.Point(r.Line[0]), B: geom.Point(r.Line[1])}
		if (r.Thickness-w.Thickness).Abs() <= near && line.Nearest(w.Line.A).Dist(w.Line.A) <= near && line.Nearest(w.Line.B).Dist(w.Line.B) <= near {
			return r
		}
	}
	return nil
}

// holds reports whether a wall as read has an opening of a wall as laid out.
func holds(r *plan.Wall, w *layout.Wall, o layout.Opening) bool {
	dir := geom.Frame{Origin: geom.Point(r.Line[0]), Dir: geom.Segment{A: geom.Point(r.Line[0]), B: geom.Point(r.Line[1])}.Dir()}
	a, b := dir.Local(w.Point(o.U.From, 0)).X, dir.Local(w.Point(o.U.To, 0)).X
	for _, x := range r.Openings {
		if x.Kind == o.Kind && (x.At-min(a, b)).Abs() <= near && (x.Width-o.U.Len()).Abs() <= near {
			return true
		}
	}
	return false
}
