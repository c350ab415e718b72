package document

import (
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/drawing"
	"nogging/internal/drawing/sheets"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// TestScenes: no text of the pages before and after the drawings lies over
// another or outside the frame.
func TestScenes(t *testing.T) {
	cat := catalogue.Shipped()
	for _, practice := range []string{"metric", "us"} {
		pr, ok := cat.PracticeByID(practice)
		if !ok {
			t.Fatalf("no practice %s", practice)
		}
		p := newPack(Input{Input: sheets.Input{Catalogue: cat, Practice: pr, Layout: &layout.Project{}, Plan: &plan.Plan{
			Practice: practice, Levels: []plan.Level{{ID: "L0"}, {ID: "L1"}},
			Project: plan.Project{Name: "Harbour clinic with a long name that wants to be told in full on the cover", Address: "Quay Street 4", Client: "Harbour Health"},
		}},
			TakeOff:  []Row{{Group: "boards", Code: "GKB-12.5", Description: "Gypsum board 12.5 mm", Unit: "m²", Total: 123456.7, PerLevel: []float64{100000, 23456.7}}},
			Findings: finding.List{{Severity: finding.Warning, Object: "L1-07", What: "is 12 mm too long for the board", Fix: "use a longer board"}},
		})
		p.gather()
		list := append(p.front, p.back...)
		for _, s := range list {
			for _, c := range drawing.Clashes(s) {
				t.Errorf("%s: %q overlaps %q", s.Name, c.A.Text, c.B.Text)
			}
			frame := s.Size.Space().Inset(-5)
			for _, x := range drawing.Outside(s, frame) {
				t.Errorf("%s: %q lies outside the frame", s.Name, x.Text)
			}
		}
	}
}

// TestNothingToSay: a pack without findings has no page of findings, and one
// with a finding of a wall tells it on the wall's own sheets, too.
func TestNothingToSay(t *testing.T) {
	in := Input{Input: sheets.Input{Catalogue: &catalogue.Catalogue{}, Plan: &plan.Plan{}, Layout: &layout.Project{}}}
	if got := newPack(in).findingSheets(); len(got) != 0 {
		t.Errorf("%d sheets of no findings", len(got))
	}
	in.Findings = finding.List{{Severity: finding.Error, Object: "L1-07", What: "is not there"}}
	if got := newPack(in).findingSheets(); len(got) != 1 {
		t.Errorf("%d sheets of one finding", len(got))
	}
}

// TestAmount: the pack writes quantities as the take-off's own file does.
func TestAmount(t *testing.T) {
	tests := []struct {
		v    float64
		unit string
		want string
	}{{0, "m", "–"}, {12.345, "m", "12.35"}, {3, "m²", "3.00"}, {7, "pcs", "7"}}
	for _, tt := range tests {
		if got := amount(tt.v, tt.unit); got != tt.want {
			t.Errorf("%v %s: %q, want %q", tt.v, tt.unit, got, tt.want)
		}
	}
}
