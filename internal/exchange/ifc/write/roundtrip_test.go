package write_test

import (
	"bytes"
	"slices"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/exchange/ifc"
	"nogging/internal/exchange/ifc/write"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/quantity"
)

// near is what a round trip may lose.
const near = quantity.Millimetre / 10

// TestRoundTrip: our reader of building models, where it is not told our own sets, finds
// each wall at its place, along its line or arc, with its thickness; of walls with a body
// also height and openings.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plantest.Random(t)
		in := input(p, rapid.SampledFrom([]write.Schema{write.IFC4, write.IFC4X3}).Draw(t, "schema"), rapid.Bool().Draw(t, "simple"))
		got, _, found := ifc.Options{}.Read("x.ifc", bytes.ReplaceAll(written(t, in), []byte("'Nogging_"), []byte("'Another_")))
		// Heights are measured from feet: those of parts are the gap under the boards above
		// the floor, and where walls stand on upstands or on the slab, the reader takes that
		// for the floor.
		upright := in.Simple && !slices.ContainsFunc(in.Layout.Walls, func(w *layout.Wall) bool { return w.Base != 0 })
		for _, w := range in.Layout.Walls {
			if w.Line.Length() < 100*quantity.Millimetre {
				continue
			}
			r := find(got, w)
			if r == nil {
				t.Fatalf("%s is not found: %v, read %v: %v", w.ID, w.Line, lines(got), found)
			}
			if (r.Thickness - w.Thickness).Abs() > near {
				t.Fatalf("%s is %s thick, read as %s", w.ID, w.Thickness, r.Thickness)
			}
			if off := offArc(r, w); off > near {
				t.Fatalf("%s curves %s off its arc", w.ID, off)
			}
			if !upright {
				continue
			}
			for _, o := range w.Openings {
				if whole(w, o) && !has(r, w, o) {
					t.Fatalf("%s: opening %+v is not among %+v: %v", w.ID, o, r.Openings, found)
				}
			}
			if want := highest(w); (top(r, got) - want).Abs() > near {
				t.Fatalf("%s is %s high, read as %s", w.ID, want, top(r, got))
			}
		}
	})
}

func lines(p *plan.Plan) (list [][]plan.Pt) {
	for i := range p.Walls {
		list = append(list, p.Walls[i].Line)
	}
	return list
}

// find returns the wall that was read at a place, drawn either way.
func find(p *plan.Plan, w *layout.Wall) *plan.Wall {
	for i := range p.Walls {
		r := &p.Walls[i]
		a, b := geom.Point(r.Line[0]), geom.Point(r.Line[1])
		if a.Dist(w.Line.A) < near && b.Dist(w.Line.B) < near || a.Dist(w.Line.B) < near && b.Dist(w.Line.A) < near {
			return r
		}
	}
	return nil
}

// offArc returns how far the middle of a wall as read lies off that of the wall's arc.
func offArc(r *plan.Wall, w *layout.Wall) quantity.Length {
	between := func(a, b geom.Point) geom.Point { return geom.Pt((a.X+b.X)/2, (a.Y+b.Y)/2) }
	middle := between(geom.Point(r.Line[0]), geom.Point(r.Line[1]))
	if arc, ok := r.Arc(); ok {
		middle = arc.Global(arc.Length()/2, 0)
	}
	want := between(w.Line.A, w.Line.B)
	if w.Curve != nil {
		want = w.Curve.Axis.Global(w.Curve.Axis.Length()/2, 0)
	}
	return middle.Dist(want)
}

// whole reports whether an opening lies inside its wall, clear of its rim and of other
// openings; random plans have others, which a reader is free to cut off.
func whole(w *layout.Wall, o layout.Opening) bool {
	least := quantity.Length(1 << 62)
	for _, p := range w.Top {
		least = min(least, p.Y)
	}
	for _, x := range w.Openings {
		if x.ID != o.ID && x.U.From <= o.U.To && o.U.From <= x.U.To {
			return false
		}
	}
	return o.U.From > 0 && o.U.To < long(w) && o.Sill >= w.Base && o.Head < min(least, w.Top.After(0), w.Top.Before(long(w))) && o.Head-o.Sill > 50*quantity.Millimetre
}

// long returns the length along a wall's axis.
func long(w *layout.Wall) quantity.Length {
	if w.Curve != nil {
		return w.Curve.Axis.Length()
	}
	return w.Line.Length()
}

func has(r *plan.Wall, w *layout.Wall, o layout.Opening) bool {
	width := o.U.Len()
	if w.Curve != nil {
		width = o.Clear // straight across
	}
	turned := geom.Point(r.Line[0]).Dist(w.Line.A) > near
	for _, x := range r.Openings {
		at := x.At
		if turned {
			at = w.Line.Length() - x.At - x.Width
		}
		if (at-o.U.From).Abs() < near && (x.Width-width).Abs() < near && (x.Sill-o.Sill).Abs() < near && (x.Height-(o.Head-o.Sill)).Abs() < near {
			return true
		}
	}
	return false
}

func highest(w *layout.Wall) (top quantity.Length) {
	long := long(w)
	for _, p := range w.Top {
		if p.X >= 0 && p.X <= long {
			top = max(top, p.Y)
		}
	}
	return max(top, w.Top.After(0), w.Top.Before(long))
}

func top(r *plan.Wall, p *plan.Plan) (top quantity.Length) {
	for _, h := range r.Heights {
		top = max(top, h.Height)
	}
	if top == 0 {
		top = r.Height
	}
	if top == 0 {
		top = p.LevelByID(r.Level).ClearHeight
	}
	return top
}
