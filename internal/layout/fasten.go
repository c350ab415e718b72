package layout

import (
	"math"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/plan"
)

// fasten anchors every profile that touches the structure and puts the seal
// behind it.
func (w *wallLayout) fasten() {
	for i := range w.out.Members {
		m := &w.out.Members[i]
		switch m.Role {
		case FloorTrack:
			w.anchor(m, "floor", w.underFoot())
			w.seal(m, "floor")
		case SoffitTrack:
			if w.out.Head.Kind != plan.HeadFree {
				w.anchorHead(m)
				w.seal(m, "soffit")
			}
		}
	}
	w.fastenEnds()
	w.fastenSteps()
	w.checkGlass()
	w.holdStiff()
	w.isolate()
	w.sealSlits()
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// anchor adds the row of anchors along a track.
func (w *wallLayout) anchor(m *Member, into, substrate string) {
	end, spacing := w.pr.TrackFixingEnd.Value, w.pr.TrackFixing.Value
	w.anchorRow(m.From, m.To, end, spacing, 1, into, substrate)
}

// anchorRow spaces anchors evenly from one end distance to the other.
func (w *wallLayout) anchorRow(a, b geom.Point, end, spacing Length, least int, into, substrate string) {
	product, ok := w.cat.AnchorFor(substrate)
	if !ok {
		product, ok = w.cat.AnchorFor(plan.Concrete)
	}
	if !ok {
		return
	}
	total := a.Dist(b)
	end = min(end, total/4)
	count := max(int((total-2*end+spacing-1)/spacing)+1, least, 2)
	w.out.Anchors = append(w.out.Anchors, AnchorRow{
		Anchor: product.ID, Into: into, From: toward(a, b, end, total), To: toward(b, a, end, total), Count: count,
	})
}

// toward returns the point d along the way from a to b.
func toward(a, b geom.Point, d, total Length) geom.Point {
	if total == 0 {
		return a
	}
	t := float64(d) / float64(total)
	return geom.Pt(a.X+Length(math.Round(t*float64(b.X-a.X))), a.Y+Length(math.Round(t*float64(b.Y-a.Y))))
}

// fastenEnds fixes end studs to what they stand against.
func (w *wallLayout) fastenEnds() {
	for line := range w.out.FrameLines {
		studs := w.uprights(line)
		if len(studs) == 0 {
			continue
		}
		w.fastenEnd(studs[0], 0, line)
		w.fastenEnd(studs[len(studs)-1], 1, line)
	}
}

// fastenEnd fixes the outermost stud of a frame line at one end.
func (w *wallLayout) fastenEnd(m *Member, end, line int) {
	into, substrate := w.behind(line, end)
	if into == "" {
		return
	}
	pr := w.pr
	w.anchorRow(m.From, m.To, pr.TrackFixingEnd.Value, pr.EdgeStudFixing.Value, pr.EdgeStudMinimum.Value, into, substrate)
	w.seal(m, into)
}

// behind says what the end of a frame line stands against: structure, another
// partition, or nothing.
func (w *wallLayout) behind(line, end int) (into, substrate string) {
	switch c := w.out.FrameLines[line].cuts[end]; {
	case c.closing != nil:
		return "", ""
	case c.kind == Structure && c.against == "glass":
		return "", "" // told of by checkGlass
	case c.kind == Structure:
		return "structure", orElse(c.against, "masonry")
	case c.through:
		return "", ""
	case c.kind == Tee, c.kind == Corner:
		return "partition", plan.Steel
	}
	return "", ""
}

// seal adds the sealing strip behind a profile.
func (w *wallLayout) seal(m *Member, against string) {
	kind, use := catalogue.KindSealTape, w.spec.Stud.Fits
	if w.spec.Spec.Seal == "sealant" {
		kind, use = catalogue.KindSealant, "profile"
	}
	if p, ok := w.cat.SundryFor(kind, use, w.pr); ok {
		w.out.Seals = append(w.out.Seals, Strip{Product: p.ID, Use: against, Line: m.Line, From: m.From, To: m.To})
	}
}

// isolate puts isolating strip on the studs of one frame of a twin independent
// wall, where they face those of the other.
func (w *wallLayout) isolate() {
	if w.spec.Kind != plan.TwinIndependent {
		return
	}
	p, ok := w.cat.SundryFor(catalogue.KindStrip, string(plan.TwinIndependent), w.pr)
	if !ok {
		return
	}
	for line := 0; line < len(w.out.FrameLines); line += 2 {
		for _, m := range w.uprights(line) {
			w.out.Seals = append(w.out.Seals, Strip{Product: p.ID, Use: "between frames", Line: line, From: m.From, To: m.To})
		}
	}
}

// fillRun puts the cavity fill of a run between its uprights, layer by layer, and
// the gussets that tie braced twin frames.
func (w *wallLayout) fillRun(r run, lines []int) {
	layers := map[plan.FillPlace]int{}
	for _, fill := range w.spec.Insulation {
		batt := Batt{
			Product: fill.Product.ID, Thickness: fill.Thickness, Line: lines[0], Gap: fill.Place == plan.InGap, Layer: layers[fill.Place],
		}
		layers[fill.Place]++
		if fill.Place == plan.InFrameB {
			batt.Line = lines[len(lines)-1]
		}
		w.fillLine(batt, fill.Product.Width)
	}
	if w.spec.Kind == plan.TwinBraced {
		w.tie(lines)
	}
}

// fillLine fills the bays of one frame line around its openings, or the gap between
// frames in widths as they come.
func (w *wallLayout) fillLine(batt Batt, width Length) {
	holes := w.holes()
	top := w.out.Top.Lowered(w.out.Head.Cap + w.out.Head.Pack)
	us := w.battEdges(batt, width)
	for i := 1; i < len(us); i++ {
		slabs := region(top, w.out.Base, us[i-1], us[i], holes, nil)
		for _, group := range connected(slabs) {
			batt.Outline, batt.Holes = outlines(slabs, group)
			w.out.Batts = append(w.out.Batts, batt)
		}
	}
}

// battEdges lists where batts meet: at the uprights of their frame, or in the gap
// between frames at their own width.
func (w *wallLayout) battEdges(batt Batt, width Length) []Length {
	extent := w.out.FrameLines[batt.Line].Extent
	us := []Length{extent.From}
	if batt.Gap {
		for u := extent.From + width; u < extent.To; u += width {
			us = append(us, u)
		}
		return append(us, extent.To)
	}
	for _, m := range w.uprights(batt.Line) {
		if m.From.X > us[len(us)-1] && m.From.X < extent.To && m.Role != EndStud {
			us = append(us, m.From.X)
		}
	}
	return append(us, extent.To)
}
