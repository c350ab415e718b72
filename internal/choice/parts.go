package choice

import (
	"slices"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// mostLayers is the greatest number of layers on a face. Common practice: one,
// two or three by need.
const mostLayers = 3

// studs lists the studs of the catalogue that have a track.
func studs(cat *catalogue.Catalogue) []*catalogue.Profile {
	var list []*catalogue.Profile
	for i := range cat.Profiles {
		p := &cat.Profiles[i]
		if _, ok := cat.TrackFor(p.ID); ok && p.Kind == catalogue.Stud {
			list = append(list, p)
		}
	}
	return list
}

// widths lists the widths in which boards come, each once.
func widths(cat *catalogue.Catalogue) []Length {
	var list []Length
	for i := range cat.Boards {
		if w := cat.Boards[i].Width; !slices.Contains(list, w) {
			list = append(list, w)
		}
	}
	return list
}

// widest is the greatest stud spacing that is usual with boards 1250 mm wide.
const widest = 625 * quantity.Millimetre

// spacings lists the distances of studs on which boards of a width end: a half, a
// third or a quarter of it, no wider than the practice has them.
func spacings(width Length, pr *catalogue.Practice) []Length {
	var list []Length
	for n := Length(2); n <= 4; n++ {
		if s := (width / n).Round(quantity.Millimetre / 10); s <= max(widest, pr.StudSpacing.Value) && s >= plan.LeastSpacing {
			list = append(list, s)
		}
	}
	return list
}

// gaps lists the gaps of a kind of frame: the practice's, and where services need
// more, that.
func gaps(kind plan.FrameKind, pr *catalogue.Practice, service Length) []Length {
	switch {
	case kind == plan.TwinIndependent:
		return []Length{pr.TwinGap.Value}
	case kind == plan.TwinBraced && service > 0 && service != pr.ServiceGap.Value:
		return []Length{service.Round(quantity.Millimetre), pr.ServiceGap.Value}
	case kind == plan.TwinBraced:
		return []Length{pr.ServiceGap.Value}
	}
	return []Length{0}
}

// fillOf is a product in one of its thicknesses; no product is an empty cavity.
type fillOf struct {
	product   *catalogue.Insulation
	thickness Length
}

// fills lists what a frame of a depth may be filled with, nothing first.
func fills(cat *catalogue.Catalogue) []fillOf {
	list := []fillOf{{}}
	for i := range cat.Insulation {
		n := &cat.Insulation[i]
		for _, t := range n.Thicknesses {
			list = append(list, fillOf{n, t})
		}
	}
	return list
}

// frameOf is a frame with its fill.
type frameOf struct {
	kind    plan.FrameKind
	stud    *catalogue.Profile
	width   Length // of the boards that suit it
	spacing Length
	gap     Length
	fill    fillOf
}

// spec writes a build-up of the frame as plans do.
func (f *frameOf) spec(a, b []*catalogue.Board) plan.BuildUp {
	s := plan.BuildUp{ID: "W1", Frame: plan.FrameSpec{Kind: f.kind, Stud: f.stud.ID, Spacing: f.spacing, Gap: f.gap}, FaceA: ids(a)}
	if !f.kind.OneSided() && !slices.Equal(a, b) {
		s.FaceB = ids(b)
	}
	if f.fill.product != nil {
		one := plan.Insulation{Product: f.fill.product.ID}
		if len(f.fill.product.Thicknesses) > 1 {
			one.Thickness = f.fill.thickness
		}
		s.Insulation = []plan.Insulation{one}
		if f.kind.Twin() {
			s.Insulation = append(s.Insulation, one)
		}
	}
	return s
}

func ids(boards []*catalogue.Board) []string {
	list := make([]string, len(boards))
	for i, b := range boards {
		list[i] = b.ID
	}
	return list
}

// faceOf is one face: layers of one board against the frame, and the same or
// another board outside.
type faceOf struct {
	layers       int
	inner, outer *catalogue.Board // inner is outer where there is one layer
}

func (f *faceOf) boards() []*catalogue.Board {
	list := slices.Repeat([]*catalogue.Board{f.inner}, f.layers)
	list[f.layers-1] = f.outer
	return list
}

// thinnest is the least thickness of boards of straight walls; thinner ones are
// made to be bent. Common practice.
const thinnest = 9 * quantity.Millimetre

// faces lists the faces of boards of a width.
func faces(cat *catalogue.Catalogue, width Length) []faceOf {
	var boards []*catalogue.Board
	for i := range cat.Boards {
		if b := &cat.Boards[i]; b.Width == width && b.Thickness >= thinnest {
			boards = append(boards, b)
		}
	}
	var list []faceOf
	for layers := 1; layers <= mostLayers; layers++ {
		for i, inner := range boards {
			for k, outer := range boards {
				if layers > 1 || i == k {
					list = append(list, faceOf{layers, inner, outer})
				}
			}
		}
	}
	return list
}

// goTogether reports whether two faces are tried on one wall: equal ones, those
// that differ in the outer board or in one inner layer, and where the rooms ask
// for different boards, any with no more than one layer between them. Of equal
// demands, face A has the more layers.
func goTogether(a, b *faceOf, free bool) bool {
	switch d := a.layers - b.layers; {
	case free:
		return d >= -1 && d <= 1
	case d == 0:
		return a.inner == b.inner || a.layers == 1
	case d == 1:
		return a.outer == b.outer && (b.layers == 1 || a.inner == b.inner)
	}
	return false
}

// build looks the build-up up as a plan's is; nil where it cannot be made.
func (f *frameOf) build(a, b []*catalogue.Board, cat *catalogue.Catalogue, pr *catalogue.Practice) *buildup.BuildUp {
	out, _ := buildup.Make(f.spec(a, b), cat, pr)
	return out
}
