// Package ifc reads buildings in the Industry Foundation Classes (IFC2X3, IFC4
// and IFC4X3, as STEP files of ISO 10303-21, alone or in a zip archive). It takes
// the bytes of a file and gives a plan: storeys as levels, walls as partitions or as existing
// structure, their openings, spaces as rooms, columns and curtain walls as
// structure.
//
// Reading never fails. What cannot be read becomes a finding of its own whose
// object is the entity, as in "#123 IfcWall"; no other finding has such an
// object. So the walls and openings read are those of the file less those that
// are the object of a finding.
//
// Which walls are partitions is an assumption, shown as one per wall type and
// open to the reader's own choice (Options.Partitions).
package ifc

import (
	"slices"

	"nogging/internal/finding"
	"nogging/internal/plan"
)

// Options are the reader's own choices.
type Options struct {
	// Partitions says for wall types, by name, whether walls of the type are
	// partitions (true) or existing structure (false). Of types that share a
	// name, one is named with its thickness, as in "Wall, 100 mm". Types that
	// are not named are judged by their properties and layers.
	Partitions map[string]bool
}

// Stats counts what was read, and what the file holds.
type Stats struct {
	Schema    string `json:"schema"`
	Levels    int    `json:"levels"`
	Walls     int    `json:"walls"`     // read as partitions; one along a bent axis counts once, and makes several in the plan
	Structure int    `json:"structure"` // walls read as existing structure
	Openings  int    `json:"openings"`  // in walls of either kind
	Rooms     int    `json:"rooms"`

	OpeningsInStructure int  `json:"openings_in_structure"` // of Openings; a plan does not show them
	Doors               int  `json:"doors"`                 // that fill openings
	Windows             int  `json:"windows"`               // as Doors
	Holes               int  `json:"holes"`                 // found in partitions without an opening in the file; not in Openings
	Columns             int  `json:"columns"`               // added to the plan's structure
	Facades             int  `json:"facades"`               // curtain walls, added to the plan's structure
	Ours                bool `json:"ours,omitempty"`        // this program wrote the model: the plan is the one that it was written from
	Restored            int  `json:"restored,omitempty"`    // where it is: walls that came back with what was drawn of them

	Sized     int `json:"sized"`      // walls of which the file states sizes
	SizesMeet int `json:"sizes_meet"` // of Sized, those of which all are as read

	Entities Entities    `json:"entities"`
	Types    []TypeStats `json:"types"`
}

// Entities counts entities as they stand in the file.
type Entities struct {
	Walls    int `json:"walls"`
	Openings int `json:"openings"`
	Doors    int `json:"doors"`
	Windows  int `json:"windows"`
	Spaces   int `json:"spaces"`
	Storeys  int `json:"storeys"`
}

// TypeStats describes the walls of one type that were read.
type TypeStats struct {
	Name        string         `json:"name"`
	Walls       int            `json:"walls"`
	Partitions  int            `json:"partitions"`
	Axis        plan.Length    `json:"axis"`        // lengths of the axes together; of the bodies where there is no axis
	Thicknesses []plan.Length  `json:"thicknesses"` // ascending
	Heights     [3]plan.Length `json:"heights"`     // least, median and greatest of extruded bodies, before roofs and slabs cut them
	Openings    int            `json:"openings"`
	Doors       int            `json:"doors"`
	Windows     int            `json:"windows"`
	Levels      []LevelCount   `json:"levels"`
}

// LevelCount is how many walls of a type stand on a level.
type LevelCount struct {
	Level string `json:"level"` // name in the file
	Walls int    `json:"walls"`
}

// refused is the code of the one finding about a file that is not read at all.
const refused = "ifc-file"

// Refused reports whether Read found that the file is no IFC file that can be
// read, so that there is no plan.
func Refused(found finding.List) bool {
	return slices.ContainsFunc(found, func(f finding.Finding) bool { return f.Code == refused })
}

// Read reads a file with the reader's own choices; name is its name in findings.
func (o Options) Read(name string, data []byte) (*plan.Plan, Stats, finding.List) {
	p := &plan.Plan{Version: plan.Version, Levels: []plan.Level{}, Walls: []plan.Wall{}}
	data, found := Unpack(name, data)
	if Refused(found) {
		return p, Stats{}, found
	}
	r := newReader(name, data, o)
	if r.acceptable(data) {
		r.relations()
		r.storeys()
		r.readOwn()
		r.readWalls()
		r.sortPartitions()
		r.measureTops()
		r.readOpenings()
		r.fillOpenings()
		r.settleLevels()
		r.tellTops()
		r.tellCeilings()
		r.assemble(p)
		r.restore(p)
	}
	r.report()
	return p, r.stats, r.found
}
