package plan

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/finding"
)

// TestAngles: IfcCompoundPlaneAngleMeasure has three or four parts of one sign. Those of
// the first two stand in open sample models.
func TestAngles(t *testing.T) {
	for text, parts := range map[string][]int{
		"41 52 27.840000": {41, 52, 27, 840000}, "-87 -38 -21.839999": {-87, -38, -21, -839999}, "49 9 0": {49, 9, 0}, "0 0 -0.000005": {0, 0, 0, -5}, "0 -7 -34": {0, -7, -34},
	} {
		got, err := Angle(text)
		if err != nil || !slices.Equal(got, parts) || AngleText(parts) != text {
			t.Errorf("%s: %v %v, written %s", text, got, err, AngleText(parts))
		}
	}
	for _, text := range []string{"", "41", "41 52", "41 60 0", "41 -5 0", "-41 5 0", "400 0 0", "41 52 27.84", "north"} {
		if parts, err := Angle(text); err == nil {
			t.Errorf("%q is read as %v", text, parts)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		parts := []int{rapid.IntRange(0, 360).Draw(t, "degrees"), rapid.IntRange(0, 59).Draw(t, "minutes"), rapid.IntRange(0, 59).Draw(t, "seconds"), rapid.IntRange(0, 999999).Draw(t, "millionths")}[:rapid.IntRange(3, 4).Draw(t, "parts")]
		if rapid.Bool().Draw(t, "negative") {
			for i := range parts {
				parts[i] = -parts[i]
			}
		}
		if got, err := Angle(AngleText(parts)); err != nil || !slices.Equal(got, parts) {
			t.Fatalf("%v is written %q and read as %v, %v", parts, AngleText(parts), got, err)
		}
	})
}

func TestGeoreferenceChecks(t *testing.T) {
	for path, g := range map[string]Georeference{
		"project.georeference.latitude": {Latitude: "48.1"}, "project.georeference.longitude": {Longitude: "x"}, "project.georeference.map_unit": {MapUnit: -1},
		"project.georeference.scale": {Scale: -1}, "project.georeference.eastings": {Eastings: math.Inf(1)}, "project.georeference.north_y": {NorthY: math.NaN()}, "": {CRS: "EPSG:25832", Latitude: "48 8 15"},
	} {
		p := &Plan{Version: 1, Practice: Metric, Levels: []Level{{ID: "L", ClearHeight: 2600e6}}, Project: Project{Georeference: g}}
		got := ""
		for _, f := range p.Validate() {
			if f.Severity == finding.Error {
				got += f.Path
			}
		}
		if got != path {
			t.Errorf("%+v: %q, want %q", g, got, path)
		}
	}
}
