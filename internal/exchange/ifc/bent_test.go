package ifc_test

import (
	"math"
	"testing"

	"nogging/internal/plan"
)

// A wall along two sides of a room, with a door in the second side, is two walls
// that meet in their middle. Figures by hand.
func TestBentWall(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	body := m.extrusion(m.place(), 2500, []float64{0, -50}, []float64{3050, -50}, []float64{3050, 2000}, []float64{2950, 2000}, []float64{2950, 50}, []float64{0, 50})
	w := m.wall(m.place(), m.shape(m.polyline([]float64{0, 0}, []float64{3000, 0}, []float64{3000, 2000}), body))
	m.layers(w, "POSITIVE", -50, partition...)
	m.door(m.opening(w, m.block(2900, 500, 0, 3100, 1400, 2100)), 900, 2100)
	p, stats, found := read(t, m)
	if len(p.Walls) != 2 || stats.Walls != 1 || stats.Types[0].Walls != 1 || stats.Types[0].Axis != mm(5000) {
		t.Fatalf("%+v\n%v", stats, found)
	}
	line(t, &p.Walls[0], 0, 0, 3000, 0)
	line(t, &p.Walls[1], 3000, 0, 3000, 2000)
	for _, w := range p.Walls {
		near(t, "thickness", w.Thickness, 100)
		near(t, "height", w.Height, 2500)
	}
	if o := p.Walls[1].Openings; len(p.Walls[0].Openings) != 0 || len(o) != 1 || o[0].Kind != plan.Door || o[0].At != mm(500) || o[0].Width != mm(900) {
		t.Errorf("openings %v and %v", p.Walls[0].Openings, o)
	}
	if !has(found, "wall-bent", "L1-01") || has(found, "wall-unread", "") {
		t.Error(found)
	}
}

// The axis runs along the right faces of three sides: the middle lines lie 50 mm to the
// left and meet there. Both outer sides are seen from the middle one.
func TestBentAlongFace(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	body := m.extrusion(m.place(), 2500, []float64{0, 0}, []float64{3000, 0}, []float64{3000, 400}, []float64{0, 400}, []float64{0, 300}, []float64{2900, 300}, []float64{2900, 100}, []float64{0, 100})
	axis := m.polyline([]float64{0, 0}, []float64{3000, 0}, []float64{3000, 400}, []float64{0, 400})
	m.layers(m.wall(m.place(), m.shape(axis, body)), "POSITIVE", 0, partition...)
	p, _, found := read(t, m)
	if len(p.Walls) != 3 {
		t.Fatal(found)
	}
	line(t, &p.Walls[0], 0, 50, 2950, 50)
	line(t, &p.Walls[1], 2950, 50, 2950, 350)
	line(t, &p.Walls[2], 2950, 350, 0, 350)
}

// A line, a quarter of a circle and a line make three walls, one of them curved.
func TestLineAndArc(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	list := m.put("IFCCARTESIANPOINTLIST2D(((0.,0.),(3000.,0.),(%s),(4000.,1000.),(4000.,3000.)))", reals(polar(3000, 1000, 1000, -45)))
	curve := m.put("IFCINDEXEDPOLYCURVE(%s,(IFCLINEINDEX((1,2)),IFCARCINDEX((2,3,4)),IFCLINEINDEX((4,5))),$)", list)
	body := m.upright(m.put("IFCCENTERLINEPROFILEDEF(.AREA.,$,%s,100.)", curve), 0, 2500)
	m.layers(m.wall(m.place(), m.shape(curve, body)), "POSITIVE", -50, partition...)
	p, _, found := read(t, m)
	if len(p.Walls) != 3 {
		t.Fatal(found)
	}
	line(t, &p.Walls[0], 0, 0, 3000, 0)
	for i, end := range []plan.Pt{{X: mm(3000)}, {X: mm(4000), Y: mm(1000)}} {
		if off := far(p.Walls[1].Line[i], end); off > 0.05 { // its faces are chords
			t.Errorf("end %d of the arc lies %v mm off", i, off)
		}
	}
	line(t, &p.Walls[2], 4000, 1000, 4000, 3000)
	onRing(t, &p.Walls[1], 3000, 1000, 1000)
	if l := p.Walls[1].Length().MM() - 500*math.Pi; math.Abs(l) > 0.05 {
		t.Errorf("the arc is %v mm longer", l)
	}
	for _, w := range p.Walls {
		near(t, w.ID+" height", w.Height, 2500)
		near(t, w.ID+" thickness", w.Thickness, 100)
	}
}

// A room with walls all round, drawn as one along a closed line: four walls.
func TestClosedWall(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	axis := m.polyline([]float64{0, 0}, []float64{3000, 0}, []float64{3000, 2000}, []float64{0, 2000}, []float64{0, 0})
	body := m.upright(m.put("IFCCENTERLINEPROFILEDEF(.AREA.,$,%s,100.)", axis), 0, 2500)
	m.layers(m.wall(m.place(), m.shape(axis, body)), "POSITIVE", -50, partition...)
	p, stats, found := read(t, m)
	if len(p.Walls) != 4 || stats.Walls != 1 {
		t.Fatal(found)
	}
	line(t, &p.Walls[0], 0, 0, 3000, 0)
	line(t, &p.Walls[1], 3000, 0, 3000, 2000)
	line(t, &p.Walls[2], 3000, 2000, 0, 2000)
	line(t, &p.Walls[3], 0, 2000, 0, 0)
	for _, w := range p.Walls {
		near(t, w.ID+" thickness", w.Thickness, 100)
	}
}

// A circle as an axis is two walls, each half of it.
func TestRoundRoom(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	circle := m.put("IFCCIRCLE(%s,3000.)", m.put("IFCAXIS2PLACEMENT2D(%s,$)", m.pt(500, 600)))
	profile := m.put("IFCCIRCLEHOLLOWPROFILEDEF(.AREA.,$,%s,3050.,100.)", m.put("IFCAXIS2PLACEMENT2D(%s,$)", m.pt(500, 600)))
	m.layers(m.wall(m.place(), m.shape(circle, m.upright(profile, 0, 2500))), "POSITIVE", -50, partition...)
	p, stats, found := read(t, m)
	if len(p.Walls) != 2 || stats.Walls != 1 {
		t.Fatal(found)
	}
	for _, w := range p.Walls {
		onRing(t, &w, 500, 600, 3000)
		near(t, w.ID+" height", w.Height, 2500)
		if l := w.Length().MM() - 3000*math.Pi; math.Abs(l) > 0.1 {
			t.Errorf("%s is %v mm longer", w.ID, l)
		}
	}
}

// Without an axis, a wall round two corners is found in its footprint; one side runs on
// past a point that is no corner.
func TestBentWithoutAxis(t *testing.T) {
	m := newModel("mm")
	m.floorAt("Ground floor", 0)
	body := m.extrusion(m.place(), 2500, []float64{0, 0}, []float64{1000, 0}, []float64{3000, 0}, []float64{3000, 2000}, []float64{1000, 2000}, []float64{1000, 1900}, []float64{2900, 1900}, []float64{2900, 100}, []float64{0, 100})
	m.layers(m.wall(m.place(500, 0, 0), m.body(body)), "POSITIVE", 0, partition...)
	p, stats, found := read(t, m)
	if len(p.Walls) != 3 || stats.Walls != 1 {
		t.Fatal(found)
	}
	at := func(w plan.Wall) [4]float64 {
		return [4]float64{w.Line[0].X.MM(), w.Line[0].Y.MM(), w.Line[1].X.MM(), w.Line[1].Y.MM()}
	}
	want := [][4]float64{{500, 50, 3450, 50}, {3450, 50, 3450, 1950}, {3450, 1950, 1500, 1950}}
	back := [][4]float64{{1500, 1950, 3450, 1950}, {3450, 1950, 3450, 50}, {3450, 50, 500, 50}}
	for i, w := range p.Walls {
		if at(w) != want[i] && at(w) != back[i] {
			t.Errorf("%s at %v", w.ID, at(w))
		}
		near(t, "thickness", w.Thickness, 100)
		near(t, "height", w.Height, 2500)
	}
}
