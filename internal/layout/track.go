package layout

import (
	"math"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/quantity"
)

// setTracks lays the floor track between the openings that reach the floor,
// and the soffit track between those that reach the soffit.
func (f *framer) setTracks() {
	track := f.spec.Track
	for _, span := range f.clear(Opening.AtFloor) {
		for _, part := range stockLengths(span, f.stockOf(track)) {
			f.add(Member{
				Role: FloorTrack, Line: f.line, Product: track.ID, Rule: ruleTrack,
				From: geom.Pt(part.From, f.out.Base), To: geom.Pt(part.To, f.out.Base), Cut: part.Len(), Width: track.Flange,
			})
		}
	}
	head := f.headTrack
	for _, span := range f.parted(f.clear(f.cutsTop)) {
		corners := f.out.Top.Lowered(f.out.Head.Cap+f.out.Head.Pack).Within(span.From, span.To)
		for i := 1; i < len(corners); i++ {
			f.addSoffitTrack(head, corners[i-1], corners[i])
		}
	}
}

// addSoffitTrack lays track along one straight stretch of the soffit.
func (f *framer) addSoffitTrack(track *catalogue.Profile, a, b geom.Point) {
	if a.X == b.X {
		return // a step: the track starts anew
	}
	slope := Profile{a, b}
	total := a.Dist(b)
	for _, part := range stockLengths(geom.Interval{From: 0, To: total}, f.stockOf(track)) {
		from, to := along(a, b, part.From, total), along(a, b, part.To, total)
		f.add(Member{
			Role: SoffitTrack, Line: f.line, Product: track.ID, Rule: ruleTrack,
			From: geom.Pt(from, slope.After(from)), To: geom.Pt(to, slope.Before(to)), Cut: part.Len(), Width: track.Flange,
		})
	}
}

// along returns the u that lies d along the way from a to b.
func along(a, b geom.Point, d, total Length) Length {
	return a.X + Length(math.Round(float64(b.X-a.X)*float64(d)/float64(total)))
}

// clear lists the stretches of the line that no opening of the given sort
// interrupts.
func (f *framer) clear(interrupts func(Opening) bool) []geom.Interval {
	var list []geom.Interval
	from := f.extent.From
	for _, o := range f.out.Openings {
		if !f.frames(o) || !interrupts(o) {
			continue
		}
		bay := o.Bay()
		if bay.From > from {
			list = append(list, geom.Interval{From: from, To: bay.From})
		}
		from = max(from, bay.To)
	}
	if f.extent.To > from {
		list = append(list, geom.Interval{From: from, To: f.extent.To})
	}
	return list
}

// cutsTop reports whether the opening interrupts the soffit track.
func (w *wallLayout) cutsTop(o Opening) bool { return w.out.cutsTop(o) }

func (w *Wall) cutsTop(o Opening) bool {
	bay := o.Bay()
	return o.Top() >= w.Top.Min(bay.From, bay.To)-w.Head.Cap-w.Head.Pack
}

// shortTrack is the shortest piece of track that a longer run is left with; the
// piece before it is cut shorter instead (common practice).
const shortTrack = 500 * quantity.Millimetre

// stockOf returns the greatest length along the wall's axis for which a track comes
// out of one piece: in a curved wall, its inner flange keeps its length.
func (f *framer) stockOf(p *catalogue.Profile) Length {
	stock := p.Lengths[len(p.Lengths)-1]
	if f.body.arc == nil {
		return stock
	}
	line := f.out.FrameLines[f.line]
	return min(stock, f.alongAxis(stock, f.body.arc.RadiusAt(line.Offset+f.inside()*line.Depth/2)))
}

// stockLengths cuts a stretch into whole stock lengths and a rest.
func stockLengths(span geom.Interval, stock Length) []geom.Interval {
	var list []geom.Interval
	for from := span.From; from < span.To; {
		to := min(from+stock, span.To)
		if rest := span.To - to; rest > 0 && rest < shortTrack && stock > 2*shortTrack {
			to -= shortTrack - rest
		}
		list = append(list, geom.Interval{From: from, To: to})
		from = to
	}
	return list
}

// parted parts stretches of the soffit track where joints run up from the heads
// of openings.
func (f *framer) parted(spans []geom.Interval) []geom.Interval {
	gaps := f.overHeads()
	if len(gaps) == 0 {
		return spans
	}
	var list []geom.Interval
	for _, s := range spans {
		list = append(list, outside(s, gaps)...)
	}
	return list
}
