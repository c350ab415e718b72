package plan

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/geom"
	"nogging/internal/quantity"
)

// floorOf draws walls given by the ends of their lines in metres, each 100 mm thick.
func floorOf(lines ...[4]float64) *Plan {
	p := &Plan{Version: 1, Levels: []Level{{ID: "L1", ClearHeight: 2500 * quantity.Millimetre}}}
	for i, l := range lines {
		p.Walls = append(p.Walls, Wall{ID: string(rune('a' + i)), Level: "L1", Line: []Pt{
			{quantity.Metres(l[0]), quantity.Metres(l[1])}, {quantity.Metres(l[2]), quantity.Metres(l[3])}}})
	}
	return p
}

func tenth(*Wall) Length { return 100 * quantity.Millimetre }

func found(t interface{ Fatal(...any) }, p *Plan) (*Plan, []Change) {
	changes := p.FindRooms("L1", tenth)
	next, _, refused := p.Apply(changes)
	if refused != nil {
		t.Fatal(refused)
	}
	return next, changes
}

// Areas by hand: between the faces of walls 0.1 m thick.
func TestFindRooms(t *testing.T) {
	house := [][4]float64{{0, 0, 6, 0}, {6, 0, 6, 4}, {6, 4, 0, 4}, {0, 4, 0, 0}}
	for _, test := range []struct {
		name  string
		plan  func() *Plan
		areas []float64 // from below upwards, from left to right
	}{
		{"one", func() *Plan { return floorOf(house...) }, []float64{5.9 * 3.9}},
		{"two", func() *Plan { return floorOf(append(house, [4]float64{2, 0.1, 2, 3.9})...) }, []float64{1.9 * 3.9, 3.9 * 3.9}},
		{"lines on face A", func() *Plan { // the left faces, which look inwards
			p := floorOf(house...)
			for i := range p.Walls {
				p.Walls[i].Justify = OnFaceA
			}
			return p
		}, []float64{24}},
		{"lines on face B", func() *Plan {
			p := floorOf(house...)
			for i := range p.Walls {
				p.Walls[i].Justify = OnFaceB
			}
			return p
		}, []float64{5.8 * 3.8}},
		{"a column in the corner", func() *Plan {
			p := floorOf(house...)
			m := quantity.Metre
			p.Structure = []Structure{{ID: "c", Level: "L1", Outline: []Pt{{-m / 2, -m / 2}, {m / 2, -m / 2}, {m / 2, m / 2}, {-m / 2, m / 2}}}}
			return p
		}, []float64{5.9*3.9 - 0.45*0.45}},
		{"a shaft and a gap between walls are no rooms", func() *Plan {
			return floorOf(append(house, [4]float64{5.75, 0, 5.75, 4}, [4]float64{0, 0.6, 0.6, 0.6}, [4]float64{0.6, 0, 0.6, 0.6})...)
		}, []float64{5.65*3.9 - 0.6*0.6}},
		{"another level", func() *Plan {
			p := floorOf(house...)
			p.Walls[0].Level = "L2"
			return p
		}, nil},
		{"a wall in two parts, not in one line", func() *Plan {
			return floorOf([4]float64{0, 0, 3, 0}, [4]float64{3, 0.02, 6, 0.02}, [4]float64{6, 0.02, 6, 4}, [4]float64{6, 4, 0, 4}, [4]float64{0, 4, 0, 0})
		}, []float64{5.9*3.9 - 0.02*2.95}},
	} {
		t.Run(test.name, func(t *testing.T) {
			p, _ := found(t, test.plan())
			if len(p.Rooms) != len(test.areas) {
				t.Fatalf("%d rooms: %+v", len(p.Rooms), p.Rooms)
			}
			for i := range p.Rooms {
				if got := p.Rooms[i].Area().SquareMetres(); math.Abs(got-test.areas[i]) > 0.005 || !p.Rooms[i].Found {
					t.Errorf("room %d: %.4f m², not %.4f", i, got, test.areas[i])
				}
			}
			for _, f := range p.Validate() {
				if f.Code == "room-crosses-itself" || f.Code == "room-not-closed" {
					t.Error(f)
				}
			}
		})
	}
}

// Found rooms follow the walls under their own ids, drawn ones stay, and those that
// nothing encloses any more go unless they have a name.
func TestFoundRoomsFollow(t *testing.T) {
	p, _ := found(t, floorOf([4]float64{0, 0, 6, 0}, [4]float64{6, 0, 6, 4}, [4]float64{6, 4, 0, 4}, [4]float64{0, 4, 0, 0}, [4]float64{2, 0, 2, 4}))
	if again := p.FindRooms("L1", tenth); len(again) > 0 {
		t.Fatalf("what was found is found again: %v", again)
	}
	p.Rooms[1].Name = "Ward"
	p.Walls[4].Line = []Pt{{3 * quantity.Metre, 0}, {3 * quantity.Metre, 4 * quantity.Metre}}
	moved, changes := found(t, p)
	if len(changes) != 2 || moved.Rooms[1].Name != "Ward" || math.Abs(moved.Rooms[1].Area().SquareMetres()-2.9*3.9) > 0.005 {
		t.Errorf("%+v", moved.Rooms)
	}
	open := *moved
	open.Walls = open.Walls[:4]
	one, _ := found(t, &open)
	if len(one.Rooms) != 1 || one.Rooms[0].ID != moved.Rooms[0].ID && one.Rooms[0].Name != "Ward" {
		if !slices.ContainsFunc(one.Rooms, func(r Room) bool { return r.Name == "Ward" }) {
			t.Errorf("the named room is gone: %+v", one.Rooms)
		}
	}
	p.Rooms = []Room{{ID: "mine", Level: "L1", Outline: []Pt{{0, 0}, {quantity.Metre, 0}, {0, quantity.Metre}}}}
	if _, changes := found(t, p); len(changes) != 1 || changes[0].ID == "mine" {
		t.Errorf("%+v", changes)
	}
	p.Rooms = append(p.Rooms, Room{ID: "L1-R09", Level: "L1", Outline: []Pt{{50 * quantity.Metre, 0}, {51 * quantity.Metre, 0}, {51 * quantity.Metre, quantity.Metre}}, Found: true})
	named := p.Rooms[len(p.Rooms)-1]
	named.ID, named.Name = "L1-R10", "Yard"
	p.Rooms = append(p.Rooms, named)
	next, _ := found(t, p)
	if !slices.ContainsFunc(next.Rooms, func(r Room) bool { return r.Name == "Yard" }) {
		t.Error("a named room is gone")
	}
	if slices.ContainsFunc(next.Rooms, func(r Room) bool { return r.ID == "L1-R09" }) {
		t.Error("a found room stays without walls")
	}
}

// The rooms that are found lie at the walls that enclose them, and no two in one place.
func TestFoundRoomsAreBesideTheirWalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var lines [][4]float64
		xs, ys := []float64{0}, []float64{0}
		for range rapid.IntRange(1, 4).Draw(t, "columns") {
			xs = append(xs, xs[len(xs)-1]+float64(rapid.IntRange(8, 80).Draw(t, "width"))/10)
		}
		for range rapid.IntRange(1, 4).Draw(t, "rows") {
			ys = append(ys, ys[len(ys)-1]+float64(rapid.IntRange(8, 80).Draw(t, "depth"))/10)
		}
		right, top := xs[len(xs)-1], ys[len(ys)-1]
		for _, x := range xs {
			lines = append(lines, [4]float64{x, 0, x, top})
		}
		for _, y := range ys {
			lines = append(lines, [4]float64{0, y, right, y})
		}
		p, _ := found(t, floorOf(lines...))
		want := 0.0
		rooms := 0
		for i := 1; i < len(xs); i++ {
			for k := 1; k < len(ys); k++ {
				if area := (xs[i] - xs[i-1] - 0.1) * (ys[k] - ys[k-1] - 0.1); area >= 0.5 {
					want += area
					rooms++
				}
			}
		}
		sum := 0.0
		for i := range p.Rooms {
			sum += p.Rooms[i].Area().SquareMetres()
		}
		if len(p.Rooms) != rooms || math.Abs(sum-want) > 0.01*float64(rooms+1) {
			t.Fatalf("%d rooms of %.3f m², not %d of %.3f", len(p.Rooms), sum, rooms, want)
		}
		for i := range p.Walls {
			for _, s := range p.RoomsBeside(&p.Walls[i]) {
				for side, r := range s.Rooms {
					if r == nil {
						continue
					}
					f := geom.FrameOf(geom.Segment{A: geom.Point(p.Walls[i].Line[0]), B: geom.Point(p.Walls[i].Line[1])})
					v := Length(60 * quantity.Millimetre)
					if side == 1 {
						v = -v
					}
					if !polygon(r.Outline).Contains(f.Global((s.From+s.To)/2, v)) {
						t.Fatalf("%s is not beside wall %s", r.ID, p.Walls[i].ID)
					}
				}
			}
		}
	})
}

func TestRoomPairs(t *testing.T) {
	p, _ := found(t, floorOf([4]float64{0, 0, 6, 0}, [4]float64{6, 0, 6, 4}, [4]float64{6, 4, 0, 4}, [4]float64{0, 4, 0, 0}, [4]float64{2, 0, 2, 4}, [4]float64{2, 2, 6, 2}))
	p.Walls[3].Line[0], p.Walls[3].Line[1] = p.Walls[3].Line[1], p.Walls[3].Line[0]
	for i, use := range []string{"corridor", "bedroom", "bedroom"} {
		p.Rooms[i].Use = use
	}
	pairs := p.RoomPairs()
	at := func(a, b string) *RoomPair {
		for i := range pairs {
			if pairs[i].Rooms == [2]string{a, b} {
				return &pairs[i]
			}
		}
		return nil
	}
	r := []string{p.Rooms[0].ID, p.Rooms[1].ID, p.Rooms[2].ID}
	for _, test := range []struct {
		a, b  string
		walls []string
		area  float64 // m², 2.5 m high
	}{{r[0], r[1], []string{"e"}, 1.9 * 2.5}, {r[0], r[2], []string{"e"}, 1.9 * 2.5}, {r[1], r[2], []string{"f"}, 3.9 * 2.5}, {r[0], "", []string{"a", "c", "d"}, (1.9 + 1.9 + 3.9) * 2.5}} {
		x := at(test.a, test.b)
		if x == nil || !slices.Equal(x.Walls, test.walls) || math.Abs(x.Area-test.area) > 0.3 {
			t.Errorf("%s and %s: %+v", test.a, test.b, x)
		}
	}
	if x := at(r[0], r[1]); x != nil && x.Uses != [2]string{"corridor", "bedroom"} {
		t.Error(x.Uses)
	}
	if data, _ := json.Marshal(pairs); !bytes.Contains(data, []byte(`"uses"`)) {
		t.Error(string(data))
	}
}
