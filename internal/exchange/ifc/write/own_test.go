package write_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nogging/internal/exchange/ifc"
	"nogging/internal/exchange/ifc/step"
	"nogging/internal/exchange/ifc/write"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/quantity"
)

// whole fills a random plan up with what its walls have not.
func wholePlan(t *rapid.T) *plan.Plan {
	p := plantest.Random(t)
	p.Version, p.Practice = plan.Version, "metric"
	p.Project = plan.Project{Name: "Clinic <β> & 'sons'", Number: "27-\\1", Date: "2027-01-11"}
	p.Project.Georeference = plan.Georeference{
		CRS: "EPSG:25832", GeodeticDatum: "ETRS89", Zone: "32N", Eastings: 691234.567891, Northings: 5334567.8912345, Height: 519.123, AxisEast: 0.9986, AxisNorth: -0.0523,
		Scale: rapid.SampledFrom([]float64{0, 0.999604123}).Draw(t, "scale"), MapUnit: rapid.SampledFrom([]float64{0, 0.3048006096}).Draw(t, "unit"),
		Latitude: "48 8 14.999999", Longitude: "0 -7 -34.450321", Elevation: 519123456789, NorthX: 0.1, NorthY: 0.99, OriginX: 691234, OriginY: 5334567.125,
	}
	p.Overrides = plan.Overrides{"stud_spacing": 400, "waste": map[string]any{"boards": 7.5}}
	p.Levels[0].Elevation = quantity.Length(rapid.IntRange(-9e6, 9e6).Draw(t, "elevation")) * quantity.Millimetre / 1000
	b := plan.Pt{X: 5000 * quantity.Millimetre}
	p.Rooms = []plan.Room{{ID: "R1", Level: "L0", Name: "Büro 木", Use: "office", Wet: "W1-I", Outline: []plan.Pt{{}, b, {X: b.X, Y: b.X}, {Y: b.X}}}, {ID: "R2", Level: "L0"}}
	p.Structure = append(p.Structure, plan.Structure{ID: "S1", Level: "L0", Kind: "wall", Line: []plan.Pt{{X: -b.X}, {X: -b.X, Y: b.X}}, Thickness: 200 * quantity.Millimetre}, plan.Structure{ID: "S2", Level: "L0"})
	p.Walls = append(p.Walls, plan.Wall{ID: "broken", Level: "nowhere"}) // not laid out, so not in the model
	return p
}

func read(t interface{ Fatalf(string, ...any) }, data []byte) (*plan.Plan, ifc.Stats, finding.List) {
	p, stats, found := ifc.Options{}.Read("x.ifc", data)
	if found.Count(finding.Error) > 0 {
		t.Fatalf("%v", found)
	}
	return p, stats, found
}

func asText(t interface{ Fatal(...any) }, p *plan.Plan) string {
	data, err := plan.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// TestRestored: a plan that was written comes back from the model byte for byte, and
// nothing is told of it, in both schemas and both modes.
func TestRestored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := wholePlan(t)
		in := input(p, rapid.SampledFrom([]write.Schema{write.IFC4, write.IFC4X3}).Draw(t, "schema"), rapid.Bool().Draw(t, "simple"))
		got, stats, found := read(t, written(t, in))
		if diff := cmp.Diff(asText(t, p), asText(t, got)); diff != "" {
			t.Fatalf("%s\n%v", diff, found)
		}
		if len(found) > 0 || stats.Restored != len(in.Layout.Walls) {
			t.Fatalf("%d of %d walls restored: %v", stats.Restored, len(in.Layout.Walls), found)
		}
	})
}

const mm = quantity.Millimetre

// flat is a small plan of which every measure is known.
func flat() *plan.Plan {
	pt := func(x, y int) plan.Pt { return plan.Pt{X: plan.Length(x) * mm, Y: plan.Length(y) * mm} }
	return &plan.Plan{
		Version: 1, Practice: "metric",
		Levels:    []plan.Level{{ID: "L1", ClearHeight: 2800 * mm}},
		BuildUps:  []plan.BuildUp{{ID: "W1", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: []string{"GKB-12.5"}}},
		Rooms:     []plan.Room{{ID: "R1", Level: "L1", Outline: []plan.Pt{pt(0, 0), pt(4000, 0), pt(4000, 3000), pt(0, 3000)}}},
		Structure: []plan.Structure{{ID: "C1", Level: "L1", Kind: "column", Outline: []plan.Pt{pt(9000, 0), pt(9300, 0), pt(9300, 300), pt(9000, 300)}}},
		Walls: []plan.Wall{
			{ID: "A", Level: "L1", BuildUp: "W1", Line: []plan.Pt{pt(0, 0), pt(6000, 0)}, Justify: plan.OnFaceA, Note: "first", Require: plan.Requirements{Fire: "EI 60"},
				Openings: []plan.Opening{{Kind: plan.Door, At: 1000 * mm, Width: 900 * mm, Height: 2100 * mm, LeafMass: 40}},
				Boxes:    []plan.Box{{Kind: "socket", Face: plan.FaceA, At: 3000 * mm, Height: 300 * mm}}},
			{ID: "B", Level: "L1", BuildUp: "W1", Line: []plan.Pt{pt(0, 5000), pt(6000, 5000)}},
		},
	}
}

// edited writes a plan and changes the text of the model.
func edited(t *testing.T, p *plan.Plan, simple bool, edit func(m *editor)) (*plan.Plan, finding.List) {
	t.Helper()
	data := written(t, input(p, write.IFC4, simple))
	m := &editor{t: t, file: step.Parse(data), text: string(data)}
	edit(m)
	got, _, found := ifc.Options{}.Read("x.ifc", []byte(m.text))
	return got, found
}

// editor changes a model as another program may.
type editor struct {
	t    *testing.T
	file *step.File
	text string
	last int
}

// named returns the first entity of a type and name.
func (m *editor) named(kind, name string) step.ID {
	for _, id := range m.file.OfType(kind) {
		if m.file.Arg(id, 2).Text() == name {
			return id
		}
	}
	m.t.Fatalf("no %s %s", kind, name)
	return 0
}

// swap changes a text that stands in an entity.
func (m *editor) swap(id step.ID, old, new string) {
	head := fmt.Sprintf("\n#%d=", id)
	at := strings.Index(m.text, head)
	end := at + 1 + strings.Index(m.text[at+1:], "\n")
	line := m.text[at:end]
	if !strings.Contains(line, old) {
		m.t.Fatalf("%s does not hold %s", line, old)
	}
	m.text = m.text[:at] + strings.Replace(line, old, new, 1) + m.text[end:]
}

// add adds an entity.
func (m *editor) add(text string) string {
	m.last++
	ref := fmt.Sprintf("#%d", 900000+m.last)
	m.text = strings.Replace(m.text, "ENDSEC;\nEND-ISO", ref+"="+text+";\nENDSEC;\nEND-ISO", 1)
	return ref
}

// put gives a product another placement on what it stood on.
func (m *editor) put(product step.ID, x, y, z, dx, dy float64) {
	place, _ := m.file.Arg(product, 5).Ref()
	at, _ := m.file.Arg(place, 1).Ref()
	axes := m.add(fmt.Sprintf("IFCAXIS2PLACEMENT3D(%s,%s,%s)", m.add(fmt.Sprintf("IFCCARTESIANPOINT((%f,%f,%f))", x, y, z)),
		m.add("IFCDIRECTION((0.,0.,1.))"), m.add(fmt.Sprintf("IFCDIRECTION((%f,%f,0.))", dx, dy))))
	m.swap(place, fmt.Sprintf("#%d)", at), axes+")")
}

// drop takes an entity out.
func (m *editor) drop(id step.ID) {
	head := fmt.Sprintf("\n#%d=", id)
	at := strings.Index(m.text, head)
	m.text = m.text[:at] + m.text[at+1+strings.Index(m.text[at+1:], "\n"):]
}

// want holds the plan against what it should be, and finds a text in the findings.
func want(t *testing.T, got, want *plan.Plan, found finding.List, code string, texts ...string) {
	t.Helper()
	if diff := cmp.Diff(asText(t, want), asText(t, got)); diff != "" {
		t.Errorf("%s", diff)
	}
	all := ""
	for _, f := range found {
		if f.Code == code {
			all += f.Object + ": " + f.What.String() + "\n"
		}
	}
	for _, text := range texts {
		if !strings.Contains(all, text) {
			t.Errorf("nothing says %q: %v", text, found)
		}
	}
}

func TestMovedWall(t *testing.T) {
	for _, simple := range []bool{false, true} {
		got, found := edited(t, flat(), simple, func(m *editor) {
			// The wall's axis lies 50 mm to the right of the line, on face A.
			m.put(m.named("IFCWALL", "A"), 100, -300, 0, 0, 1)
		})
		p := flat()
		// As it was beside its axis: 50 mm to the left of it, which now runs up.
		p.Walls[0].Line = []plan.Pt{{X: 50 * mm, Y: -300 * mm}, {X: 50 * mm, Y: 5700 * mm}}
		want(t, got, p, found, "model-changed", "A: it was changed in the model: its line lies up to")
		if len(found) != 1 {
			t.Errorf("%v", found)
		}
	}
}

// TestNearlyThere: what is off by less than a tenth of a millimetre is where it was.
func TestNearlyThere(t *testing.T) {
	for off, moved := range map[float64]bool{0.08: false, 0.12: true} {
		got, found := edited(t, flat(), false, func(m *editor) { m.put(m.named("IFCWALL", "B"), off, 5000, 0, 1, 0) })
		if moved != (len(found) > 0) || moved == (asText(t, got) == asText(t, flat())) {
			t.Errorf("%g mm: %v", off, found)
		}
	}
}

func TestTakenOutAndAdded(t *testing.T) {
	got, found := edited(t, flat(), true, func(m *editor) {
		b := m.named("IFCWALL", "B")
		m.drop(b)
		m.drop(m.named("IFCCOLUMN", "C1"))
		m.drop(m.named("IFCSPACE", "R1"))
		m.drop(m.named("IFCOPENINGELEMENT", "A/1"))
		// Another program draws a wall where none was.
		place, _ := m.file.Arg(b, 5).Ref()
		storey, _ := m.file.Arg(place, 0).Ref()
		shape, _ := m.file.Arg(b, 6).Ref()
		at := m.add(fmt.Sprintf("IFCLOCALPLACEMENT(#%d,%s)", storey, m.add("IFCAXIS2PLACEMENT3D("+m.add("IFCCARTESIANPOINT((0.,8000.,0.))")+",$,$)")))
		wall := m.add(fmt.Sprintf("IFCWALL('1234567890123456789012',$,'New',$,$,%s,#%d,$,.PARTITIONING.)", at, shape))
		m.add("IFCRELCONTAINEDINSPATIALSTRUCTURE('2234567890123456789012',$,$,$,(" + wall + fmt.Sprintf("),#%d)", m.named("IFCBUILDINGSTOREY", "L1")))
	})
	p := flat()
	p.Rooms, p.Structure = nil, nil
	p.Walls[0].Openings = nil
	added := got.Walls[1]
	p.Walls = append(p.Walls[:1:1], plan.Wall{ID: "L1-01", Level: "L1", Line: []plan.Pt{{Y: 8000 * mm}, {X: 6000 * mm, Y: 8000 * mm}}, Thickness: 100 * mm, Height: 2800 * mm, Note: added.Note})
	want(t, got, p, found, "model-removed", "B: ", "C1: ", "R1: ")
	want(t, got, p, found, "model-added", "L1-01: the wall was added")
	want(t, got, p, found, "model-changed", "its opening A/1 is no more in the model")
}

// TestChangedSizes: height, length, thickness and openings of bodies.
func TestChangedSizes(t *testing.T) {
	solid := func(m *editor, product step.ID) step.ID {
		shape, _ := m.file.Arg(product, 6).Ref()
		reps := m.file.Arg(shape, 2).Refs()
		return m.file.Arg(reps[len(reps)-1], 3).Refs()[0]
	}
	// outline gives a product another outline of u and z, drawn out through the wall.
	outline := func(m *editor, product step.ID, u0, z0, u1, z1 float64) {
		s := solid(m, product)
		old, _ := m.file.Arg(s, 0).Ref()
		var points []string
		for _, p := range [][2]float64{{u0, z0}, {u1, z0}, {u1, z1}, {u0, z1}, {u0, z0}} {
			points = append(points, m.add(fmt.Sprintf("IFCCARTESIANPOINT((%f,%f))", p[0], p[1])))
		}
		m.swap(s, fmt.Sprintf("(#%d,", old), "("+m.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,"+m.add("IFCPOLYLINE(("+strings.Join(points, ",")+"))")+")")+",")
	}
	got, found := edited(t, flat(), true, func(m *editor) {
		outline(m, m.named("IFCWALL", "A"), 0, 0, 6000, 3000)
		outline(m, m.named("IFCWALL", "B"), 500, 100, 6250, 2800)
		outline(m, m.named("IFCOPENINGELEMENT", "A/1"), 1200, 0, 2200, 2150)
	})
	p := flat()
	p.Walls[0].Height = 3000 * mm
	p.Walls[0].Openings[0].At, p.Walls[0].Openings[0].Width, p.Walls[0].Openings[0].Height = 1200*mm, 1000*mm, 2150*mm
	p.Walls[1].Line, p.Walls[1].Base = []plan.Pt{{X: 500 * mm, Y: 5000 * mm}, {X: 6250 * mm, Y: 5000 * mm}}, 100*mm
	want(t, got, p, found, "model-changed", "its top is +200.0 mm higher", "its opening A/1 was changed by up to 300.0 mm", "its foot is +100.0 mm higher", "begins +500.0 mm and ends +250.0 mm")

	got, found = edited(t, flat(), false, func(m *editor) {
		for _, id := range m.file.OfType("IFCMATERIALLAYER") {
			if m.file.Arg(id, 1).IsNull() {
				continue
			}
			if v, _ := m.file.Arg(id, 1).Real(); v == 75 {
				m.swap(id, "75.", "100.")
				break
			}
		}
	})
	p = flat()
	p.Walls[0].BuildUp, p.Walls[0].Thickness = "", 125*mm
	want(t, got, p, found, "model-changed", "A: it was changed in the model: it is 125.0 mm thick, before 100.0 mm")
}

// TestStoreyMoved: a floor that is raised in the model is raised in the plan, with all on it.
func TestStoreyMoved(t *testing.T) {
	got, found := edited(t, flat(), true, func(m *editor) { m.put(m.named("IFCBUILDINGSTOREY", "L1"), 0, 0, 250, 1, 0) })
	p := flat()
	p.Levels[0].Elevation = 250 * mm
	want(t, got, p, found, "model-changed", "L1: its floor lies +250.0 mm higher")
}

// TestSiteMoved: a model that was put elsewhere as a whole is the same plan.
func TestSiteMoved(t *testing.T) {
	got, found := edited(t, flat(), false, func(m *editor) { m.put(m.named("IFCSITE", "Site"), 4e8, 5e9, 1e5, 0.6, 0.8) })
	want(t, got, flat(), found, "")
	if len(found) > 0 {
		t.Errorf("%v", found)
	}
}

// TestHostileSets: sets that cannot be what they say are told, and the model is read.
func TestHostileSets(t *testing.T) {
	property := func(m *editor, name string) (id step.ID) {
		for _, id := range m.file.OfType("IFCPROPERTYSINGLEVALUE") {
			if m.file.Arg(id, 0).Text() == name {
				return id
			}
		}
		t.Fatal("no property ", name)
		return 0
	}
	for _, x := range []struct{ name, old, new, says string }{
		{"Plan", `"nogging":1`, `"nogging":9`, "another version: 9"},
		{"Plan", `"levels":[`, `"levels":[[`, "cannot be read"},
		{"Plan", `IFCTEXT('{`, `IFCTEXT('` + strings.Repeat("[", 20000) + `{`, "cannot be read"},
		{"Written", `"walls":[{`, `"walls":{`, "cannot be read"},
		{"Wall", `"line":[[0,0]`, `"line":[[0,0,0]`, "cannot be read"},
		{"Wall", `"id":"A"`, `"id":""`, "holds no wall"},
		{"Geometry", `"axis":[[0`, `"axis":[[1e90`, "holds no wall"},
	} {
		got, found := edited(t, flat(), true, func(m *editor) { m.swap(property(m, x.name), x.old, x.new) })
		says := ""
		for _, f := range found {
			if f.Code == "own-unread" {
				says += f.What.String()
			}
		}
		if !strings.Contains(says, x.says) || len(got.Walls) != 2 {
			t.Errorf("%s with %.30s: %d walls, %v", x.name, x.new, len(got.Walls), found)
		}
	}
}

// TestCopied: of two walls with the same set the copy is another wall.
func TestCopied(t *testing.T) {
	got, found := edited(t, flat(), true, func(m *editor) {
		a := m.named("IFCWALL", "B")
		place, _ := m.file.Arg(a, 5).Ref()
		storey, _ := m.file.Arg(place, 0).Ref()
		shape, _ := m.file.Arg(a, 6).Ref()
		at := m.add(fmt.Sprintf("IFCLOCALPLACEMENT(#%d,%s)", storey, m.add("IFCAXIS2PLACEMENT3D("+m.add("IFCCARTESIANPOINT((0.,7000.,0.))")+",$,$)")))
		wall := m.add(fmt.Sprintf("IFCWALL('0234567890123456789012',$,'B',$,$,%s,#%d,$,.PARTITIONING.)", at, shape))
		m.add("IFCRELCONTAINEDINSPATIALSTRUCTURE('3234567890123456789012',$,$,$,(" + wall + fmt.Sprintf("),#%d)", m.named("IFCBUILDINGSTOREY", "L1")))
		for _, id := range m.file.OfType("IFCRELDEFINESBYPROPERTIES") {
			set, _ := m.file.Arg(id, 5).Ref()
			if m.file.Arg(set, 2).Text() == "Nogging_Wall" && m.file.Arg(id, 4).Refs()[0] == a {
				m.swap(id, fmt.Sprintf("(#%d)", a), fmt.Sprintf("(%s,#%d)", wall, a))
			}
		}
	})
	if len(got.Walls) != 3 || cmp.Diff(flat().Walls, got.Walls[:2]) != "" || got.Walls[2].Line[0].Y != 7000*mm {
		t.Errorf("%+v %v", got.Walls, found)
	}
}

// TestDoorsBack: doors as they hang are in the model's own words, so that any reader has
// them: how they open, and what they do.
func TestDoorsBack(t *testing.T) {
	p := flat()
	p.Walls = p.Walls[:1]
	p.Walls[0].Openings = nil
	for _, l := range []plan.Leaf{
		{Count: 1, Hinge: plan.AtStart, Opens: plan.FaceA, Fire: "EI2 30-C"}, {Count: 1, Hinge: plan.AtEnd, Opens: plan.FaceA}, {Count: 1, Hinge: plan.AtStart, Opens: plan.FaceB},
		{Count: 1, Hinge: plan.AtEnd, Opens: plan.FaceB}, {Count: 2, Opens: plan.FaceB},
	} {
		p.Walls[0].Openings = append(p.Walls[0].Openings, plan.Opening{Kind: plan.Door, At: plan.Length(len(p.Walls[0].Openings)*1150+100) * mm, Width: 800 * mm, Height: 2100 * mm, Sound: "Rw 32", Leaf: l})
	}
	for _, schema := range []write.Schema{write.IFC4, write.IFC4X3} {
		got, _, found := read(t, []byte(strings.ReplaceAll(string(written(t, input(p, schema, true))), "'Nogging_", "'Another_")))
		if diff := cmp.Diff(p.Walls[0].Openings, got.Walls[0].Openings); diff != "" {
			t.Errorf("%s: %s\n%v", schema, diff, found)
		}
	}
}

// TestGeoreferenceBack: where the building lies on earth is in the model's own words, and
// a point of a wall stays where it is on the map (E = e + s (x cos - y sin), as
// IfcMapConversion defines it).
func TestGeoreferenceBack(t *testing.T) {
	p := flat()
	p.Project.Georeference = plan.Georeference{CRS: "EPSG:25832", Eastings: 691234.5, Northings: 5334567.25, AxisEast: 0.6, AxisNorth: 0.8, Scale: 0.9996, Latitude: "48 8 15", OriginX: 20000, OriginY: 30000}
	data := strings.ReplaceAll(string(written(t, input(p, write.IFC4, true))), "'Nogging_", "'Another_")
	got, _, found := read(t, []byte(data))
	east := func(p *plan.Plan) float64 {
		g := &p.Project.Georeference
		x, y := g.OriginX+p.Walls[1].Line[0].X.Metres(), g.OriginY+p.Walls[1].Line[0].Y.Metres()
		return g.Eastings + g.Scale*(x*g.AxisEast-y*g.AxisNorth)
	}
	if a, b := east(p), east(got); math.Abs(a-b) > 1e-4 {
		t.Errorf("a wall that lay at %.4f m east lies at %.4f: %+v, %v", a, b, got.Project.Georeference, found)
	}
	want := p.Project.Georeference
	want.OriginX, want.OriginY = got.Project.Georeference.OriginX, got.Project.Georeference.OriginY
	if diff := cmp.Diff(want, got.Project.Georeference); diff != "" || want.OriginX == 0 {
		t.Error(diff)
	}
}

// TestAddedFarAway: what is drawn beside our walls, where the whole lies far away and is
// turned, comes into the plan's own axes.
func TestAddedFarAway(t *testing.T) {
	got, found := edited(t, flat(), true, func(m *editor) {
		m.put(m.named("IFCSITE", "Site"), 4e8, 5e9, 0, 0.6, 0.8)
		b := m.named("IFCWALL", "B")
		for _, id := range m.file.OfType("IFCRELDEFINESBYPROPERTIES") {
			set, _ := m.file.Arg(id, 5).Ref()
			if m.file.Arg(set, 2).Text() == "Nogging_Wall" && m.file.Arg(id, 4).Refs()[0] == b {
				m.drop(id)
			}
		}
	})
	if len(got.Walls) != 2 || got.Walls[1].ID != "L1-01" {
		t.Fatalf("%+v %v", got.Walls, found)
	}
	for i, p := range got.Walls[1].Line {
		q := flat().Walls[1].Line[i]
		if (p.X-q.X).Abs() > mm/10 || (p.Y-q.Y).Abs() > mm/10 {
			t.Errorf("end %d at %v, drawn at %v", i, p, q)
		}
	}
}

// TestBesideAxis: a body that was moved to the left of its axis takes the line with it.
func TestBesideAxis(t *testing.T) {
	got, found := edited(t, flat(), true, func(m *editor) {
		shape, _ := m.file.Arg(m.named("IFCWALL", "B"), 6).Ref()
		reps := m.file.Arg(shape, 2).Refs()
		solid := m.file.Arg(reps[len(reps)-1], 3).Refs()[0]
		old, _ := m.file.Arg(solid, 1).Ref()
		at := m.add("IFCAXIS2PLACEMENT3D(" + m.add("IFCCARTESIANPOINT((0.,90.,0.))") + "," + m.add("IFCDIRECTION((0.,-1.,0.))") + "," + m.add("IFCDIRECTION((1.,0.,0.))") + ")")
		m.swap(solid, fmt.Sprintf(",#%d,", old), ","+at+",")
	})
	p := flat()
	p.Walls[1].Line = []plan.Pt{{Y: 5040 * mm}, {X: 6000 * mm, Y: 5040 * mm}}
	want(t, got, p, found, "model-changed", "lies +40.0 mm to the left")
}
