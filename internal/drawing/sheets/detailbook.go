package sheets

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/setout"
)

// detailBook is every detail of a project, each drawn once, and where it
// applies.
type detailBook struct {
	list   []*detail
	sheets [][]placedDetail
	refs   map[string][]detailRef // by wall
	seen   map[uint64]*detail
}

// detailRef says which detail shows one place of a wall.
type detailRef struct {
	what  string
	which []string // ids of the opening, or of the walls that meet
	d     *detail
}

// bindDetails takes the details of every wall, and numbers those that differ.
func (s *Set) bindDetails() *detailBook {
	t := s.newTaker()
	b := t.book
	for _, w := range s.in.Layout.Walls {
		t.walls[w.ID] = w.OnAxis()
	}
	for _, w := range s.in.Layout.Walls {
		if len(w.FrameLines) > 0 {
			t.wall(t.walls[w.ID])
		}
	}
	for i := range s.in.Layout.Junctions {
		t.junction(&s.in.Layout.Junctions[i])
	}
	slices.SortStableFunc(b.list, func(x, y *detail) int { return cmp.Compare(x.kind, y.kind) })
	b.sheets = s.arrangeDetails(b.list)
	n := 0
	for _, sheet := range b.sheets {
		for _, pl := range sheet {
			n++
			pl.detail.number = n
		}
	}
	slices.SortFunc(b.list, func(x, y *detail) int { return cmp.Compare(x.number, y.number) })
	for _, d := range b.list {
		if d.kind == bodyDetail {
			s.keepLeads(d)
		}
	}
	return b
}

// keepLeads chooses the leaders of a detail once for all the sheets on which it
// will stand.
func (s *Set) keepLeads(d *detail) {
	leads := d.leads
	for _, sc := range s.units.detailScales()[1:] {
		leads[sc] = s.newDetailView(d, "", "", sc).leads
	}
	d.leads = leads
}

// taker takes details off a layout.
type taker struct {
	set    *Set
	book   *detailBook
	walls  map[string]*layout.Wall
	bodies map[string][]standing // existing structure, by level
}

// standing is one body of existing structure in plan.
type standing struct {
	name  string
	shape geom.Polygon
}

func structureName(x *plan.Structure) string {
	kind := cmp.Or(x.Kind, "wall")
	if kind == "other" {
		kind = "structure"
	}
	return strings.Join(strings.Fields("existing "+x.Material+" "+kind), " ")
}

// newTaker returns a taker with an empty book that knows the existing structure.
func (s *Set) newTaker() *taker {
	t := &taker{set: s, book: &detailBook{refs: map[string][]detailRef{}, seen: map[uint64]*detail{}}, walls: map[string]*layout.Wall{}, bodies: map[string][]standing{}}
	for i := range s.in.Plan.Structure {
		x := &s.in.Plan.Structure[i]
		for _, b := range setout.Outlines(x) {
			t.bodies[x.Level] = append(t.bodies[x.Level], standing{structureName(x), b})
		}
	}
	return t
}

// file keeps a detail unless one like it is there, and notes where it applies.
func (t *taker) file(d *detail, what string, which []string, keepX, keepY bool, walls ...string) {
	if len(d.parts) == 0 {
		return
	}
	key, overX, overY := d.usual(keepX, keepY)
	if old, ok := t.book.seen[key]; ok {
		d = old
	} else {
		d = d.mirrored(overX, overY)
		t.book.seen[key] = d
		t.book.list = append(t.book.list, d)
	}
	for _, w := range walls {
		if !slices.Contains(d.walls, w) {
			d.walls = append(d.walls, w)
		}
		t.book.refs[w] = append(t.book.refs[w], detailRef{what, which, d})
	}
}

// DraftDetails arranges the sheets of details: sections through everything that
// occurs in the project, each drawn once, at scales of 1:2 to 1:10.
func (s *Set) DraftDetails() Draft {
	d := Draft{Number: s.numbered("D"), Title: "Details"}
	book := s.book()
	d.Sheets, d.Scale = len(book.sheets), "as shown"
	d.draw = func(i int) *drawing.Scene {
		b := s.title()
		b.Title, b.Subtitle, b.Drawing, b.Kind = "Details", "sections through the parts as laid out; mirrored places count as the same", d.Number, "Construction drawing"
		b.Scale, b.Sheet, b.Sheets = "as shown", i+1, d.Sheets
		sc := s.detailSheet(book.sheets[i]).sheet("details-"+strconv.Itoa(i+1), "Details")
		drawing.Finish(sc, b, caution, []string{s.units.note() + " Do not scale; check on site before cutting.", fireNote})
		return sc
	}
	return d
}

// fireNote stands on the sheets of details.
const fireNote = "Where a wall is asked to resist fire, the details of its test evidence go before these."

// Details draws the sheets of details.
func (s *Set) Details() []*drawing.Scene {
	d := s.DraftDetails()
	return d.All()
}

// detailNote says which details show the places of a wall, those of one detail
// together.
func (s *Set) detailNote(w *layout.Wall) []string {
	type group struct {
		what   string
		number int
		which  []string
	}
	var groups []group
	for _, r := range s.book().refs[w.ID] {
		i := slices.IndexFunc(groups, func(g group) bool { return g.what == r.what && g.number == r.d.number })
		if i < 0 {
			i = len(groups)
			groups = append(groups, group{what: r.what, number: r.d.number})
		}
		if which := r.seenFrom(w.ID); which != "" && !slices.Contains(groups[i].which, which) {
			groups[i].which = append(groups[i].which, which)
		}
	}
	var parts []string
	for _, g := range groups {
		text := fmt.Sprintf("%s %d", g.what, g.number)
		if len(g.which) > 0 {
			text += " (" + strings.Join(g.which, ", ") + ")"
		}
		parts = append(parts, text)
	}
	if len(parts) == 0 {
		return nil
	}
	return []string{"Details (drawing " + s.numbered("D") + "): " + strings.Join(parts, "; ") + "."}
}

// seenFrom names the place of a detail on a wall: the opening, or the other walls.
func (r detailRef) seenFrom(wall string) string {
	return strings.Join(slices.DeleteFunc(slices.Clone(r.which), func(id string) bool { return id == wall }), ", ")
}

// addSection places the section at a wall's stud at the largest scale that saves
// a sheet.
func (s *Set) addSection(ps *pages, w *layout.Wall, right bool) bool {
	var ref *detailRef
	for i := range s.book().refs[w.ID] {
		if r := &s.book().refs[w.ID][i]; r.d.kind == bodyDetail {
			ref = r
		}
	}
	if ref == nil {
		return true
	}
	title := fmt.Sprintf("Build-up %s (detail %d)", w.BuildUp, ref.d.number)
	scales := s.units.detailScales()[1:]
	for _, sc := range scales {
		if v := s.newDetailView(ref.d, title, "level section at a stud", sc); ps.takes(v) {
			return ps.add(v, right)
		}
	}
	return ps.add(s.newDetailView(ref.d, title, "level section at a stud", scales[len(scales)-1]), right)
}
