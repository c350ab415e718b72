package catalogue

import (
	"fmt"
	"slices"

	"nogging/internal/quantity"
)

// FireEvidence is what one fire test report, classification or published listing
// covers. A wall has the rating only where it stays inside all of it. A limit
// that the document does not state is left out, and then nothing is proven by it
// in that point.
type FireEvidence struct {
	ID       string `json:"id"`
	Name     string `json:"name"`
	Standard string `json:"standard,omitempty"` // by which it was tested or listed, such as EN 1364-1; practices that follow other standards are not offered it
	Document string `json:"document"`           // report or listing, with its date
	Rating   string `json:"rating"`             // as the document gives it: EI 60, F90-A, 1 h

	Frames   []string `json:"frames"`              // kinds of frame
	Depth    Length   `json:"depth,omitempty"`     // least depth of the studs
	Steel    Length   `json:"steel,omitempty"`     // least sheet thickness of the studs
	Spacing  Length   `json:"spacing,omitempty"`   // greatest distance of stud centres
	Height   Length   `json:"height,omitempty"`    // greatest height: tested, or as the document extends it
	HeadMove Length   `json:"head_move,omitempty"` // greatest movement of the head; 0 where only a rigid head is covered

	FaceA  []FireLayer `json:"face_a"`           // from the frame outwards
	FaceB  []FireLayer `json:"face_b,omitempty"` // face A's if left out; none for one-sided frames
	Screws []Length    `json:"screws,omitempty"` // greatest spacing for each layer, from the frame outwards
	Fill   []FireFill  `json:"fill,omitempty"`   // any one of these; none where an empty cavity is covered

	Stagger    Length `json:"stagger,omitempty"`      // least distance between the joints of facing faces and of neighbouring layers
	BackToBack bool   `json:"back_to_back,omitempty"` // boxes may face each other in one bay

	Source string          `json:"source,omitempty"`
	Status quantity.Status `json:"status,omitempty"`
}

// FireLayer is one layer of board as a document covers it.
type FireLayer struct {
	Types     []string `json:"types"` // of board, as the catalogue names them, such as DF or Type X
	Thickness Length   `json:"thickness"`
}

// FireFill is one cavity fill as a document covers it.
type FireFill struct {
	Materials []string `json:"materials"`
	Thickness Length   `json:"thickness"`         // least
	Density   float64  `json:"density,omitempty"` // least, kg/m³
	Melting   float64  `json:"melting,omitempty"` // least, °C
}

// Face returns the layers of one face: 0 for A, 1 for B.
func (e *FireEvidence) Face(side int) []FireLayer {
	if side == 1 && len(e.FaceB) > 0 {
		return e.FaceB
	}
	return e.FaceA
}

func (e *FireEvidence) key() string { return e.ID }

func (e *FireEvidence) faults() faults {
	var f faults
	f.identity(e.ID, e.Name)
	f.unless(e.Document != "", "document", "it does not say what document this is", "name the report or listing and its date")
	f.unless(e.Rating != "", "rating", "no rating is given", "write it as the document does, such as EI 60 or 1 h")
	f.unless(len(e.Frames) > 0, "frames", "it does not say which frames it covers", "list them, such as frames: [single]")
	for _, l := range []struct {
		field string
		value Length
	}{{"depth", e.Depth}, {"steel", e.Steel}, {"spacing", e.Spacing}, {"height", e.Height}, {"head_move", e.HeadMove}, {"stagger", e.Stagger}} {
		f.unless(l.value >= 0 && l.value <= longest, l.field, fmt.Sprintf("%s mm is no limit of a wall", l.value), "write a length up to 20 m, or leave it out")
	}
	f.unless(len(e.FaceA) > 0, "face_a", "no boards are listed", "list the layers from the frame outwards")
	for _, l := range slices.Concat(e.FaceA, e.FaceB) {
		f.unless(len(l.Types) > 0, "face_a", "a layer names no type of board", "list the types covered, such as types: [DF]")
		f.positive("face_a", l.Thickness)
	}
	f.unless(len(e.Screws) == 0 || len(e.Screws) == len(e.FaceA), "screws",
		fmt.Sprintf("%d spacings are listed for %d layers", len(e.Screws), len(e.FaceA)), "list one for each layer of face A, from the frame outwards")
	for _, s := range e.Screws {
		f.positive("screws", s)
	}
	for _, fill := range e.Fill {
		f.unless(len(fill.Materials) > 0, "fill", "a fill names no material", "list the materials covered, such as materials: [stone wool]")
		f.positive("fill", fill.Thickness)
		f.unless(fill.Density >= 0 && fill.Melting >= 0, "fill", "density and melting point cannot be below 0", "leave out what the document does not ask for")
	}
	f.provenance("", e.Source, e.Status)
	return f
}
