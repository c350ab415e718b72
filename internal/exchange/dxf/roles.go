package dxf

import (
	"regexp"
	"slices"
	"strings"
)

// Role is what a layer of the drawing shows.
type Role string

// The roles of layers.
const (
	Wall      Role = "wall"      // walls; those up to 200 mm are taken as partitions
	Partition Role = "partition" // partitions of any thickness
	Structure Role = "structure" // existing walls of any thickness
	Column    Role = "column"
	Door      Role = "door"
	Window    Role = "window"
	Room      Role = "room"  // closed outlines of rooms
	Other     Role = "other" // furniture, dimensions and whatever else shows no wall; its words still name rooms
)

// Roles lists every role.
func Roles() []Role { return []Role{Wall, Partition, Structure, Column, Door, Window, Room, Other} }

// isWall reports whether lines of the role are faces of walls.
func (r Role) isWall() bool { return r == Wall || r == Partition || r == Structure }

// signs tell what a layer or block shows by its name, in the order in which they
// are tried. The names are common practice in the languages concerned.
var signs = []struct {
	Role
	pattern *regexp.Regexp
}{
	{Other, regexp.MustCompile(`dim|patt|iden|note|text|txt|hatch|tramas|stem|foot|found|retain|header|curtain|wallpaper`)},
	{Door, regexp.MustCompile(`door|porte|tür|tuer|porta|puerta|opening|ouvert|öffnung|扉|ドア|建具`)},
	{Window, regexp.MustCompile(`window|glaz|fenster|fen[eê]tre|ventana|finestra|crystal|glass|窓`)},
	{Column, regexp.MustCompile(`column|colum|pillar|pilar|stütze|stuetze|poteau|pilastr|柱`)},
	{Room, regexp.MustCompile(`\broom|\bspace|raum|pi[eè]ce|habitaci|\bvano\b|部屋`)},
	{Partition, regexp.MustCompile(`partition|trennw|cloison|tabique|tramezz|間仕切`)},
	{Wall, regexp.MustCompile(`wall|\bmurs?\b|wand|wände|waende|\bmur[oi]s?\b|paret|pared|壁`)},
}

// bound is the prefix that a layer gets when its drawing is bound into another.
var bound = regexp.MustCompile(`^.*\$\d+\$`)

// roleByName returns the role that a name tells, "" where it tells none.
func roleByName(name string) Role {
	name = strings.ToLower(bound.ReplaceAllString(name, ""))
	for _, w := range signs {
		if w.pattern.MatchString(name) {
			return w.Role
		}
	}
	return ""
}

// LayerRole says what one layer shows.
type LayerRole struct {
	Layer string `json:"layer" jsonschema:"name of the layer as it stands in the drawing"`
	As    Role   `json:"as" jsonschema:"wall, partition, structure, column, door, window, room or other"`
}

// Mapping is what somebody said about a drawing, to be kept beside it: a file in
// YAML with the unit and the role of each layer.
type Mapping struct {
	Unit   string      `json:"unit,omitempty" jsonschema:"unit of the drawing: mm, cm, m, in or ft"`
	Layers []LayerRole `json:"layers,omitempty" jsonschema:"what each layer shows"`
}

// proposal is the mapping with which a drawing is read: what was said, and for the
// other layers what their names tell. Where no layer is said or called to show walls,
// those without a role of their own are searched, and guessed tells it.
func (m Mapping) proposal(layers []string) (full Mapping, guessed bool) {
	full.Unit = m.Unit
	walls := false
	for _, name := range layers {
		as := m.given(name)
		if as == "" {
			as = roleByName(name)
		}
		walls = walls || as.isWall()
		full.Layers = append(full.Layers, LayerRole{name, as})
	}
	for i := range full.Layers {
		if l := &full.Layers[i]; l.As == "" {
			l.As = Other
			if !walls {
				l.As = Wall
			}
		}
	}
	return full, !walls
}

// given returns the role that was said for a layer, "" where none was.
func (m Mapping) given(layer string) Role {
	i := slices.IndexFunc(m.Layers, func(l LayerRole) bool { return l.Layer == layer })
	if i < 0 {
		return ""
	}
	return m.Layers[i].As
}
