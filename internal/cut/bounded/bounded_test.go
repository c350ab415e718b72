package bounded

import "testing"

func TestValue(t *testing.T) {
	for _, c := range []struct {
		Value
		proven bool
		gap    float64
	}{
		{Value{}, true, 0},
		{Value{Cost: 8, Bound: 8}, true, 0},
		{Value{Cost: 10, Bound: 8}, false, 0.25},
		{Value{Cost: 10}, false, 0}, // nothing is known
	} {
		if c.Proven() != c.proven || c.Gap() != c.gap {
			t.Errorf("%+v: proven %v, gap %v", c.Value, c.Proven(), c.Gap())
		}
	}
}
