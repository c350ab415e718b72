package plan

import (
	"nogging/internal/words"
)

// RoomClimate is the air of a room over the year: one value for all months, or
// twelve from January on. Without temperatures it is not known.
type RoomClimate struct {
	Temperature []float64 `json:"temperature,omitempty" jsonschema:"air temperature in degrees Celsius: one for the whole year, or twelve from January on"`
	Humidity    []float64 `json:"humidity,omitempty" jsonschema:"relative humidity in per cent, as temperature"`
}

// Air is the air of one month: °C and per cent.
type Air struct{ Temperature, Humidity float64 }

// Known reports whether the climate is given.
func (c RoomClimate) Known() bool { return len(c.Temperature) > 0 && len(c.Humidity) > 0 }

// Year gives the air of each month; of an unknown climate it is all zero.
func (c RoomClimate) Year() [12]Air {
	var year [12]Air
	for i := range year {
		year[i] = Air{monthly(c.Temperature, i), monthly(c.Humidity, i)}
	}
	return year
}

func monthly(list []float64, month int) float64 {
	if len(list) == 0 {
		return 0
	}
	return list[min(month, len(list)-1)]
}

// check tells what is wrong with the climate of a room.
func (c RoomClimate) check(s *spot) {
	for _, one := range []struct {
		key      string
		list     []float64
		low, top float64
		unit     string
	}{{"temperature", c.Temperature, -50, 60, "°C"}, {"humidity", c.Humidity, 0, 100, "%"}} {
		if n := len(one.list); n != 0 && n != 1 && n != 12 {
			s.wrong("room-climate", one.key, words.F("%d values are given", n), "give one for the whole year, or twelve from January on")
		}
		for _, v := range one.list {
			if !(v >= one.low && v <= one.top) {
				s.wrong("room-climate", one.key, words.F("%v %s is not the air of a room", v, one.unit), words.F("write %v to %v %s", one.low, one.top, one.unit))
				break
			}
		}
	}
	if (len(c.Temperature) > 0) != (len(c.Humidity) > 0) {
		s.wrong("room-climate", "temperature", "only one of temperature and humidity is given", "give both, such as climate: {temperature: [20], humidity: [50]}")
	}
}
