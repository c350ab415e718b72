package sheets_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/drawing"
	"nogging/internal/drawing/sheets"
	"nogging/internal/drawing/svg"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

var update = flag.Bool("update", false, "write the golden files anew; look at them as pictures before committing them")

// TestGolden compares drawings of a wall and a level made by hand, so that they
// change only when the drawing does.
func TestGolden(t *testing.T) {
	in := sheets.Input{
		Plan: &plan.Plan{
			Project: plan.Project{Name: "Harbour clinic", Number: "2704", Revision: "A"},
			Levels:  []plan.Level{{ID: "L1", Name: "Level 1", ClearHeight: 2500 * mm}},
			Structure: []plan.Structure{{ID: "S-01", Level: "L1", Thickness: 200 * mm,
				Line: []plan.Pt{{X: -100 * mm, Y: -1000 * mm}, {X: -100 * mm, Y: 1500 * mm}}}},
			Rooms: []plan.Room{{ID: "R-1", Level: "L1", Name: "Store", Outline: []plan.Pt{{}, {X: 1800 * mm}, {X: 1800 * mm, Y: 1500 * mm}, {Y: 1500 * mm}}}},
		},
		Catalogue: &catalogue.Catalogue{
			Boards: []catalogue.Board{{ID: "BOARD", Name: "Gypsum board 12.5 mm", Thickness: 12_500_000, Width: 1200 * mm, Mass: 8.5}},
		},
		Layout: &layout.Project{Walls: []*layout.Wall{
			doorWall(),
			bareWall("L1-02", geom.Segment{A: geom.Pt(1700*mm, 50*mm), B: geom.Pt(2300*mm, 1400*mm)}),
		}},
	}
	set := sheets.New(in)
	var list []*drawing.Scene
	list = append(list, set.Wall(in.Layout.Walls[0])...)
	list = append(list, set.Level("L1")...)
	checkSheets(t, list)
	for _, s := range list {
		compare(t, s.Name+".svg", svg.Append(nil, s))
	}
}

func compare(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Equal(got, want) {
		return
	}
	a, b := bytes.Split(got, []byte("\n")), bytes.Split(want, []byte("\n"))
	for i := range min(len(a), len(b)) {
		if !bytes.Equal(a[i], b[i]) {
			t.Fatalf("%s:%d: %s\nwant %s", file, i+1, a[i], b[i])
		}
	}
	t.Fatalf("%s has %d lines, want %d", file, len(a), len(b))
}

// doorWall is a wall of 2.40 m by 2.50 m with a door of 885 mm by 2010 mm, put
// together by hand: a stud at each end and beside the door, two boards a face.
func doorWall() *layout.Wall {
	w := bareWall("L1-01", geom.Segment{A: geom.Pt(0, 0), B: geom.Pt(2400*mm, 0)})
	w.Top = layout.Profile{geom.Pt(0, 2500*mm), geom.Pt(2400*mm, 2500*mm)}
	w.Head.Kind = plan.HeadRigid
	w.Openings = []layout.Opening{{ID: "L1-01/1", Kind: plan.Door, U: geom.Interval{From: 700 * mm, To: 1585 * mm}, Head: 2010 * mm}}
	level := func(role layout.Role, n int, product string, from, to, z layout.Length) {
		w.Members = append(w.Members, layout.Member{Role: role, Number: n, Product: product, Width: 40 * mm,
			From: geom.Pt(from*mm, z*mm), To: geom.Pt(to*mm, z*mm), Cut: (to - from) * mm})
	}
	stand := func(role layout.Role, n int, at, foot, head layout.Length) {
		w.Members = append(w.Members, layout.Member{Role: role, Number: n, Product: "CW75", Width: 50 * mm, Boxed: role == layout.OpeningStud,
			From: geom.Pt(at*mm, foot*mm), To: geom.Pt(at*mm, head*mm), Cut: (head - foot) * mm})
	}
	level(layout.FloorTrack, 1, "UW75", 0, 700, 0)
	level(layout.FloorTrack, 2, "UW75", 1585, 2400, 0)
	level(layout.SoffitTrack, 1, "UW75", 0, 2400, 2500)
	level(layout.Header, 1, "UW75", 700, 1585, 2010)
	stand(layout.EndStud, 1, 25, 0, 2485)
	stand(layout.OpeningStud, 1, 675, 0, 2485)
	stand(layout.OpeningStud, 2, 675, 0, 2485)
	stand(layout.Cripple, 1, 1200, 2010, 2485)
	stand(layout.OpeningStud, 3, 1610, 0, 2485)
	stand(layout.OpeningStud, 4, 1610, 0, 2485)
	stand(layout.EndStud, 2, 2375, 0, 2485)
	for _, f := range []plan.Face{plan.FaceA, plan.FaceB} {
		w.Faces = append(w.Faces, layout.FaceLayout{Face: f, Layers: []layout.Layer{boardLayer()}})
		w.Joints = append(w.Joints, layout.Joint{Kind: layout.MixedJoint, Face: f, From: geom.Pt(1200*mm, 2010*mm), To: geom.Pt(1200*mm, 2495*mm)})
		w.Screws = append(w.Screws, layout.ScrewRow{Screw: "SCREW", Face: f, From: geom.Pt(25*mm, 25*mm), To: geom.Pt(25*mm, 2480*mm), Count: 11})
	}
	return w
}

// boardLayer is two pieces notched round the door.
func boardLayer() layout.Layer {
	pt := func(x, y layout.Length) geom.Point { return geom.Pt(x*mm, y*mm) }
	return layout.Layer{Board: "BOARD", Extent: geom.Interval{To: 2400 * mm}, Bottom: 10 * mm,
		Top: layout.Profile{pt(0, 2495), pt(2400, 2495)},
		Pieces: []layout.Piece{
			{Number: 1, Board: "BOARD", Width: 1200 * mm, Height: 2485 * mm,
				Outline: geom.Polygon{pt(0, 10), pt(700, 10), pt(700, 2010), pt(1200, 2010), pt(1200, 2495), pt(0, 2495)}},
			{Number: 2, Board: "BOARD", Width: 1200 * mm, Height: 2485 * mm,
				Outline: geom.Polygon{pt(1585, 10), pt(2400, 10), pt(2400, 2495), pt(1200, 2495), pt(1200, 2010), pt(1585, 2010)}},
		}}
}
