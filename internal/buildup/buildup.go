// Package buildup turns what a plan says a wall is made of into products and
// thicknesses. It takes a plan's wall, the catalogue and the practice, and
// gives the build-up with every product looked up, or a finding that says what
// is missing. A wall that names no build-up gets the nearest one by thickness,
// which is shown as an assumption.
package buildup

import (
	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// Length is a length in a build-up.
type Length = quantity.Length

// BuildUp is a wall's build-up with its products. Thickness is the finished
// thickness of the wall, boards included; the gap between a lining and the wall
// behind it is not part of it. Build-ups are shared between walls and must not
// be changed.
type BuildUp struct {
	Spec          plan.BuildUp
	Kind          plan.FrameKind
	Stud          *catalogue.Profile
	Track         *catalogue.Profile
	OpeningStud   *catalogue.Profile // the stiff profile beside openings; Stud where there is none
	Spacing       Length             // of stud centres
	Gap           Length             // between the frames of a twin frame; between a lining and the wall behind
	GussetHeight  Length             // of the board gussets of a braced twin frame
	GussetSpacing Length             // greatest distance between them up a stud pair
	A, B          []*catalogue.Board // from the frame outwards; B is empty where the wall is boarded on one face only
	Liner         *catalogue.Board   // of a shaft wall: the board between the studs; nil where there is none
	Insulation    []Fill
	Thickness     Length
}

// Fill is one layer of cavity fill.
type Fill struct {
	Product   *catalogue.Insulation
	Thickness Length
	Place     plan.FillPlace
}

// Boards returns the boards of one face, from the frame outwards.
func (b *BuildUp) Boards(f plan.Face) []*catalogue.Board {
	if f == plan.FaceA {
		return b.A
	}
	return b.B
}

// BoardsThickness returns the thickness of all boards of one face.
func (b *BuildUp) BoardsThickness(f plan.Face) Length {
	var t Length
	for _, board := range b.Boards(f) {
		t += board.Thickness
	}
	return t
}

// FrameDepth returns the depth of one line of studs across the wall, as the
// trade counts it.
func (b *BuildUp) FrameDepth() Length { return b.Track.NominalDepth() }

// FrameLines returns the number of lines of studs: 1, or 2 for twin frames.
func (b *BuildUp) FrameLines() int {
	if b.Kind.Twin() {
		return 2
	}
	return 1
}

// finished returns the finished thickness.
func (b *BuildUp) finished() Length {
	t := Length(b.FrameLines())*b.FrameDepth() + b.BoardsThickness(plan.FaceA) + b.BoardsThickness(plan.FaceB)
	if b.Kind.Twin() {
		t += b.Gap
	}
	return t
}
