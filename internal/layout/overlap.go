package layout

import (
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// sharedGround is how much ground two frames may share before it is a mistake:
// skew corners share slivers.
const sharedGround = 3000 * quantity.Area(1) // mm²

// footprint is the ground that one frame line or one body of structure covers.
type footprint struct {
	name    string
	wall    bool
	outline geom.Polygon
}

// overlaps tells of frames that stand in the same place, or in existing
// structure, by what was laid out.
func overlaps(level string, walls []*Wall, solids []*solid) finding.List {
	grid := geom.NewGrid[*footprint](gridCell)
	for _, x := range solids {
		grid.Add(x.outline.Bounds(), &footprint{name: x.id, outline: x.outline})
	}
	var list []*clash
	pairs := map[[2]string]*clash{}
	for _, w := range walls {
		if w.Level != level {
			continue
		}
		for _, l := range w.FrameLines {
			for _, outline := range w.grounds(l) {
				f := &footprint{name: w.ID, wall: true, outline: outline}
				grid.Each(f.outline.Bounds(), func(o *footprint) {
					area := o.outline.Clip(f.outline).Area()
					if o.name == f.name || area <= 0 {
						return
					}
					c := pairs[[2]string{f.name, o.name}]
					if c == nil {
						c = &clash{f: f, o: o}
						pairs[[2]string{f.name, o.name}] = c
						list = append(list, c)
					}
					c.area += area
				})
				grid.Add(f.outline.Bounds(), f)
			}
		}
	}
	var found finding.List
	for _, c := range list {
		if c.area > sharedGround {
			found.Add(c.tell())
		}
	}
	return found
}

// clash is the ground that two frames, or a frame and structure, share.
type clash struct {
	f, o *footprint
	area quantity.Area
}

// grounds returns the outline of a frame line in plan, counter-clockwise; that
// of a curved one in parts, each of which is convex.
func (w *Wall) grounds(l FrameLine) []geom.Polygon {
	low, high := l.Offset-l.Depth/2, l.Offset+l.Depth/2
	if w.Curve == nil {
		return []geom.Polygon{w.Ground(l.Extent, low, high, 0)}
	}
	n := Length(len(w.Path(l.Extent, 0, groundTolerance)) - 1)
	var parts []geom.Polygon
	for i := range n {
		from, to := l.Extent.From+l.Extent.Len()*i/n, l.Extent.From+l.Extent.Len()*(i+1)/n
		parts = append(parts, geom.Polygon{w.Point(from, low), w.Point(to, low), w.Point(to, high), w.Point(from, high)})
	}
	return parts
}

// groundTolerance is how far the straight sides of the parts may lie off a curve.
const groundTolerance = quantity.Millimetre

func (c *clash) tell() finding.Finding {
	f, o, area := c.f, c.o, c.area
	what := words.F("its frame stands in %s", o.name)
	if o.wall {
		what = words.F("its frame and that of %s stand in the same place", o.name)
	}
	return finding.Finding{
		Code: "frames-overlap", Severity: finding.Warning, Object: f.name,
		What: words.F("%s, over %.0f cm² of ground", what, float64(area)/100),
		Fix:  "move one of them, or mend the thickness that the plan gives them",
	}
}
