package boards

import (
	"fmt"
	"slices"

	"nogging/internal/cut/sheet"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// eachPiece visits everything of a wall that is cut from boards: pieces of its faces,
// strips that close ends and reveals, gussets.
func eachPiece(w *layout.Wall, visit func(board string, p Piece)) {
	for _, f := range w.Faces {
		for k := range f.Layers {
			for i := range f.Layers[k].Pieces {
				p := &f.Layers[k].Pieces[i]
				out := Piece{Wall: w.ID, Mark: layout.PieceMark(f.Face, k, p), Net: p.Area().SquareMetres()}
				out.Shape = shape(p, f.Face.RunsBack())
				out.Shape.Left, out.Shape.Right = edges(w, f.Face, k, p)
				visit(p.Board, out)
			}
		}
	}
	for i := range w.Caps {
		p := &w.Caps[i]
		visit(p.Board, Piece{Wall: w.ID, Mark: fmt.Sprintf("E%02d", i+1), Net: p.Area().SquareMetres(), Shape: shape(p, false)})
	}
	for _, g := range w.Gussets {
		visit(g.Board, Piece{
			Wall: w.ID, Mark: fmt.Sprintf("G%02d", g.Number), Net: g.Width.Metres() * g.Height.Metres(),
			Shape: sheet.Piece{Width: g.Width, Height: g.Height, Count: 1},
		})
	}
}

// leastNotch is the least side of a notch that smaller pieces are cut from.
const leastNotch = 50 * quantity.Millimetre

// shape returns a piece as it lies on a sheet, seen from its paper side: a lying piece
// is set upright.
func shape(p *layout.Piece, mirrored bool) sheet.Piece {
	s := sheet.Piece{Width: p.Width, Height: p.Height, Count: 1}
	box := p.Outline.Bounds()
	if size := box.Max.Sub(box.Min); !p.Lying && size != geom.Pt(p.Width, p.Height) || p.Lying && size != geom.Pt(p.Height, p.Width) {
		return s // of a bent piece, which is measured on its curve
	}
	for _, r := range voids(p) {
		r.Min, r.Max = r.Min.Sub(box.Min), r.Max.Sub(box.Min)
		if mirrored {
			w := box.Max.X - box.Min.X
			r.Min.X, r.Max.X = w-r.Max.X, w-r.Min.X
		}
		if p.Lying { // a quarter turn clockwise, so that its lower edge is the left one
			h := p.Height
			r = geom.Rect{Min: geom.Pt(r.Min.Y, h-r.Max.X), Max: geom.Pt(r.Max.Y, h-r.Min.X)}
		}
		s.Notches = append(s.Notches, r)
	}
	return s
}

// edges returns the factory edges that a piece's tapered and mixed joints want, as
// they lie on the sheet.
func edges(w *layout.Wall, f plan.Face, layer int, p *layout.Piece) (left, right bool) {
	box := p.Outline.Bounds()
	for _, j := range w.Joints {
		if j.Face != f || j.Layer != layer || j.Kind != layout.TaperedJoint && j.Kind != layout.MixedJoint {
			continue
		}
		at, from, to, low, high, side0, side1 := j.From.X, j.From.Y, j.To.Y, box.Min.Y, box.Max.Y, box.Min.X, box.Max.X
		if p.Lying {
			at, from, to, low, high, side0, side1 = j.From.Y, j.From.X, j.To.X, box.Min.X, box.Max.X, box.Min.Y, box.Max.Y
		}
		if (j.From.X == j.To.X) == p.Lying || max(min(from, to), low) >= min(max(from, to), high) {
			continue
		}
		left = left || at == side0 && p.Left == layout.Factory
		right = right || at == side1 && p.Right == layout.Factory
	}
	if f.RunsBack() && !p.Lying {
		left, right = right, left
	}
	return left, right
}

// voids returns the rectangles of a piece's bounding rectangle that the piece does not
// cover and that are large enough to be cut from.
func voids(p *layout.Piece) []geom.Rect {
	if !p.Notched() {
		return nil
	}
	var xs, ys []Length
	for _, poly := range append([]geom.Polygon{p.Outline}, p.Holes...) {
		for _, q := range poly {
			xs, ys = append(xs, q.X), append(ys, q.Y)
		}
	}
	slices.Sort(xs)
	slices.Sort(ys)
	xs, ys = slices.Compact(xs), slices.Compact(ys)
	var done, open []geom.Rect
	for i := 1; i < len(xs); i++ {
		var next []geom.Rect
		for _, r := range column(p, xs[i-1], xs[i], ys) {
			if k := slices.IndexFunc(open, func(o geom.Rect) bool { return o.Min.Y == r.Min.Y && o.Max.Y == r.Max.Y }); k >= 0 {
				r.Min.X = open[k].Min.X
				open = slices.Delete(open, k, k+1)
			}
			next = append(next, r)
		}
		done = append(done, open...)
		open = next
	}
	return slices.DeleteFunc(append(done, open...), func(r geom.Rect) bool {
		return min(r.Max.X-r.Min.X, r.Max.Y-r.Min.Y) < leastNotch
	})
}

// column returns the voids of an upright slice of a piece, each as high as it goes.
func column(p *layout.Piece, from, to Length, ys []Length) []geom.Rect {
	var list []geom.Rect
	for j := 1; j < len(ys); j++ {
		r := geom.Rect{Min: geom.Pt(from, ys[j-1]), Max: geom.Pt(to, ys[j])}
		if !void(p, r) {
			continue
		}
		if n := len(list) - 1; n >= 0 && list[n].Max.Y == r.Min.Y {
			list[n].Max.Y = r.Max.Y
			continue
		}
		list = append(list, r)
	}
	return list
}

// void reports whether a rectangle between neighbouring corners of a piece lies wholly
// outside it. Only a sloping edge can pass through one.
func void(p *layout.Piece, r geom.Rect) bool {
	through := false
	p.Outline.Edges(func(e geom.Segment) {
		b := geom.Bounds(e.A, e.B)
		sloping := e.A.X != e.B.X && e.A.Y != e.B.Y
		through = through || sloping && b.Min.X < r.Max.X && r.Min.X < b.Max.X && b.Min.Y < r.Max.Y && r.Min.Y < b.Max.Y
	})
	if through {
		return false
	}
	middle := geom.Pt((r.Min.X+r.Max.X)/2, (r.Min.Y+r.Max.Y)/2)
	if !p.Outline.Contains(middle) {
		return true
	}
	return slices.ContainsFunc(p.Holes, func(h geom.Polygon) bool { return h.Contains(middle) })
}
