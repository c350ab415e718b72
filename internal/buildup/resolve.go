package buildup

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// sameWall is how far a build-up's thickness may be from that of a wall drawn
// without one. Common practice: architects draw 100 mm for anything from 95 to
// 115 mm.
const sameWall = 20 * quantity.Millimetre

// Resolver resolves the build-ups of one plan, each once, however many walls
// have it. It can be used by several goroutines.
type Resolver struct {
	plan    *plan.Plan
	pr      *catalogue.Practice
	named   map[string]*candidate
	drawn   []*candidate // the plan's build-ups for walls with two faces, in its order
	generic []*candidate // from the catalogue, thinnest first
	usual   *candidate
	index   map[*plan.Wall]int
	first   map[*candidate]string // id of the first wall that has it
}

// candidate is a build-up that walls may have; build is nil where it cannot be
// made, and notes say why.
type candidate struct {
	build *BuildUp
	notes finding.List
}

// NewResolver resolves every build-up of the plan.
func NewResolver(p *plan.Plan, cat *catalogue.Catalogue, pr *catalogue.Practice) *Resolver {
	r := &Resolver{plan: p, pr: pr, named: map[string]*candidate{}, index: map[*plan.Wall]int{}, first: map[*candidate]string{}}
	for i := range p.BuildUps {
		spec := p.BuildUps[i]
		c := &candidate{}
		c.build, c.notes = build(spec, fmt.Sprintf("buildups[%d]", i), cat, pr)
		if _, twice := r.named[spec.ID]; !twice {
			r.named[spec.ID] = c
		}
		if c.build != nil && !c.build.Kind.OneSided() {
			r.drawn = append(r.drawn, c)
		}
	}
	r.offer(cat)
	for i := range p.Walls {
		w := &p.Walls[i]
		r.index[w] = i
		if c := r.choose(w); c != nil && r.first[c] == "" {
			r.first[c] = w.ID
		}
	}
	return r
}

// Resolve returns the build-up of one wall of the plan, with what has to be
// said about it: a build-up that was assumed, or an error and nil where the
// wall cannot be laid out. What there is to say about a build-up itself comes
// with the first wall that has it.
func (r *Resolver) Resolve(w *plan.Wall) (*BuildUp, finding.List) {
	c := r.choose(w)
	if c == nil {
		return nil, finding.List{r.without(w)}
	}
	var found finding.List
	if r.first[c] == w.ID {
		found = slices.Clone(c.notes)
	}
	switch {
	case c.build == nil:
		found.Add(r.about(w, finding.Error, "buildup-unusable", words.F("left out because of build-up %s", w.BuildUp), ""))
	case w.BuildUp == "":
		found.Add(r.assumed(w, c.build))
	}
	return c.build, found
}

// choose returns the build-up that the wall names, or the one to assume, or nil.
func (r *Resolver) choose(w *plan.Wall) *candidate {
	switch {
	case w.BuildUp != "":
		return r.named[w.BuildUp]
	case w.Thickness <= 0:
		return r.usual
	}
	if c := nearest(r.drawn, w.Thickness); c != nil && (c.build.Thickness-w.Thickness).Abs() <= sameWall {
		return c
	}
	return nearest(r.generic, w.Thickness)
}

// nearest returns the candidate whose thickness is nearest, the first of equals.
func nearest(list []*candidate, thickness Length) *candidate {
	if len(list) == 0 {
		return nil
	}
	return slices.MinFunc(list, func(a, b *candidate) int {
		return cmp.Compare((a.build.Thickness - thickness).Abs(), (b.build.Thickness - thickness).Abs())
	})
}

// offer makes build-ups of the practice's usual products: single frames of
// every stud of the usual stud's series, with one or two layers a face. Equal
// thicknesses begin with the usual number of layers.
func (r *Resolver) offer(cat *catalogue.Catalogue) {
	usual, ok := cat.Profile(r.pr.UsualStud.Value)
	if !ok {
		return
	}
	layers := r.pr.UsualLayers.Value
	r.usual = r.plain(cat, usual, layers)
	for i := range cat.Profiles {
		p := &cat.Profiles[i]
		if !series(p, usual) {
			continue
		}
		for n := 1; n <= 2; n++ {
			if c := r.plain(cat, p, n); c != nil {
				r.generic = append(r.generic, c)
			}
		}
	}
	off := func(c *candidate) int { return max(len(c.build.A)-layers, layers-len(c.build.A)) }
	slices.SortStableFunc(r.generic, func(a, b *candidate) int {
		return cmp.Or(cmp.Compare(a.build.Thickness, b.build.Thickness), cmp.Compare(off(a), off(b)))
	})
}

// series reports whether two studs differ in their depth only.
func series(a, b *catalogue.Profile) bool {
	return a.Kind == b.Kind && a.Standard == b.Standard && a.Flange == b.Flange && a.Lip == b.Lip && a.Thickness == b.Thickness
}

// plain makes a single frame with layers of the usual board on both faces.
func (r *Resolver) plain(cat *catalogue.Catalogue, stud *catalogue.Profile, layers int) *candidate {
	board := r.pr.UsualBoard.Value
	spec := plan.BuildUp{
		ID:    fmt.Sprintf("%s + %d x %s", stud.ID, layers, board),
		Frame: plan.FrameSpec{Kind: plan.Single, Stud: stud.ID},
		FaceA: slices.Repeat([]string{board}, max(layers, 1)),
	}
	b, notes := build(spec, "", cat, r.pr)
	if b == nil {
		return nil
	}
	for i := range notes {
		notes[i].Path = ""
	}
	return &candidate{b, notes}
}

// about makes a finding about a wall's build-up.
func (r *Resolver) about(w *plan.Wall, severity finding.Severity, code string, what, fix words.Text) finding.Finding {
	f := finding.Finding{Code: code, Severity: severity, Object: w.ID, What: what, Fix: fix}
	if i, ok := r.index[w]; ok {
		f.Path = fmt.Sprintf("walls[%d].buildup", i)
	}
	return f
}

// without tells that a wall has no build-up.
func (r *Resolver) without(w *plan.Wall) finding.Finding {
	if w.BuildUp == "" {
		return r.about(w, finding.Error, "buildup-missing",
			words.F("the wall names no build-up, and the usual one of %s and %s cannot be made", r.pr.UsualStud.Value, r.pr.UsualBoard.Value), "name a build-up")
	}
	return r.about(w, finding.Error, "buildup-unknown", words.F("there is no build-up %q", w.BuildUp), yamlfile.Suggest(w.BuildUp, "build-ups", r.ids()))
}

// ids lists the plan's build-ups.
func (r *Resolver) ids() []string {
	var all []string
	for i := range r.plan.BuildUps {
		all = append(all, r.plan.BuildUps[i].ID)
	}
	return all
}

// assumed tells which build-up was taken for a wall that names none. A wall
// that comes out more than 20 mm thicker or thinner than drawn needs a person,
// and so does one of which something is asked.
func (r *Resolver) assumed(w *plan.Wall, b *BuildUp) finding.Finding {
	given, than := "no build-up is given", ", as drawn"
	difference := b.Thickness - w.Thickness
	severity := finding.Assumed
	switch {
	case w.Thickness <= 0:
		given, than, difference = "neither build-up nor thickness is given", "", 0
	case difference > 0:
		than = fmt.Sprintf(", %s mm thicker than drawn", difference)
	case difference < 0:
		than = fmt.Sprintf(", %s mm thinner than drawn", -difference)
	}
	what := words.F("%s; %s, %s mm thick%s, is assumed", given, b.Spec.ID, b.Thickness, than)
	fix := words.Text("name the build-up that the wall shall have")
	if asked := w.Require.Asked(); len(asked) > 0 {
		what += words.F("; what is asked of it (%s) was not considered in choosing it", strings.Join(asked, ", "))
		fix += ", one with test evidence for what is asked"
	}
	if difference.Abs() > sameWall || len(w.Require.Asked()) > 0 {
		severity = finding.Warning
	}
	return r.about(w, severity, "buildup-assumed", what, fix)
}
