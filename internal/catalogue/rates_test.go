package catalogue

import (
	"math"
	"strings"
	"testing"

	"nogging/internal/finding"
)

// Factors per kg give back the data sets' figures per m² and m³ (OEKOBAUDAT
// 2020-II, generic data sets, modules A1 to A3).
func TestCarbon(t *testing.T) {
	c := Shipped()
	for _, one := range []struct {
		standard, kind string
		mass, want     float64
	}{
		{"EN 520", "DF", 10, 1.541293},
		{"EN 520", "H2", 10, 1.622827},
		{"EN 15283-2", "GF", 10, 3.186124},
		{"EN 14195", "", 1, 2.676285},
		{"EN 13162", "glass wool", 26.25, 40.305451},
		{"EN 13162", "stone wool", 146.4, 196.03214},
	} {
		f, ok := c.CarbonOf(one.standard, one.kind)
		if !ok || math.Abs(f.Factor*one.mass-one.want) > 1e-5 {
			t.Errorf("%s %s: %+v, want %g", one.standard, one.kind, f, one.want)
		}
	}
	if f, ok := c.CarbonOf("EN 520", "A"); !ok || f.Status != "estimate" {
		t.Errorf("plain boards: %+v", f)
	}
	if _, ok := c.CarbonOf("EN 12467", "cement"); ok {
		t.Error("cement boards have a factor that nobody published")
	}
}

func TestPrices(t *testing.T) {
	if len(Shipped().Prices) > 0 {
		t.Error("prices ship")
	}
	user, found := Parse("ours.yaml", []byte(`
prices:
  - {id: GKB-12.5, price: 3.20}
  - {id: labour, price: 52}
  - {id: GKF-12.5, price: -1}
carbon:
  - {id: C-CEMENT, name: Cement board, for: [EN 12467], factor: 0.5, status: test evidence, source: declaration}
  - {id: C-NONE, name: Nothing, factor: 0.5}
`))
	merged, wrong := Shipped().Merge(user)
	if found.Count(finding.Error) != 1 || wrong.Count(finding.Error) != 1 || !strings.Contains(wrong[0].What.String(), "-1 is no price") {
		t.Errorf("%v %v", found, wrong)
	}
	if p, ok := merged.PriceOf("GKB-12.5"); !ok || p != 3.2 {
		t.Errorf("price %v", p)
	}
	if _, ok := merged.PriceOf("GKF-12.5"); ok {
		t.Error("a wrong price is taken")
	}
	if f, ok := merged.CarbonOf("EN 12467", "cement"); !ok || f.Factor != 0.5 {
		t.Errorf("%+v", f)
	}
}
