package finish

import (
	"math"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// stripe returns the outline of a coat of a width along a joint.
func stripe(from, to geom.Point, width Length) geom.Polygon {
	f := geom.FrameOf(geom.Segment{A: from, B: to})
	end := f.Local(to).X
	return geom.Polygon{f.Global(0, -width/2), f.Global(end, -width/2), f.Global(end, width/2), f.Global(0, width/2)}
}

// beyond returns how wide a stripe over a joint is on what lies round the corner:
// half its width at corners and where two walls carry on in one line; no more
// than half the strip at free ends and reveals, which has a joint on both sides.
func (f *finisher) beyond(j *layout.Joint, width Length) Length {
	switch {
	case j.Kind == layout.OuterCorner && !f.atCorner(j):
		return min(width/2, f.wall.Thickness/2)
	case j.Kind == layout.InnerCorner || j.Kind == layout.OuterCorner || f.atEnd(j):
		return width / 2
	}
	return 0
}

// atCorner reports whether a joint stands where two walls make a corner.
func (f *finisher) atCorner(j *layout.Joint) bool {
	end := 0
	if length := f.wall.Line.Length(); (j.From.X - length).Abs() < j.From.X.Abs() {
		end = 1
	}
	return f.atEnd(j) && f.wall.Ends[end].Kind == layout.Corner
}

// atEnd reports whether a joint stands at the end of its layer.
func (f *finisher) atEnd(j *layout.Joint) bool {
	for i := range f.wall.Faces {
		if face := &f.wall.Faces[i]; face.Face == j.Face {
			e := face.Layers[j.Layer].Extent
			return j.From.X == j.To.X && (j.From.X == e.From || j.From.X == e.To)
		}
	}
	return false
}

// thick returns the thickness of coat n, from 0, in metres; of further coats than
// the practice has thicknesses for, that of the last.
func (f *finisher) thick(n int) float64 {
	list := f.pr.CoatThickness.Value
	if len(list) == 0 {
		return 0
	}
	return list[min(n, len(list)-1)].Metres()
}

func (f *finisher) filler(use string) catalogue.Sundry {
	if s, ok := f.cat.SundryFor(catalogue.KindFiller, use, f.pr); ok {
		return *s
	}
	return catalogue.Sundry{}
}

// heads counts the screw heads of a face's outer layer, and those of them that
// the first coat over joints leaves free.
func (f *finisher) heads(face plan.Face, outer int, joints []Joint) (all, loose int) {
	coated := f.coated(face, joints)
	var beside []geom.Rect
	for i := range f.wall.Screws {
		s := &f.wall.Screws[i]
		if s.Face != face || s.Layer != outer {
			continue
		}
		all += s.Count
		row := geom.Bounds(s.From, s.To)
		beside = beside[:0]
		for _, r := range coated {
			if r.Overlaps(row) {
				beside = append(beside, r)
			}
		}
		for n := range s.Count {
			p := headAt(s, n)
			if !slices.ContainsFunc(beside, func(r geom.Rect) bool { return r.Overlaps(geom.Rect{Min: p, Max: p}) }) {
				loose++
			}
		}
	}
	return all, loose
}

// headAt returns the place of screw n of a row.
func headAt(s *layout.ScrewRow, n int) geom.Point {
	if s.Count < 2 {
		return s.From
	}
	return geom.Pt(s.From.X+(s.To.X-s.From.X)*Length(n)/Length(s.Count-1), s.From.Y+(s.To.Y-s.From.Y)*Length(n)/Length(s.Count-1))
}

// coated lists where the first coat over joints lies on a face.
func (f *finisher) coated(face plan.Face, joints []Joint) []geom.Rect {
	half := f.pr.CoatWidths.Value[0] / 2
	var list []geom.Rect
	for i := range f.wall.Joints {
		j := &f.wall.Joints[i]
		if joints[i].Coats == 0 || j.Face != face {
			continue
		}
		r := geom.Bounds(j.From, j.To)
		if j.From.X == j.To.X {
			r.Min.X, r.Max.X = r.Min.X-half, r.Max.X+half
		} else {
			r.Min.Y, r.Max.Y = r.Min.Y-half, r.Max.Y+half
		}
		list = append(list, r)
	}
	return list
}

// strips measures the strips that are seen: all but those that further end caps
// lie over, which are wider.
func (f *finisher) strips() Strips {
	var out Strips
	widest := map[geom.Point]Length{}
	for i := range f.wall.Caps {
		p := &f.wall.Caps[i]
		widest[p.At] = max(widest[p.At], p.Width)
	}
	for i := range f.wall.Caps {
		if p := &f.wall.Caps[i]; p.Width == widest[p.At] {
			out.Area += p.Area().SquareMetres()
		}
	}
	for i := range f.wall.Screws {
		if s := &f.wall.Screws[i]; s.Layer < 0 {
			out.Heads += s.Count
		}
	}
	return out
}

// spread measures what goes over screw heads, and over all that is seen.
func (f *finisher) spread(w *Wall) {
	seen, loose := w.Strips.Area, w.Strips.Heads
	for i := range w.Faces {
		seen += w.Faces[i].Area
		loose += w.Faces[i].Loose
	}
	if times := min(f.level.Heads, len(f.pr.CoatWidths.Value)); times > 0 && loose > 0 {
		filler := f.filler(string(layout.TaperedJoint))
		patch := math.Pi / 4 * math.Pow(f.pr.ScrewPatch.Value.Metres(), 2)
		w.Heads = Spread{Area: patch * float64(loose), Product: filler.ID}
		for n := range times {
			w.Heads.Amount += w.Heads.Area * f.thick(n) * filler.Density
		}
	}
	if f.level.Close {
		w.Close = spreadOf(f.filler("close"), "close", seen)
	}
	paint := "board"
	if f.level.Skim {
		w.Skim = spreadOf(f.filler("skim"), "skim", seen)
		paint = "skim"
	}
	if p, ok := f.cat.SundryFor(catalogue.KindPaint, paint, f.pr); ok {
		w.Paint = spreadOf(*p, paint, seen)
	}
}

// spreadOf returns an area with what a product takes on it by its use.
func spreadOf(s catalogue.Sundry, use string, area float64) Spread {
	return Spread{Area: area, Product: s.ID, Amount: area * s.Uses[use]}
}
