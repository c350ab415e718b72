package ifc_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/exchange/ifc"
	"nogging/internal/plan"
)

// geo adds a map to a model: unit is that of the map, scale may be left out.
func (m *model) geo(unit, scale string) {
	context := m.put("IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-5,%s,%s)", m.place(), m.dir(0.25, 0.75))
	crs := m.put("IFCPROJECTEDCRS('EPSG:25832','UTM zone','ETRS89','DHHN2016','UTM','32N',%s)", unit)
	m.put("IFCMAPCONVERSION(%s,%s,691234.567,5334567.891,519.25,0.8,0.6,%s)", context, crs, scale)
	m.put("IFCSITE('s',$,'Site',$,$,%s,$,$,.ELEMENT.,(41,52,27,840000),(-87,-38,-21,-839999),123.5,$,$)", m.at("", m.place()))
}

// TestGeoreference: what ties a model to the map is kept as it stands, whatever the units:
// IfcMapConversion.Scale turns lengths of the model into those of the map.
func TestGeoreference(t *testing.T) {
	want := plan.Georeference{
		CRS: "EPSG:25832", Description: "UTM zone", GeodeticDatum: "ETRS89", VerticalDatum: "DHHN2016", Projection: "UTM", Zone: "32N",
		Eastings: 691234.567, Northings: 5334567.891, Height: 519.25, AxisEast: 0.8, AxisNorth: 0.6, NorthX: 0.25, NorthY: 0.75,
		Latitude: "41 52 27.840000", Longitude: "-87 -38 -21.839999", Elevation: mm(123.5),
	}
	for _, x := range []struct {
		unit, scale string
		want        func(g *plan.Georeference)
		says        string
	}{
		{"metre", "0.001", func(*plan.Georeference) {}, ""},
		{"metre", "0.0009996", func(g *plan.Georeference) { g.Scale = 0.9996 }, ""},
		{"metre", "$", func(*plan.Georeference) {}, "no scale between them is given"},
		{"metre", "1.", func(g *plan.Georeference) { g.Scale = 1000 }, "1000 times as long"},
		{"$", "$", func(g *plan.Georeference) { g.MapUnit = 0.001 }, ""},
	} {
		m := newModel("mm")
		m.floorAt("L", 0)
		m.plain(m.place(), 3000, 2500)
		unit := x.unit
		if unit == "metre" {
			unit = m.put("IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.)")
		}
		m.geo(unit, x.scale)
		p, _, found := read(t, m)
		g := want
		x.want(&g)
		if diff := cmp.Diff(g, p.Project.Georeference); diff != "" {
			t.Errorf("%s, %s: %s", x.unit, x.scale, diff)
		}
		says := ""
		for _, f := range found {
			if f.Code == "map-scale" {
				says += f.What.String()
			}
		}
		if (says == "") != (x.says == "") || !strings.Contains(says, x.says) {
			t.Errorf("%s, %s: %q", x.unit, x.scale, says)
		}
		if list := p.Validate(); has(list, "bad-angle", "") || has(list, "not-finite", "") {
			t.Error(list)
		}
		if p.Walls[0].Line[0] != (plan.Pt{}) {
			t.Errorf("the wall was moved to %v", p.Walls[0].Line[0])
		}
	}
}

// TestFarOrigin: a building that lies far from the origin is drawn near it, and the plan
// knows where that is.
func TestFarOrigin(t *testing.T) {
	m := newModel("m")
	m.floorAt("L", 0)
	m.wall(m.place(691234.5, 5334567.25, 0), m.body(m.block(0, -0.05, 0, 4, 0.05, 2.5)))
	p, _, _ := ifc.Options{Partitions: map[string]bool{"Wall": true}}.Read("x.ifc", m.bytes())
	o := &p.Project.Georeference
	if o.OriginX != 691234 || o.OriginY != 5334567 || len(p.Walls) != 1 || p.Walls[0].Line[0] != (plan.Pt{X: mm(500), Y: mm(250)}) {
		t.Errorf("origin %v, %v, %+v", o.OriginX, o.OriginY, p.Walls)
	}
}

// TestMapSets: files of IFC2X3 state the same in sets.
func TestMapSets(t *testing.T) {
	m := newModel("m")
	m.schema = "IFC2X3"
	m.floorAt("L", 0)
	m.plain(m.place(), 3, 2.5)
	site := m.put("IFCSITE('s',$,'Site',$,$,%s,$,$,.ELEMENT.,$,$,$,$,$)", m.at("", m.place()))
	set := func(name string, properties ...string) {
		var all []string
		for i := 0; i < len(properties); i += 2 {
			all = append(all, m.put("IFCPROPERTYSINGLEVALUE('%s',$,%s,$)", properties[i], properties[i+1]))
		}
		m.put("IFCRELDEFINESBYPROPERTIES('r',$,$,$,(%s),%s)", site, m.put("IFCPROPERTYSET('x',$,'%s',$,(%s))", name, strings.Join(all, ",")))
	}
	set("ePset_MapConversion", "Eastings", "IFCLENGTHMEASURE(100.5)", "Northings", "IFCLENGTHMEASURE(200.5)", "Scale", "IFCREAL(0.5)")
	set("ePset_ProjectedCRS", "Name", "IFCLABEL('EPSG:2056')")
	p, _, found := read(t, m)
	if diff := cmp.Diff(plan.Georeference{CRS: "EPSG:2056", Eastings: 100.5, Northings: 200.5, Scale: 0.5}, p.Project.Georeference); diff != "" || !has(found, "map-scale", "") {
		t.Error(diff, found)
	}
}
