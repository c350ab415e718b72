package price_test

import (
	"math"
	"testing"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/price"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
)

// Of a long wall without openings, the norms by the square metre reckon about the hours
// that come of its layout and take-off, and what estimators remember: 0.55 to 0.75 h/m²
// with one layer a face, 0.80 to 1.05 with two (from memory, see labour.yaml).
func TestNormsAreTheLayouts(t *testing.T) {
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	const mm = quantity.Millimetre
	unpainted := func(p *catalogue.Product) bool { return p.ID == "PAINT" }
	for _, c := range []struct {
		boards    []string
		low, high float64
	}{
		{[]string{"GKB-12.5"}, 0.55, 0.75},
		{[]string{"GKB-12.5", "GKB-12.5"}, 0.80, 1.05},
	} {
		p := &plan.Plan{
			Levels:   []plan.Level{{ID: "L0", ClearHeight: 2750 * mm}},
			BuildUps: []plan.BuildUp{{ID: "W", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: c.boards, Insulation: []plan.Insulation{{Product: "MW-60"}}}},
			Walls:    []plan.Wall{{ID: "L0-01", Level: "L0", BuildUp: "W", Line: []plan.Pt{{}, {X: 24000 * mm}}, Start: "structure", End: "structure"}},
		}
		w := layout.Of(p, cat, pr).Walls[0]
		work := price.WorkOn(w, takeoff.OfWall(w, cat, pr), cat, false, unpainted)
		laid := work.Hours() / (24 * 2.75)
		spec, _ := buildup.NewResolver(p, cat, pr).Resolve(&p.Walls[0])
		n := price.Norms{Catalogue: cat, Practice: pr, Height: 2750 * mm}
		norm := n.Of(spec)
		t.Logf("%d layers: %.3f h/m² by the layout, %.3f by the norms: %v", len(c.boards), laid, norm, work.Tasks)
		if math.Abs(norm/laid-1) > 0.06 || norm < c.low || norm > c.high {
			t.Errorf("%d layers: %.3f h/m² by the norms, %.3f by the layout, %g to %g remembered", len(c.boards), norm, laid, c.low, c.high)
		}
	}
}
