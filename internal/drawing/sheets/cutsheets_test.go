package sheets_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/cut/boards"
	"nogging/internal/drawing"
	"nogging/internal/drawing/sheets"
	"nogging/internal/layout"
	"nogging/internal/plantest"
)

// Every piece of the cutting plan is named on its sheets, and nothing runs out of the
// paper or over other words.
func TestCutSheets(t *testing.T) {
	p := plantest.Offices(14)
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID(p.Practice)
	l := layout.Of(p, cat, pr)
	o := boards.Options{Walls: 5}
	zones, err := boards.Plan(context.Background(), l.Walls, cat, pr, o)
	if err != nil {
		t.Fatal(err)
	}
	set := sheets.New(sheets.Input{Plan: p, Layout: l, Catalogue: cat, Practice: pr})
	for _, z := range zones {
		for i := range z.Boards {
			b := &z.Boards[i]
			var said []string
			for _, sc := range set.CutSheets(z.ID, b, o) {
				for _, c := range drawing.Clashes(sc) {
					t.Errorf("%s: %v", sc.Name, c)
				}
				for _, x := range drawing.Outside(sc, drawing.NewRect(0, 0, drawing.A3.Width, drawing.A3.Height)) {
					t.Errorf("%s: %q runs out of the paper", sc.Name, x.Text)
				}
				for _, x := range drawing.Texts(sc) {
					said = append(said, strings.FieldsFunc(x.Text, func(r rune) bool { return strings.ContainsRune(" ,;", r) })...)
				}
			}
			for k := range b.Pieces {
				if !slices.Contains(said, b.Pieces[k].Mark) {
					t.Errorf("%s of %s is not named", b.Pieces[k].Name(), b.Product)
				}
			}
		}
	}
}
