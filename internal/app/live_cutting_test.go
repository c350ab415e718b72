package app_test

import (
	"context"
	"encoding/json"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/app"
	"nogging/internal/quantity"
)

// The order after an edit is the one of the plan by itself, whatever of its cutting is
// remembered, and a state's order stays what it was.
func TestOrderAfterEdits(t *testing.T) {
	live := liveClinic(t, few)
	written := func(o any, err error) string {
		t.Helper()
		data, err2 := json.Marshal(o)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		return string(data)
	}
	for i := range 2 {
		before := live.State()
		order := written(before.Order(context.Background()))
		p := *before.Plan()
		p.Walls = slices.Clone(p.Walls)
		p.Walls[i].Height += 150 * quantity.Millimetre
		live.Set(&p)
		afresh := app.NewLive(&p, app.LiveFiles{}).State()
		if d := cmp.Diff(written(afresh.Order(context.Background())), written(live.State().Order(context.Background()))); d != "" {
			t.Error(d)
		}
		if d := cmp.Diff(written(afresh.Cutting(context.Background())), written(live.State().Cutting(context.Background()))); d != "" {
			t.Error(d)
		}
		if again := written(before.Order(context.Background())); again != order {
			t.Error("an order changed after it was given")
		}
	}
}
