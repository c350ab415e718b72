package geom_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/geom"
	"nogging/internal/quantity"
)

func rect(x0, y0, x1, y1 geom.Length) geom.Polygon {
	const mm = quantity.Millimetre
	return geom.Polygon{geom.Pt(x0*mm, y0*mm), geom.Pt(x1*mm, y0*mm), geom.Pt(x1*mm, y1*mm), geom.Pt(x0*mm, y1*mm)}
}

// Areas in mm², by hand.
func TestCovered(t *testing.T) {
	face := rect(0, 0, 1000, 1000)
	const mm = quantity.Millimetre
	gable := geom.Polygon{geom.Pt(0, 0), geom.Pt(1000*mm, 0), geom.Pt(0, 1000*mm)}
	for name, tt := range map[string]struct {
		region, covers []geom.Polygon
		want           float64
	}{
		"nothing":         {[]geom.Polygon{face}, nil, 0},
		"one":             {[]geom.Polygon{face}, []geom.Polygon{rect(100, 0, 200, 1000)}, 100_000},
		"crossing":        {[]geom.Polygon{face}, []geom.Polygon{rect(100, 0, 200, 1000), rect(0, 500, 1000, 600)}, 190_000},
		"twice":           {[]geom.Polygon{face}, []geom.Polygon{rect(100, 0, 200, 1000), rect(150, 0, 250, 1000)}, 150_000},
		"half off":        {[]geom.Polygon{face}, []geom.Polygon{rect(-50, 0, 50, 1000)}, 50_000},
		"over a hole":     {[]geom.Polygon{face, rect(400, 400, 600, 600)}, []geom.Polygon{rect(0, 450, 1000, 550)}, 80_000},
		"two pieces":      {[]geom.Polygon{rect(0, 0, 500, 1000), rect(500, 0, 1000, 1000)}, []geom.Polygon{rect(450, 0, 550, 1000)}, 100_000},
		"two high":        {[]geom.Polygon{rect(0, 0, 1000, 500), rect(0, 500, 1000, 1000)}, []geom.Polygon{rect(0, 450, 1000, 550)}, 100_000},
		"under a slope":   {[]geom.Polygon{gable}, []geom.Polygon{rect(400, 0, 600, 1000)}, 200 * 500},
		"across a slope":  {[]geom.Polygon{gable}, []geom.Polygon{rect(0, 400, 1000, 600)}, 200 * 500},
		"slope and cross": {[]geom.Polygon{gable}, []geom.Polygon{rect(0, 400, 1000, 600), rect(400, 0, 600, 1000)}, 200*500 + 200*500 - 20_000},
	} {
		if got := float64(geom.Covered(tt.region, tt.covers)); math.Abs(got-tt.want) > 1e-3 {
			t.Errorf("%s: %v, want %v", name, got, tt.want)
		}
	}
}

// The covered area is no more than the region's and no more than the sum of the
// covers', and rectangles are covered as counting their millimetres says.
func TestCoveredProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.IntRange(0, 12)
		draw := func(name string) geom.Polygon {
			x, y := side.Draw(t, name+" x"), side.Draw(t, name+" y")
			return rect(geom.Length(x), geom.Length(y), geom.Length(x+1+side.Draw(t, name+" w")), geom.Length(y+1+side.Draw(t, name+" h")))
		}
		region := draw("region")
		var covers []geom.Polygon
		sum := quantity.Area(0)
		for range rapid.IntRange(0, 5).Draw(t, "covers") {
			covers = append(covers, draw("cover"))
			sum += covers[len(covers)-1].Area()
		}
		count := 0
		for x := range geom.Length(30) {
			for y := range geom.Length(30) {
				q := geom.Pt(x*quantity.Millimetre+1, y*quantity.Millimetre+1)
				for _, c := range covers {
					if region.Contains(q) && c.Contains(q) {
						count++
						break
					}
				}
			}
		}
		got := geom.Covered([]geom.Polygon{region}, covers)
		if math.Abs(float64(got)-float64(count)) > 1e-6 || got > sum+1e-6 || got > region.Area()+1e-6 {
			t.Fatalf("%v, counted %d, sum %v, region %v", got, count, sum, region.Area())
		}
	})
}
