package sheets

import (
	"math"
	"slices"

	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// Thicknesses at which details draw what has none in the layout.
const (
	tapeDrawn  = 3 * millimetre // sealing tape
	stripDrawn = 5 * millimetre // isolating strip
	fillDrawn  = 4 * millimetre // filler, sealant, bead
)

// capReach is how far beyond the part shown the frame may end that caps close.
const capReach = 60 * millimetre

// caps adds the strips that close free ends and reveals.
func (c *levelCut) caps() {
	grown := map[Length]Length{} // how far the caps before reach, by end
	count := map[Length]int{}
	for i := range c.wall.Caps {
		p := &c.wall.Caps[i]
		u := p.At.X
		if !c.u.Contains(u) && (p.Use != "end cap" || u < c.u.From-capReach || u > c.u.To+capReach) {
			continue
		}
		t := c.set.boardThickness(p.Board)
		switch p.Use {
		case "end cap":
			if box := p.Outline.Bounds(); c.z < p.At.Y+box.Min.Y || c.z > p.At.Y+box.Max.Y {
				continue
			}
			sign := Length(1)
			if e := wholeExtent(c.wall); u-e.From < e.To-u {
				sign = -1
			}
			from := u + sign*grown[u]
			lo, hi := c.set.under(c.wall, count[u])
			grown[u] += t
			count[u]++
			c.box(board, "end cap: "+c.set.boardName(p.Board), from, from+sign*t, lo, hi)
		case "reveal":
			c.reveal(p, u, t)
		}
	}
}

// useBacking is the use of the strips behind a movement joint.
const useBacking = "joint backing"

// backings adds the strips behind a movement joint: on each face as many as it has
// layers, the outermost against the boards.
func (c *levelCut) backings() {
	a, b := frameRims(c.wall)
	for i := range c.wall.Controls {
		j := &c.wall.Controls[i]
		var strips []*layout.Piece
		for k := range c.wall.Caps {
			if p := &c.wall.Caps[k]; p.Use == useBacking && p.At.X == j.U.From && p.At.Y <= c.z && c.z <= p.At.Y+p.Height {
				strips = append(strips, p)
			}
		}
		if !c.u.Contains(j.U.From) || len(strips) == 0 {
			continue
		}
		lap := (strips[0].Width - j.U.Len()) / 2
		for n, p := range strips {
			t, per := c.set.boardThickness(p.Board), len(strips)/len(c.wall.Faces)
			v := a - Length(n+1)*t
			if c.wall.Faces[min(n/per, len(c.wall.Faces)-1)].Face == plan.FaceB {
				v = b + Length(n%per)*t
			}
			c.box(board, "strip behind the joint, fixed on one side: "+c.set.boardName(p.Board), j.U.From-lap, j.U.To+lap, v, v+t)
		}
	}
}

// under returns the v between which the first n layers of both faces lie, as caps
// are as wide as what they close.
func (s *Set) under(w *layout.Wall, n int) (lo, hi Length) {
	hi, lo = frameRims(w)
	for _, x := range s.sheetsOf(w) {
		if x.k < n {
			lo, hi = min(lo, x.from), max(hi, x.to)
		}
	}
	return lo, hi
}

// reveal adds the strip on the side of an opening.
func (c *levelCut) reveal(p *layout.Piece, u, t Length) {
	hi, lo := c.set.surfaces(c.wall)
	for _, o := range c.wall.Openings {
		if c.z < o.Sill || c.z > o.Head {
			continue
		}
		switch { // strips go round an opening from its lower left corner
		case u == o.U.From && p.At.Y <= c.z:
			c.box(board, "reveal: "+c.set.boardName(p.Board), u, u+t, lo, hi)
		case u == o.U.To && p.At.Y >= c.z:
			c.box(board, "reveal: "+c.set.boardName(p.Board), u-t, u, lo, hi)
		}
	}
}

// seals adds tape behind end studs and the strip between twin frames.
func (c *levelCut) seals() {
	for i := range c.wall.Seals {
		s := &c.wall.Seals[i]
		if s.From.X != s.To.X || !c.u.Contains(s.From.X) || !c.shows(s.From.X) || c.z < s.From.Y || c.z > s.To.Y || s.Line < 0 {
			continue
		}
		fl, half := c.wall.FrameLines[s.Line], c.flangeAt(s.From.X)/2
		name := c.set.sundryName(s.Product)
		if s.Use == "between frames" {
			edge := fl.Offset - fl.Depth/2
			c.box(sealing, name, s.From.X-half, s.From.X+half, edge-stripDrawn, edge)
			continue
		}
		u, out := s.From.X-half, -tapeDrawn
		if fl.Extent.To-s.From.X < s.From.X-fl.Extent.From {
			u, out = s.From.X+half, tapeDrawn
		}
		c.box(sealing, name, u, u+out, fl.Offset-fl.Depth/2, fl.Offset+fl.Depth/2)
	}
}

// onAxis returns the u of a place that is measured on a layer of a curved wall.
func (c *levelCut) onAxis(f plan.Face, k int, u Length) Length {
	if c.wall.Curve == nil {
		return u
	}
	for i := range c.wall.Faces {
		if face := &c.wall.Faces[i]; face.Face == f && k >= 0 && k < len(face.Layers) && face.Layers[k].Bend != nil {
			return Length(math.Round(float64(u) * float64(c.wall.Curve.Axis.Radius) / float64(face.Layers[k].Bend.Radius)))
		}
	}
	return u
}

// jointNames says what is done at the joints of outer layers.
var jointNames = map[layout.JointKind]string{
	layout.TaperedJoint: "joint of tapered edges, taped",
	layout.MixedJoint:   "joint of a tapered and a cut edge, taped",
	layout.CutJoint:     "joint of cut edges, taped",
	layout.InnerCorner:  "inner corner, taped",
	layout.OuterCorner:  "outer corner",
}

// joints adds what closes the upright joints of the outer layers.
func (c *levelCut) joints() {
	a, b := c.set.surfaces(c.wall)
	for _, j := range c.wall.Joints {
		j.From.X, j.To.X = c.onAxis(j.Face, j.Layer, j.From.X), c.onAxis(j.Face, j.Layer, j.To.X)
		if j.From.X != j.To.X || !j.Outer || j.From.X < c.u.From || j.From.X > c.u.To || !spans(c.z, j.From.Y, j.To.Y) {
			continue
		}
		if c.kind != movementDetail && j.Kind != layout.Perimeter && j.Kind != layout.InnerCorner && j.Kind != layout.OuterCorner && (j.From.X-c.near).Abs() > millimetre {
			continue
		}
		v, in := a, -fillDrawn/2
		if j.Face == plan.FaceB {
			v, in = b, fillDrawn/2
		}
		name, half := jointNames[j.Kind], 2*fillDrawn
		switch j.Kind {
		case layout.Perimeter:
			name, half = c.set.sundryName(c.wall.Rim), fillDrawn/2
		case layout.OuterCorner:
			name, half = c.beadName("outer corner"), fillDrawn/2
		case layout.InnerCorner:
			half = fillDrawn / 2
		}
		if name != "" {
			c.box(sealing, name, j.From.X-half, j.From.X+half, v, v+in)
		}
	}
	for _, s := range c.wall.Beads {
		if s.Use == "control joint" && c.u.Contains(s.From.X) && spans(c.z, s.From.Y, s.To.Y) {
			c.box(sealing, c.set.sundryName(s.Product), s.From.X-fillDrawn, s.From.X+2*fillDrawn, a, a-fillDrawn/2)
			c.box(sealing, c.set.sundryName(s.Product), s.From.X-fillDrawn, s.From.X+2*fillDrawn, b, b+fillDrawn/2)
		}
	}
}

func spans(x, a, b Length) bool { return min(a, b) <= x && x <= max(a, b) }

func (c *levelCut) beadName(use string) string {
	for _, s := range c.wall.Beads {
		if s.Use == use {
			return c.set.sundryName(s.Product)
		}
	}
	return ""
}

// screws adds the screws of the rows that the cut passes.
func (c *levelCut) screws() {
	sheets := c.set.sheetsOf(c.wall)
	for _, r := range c.wall.Screws {
		r.From.X, r.To.X = c.onAxis(r.Face, r.Layer, r.From.X), c.onAxis(r.Face, r.Layer, r.To.X)
		if r.Layer < 0 || r.From.X < c.u.From || r.From.X > c.u.To || !spans(c.z, r.From.Y, r.To.Y) || !c.shows(r.From.X) {
			continue
		}
		p, ok := c.set.in.Catalogue.Screw(r.Screw)
		if !ok {
			continue
		}
		for _, x := range sheets {
			if x.face != r.Face || x.k != r.Layer {
				continue
			}
			head, in := x.to, -p.Length
			if x.face == plan.FaceB {
				head, in = x.from, p.Length
			}
			u := r.From.X + Length(x.k)*6*millimetre // layers fixed in one line stand aside
			c.add(fixing, p.Name, geom.Pt(u, head), geom.Pt(u, head+in))
		}
	}
}

// shows reports whether an upright that the detail shows stands at u.
func (c *levelCut) shows(u Length) bool {
	return slices.ContainsFunc(c.wall.Members, func(m layout.Member) bool {
		return m.Upright() && !c.incidental(&m) && (m.From.X-u).Abs() <= m.Width/2
	})
}
