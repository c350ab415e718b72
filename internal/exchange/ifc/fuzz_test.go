package ifc_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"nogging/internal/exchange/ifc"
	"nogging/internal/plan"
)

// FuzzRead feeds broken models to the reader: it must end, and everything in
// the file must be read or named.
func FuzzRead(f *testing.F) {
	m, w := house()
	m.door(m.opening(w, m.block(1000, -50, 0, 1900, 50, 2100)), 900, 2100)
	m.common(w, "'FireRating',$,IFCLABEL('EI 60'),$", "'IsExternal',$,IFCBOOLEAN(.F.),$")
	m.wall(m.place(0, 3000, 0), m.body(m.gable()))
	m.wall(m.place(0, 6000, 0), m.body(m.triangles(0, 0, 0, 4000, 100, 2600)))
	f.Add(m.bytes())
	m, w = house()
	rep := m.put("IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(%s))", m.block(0, -100, 0, 1, 100, 1))
	source := m.put("IFCREPRESENTATIONMAP(%s,%s)", m.place(), rep)
	operator := m.put("IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM($,$,%s,900.,$,1.,2100.)", m.pt(500, 0, 0))
	m.opening(w, m.put("IFCMAPPEDITEM(%s,%s)", source, operator))
	clipped := m.put("IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,%s,%s)", m.block(0, -50, 0, 4000, 50, 3500), m.halfSpace(0, 3000, 1, 4, false))
	m.wall(m.place(), m.shape(m.polyline([]float64{0, 0}, []float64{4000, 0}), clipped))
	arc := m.put("IFCINDEXEDPOLYCURVE(%s,(IFCARCINDEX((1,2,3))),$)", m.put("IFCCARTESIANPOINTLIST2D(((0.,0.),(1000.,1000.),(2000.,0.)))"))
	circle := m.put("IFCCIRCLE(%s,500.)", m.place())
	trimmed := m.put("IFCTRIMMEDCURVE(%s,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(90.)),.T.,.PARAMETER.)", circle)
	m.wall(m.place(), m.shape(trimmed, m.put("IFCEXTRUDEDAREASOLID(%s,$,%s,2500.)", m.put("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", arc), m.dir(0, 0, 1))))
	f.Add(m.bytes())
	m = newModel("mm")
	m.floorAt("L1", 0)
	m.own(m.plain(m.place(), 3000, 2500))
	f.Add(m.bytes())
	f.Add(survey("m", 0, 0, 3.5e9, 5.4e9, 30))
	f.Add(shapes())
	f.Fuzz(func(t *testing.T, data []byte) {
		p, stats, found := ifc.Options{}.Read("fuzz.ifc", data)
		if !has(found, "ifc-file", "") { // which is all that is said of a file that is refused
			if !stats.Ours {
				balance(t, stats, found)
			}
		}
		if _, err := plan.Marshal(p); err != nil {
			t.Fatal(err)
		}
		for _, w := range p.Walls {
			if l := w.Length(); l < 0 || l > mm(math.MaxInt32)*1000 {
				t.Fatalf("%s is %s mm long", w.ID, l)
			}
		}
	})
}

// shapes draws walls, columns, slabs and beams by all kinds of geometry that others of these
// files do not have.
func shapes() []byte {
	m := newModel("mm")
	m.floorAt("L1", 0)
	m.wall(m.place(), m.body(m.round(0, 0, 2950, 3050, 0, 90, 2500)))
	m.wall(m.place(), m.body(m.polygons(0, -50, 0, 4000, 50, 2500, [4]float64{2500, 3500, 900, 2100})))
	poles := fmt.Sprintf("%s,%s,%s", m.pt(6000, 2000), m.pt(6000, 7000), m.pt(1000, 7000))
	spline := m.put("IFCRATIONALBSPLINECURVEWITHKNOTS(2,(%s),.UNSPECIFIED.,.F.,.F.,(3,3),(0.,1.),.UNSPECIFIED.,(1.,0.7,1.))", poles)
	m.layers(m.wall(m.place(), m.shape(spline, m.advancedBox(0, -50, 0, 4000, 50, 2500))), "POSITIVE", -50, partition...)
	axis := m.polyline([]float64{0, 0}, []float64{3000, 0}, []float64{3000, 2000}, []float64{0, 2000}, []float64{0, 0})
	w := m.wall(m.place(), m.shape(axis, m.upright(m.put("IFCCENTERLINEPROFILEDEF(.AREA.,$,%s,100.)", axis), 0, 2500)))
	m.opening(w, m.block(500, -80, 0, 1400, 80, 2100))
	axis1 := m.put("IFCAXIS1PLACEMENT(%s,%s)", m.pt(0, 0, 0), m.dir(0, 1, 0))
	m.column(m.place(), m.put("IFCREVOLVEDAREASOLID(%s,$,%s,270.)", m.put("IFCCIRCLEHOLLOWPROFILEDEF(.AREA.,$,$,100.,8.)"), axis1))
	m.opening(m.flat(), m.block(0, 0, 2700, 900, 900, 3100))
	m.over("IFCBEAM", "JOIST", m.block(380, -2000, 2580, 425, 2000, 2800))
	m.over("IFCROOF", "SHED_ROOF", m.prism(-1000, 1000, []float64{0, 3000}, []float64{4000, 2000}, []float64{4000, 2200}, []float64{0, 3200}))
	m.over("IFCCOVERING", "CEILING", m.block(0, 50, 2400, 4000, 4950, 2420))
	return m.bytes()
}

// Shapes and placements that contain themselves, each twice over, come to an
// end.
func TestHostileNesting(t *testing.T) {
	shape := "#90=IFCSHAPEREPRESENTATION($,'Body','',(#1,#1));#91=IFCPRODUCTDEFINITIONSHAPE($,$,(#90));#92=IFCWALL('',$,$,$,$,#93,#91,$);" +
		"#93=IFCLOCALPLACEMENT($,#94);#94=IFCAXIS2PLACEMENT3D(#95,$,$);#95=IFCCARTESIANPOINT((0.,0.,0.));"
	tests := map[string]string{
		"placement": "#1=IFCLOCALPLACEMENT(#1,#94);#2=IFCWALL('',$,$,$,$,#1,#91,$);",
		"mapped":    "#1=IFCMAPPEDITEM(#2,#3);#2=IFCREPRESENTATIONMAP(#94,#90);#3=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#95,$,$);",
		"boolean":   "#1=IFCBOOLEANRESULT(.UNION.,#1,#1);",
		"csg":       "#1=IFCCSGSOLID(#2);#2=IFCBOOLEANRESULT(.DIFFERENCE.,#1,#1);",
		"curve":     "#1=IFCEXTRUDEDAREASOLID(#2,$,$,1.);#2=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#3);#3=IFCCOMPOSITECURVE((#4,#4),.F.);#4=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#3);",
		"profile":   "#1=IFCEXTRUDEDAREASOLID(#2,$,$,1.);#2=IFCCOMPOSITEPROFILEDEF(.AREA.,$,(#2,#2),$);",
		"parts":     "#1=IFCRELAGGREGATES('',$,$,$,#92,(#2,#2,#92));#2=IFCMEMBER('',$,$,$,$,#93,$,$);#3=IFCRELAGGREGATES('',$,$,$,#2,(#92,#2));",
		"storey":    "#1=IFCRELAGGREGATES('',$,$,$,#2,(#92));#2=IFCBUILDING('',$,$,$,$,#93,$,$);#3=IFCRELAGGREGATES('',$,$,$,#92,(#2));",
		"edge":      "#1=IFCADVANCEDBREP(#2);#2=IFCCLOSEDSHELL((#3,#3));#3=IFCADVANCEDFACE((#4,#4),#7,.T.);#4=IFCFACEOUTERBOUND(#5,.T.);#5=IFCEDGELOOP((#6,#6,#6));#6=IFCORIENTEDEDGE(*,*,#8,.T.);#7=IFCCYLINDRICALSURFACE(#94,1E300);#8=IFCEDGECURVE(#9,#9,#10,.T.);#9=IFCVERTEXPOINT(#95);#10=IFCCIRCLE(#94,1E300);",
		"spline":    "#1=IFCEXTRUDEDAREASOLID(#2,$,$,1.);#2=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#3);#3=IFCBSPLINECURVEWITHKNOTS(3,(#95,#95,#95,#95),.X.,.F.,.F.,(4,4),(0.,0.),.X.);",
		"knots":     "#1=IFCEXTRUDEDAREASOLID(#2,$,$,1.);#2=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#3);#3=IFCBSPLINECURVEWITHKNOTS(2,(#95,#95,#95),.X.,.F.,.F.,(3,2000000000),(0.,1.),.X.);",
		"revolved":  "#1=IFCREVOLVEDAREASOLID(#2,#94,#3,1E300);#2=IFCCENTERLINEPROFILEDEF(.AREA.,$,#4,1E300);#3=IFCAXIS1PLACEMENT(#95,$);#4=IFCPOLYLINE((#95,#5,#95));#5=IFCCARTESIANPOINT((1E300,0.,0.));",
		"units":     "#1=IFCUNITASSIGNMENT((#2));#2=IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'x',#3);#3=IFCMEASUREWITHUNIT(IFCREAL(2.),#2);",
	}
	for name, text := range tests {
		t.Run(name, func(t *testing.T) {
			_, stats, found := ifc.Options{}.Read("hostile.ifc", []byte("FILE_SCHEMA(('IFC4'));"+text+shape))
			balance(t, stats, found)
		})
	}
}

// own gives a wall and the project the sets with which this program writes them.
func (m *model) own(wall string) {
	set := func(of, name string, properties ...string) {
		var all []string
		for i := 0; i < len(properties); i += 2 {
			all = append(all, m.put("IFCPROPERTYSINGLEVALUE('%s',$,IFCTEXT('%s'),$)", properties[i], properties[i+1]))
		}
		m.put("IFCRELDEFINESBYPROPERTIES('r',$,$,$,(%s),%s)", of, m.put("IFCPROPERTYSET('s',$,'%s',$,(%s))", name, strings.Join(all, ",")))
	}
	project := ""
	for i, line := range m.lines {
		if strings.Contains(line, "=IFCPROJECT(") {
			project = fmt.Sprintf("#%d", i+1)
		}
	}
	set(project, "Nogging_Plan", "Plan", `{"nogging":1,"levels":[{"id":"L1","clear_height":2500}],"walls":[{"id":"x","level":"L1","line":[]}]}`, "Written", `{"walls":[{"id":"A","at":0}]}`)
	set(wall, "Nogging_Wall", "Wall", `{"id":"A","level":"L1","line":[[0,0],[3000,0]],"openings":[{"kind":"door","at":100,"width":900,"height":2000}]}`,
		"Geometry", `{"axis":[[0,0,0],[1500,0,0],[3000,0,0]],"layers":100,"pieces":0,"body":{"low":[0,-50,0],"high":[3000,50,2500]},"holes":[{"id":"A/1","low":[0,0,0],"high":[1,1,1]}]}`)
}
