package layout

import (
	"math"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
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

// fillRun puts the cavity fill of a run between its uprights, and the gussets
// that tie braced twin frames.
func (w *wallLayout) fillRun(r run, lines []int) {
	for i, fill := range w.spec.Insulation {
		line := lines[0]
		if w.spec.Kind.Twin() {
			line = lines[min(i, len(lines)-1)]
		}
		w.fillLine(line, fill.Product.ID, fill.Thickness)
	}
	if w.spec.Kind == plan.TwinBraced {
		w.tie(lines)
	}
}

// fillLine fills the bays of one frame line around its openings.
func (w *wallLayout) fillLine(line int, product string, thickness Length) {
	extent, holes := w.out.FrameLines[line].Extent, w.holes()
	us := []Length{extent.From}
	for _, m := range w.uprights(line) {
		if m.From.X > us[len(us)-1] && m.From.X < extent.To && m.Role != EndStud {
			us = append(us, m.From.X)
		}
	}
	us = append(us, extent.To)
	for i := 1; i < len(us); i++ {
		slabs := region(w.out.Top.Lowered(w.out.Head.Cap+w.out.Head.Pack), w.out.Base, us[i-1], us[i], holes, nil)
		for _, group := range connected(slabs) {
			outline, holes := outlines(slabs, group)
			w.out.Batts = append(w.out.Batts, Batt{Product: product, Line: line, Thickness: thickness, Outline: outline, Holes: holes})
		}
	}
}

// pairTolerance is how far apart the studs of two frames may stand along the
// wall and still be tied to each other.
const pairTolerance = 60 * quantity.Millimetre

// tie sets the gussets between the stud pairs of a braced twin frame: strips
// of board across both frames, at equal distances up the studs.
func (w *wallLayout) tie(lines []int) {
	if len(lines) < 2 || len(w.spec.A) == 0 {
		return
	}
	others := w.uprights(lines[1])
	width := w.spec.Gap + 2*w.spec.FrameDepth()
	height, spacing := w.pr.GussetHeight.Value, w.pr.GussetSpacing.Value
	for _, m := range w.uprights(lines[0]) {
		if m.Role == Cripple || !paired(m, others) {
			continue
		}
		n := (m.Cut + spacing - 1) / spacing
		for i := Length(1); i < n; i++ {
			w.out.Gussets = append(w.out.Gussets, Gusset{
				Number: len(w.out.Gussets) + 1, Board: w.spec.A[0].ID, Width: width, Height: height,
				At: geom.Pt(m.From.X, m.From.Y+m.Cut*i/n),
			})
		}
	}
}

func paired(m *Member, others []*Member) bool {
	for _, o := range others {
		if (o.From.X-m.From.X).Abs() <= pairTolerance && o.Role != Cripple {
			return true
		}
	}
	return false
}
