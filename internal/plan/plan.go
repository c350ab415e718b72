// Package plan is the model of what the architect gives: project, levels,
// existing structure, rooms, build-ups, walls with their openings, boxes and
// fixings, and what each wall must do. It takes a plan file and gives a Plan
// with the findings about it; it knows nothing of how walls are built.
//
// Lengths are millimetres in files unless a unit is written. Plan coordinates
// are x east, y north; a wall's own coordinates are u along its line from the
// start and z up from the level's floor. Face A is on the left when walking
// from start to end.
package plan

import (
	"encoding/json"
	"fmt"

	"nogging/internal/geom"
	"nogging/internal/quantity"
)

// Length is a length in a plan.
type Length = quantity.Length

// Version is the version of the plan format that this package reads and writes.
const Version = 1

// Plan is one architect's plan with everything needed to build its partitions.
type Plan struct {
	Version    int         `json:"nogging" jsonschema:"version of the plan format: 1"`
	Project    Project     `json:"project,omitzero" jsonschema:"names for title blocks"`
	Practice   string      `json:"practice,omitempty" jsonschema:"rule set of the trade: metric or us"`
	Overrides  Overrides   `json:"overrides,omitempty" jsonschema:"values of the practice that this project changes"`
	Catalogue  []string    `json:"catalogue,omitempty" jsonschema:"files with the user's own products and rules, merged over the shipped ones"`
	Climate    Climate     `json:"climate,omitzero" jsonschema:"climate on site, for drying times"`
	Seismic    Seismic     `json:"seismic,omitzero" jsonschema:"earthquake on site, where walls are to be proven for it"`
	SaveBoards bool        `json:"save_boards,omitempty" jsonschema:"lay walls out so that fewest boards are bought for a zone, where that is as right and takes no more pieces, screws or steel"`
	Levels     []Level     `json:"levels" jsonschema:"storeys"`
	Structure  []Structure `json:"structure,omitempty" jsonschema:"existing load-bearing walls, columns and facades"`
	Rooms      []Room      `json:"rooms,omitempty" jsonschema:"rooms"`
	BuildUps   []BuildUp   `json:"buildups,omitempty" jsonschema:"what walls are made of"`
	Walls      []Wall      `json:"walls" jsonschema:"partitions"`
	Junctions  []Junction  `json:"junctions,omitempty" jsonschema:"which of two walls runs through where they meet, against what is worked out"`
}

// Overrides maps the name of a practice value to what the project uses instead.
type Overrides map[string]any

// Project names the job on title blocks.
type Project struct {
	Name     string `json:"name,omitempty" jsonschema:"name of the building or job"`
	Number   string `json:"number,omitempty" jsonschema:"job number"`
	Address  string `json:"address,omitempty" jsonschema:"where it is built"`
	Client   string `json:"client,omitempty" jsonschema:"who orders it"`
	Revision string `json:"revision,omitempty" jsonschema:"revision mark of the architect's plan"`
	Date     string `json:"date,omitempty" jsonschema:"date of the plan as it shall stand in title blocks, such as 2027-01-11"`

	Georeference Georeference `json:"georeference,omitzero" jsonschema:"where on earth the building lies, kept for other programs"`
}

// Climate is the climate on site while joints are treated.
type Climate struct {
	Temperature float64 `json:"temperature,omitempty" jsonschema:"air temperature in degrees Celsius"`
	Humidity    float64 `json:"humidity,omitempty" jsonschema:"relative humidity in per cent"`
}

// Level is one storey. Heights along a wall are measured from its floor.
type Level struct {
	ID             string          `json:"id" jsonschema:"short mark of the storey, such as L1"`
	Name           string          `json:"name,omitempty" jsonschema:"name in full"`
	Elevation      Length          `json:"elevation,omitempty" jsonschema:"height of the floor on which walls stand above the project's zero"`
	ClearHeight    Length          `json:"clear_height" jsonschema:"from that floor to the soffit"`
	Floor          string          `json:"floor,omitempty" jsonschema:"what the floor track is fixed to: concrete, screed, raised_floor or timber"`
	Soffit         string          `json:"soffit,omitempty" jsonschema:"what the head is fixed to: concrete, metal_deck, steel or timber"`
	Deflection     Length          `json:"deflection,omitempty" jsonschema:"deflection of the slab above under live load"`
	Imposed        float64         `json:"imposed,omitempty" jsonschema:"imposed load in kN/m2 that the floor carries while boards are stacked on it"`
	Partitions     float64         `json:"partitions,omitempty" jsonschema:"load in kN/m2 that the floor's design allows for partitions"`
	FloorParted    bool            `json:"floor_parted,omitempty" jsonschema:"screed or raised floor is parted under walls of which sound insulation is asked"`
	FloorDepth     Length          `json:"floor_depth,omitempty" jsonschema:"of the screed with what lies under it, or of the raised floor: from the slab to the floor"`
	Deck           *Deck           `json:"deck,omitempty" jsonschema:"flutes of a metal deck soffit"`
	MovementJoints []MovementJoint `json:"movement_joints,omitempty" jsonschema:"movement joints of the structure, which walls that cross them share"`
	Datum          *Pt             `json:"datum,omitempty" jsonschema:"point from which set-out dimensions run; the lowest left corner if left out"`
}

// Kinds of floor and soffit.
const (
	Concrete    = "concrete"
	Screed      = "screed"
	RaisedFloor = "raised_floor"
	Timber      = "timber"
	MetalDeck   = "metal_deck"
	Steel       = "steel"
)

// Pt is a plan point, written [x, y] in files.
type Pt geom.Point

// Tuple returns the coordinates in the order in which files give them.
func (p *Pt) Tuple() []any { return []any{&p.X, &p.Y} }

// MarshalJSON writes the point as [x, y].
func (p Pt) MarshalJSON() ([]byte, error) { return json.Marshal([2]Length{p.X, p.Y}) }

// UnmarshalJSON reads [x, y].
func (p *Pt) UnmarshalJSON(data []byte) error {
	var xy []Length
	if err := json.Unmarshal(data, &xy); err != nil {
		return err
	}
	if len(xy) != 2 {
		return fmt.Errorf("a point needs 2 coordinates, not %d", len(xy))
	}
	*p = Pt{xy[0], xy[1]}
	return nil
}

// Structure is existing structure that partitions meet: a wall given by line
// and thickness, or a column or other body given by its outline.
type Structure struct {
	ID        string `json:"id" jsonschema:"mark, unique in the plan"`
	Level     string `json:"level" jsonschema:"id of the level it stands on"`
	Kind      string `json:"kind,omitempty" jsonschema:"wall, column, facade, post (of a facade, or a mullion) or other"`
	Material  string `json:"material,omitempty" jsonschema:"concrete, masonry, steel, timber or glass"`
	Line      []Pt   `json:"line,omitempty" jsonschema:"centre line, with thickness"`
	Thickness Length `json:"thickness,omitempty" jsonschema:"thickness of a wall given by its centre line"`
	Outline   []Pt   `json:"outline,omitempty" jsonschema:"corners of the body, instead of line and thickness"`
	Unread    bool   `json:"-"` // a value of it could not be read, so it is left out
}

// MarkUnread notes that a value of the structure could not be read.
func (s *Structure) MarkUnread() { s.Unread = true }

// Room is a space of the plan.
type Room struct {
	ID      string `json:"id" jsonschema:"mark, unique in the plan"`
	Level   string `json:"level" jsonschema:"id of the level"`
	Name    string `json:"name,omitempty" jsonschema:"name or number of the room"`
	Use     string `json:"use,omitempty" jsonschema:"use of the room, such as office, corridor, bathroom"`
	Wet     string `json:"wet,omitempty" jsonschema:"water action class: W0-I, W1-I, W2-I or W3-I (DIN 18534-1)"`
	Outline []Pt   `json:"outline" jsonschema:"corners in order; the last joins the first"`
	Found   bool   `json:"found,omitempty" jsonschema:"the outline was found from the walls around the room, and may be found anew when they change"`

	Climate RoomClimate `json:"climate,omitzero" jsonschema:"its air over the year, where condensation is to be proven"`
}

// FrameKind says how a build-up's steel stands.
type FrameKind string

// The kinds of frame.
const (
	Single          FrameKind = "single"
	TwinIndependent FrameKind = "twin_independent"
	TwinBraced      FrameKind = "twin_braced"
	Lining          FrameKind = "lining"
	Furring         FrameKind = "furring" // channels, or studs, on brackets on the wall behind
	Shaft           FrameKind = "shaft"
)

// FrameKinds lists every kind of frame.
func FrameKinds() []FrameKind {
	return []FrameKind{Single, TwinIndependent, TwinBraced, Lining, Furring, Shaft}
}

// Twin reports whether walls of this kind have two lines of studs.
func (k FrameKind) Twin() bool { return k == TwinIndependent || k == TwinBraced }

// OneSided reports whether walls of this kind are boarded on one face only.
func (k FrameKind) OneSided() bool { return k == Lining || k == Furring || k == Shaft }

// BuildUp is what a wall is made of.
type BuildUp struct {
	ID         string       `json:"id" jsonschema:"mark by which walls name it"`
	Name       string       `json:"name,omitempty" jsonschema:"name in full"`
	Frame      FrameSpec    `json:"frame" jsonschema:"the steel"`
	FaceA      []string     `json:"face_a,omitempty" jsonschema:"boards of face A from the frame outwards, by catalogue id"`
	Liner      string       `json:"liner,omitempty" jsonschema:"of a shaft wall: board set between the studs on the shaft's side and held by angles, by catalogue id"`
	FaceB      []string     `json:"face_b,omitempty" jsonschema:"boards of face B from the frame outwards; face A's if left out, none for linings and shaft walls"`
	Insulation []Insulation `json:"insulation,omitempty" jsonschema:"layers of fill of the cavity, from face A"`
	Seal       string       `json:"seal,omitempty" jsonschema:"behind perimeter profiles: tape or sealant"`
	Finish     string       `json:"finish,omitempty" jsonschema:"surface level: Q1 to Q4, or L0 to L5"`
	Unread     bool         `json:"-"` // a value of it could not be read, so walls cannot be made of it
}

// MarkUnread notes that a value of the build-up could not be read.
func (b *BuildUp) MarkUnread() { b.Unread = true }

// FrameSpec is the steel of a build-up.
type FrameSpec struct {
	Kind          FrameKind `json:"kind" jsonschema:"single, twin_independent, twin_braced, lining, furring (on brackets on the wall behind) or shaft"`
	Stud          string    `json:"stud" jsonschema:"catalogue id of the stud, such as CW75; of furring the channel, such as CD60"`
	Track         string    `json:"track,omitempty" jsonschema:"catalogue id of the track; the one that takes the stud if left out"`
	Spacing       Length    `json:"spacing,omitempty" jsonschema:"distance of stud centres, 100 mm or more; the practice's if left out"`
	GussetHeight  Length    `json:"gusset_height,omitempty" jsonschema:"of a braced twin frame: height of the board gussets that tie the two frames; the practice's if left out"`
	GussetSpacing Length    `json:"gusset_spacing,omitempty" jsonschema:"of a braced twin frame: greatest distance between gussets up a stud pair; the practice's if left out"`
	Gap           Length    `json:"gap,omitempty" jsonschema:"between the two frames of a twin frame, the practice's if left out; for a lining or furring, between frame and wall behind"`
}

// Insulation is one layer of cavity fill.
type Insulation struct {
	Product   string    `json:"product" jsonschema:"catalogue id"`
	Thickness Length    `json:"thickness,omitempty" jsonschema:"if the product comes in several"`
	Place     FillPlace `json:"place,omitempty" jsonschema:"where it lies: frame_a, frame_b or gap; in twin frames the first in frame_a and the others in frame_b if left out"`
}

// FillPlace is a part of the cavity.
type FillPlace string

// The parts of a cavity.
const (
	InFrameA FillPlace = "frame_a" // the only frame, or that at face A
	InFrameB FillPlace = "frame_b"
	InGap    FillPlace = "gap" // between two frames, or between a lining and the wall behind
)

// Justify says which line of the wall the drawn line is.
type Justify string

// What the drawn line of a wall is.
const (
	Centre  Justify = "centre" // centre of the finished thickness
	OnFaceA Justify = "face_a" // finished surface of face A
	OnFaceB Justify = "face_b" // finished surface of face B
)

// Wall is one partition on one level, straight or along an arc.
type Wall struct {
	ID         string        `json:"id" jsonschema:"mark of the wall, unique in the plan, such as L1-07"`
	Level      string        `json:"level" jsonschema:"id of the level it stands on"`
	Zone       string        `json:"zone,omitempty" jsonschema:"part of the level for which material is called off by itself"`
	Line       []Pt          `json:"line" jsonschema:"start and end of the wall's line in plan"`
	Via        *Pt           `json:"via,omitempty" jsonschema:"for a curved wall: a third point of its line, between start and end, so that the line is the arc through the three; distances along the wall are then measured along that arc"`
	Justify    Justify       `json:"justify,omitempty" jsonschema:"what the line is: centre (default), face_a or face_b"`
	BuildUp    string        `json:"buildup,omitempty" jsonschema:"id of the build-up"`
	Thickness  Length        `json:"thickness,omitempty" jsonschema:"thickness on the architect's plan, to choose a build-up where none is named"`
	Height     Length        `json:"height,omitempty" jsonschema:"height of the wall's upper edge above the floor; the level's clear height if left out"`
	Heights    []HeightAt    `json:"heights,omitempty" jsonschema:"height profile along the wall, for sloping or stepped soffits, instead of height"`
	StartPiece *ClosingPiece `json:"start_piece,omitempty" jsonschema:"slimmer piece between the wall's start and the facade post that it ends at"`
	EndPiece   *ClosingPiece `json:"end_piece,omitempty" jsonschema:"as start_piece, at the end"`
	Stands     string        `json:"stands,omitempty" jsonschema:"floor (default): on the floor as it is given; slab: on the slab, before screed or raised floor go in"`
	Base       Length        `json:"base,omitempty" jsonschema:"height of the wall's foot above the floor, on an upstand or kerb; all heights are still measured from the floor"`
	Head       string        `json:"head,omitempty" jsonschema:"auto (default), rigid, deflection, or free for a wall that stops below the soffit"`
	Start      EndCondition  `json:"start,omitempty" jsonschema:"auto (default): what the plan shows; free: a free end that is boarded over; structure: abuts structure that is not in the plan"`
	End        EndCondition  `json:"end,omitempty" jsonschema:"as start"`
	Require    Requirements  `json:"require,omitzero" jsonschema:"what the wall must do"`
	Openings   []Opening     `json:"openings,omitempty" jsonschema:"holes through the wall"`
	Boxes      []Box         `json:"boxes,omitempty" jsonschema:"sockets, switches and other boxes let into a face"`
	Fixings    []Fixing      `json:"fixings,omitempty" jsonschema:"things hung on the wall"`
	Pipes      []Pipe        `json:"pipes,omitempty" jsonschema:"pipes, ducts and cables that run in the wall's cavity"`
	Note       string        `json:"note,omitempty" jsonschema:"remark for the people on site"`
	Unread     bool          `json:"-"` // a value of it could not be read, so it is not laid out
}

// MarkUnread notes that a value of the wall could not be read.
func (w *Wall) MarkUnread() { w.Unread = true }

// HeightAt is one point of a height profile. Two points at the same place make
// a step.
type HeightAt struct {
	At     Length `json:"at" jsonschema:"distance along the wall from its start"`
	Height Length `json:"height" jsonschema:"height above the floor there"`
}

// EndCondition says what a wall's end meets.
type EndCondition string

// What a wall's end may be said to meet.
const (
	Auto        EndCondition = ""
	FreeEnd     EndCondition = "free"
	ToStructure EndCondition = "structure"
)

// Heads of walls.
const (
	HeadAuto       = ""
	HeadRigid      = "rigid"
	HeadDeflection = "deflection"
	HeadFree       = "free"
)

// Requirements is what is asked of a wall. What is left out is not asked.
type Requirements struct {
	Fire     string  `json:"fire,omitempty" jsonschema:"fire resistance as asked, such as EI 60 or 1 h"`
	Sound    string  `json:"sound,omitempty" jsonschema:"sound insulation as asked, such as Rw 53 or STC 50"`
	Duty     string  `json:"duty,omitempty" jsonschema:"installation zone (zone 1 or zone 2, DIN 4103-1) or duty grade (LD, MD, HD or SD, BS 5234-2)"`
	Wet      string  `json:"wet,omitempty" jsonschema:"water action class where it is not the rooms' own"`
	Pressure float64 `json:"pressure,omitempty" jsonschema:"uniform pressure on a face in Pa, such as 200; the practice's if left out"`
	UValue   string  `json:"u_value,omitempty" jsonschema:"heat transmittance as asked, in W/m2K"`
}

// Asked lists what is asked, in the words of the plan.
func (r Requirements) Asked() []string {
	var all []string
	for _, one := range []struct{ before, value string }{{"", r.Fire}, {"", r.Sound}, {"", r.Duty}, {"", r.Wet}, {"U ", r.UValue}} {
		if one.value != "" {
			all = append(all, one.before+one.value)
		}
	}
	if r.Pressure != 0 {
		all = append(all, fmt.Sprintf("%g Pa", r.Pressure))
	}
	return all
}

// OpeningKind is what an opening is for.
type OpeningKind string

// The kinds of opening.
const (
	Door        OpeningKind = "door"
	Window      OpeningKind = "window"
	Hatch       OpeningKind = "hatch"
	Bare        OpeningKind = "bare"        // no frame: reveals are boarded
	Penetration OpeningKind = "penetration" // pipe, duct or cable through the wall
)

// OpeningKinds lists every kind of opening.
func OpeningKinds() []OpeningKind { return []OpeningKind{Door, Window, Hatch, Bare, Penetration} }

// Opening is a hole through the wall, given as the structural opening.
type Opening struct {
	ID       string      `json:"id,omitempty" jsonschema:"the wall's id with a number if left out"`
	Kind     OpeningKind `json:"kind" jsonschema:"door, window, hatch, bare or penetration"`
	At       Length      `json:"at" jsonschema:"from the wall's start to the nearer side of the opening"`
	Width    Length      `json:"width" jsonschema:"width of the structural opening; in a curved wall straight across, at the inside of the curve"`
	Height   Length      `json:"height" jsonschema:"height of the structural opening"`
	Sill     Length      `json:"sill,omitempty" jsonschema:"height of the opening's lower edge above the floor"`
	LeafMass float64     `json:"leaf_mass,omitempty" jsonschema:"mass of the door leaf with its hardware in kg"`
	Sound    string      `json:"sound,omitempty" jsonschema:"sound insulation of the door or glazing as built in with its seals, such as Rw 32 or STC 30"`
	Service  string      `json:"service,omitempty" jsonschema:"for a penetration: pipe (of metal), plastic_pipe, duct or cable"`
	Diameter Length      `json:"diameter,omitempty" jsonschema:"for a penetration: outside diameter of the pipe or round duct with its insulation"`
	Pocket   string      `json:"pocket,omitempty" jsonschema:"for a sliding door: into which side of the opening its leaf runs, start or end"`
	HungMass float64     `json:"hung_mass,omitempty" jsonschema:"mass in kg that hangs from the header, such as glazing over the opening or a leaf on a track"`
	Leaf     Leaf        `json:"leaf,omitzero" jsonschema:"the door as it hangs: leaf, frame, hinges"`
}

// Face names one side of a wall.
type Face string

// The faces of a wall.
const (
	FaceA Face = "a" // on the left when walking from start to end
	FaceB Face = "b"
)

// RunsBack reports whether who stands before a face sees the wall run from right to
// left: so it is with face A, which is on the left from start to end.
func (f Face) RunsBack() bool { return f == FaceA }

// Box is a socket, switch or other box let into one face.
type Box struct {
	Kind   string `json:"kind,omitempty" jsonschema:"socket, switch, data or other"`
	Face   Face   `json:"face" jsonschema:"a or b"`
	At     Length `json:"at" jsonschema:"from the wall's start to the middle of the box"`
	Height Length `json:"height" jsonschema:"from the floor to the middle of the box"`
	Gangs  int    `json:"gangs,omitempty" jsonschema:"number of boxes side by side; 1 if left out"`
}

// Fixing is something hung on one face.
type Fixing struct {
	Kind   string  `json:"kind" jsonschema:"wc, basin, sanitary_frame, grab_rail, rail, radiator, cabinet, console or screen"`
	Face   Face    `json:"face" jsonschema:"a or b"`
	At     Length  `json:"at" jsonschema:"from the wall's start to the nearer side"`
	Width  Length  `json:"width,omitempty" jsonschema:"how far it reaches along the wall"`
	Height Length  `json:"height,omitempty" jsonschema:"from the floor to the line of the fixings, or to the top of a frame that stands on the floor; the practice's for its kind if left out"`
	Mass   float64 `json:"mass,omitempty" jsonschema:"in kg"`
	Lever  Length  `json:"lever,omitempty" jsonschema:"from the face to the load's line of action"`
}
