package ifc_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/plan"
)

// shell adds a shell of flat faces of the given entity type around a box, whose faces are
// bounded by loops of points.
func (m *model) shell(entity string, x0, y0, z0, x1, y1, z1 float64) string {
	var faces []string
	for _, f := range boxFaces(x0, y0, z0, x1, y1, z1) {
		var points []string
		for _, p := range f {
			points = append(points, m.pt(p...))
		}
		loop := m.put("IFCPOLYLOOP((%s))", strings.Join(points, ","))
		faces = append(faces, m.put("IFCFACE((%s))", m.put("IFCFACEOUTERBOUND(%s,.T.)", loop)))
	}
	return m.put("%s((%s))", entity, strings.Join(faces, ","))
}

func boxFaces(x0, y0, z0, x1, y1, z1 float64) [][][]float64 {
	return [][][]float64{
		{{x0, y0, z0}, {x0, y1, z0}, {x1, y1, z0}, {x1, y0, z0}}, {{x0, y0, z1}, {x1, y0, z1}, {x1, y1, z1}, {x0, y1, z1}},
		{{x0, y0, z0}, {x1, y0, z0}, {x1, y0, z1}, {x0, y0, z1}}, {{x0, y1, z0}, {x0, y1, z1}, {x1, y1, z1}, {x1, y1, z0}},
		{{x0, y0, z0}, {x0, y0, z1}, {x0, y1, z1}, {x0, y1, z0}}, {{x1, y0, z0}, {x1, y1, z0}, {x1, y1, z1}, {x1, y0, z1}},
	}
}

// edges are the vertices and edges of an advanced boundary representation, each put once.
type edges struct {
	m        *model
	vertices map[string]string
	curves   map[string]string
}

func (m *model) edges() *edges { return &edges{m, map[string]string{}, map[string]string{}} }

// loop adds an IfcEdgeLoop through points. Where a bend is given for a corner, the edge
// from there to the next lies on the circle of that reference.
func (e *edges) loop(points [][]float64, circles map[int]string, forward map[int]bool) string {
	var oriented []string
	for i, p := range points {
		q := points[(i+1)%len(points)]
		a, b := e.vertex(p), e.vertex(q)
		there, back := a+b+circles[i], b+a+circles[i]
		switch {
		case e.curves[there] != "":
			oriented = append(oriented, e.m.put("IFCORIENTEDEDGE(*,*,%s,.T.)", e.curves[there]))
		case e.curves[back] != "":
			oriented = append(oriented, e.m.put("IFCORIENTEDEDGE(*,*,%s,.F.)", e.curves[back]))
		default:
			curve, sense := circles[i], ".T."
			if curve == "" {
				curve = e.m.polyline(p, q)
			} else if !forward[i] {
				sense = ".F."
			}
			e.curves[there] = e.m.put("IFCEDGECURVE(%s,%s,%s,%s)", a, b, curve, sense)
			oriented = append(oriented, e.m.put("IFCORIENTEDEDGE(*,*,%s,.T.)", e.curves[there]))
		}
	}
	return e.m.put("IFCEDGELOOP((%s))", strings.Join(oriented, ","))
}

func (e *edges) vertex(p []float64) string {
	key := fmt.Sprintf("%.3f", p)
	if e.vertices[key] == "" {
		e.vertices[key] = e.m.put("IFCVERTEXPOINT(%s)", e.m.pt(p...))
	}
	return e.vertices[key]
}

func (e *edges) face(surface string, loops ...string) string {
	var bounds []string
	for i, l := range loops {
		bounds = append(bounds, e.m.put("%s(%s,.T.)", []string{"IFCFACEOUTERBOUND", "IFCFACEBOUND"}[min(i, 1)], l))
	}
	return e.m.put("IFCADVANCEDFACE((%s),%s,.T.)", strings.Join(bounds, ","), surface)
}

// advancedBox adds an IfcAdvancedBrep of flat faces.
func (m *model) advancedBox(x0, y0, z0, x1, y1, z1 float64) string {
	e := m.edges()
	var faces []string
	for _, f := range boxFaces(x0, y0, z0, x1, y1, z1) {
		faces = append(faces, e.face(m.put("IFCPLANE(%s)", m.place(f[0]...)), e.loop(f, nil, nil)))
	}
	return m.put("IFCADVANCEDBREP(%s)", m.put("IFCCLOSEDSHELL((%s))", strings.Join(faces, ",")))
}

// polygons adds an IfcPolygonalFaceSet of a box with a hole through it along y.
func (m *model) polygons(x0, y0, z0, x1, y1, z1 float64, hole [4]float64) string {
	var points, faces []string
	add := func(p []float64) int {
		points = append(points, "("+reals(p)+")")
		return len(points)
	}
	list := func(at []int) string {
		s := ""
		for i, n := range at {
			if i > 0 {
				s += ","
			}
			s += fmt.Sprint(n)
		}
		return s
	}
	ring := func(y float64) (at []int) {
		for _, p := range [][]float64{{hole[0], y, hole[2]}, {hole[1], y, hole[2]}, {hole[1], y, hole[3]}, {hole[0], y, hole[3]}} {
			at = append(at, add(p))
		}
		return at
	}
	near, far := ring(y0), ring(y1)
	for i, f := range boxFaces(x0, y0, z0, x1, y1, z1) {
		var at []int
		for _, p := range f {
			at = append(at, add(p))
		}
		switch i {
		case 2:
			faces = append(faces, m.put("IFCINDEXEDPOLYGONALFACEWITHVOIDS((%s),((%s)))", list(at), list(near)))
		case 3:
			faces = append(faces, m.put("IFCINDEXEDPOLYGONALFACEWITHVOIDS((%s),((%s)))", list(at), list(far)))
		default:
			faces = append(faces, m.put("IFCINDEXEDPOLYGONALFACE((%s))", list(at)))
		}
	}
	for i := range near {
		j := (i + 1) % 4
		faces = append(faces, m.put("IFCINDEXEDPOLYGONALFACE((%s))", list([]int{near[i], near[j], far[j], far[i]})))
	}
	return m.put("IFCPOLYGONALFACESET(%s,.T.,(%s),$)", m.put("IFCCARTESIANPOINTLIST3D((%s))", strings.Join(points, ",")), strings.Join(faces, ","))
}

func (m *model) boolean(op, a, b string) string {
	return m.put("IFCBOOLEANRESULT(.%s.,%s,%s)", op, a, b)
}

// mapped adds an item that maps others with an operator: axes, place and scales.
func (m *model) mapped(operator string, items ...string) string {
	rep := m.put("IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(%s))", strings.Join(items, ","))
	return m.put("IFCMAPPEDITEM(%s,%s)", m.put("IFCREPRESENTATIONMAP(%s,%s)", m.place(), rep), operator)
}

// aboveLevel is the half space above a level, to be taken away.
func (m *model) aboveLevel(z float64) string {
	return m.put("IFCHALFSPACESOLID(%s,.F.)", m.put("IFCPLANE(%s)", m.place(0, 0, z)))
}

// hole is what is expected of a body with a hole of 1 m by 2.1 m from 1 m on.
var hole = []plan.Opening{{Kind: plan.Bare, At: mm(1000), Width: mm(1000), Height: mm(2100)}}

// One wall of 4 m by 100 mm by 2.5 m, in all the ways in which a body can be given; some
// have a hole that is no opening of the file.
func TestBodyKinds(t *testing.T) {
	tests := []struct {
		name string
		body func(m *model) []string
		want []plan.Opening
	}{
		{"rectangle profile", func(m *model) []string { return []string{m.block(0, -50, 0, 4000, 50, 2500)} }, nil},
		{"drawn profile", func(m *model) []string {
			return []string{m.extrusion(m.place(), 2500, []float64{0, -50}, []float64{4000, -50}, []float64{4000, 50}, []float64{0, 50})}
		}, nil},
		{"profile with a cavity", func(m *model) []string {
			outer := m.polyline([]float64{0, -50}, []float64{4000, -50}, []float64{4000, 50}, []float64{0, 50}, []float64{0, -50})
			inner := m.polyline([]float64{50, -10}, []float64{3950, -10}, []float64{3950, 10}, []float64{50, 10}, []float64{50, -10})
			return []string{m.upright(m.put("IFCARBITRARYPROFILEDEFWITHVOIDS(.AREA.,$,%s,(%s))", outer, inner), 0, 2500)}
		}, nil},
		{"composite profile", func(m *model) []string {
			half := func(x float64) string {
				return m.put("IFCRECTANGLEPROFILEDEF(.AREA.,$,%s,2000.,100.)", m.put("IFCAXIS2PLACEMENT2D(%s,$)", m.pt(x, 0)))
			}
			return []string{m.upright(m.put("IFCCOMPOSITEPROFILEDEF(.AREA.,$,(%s,%s),$)", half(1000), half(3000)), 0, 2500)}
		}, nil},
		{"centre-line profile", func(m *model) []string {
			return []string{m.upright(m.put("IFCCENTERLINEPROFILEDEF(.AREA.,$,%s,100.)", m.polyline([]float64{0, 0}, []float64{1500, 0}, []float64{4000, 0})), 0, 2500)}
		}, nil},
		{"derived profile", func(m *model) []string {
			half := m.put("IFCRECTANGLEPROFILEDEF(.AREA.,$,$,2000.,50.)")
			operator := m.put("IFCCARTESIANTRANSFORMATIONOPERATOR2D($,$,%s,2.)", m.pt(2000, 0))
			return []string{m.upright(m.put("IFCDERIVEDPROFILEDEF(.AREA.,$,%s,%s,$)", half, operator), 0, 2500)}
		}, nil},
		{"drawn down from its top", func(m *model) []string {
			profile := m.put("IFCRECTANGLEPROFILEDEF(.AREA.,$,%s,4000.,100.)", m.put("IFCAXIS2PLACEMENT2D(%s,$)", m.pt(2000, 0)))
			return []string{m.put("IFCEXTRUDEDAREASOLID(%s,%s,%s,2500.)", profile, m.place(0, 0, 2500), m.dir(0, 0, -1))}
		}, nil},
		{"tapered to the same profile", func(m *model) []string {
			profile := m.put("IFCRECTANGLEPROFILEDEF(.AREA.,$,%s,4000.,100.)", m.put("IFCAXIS2PLACEMENT2D(%s,$)", m.pt(2000, 0)))
			return []string{m.put("IFCEXTRUDEDAREASOLIDTAPERED(%s,$,%s,2500.,%s)", profile, m.dir(0, 0, 1), profile)}
		}, nil},
		{"cut by a half space", func(m *model) []string {
			return []string{m.put("IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,%s,%s)", m.block(0, -50, 0, 4000, 50, 3200), m.aboveLevel(2500))}
		}, nil},
		{"cut by two half spaces, one at an end", func(m *model) []string {
			end := m.put("IFCHALFSPACESOLID(%s,.F.)", m.put("IFCPLANE(%s)", m.place(4000, 0, 0, 1, 0, 0, 0, 0, 1)))
			return []string{m.boolean("DIFFERENCE", m.boolean("DIFFERENCE", m.block(0, -50, 0, 4100, 50, 3200), m.aboveLevel(2500)), end)}
		}, nil},
		{"cut by a bounded half space that is larger", func(m *model) []string {
			ring := m.polyline([]float64{-100, -100}, []float64{4100, -100}, []float64{4100, 100}, []float64{-100, 100}, []float64{-100, -100})
			plane := m.put("IFCPLANE(%s)", m.place(0, 0, 2500))
			return []string{m.put("IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,%s,%s)", m.block(0, -50, 0, 4000, 50, 3200), m.put("IFCPOLYGONALBOUNDEDHALFSPACE(%s,.F.,%s,%s)", plane, m.place(), ring))}
		}, nil},
		{"what two solids share", func(m *model) []string {
			return []string{m.boolean("INTERSECTION", m.block(0, -50, 0, 4000, 50, 3000), m.block(-500, -500, -500, 5000, 500, 2500))}
		}, nil},
		{"a solid taken away", func(m *model) []string {
			return []string{m.boolean("DIFFERENCE", m.block(0, -50, 0, 4000, 50, 2500), m.block(1000, -80, -10, 2000, 80, 2100))}
		}, hole},
		{"a boundary representation taken away", func(m *model) []string {
			cut := m.put("IFCFACETEDBREP(%s)", m.shell("IFCCLOSEDSHELL", 1000, -80, -10, 2000, 80, 2100))
			return []string{m.boolean("DIFFERENCE", m.block(0, -50, 0, 4000, 50, 2500), cut)}
		}, hole},
		{"three pieces united", func(m *model) []string {
			ends := m.boolean("UNION", m.block(0, -50, 0, 1000, 50, 2500), m.block(2000, -50, 0, 4000, 50, 2500))
			return []string{m.boolean("UNION", ends, m.block(900, -50, 2100, 2100, 50, 2500))}
		}, hole},
		{"CSG of a block", func(m *model) []string {
			return []string{m.put("IFCCSGSOLID(%s)", m.put("IFCBLOCK(%s,4000.,100.,2500.)", m.place(0, -50, 0)))}
		}, nil},
		{"faceted boundary representation", func(m *model) []string {
			return []string{m.put("IFCFACETEDBREP(%s)", m.shell("IFCCLOSEDSHELL", 0, -50, 0, 4000, 50, 2500))}
		}, nil},
		{"advanced boundary representation", func(m *model) []string { return []string{m.advancedBox(0, -50, 0, 4000, 50, 2500)} }, nil},
		{"surface model of a shell", func(m *model) []string {
			return []string{m.put("IFCSHELLBASEDSURFACEMODEL((%s))", m.shell("IFCOPENSHELL", 0, -50, 0, 4000, 50, 2500))}
		}, nil},
		{"surface model of faces", func(m *model) []string {
			return []string{m.put("IFCFACEBASEDSURFACEMODEL((%s))", m.shell("IFCCONNECTEDFACESET", 0, -50, 0, 4000, 50, 2500))}
		}, nil},
		{"triangles", func(m *model) []string { return []string{m.triangles(0, -50, 0, 4000, 50, 2500)} }, nil},
		{"polygons with a hole", func(m *model) []string {
			return []string{m.polygons(0, -50, 0, 4000, 50, 2500, [4]float64{2500, 3500, 900, 2100})}
		}, []plan.Opening{{Kind: plan.Bare, At: mm(2500), Width: mm(1000), Sill: mm(900), Height: mm(1200)}}},
		{"mapped, stretched along one axis", func(m *model) []string {
			operator := m.put("IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM($,$,%s,4.,$,0.1,2.5)", m.pt(0, -50, 0))
			return []string{m.mapped(operator, m.block(0, 0, 0, 1000, 1000, 1000))}
		}, nil},
		{"mapped twice, stretched each time and mirrored", func(m *model) []string {
			inner := m.put("IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM(%s,$,%s,2.,$,0.1,1.)", m.dir(-1, 0, 0), m.pt(2000, 0, 0))
			outer := m.put("IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM($,$,%s,2.,$,1.,2.5)", m.pt(0, -50, 0))
			return []string{m.mapped(outer, m.mapped(inner, m.block(0, -1000, 0, 1000, 0, 1000)))}
		}, nil},
		{"a box around it", func(m *model) []string {
			return []string{m.put("IFCBOUNDINGBOX(%s,4000.,100.,2500.)", m.pt(0, -50, 0))}
		}, nil},
		{"several solids side by side", func(m *model) []string {
			return []string{m.block(0, -50, 0, 1000, 50, 2500), m.block(1000, -50, 2100, 2000, 50, 2500), m.block(2000, -50, 0, 4000, 50, 2500)}
		}, hole},
		{"layers as solids of several kinds", func(m *model) []string {
			return []string{m.triangles(0, -50, 0, 4000, -37.5, 2500), m.block(0, -37.5, 0, 4000, 37.5, 2500), m.advancedBox(0, 37.5, 0, 4000, 50, 2500)}
		}, nil},
	}
	for _, test := range tests {
		for _, axis := range []bool{true, false} {
			t.Run(fmt.Sprintf("%s, axis %v", test.name, axis), func(t *testing.T) {
				m := newModel("mm")
				m.floorAt("Ground floor", 0)
				line := ""
				if axis {
					line = m.polyline([]float64{0, 0}, []float64{4000, 0})
				}
				m.layers(m.wall(m.place(300, 200, 0), m.shape(line, test.body(m)...)), "POSITIVE", -50, partition...)
				p, _, found := read(t, m)
				w := only(t, p, found)
				near(t, "start x", w.Line[0].X, 300)
				near(t, "start y", w.Line[0].Y, 200)
				near(t, "end x", w.Line[1].X, 4300)
				near(t, "thickness", w.Thickness, 100)
				near(t, "height", w.Height, 2500)
				if diff := cmp.Diff(test.want, w.Openings); diff != "" {
					t.Error(diff)
				}
				for _, code := range []string{"wall-body", "wall-gap", "wall-foot", "wall-thickness", "wall-beside"} {
					if has(found, code, "") {
						t.Error(found)
					}
				}
			})
		}
	}
}

// round adds an IfcAdvancedBrep of a ring between two arcs, with cylindrical faces.
func (m *model) round(cx, cy, inner, outer, from, to, height float64) string {
	e := m.edges()
	circle := func(r, z float64) string { return m.put("IFCCIRCLE(%s,%s)", m.place(cx, cy, z), real(r)) }
	at := func(r, degrees, z float64) []float64 { return append(polar(cx, cy, r, degrees), z) }
	circles := map[float64][2]string{inner: {circle(inner, 0), circle(inner, height)}, outer: {circle(outer, 0), circle(outer, height)}}
	var faces []string
	for i, z := range []float64{0, height} {
		loop := e.loop([][]float64{at(outer, from, z), at(outer, to, z), at(inner, to, z), at(inner, from, z)},
			map[int]string{0: circles[outer][i], 2: circles[inner][i]}, map[int]bool{0: true})
		faces = append(faces, e.face(m.put("IFCPLANE(%s)", m.place(cx, cy, z)), loop))
	}
	for r, pair := range circles {
		loop := e.loop([][]float64{at(r, from, 0), at(r, to, 0), at(r, to, height), at(r, from, height)}, map[int]string{0: pair[0], 2: pair[1]}, map[int]bool{0: true})
		surface := m.put("IFCCYLINDRICALSURFACE(%s,%s)", m.place(cx, cy, 0), real(r))
		if r == inner { // the same surface as the sweep of an arc
			arc := m.put("IFCTRIMMEDCURVE(%s,(IFCPARAMETERVALUE(%s)),(IFCPARAMETERVALUE(%s)),.T.,.PARAMETER.)", m.put("IFCCIRCLE(%s,%s)", m.put("IFCAXIS2PLACEMENT2D(%s,$)", m.pt(cx, cy)), real(r)), real(from), real(to))
			surface = m.put("IFCSURFACEOFLINEAREXTRUSION(%s,%s,%s,%s)", m.put("IFCARBITRARYOPENPROFILEDEF(.CURVE.,$,%s)", arc), m.place(), m.dir(0, 0, 1), real(height))
		}
		faces = append(faces, e.face(surface, loop))
	}
	for _, degrees := range []float64{from, to} {
		loop := e.loop([][]float64{at(inner, degrees, 0), at(outer, degrees, 0), at(outer, degrees, height), at(inner, degrees, height)}, nil, nil)
		faces = append(faces, e.face("$", loop))
	}
	return m.put("IFCADVANCEDBREP(%s)", m.put("IFCCLOSEDSHELL((%s))", strings.Join(faces, ",")))
}

// The curved wall of TestCurvedWall by bodies of other kinds.
func TestCurvedBodyKinds(t *testing.T) {
	tests := map[string]func(m *model) string{
		"cylindrical faces": func(m *model) string { return m.round(1000, 2000, 4950, 5050, 0, 90, 2500) },
		"centre-line profile": func(m *model) string {
			return m.upright(m.put("IFCCENTERLINEPROFILEDEF(.AREA.,$,%s,100.)", m.arc(1000, 2000, 5000, 0, 90, "T")), 0, 2500)
		},
		"revolved": func(m *model) string { // a rectangle of 100 by 2500 mm in the plane of x and z, turned about an upright axis
			profile := m.put("IFCRECTANGLEPROFILEDEF(.AREA.,$,%s,100.,2500.)", m.put("IFCAXIS2PLACEMENT2D(%s,$)", m.pt(5000, 1250)))
			axis := m.put("IFCAXIS1PLACEMENT(%s,%s)", m.pt(0, 0, 0), m.dir(0, 1, 0))
			return m.put("IFCREVOLVEDAREASOLID(%s,%s,%s,90.)", profile, m.place(1000, 2000, 0, 0, -1, 0, 1, 0, 0), axis)
		},
		"mapped": func(m *model) string {
			operator := m.put("IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,%s,10.,$)", m.pt(1000, 2000, 0))
			return m.mapped(operator, m.round(0, 0, 495, 505, 0, 90, 250))
		},
	}
	for name, body := range tests {
		t.Run(name, func(t *testing.T) {
			m := newModel("mm")
			m.floorAt("Ground floor", 0)
			m.layers(m.wall(m.place(), m.body(body(m))), "POSITIVE", -50, partition...)
			p, _, found := read(t, m)
			w := only(t, p, found)
			quarter(t, w)
			near(t, "height", w.Height, 2500)
			if has(found, "wall-body", "") {
				t.Error(found)
			}
		})
	}
}

// A spline that is a quarter of a circle: a rational one of degree 2 with weights 1, √½, 1
// (Piegl and Tiller, The NURBS Book, section 7.3).
func TestSplineAxis(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	poles := fmt.Sprintf("%s,%s,%s", m.pt(6000, 2000), m.pt(6000, 7000), m.pt(1000, 7000))
	spline := m.put("IFCRATIONALBSPLINECURVEWITHKNOTS(2,(%s),.UNSPECIFIED.,.F.,.F.,(3,3),(0.,1.),.UNSPECIFIED.,(1.,%s,1.))", poles, real(math.Sqrt2/2))
	m.layers(m.wall(m.place(), m.shape(spline, m.upright(m.sector(1000, 2000, 4950, 5050, 0, 90), 0, 2500))), "POSITIVE", -50, partition...)
	p, _, found := read(t, m)
	w := only(t, p, found)
	line(t, w, 6000, 2000, 1000, 7000)
	onRing(t, w, 1000, 2000, 5000)
}

// One opening of 1 m by 1.2 m at 2.5 m along and 900 mm up, by bodies of every kind.
func TestOpeningKinds(t *testing.T) {
	tests := map[string]func(m *model) string{
		"extruded up": func(m *model) string { return m.block(2500, -80, 900, 3500, 80, 2100) },
		"extruded through": func(m *model) string {
			return m.prism(-80, 80, []float64{2500, 900}, []float64{3500, 900}, []float64{3500, 2100}, []float64{2500, 2100})
		},
		"faceted": func(m *model) string {
			return m.put("IFCFACETEDBREP(%s)", m.shell("IFCCLOSEDSHELL", 2500, -80, 900, 3500, 80, 2100))
		},
		"advanced": func(m *model) string { return m.advancedBox(2500, -80, 900, 3500, 80, 2100) },
		"surfaces": func(m *model) string {
			return m.put("IFCSHELLBASEDSURFACEMODEL((%s))", m.shell("IFCOPENSHELL", 2500, -80, 900, 3500, 80, 2100))
		},
		"triangles": func(m *model) string { return m.triangles(2500, -80, 900, 3500, 80, 2100) },
		"mapped": func(m *model) string {
			operator := m.put("IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM($,$,%s,10.,$,1.,12.)", m.pt(2500, 0, 900))
			return m.mapped(operator, m.block(0, -80, 0, 100, 80, 100))
		},
		"shared by two solids": func(m *model) string {
			return m.boolean("INTERSECTION", m.block(2500, -80, 0, 3500, 80, 2100), m.block(0, -80, 900, 9000, 80, 3000))
		},
		"united of two": func(m *model) string {
			return m.boolean("UNION", m.block(2500, -80, 900, 3000, 80, 2100), m.block(2900, -80, 900, 3500, 80, 2100))
		},
		"below a plane": func(m *model) string {
			return m.put("IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,%s,%s)", m.block(2500, -80, 900, 3500, 80, 3000), m.aboveLevel(2100))
		},
		"through its half, and its other half": func(m *model) string {
			return m.boolean("UNION", m.block(2500, -80, 900, 3500, 0, 2100), m.block(2500, 0, 900, 3500, 80, 2100))
		},
		"CSG": func(m *model) string {
			return m.put("IFCCSGSOLID(%s)", m.put("IFCBLOCK(%s,1000.,160.,1200.)", m.place(2500, -80, 900)))
		},
	}
	for name, body := range tests {
		t.Run(name, func(t *testing.T) {
			m, w := house()
			o := m.put("IFCOPENINGELEMENT('o',$,'Opening',$,$,%s,%s,$,$)", m.at(m.placementOf(w), m.place()), m.body(body(m)))
			m.put("IFCRELVOIDSELEMENT('v',$,$,$,%s,%s)", w, o)
			want := []plan.Opening{{Kind: plan.Bare, At: mm(2500), Width: mm(1000), Sill: mm(900), Height: mm(1200)}}
			if diff := cmp.Diff(want, openings(t, m)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// Recesses in a wall's own body, shallow and deeper than its middle, are no openings; a hole
// beside them is.
func TestRecessesInBody(t *testing.T) {
	for name, deep := range map[string]float64{"shallow": 30, "deeper than the middle": 70} {
		m := newModel("mm")
		m.floorAt("Ground floor", 0)
		niche := m.boolean("DIFFERENCE", m.block(0, -50, 0, 4000, 50, 2500), m.block(500, 50-deep, 300, 900, 60, 1100))
		body := m.boolean("DIFFERENCE", niche, m.block(1000, -80, -10, 2000, 80, 2100))
		m.layers(m.wall(m.place(), m.body(body)), "POSITIVE", -50, partition...)
		p, _, found := read(t, m)
		if diff := cmp.Diff(hole, only(t, p, found).Openings); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
		told := false
		for _, f := range found {
			told = told || f.Code == "wall-recess" && strings.HasPrefix(f.What.String(), "its body has a recess 400 mm wide and 800 mm high, 500 mm from its start and 300 mm above its foot")
		}
		if !told {
			t.Errorf("%s: %v", name, found)
		}
	}
}
