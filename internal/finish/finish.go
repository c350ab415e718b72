// Package finish says how the joints and faces of a laid-out wall are finished.
// It takes a layout.Wall, the catalogue and the practice, and gives the treatment
// of each joint (tape, coats, what its recess holds) and the areas of each face:
// those of the coats, of skims and of paint, and the screw heads to be coated,
// with the compound that each coat takes.
//
// Levels are those of the trade's code of practice 2 (Q1 to Q4) and of GA-214
// (levels 0 to 5), as rows of the practice. Areas are of geometry: a coat is the
// union of its stripes on the face, so that crossing stripes count once and a
// stripe at an edge counts with the half that lies on the face. The other half of
// a stripe round a corner lies on the wall, strip or cap beyond; it is counted
// with the wall that the joint is counted with, as length by half the width.
package finish

import (
	"math"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// Length is a length.
type Length = quantity.Length

// Wall is the finish of one wall.
type Wall struct {
	Level   string  `json:"level"`
	Assumed bool    `json:"assumed,omitempty"` // the build-up gives no level, the practice's usual one is taken
	Joints  []Joint `json:"joints,omitempty"`  // as in the layout, in its order
	Faces   []Face  `json:"faces,omitempty"`
	Strips  Strips  `json:"strips,omitzero"`
	Heads   Spread  `json:"heads,omitzero"` // coats over loose screw heads, all together
	Close   Spread  `json:"close,omitzero"` // the pores of all that is seen closed
	Skim    Spread  `json:"skim,omitzero"`  // over all that is seen
	Paint   Spread  `json:"paint,omitzero"` // two coats on all that is seen
}

// Edges says what edges meet at a joint.
type Edges string

// The edges of joints.
const (
	Tapered  Edges = "factory tapered"
	Mixed    Edges = "one factory tapered, one bevelled cut"
	Bevelled Edges = "bevelled cut"
	Corner   Edges = "corner"
	Rim      Edges = "rim"
)

// Joint is the treatment of one stretch of joint.
type Joint struct {
	Kind   layout.JointKind `json:"kind"`
	Edges  Edges            `json:"edges"`
	Length float64          `json:"length"` // m
	Tape   string           `json:"tape,omitempty"`
	Coats  int              `json:"coats"`            // that are drawn over it
	Seal   string           `json:"seal,omitempty"`   // sealant that closes it instead
	Filler string           `json:"filler,omitempty"` // compound that fills its recess
	Fill   float64          `json:"fill,omitempty"`   // kg of it
}

// Coat is one coat of compound over the joints of a face.
type Coat struct {
	Width   Length  `json:"width"`
	Area    float64 `json:"area"`             // m² on the face
	Beyond  float64 `json:"beyond,omitempty"` // m² round corners
	Product string  `json:"product,omitempty"`
	Mass    float64 `json:"mass"` // kg, without what fills recesses
}

// Face is the finish of one face.
type Face struct {
	Face  plan.Face `json:"face"`
	Area  float64   `json:"area"` // m² of its outer layer, openings and holes left out
	Coats []Coat    `json:"coats,omitempty"`
	Heads int       `json:"heads"` // screw heads in its outer layer
	Loose int       `json:"loose"` // of them, those that the first coat over joints does not cover
}

// Strips are the boards that close ends, tops and reveals, as far as they are seen.
type Strips struct {
	Area  float64 `json:"area,omitempty"` // m²
	Heads int     `json:"heads,omitempty"`
}

// Spread is an area with what is spread on it: kg of compound, l of paint.
type Spread struct {
	Area    float64 `json:"area,omitempty"` // m²
	Product string  `json:"product,omitempty"`
	Amount  float64 `json:"amount,omitempty"` // in the unit in which the product is measured
}

// Of returns the finish of a wall.
func Of(w *layout.Wall, cat *catalogue.Catalogue, pr *catalogue.Practice) *Wall {
	level, ok := pr.FinishFor(w.Finish)
	if !ok { // a level of the other system: the usual one
		level, _ = pr.FinishFor("")
	}
	f := finisher{wall: w, cat: cat, pr: pr, level: level}
	out := &Wall{Level: level.Level, Assumed: w.Finish != level.Level}
	for i := range w.Joints {
		out.Joints = append(out.Joints, f.joint(&w.Joints[i]))
	}
	for i := range w.Faces {
		out.Faces = append(out.Faces, f.face(&w.Faces[i], out.Joints))
	}
	out.Strips = f.strips()
	f.spread(out)
	return out
}

type finisher struct {
	wall  *layout.Wall
	cat   *catalogue.Catalogue
	pr    *catalogue.Practice
	level catalogue.FinishLevel
}

// innerLayer is the use of tape and compound in joints of inner layers.
const innerLayer = "inner layer"

// joint decides the treatment of a joint: those of inner layers are filled
// without tape, rims are sealed or filled, the others taped and coated as the
// level asks.
func (f *finisher) joint(j *layout.Joint) Joint {
	out := Joint{Kind: j.Kind, Edges: edgesOf(j.Kind), Length: j.From.Dist(j.To).Metres()}
	use := string(j.Kind)
	switch {
	case !j.Outer:
		use = innerLayer
	case j.Kind == layout.Perimeter && f.sealed():
		out.Seal = f.wall.Rim
		return out
	case j.Kind == layout.Perimeter:
	default:
		if out.Coats = f.coatsOver(j.Kind); out.Coats == 0 {
			return out
		}
		if tape, ok := f.cat.SundryFor(catalogue.KindJointTape, use, f.pr); ok {
			out.Tape = tape.ID
		}
	}
	if filler, ok := f.cat.SundryFor(catalogue.KindFiller, use, f.pr); ok {
		out.Filler = filler.ID
		out.Fill = f.section(j) * out.Length * filler.Density
		if filler.Density == 0 {
			out.Fill = out.Length * filler.Uses[use]
		}
	}
	return out
}

// sealed reports whether rims are closed with sealant instead of compound.
func (f *finisher) sealed() bool {
	s, ok := f.cat.Sundry(f.wall.Rim)
	return ok && s.Kind == catalogue.KindSealant
}

func edgesOf(k layout.JointKind) Edges {
	switch k {
	case layout.TaperedJoint:
		return Tapered
	case layout.MixedJoint:
		return Mixed
	case layout.InnerCorner, layout.OuterCorner:
		return Corner
	case layout.Perimeter:
		return Rim
	}
	return Bevelled
}

// coatsOver returns how many coats go over a kind of joint: as many as the level
// asks for and the practice has widths for.
func (f *finisher) coatsOver(k layout.JointKind) int {
	n := f.level.Coats
	switch k {
	case layout.InnerCorner:
		n = f.level.Angles
	case layout.OuterCorner:
		n = f.level.Heads
	}
	return min(n, len(f.pr.CoatWidths.Value))
}

// section returns the cross-section of a joint's recess in m²: the triangle of a
// tapered edge, that of a bevel at 45 degrees, or the gap at a rim through the
// outer board.
func (f *finisher) section(j *layout.Joint) float64 {
	taper := f.pr.TaperWidth.Value.Metres() * f.pr.TaperDepth.Value.Metres() / 2
	bevel := math.Pow(f.pr.CutBevel.Value.Metres(), 2) / 2
	switch edgesOf(j.Kind) {
	case Tapered:
		return 2 * taper
	case Mixed:
		return taper + bevel
	case Bevelled:
		return 2 * bevel
	case Rim:
		gap := f.pr.BoardShortfall.Value - f.pr.BoardFloorGap.Value
		return gap.Metres() * f.thickness(j).Metres()
	}
	return 0
}

// thickness returns that of the board at a joint.
func (f *finisher) thickness(j *layout.Joint) Length {
	for i := range f.wall.Faces {
		if face := &f.wall.Faces[i]; face.Face == j.Face && j.Layer < len(face.Layers) {
			if b, ok := f.cat.Board(face.Layers[j.Layer].Board); ok {
				return b.Thickness
			}
		}
	}
	return 0
}

// face measures a face.
func (f *finisher) face(face *layout.FaceLayout, joints []Joint) Face {
	outer := len(face.Layers) - 1
	pieces := face.Layers[outer].Pieces
	out := Face{Face: face.Face, Area: area(pieces)}
	region := regionOf(pieces)
	for n := range min(max(f.level.Coats, f.level.Angles, f.level.Heads), len(f.pr.CoatWidths.Value)) {
		if c, ok := f.coat(n, face.Face, region, joints); ok {
			out.Coats = append(out.Coats, c)
		}
	}
	out.Heads, out.Loose = f.heads(face.Face, outer, joints)
	return out
}

func area(pieces []layout.Piece) float64 {
	total := 0.0
	for i := range pieces {
		total += pieces[i].Area().SquareMetres()
	}
	return total
}

// regionOf lists the outlines of a layer's pieces and of the holes in them.
func regionOf(pieces []layout.Piece) []geom.Polygon {
	var list []geom.Polygon
	for i := range pieces {
		list = append(append(list, pieces[i].Outline), pieces[i].Holes...)
	}
	return list
}

// coat measures coat n, from 0, of a face.
func (f *finisher) coat(n int, face plan.Face, region []geom.Polygon, joints []Joint) (Coat, bool) {
	c := Coat{Width: f.pr.CoatWidths.Value[n]}
	var stripes []geom.Polygon
	for i := range f.wall.Joints {
		j := &f.wall.Joints[i]
		if j.Face != face || !j.Outer || n >= joints[i].Coats {
			continue
		}
		stripes = append(stripes, stripe(j.From, j.To, c.Width))
		c.Beyond += joints[i].Length * f.beyond(j, c.Width).Metres()
		if c.Product == "" {
			c.Product = joints[i].Filler
		}
	}
	if n < f.level.Heads {
		for i := range f.wall.Beads {
			if b := &f.wall.Beads[i]; b.Face == face && b.Use == controlJoint {
				stripes = append(stripes, stripe(b.From, b.To, c.Width))
				c.Product = f.filler(controlJoint).ID
			}
		}
	}
	if len(stripes) == 0 {
		return c, false
	}
	c.Area = geom.Covered(region, stripes).SquareMetres()
	if p, ok := f.cat.Sundry(c.Product); ok {
		c.Mass = (c.Area + c.Beyond) * f.thick(n) * p.Density
	}
	return c, true
}

// controlJoint is the use of beads at movement joints.
const controlJoint = "control joint"
