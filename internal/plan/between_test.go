package plan

import (
	"encoding/json"
	"math"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/geom"
	"nogging/internal/quantity"
)

// rooms draws rooms by their lower left and upper right corners in metres.
func rooms(boxes ...[4]float64) *Plan {
	p := &Plan{Version: 1, Levels: []Level{{ID: "L1", ClearHeight: 2500 * quantity.Millimetre}}}
	for i, b := range boxes {
		x0, y0, x1, y1 := quantity.Metres(b[0]), quantity.Metres(b[1]), quantity.Metres(b[2]), quantity.Metres(b[3])
		p.Rooms = append(p.Rooms, Room{ID: string(rune('a' + i)), Level: "L1", Outline: []Pt{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}})
	}
	return p
}

func walled(t interface{ Fatal(...any) }, p *Plan) *Plan {
	next, _, refused := p.Apply(p.WallsBetween("L1"))
	if refused != nil {
		t.Fatal(refused)
	}
	return next
}

// Lengths by hand, to the lines that walls meet.
func TestWallsBetween(t *testing.T) {
	for _, test := range []struct {
		name    string
		plan    *Plan
		lengths []float64 // m, in the order found
	}{
		{"two rooms", rooms([4]float64{0, 0, 3, 4}, [4]float64{3.1, 0, 6, 4}), []float64{4}},
		{"too far apart", rooms([4]float64{0, 0, 3, 4}, [4]float64{3.6, 0, 6, 4}), nil},
		{"on each other", rooms([4]float64{0, 0, 3, 4}, [4]float64{3, 0, 6, 4}), nil},
		{"back to back only for a while", rooms([4]float64{0, 0, 3, 4}, [4]float64{3.1, 3, 6, 7}), []float64{1}},
		{"along a corridor it is one wall, and others end at it", rooms([4]float64{0, 0, 6.1, 2}, [4]float64{0, 2.1, 3, 5}, [4]float64{3.1, 2.1, 6.1, 5}), []float64{6.1, 2.9 + 0.05}},
		{"four rooms", rooms([4]float64{0, 0, 3, 3}, [4]float64{3.1, 0, 6.1, 3}, [4]float64{0, 3.1, 3, 6.1}, [4]float64{3.1, 3.1, 6.1, 6.1}), []float64{3.05, 3.05, 3.05, 3.05}},
	} {
		t.Run(test.name, func(t *testing.T) {
			p := walled(t, test.plan)
			if len(p.Walls) != len(test.lengths) {
				t.Fatalf("%d walls: %+v", len(p.Walls), p.Walls)
			}
			for i := range p.Walls {
				if got := p.Walls[i].Length().Metres(); math.Abs(got-test.lengths[i]) > 0.001 || p.Walls[i].Thickness != 100*quantity.Millimetre {
					t.Errorf("wall %d: %.3f m, %s mm thick; not %.3f m", i, got, p.Walls[i].Thickness, test.lengths[i])
				}
			}
			if again := p.WallsBetween("L1"); len(again) > 0 {
				t.Errorf("found again: %v", again)
			}
		})
	}
	p := rooms([4]float64{0, 0, 3, 4}, [4]float64{3.2, 0, 6, 4})
	p.Structure = []Structure{{ID: "s", Level: "L1", Line: []Pt{{quantity.Metres(3.1), 0}, {quantity.Metres(3.1), 4 * quantity.Metre}}, Thickness: 200 * quantity.Millimetre}}
	if changes := p.WallsBetween("L1"); len(changes) > 0 {
		t.Errorf("a partition in a structural wall: %v", changes)
	}
	p = rooms([4]float64{0, 0, 3, 4}, [4]float64{3.1, 0, 6, 4})
	p.Walls = []Wall{{ID: "L1-07", Level: "L2", Line: []Pt{{0, 0}, {1, 1}}}}
	if changes := p.WallsBetween("L1"); len(changes) != 1 || changes[0].ID != "L1-08" {
		t.Errorf("%v", changes)
	}
}

// The rooms that are found again between the walls found from rooms are those rooms.
func TestWallsAndRoomsFindEachOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// a row of rooms between two corridors, with structure around them all
		const deep = 4.0
		x, boxes := 0.0, [][4]float64{}
		for range rapid.IntRange(1, 6).Draw(t, "rooms") {
			w := float64(rapid.IntRange(10, 60).Draw(t, "width")) / 10
			boxes = append(boxes, [4]float64{x, 2.1, x + w, 2.1 + deep})
			x += w + 0.1
		}
		boxes = append(boxes, [4]float64{0, 0, x - 0.1, 2}, [4]float64{0, 2.2 + deep, x - 0.1, 4.2 + deep})
		p := rooms(boxes...)
		m := quantity.Metres
		corners := []Pt{{0, 0}, {m(x - 0.1), 0}, {m(x - 0.1), m(4.2 + deep)}, {0, m(4.2 + deep)}}
		for i, a := range corners {
			b := corners[(i+1)%4]
			f := geom.FrameOf(geom.Segment{A: geom.Point(a), B: geom.Point(b)})
			l := geom.Point(a).Dist(geom.Point(b))
			shell := Structure{ID: string(rune('A' + i)), Level: "L1", Line: []Pt{Pt(f.Global(-200*quantity.Millimetre, -100*quantity.Millimetre)), Pt(f.Global(l+200*quantity.Millimetre, -100*quantity.Millimetre))}, Thickness: 200 * quantity.Millimetre}
			p.Structure = append(p.Structure, shell)
		}
		p = walled(t, p)
		bare := *p
		bare.Rooms = nil
		again, _ := found(t, &bare)
		if len(again.Rooms) != len(p.Rooms) {
			text, _ := json.Marshal(again)
			t.Fatalf("%d rooms of %d: %s", len(again.Rooms), len(p.Rooms), text)
		}
		for i := range p.Rooms {
			at, _ := within(polygon(p.Rooms[i].Outline))
			ok := false
			for k := range again.Rooms {
				r := &again.Rooms[k]
				ok = ok || polygon(r.Outline).Contains(at) && math.Abs(r.Area().SquareMetres()-p.Rooms[i].Area().SquareMetres()) < 0.02
			}
			if !ok {
				t.Fatalf("%s is not found again: %+v", p.Rooms[i].ID, again.Rooms)
			}
		}
	})
}
