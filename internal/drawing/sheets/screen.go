package sheets

import (
	"fmt"
	"slices"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// View is one drawing of a wall on a screen: an elevation of its frame or of one
// layer of boards, or a section through one of its places.
type View struct {
	ID    string    `json:"id"`   // unique among the views of its wall
	Kind  string    `json:"kind"` // ViewFrame, ViewBoards or ViewSection
	Face  plan.Face `json:"face,omitempty"`
	Layer int       `json:"layer,omitempty"` // of boards, from 1 at the frame
	What  string    `json:"what,omitempty"`  // of sections: head, base, jamb, T …
	Where []string  `json:"where,omitempty"` // the openings or the other walls there
}

// The kinds of view.
const (
	ViewFrame   = "frame"
	ViewBoards  = "boards"
	ViewSection = "section"
)

// InUnits returns the set with its lengths in feet and inches, or in millimetres,
// whatever the plan's practice.
func (s *Set) InUnits(imperial bool) *Set {
	o := New(s.in)
	o.units.imperial = imperial
	return o
}

// Views lists what there is to see of a wall.
func (s *Set) Views(w *layout.Wall) []View {
	var list []View
	for i := range planes(w) {
		v := View{ID: fmt.Sprintf("frame%d", i+1), Kind: ViewFrame}
		if len(planes(w)) > 1 {
			v.Face = []plan.Face{plan.FaceA, plan.FaceB}[min(i, 1)]
		}
		list = append(list, v)
	}
	for _, f := range w.Faces {
		for k := range f.Layers {
			list = append(list, View{ID: fmt.Sprintf("%s%d", f.Face, k+1), Kind: ViewBoards, Face: f.Face, Layer: k + 1})
		}
	}
	for i, x := range s.sections(w) {
		list = append(list, View{ID: fmt.Sprintf("section%d", i+1), Kind: ViewSection, What: x.what, Where: x.where})
	}
	return list
}

// Draw draws one view of a wall, on a sheet of its own size and without a title;
// nil where the wall has no such view.
func (s *Set) Draw(w *layout.Wall, id string) *drawing.Scene {
	for i, p := range planes(w) {
		if id == fmt.Sprintf("frame%d", i+1) {
			v := s.newFraming(w, i, screenScale(p.extent), p.extent)
			v.title, v.subtitle = "", ""
			return onItsOwn(w.ID+"-"+id, v, 0)
		}
	}
	for f := range w.Faces {
		for k := range w.Faces[f].Layers {
			if id == fmt.Sprintf("%s%d", w.Faces[f].Face, k+1) {
				extent := w.Faces[f].Layers[k].Extent
				v := s.newBoards(w, &w.Faces[f], k, screenScale(extent), extent)
				v.title, v.subtitle = "", ""
				return onItsOwn(w.ID+"-"+id, v, 0)
			}
		}
	}
	for i, x := range s.sections(w) {
		if id == fmt.Sprintf("section%d", i+1) {
			v := s.newDetailView(x.d, "", "", 0)
			v.marked = true
			return onItsOwn(w.ID+"-"+id, v, 0.2*v.widest())
		}
	}
	return nil
}

// onItsOwn draws a block without a title on a sheet that it fills, with some more
// room at the right.
func onItsOwn(name string, b block, more float64) *drawing.Scene {
	const rim = 3.0
	wide, high := b.size()
	wide += more
	sc := drawing.NewScene(FileName(name), name, drawing.Size{Width: wide + 2*rim, Height: high - viewTitle + 2*rim})
	b.draw(sc, drawing.Point{X: rim, Y: rim - viewTitle})
	return sc
}

// Widths, in mm, up to which elevations for a screen are drawn. Up to the first, texts
// can be read where the drawing fills a laptop's window; where that takes a scale so
// small that marks have no room, the drawing is larger and has to be enlarged.
const (
	screenWidth = 230.0
	screenMost  = 420.0
)

// screenScale returns the scale at which a stretch of wall is drawn for a screen.
func screenScale(u geom.Interval) scale {
	for _, sc := range []scale{10, 15, 20, 25, 30, 40} {
		if sc.paper(u.Len()) <= screenWidth {
			return sc
		}
	}
	for _, sc := range []scale{50, 75, 100} {
		if sc.paper(u.Len()) <= screenMost {
			return sc
		}
	}
	return 200
}

// section is one section through a wall, and the places that look like it.
type section struct {
	what  string
	where []string
	d     *detail
}

// sections takes the sections of one wall and of the junctions at which it stands.
func (s *Set) sections(w *layout.Wall) []section {
	if len(w.FrameLines) == 0 {
		return nil
	}
	t := s.newTaker()
	t.walls[w.ID] = w.OnAxis()
	t.wall(t.walls[w.ID])
	for i := range s.in.Layout.Junctions {
		if j := &s.in.Layout.Junctions[i]; slices.Contains(j.Walls, w.ID) {
			for _, o := range s.in.Layout.Walls {
				if slices.Contains(j.Walls, o.ID) {
					t.walls[o.ID] = o.OnAxis()
				}
			}
			t.junction(j)
		}
	}
	var list []section
	for _, r := range t.book.refs[w.ID] {
		i := slices.IndexFunc(list, func(x section) bool { return x.d == r.d && x.what == r.what })
		if i < 0 {
			i, list = len(list), append(list, section{what: r.what, d: r.d})
		}
		if where := r.seenFrom(w.ID); where != "" && !slices.Contains(list[i].where, where) {
			list[i].where = append(list[i].where, where)
		}
	}
	return list
}
