package app_test

import (
	"math"
	"os"
	"testing"

	"nogging/internal/app"
	"nogging/internal/catalogue"
	"nogging/internal/price"
)

// The hours that stand beside block walls are those that bids reckon, without paint.
func TestOneKindOfHours(t *testing.T) {
	j, err := app.Open("../../demo/clinic.yaml", os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	j.Build(app.Quiet)
	unpainted := func(p *catalogue.Product) bool { return p.ID == catalogue.PaintID }
	hours := map[string]float64{}
	for i, w := range j.Layout.Walls {
		work := price.WorkOn(w, j.Takeoff.Walls[i].Lines, j.Catalogue, false, unpainted)
		hours[w.ID] = work.Hours()
	}
	compared := j.Masonry().Walls
	if len(compared) < 40 {
		t.Fatalf("only %d walls are compared", len(compared))
	}
	for _, w := range compared {
		if math.Abs(w.Hours[0]-hours[w.ID]) > 1e-9 {
			t.Errorf("%s: %g h beside a block wall, %g h in a bid", w.ID, w.Hours[0], hours[w.ID])
		}
	}
}
