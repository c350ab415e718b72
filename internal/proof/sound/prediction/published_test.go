package prediction

import "nogging/internal/quantity"

// published is a wall whose rating a source prints.
type published struct {
	name string
	example
	stc    bool // else Rw
	rating float64
}

// spectral is a wall whose levels in the octaves 125 to 4000 Hz a source
// prints, by one leaf or two.
type spectral struct {
	name string
	example
	levels [6]quantity.Decibel
}

// The sources. None says which mass its boards have; 8.3, 9.0 and 11.3 kg/m² for
// 13, 12.5 and 16 mm are taken.
const (
	handbook = "Handbook of Acoustical Measurements and Noise Control, 3rd ed., table 31.2 ('approximate')"
	declared = "DIN 4109-33:2016-07, table 2, as transcribed; its column MW read as the thickness of the wool"
	textbook = "Bies, Hansen and Howard, Engineering Noise Control, 5th ed. (2017), table 7.6; Rossing (ed.), Springer Handbook of Acoustics, 2nd ed. (2014), table 11.4; studs at 610 mm assumed"
	council  = "IRC-IR-761 (1998), page 164, as transcribed"
	recent   = "measurements of steel-framed walls (2024), as quoted by others"
)

func thirteen(n int) []Board      { return layers(n, 8.3, 12.7) }
func twelveAndHalf(n int) []Board { return layers(n, 9, 12.5) }
func sixteen(n int) []Board       { return layers(n, 11.3, 16) }

// handbookWalls makes the three walls of a row: one layer a face, one and two,
// two a face.
func handbookWalls(name string, depth, fill, spacing float64, ratings [3]float64) []published {
	one, two := thirteen(1), thirteen(2)
	return []published{
		{name + ", 1+1 layers", example{one, one, depth, fill, spacing}, true, ratings[0]},
		{name + ", 1+2 layers", example{one, two, depth, fill, spacing}, true, ratings[1]},
		{name + ", 2+2 layers", example{two, two, depth, fill, spacing}, true, ratings[2]},
	}
}

// The handbook has studs of 24 gauge, 0.6 mm.
var (
	handbookEmpty  = append(handbookWalls("65 mm steel, empty", 65, 0, 610, [3]float64{36, 44, 46}), handbookWalls("90 mm steel, empty", 90, 0, 610, [3]float64{39, 45, 50})...)
	handbookFilled = append(handbookWalls("65 mm steel, filled", 65, 65, 610, [3]float64{44, 48, 52}), handbookWalls("90 mm steel, filled", 90, 90, 610, [3]float64{45, 49, 56})...)
	// Two frames of 89 mm that do not touch, 25 mm apart; what they are made of does not matter.
	handbookTwin = append(handbookWalls("two frames, empty", 203, 0, 0, [3]float64{46, 52, 57}), handbookWalls("two frames, filled", 203, 178, 0, [3]float64{57, 60, 63})...)
	// Resilient channels one side, whose compliance is taken as 1e-5 m²/N.
	handbookChannels = append(handbookWalls("150 mm steel with resilient channels, empty", 163, 0, 610, [3]float64{45, 51, 56}), handbookWalls("150 mm steel with resilient channels, filled", 163, 150, 610, [3]float64{56, 58, 61})...)
)

var metalStuds = []published{
	{"CW50, 40 mm wool, 1+1 layers", example{twelveAndHalf(1), twelveAndHalf(1), 50, 40, 625}, false, 41},
	{"CW75, 60 mm wool, 1+1 layers", example{twelveAndHalf(1), twelveAndHalf(1), 75, 60, 625}, false, 42},
	{"CW100, 40 mm wool, 1+1 layers", example{twelveAndHalf(1), twelveAndHalf(1), 100, 40, 625}, false, 43},
	{"CW100, 60 mm wool, 1+1 layers", example{twelveAndHalf(1), twelveAndHalf(1), 100, 60, 625}, false, 44},
	{"CW100, 80 mm wool, 1+1 layers", example{twelveAndHalf(1), twelveAndHalf(1), 100, 80, 625}, false, 45},
	{"CW50, 40 mm wool, 2+2 layers", example{twelveAndHalf(2), twelveAndHalf(2), 50, 40, 625}, false, 48},
	{"CW75, 40 mm wool, 2+2 layers", example{twelveAndHalf(2), twelveAndHalf(2), 75, 40, 625}, false, 48},
	{"CW75, 60 mm wool, 2+2 layers", example{twelveAndHalf(2), twelveAndHalf(2), 75, 60, 625}, false, 51},
	{"CW100, 40 mm wool, 2+2 layers", example{twelveAndHalf(2), twelveAndHalf(2), 100, 40, 625}, false, 49},
	{"CW100, 60 mm wool, 2+2 layers", example{twelveAndHalf(2), twelveAndHalf(2), 100, 60, 625}, false, 51},
	{"CW100, 80 mm wool, 2+2 layers", example{twelveAndHalf(2), twelveAndHalf(2), 100, 80, 625}, false, 52},
}

var metalTwin = []published{
	{"CW50+CW50, 5 mm apart, 40 mm wool, 2+2 layers", example{twelveAndHalf(2), twelveAndHalf(2), 105, 40, 0}, false, 60},
	{"CW100+CW100, 5 mm apart, 80 mm wool, 2+2 layers", example{twelveAndHalf(2), twelveAndHalf(2), 205, 80, 0}, false, 61},
}

var recentTwin = []published{
	// 12.7 mm boards, one each side of frames of 92 mm; a gap of 25 mm is assumed.
	{"92+92 mm steel, both filled, 1+1 layers", example{thirteen(1), thirteen(1), 209, 184, 0}, true, 64},
}

var textbookFilled = []spectral{
	{"16 mm boards, 45 mm cavity, filled", example{sixteen(1), sixteen(1), 45, 45, 610}, [6]quantity.Decibel{27, 39, 46, 43, 47, 52}},
	{"16 mm boards, 86 mm cavity, filled", example{sixteen(1), sixteen(1), 86, 86, 610}, [6]quantity.Decibel{28, 41, 48, 49, 47, 52}},
	{"1/2 in boards, metal studs, 2 in of insulation, 90 mm cavity assumed", example{thirteen(1), thirteen(1), 90, 51, 610}, [6]quantity.Decibel{26, 41, 52, 54, 45, 51}},
}

var textbookEmpty = []spectral{
	{"16 mm boards, 45 mm cavity, empty", example{sixteen(1), sixteen(1), 45, 0, 610}, [6]quantity.Decibel{20, 28, 36, 41, 40, 47}},
	{"16 mm boards, 86 mm cavity, empty", example{sixteen(1), sixteen(1), 86, 0, 610}, [6]quantity.Decibel{19, 30, 39, 44, 40, 43}},
	{"1/2 in boards, metal studs, empty, 90 mm cavity assumed", example{thirteen(1), thirteen(1), 90, 0, 610}, [6]quantity.Decibel{22, 27, 43, 47, 37, 46}},
}

var textbookApart = []spectral{
	{"16 mm boards, 200 mm apart, no studs, empty", example{sixteen(1), sixteen(1), 200, 0, 0}, [6]quantity.Decibel{33, 39, 50, 64, 51, 59}},
	{"16 mm boards, 200 mm apart, no studs, 88 mm absorber", example{sixteen(1), sixteen(1), 200, 88, 0}, [6]quantity.Decibel{42, 56, 68, 74, 70, 73}},
	{"16 mm boards, staggered studs, 88 mm absorber", example{sixteen(1), sixteen(1), 200, 88, 0}, [6]quantity.Decibel{35, 50, 55, 62, 62, 68}},
}

var textbookSingle = []spectral{
	{"9 mm board", example{a: layers(1, 7, 9)}, [6]quantity.Decibel{15, 20, 24, 29, 32, 35}},
	{"two layers of 13 mm board", example{a: layers(2, 11, 13)}, [6]quantity.Decibel{24, 29, 31, 32, 30, 35}},
}

// TL-93-185: 13 mm boards on 89 mm studs with resilient channels, filled, in
// one-third octaves from 50 to 5000 Hz. Its studs are timber, which the channels
// keep from mattering.
var (
	channelWall   = example{thirteen(1), thirteen(1), 102, 90, 610}
	channelLevels = []quantity.Decibel{18.9, 13.5, 17.7, 15.7, 20.5, 28.6, 36.4, 43.7, 48.5, 54.0, 57.2, 61.0, 64.0, 67.0, 69.4, 70.0, 66.8, 55.4, 52.7, 56.0, 61.0}
)
