package plan

import (
	"fmt"
	"math"
	"regexp"
	"strconv"

	"nogging/internal/words"
)

// Georeference says where on earth a building lies, as its model states it, in the terms
// of IfcProjectedCRS, IfcMapConversion and IfcSite (ISO 16739). It is kept and handed on;
// nothing in the plan is moved or turned by it.
type Georeference struct {
	CRS           string  `json:"crs,omitempty" jsonschema:"coordinate reference system of the map, such as EPSG:25832"`
	Description   string  `json:"description,omitempty" jsonschema:"of the reference system"`
	GeodeticDatum string  `json:"geodetic_datum,omitempty" jsonschema:"such as ETRS89"`
	VerticalDatum string  `json:"vertical_datum,omitempty" jsonschema:"such as DHHN2016"`
	Projection    string  `json:"projection,omitempty" jsonschema:"such as UTM"`
	Zone          string  `json:"zone,omitempty" jsonschema:"zone of the projection"`
	MapUnit       float64 `json:"map_unit,omitempty" jsonschema:"metres in one unit of the map; 1 if left out"`                                          // metres
	Eastings      float64 `json:"eastings,omitempty" jsonschema:"of the model's origin, in units of the map"`                                            // in map_unit
	Northings     float64 `json:"northings,omitempty" jsonschema:"of the model's origin, in units of the map"`                                           // in map_unit
	Height        float64 `json:"height,omitempty" jsonschema:"of the model's origin over the vertical datum, in units of the map"`                      // in map_unit
	AxisEast      float64 `json:"axis_east,omitempty" jsonschema:"with axis_north the direction of the model's x in the map; east if both are left out"` // a direction, without unit
	AxisNorth     float64 `json:"axis_north,omitempty" jsonschema:"as axis_east"`                                                                        // a direction, without unit
	Scale         float64 `json:"scale,omitempty" jsonschema:"length in the map of one length of the building, units aside; 1 if left out"`              // a ratio
	OriginX       float64 `json:"origin_x,omitempty" jsonschema:"with origin_y where the plan's origin lies in the model's own axes, in metres"`         // metres
	OriginY       float64 `json:"origin_y,omitempty" jsonschema:"as origin_x"`                                                                           // metres
	Latitude      string  `json:"latitude,omitempty" jsonschema:"of the site, degrees, minutes and seconds, such as 51 30 0.549316"`
	Longitude     string  `json:"longitude,omitempty" jsonschema:"of the site, as latitude; all parts are below 0 in the west"`
	Elevation     Length  `json:"elevation,omitempty" jsonschema:"of the site over sea level"`
	NorthX        float64 `json:"north_x,omitempty" jsonschema:"with north_y the direction of true north in the model's axes; its y if both are left out"` // a direction, without unit
	NorthY        float64 `json:"north_y,omitempty" jsonschema:"as north_x"`                                                                               // a direction, without unit
}

// angle is a latitude or longitude in degrees, minutes, seconds and millionths, of one sign.
var angle = regexp.MustCompile(`^(-?\d{1,3}) (-?\d{1,2}) (-?\d{1,2})(\.\d{6})?$`)

// Angle returns the degrees, minutes, seconds, and millionths of a second if given, of a
// latitude or longitude; all have one sign (IfcCompoundPlaneAngleMeasure).
func Angle(text string) ([]int, error) {
	m := angle.FindStringSubmatch(text)
	if m == nil {
		return nil, words.ErrFix(words.F("%q is no angle", text), "write degrees, minutes and seconds such as 51 30 0.549316")
	}
	var parts []int
	negative := false
	for _, one := range m[1:4] {
		n, _ := strconv.Atoi(one)
		parts = append(parts, n)
		negative = negative || one[0] == '-'
	}
	if m[4] != "" {
		n, _ := strconv.Atoi(m[4][1:])
		if negative {
			n = -n
		}
		parts = append(parts, n)
	}
	for i, n := range parts {
		if negative && n > 0 || n > []int{360, 59, 59, 999999}[i] || n < -[]int{360, 59, 59, 999999}[i] {
			return nil, words.Err(words.F("%q is no angle: its parts have one sign, and minutes and seconds are below 60", text))
		}
	}
	return parts, nil
}

// AngleText writes what Angle reads.
func AngleText(parts []int) string {
	if len(parts) < 3 {
		return ""
	}
	text := fmt.Sprintf("%d %d %d", parts[0], parts[1], parts[2])
	if negative := parts[0] < 0 || parts[1] < 0 || parts[2] < 0 || len(parts) > 3 && parts[3] < 0; negative && parts[2] == 0 {
		text = fmt.Sprintf("%d %d -0", parts[0], parts[1])
	}
	if len(parts) > 3 {
		n := parts[3]
		text += fmt.Sprintf(".%06d", max(n, -n))
	}
	return text
}

// georeference checks what can be checked of it.
func (c *checker) georeference() {
	g := &c.plan.Project.Georeference
	s := c.root.part("project").part("georeference")
	for _, x := range []struct {
		key   string
		value float64
	}{
		{"map_unit", g.MapUnit}, {"eastings", g.Eastings}, {"northings", g.Northings}, {"height", g.Height}, {"axis_east", g.AxisEast},
		{"axis_north", g.AxisNorth}, {"scale", g.Scale}, {"origin_x", g.OriginX}, {"origin_y", g.OriginY}, {"north_x", g.NorthX}, {"north_y", g.NorthY},
	} {
		if math.IsNaN(x.value) || math.IsInf(x.value, 0) {
			s.wrong("not-finite", x.key, words.F("%s is no number that can be written", x.key), "write a number")
		}
	}
	s.notNegativeNumber("map_unit", g.MapUnit)
	s.notNegativeNumber("scale", g.Scale)
	for _, x := range []struct{ key, value string }{{"latitude", g.Latitude}, {"longitude", g.Longitude}} {
		if x.value == "" {
			continue
		}
		if _, err := Angle(x.value); err != nil {
			s.wrong("bad-angle", x.key, words.OfErr(err), "take it out if it is not known; nothing is reckoned with it")
		}
	}
}
