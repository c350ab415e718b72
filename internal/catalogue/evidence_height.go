package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"nogging/internal/quantity"
	"nogging/internal/words"
)

// HeightEvidence is one row of a tested height table, or of a report on the
// strength of a wall: how high a frame may stand, with which boards, and what
// it was tested for. A limit that the document does not state is left out, and
// then nothing is proven by it in that point.
type HeightEvidence struct {
	ID       string `json:"id"`
	Name     string `json:"name"`
	Standard string `json:"standard,omitempty"` // by which it was tested, such as DIN 4103-1 or ASTM E72
	Document string `json:"document"`           // table or report, with its date

	Frames  []string `json:"frames"`            // kinds of frame
	Stud    string   `json:"stud"`              // catalogue id
	Steel   Length   `json:"steel,omitempty"`   // least sheet thickness; the stud's own if left out
	Spacing Length   `json:"spacing"`           // greatest distance of stud centres
	Boards  Length   `json:"boards,omitempty"`  // least thickness of all boards of a face together
	Layers  int      `json:"layers,omitempty"`  // least number of layers of a face
	Types   []string `json:"types,omitempty"`   // of board, as the catalogue names them; any if left out
	Screws  Length   `json:"screws,omitempty"`  // greatest spacing of the screws of the outer layer
	Height  Length   `json:"height"`            // greatest height
	Sliding bool     `json:"sliding,omitempty"` // a sliding head is covered

	Duties   []string `json:"duties,omitempty"`   // duty grades and installation zones that were shown, such as zone 2 or HD
	Pressure float64  `json:"pressure,omitempty"` // Pa of uniform load that was shown
	Limit    float64  `json:"limit,omitempty"`    // the height divided by this is the most that it deflected under that
	Impact   bool     `json:"impact,omitempty"`   // the impacts of these duties were tested

	Source string          `json:"source,omitempty"`
	Status quantity.Status `json:"status,omitempty"`
}

func (e *HeightEvidence) key() string { return e.ID }

func (e *HeightEvidence) faults() faults {
	var f faults
	f.identity(e.ID, e.Name)
	f.unless(e.Document != "", "document", "it does not say what document this is", "name the table or report and its date")
	f.unless(len(e.Frames) > 0, "frames", "it does not say which frames it covers", "list them, such as frames: [single]")
	f.unless(e.Stud != "", "stud", "no stud is named", "name one by its catalogue id, such as stud: CW75")
	f.positive("spacing", e.Spacing)
	f.positive("height", e.Height)
	f.unless(len(e.Duties) > 0 || e.Pressure > 0, "duties", "it does not say what was shown", "list duties, such as duties: [zone 1], or give the pressure in Pa")
	f.unless(e.Steel >= 0 && e.Boards >= 0 && e.Screws >= 0 && e.Layers >= 0, "boards", "limits cannot be below 0", "leave out what the document does not ask for")
	f.unless(sound(e.Pressure) && sound(e.Limit), "pressure", "pressure and limit have to be numbers from 0", "write Pa, and 240 for a deflection of the height by 240")
	f.provenance("", e.Source, e.Status)
	return f
}

func sound(v float64) bool { return v >= 0 && !math.IsInf(v, 0) }

// ConsoleLimit is what may be hung on a wall whose boards on that face are
// together as thick as Boards or thicker, with or without a ground between the
// studs behind it.
type ConsoleLimit struct {
	Boards Length  `json:"boards"`
	Ground bool    `json:"ground,omitempty"`
	Load   float64 `json:"load"` // kN per metre of wall
}

// String says what the row allows.
func (c ConsoleLimit) String() string {
	ground := ""
	if c.Ground {
		ground = " and a ground"
	}
	return fmt.Sprintf("boards %s mm%s: %s kN/m", c.Boards, ground, inWords(c.Load))
}

// ConsoleFor returns the greatest console load in kN per metre of wall that the
// practice allows.
func (p *Practice) ConsoleFor(boards Length, ground bool) float64 {
	most := 0.0
	for _, c := range p.Consoles.Value {
		if c.Boards <= boards && (ground || !c.Ground) {
			most = max(most, c.Load)
		}
	}
	return most
}

// The standards by which steel is proven.
const (
	EN1993 = "EN1993_1_3"
	AISI   = "AISI_S100"
)

// structureConflict finds what is wrong with the rules by which structure is
// proven.
func structureConflict(p *Practice) conflict {
	methods := []string{EN1993, AISI}
	if m := p.SteelMethod; m.given() && !slices.Contains(methods, m.Value) {
		return conflict{[]string{"steel_method"}, fmt.Sprintf("steel is not proven by %q", m.Value), words.F("write one of: %s", strings.Join(methods, ", "))}
	}
	for i, c := range p.Consoles.Value {
		if c.Boards <= 0 || !sound(c.Load) {
			return conflict{[]string{"consoles"}, fmt.Sprintf("row %d of the console loads has no boards or a load below 0", i+1), "write rows such as {boards: 12.5, load: 0.4}"}
		}
	}
	return conflict{}
}
