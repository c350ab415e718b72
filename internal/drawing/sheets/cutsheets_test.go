package sheets_test

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/cut"
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

// Every member is named on the lists of bars, with its length, and every rest that is
// kept with where it goes.
func TestBarSheets(t *testing.T) {
	p := plantest.Offices(30)
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID(p.Practice)
	l := layout.Of(p, cat, pr)
	zone := func(w *layout.Wall) string { return w.ID }
	zones := cut.Zones(context.Background(), l.Walls, cat, cut.Yard{Zone: zone, Keep: 200 * mm, Effort: 1_000_000})
	set := sheets.New(sheets.Input{Plan: p, Layout: l, Catalogue: cat, Practice: pr})
	goes := 0
	for _, z := range zones {
		text := ""
		for _, sc := range set.BarSheets(z.ID, z.Profiles) {
			for _, c := range drawing.Clashes(sc) {
				t.Errorf("%s: %v", sc.Name, c)
			}
			for _, x := range drawing.Outside(sc, drawing.NewRect(0, 0, drawing.A3.Width, drawing.A3.Height)) {
				t.Errorf("%s: %q runs out of the paper", sc.Name, x.Text)
			}
			for _, x := range drawing.Texts(sc) {
				text += x.Text + " "
			}
		}
		for _, p := range z.Profiles {
			for _, b := range p.Bars {
				for _, x := range b.Pieces {
					if !strings.Contains(text, x.Mark) {
						t.Errorf("%s: %s of %s is not named", z.ID, x.Mark, x.Wall)
					}
				}
				if b.Kept != nil && !strings.Contains(text, b.Kept.Mark) {
					t.Errorf("%s: rest %s is not named", z.ID, b.Kept.Mark)
				}
				if b.From != nil {
					goes++
					if !strings.Contains(text, b.From.Mark) || !strings.Contains(text, b.From.Zone) {
						t.Errorf("%s: nothing says that a bar is %s of %s", z.ID, b.From.Mark, b.From.Zone)
					}
				}
			}
		}
	}
	if goes == 0 {
		t.Error("no rest is used")
	}
}

// Details are numbered as one reads them: sheet by sheet, from above, from the left.
func TestDetailsInOrder(t *testing.T) {
	p := plantest.Offices(60)
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID(p.Practice)
	set := sheets.New(sheets.Input{Plan: p, Layout: layout.Of(p, cat, pr), Catalogue: cat, Practice: pr})
	number := 0
	for _, sc := range set.Details() {
		var titles []drawing.Text
		for _, x := range drawing.Texts(sc) {
			if strings.HasPrefix(x.Text, "Detail ") && x.Bold {
				titles = append(titles, x)
			}
		}
		slices.SortFunc(titles, func(a, b drawing.Text) int {
			return cmp.Or(cmp.Compare(math.Round(a.At.Y), math.Round(b.At.Y)), cmp.Compare(a.At.X, b.At.X))
		})
		for _, x := range titles {
			number++
			if want := fmt.Sprintf("Detail %d:", number); !strings.HasPrefix(x.Text, want) {
				t.Errorf("%s: %q stands where %s is due", sc.Name, x.Text, want)
			}
		}
	}
	if number < 10 {
		t.Errorf("only %d details", number)
	}
}
