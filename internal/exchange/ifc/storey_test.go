package ifc_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/plan"
)

// marks returns the id of each wall with the level that it stands on.
func marks(p *plan.Plan) []string {
	var all []string
	for _, w := range p.Walls {
		all = append(all, w.ID+" on "+w.Level)
	}
	return all
}

func TestNoStorey(t *testing.T) {
	m := newModel("mm")
	for _, z := range []float64{3000, 0, 3100, 20} {
		m.plain(m.place(0, z, z), 3000, 2500)
	}
	p, _, found := read(t, m)
	if diff := cmp.Diff([]string{"L1-01 on L1", "L1-02 on L1", "L2-01 on L2", "L2-02 on L2"}, marks(p)); diff != "" {
		t.Error(diff)
	}
	if !has(found, "storey-missing", "") {
		t.Errorf("%v", found)
	}
}

// Levels are named from the ground: what is below is a basement.
func TestLevelMarks(t *testing.T) {
	m := newModel("mm")
	for i, z := range []float64{6200, -3000, 100, 3100, -6000} { // out of order, as files are
		m.floorAt(fmt.Sprintf("Floor %d", i), z)
		m.plain(m.place(), 3000, 2500)
	}
	p, _, _ := read(t, m)
	if diff := cmp.Diff([]string{"B2-01 on B2", "B1-01 on B1", "L1-01 on L1", "L2-01 on L2", "L3-01 on L3"}, marks(p)); diff != "" {
		t.Error(diff)
	}
	near(t, "ground", p.Levels[2].Elevation, 100)
}

// The attribute Elevation is informative only; and where neither it nor the
// placement tells where the walls stand, the walls do.
func TestWrongElevation(t *testing.T) {
	m := newModel("mm")
	m.storey = m.at("", m.place(0, 0, 3000))
	m.floor = m.put("IFCBUILDINGSTOREY('s',$,'Upper',$,$,%s,$,$,.ELEMENT.,99.)", m.storey)
	m.plain(m.place(), 3000, 2500)
	m.storey = m.at("", m.place())
	m.floor = m.put("IFCBUILDINGSTOREY('s',$,'Top',$,$,%s,$,$,.ELEMENT.,6.)", m.storey)
	m.plain(m.place(0, 0, 6000), 3000, 2500)
	p, _, found := read(t, m)
	near(t, "upper floor", p.Levels[0].Elevation, 3000)
	near(t, "top floor", p.Levels[1].Elevation, 6000)
	if !has(found, "level-elevation", "L2") || has(found, "level-elevation", "L1") {
		t.Errorf("%v", found)
	}
}

// Partitions stand on a screed of 80 mm: that is the floor of the level. The
// one that begins at 2.3 m has its foot there.
func TestFloorOfLevel(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	m.plain(m.place(0, 0, 80), 5000, 2500)
	m.plain(m.place(0, 3000, 80), 5000, 2500)
	m.plain(m.place(0, 6000, 2300), 3000, 280)
	p, _, found := read(t, m)
	near(t, "floor", p.Levels[0].Elevation, 80)
	near(t, "bulkhead's foot", p.Walls[2].Base, 2220)
	near(t, "bulkhead's top", p.Walls[2].Height, 2500)
	near(t, "foot of a wall on the floor", p.Walls[0].Base, 0)
	if !has(found, "wall-off-floor", "L1-03") || has(found, "wall-off-floor", "L1-01") {
		t.Errorf("%v", found)
	}
}

// The clear height is that under the slab, with the finish on it, unless rooms
// show another that is nearer to the partitions.
func TestClearHeight(t *testing.T) {
	slab := func(m *model, z0, z1 float64) {
		m.contain(m.put("IFCSLAB('l',$,'Slab',$,$,%s,%s,$,.FLOOR.)", m.at("", m.place()), m.body(m.block(0, 0, z0, 9000, 9000, z1))))
	}
	space := func(m *model, height float64) {
		s := m.put("IFCSPACE('r',$,'101',$,$,%s,%s,'Office',.ELEMENT.,.SPACE.,$)", m.at(m.storey, m.place()), m.body(m.block(0, 0, 0, 4000, 3000, height)))
		m.put("IFCRELAGGREGATES('a',$,$,$,%s,(%s))", m.floor, s)
	}
	tests := []struct {
		name             string
		slab             bool
		wall, room, want float64
	}{
		{"wall up to the slab", true, 2735, 2500, 2735},
		{"wall somewhat short of the slab", true, 2730, 2500, 2730},
		{"wall up to the ceiling", true, 2500, 2500, 2500},
		{"wall through the slab", true, 3000, 2500, 2735},
		{"no room", true, 3000, 0, 2735},
		{"no slab, wall through the ceiling", false, 2700, 2500, 2700},
		{"no slab, wall lower than the room", false, 2000, 2500, 2500},
		{"no slab, wall through the next floor", false, 3200, 2500, 2500},
		{"no slab and no room", false, 2700, 0, 2700},
	}
	for _, test := range tests {
		m := newModel("mm")
		m.floorAt("Upper", 3000)
		if test.slab {
			slab(m, 2750, 2935) // the slab
			slab(m, 2935, 3000) // the finish on it
			slab(m, 2735, 2750) // what is fixed under it
		}
		m.floorAt("Ground", 0)
		m.plain(m.place(), 3000, test.wall)
		if test.room > 0 {
			space(m, test.room)
		}
		p, _, _ := read(t, m)
		if got := p.Levels[0].ClearHeight; got != mm(test.want) {
			t.Errorf("%s: clear height %s mm, want %.0f mm", test.name, got, test.want)
		}
	}
}

// TestRoomUse: a room's use is told by its name, or else by its occupancy, its object
// type or its type; 'OccupancyType' stands in the sets of IFC2X3 and IFC4.
func TestRoomUse(t *testing.T) {
	for _, x := range []struct{ short, long, object, occupancy, use string }{
		{"101", "Office 2", "", "", "office"},
		{"101", "Einzel", "", "Buero", "office"},
		{"101", "Einzel", "WC", "", "toilet"},
		{"Flur", "", "", "", "corridor"},
		{"101", "Room", "", "", "Room"},
		{"101", "Office", "Corridor", "Kitchen", "office"},
		{"101", "A", "", "OccupancyType", "A"},
	} {
		m := newModel("mm")
		m.floorAt("L", 0)
		object := "$"
		if x.object != "" {
			object = "'" + x.object + "'"
		}
		s := m.put("IFCSPACE('r',$,'%s',$,%s,%s,%s,'%s',.ELEMENT.,.SPACE.,$)", x.short, object, m.at(m.storey, m.place()), m.body(m.block(0, 0, 0, 4000, 3000, 2500)), x.long)
		m.put("IFCRELAGGREGATES('a',$,$,$,%s,(%s))", m.floor, s)
		if x.occupancy != "" {
			set := m.put("IFCPROPERTYSET('x',$,'Pset_SpaceOccupancyRequirements',$,(%s))", m.put("IFCPROPERTYSINGLEVALUE('OccupancyType',$,IFCLABEL('%s'),$)", x.occupancy))
			m.put("IFCRELDEFINESBYPROPERTIES('r',$,$,$,(%s),%s)", s, set)
		}
		p, _, found := read(t, m)
		if len(p.Rooms) != 1 || p.Rooms[0].Use != x.use {
			t.Errorf("%+v: %+v %v", x, p.Rooms, found)
		}
	}
}

func TestRoom(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	body := m.extrusion(m.place(), 2500, []float64{0, 0}, []float64{4000, 0}, []float64{4000, 2000}, []float64{2000, 2000}, []float64{2000, 3000}, []float64{0, 3000})
	add := func(name, long, body string) {
		s := m.put("IFCSPACE('r',$,'%s',$,$,%s,%s,'%s',.ELEMENT.,.SPACE.,$)", name, m.at(m.storey, m.place(1000, 0, 0)), body, long)
		m.put("IFCRELAGGREGATES('a',$,$,$,%s,(%s))", m.floor, s)
	}
	add("0.01", "B\\X\\FCro Nord", m.body(body))
	add("0.02", "Nische", m.body(m.triangles(0, 5000, 0, 2000, 6000, 2500)))
	add("0.03", "Treppe", "$")
	foot := m.polyline([]float64{0, 7000}, []float64{2000, 7000}, []float64{2000, 9000}, []float64{0, 7000})
	add("0.04", "Lager", m.put("IFCPRODUCTDEFINITIONSHAPE($,$,(%s))", m.put("IFCSHAPEREPRESENTATION($,'FootPrint','Curve2D',(%s))", foot)))
	p, stats, found := read(t, m)
	pt := func(x, y float64) plan.Pt { return plan.Pt{X: mm(x), Y: mm(y)} }
	want := plan.Room{
		ID: "L1-R01", Level: "L1", Name: "0.01 Büro Nord", Use: "office",
		Outline: []plan.Pt{pt(1000, 0), pt(5000, 0), pt(5000, 2000), pt(3000, 2000), pt(3000, 3000), pt(1000, 3000)},
	}
	if len(p.Rooms) != 3 || stats.Rooms != 3 || named(found, "IfcSpace") != 1 {
		t.Fatalf("%+v\n%v", p.Rooms, found)
	}
	if diff := cmp.Diff(want, p.Rooms[0]); diff != "" {
		t.Error(diff)
	}
	if n := len(p.Rooms[1].Outline); n != 4 || p.Rooms[1].Use != "Nische" {
		t.Errorf("%d corners, use %q", n, p.Rooms[1].Use)
	}
	if n := len(p.Rooms[2].Outline); n != 3 || p.Rooms[2].Use != "store" {
		t.Errorf("%d corners, use %q", n, p.Rooms[2].Use)
	}
}

func TestColumnAndFacade(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	profile := m.put("IFCRECTANGLEPROFILEDEF(.AREA.,$,$,300.,400.)")
	body := m.put("IFCEXTRUDEDAREASOLID(%s,$,%s,2500.)", profile, m.dir(0, 0, 1))
	column := m.put("IFCCOLUMN('k',$,'Column',$,$,%s,%s,'t',.COLUMN.)", m.at(m.storey, m.place(1000, 1000, 0)), m.body(body))
	m.put("IFCRELASSOCIATESMATERIAL('m',$,$,$,(%s),%s)", column, m.put("IFCMATERIAL('Stahlbeton C30/37',$,$)"))
	m.contain(column)
	curtain := m.put("IFCCURTAINWALL('k',$,'Front',$,$,%s,$,'t',$)", m.at(m.storey, m.place()))
	m.contain(curtain)
	plate := m.put("IFCPLATE('k',$,'Pane',$,$,%s,%s,'t',.CURTAIN_PANEL.)", m.at(m.storey, m.place()), m.body(m.block(0, -30, 0, 5000, 30, 2500)))
	m.put("IFCRELAGGREGATES('a',$,$,$,%s,(%s))", curtain, plate)
	p, stats, found := read(t, m)
	pt := func(x, y float64) plan.Pt { return plan.Pt{X: mm(x), Y: mm(y)} }
	want := []plan.Structure{
		{ID: "L1-C01", Level: "L1", Kind: "column", Material: "concrete", Outline: []plan.Pt{pt(850, 800), pt(1150, 800), pt(1150, 1200), pt(850, 1200)}},
		{ID: "L1-F01", Level: "L1", Kind: "facade", Material: "glass", Line: []plan.Pt{pt(0, 0), pt(5000, 0)}, Thickness: mm(60)},
	}
	if diff := cmp.Diff(want, p.Structure); diff != "" {
		t.Errorf("%s\n%v", diff, found)
	}
	if stats.Columns != 1 || stats.Facades != 1 {
		t.Errorf("%+v", stats)
	}
}

// Which walls are partitions: the rule is that of the issue, external and
// load-bearing walls, thickness and layers.
func TestPartitionOrStructure(t *testing.T) {
	brick := []layer{{"Plasterboard", 12.5}, {"Brick", 115}, {"Plasterboard", 12.5}}
	nameless := []layer{{"a", 12.5}, {"b", 75}, {"a", 12.5}}
	thick := []layer{{"Plasterboard", 25}, {"Stud", 350}, {"Plasterboard", 25}}
	tests := []struct {
		name      string
		layers    []layer
		property  string
		partition bool
	}{
		{"studs and boards", partition, "", true},
		{"external", partition, "'IsExternal',$,IFCBOOLEAN(.T.),$", false},
		{"not external", partition, "'IsExternal',$,IFCBOOLEAN(.F.),$", true},
		{"load-bearing", partition, "'LoadBearing',$,IFCBOOLEAN(.T.),$", false},
		{"boards on brick", brick, "", false},
		{"layers that say nothing", nameless, "", false},
		{"too thick", thick, "", false},
		{"one layer of board", []layer{{"Gipskarton", 100}}, "", true},
		{"one layer, too thin for a frame", []layer{{"Gipskarton", 25}}, "", false},
	}
	for _, test := range tests {
		m := newModel("mm")
		m.floorAt("Ground floor", 0)
		total := 0.0
		for _, l := range test.layers {
			total += l.thickness
		}
		w := m.wall(m.place(), m.shape(m.polyline([]float64{0, 0}, []float64{3000, 0}), m.block(0, 0, 0, 3000, total, 2500)))
		m.layers(w, "POSITIVE", 0, test.layers...)
		if test.property != "" {
			m.common(w, test.property)
		}
		p, _, found := read(t, m)
		if got := len(p.Walls) == 1; got != test.partition {
			t.Errorf("%s: partition %v\n%v", test.name, got, found)
		}
	}
}

// Where every wall is marked external, the mark means nothing.
func TestEveryWallExternal(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	for i := range 3 {
		m.common(m.plain(m.place(0, float64(i)*3000, 0), 3000, 2500), "'IsExternal',$,IFCBOOLEAN(.T.),$")
	}
	p, _, found := read(t, m)
	if len(p.Walls) != 3 || !has(found, "external-ignored", "") {
		t.Errorf("%d walls\n%v", len(p.Walls), found)
	}
}

func TestBuildUps(t *testing.T) {
	tests := []struct {
		name   string
		layers []layer
		want   plan.BuildUp
	}{
		{"two layers a face, filled",
			[]layer{{"Gipskarton", 12.5}, {"Gipskarton", 12.5}, {"Mineralwolle / Metallständer", 100}, {"Gipskarton", 12.5}, {"Gipskarton", 12.5}},
			plan.BuildUp{Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW100"}, FaceA: []string{"GKB-12.5", "GKB-12.5"}}},
		{"fire boards of 15 mm, and one layer of 25 mm on the other face",
			[]layer{{"Fire-rated plasterboard", 15}, {"Stud", 50}, {"Plasterboard", 25}},
			plan.BuildUp{Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW50"}, FaceA: []string{"GKF-15"}, FaceB: []string{"GKB-12.5", "GKB-12.5"}}},
		{"twin frame with an air gap",
			[]layer{{"Plasterboard", 12.5}, {"Stud", 75}, {"Air gap", 10}, {"Stud", 75}, {"Plasterboard", 12.5}},
			plan.BuildUp{Frame: plan.FrameSpec{Kind: plan.TwinIndependent, Stud: "CW75", Gap: mm(10)}, FaceA: []string{"GKB-12.5"}}},
		{"paint and tiles do not count",
			[]layer{{"Paint", 1}, {"Plasterboard", 12.5}, {"Stud", 75}, {"Plasterboard", 12.5}, {"Tile", 10}},
			plan.BuildUp{Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: []string{"GKB-12.5"}}},
	}
	for _, test := range tests {
		m := newModel("mm")
		m.floorAt("Ground floor", 0)
		total := 0.0
		for _, l := range test.layers {
			total += l.thickness
		}
		w := m.wall(m.place(), m.shape(m.polyline([]float64{0, 0}, []float64{3000, 0}), m.block(0, 0, 0, 3000, total, 2500)))
		m.layers(w, "NEGATIVE", total, test.layers...) // the first layer is on the left
		p, _, found := read(t, m)
		if len(p.BuildUps) != 1 || !has(found, "buildup-chosen", "P1") {
			t.Fatalf("%s: %v", test.name, found)
		}
		test.want.ID, test.want.Name = "P1", "Type 100"
		got := p.BuildUps[0]
		if test.name == "two layers a face, filled" {
			if len(got.Insulation) != 1 {
				t.Errorf("%s: no fill", test.name)
			}
			got.Insulation = nil
		}
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%s: %s", test.name, diff)
		}
	}
}

// The plan that is read is one that the plan's own reader accepts.
func TestPlanIsSound(t *testing.T) {
	m, w := house()
	m.door(m.opening(w, m.block(1000, -50, 0, 1900, 50, 2100)), 900, 2100)
	p, _, _ := read(t, m)
	text, err := plan.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	again, found := plan.Parse("plan.yaml", text)
	if len(found) > 0 {
		t.Errorf("%v", found)
	}
	if diff := cmp.Diff(p, again); diff != "" {
		t.Error(diff)
	}
}
