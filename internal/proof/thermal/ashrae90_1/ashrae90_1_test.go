package ashrae90_1

import (
	"math"
	"testing"

	"nogging/internal/quantity"
)

// Rows of the table, from memory: they guard against change and prove nothing.
func TestEffective(t *testing.T) {
	for _, c := range []struct {
		depth, spacing quantity.Length
		rated, want    float64 // 0 where there is no row
	}{
		{7 * inch / 2, 16 * inch, 13, 5.98},
		{29 * inch / 8, 24 * inch, 13, 7.15},
		{7 * inch / 2, 19 * inch, 13, 5.98}, // between the columns: the closer
		{7 * inch / 2, 12 * inch, 13, 5.98},
		{6 * inch, 16 * inch, 19, 7.03},
		{7 * inch / 2, 30 * inch, 13, 0},
		{5 * inch / 2, 16 * inch, 13, 0},
		{7 * inch / 2, 16 * inch, 19, 0},
	} {
		got, factor, err := Effective(c.depth, c.spacing, quantity.Resistance(c.rated*perRated))
		if (err != nil) != (c.want == 0) || math.Abs(float64(got)/perRated-c.want) > 0.01 || got > 0 && factor >= 1 {
			t.Errorf("%v: R-%.2f, %v; want R-%.2f", c, float64(got)/perRated, err, c.want)
		}
	}
}
