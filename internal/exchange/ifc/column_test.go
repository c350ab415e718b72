package ifc_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"nogging/internal/geom"
)

func (m *model) column(placement string, items ...string) string {
	body := "$"
	if len(items) > 0 {
		body = m.body(items...)
	}
	c := m.put("IFCCOLUMN('k',$,'Column',$,$,%s,%s,'t',.COLUMN.)", m.at(m.storey, placement), body)
	m.contain(c)
	return c
}

func (m *model) profiled(profile string, values ...any) string {
	return m.put("IFCEXTRUDEDAREASOLID(%s,$,%s,2500.)", m.put(profile, values...), m.dir(0, 0, 1))
}

// Columns of every kind stand where they are drawn, with the outline of their foot; rolled
// sections with the rectangle around them. Areas and extents by hand.
func TestColumnKinds(t *testing.T) {
	tests := []struct {
		name      string
		body      func(m *model) string
		x, y      float64 // extents
		area, off float64 // off: tolerance
	}{
		{"rectangular", func(m *model) string { return m.profiled("IFCRECTANGLEPROFILEDEF(.AREA.,$,$,300.,400.)") }, 300, 400, 120000, 1},
		{"round", func(m *model) string { return m.profiled("IFCCIRCLEPROFILEDEF(.AREA.,$,$,200.)") }, 400, 400, math.Pi * 40000, 400},
		{"pipe", func(m *model) string { return m.profiled("IFCCIRCLEHOLLOWPROFILEDEF(.AREA.,$,$,100.,8.)") }, 200, 200, math.Pi * 10000, 100},
		{"hollow", func(m *model) string { return m.profiled("IFCRECTANGLEHOLLOWPROFILEDEF(.AREA.,$,$,200.,120.,8.,$,$)") }, 200, 120, 24000, 1},
		{"I", func(m *model) string { return m.profiled("IFCISHAPEPROFILEDEF(.AREA.,$,$,180.,200.,6.,10.,$)") }, 180, 200, 36000, 1},
		{"U", func(m *model) string { return m.profiled("IFCUSHAPEPROFILEDEF(.AREA.,$,$,200.,75.,8.5,11.5,$,$,$)") }, 75, 200, 15000, 1},
		{"L", func(m *model) string { return m.profiled("IFCLSHAPEPROFILEDEF(.AREA.,$,$,120.,80.,10.,$,$,$)") }, 80, 120, 9600, 1},
		{"cross drawn by its outline", func(m *model) string {
			return m.extrusion(m.place(), 2500, []float64{-200, -50}, []float64{-50, -50}, []float64{-50, -200}, []float64{50, -200}, []float64{50, -50}, []float64{200, -50},
				[]float64{200, 50}, []float64{50, 50}, []float64{50, 200}, []float64{-50, 200}, []float64{-50, 50}, []float64{-200, 50})
		}, 400, 400, 70000, 1},
		{"faceted", func(m *model) string {
			return m.put("IFCFACETEDBREP(%s)", m.shell("IFCCLOSEDSHELL", -150, -100, 0, 150, 100, 2500))
		}, 300, 200, 60000, 1},
		{"triangles", func(m *model) string { return m.triangles(-150, -100, 0, 150, 100, 2500) }, 300, 200, 60000, 1},
		{"advanced", func(m *model) string { return m.advancedBox(-150, -100, 0, 150, 100, 2500) }, 300, 200, 60000, 1},
		{"cylinder of CSG", func(m *model) string {
			return m.put("IFCCSGSOLID(%s)", m.put("IFCRIGHTCIRCULARCYLINDER(%s,2500.,200.)", m.place()))
		}, 400, 400, math.Pi * 40000, 400},
		{"mapped and cut at its head", func(m *model) string {
			cut := m.put("IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,%s,%s)", m.block(-15, -10, 0, 15, 10, 400), m.aboveLevel(250))
			return m.mapped(m.put("IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,%s,10.,$)", m.pt(0, 0, 0)), cut)
		}, 300, 200, 60000, 1},
		{"revolved", func(m *model) string {
			profile := m.put("IFCRECTANGLEPROFILEDEF(.AREA.,$,%s,200.,2500.)", m.put("IFCAXIS2PLACEMENT2D(%s,$)", m.pt(100, 1250)))
			axis := m.put("IFCAXIS1PLACEMENT(%s,%s)", m.pt(0, 0, 0), m.dir(0, 1, 0))
			return m.put("IFCREVOLVEDAREASOLID(%s,%s,%s,360.)", profile, m.place(0, 0, 0, 0, -1, 0, 1, 0, 0), axis)
		}, 400, 400, math.Pi * 40000, 400},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			m := newModel("mm")
			m.floorAt("Ground floor", 0)
			m.column(m.place(3000, 1000, 0), test.body(m))
			p, stats, found := read(t, m)
			if stats.Columns != 1 || len(p.Structure) != 1 {
				t.Fatal(found)
			}
			var ring geom.Polygon
			for _, c := range p.Structure[0].Outline {
				ring = append(ring, geom.Point(c))
			}
			b := ring.Bounds()
			if got, want := fmt.Sprint(b.Min, b.Max), fmt.Sprint(geom.Pt(mm(3000-test.x/2), mm(1000-test.y/2)), geom.Pt(mm(3000+test.x/2), mm(1000+test.y/2))); got != want {
				t.Errorf("extent %s, want %s", got, want)
			}
			if area := float64(ring.Area()); math.Abs(area-test.area) > test.off {
				t.Errorf("area %.0f mm², want %.0f", area, test.area)
			}
		})
	}
}

// A column that rises through three storeys stands on each of them, and counts once; one
// that is made of parts is read from them.
func TestTallAndPartedColumns(t *testing.T) {
	m := newModel("mm")
	for i := range 3 {
		m.floorAt(fmt.Sprintf("Floor %d", i), float64(i)*3000)
		m.plain(m.place(), 4000, 2700)
	}
	m.storey = m.at("", m.place())
	m.floor = "" // it belongs to no storey and stands on the lowest
	m.column(m.place(9000, 0, 0), m.block(-150, -150, 0, 150, 150, 9000))
	parted := m.column(m.place(7000, 0, 0))
	part := m.put("IFCMEMBER('p',$,'Shaft',$,$,%s,%s,'t',.POST.)", m.at(m.placementOf(parted), m.place()), m.body(m.block(-100, -100, 0, 100, 100, 2500)))
	m.put("IFCRELAGGREGATES('a',$,$,$,%s,(%s))", parted, part)
	p, stats, found := read(t, m)
	var ids []string
	for _, s := range p.Structure {
		ids = append(ids, s.ID)
	}
	if got := strings.Join(ids, " "); got != "L1-C01 L1-C02 L2-C01 L3-C01" || stats.Columns != 2 {
		t.Errorf("%s, %d columns\n%v", got, stats.Columns, found)
	}
}

// Curtain walls are no partitions: straight ones stand as existing structure, others are
// left out, and both are told; so are their posts and panes, which are never walls.
func TestCurtainWalls(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	m.plain(m.place(0, 3000, 0), 4000, 2500)
	curtain := func(items ...string) string {
		c := m.put("IFCCURTAINWALL('k',$,'Front',$,$,%s,$,'t',$)", m.at(m.storey, m.place()))
		m.contain(c)
		for i, item := range items {
			entity := []string{"IFCMEMBER('p',$,'Post',$,$,%s,%s,'t',.MULLION.)", "IFCPLATE('p',$,'Pane',$,$,%s,%s,'t',.CURTAIN_PANEL.)"}[i%2]
			m.put("IFCRELAGGREGATES('a',$,$,$,%s,(%s))", c, m.put(entity, m.at(m.placementOf(c), m.place()), m.body(item)))
		}
		return c
	}
	curtain(m.block(0, -60, 0, 50, 60, 2500), m.block(50, -15, 0, 4000, 15, 2500))
	round := curtain(m.upright(m.sector(0, 9000, 2950, 3000, 0, 180), 0, 2500))
	empty := curtain()
	p, stats, found := read(t, m)
	if len(p.Walls) != 1 || stats.Facades != 1 || len(p.Structure) != 1 || p.Structure[0].Kind != "facade" {
		t.Errorf("%+v\n%+v", stats, p.Structure)
	}
	for _, c := range []string{round, empty} {
		if !has(found, "facade-unread", c+" IfcCurtainWall") {
			t.Errorf("%s: %v", c, found)
		}
	}
	if !has(found, "facades", "L1") {
		t.Error(found)
	}
}
