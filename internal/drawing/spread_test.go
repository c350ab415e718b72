package drawing_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/drawing"
)

// labels draws wishes in ascending order with widths, and a range that holds
// them.
func labels(t *rapid.T) (at, widths []float64, lo, hi float64) {
	n := rapid.IntRange(1, 12).Draw(t, "n")
	sum := 0.0
	for range n {
		at = append(at, rapid.Float64Range(0, 100).Draw(t, "at"))
		w := rapid.Float64Range(1, 9).Draw(t, "width")
		widths = append(widths, w)
		sum += w
	}
	slices.Sort(at)
	lo = rapid.Float64Range(-20, 0).Draw(t, "lo")
	return at, widths, lo, max(100, lo+sum) + rapid.Float64Range(0, 10).Draw(t, "slack")
}

func cost(places, at []float64) float64 {
	c := 0.0
	for i := range at {
		c += (places[i] - at[i]) * (places[i] - at[i])
	}
	return c
}

func TestSpreadKeepsLabelsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at, widths, lo, hi := labels(t)
		got, ok := drawing.Spread(at, widths, lo, hi)
		if !ok {
			t.Fatal("there was room")
		}
		for i := range got {
			if got[i]-widths[i]/2 < lo-1e-9 || got[i]+widths[i]/2 > hi+1e-9 {
				t.Fatalf("label %d at %v leaves %v to %v", i, got[i], lo, hi)
			}
			if i > 0 && got[i]-got[i-1] < (widths[i]+widths[i-1])/2-1e-9 {
				t.Fatalf("labels %d and %d overlap", i-1, i)
			}
		}
	})
}

// TestSpreadMovesLeast compares with arrangements drawn at random: none that
// keeps the labels apart moves them less (the definition of the least-squares
// arrangement; the convexity of the problem makes small moves sufficient).
func TestSpreadMovesLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at, widths, lo, hi := labels(t)
		got, _ := drawing.Spread(at, widths, lo, hi)
		other := slices.Clone(got)
		for i := range other {
			other[i] += rapid.Float64Range(-0.5, 0.5).Draw(t, "move")
		}
		for i := range other {
			if other[i]-widths[i]/2 < lo || other[i]+widths[i]/2 > hi {
				return
			}
			if i > 0 && other[i]-other[i-1] < (widths[i]+widths[i-1])/2 {
				return
			}
		}
		if cost(other, at) < cost(got, at)-1e-9 {
			t.Fatalf("%v costs %v, %v costs less: %v", got, cost(got, at), other, cost(other, at))
		}
	})
}

func TestSpreadByHand(t *testing.T) {
	tests := []struct {
		name       string
		at, widths []float64
		lo, hi     float64
		want       []float64
		ok         bool
	}{
		{"nothing in the way", []float64{10, 30}, []float64{4, 4}, 0, 40, []float64{10, 30}, true},
		{"a pair parts evenly", []float64{10, 10}, []float64{4, 4}, 0, 40, []float64{8, 12}, true},
		{"held at the edge", []float64{1, 2}, []float64{4, 4}, 0, 40, []float64{2, 6}, true},
		{"no room", []float64{1, 2, 3}, []float64{4, 4, 4}, 0, 8, []float64{2, 6, 10}, false},
		{"none", nil, nil, 0, 8, nil, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, ok := drawing.Spread(tt.at, tt.widths, tt.lo, tt.hi)
			if ok != tt.ok || len(got) != len(tt.want) {
				t.Fatalf("got %v, %v; want %v, %v", got, ok, tt.want, tt.ok)
			}
			for i := range got {
				if math.Abs(got[i]-tt.want[i]) > 1e-9 {
					t.Errorf("label %d at %v, want %v", i, got[i], tt.want[i])
				}
			}
		})
	}
}
