package app

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"time"

	"nogging/internal/cut"
	"nogging/internal/document"
	"nogging/internal/drawing"
	"nogging/internal/drawing/sheets"
	"nogging/internal/exchange/ifc/write"
	"nogging/internal/order"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/setout"
	"nogging/internal/takeoff"
)

// Export is a file that can be taken from a state.
type Export struct {
	Name   string `json:"name"`
	Kind   string `json:"kind"` // plan, result, setout, takeoff, order, cutting or price
	Type   string `json:"type"` // media type
	What   string `json:"what"`
	Prices bool   `json:"prices,omitempty"` // it needs the firm's rates
	Slow   bool   `json:"slow,omitempty"`   // cutting plans have to be made first
	write  func(ctx context.Context, s *State, out io.Writer) error
}

// Media types.
const (
	typeCSV  = "text/csv; charset=utf-8"
	typeXLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
	typePDF  = "application/pdf"
	typeJSON = "application/json"
	typeYAML = "application/yaml"
)

// Exports lists the files that can be taken from any state.
func Exports() []Export {
	return []Export{
		{Name: "plan.yaml", Kind: "plan", Type: typeYAML, What: "the plan", write: writePlan},
		{Name: "plan.json", Kind: "plan", Type: typeJSON, What: "the plan", write: func(_ context.Context, s *State, out io.Writer) error { return indented(out, s.job.Plan) }},
		{Name: "result.json", Kind: "result", Type: typeJSON, What: "everything that was worked out, wall by wall", write: func(_ context.Context, s *State, out io.Writer) error { s.judge(); return s.job.WriteResult(out) }},
		{Name: "model.ifc", Kind: "model", Type: "application/x-step", What: "the walls part by part, IFC4", write: exported("model.ifc", write.IFC4)},
		{Name: "model-ifc4x3.ifc", Kind: "model", Type: "application/x-step", What: "the walls part by part, IFC4X3", write: exported("model.ifc", write.IFC4X3)},
		{Name: "drawing.dxf", Kind: "model", Type: "image/vnd.dxf", What: "set-out plans and elevations, DXF R2000", write: exported("drawing.dxf", "")},
		{Name: "scene.glb", Kind: "model", Type: "model/gltf-binary", What: "three-dimensional scene, glTF 2.0", write: exported("scene.glb", "")},
		{Name: "topics.bcfzip", Kind: "model", Type: "application/zip", What: "topics for architect, structural engineer and services, BCF 2.1", write: exported("topics.bcfzip", "")},
		{Name: "setout.csv", Kind: "setout", Type: typeCSV, What: "points to mark, for a total station", write: func(_ context.Context, s *State, out io.Writer) error {
			return setout.WriteCSV(out, s.job.setOut())
		}},
		{Name: "takeoff.csv", Kind: "takeoff", Type: typeCSV, What: "quantities by wall, level and project", write: func(_ context.Context, s *State, out io.Writer) error { return takeoff.WriteCSV(out, s.Takeoff()) }},
		{Name: "takeoff.xlsx", Kind: "takeoff", Type: typeXLSX, What: "quantities by level", write: takeoffAs(writeBook)},
		{Name: "takeoff.pdf", Kind: "takeoff", Type: typePDF, What: "quantities by level", write: takeoffAs(writeReport)},
		{Name: "order.csv", Kind: "order", Type: typeCSV, What: "what to buy", Slow: true, write: func(ctx context.Context, s *State, out io.Writer) error {
			o, err := s.Order(ctx)
			if err != nil {
				return err
			}
			return writeLines(out, nil, [][]order.Line{o.Lines})
		}},
		{Name: "order.xlsx", Kind: "order", Type: typeXLSX, What: "what to buy, call-offs, deliveries, carbon and waste", Slow: true, write: fromOrder("order.xlsx")},
		{Name: "order.json", Kind: "order", Type: typeJSON, What: "what to buy", Slow: true, write: fromOrder("order.json")},
		{Name: "order.pdf", Kind: "order", Type: typePDF, What: "what to buy", Slow: true, write: writeOrderReport},
		{Name: "call-offs.csv", Kind: "order", Type: typeCSV, What: "what to buy, zone by zone", Slow: true, write: fromOrder("call-offs.csv")},
		{Name: "cutting.csv", Kind: "cutting", Type: typeCSV, What: "every bar with the pieces that are cut from it", Slow: true, write: writeBars},
		{Name: "cutting.xlsx", Kind: "cutting", Type: typeXLSX, What: "bars and boards with their pieces", Slow: true, write: writeCuttingBook},
		{Name: "cutting.pdf", Kind: "cutting", Type: typePDF, What: "drawings by which boards are cut", Slow: true, write: writeCutSheets},
		{Name: "bid.pdf", Kind: "price", Type: typePDF, What: "the bid", Prices: true, Slow: true, write: fromBid("bid.pdf")},
		{Name: "bid.xlsx", Kind: "price", Type: typeXLSX, What: "the bid", Prices: true, Slow: true, write: fromBid("bid.xlsx")},
		{Name: "cost.xlsx", Kind: "price", Type: typeXLSX, What: "what the bid is reckoned from", Prices: true, Slow: true, write: fromBid("cost.xlsx")},
		{Name: "price.json", Kind: "price", Type: typeJSON, What: "the price", Prices: true, Slow: true, write: fromBid("price.json")},
		{Name: "price.csv", Kind: "price", Type: typeCSV, What: "the bid's schedule", Prices: true, Slow: true, write: writeSchedule},
	}
}

// exported takes the state in one of the forms for other programs.
func exported(name string, schema write.Schema) func(context.Context, *State, io.Writer) error {
	return func(ctx context.Context, s *State, out io.Writer) error {
		return s.job.Export(name, out, ExportOptions{Schema: schema, Date: dateOf(ctx)})
	}
}

type dated struct{}

// WithDate says which date files are to have that need one, where the plan has none.
func WithDate(ctx context.Context, date time.Time) context.Context {
	return context.WithValue(ctx, dated{}, date)
}

func dateOf(ctx context.Context) time.Time {
	date, _ := ctx.Value(dated{}).(time.Time)
	return date
}

// ErrNoExport says that there is no file of that name to take.
var ErrNoExport = fmt.Errorf("there is no such file to take")

// Export writes one of Exports by its name. The error is that of ctx or of out,
// ErrNoExport or ErrNoPrices.
func (s *State) Export(ctx context.Context, name string, out io.Writer) error {
	for _, e := range Exports() {
		if e.Name == name {
			return e.write(ctx, s, out)
		}
	}
	return ErrNoExport
}

func writePlan(_ context.Context, s *State, out io.Writer) error {
	text, err := plan.Marshal(s.job.Plan)
	if err != nil {
		return err
	}
	_, err = out.Write(text)
	return err
}

func indented(out io.Writer, v any) error {
	e := json.NewEncoder(out)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// memory is a folder of which one file is wanted.
type memory struct {
	want string
	out  io.Writer
}

type closing struct{ io.Writer }

func (closing) Close() error { return nil }

func (m memory) Create(name string) (io.WriteCloser, error) {
	if name == m.want {
		return closing{m.out}, nil
	}
	return closing{io.Discard}, nil
}

func (memory) ClearDrawings(string) error { return nil }

// fromOrder takes one of the files of an order.
func fromOrder(name string) func(context.Context, *State, io.Writer) error {
	return func(ctx context.Context, s *State, out io.Writer) error {
		j, err := s.orderedJob(ctx)
		if err != nil {
			return err
		}
		_, err = j.WriteOrder(j.order, nil, memory{name, out})
		return err
	}
}

// fromBid takes one of the files of a bid.
func fromBid(name string) func(context.Context, *State, io.Writer) error {
	return func(ctx context.Context, s *State, out io.Writer) error {
		j, b, err := s.pricedJob(ctx)
		if err != nil {
			return err
		}
		_, err = j.WriteBid(b, memory{name, out})
		return err
	}
}

// writeBars writes every bar with its pieces.
func writeBars(ctx context.Context, s *State, out io.Writer) error {
	zones, err := s.job.cutZones(ctx)
	if err != nil {
		return err
	}
	var list []cut.Zone
	for _, z := range zones {
		list = append(list, cut.Zone{ID: z.id, Profiles: z.bars})
	}
	return cut.WriteCSV(out, list)
}

// writeCutSheets writes the drawings by which boards are cut as one document.
func writeCutSheets(ctx context.Context, s *State, out io.Writer) error {
	zones, err := s.job.cutZones(ctx)
	if err != nil {
		return err
	}
	set, err := s.set(ctx, strings.HasPrefix(s.job.Practice.ID, plan.US))
	if err != nil {
		return err
	}
	var list []*drawing.Scene
	for _, z := range zones {
		for i := range z.boards {
			list = append(list, set.CutSheets(z.id, &z.boards[i], s.job.cutOptions())...)
		}
	}
	return document.WriteScenes(out, "How boards are cut", list)
}

// PackChoice is what a pack is made of; the zero value is everything.
type PackChoice struct {
	Parts  []document.Part `json:"parts,omitempty"`
	Levels []string        `json:"levels,omitempty"` // whose sheets are wanted
}

// Pack writes the pack that people print. The error is that of ctx or of out; what
// was written by then is no whole document. Progress may be called from several
// goroutines.
func (s *State) Pack(ctx context.Context, c PackChoice, progress Progress, out io.Writer) error {
	s.judge()
	j := s.job
	beside := j.Masonry()
	checks := make(map[string][]proof.Check, len(s.proofs))
	for i := range s.proofs {
		checks[s.proofs[i].Wall] = s.proofs[i].Checks
	}
	in := document.Input{
		Input: j.drawn(), Set: sheets.New(j.drawn()), TakeOff: j.rows(), Findings: j.Findings, Masonry: &beside,
		Proof: func(wall string) []proof.Check { return checks[wall] }, Parts: c.Parts, Levels: c.Levels,
	}
	if in.Wants(document.PartCutting) {
		var err error
		if in.Cutting, err = j.cutting(ctx); err != nil {
			return err
		}
	}
	return document.PackIn(ctx, out, in, func(done, total int) { progress("making the pack", done, total) })
}
