package document

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/layout"
	"nogging/internal/proof"
	"nogging/internal/quantity"
)

// proofEntries arranges the proof of every wall on all processors.
func (p *pack) proofEntries() []entry {
	walls := slices.DeleteFunc(slices.Clone(p.in.Layout.Walls), func(w *layout.Wall) bool { return len(p.in.Levels) > 0 && !slices.Contains(p.in.Levels, w.Level) })
	list := make([]entry, len(walls))
	parallel(len(list), func(i int) {
		if p.ctx.Err() != nil {
			return
		}
		w := walls[i]
		draw := func() []*drawing.Scene { return p.proofSheets(w) }
		list[i] = entry{number: numbered(p.in.Plan.Project.Number, w.ID+"-P"), title: "Wall " + w.ID + ": proof", scale: "–", sheets: len(draw()), draw: draw}
	})
	return list
}

// proofNotes stand on every sheet of proofs.
var proofNotes = []string{
	"'Not proven' means that something is missing or out of a method's scope, not that the wall fails. 'Shown' was not asked.",
	"Test evidence recorded in a catalogue decides before any calculation. result.json has every figure down to its inputs.",
}

// proofSheets sets the checks of one wall: what is asked and got, by which method,
// what is missing, and the figures that each result was found from.
func (p *pack) proofSheets(w *layout.Wall) []*drawing.Scene {
	f := newFlow(w.ID+"-P", "Wall "+w.ID+": proof", 1)
	t := &drawing.Table{Title: "Wall " + w.ID + ", build-up " + w.BuildUp, Columns: []drawing.Column{
		{Head: "Check", Width: 76}, {Head: "Asked", Width: 36}, {Head: "Got", Width: 50}, {Head: "Used", Width: 16, Align: drawing.Right},
		{Head: "Verdict", Width: 24}, {Head: "Method and source, or what is missing", Width: f.width() - 76 - 36 - 50 - 16 - 24 - 34}, {Head: "Status", Width: 34},
	}}
	need := proof.Need("")
	told := map[string]bool{}
	for _, c := range p.in.Proof(w.ID) {
		if c.Need != need {
			need = c.Need
			t.Heading(strings.ToUpper(string(need[:1])) + string(need[1:]))
			clear(told)
		}
		p.addCheck(t, &c, told)
	}
	f.table(t)
	for i, s := range f.scenes {
		p.titled(s, w.ID+"-P", i+1, len(f.scenes), caution, proofNotes)
	}
	return f.scenes
}

// addCheck adds one check; below it stand what is missing, what would work and,
// where something was asked, the figures that the result was found from. What was
// told under the same need is not told again.
func (p *pack) addCheck(t *drawing.Table, c *proof.Check, told map[string]bool) {
	got, how, status, used := "", "", "", ""
	if c.Got != nil {
		got, how, status = c.Got.Figure(), reason(c.Got), string(c.Got.Weakest())
	}
	if c.Use > 0 {
		used = fmt.Sprintf("%.0f %%", 100*c.Use)
	}
	t.Add(p.set.Measures(c.Name), c.Asked, got, used, string(c.Verdict), how, status)
	below := func(cells ...string) {
		if key := strings.Join(cells, "|"); !told[key] {
			told[key] = true
			from := len(t.Rows)
			t.Add(cells...)
			for i := from; i < len(t.Rows); i++ {
				t.Rows[i].Joined = true
			}
		}
	}
	for _, m := range c.Missing {
		below("", "", "", "", "", "open: "+p.set.Measures(m), "")
	}
	if c.Advice != "" && c.Verdict != proof.Passes {
		below("", "", "", "", "", "what would work: "+p.set.Measures(c.Advice.String()), "")
	}
	if c.Got == nil || c.Asked == "" {
		return
	}
	for i := range c.Got.From {
		d := &c.Got.From[i]
		below("– "+d.Name, "", d.Figure(), "", "", reason(d), string(d.Weakest()))
	}
}

// reason says how a figure was found.
func reason(d *quantity.Derivation) string {
	var parts []string
	for _, s := range []string{d.Method, d.Source, d.Note} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, "; ")
}
