package app_test

import (
	"flag"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/app"
	_ "nogging/internal/draws"
	"nogging/internal/plan"
	"nogging/internal/plantest"
)

// FuzzBuild takes whatever stands in a plan file through to layout, take-off, proofs
// and what the page shows: no panic, no hang, however wrong the plan is.
func FuzzBuild(f *testing.F) {
	f.Add(plan.Starter())
	f.Add([]byte(planText))
	f.Add([]byte(`{"nogging":1,"levels":[{"id":"L0","clear_height":2500}],"walls":[{"id":"a","level":"L0","line":[[0,0],[1e3,0]],
"heights":[{"at":0,"height":1},{"at":0,"height":9000}],"openings":[{"kind":"bare","at":0,"width":1000,"height":9000}]}]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		j, err := app.Open("plan.yaml", files{"plan.yaml": string(text)}.read)
		if err != nil {
			t.Skip()
		}
		if len(j.Plan.Walls) > 20 || tooLong(j.Plan) {
			t.Skip("large plans are slow, not wrong")
		}
		j.Build(app.Quiet)
		j.Judge(app.Quiet)
		for i := range j.Plan.Levels {
			j.Plan.FindRooms(j.Plan.Levels[i].ID, func(w *plan.Wall) plan.Length { return w.Thickness })
			j.Plan.WallsBetween(j.Plan.Levels[i].ID)
		}
		if p, _ := j.Plan.Distinct(); len(p.Walls) > 0 {
			s := app.NewLive(p, app.LiveFiles{}).State()
			s.Totals()
			s.Picture()
			s.Wall(p.Walls[0].ID)
		}
	})
}

// tooLong reports whether a wall is so long or high that laying it out takes more
// than a moment.
func tooLong(p *plan.Plan) bool {
	const most = 60 * 1000 * 1_000_000 // nm
	for _, w := range p.Walls {
		if len(w.Line) == 2 && max((w.Line[0].X-w.Line[1].X).Abs(), (w.Line[0].Y-w.Line[1].Y).Abs()) > most {
			return true
		}
	}
	for _, l := range p.Levels {
		if l.ClearHeight > most {
			return true
		}
	}
	return false
}

// Every plan that can be laid out can be drawn. A plan with its whole pack takes half a
// second, so a run draws a quarter of the usual number, others each time.
func TestRandomPlansAreWritten(t *testing.T) {
	checks := flag.Lookup("rapid.checks")
	usual := checks.Value.String()
	if usual == checks.DefValue {
		t.Cleanup(func() { checks.Value.Set(usual) })
		checks.Value.Set("25")
	}
	rapid.Check(t, func(t *rapid.T) {
		p := plantest.Random(t)
		p.Version = plan.Version
		text, err := plan.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		j, err := app.Open("plan.yaml", files{"plan.yaml": string(text)}.read)
		if err != nil {
			t.Fatal(err)
		}
		j.Build(app.Quiet)
		if _, err := j.Write(discard{}, app.Quiet); err != nil {
			t.Fatal(err)
		}
	})
}
