package app

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"testing"
	"time"

	"nogging/internal/exchange/ifc/write"
	"nogging/internal/plan"
)

const troubled = `nogging: 1
project: {name: Trouble, number: "7"}
practice: metric
levels: [{id: L1, clear_height: 2600}, {id: L2, clear_height: 2600, deflection: 10}]
structure: [{id: C1, level: L1, kind: column, outline: [[2800, -200], [3200, -200], [3200, 200], [2800, 200]]}]
buildups: [{id: one, frame: {kind: single, stud: CW75}, face_a: [GKB-12.5]}]
walls:
  - {id: L1-01, level: L1, buildup: one, line: [[0, 0], [6000, 0]], require: {fire: EI 60}, openings: [
      {kind: door, at: 500, width: 900, height: 2100}, {kind: door, at: 4000, width: 900, height: 2100, leaf: {fire: T30}}, {kind: penetration, at: 2000, width: 100, height: 100, sill: 1500}]}
  - {id: L2-01, level: L2, buildup: one, line: [[0, 0], [6000, 0]]}
`

// TestTopics: what others have to settle, with the components of the model that is written
// of the same plan; nothing of what only the fitters have to know.
func TestTopics(t *testing.T) {
	p, _ := plan.Parse("p.yaml", []byte(troubled))
	j := OfPlan(p, func(string) ([]byte, error) { return nil, io.EOF })
	j.Build(Quiet)
	var out, again bytes.Buffer
	date := time.Date(2027, 1, 11, 0, 0, 0, 0, time.UTC)
	if err := j.Export("x.bcfzip", &out, ExportOptions{Date: date}); err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(out.Bytes()), int64(out.Len()))
	if err != nil {
		t.Fatal(err)
	}
	all := ""
	for _, f := range z.File {
		r, _ := f.Open()
		text, _ := io.ReadAll(r)
		all += string(text)
	}
	for _, want := range []string{
		"L1: how far does the slab above deflect?", "L1-01/1: which fire class has the door?", "L1-01/3: what runs through, and how is it sealed?",
		"<Labels>Structural engineer</Labels>", "<Labels>Architect</Labels>", "<Labels>Services</Labels>", "2027-01-11T00:00:00Z", "is not proven for fire",
		write.ID(p, "wall", "L1-01"), write.ID(p, "opening", "L1-01", "L1-01/1"), write.ID(p, "storey", "L1"), write.ID(p, "project"),
	} {
		if !strings.Contains(all, want) {
			t.Errorf("no %q in\n%s", want, all)
		}
	}
	for _, no := range []string{"L1-01/2: which fire class", "L2: how far"} {
		if strings.Contains(all, no) {
			t.Errorf("%q is asked", no)
		}
	}
	// The ids are those of the building model.
	var model bytes.Buffer
	if err := j.Export("x.ifc", &model, ExportOptions{}); err != nil {
		t.Fatal(err)
	}
	for _, id := range []string{write.ID(p, "wall", "L1-01"), write.ID(p, "opening", "L1-01", "L1-01/1"), write.ID(p, "storey", "L1")} {
		if !strings.Contains(model.String(), "('"+id+"'") {
			t.Errorf("%s is not in the model", id)
		}
	}
	if err := j.Export("x.bcfzip", &again, ExportOptions{Date: date}); err != nil || !bytes.Equal(out.Bytes(), again.Bytes()) {
		t.Error("two writings differ", err)
	}
}
