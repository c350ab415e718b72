package layout_test

import (
	"fmt"
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/plantest"
)

// BenchmarkWall lays out one ordinary wall: 5.4 m long, one door, between two
// structural walls.
func BenchmarkWall(b *testing.B) {
	cat, pr := metric(b, nil)
	w := plan.Wall{Openings: []plan.Opening{{Kind: plan.Door, At: 900 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 28}}}
	p := room(5400*mm, 3000*mm, w, single("W", "GKB-12.5"))
	b.ReportAllocs()
	for b.Loop() {
		layout.Of(p, cat, pr)
	}
}

// BenchmarkProject lays out whole projects; ns/wall shows the growth.
func BenchmarkProject(b *testing.B) {
	for _, walls := range []int{200, 2_000, 20_000} {
		b.Run(fmt.Sprintf("walls=%d", walls), func(b *testing.B) {
			p := plantest.Offices(walls)
			cat := catalogue.Shipped()
			pr, _ := cat.PracticeByID("metric")
			b.ReportAllocs()
			for b.Loop() {
				layout.Of(p, cat, pr)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*walls), "ns/wall")
		})
	}
}
