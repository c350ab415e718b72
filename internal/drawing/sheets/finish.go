package sheets

import (
	"fmt"
	"strconv"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/finish"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// squareFeet in a square metre (the international foot is 0.3048 m).
const squareFeet = 1 / (0.3048 * 0.3048)

// area writes square metres in the unit of areas.
func (u units) area(m2 float64) string {
	if u.imperial {
		m2 *= squareFeet
	}
	return strconv.FormatFloat(m2, 'f', 2, 64)
}

func (u units) areaUnit() string {
	if u.imperial {
		return "ft²"
	}
	return "m²"
}

// finishList is the finish schedule of a wall: what is taped, coated, skimmed and
// painted, in the order of the work.
func (s *Set) finishList(w *layout.Wall) *drawing.Table {
	if s.in.Practice == nil || len(w.Faces) == 0 {
		return &drawing.Table{}
	}
	f := finish.Of(w, s.in.Catalogue, s.in.Practice)
	level := f.Level
	if f.Assumed {
		level += ", the usual level"
	}
	t := &drawing.Table{Title: fmt.Sprintf("Finish %s: areas in %s", level, s.units.areaUnit()), Columns: []drawing.Column{
		{Head: "Work", Width: 62}, {Head: "Face A", Width: 17, Align: drawing.Right}, {Head: "Face B", Width: 17, Align: drawing.Right},
		{Head: "Product", Width: 34}, {Head: s.units.massUnit(), Width: 13, Align: drawing.Right},
	}}
	s.listTapes(t, w, f)
	s.listCoats(t, f)
	s.listSpreads(t, f)
	return t
}

// listTapes lists what fills recesses, and tapes by their lengths.
func (s *Set) listTapes(t *drawing.Table, w *layout.Wall, f *finish.Wall) {
	type fill struct{ what, product string }
	lengths, masses := map[string][2]float64{}, map[fill]float64{}
	var tapes []string
	var fills []fill
	for i, j := range f.Joints {
		if j.Fill > 0 {
			k := fill{"Recesses and rims filled", j.Filler}
			if !w.Joints[i].Outer {
				k.what = "Joints of inner layers filled"
			}
			if _, ok := masses[k]; !ok {
				fills = append(fills, k)
			}
			masses[k] += j.Fill
		}
		if j.Tape == "" {
			continue
		}
		per, ok := lengths[j.Tape]
		if !ok {
			tapes = append(tapes, j.Tape)
		}
		per[side(w.Joints[i].Face)] += j.Length
		lengths[j.Tape] = per
	}
	for _, k := range fills {
		t.Add(k.what, "", "", k.product, s.massOf(masses[k]))
	}
	for _, id := range tapes {
		t.Add("Tape bedded, length", s.units.run(lengths[id][0]), s.units.run(lengths[id][1]), id, "")
	}
}

// run writes a long length: metres, or feet.
func (u units) run(m float64) string {
	if u.imperial {
		return strconv.FormatFloat(m/0.3048, 'f', 1, 64) + "'"
	}
	return strconv.FormatFloat(m, 'f', 1, 64) + " m"
}

func side(f plan.Face) int {
	if f == plan.FaceB {
		return 1
	}
	return 0
}

func (s *Set) massOf(kg float64) string {
	return strconv.FormatFloat(s.units.inMass(kg), 'f', 2, 64)
}

// listCoats lists the coats over joints and screw heads.
func (s *Set) listCoats(t *drawing.Table, f *finish.Wall) {
	most := 0
	for i := range f.Faces {
		most = max(most, len(f.Faces[i].Coats))
	}
	for n := range most {
		var cells [2]string
		var width Length
		product, mass := "", 0.0
		for i := range f.Faces {
			if face := &f.Faces[i]; n < len(face.Coats) {
				c := face.Coats[n]
				cells[side(face.Face)] = s.units.area(c.Area + c.Beyond)
				width, product, mass = c.Width, c.Product, mass+c.Mass
			}
		}
		t.Add(fmt.Sprintf("Coat %d over joints, %s wide", n+1, s.units.thin(width)), cells[0], cells[1], product, s.massOf(mass))
	}
	if f.Heads.Area == 0 {
		return
	}
	var heads [2]string
	for i := range f.Faces {
		heads[side(f.Faces[i].Face)] = strconv.Itoa(f.Faces[i].Heads)
	}
	t.Add("Screw heads covered, number", heads[0], heads[1], f.Heads.Product, s.massOf(f.Heads.Amount))
}

// listSpreads lists what goes over the whole of what is seen.
func (s *Set) listSpreads(t *drawing.Table, f *finish.Wall) {
	add := func(what string, x finish.Spread, amount string) {
		if x.Area > 0 {
			t.Add(what+", "+s.units.area(x.Area)+" in all", "", "", x.Product, amount)
		}
	}
	add("Pores closed", f.Close, s.massOf(f.Close.Amount))
	add("Skim", f.Skim, s.massOf(f.Skim.Amount))
	add("Paint, two coats", f.Paint, s.units.volume(f.Paint.Amount)+" "+s.units.volumeUnit())
}

// coatNote says what the practice asks for between coats.
func (s *Set) coatNote(w *layout.Wall) string {
	pr := s.in.Practice
	if pr == nil || len(w.Faces) == 0 || len(pr.CoatWidths.Value) == 0 {
		return ""
	}
	var widths []string
	for _, c := range pr.CoatWidths.Value {
		widths = append(widths, s.units.thin(c))
	}
	return fmt.Sprintf("Bevel cut edges by %s. Coats %s wide (%s), each on a dry one, after %g h or more; none below %g °C; then sand, with the dust drawn off.",
		s.units.thin(pr.CutBevel.Value), strings.Join(widths, ", "), sourceOf(pr.CoatWidths.Source, pr.CoatWidths.Status), pr.CoatWait.Value, pr.JointMinimum.Value)
}
