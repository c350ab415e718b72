package plan

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/quantity"
)

func room(id string, x0, y0, x1, y1 float64) Room {
	pt := func(x, y float64) Pt { return Pt{quantity.Metres(x), quantity.Metres(y)} }
	return Room{ID: id, Level: "L1", Outline: []Pt{pt(x0, y0), pt(x1, y0), pt(x1, y1), pt(x0, y1)}}
}

// beside writes the rooms along a wall on the x axis from 0 to 8 m.
func beside(rooms ...Room) string {
	p := &Plan{Levels: []Level{{ID: "L1", ClearHeight: 3 * quantity.Metre}}, Rooms: rooms}
	w := &Wall{ID: "L1-01", Level: "L1", Line: []Pt{{}, {8 * quantity.Metre, 0}}}
	var all []string
	for _, s := range p.RoomsBeside(w) {
		ids := [2]string{"-", "-"}
		for i, r := range s.Rooms {
			if r != nil {
				ids[i] = r.ID
			}
		}
		all = append(all, fmt.Sprintf("%g-%g %s|%s", s.From.Metres(), s.To.Metres(), ids[0], ids[1]))
	}
	return strings.Join(all, ", ")
}

func TestRoomsBeside(t *testing.T) {
	for name, tt := range map[string]struct {
		rooms []Room
		want  string
	}{
		"to axes":             {[]Room{room("1", 0, 0, 8, 4), room("2", 0, -4, 8, 0)}, "0-8 1|2"},
		"to faces":            {[]Room{room("1", 0.05, 0.05, 7.95, 4), room("2", 0, -4, 8, -0.05)}, "0.05-7.95 1|2"}, // what is left at the ends is below what counts
		"line on face A":      {[]Room{room("1", 0, 0, 8, 4), room("2", 0, -4, 8, -0.155)}, "0-8 1|2"},
		"two rooms at face B": {[]Room{room("1", -2, 0, 12, 4), room("2", 0, -4, 3, 0), room("3", 3, -4, 8, 0)}, "0-3 1|2, 3-8 1|3"},
		"outside":             {[]Room{room("1", 0, 0, 8, 4)}, "0-8 1|-"},
		"narrow shaft":        {[]Room{room("shaft", 0, 0.05, 8, 0.35), room("2", 0, -4, 8, 0)}, "0-8 shaft|2"},
		"far away":            {[]Room{room("1", 0, 0.5, 8, 4)}, ""},
		"other level":         {[]Room{{ID: "1", Level: "L2", Outline: room("1", 0, 0, 8, 4).Outline}}, ""},
	} {
		if got := beside(tt.rooms...); got != tt.want {
			t.Errorf("%s: %q, want %q", name, got, tt.want)
		}
	}
}

// Whichever way a wall runs in the plan, it separates the same rooms.
func TestRoomsBesideTurned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle")
		turn := func(pts []Pt) []Pt {
			var out []Pt
			for _, pt := range pts {
				x, y := pt.X.Metres(), pt.Y.Metres()
				out = append(out, Pt{quantity.Metres(x*math.Cos(angle) - y*math.Sin(angle)), quantity.Metres(x*math.Sin(angle) + y*math.Cos(angle))})
			}
			return out
		}
		p := &Plan{Levels: []Level{{ID: "L1", ClearHeight: 3 * quantity.Metre}}, Rooms: []Room{room("1", 0, 0.05, 8, 4), room("2", 0, -4, 8, -0.05)}}
		for i := range p.Rooms {
			p.Rooms[i].Outline = turn(p.Rooms[i].Outline)
		}
		w := &Wall{Level: "L1", Line: turn([]Pt{{}, {8 * quantity.Metre, 0}})}
		got := p.RoomsBeside(w)
		if len(got) != 1 || got[0].Rooms[0] != &p.Rooms[0] || got[0].Rooms[1] != &p.Rooms[1] {
			t.Fatal(got)
		}
		if v := p.Volume(&p.Rooms[0]); math.Abs(float64(v)-8*3.95*3) > 1e-3 {
			t.Fatal(v)
		}
	})
}
