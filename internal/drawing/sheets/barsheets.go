package sheets

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	barcut "nogging/internal/cut"
	"nogging/internal/drawing"
)

// DraftBarSheets arranges the cutting plans of the profiles of one zone: which bar is
// cut into what, for which walls, and what is left. Bars that are cut alike into one
// piece each share a row.
func (s *Set) DraftBarSheets(zone string, profiles []barcut.Profile) Draft {
	d := Draft{Number: s.numbered("K-" + zone + "-bars"), Title: "Cutting plan, profiles", Scale: "–"}
	ps := &pages{field: drawing.A3.Field()}
	for i := range profiles {
		ps.addTable(s.barTable(&profiles[i], (ps.field.Width()-air)/2), false)
	}
	d.Sheets = len(ps.list)
	d.draw = func(i int) *drawing.Scene {
		t := s.title()
		t.Title, t.Subtitle, t.Drawing, t.Kind = d.Title, zone, d.Number, "Cutting plan"
		t.Scale, t.Sheet, t.Sheets = d.Scale, i+1, d.Sheets
		sc := ps.list[i].sheet("cutting-"+FileName(zone)+"-bars-"+strconv.Itoa(i+1), d.Title)
		drawing.Finish(sc, t, "Cut a first bar and check it before cutting a series. Cut steel is sharp: wear gloves and eye protection.", []string{
			s.units.note() + " Mark each piece as it comes off.",
			"A rest that is kept gets its mark (R01 …) and goes to the zone that is named."})
		return sc
	}
	return d
}

// BarSheets draws the cutting plans of the profiles of one zone.
func (s *Set) BarSheets(zone string, profiles []barcut.Profile) []*drawing.Scene {
	d := s.DraftBarSheets(zone, profiles)
	return d.All()
}

// barRow is the bars that share a row.
type barRow struct {
	numbers []int
	bar     *barcut.Bar
	names   []string
	kept    []string
}

// barTable lists the bars of one profile.
func (s *Set) barTable(p *barcut.Profile, width float64) *drawing.Table {
	t := &drawing.Table{Title: s.barTitle(p), Columns: []drawing.Column{
		{Head: "Bars", Width: 26}, {Head: "No.", Width: 9, Align: drawing.Right}, {Head: "Length", Width: 30}, {Head: "Pieces: length, wall, mark", Width: width - 26 - 9 - 30 - 13 - 30}, {Head: "Rest", Width: 13, Align: drawing.Right}, {Head: "Kept as", Width: 30},
	}}
	for _, r := range barRows(p) {
		var text string
		if len(r.bar.Pieces) == 1 {
			text = s.units.dim(r.bar.Pieces[0].Length) + "  " + strings.Join(byWall(r.names), "; ")
		} else {
			var pieces []string
			for i, x := range r.bar.Pieces {
				pieces = append(pieces, s.units.dim(x.Length)+" "+strings.Replace(r.names[i], "/", " ", 1))
			}
			text = strings.Join(pieces, "; ")
		}
		length := s.units.dim(r.bar.Length)
		switch {
		case r.bar.From != nil:
			length += fmt.Sprintf(", %s of %s, bar %d", r.bar.From.Mark, r.bar.From.Zone, r.bar.From.Bar)
		case r.bar.Source != barcut.FromStock:
			length += ", " + string(r.bar.Source)
		}
		t.Add(ranges("", slices.Clone(r.numbers)), strconv.Itoa(len(r.numbers)), length, text, s.units.dim(r.bar.Rest), strings.Join(r.kept, "; "))
	}
	return t
}

// barTitle sums the plan up.
func (s *Set) barTitle(p *barcut.Profile) string {
	good := "no plan needs less"
	if p.Cost != p.Bound {
		good = fmt.Sprintf("at most %.2f %% above the least possible", 100*p.Gap())
	}
	return fmt.Sprintf("%s: %d bars, %.2f m bought, %.2f m needed; %s", p.Name, len(p.Bars)+len(p.Spare), p.Bought.Metres(), p.Needed.Metres(), good)
}

// barRows gathers bars that give one piece of one length and leave nothing that is
// kept; the others have a row each.
func barRows(p *barcut.Profile) []*barRow {
	var rows []*barRow
	all := slices.Concat(p.Bars, p.Spare)
	for i := range all {
		b := &all[i]
		var names, kept []string
		for _, x := range b.Pieces {
			names = append(names, x.Wall+"/"+x.Mark)
		}
		if b.Kept != nil {
			kept = append(kept, b.Kept.String())
		}
		if k := slices.IndexFunc(rows, func(r *barRow) bool { return alikeBars(r.bar, b) }); k >= 0 {
			r := rows[k]
			r.numbers, r.names, r.kept = append(r.numbers, i+1), append(r.names, names...), append(r.kept, kept...)
			continue
		}
		rows = append(rows, &barRow{[]int{i + 1}, b, names, kept})
	}
	return rows
}

func alikeBars(a, b *barcut.Bar) bool {
	return len(a.Pieces) == 1 && len(b.Pieces) == 1 && a.Length == b.Length && a.Source == b.Source && a.From == nil && b.From == nil &&
		a.Pieces[0].Length == b.Pieces[0].Length && a.Rest == b.Rest
}
