package catalogue

import (
	"cmp"
	"fmt"
	"slices"

	"nogging/internal/quantity"
)

// SoundEvidence is what one sound test report covers: the wall that was tested,
// and how much sound it kept back. It overrides what the program estimates for
// walls that are no worse in any point: as many boards and as heavy, as deep a
// cavity, as much fill, studs no closer and of steel no thicker.
type SoundEvidence struct {
	ID       string    `json:"id"`
	Name     string    `json:"name"`
	Standard string    `json:"standard,omitempty"` // by which it was measured, such as ISO 10140-2 or ASTM E90
	Document string    `json:"document"`           // report, with its date
	Ratings  []string  `json:"ratings,omitempty"`  // as the document gives them: Rw 53, Rw + Ctr 45, STC 52
	First    float64   `json:"first,omitempty"`    // centre of the first band of the spectrum, Hz
	Spectrum []float64 `json:"spectrum,omitempty"` // sound reduction in one-third octaves from there on, dB

	Frame   string       `json:"frame"`            // kind of frame
	Depth   Length       `json:"depth"`            // of the studs
	Steel   Length       `json:"steel"`            // sheet thickness of the studs
	Spacing Length       `json:"spacing"`          // of stud centres
	Gap     Length       `json:"gap,omitempty"`    // between the frames of a twin frame
	FaceA   []SoundLayer `json:"face_a"`           // from the frame outwards
	FaceB   []SoundLayer `json:"face_b,omitempty"` // face A's if left out; none for one-sided frames
	Fill    []SoundFill  `json:"fill,omitempty"`   // one for each frame that was filled

	Source string          `json:"source,omitempty"`
	Status quantity.Status `json:"status,omitempty"`
}

// SoundLayer is one layer of board as it was tested.
type SoundLayer struct {
	Types     []string `json:"types"` // of board, as the catalogue names them, such as DF or Type X
	Thickness Length   `json:"thickness"`
	Mass      float64  `json:"mass"` // kg/m²
}

// SoundFill is one cavity fill as it was tested.
type SoundFill struct {
	Materials []string `json:"materials"`
	Thickness Length   `json:"thickness"`
}

// Face returns the layers of one face of a wall that has two: 0 for A, 1 for B.
func (e *SoundEvidence) Face(side int) []SoundLayer {
	if side == 1 && len(e.FaceB) > 0 {
		return e.FaceB
	}
	return e.FaceA
}

func (e *SoundEvidence) key() string { return e.ID }

func (e *SoundEvidence) faults() faults {
	var f faults
	f.identity(e.ID, e.Name)
	f.unless(e.Document != "", "document", "it does not say what document this is", "name the report and its date")
	e.results(&f)
	f.unless(e.Frame != "", "frame", "it does not say which frame was tested", "write it, such as frame: single")
	f.positive("depth", e.Depth)
	f.positive("steel", e.Steel)
	f.positive("spacing", e.Spacing)
	f.unless(e.Gap >= 0 && e.Gap <= longest, "gap", fmt.Sprintf("%s mm is no gap", e.Gap), "write the clear distance between the frames, or leave it out")
	f.unless(len(e.FaceA) > 0, "face_a", "no boards are listed", "list the layers from the frame outwards")
	for _, l := range slices.Concat(e.FaceA, e.FaceB) {
		f.unless(len(l.Types) > 0, "face_a", "a layer names no type of board", "list the types covered, such as types: [DF]")
		f.positive("face_a", l.Thickness)
		f.amount("face_a", l.Mass, "kg/m²")
	}
	for _, fill := range e.Fill {
		f.unless(len(fill.Materials) > 0, "fill", "a fill names no material", "list the materials covered, such as materials: [stone wool]")
		f.positive("fill", fill.Thickness)
	}
	f.provenance("", e.Source, e.Status)
	return f
}

// results checks what the document found.
func (e *SoundEvidence) results(f *faults) {
	f.unless(len(e.Ratings)+len(e.Spectrum) > 0, "ratings", "it gives no result", "list the single numbers, such as ratings: [Rw 53], or the spectrum")
	for _, text := range e.Ratings {
		r, err := quantity.ParseSound(text)
		f.unless(err == nil && !r.Descriptor.InField(), "ratings", fmt.Sprintf("%q is no rating from a laboratory", text), "write it as the document does, such as Rw 53 or STC 52")
	}
	if len(e.Spectrum) > 0 {
		first := slices.Index(thirdOctaves, e.First)
		f.unless(first >= 0, "first", fmt.Sprintf("%g Hz is no band of the spectrum", e.First), "write the centre of the spectrum's first band, such as first: 100")
		f.unless(first < 0 || first+len(e.Spectrum) <= len(thirdOctaves), "spectrum", fmt.Sprintf("%d bands reach beyond 5000 Hz", len(e.Spectrum)), "list one level for each third of an octave up to 5000 Hz")
	}
	for _, r := range e.Spectrum {
		f.unless(r > -20 && r < 150, "spectrum", fmt.Sprintf("%g dB is no sound reduction of a wall", r), "write levels in decibels")
	}
}

// thirdOctaves are the centres of bands in which spectra are given, in Hz (ISO 266).
var thirdOctaves = []float64{50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000}

// SoundEntries lists the sound evidence for a table; the results and what they
// are of stand in place of sizes.
func (c *Catalogue) SoundEntries() []Entry {
	return entries(c.SoundEvidence, func(e *SoundEvidence) Entry {
		return Entry{e.ID, e.Name, e.Document, cmp.Or(joined(e.Ratings, ", "), "spectrum"), e.Source, e.Status}
	})
}
