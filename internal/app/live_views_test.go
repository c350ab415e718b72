package app_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"path"
	"slices"
	"strings"
	"testing"

	"nogging/demo"
	"nogging/internal/app"
	"nogging/internal/choice"
	"nogging/internal/document"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
)

// liveClinic is the demo with its prices, or the first of its walls.
func liveClinic(t testing.TB, walls int) *app.Live {
	t.Helper()
	p, found := plan.Parse("clinic.yaml", demo.Plan)
	if found.NeedsPerson() {
		t.Fatal(found)
	}
	p.Walls = p.Walls[:min(walls, len(p.Walls))]
	p, _ = p.Distinct()
	with := files{"rates.yaml": string(demo.Rates), "prices.csv": string(demo.Prices)}
	return app.NewLive(p, app.LiveFiles{Read: with.read, Rates: "rates.yaml", Prices: []string{"prices.csv"}})
}

// How many walls of the demo tests take: cutting plans of all take their time.
const (
	few = 6
	all = 1000
)

// noted gives the plan with a note on a wall, which changes nothing else.
func noted(t testing.TB, p *plan.Plan, i int) *plan.Plan {
	t.Helper()
	w := p.Walls[i]
	w.Note += "!"
	value, err := json.Marshal(w)
	if err != nil {
		t.Fatal(err)
	}
	next, _, found := p.Apply([]plan.Change{{Kind: "walls", ID: w.ID, Value: value}})
	if found != nil {
		t.Fatal(found)
	}
	return next
}

// Every file can be taken and read.
func TestExports(t *testing.T) {
	s := liveClinic(t, few).State()
	for _, e := range app.Exports() {
		t.Run(e.Name, func(t *testing.T) {
			var out bytes.Buffer
			if err := s.Export(context.Background(), e.Name, &out); err != nil {
				t.Fatal(err)
			}
			data := out.Bytes()
			switch {
			case strings.HasSuffix(e.Name, ".json"):
				if !json.Valid(data) {
					t.Error("no JSON")
				}
			case strings.HasSuffix(e.Name, ".csv"):
				rows, err := csv.NewReader(&out).ReadAll()
				if err != nil || len(rows) < 2 {
					t.Errorf("%d rows, %v", len(rows), err)
				}
			case strings.HasSuffix(e.Name, ".pdf"):
				if !bytes.HasPrefix(data, []byte("%PDF-")) || !bytes.HasSuffix(bytes.TrimSpace(data), []byte("%%EOF")) {
					t.Error("no PDF")
				}
			case strings.HasSuffix(e.Name, ".xlsx"):
				if !bytes.HasPrefix(data, []byte("PK\x03\x04")) {
					t.Error("no workbook")
				}
			case e.Kind == "model":
				begins := map[string]string{".ifc": "ISO-10303-21;", ".dxf": "  0", ".glb": "glTF", ".bcfzip": "PK\x03\x04"}[path.Ext(e.Name)]
				if begins == "" || !bytes.HasPrefix(data, []byte(begins)) {
					t.Errorf("it begins with %.20q", data)
				}
			case e.Name == "plan.yaml":
				if p, found := plan.Parse(e.Name, data); found.NeedsPerson() || !bytes.Equal(asJSON(t, p), asJSON(t, s.Plan())) {
					t.Errorf("another plan: %v", found)
				}
			default:
				t.Error("of what kind is it?")
			}
		})
	}
	if err := s.Export(context.Background(), "../plan.yaml", io.Discard); !errors.Is(err, app.ErrNoExport) {
		t.Error(err)
	}
	without := app.NewLive(s.Plan(), app.LiveFiles{}).State()
	if err := without.Export(context.Background(), "bid.pdf", io.Discard); !errors.Is(err, app.ErrNoPrices) {
		t.Error(err)
	}
}

func asJSON(t testing.TB, v any) []byte {
	t.Helper()
	data, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// Orders and bids are those of the command line, whatever was kept from before.
func TestLiveOrderIsTheSame(t *testing.T) {
	live := liveClinic(t, few)
	if _, err := live.State().Price(context.Background()); err != nil {
		t.Fatal(err)
	}
	p := *live.State().Plan()
	p.Walls = slices.Clone(p.Walls)
	p.Walls[0].BuildUp, p.Walls[1].BuildUp = p.Walls[1].BuildUp, p.Walls[0].BuildUp
	live.Set(&p)
	s := live.State()
	bid, err := s.Price(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	with := files{"rates.yaml": string(demo.Rates), "prices.csv": string(demo.Prices)}
	j := app.OfPlan(&p, with.read)
	j.Build(app.Quiet)
	prices, err := j.OpenPrices("rates.yaml", []string{"prices.csv"}, with.read)
	if err != nil {
		t.Fatal(err)
	}
	want := j.Price(prices)
	order, _ := s.Order(context.Background())
	if !bytes.Equal(asJSON(t, want.Order), asJSON(t, order)) || !bytes.Equal(asJSON(t, want), asJSON(t, bid)) {
		t.Error("order or bid differs from that of a job by itself")
	}
}

// A plan that asks for fewest boards is laid out so once it is settled.
func TestSettled(t *testing.T) {
	live := liveClinic(t, few)
	p := *live.State().Plan()
	if s, delta, err := live.Settled(context.Background()); err != nil || s != live.State() || delta.Walls != nil {
		t.Errorf("%v %v", delta, err)
	}
	p.SaveBoards = true
	live.Set(&p)
	gone, stop := context.WithCancel(context.Background())
	stop()
	if _, _, err := live.Settled(gone); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	s, _, err := live.Settled(context.Background())
	if err != nil || s != live.State() {
		t.Fatal(err)
	}
	j := app.OfPlan(&p, files{}.read)
	j.Build(app.Quiet)
	j.Judge(app.Quiet)
	if !bytes.Equal(asJSON(t, j.Layout), asJSON(t, s.Layout())) || !bytes.Equal(asJSON(t, j.Totals()), asJSON(t, s.Totals().Totals)) {
		t.Error("the settled state differs from a job by itself")
	}
	if again, delta, _ := live.Settled(context.Background()); again != s || delta.Walls != nil {
		t.Error("settled twice")
	}
}

// Long work ends when nobody waits for it, and can be asked for again.
func TestLiveWorkCanBeStopped(t *testing.T) {
	s := liveClinic(t, few).State()
	gone, stop := context.WithCancel(context.Background())
	stop()
	_, err1 := s.Order(gone)
	_, err2 := s.Cutting(gone)
	_, err3 := s.Price(gone)
	err4 := s.Pack(gone, app.PackChoice{}, app.Quiet, io.Discard)
	for _, err := range []error{err1, err2, err3, err4} {
		if !errors.Is(err, context.Canceled) {
			t.Error(err)
		}
	}
	if o, err := s.Order(context.Background()); err != nil || len(o.Lines) == 0 {
		t.Error(err)
	}
}

// A pack holds the parts that are asked for and no others.
func TestPackParts(t *testing.T) {
	s := liveClinic(t, few).State()
	size := func(c app.PackChoice) int {
		var out bytes.Buffer
		if err := s.Pack(context.Background(), c, app.Quiet, &out); err != nil {
			t.Fatal(err)
		}
		return bytes.Count(out.Bytes(), []byte("/Type /Page\n")) + bytes.Count(out.Bytes(), []byte("/Type /Page ")) + bytes.Count(out.Bytes(), []byte("/Type/Page/"))
	}
	whole, none := size(app.PackChoice{}), size(app.PackChoice{Parts: []document.Part{document.PartPractice}})
	sum := 0
	for _, part := range document.Parts() {
		n := size(app.PackChoice{Parts: []document.Part{document.PartPractice, part}}) - none
		if n < 1 && part != document.PartPractice {
			t.Errorf("%s has no page", part)
		}
		sum += n
	}
	if whole == 0 || whole < none+sum-5 || whole > none+sum+5 { // the list of sheets is longer for more
		t.Errorf("%d pages, and %d part by part", whole, none+sum)
	}
	if one := size(app.PackChoice{Levels: []string{s.Plan().Levels[len(s.Plan().Levels)-1].ID}}); one >= whole {
		t.Error("a level alone is as much as all")
	}
}

// A build-up that is chosen joins the plan once and walls take it.
func TestAdopt(t *testing.T) {
	live := liveClinic(t, few)
	s := live.State()
	wall := s.Plan().Walls[0].ID
	chosen, err := s.Choose(app.ChoiceRequest{Wall: wall, Rank: "mass"})
	if err != nil || len(chosen.Front) == 0 {
		t.Fatal(err)
	}
	other := s.Plan().Walls[1].ID
	changes, found := s.Adopt(chosen.Front[0].BuildUp, []string{wall, other, wall})
	if found != nil || len(changes) < 2 {
		t.Fatalf("%v %v", changes, found)
	}
	delta, _, refused := live.Apply(changes)
	if refused != nil || !slices.Contains(delta.Walls, wall) || !slices.Contains(delta.Walls, other) {
		t.Fatalf("%v %v", delta, refused)
	}
	p := live.State().Plan()
	if a, b := p.Walls[0].BuildUp, p.Walls[1].BuildUp; a != b || p.BuildUpByID(a) == nil {
		t.Errorf("%s and %s", a, b)
	}
	again, _ := live.State().Adopt(chosen.Front[0].BuildUp, []string{wall})
	if len(again) != 1 || again[0].Kind != "walls" {
		t.Errorf("the build-up joins the plan twice: %v", again)
	}
	if _, found := s.Adopt(plan.BuildUp{}, []string{"nowhere"}); len(found) != 1 {
		t.Error(found)
	}
	if _, err := s.Choose(app.ChoiceRequest{Wall: wall, Rank: "beauty"}); err == nil {
		t.Error("ranked by beauty")
	}
	if _, err := s.Choose(app.ChoiceRequest{Demand: &choice.Demand{}}); err == nil {
		t.Error("a wall of no height")
	}
}

// A comparison says what changed and gives both shapes; the newest state stays.
func TestLiveCompare(t *testing.T) {
	live := liveClinic(t, few)
	first := live.State().Plan()
	p := *first
	p.Walls = slices.Clone(p.Walls)
	moved := p.Walls[2].ID
	gone := p.Walls[len(p.Walls)-1].ID
	p.Walls[2].BuildUp = p.BuildUps[0].ID
	if first.Walls[2].BuildUp == p.BuildUps[0].ID {
		p.Walls[2].BuildUp = p.BuildUps[1].ID
	}
	p.Walls = p.Walls[:len(p.Walls)-1]
	live.Set(&p)
	now := live.State()
	c, err := now.Compare(context.Background(), live.At(first))
	if err != nil {
		t.Fatal(err)
	}
	if live.State() != now || c.Empty() || c.Price == nil {
		t.Errorf("%+v", c)
	}
	has := func(list []app.WallBrief, id string) bool {
		return slices.ContainsFunc(list, func(b app.WallBrief) bool { return b.ID == id && len(b.Outline) > 2 })
	}
	if !has(c.Before, moved) || !has(c.After, moved) || !has(c.Before, gone) || has(c.After, gone) {
		t.Error("the shapes before and after are not there")
	}
	same, err := now.Compare(context.Background(), live.At(now.Plan()))
	if err != nil || !same.Empty() {
		t.Errorf("equal plans differ: %v", err)
	}
}

// What changed since a state before is told once: the walls on which an edit bears.
func TestSince(t *testing.T) {
	live := liveClinic(t, few)
	before := live.State()
	every, removed := before.Since(nil)
	if len(every) != len(before.Plan().Walls) || removed != nil {
		t.Errorf("%d of %d, %v", len(every), len(before.Plan().Walls), removed)
	}
	live.Set(noted(t, before.Plan(), 3))
	if changed, removed := live.State().Since(before); len(changed)+len(removed) > 0 {
		t.Errorf("a note changes %v %v", changed, removed)
	}
	p := *before.Plan()
	p.Walls = slices.Clone(p.Walls)
	last := len(p.Walls) - 1
	asked := p.Walls[0].ID
	p.Walls[0].Require = plan.Requirements{Duty: "zone 9"}
	p.Walls = append(p.Walls[:last:last], p.Walls[last+1:]...)
	live.Set(&p)
	changed, removed := live.State().Since(before)
	if !slices.ContainsFunc(changed, func(b app.WallBrief) bool { return b.ID == asked && b.Status.Findings == finding.Warning }) {
		t.Errorf("%v", changed)
	}
	if len(removed) != 1 || removed[0] != every[last].ID {
		t.Error(removed)
	}
}

// Bodies on the screen do not lie on each other where walls meet, and have the
// thickness of their walls.
func TestOutlines(t *testing.T) {
	s := liveClinic(t, all).State()
	briefs, _ := s.Since(nil)
	shape := func(b app.WallBrief) geom.Polygon {
		var p geom.Polygon
		for _, c := range b.Outline {
			p = append(p, geom.Pt(c[0], c[1]))
		}
		return p
	}
	for i, a := range briefs {
		if len(a.Parts) > 0 || len(a.Outline) != 4 {
			continue
		}
		area := shape(a).Area().SquareMetres()
		if want := a.Length.Metres() * a.Thickness.Metres(); area < 0.8*want || area > 1.2*want {
			t.Errorf("%s: %.3f m² of ground for %.3f", a.ID, area, want)
		}
		for _, b := range briefs[:i] {
			if b.Level != a.Level || len(b.Parts) > 0 || len(b.Outline) != 4 {
				continue
			}
			if shared := shape(a).Clip(shape(b)).Area().SquareMetres(); shared > 0.005 { // the frames of shaft walls lap at corners
				t.Errorf("%s and %s share %.4f m²", a.ID, b.ID, shared)
			}
		}
	}
}

// Every wall has its view, its drawings and its shapes.
func TestWallViews(t *testing.T) {
	s := liveClinic(t, all).State()
	for i := range s.Plan().Walls {
		id := s.Plan().Walls[i].ID
		v, ok := s.Wall(id)
		if !ok || !v.LaidOut || len(v.Views) == 0 || len(v.Parts) == 0 || v.Proof == nil || len(v.Takeoff) == 0 || len(v.Choices) == 0 {
			t.Fatalf("%s: %+v", id, v)
		}
		if i > 2 {
			continue
		}
		for _, view := range v.Views {
			data, ok := s.Drawing(id, view.ID, i == 1)
			if !ok || xml.Unmarshal(data, new(struct{})) != nil {
				t.Errorf("%s has no drawing %s", id, view.ID)
			}
		}
		if m, ok := s.Model(id, ""); !ok || len(m.Walls) != 1 {
			t.Errorf("%s has no shape", id)
		}
	}
	for _, bad := range []bool{second(s.Wall("nowhere")), second(s.Drawing("nowhere", "frame1", false)), second(s.Drawing(s.Plan().Walls[0].ID, "x", false)), second(s.Model("nowhere", "")), second(s.Level("nowhere"))} {
		if bad {
			t.Error("something is there that is not in the plan")
		}
	}
	level, ok := s.Level(s.Plan().Levels[0].ID)
	if !ok || len(level.Walls) == 0 || len(level.Rooms) == 0 || level.Rooms[0].Area <= 0 || len(level.Junctions) == 0 {
		t.Errorf("%+v", level)
	}
	if picture := s.Picture(); xml.Unmarshal(picture, new(struct{})) != nil || bytes.Contains(picture, []byte("NaN")) {
		t.Errorf("%s", picture)
	}
}

func second[T any](_ T, ok bool) bool { return ok }

// The rooms of the demo are found again from its walls.
func TestFindRooms(t *testing.T) {
	live := liveClinic(t, all)
	p := *live.State().Plan()
	drawn := p.Rooms
	p.Rooms = nil
	live.Set(&p)
	for _, l := range p.Levels {
		if _, _, refused := live.Apply(live.State().FindRooms(l.ID)); refused != nil {
			t.Fatal(refused)
		}
	}
	got, near := live.State().Plan().Rooms, 0
	for i := range drawn {
		for k := range got {
			// drawn to the lines of walls, found between their faces
			if d := got[k].Area().SquareMetres() / drawn[i].Area().SquareMetres(); drawn[i].Level == got[k].Level && d > 0.75 && d < 1.02 {
				near++
				break
			}
		}
	}
	if 4*near < 3*len(drawn) { // some are open to each other, through gaps in the structure
		t.Errorf("%d of %d rooms are found among %d", near, len(drawn), len(got))
	}
	if pairs := live.State().RoomPairs(); len(pairs) < len(drawn) {
		t.Errorf("%d pairs", len(pairs))
	}
	if changes := live.State().WallsBetween(p.Levels[0].ID); len(changes) > 0 {
		t.Errorf("walls where walls are: %s", changes[0].Value)
	}
}
