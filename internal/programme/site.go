package programme

import (
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/yamlfile"
)

// Version is the version of the gangs file's format.
const Version = 1

// Site is the gangs file: who works when, with what, where first, in which air, and
// what others do and bring.
type Site struct {
	Version    int        `json:"programme" jsonschema:"version of the format of this file: 1"`
	GroupHours float64    `json:"group_hours,omitempty" jsonschema:"work in hours of one person up to which neighbouring walls of a zone make one group; 40 if left out, 0.1 or less for each wall by itself"`
	OpenZones  int        `json:"open_zones,omitempty" jsonschema:"in how many zones frames and boards may be in work at the same time, zone by zone in their order; if left out, 4 where zones are levels, else any number"`
	Compound   Compound   `json:"compound,omitempty" jsonschema:"compound of all coats, drying or setting; that of the catalogue if left out"`
	Night      bool       `json:"night,omitempty" jsonschema:"the work is done at night, and takes longer by the catalogue's factor"`
	LeaveOut   []string   `json:"leave_out,omitempty" jsonschema:"ids or kinds of products that others supply and fix, such as paint"`
	Calendars  []Calendar `json:"calendars" jsonschema:"when work goes on"`
	Gangs      []Gang     `json:"gangs" jsonschema:"who works"`
	Plant      []Plant    `json:"plant,omitempty" jsonschema:"lifts, platforms and towers, of which there are only so many"`
	Zones      []Zone     `json:"zones,omitempty" jsonschema:"parts of the building, those to be built first at the top; others follow in the order of the plan"`
	Climate    []Weather  `json:"climate,omitempty" jsonschema:"air on site, forecast or logged, where it is not that of the plan; each row holds from its day on"`
	Others     []Other    `json:"others,omitempty" jsonschema:"work by others that ours waits for, or that waits for ours"`
	Deliveries Deliveries `json:"deliveries,omitzero" jsonschema:"how material comes"`
	Holds      Holds      `json:"holds,omitzero" jsonschema:"inspections"`

	places yamlfile.Places
}

// Compound is how a compound hardens (EN 13963: type A dries, type B sets).
type Compound string

// The compounds.
const (
	Drying  Compound = "drying"
	Setting Compound = "setting"
)

// Calendar is when a gang works.
type Calendar struct {
	ID       string   `json:"id" jsonschema:"mark by which gangs name it"`
	Days     []string `json:"days" jsonschema:"working days of a week: mon, tue, wed, thu, fri, sat, sun"`
	Shifts   []Shift  `json:"shifts" jsonschema:"working hours of a day, such as 07:00-12:00, in order"`
	Holidays []Date   `json:"holidays,omitempty" jsonschema:"days on which nobody works"`
	Extra    []Date   `json:"extra,omitempty" jsonschema:"days that are worked though their weekday is not"`
}

// Gang is people who work together.
type Gang struct {
	ID       string  `json:"id" jsonschema:"mark, unique in the file"`
	Name     string  `json:"name,omitempty" jsonschema:"name in full"`
	Skills   []Skill `json:"skills" jsonschema:"setting_out, framing, boarding, insulating, jointing (filling, taping, coating, beads, sanding) or painting"`
	Size     int     `json:"size" jsonschema:"number of people"`
	Calendar string  `json:"calendar,omitempty" jsonschema:"id of its calendar; the first of the file if left out"`
	From     Date    `json:"from,omitempty" jsonschema:"first day on site"`
	Until    Date    `json:"until,omitempty" jsonschema:"last day on site"`
	Away     []Date  `json:"away,omitempty" jsonschema:"days on which the gang does not come"`
}

// Plant is a machine or platform.
type Plant struct {
	ID     string      `json:"id" jsonschema:"mark, unique in the file"`
	Name   string      `json:"name,omitempty" jsonschema:"name in full"`
	Count  int         `json:"count" jsonschema:"how many there are"`
	Stages []Stage     `json:"stages" jsonschema:"stages that take one"`
	Above  plan.Length `json:"above,omitempty" jsonschema:"only for walls higher than this; for all if left out"`
}

// Zone is what holds for one part of the building.
type Zone struct {
	ID     string   `json:"zone" jsonschema:"id of a level, or that and the zone of its walls, as in L1 north"`
	Access Date     `json:"access,omitempty" jsonschema:"day from which work can go on there"`
	Gangs  int      `json:"gangs,omitempty" jsonschema:"how many gangs may work there at the same time; any number if left out"`
	After  []string `json:"after,omitempty" jsonschema:"zones in which each stage is finished before it begins here"`
}

// Weather is the air of a zone from a day on.
type Weather struct {
	From        Date    `json:"from" jsonschema:"first day"`
	Zone        string  `json:"zone,omitempty" jsonschema:"zone; all if left out"`
	Temperature float64 `json:"temperature" jsonschema:"air temperature in degrees Celsius"`
	Humidity    float64 `json:"humidity" jsonschema:"relative humidity in per cent"`
	Logged      bool    `json:"logged,omitempty" jsonschema:"it was measured, not forecast"`
}

// Other is work by others. With days it comes as soon as ours is ready; with from and
// until it is dated, and comes later only where ours is not ready.
type Other struct {
	ID       string   `json:"id" jsonschema:"mark, unique in the file"`
	Name     string   `json:"name" jsonschema:"what is done, such as Electrical first fix"`
	Zones    []string `json:"zones,omitempty" jsonschema:"where; in every zone if left out"`
	Each     bool     `json:"each,omitempty" jsonschema:"it follows our gangs from group to group of walls, and takes its time for each; otherwise it takes a zone as a whole"`
	After    string   `json:"after,omitempty" jsonschema:"stage, or id of work by others, that has to be complete before"`
	Before   Stage    `json:"before,omitempty" jsonschema:"stage that waits for it"`
	From     Date     `json:"from,omitempty" jsonschema:"first day"`
	Until    Date     `json:"until,omitempty" jsonschema:"last day"`
	Days     float64  `json:"days,omitempty" jsonschema:"working days that it takes, of its calendar"`
	Calendar string   `json:"calendar,omitempty" jsonschema:"id of its calendar; the first of the file if left out"`
}

// Deliveries is how material comes.
type Deliveries struct {
	Lead  int       `json:"lead,omitempty" jsonschema:"working days from the call to the lorry; 5 if left out"`
	Ahead int       `json:"ahead,omitempty" jsonschema:"working days that material is on site before it is used; 1 if left out"`
	Dated []Arrival `json:"dated,omitempty" jsonschema:"deliveries whose day is settled: work with them does not begin before"`
}

// Arrival is a delivery that is settled.
type Arrival struct {
	Zone     string   `json:"zone" jsonschema:"for which zone"`
	Material Material `json:"material" jsonschema:"frame, boards, insulation or finish"`
	Date     Date     `json:"date" jsonschema:"day on which it comes"`
}

// Material is what comes on one lorry.
type Material string

// The materials, in the order in which they are used.
const (
	FrameMaterial  Material = "frame" // profiles, fixings, seals
	BoardMaterial  Material = "boards"
	FillMaterial   Material = "insulation"
	FinishMaterial Material = "finish" // compounds, tapes, beads, paint
)

// Materials lists the materials in the order in which they are used.
func Materials() []Material {
	return []Material{FrameMaterial, BoardMaterial, FillMaterial, FinishMaterial}
}

// Holds is how long inspections take, in working hours of the first calendar.
type Holds struct {
	BeforeClose float64 `json:"before_closing,omitempty" jsonschema:"hours for the inspection of services and insulation of a group before the second face closes it; none if left out"`
	Final       float64 `json:"final,omitempty" jsonschema:"hours for the inspection of a finished group; none if left out"`
	Notice      int     `json:"notice,omitempty" jsonschema:"working days before an inspection by which it is announced"`
}

// What is taken where the file says nothing.
const (
	usualGroupHours = 40
	usualOpenZones  = 4
	usualLead       = 5
	usualAhead      = 1
)

// ReadSite reads a gangs file. What cannot be read or makes no sense is a finding with
// its place, and the rest is returned.
func ReadSite(file string, data []byte) (*Site, finding.List) {
	s := &Site{}
	places, found := yamlfile.Decode(file, data, s)
	s.places = places
	wrong := s.check()
	places.Fill(wrong)
	found = append(found, wrong...)
	found.Sort()
	return s, found
}
