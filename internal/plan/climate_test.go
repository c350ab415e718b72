package plan

import (
	"strings"
	"testing"
)

func TestRoomClimate(t *testing.T) {
	for text, says := range map[string]string{
		"{temperature: [20], humidity: [50]}": "",
		"{}":                                  "",
		"{temperature: [20, 21], humidity: [50]}":                                "2 values are given",
		"{temperature: [20]}":                                                    "only one of",
		"{temperature: [200], humidity: [50]}":                                   "is not the air of a room",
		"{temperature: [20], humidity: [-1]}":                                    "is not the air of a room",
		"{temperature: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12], humidity: [50]}": "",
	} {
		_, found := Parse("rooms.yaml", []byte(`nogging: 1
levels: [{id: L1, clear_height: 3000}]
rooms: [{id: R1, level: L1, outline: [[0, 0], [1000, 0], [1000, 1000]], climate: `+text+`}]
walls: []
`))
		told := ""
		for _, f := range found {
			if f.Code == "room-climate" {
				told = f.What.String()
			}
		}
		if says == "" && told != "" || !strings.Contains(told, says) {
			t.Errorf("%s: told %q, want %q", text, told, says)
		}
	}
	year := RoomClimate{Temperature: []float64{20}, Humidity: []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}}.Year()
	if year[11] != (Air{20, 12}) || year[0] != (Air{20, 1}) {
		t.Errorf("the year runs %v", year)
	}
}
