package ifc_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/plan"
)

// over adds an element of a type that stands over walls, in the project's axes.
func (m *model) over(entity, kind string, items ...string) string {
	id := m.put("%s('l',$,'%s',$,$,%s,%s,$,.%s.)", entity, entity, m.at("", m.place()), m.body(items...), kind)
	m.contain(id)
	return id
}

// flat is a slab of 200 mm with its underside at 2800 mm, from -1 m to 9 m.
func (m *model) flat() string {
	return m.over("IFCSLAB", "FLOOR", m.block(-1000, -1000, 2800, 9000, 9000, 3000))
}

// prism adds a profile in the plane of x and z, drawn out from y0 to y1.
func (m *model) prism(y0, y1 float64, corners ...[]float64) string {
	return m.extrusion(m.place(0, y1, 0, 0, -1, 0, 1, 0, 0), y1-y0, corners...)
}

func heights(pairs ...float64) (all []plan.HeightAt) {
	for i := 0; i < len(pairs); i += 2 {
		all = append(all, plan.HeightAt{At: mm(pairs[i]), Height: mm(pairs[i+1])})
	}
	return all
}

// A wall of 100 mm along x, from 0 to 4 m, under what stands above it. All heights are
// reckoned by hand.
func TestTops(t *testing.T) {
	tests := []struct {
		name    string
		height  float64 // of the body
		above   func(m *model)
		want    []plan.HeightAt // a single one is a level top
		finding string
	}{
		{"up to the slab", 2800, func(m *model) { m.flat() }, heights(0, 2800), ""},
		{"a sliding joint below the slab", 2780, func(m *model) { m.flat() }, heights(0, 2800), "wall-soffit"},
		{"drawn through the slab", 3000, func(m *model) { m.flat() }, heights(0, 2800), "wall-soffit"},
		{"low", 2100, func(m *model) { m.flat() }, heights(0, 2100), "wall-below-soffit"},
		{"just too low to be meant to reach the slab", 2745, func(m *model) { m.flat() }, heights(0, 2745), "wall-below-soffit"},
		{"through the slab into the next storey", 5500, func(m *model) { m.flat() }, heights(0, 5500), ""},
		{"nothing above", 2700, func(*model) {}, heights(0, 2700), ""},
		{"slab with a finish on it and a board under it", 3100, func(m *model) {
			m.flat()
			m.over("IFCSLAB", "FLOOR", m.block(-1000, -1000, 3000, 9000, 9000, 3080))
			m.over("IFCSLAB", "FLOOR", m.block(-1000, -1000, 2785, 9000, 9000, 2800))
		}, heights(0, 2785), "wall-soffit"},
		{"a ceiling drawn as a slab", 2800, func(m *model) {
			m.flat()
			m.over("IFCSLAB", "FLOOR", m.block(-1000, -1000, 2400, 9000, 9000, 2415))
		}, heights(0, 2800), ""},
		{"a beam across", 2800, func(m *model) {
			m.flat()
			m.over("IFCBEAM", "BEAM", m.block(1850, -3000, 2400, 2150, 3000, 2800))
		}, heights(0, 2800, 1850, 2800, 1850, 2400, 2150, 2400, 2150, 2800, 4000, 2800), "wall-soffit"},
		{"a steel beam across, with a gap above", 2800, func(m *model) {
			m.flat()
			profile := m.put("IFCISHAPEPROFILEDEF(.AREA.,$,$,200.,300.,7.,11.,$)")
			m.over("IFCBEAMSTANDARDCASE", "BEAM", m.put("IFCEXTRUDEDAREASOLID(%s,%s,%s,4000.)", profile, m.place(1000, -2000, 2600, 0, 1, 0, 1, 0, 0), m.dir(0, 0, 1)))
		}, heights(0, 2800, 900, 2800, 900, 2450, 1100, 2450, 1100, 2800, 4000, 2800), "wall-soffit"},
		{"a beam along half of its thickness", 2800, func(m *model) {
			m.flat()
			m.over("IFCBEAM", "BEAM", m.block(3000, 20, 2500, 9000, 300, 2800))
		}, heights(0, 2800, 3000, 2800, 3000, 2500, 4000, 2500), "wall-soffit"},
		{"a beam beside it", 2800, func(m *model) {
			m.flat()
			m.over("IFCBEAM", "BEAM", m.block(0, 60, 2500, 9000, 300, 2800))
		}, heights(0, 2800), ""},
		{"a steel beam with thin flanges along it", 2800, func(m *model) { // seen beside its web
			m.flat()
			flanges := m.boolean("UNION", m.block(2000, -150, 2400, 9000, 150, 2412), m.block(2000, -150, 2688, 9000, 150, 2700))
			m.over("IFCBEAM", "BEAM", m.boolean("UNION", flanges, m.block(2000, 140, 2400, 9000, 150, 2700)))
		}, heights(0, 2800, 2000, 2800, 2000, 2400, 4000, 2400), "wall-soffit"},
		{"planks with cores", 3000, func(m *model) {
			m.over("IFCSLAB", "FLOOR", m.boolean("DIFFERENCE", m.block(-1000, -1000, 2800, 9000, 9000, 3020), m.block(500, -1000, 2840, 1700, 9000, 2980)))
		}, heights(0, 2800), "wall-soffit"},
		{"joists across, under boards", 2800, func(m *model) {
			m.over("IFCSLAB", "FLOOR", m.block(-1000, -1000, 2800, 9000, 9000, 2822))
			for i := range 12 {
				m.over("IFCBEAM", "JOIST", m.block(float64(i)*400-20, -2000, 2580, float64(i)*400+25, 2000, 2800))
			}
		}, heights(0, 2580), "wall-soffit"},
		{"a tie beam far below the roof", 4500, func(m *model) {
			m.over("IFCSLAB", "ROOF", m.block(-1000, -1000, 4500, 9000, 9000, 4700))
			m.over("IFCBEAM", "BEAM", m.block(1850, -3000, 2400, 2150, 3000, 2600))
		}, heights(0, 4500), ""},
		{"a sloping slab", 4000, func(m *model) { // from 3 m at 0 to 2 m at 4 m
			m.over("IFCSLAB", "ROOF", m.prism(-1000, 1000, []float64{0, 3000}, []float64{4000, 2000}, []float64{4000, 2200}, []float64{0, 3200}))
		}, heights(0, 3000, 4000, 2000), "wall-soffit"},
		{"a roof down to a knee wall", 3500, func(m *model) { // from 600 mm at 0 to 3.4 m at 4 m, by its faces
			p := func(y float64) [][]float64 {
				return [][]float64{{0, y, 600}, {4000, y, 3400}, {4000, y, 3700}, {0, y, 900}}
			}
			near, far := p(-1000), p(1000)
			var faces [][][]float64
			for i := range near {
				j := (i + 1) % len(near)
				faces = append(faces, [][]float64{near[i], near[j], far[j], far[i]})
			}
			m.over("IFCROOF", "SHED_ROOF", m.brep(append(faces, near, far)...))
		}, heights(0, 600, 4000, 3400), "wall-soffit"},
		{"a wall lower than a rising roof", 3000, func(m *model) { // from 2.5 m at 0 to 4.5 m at 4 m: they cross at 1 m
			m.over("IFCSLAB", "ROOF", m.prism(-1000, 1000, []float64{0, 2500}, []float64{4000, 4500}, []float64{4000, 4700}, []float64{0, 2700}))
		}, heights(0, 2500, 1000, 3000, 4000, 3000), "wall-soffit, wall-below-soffit"},
		{"two slabs, a step", 2900, func(m *model) {
			m.over("IFCSLAB", "FLOOR", m.block(-1000, -1000, 2800, 1500, 9000, 3000))
			m.over("IFCSLAB", "FLOOR", m.block(1500, -1000, 2600, 9000, 9000, 2800))
		}, heights(0, 2800, 1500, 2800, 1500, 2600, 4000, 2600), "wall-soffit"},
		{"slabs on either side of a wall of 200 mm", 3000, func(m *model) {
			m.over("IFCSLAB", "FLOOR", m.block(-1000, -1000, 2800, 1500, 9000, 3000))
			m.over("IFCSLAB", "FLOOR", m.block(1700, -1000, 2800, 9000, 9000, 3000))
		}, heights(0, 2800), "wall-soffit"},
		{"up through a stairwell", 5600, func(m *model) {
			slab := m.flat()
			m.opening(slab, m.block(2000, -2000, 2700, 9500, 2000, 3100))
		}, heights(0, 5600), ""},
		{"drawn through the slab beside a stairwell", 3000, func(m *model) {
			slab := m.flat()
			m.opening(slab, m.block(2000, -2000, 2700, 9500, 2000, 3100))
		}, heights(0, 2800, 2000, 2800, 2000, 3000, 4000, 3000), "wall-soffit"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			m := newModel("mm")
			m.floorAt("Ground floor", 0)
			m.plain(m.place(), 4000, test.height)
			test.above(m)
			p, _, found := read(t, m)
			w := only(t, p, found)
			got := w.Heights
			if got == nil {
				got = []plan.HeightAt{{Height: w.Height}}
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("%s\n%v", diff, found)
			}
			if test.name == "up to the slab" && has(found, "clear-height", "") {
				t.Errorf("the clear height is said to be unknown: %v", found)
			}
			for _, code := range []string{"wall-soffit", "wall-below-soffit"} {
				if has(found, code, "L1-01") != strings.Contains(test.finding, code) {
					t.Errorf("finding %s: %v\n%v", code, has(found, code, "L1-01"), found)
				}
			}
		})
	}
}

// A wall of which only the axis is drawn is as high as the soffit, sloping or not; a
// curved one follows it, too.
func TestTopsOfOtherWalls(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	m.over("IFCSLAB", "ROOF", m.prism(-1000, 1000, []float64{-500, 3125}, []float64{4500, 1875}, []float64{4500, 2200}, []float64{-500, 3400}))
	w := m.wall(m.place(), m.shape(m.polyline([]float64{0, 0}, []float64{4000, 0})))
	m.layers(w, "POSITIVE", -50, partition...)
	p, _, found := read(t, m)
	if diff := cmp.Diff(heights(0, 3000, 4000, 2000), only(t, p, found).Heights); diff != "" {
		t.Errorf("%s\n%v", diff, found)
	}

	m = newModel("mm")
	m.floorAt("Ground floor", 0)
	m.flat()
	m.over("IFCBEAM", "BEAM", m.block(-1000, 4000-2500, 2500, 9000, 4000, 2800)) // over the arc from the height of its centre to 30 degrees
	w = m.wall(m.place(), m.shape(m.arc(1000, 1500, 5000, 0, 80, "T"), m.upright(m.sector(1000, 1500, 4950, 5050, 0, 80), 0, 2900)))
	m.layers(w, "POSITIVE", -50, partition...)
	p, _, found = read(t, m)
	got := only(t, p, found).Heights
	if len(got) != 4 {
		t.Fatalf("%v\n%v", got, found)
	}
	// At v = ±45 mm from the axis the beam's edge is crossed at slightly different angles: the inner face decides.
	step := 5000 * math.Asin(2500.0/4955)
	for i, want := range []float64{0, step, step, 5000 * math.Pi * 80 / 180} {
		if math.Abs(got[i].At.MM()-want) > 1 {
			t.Errorf("point %d at %s, want %.1f", i, got[i].At, want)
		}
	}
	near(t, "under the beam", got[1].Height, 2500)
	near(t, "under the slab", got[2].Height, 2800)
}

// Suspended ceilings stop no wall, and are told of.
func TestCeilings(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	m.plain(m.place(), 4000, 2800)
	m.plain(m.place(0, 5000, 0), 4000, 2400)
	m.over("IFCCOVERING", "CEILING", m.block(0, 50, 2400, 4000, 4950, 2420))
	p, _, found := read(t, m)
	near(t, "wall past the ceiling", p.Walls[0].Height, 2800)
	near(t, "wall up to the ceiling", p.Walls[1].Height, 2400)
	told := false
	for _, f := range found {
		told = told || f.Code == "wall-past-ceiling" && strings.HasPrefix(f.What.String(), "1 partition rises past suspended ceilings, the lowest 2400 mm")
	}
	if !told {
		t.Error(found)
	}
}
