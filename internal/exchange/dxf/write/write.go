// Package write draws laid-out walls as a drawing in the exchange format (DXF R2000,
// text, millimetres, full size): for each level the set-out plan in the project's own
// coordinates, and beside it the elevations of every wall, its frame and each layer of
// boards. Dimensions are dimensions.
//
// Layers are named after ISO 13567-2, by fields of fixed width: agent X- (the firm that
// builds the partitions), element (two figures of table 1 of CI/SfB, with one more of
// our own), presentation, status, sector (the level by its number), phase, and
// projection. The values are from memory. Layers of all levels but the first are off.
package write

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/parts"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/setout"
)

// Input is what is drawn.
type Input struct {
	Plan      *plan.Plan
	Layout    *layout.Project
	Catalogue *catalogue.Catalogue
	Practice  *catalogue.Practice
}

// Elements of layers' names: internal walls, what is set out of them, doors and windows in
// them, and the structure.
const (
	wallElement  = "220---"
	trackElement = "221---"
	boardElement = "222---"
	doorElement  = "320---"
	glassElement = "310---"
	bodyElement  = "210---"
)

// Presentations of layers' names.
const (
	asElement    = "E-"
	asText       = "T-"
	asDimensions = "D-"
)

// colours and weights of the elements, common practice.
var looks = map[string]layer{
	wallElement: {colour: 7, weight: 35}, trackElement: {colour: 1, weight: 25}, boardElement: {colour: 3, weight: 18},
	doorElement: {colour: 4, weight: 18}, glassElement: {colour: 5, weight: 18}, bodyElement: {colour: 8, weight: 50},
}

// drawer draws one level.
type drawer struct {
	*file
	level int // from 1
	in    Input
}

// on returns the layer for what is drawn of the level.
func (d *drawer) on(element, presentation string, elevation bool) string {
	status, projection := "N", "0"
	if element == bodyElement {
		status = "E"
	}
	if elevation {
		projection = "1"
	}
	name := fmt.Sprintf("X-%s%s%s%02d---%s", element, presentation, status, d.level, projection)
	look := looks[element]
	if presentation != asElement {
		look = layer{colour: 2, weight: 18}
	}
	look.off = d.level > 1
	d.layers[name] = look
	return name
}

func at(p geom.Point) point { return point{p.X.MM(), p.Y.MM()} }

func all(ring []geom.Point) []point {
	out := make([]point, len(ring))
	for i, p := range ring {
		out[i] = at(p)
	}
	return out
}

// Write writes the drawing.
func Write(out io.Writer, in Input) error {
	f := newFile()
	for i := range in.Plan.Levels {
		level := &in.Plan.Levels[i]
		d := &drawer{file: f, level: i + 1, in: in}
		corner := point{math.Inf(-1), math.Inf(-1)}
		var walls []*layout.Wall
		for _, w := range in.Layout.Walls {
			if w.Level != level.ID {
				continue
			}
			walls = append(walls, w)
			for _, p := range []geom.Point{w.Line.A, w.Line.B} {
				corner = point{max(corner.x, p.X.MM()), max(corner.y, p.Y.MM())}
			}
			d.plan(w)
		}
		d.structure(level.ID)
		d.elevations(walls, point{corner.x + elevationGap, corner.y})
	}
	return f.write(out)
}

// curveTolerance is how far chords may lie off a curve.
const curveTolerance = quantity.Millimetre / 2

// plan draws a wall in plan, cut open at doors and windows: its faces, tracks and
// openings, its mark and dimensions.
func (d *drawer) plan(w *layout.Wall) {
	half := w.Thickness / 2
	for _, run := range cutOpen(w) {
		outline := append(slices.Clone(w.Path(run[0], half, curveTolerance)), reversed(w.Path(run[1], -half, curveTolerance))...)
		d.outline(d.on(wallElement, asElement, false), all(outline), 1)
	}
	for _, l := range w.FrameLines {
		for _, run := range floorTrack(w, l.Extent) {
			d.outline(d.on(trackElement, asElement, false), all(w.Ground(run, l.Offset-l.Depth/2, l.Offset+l.Depth/2, curveTolerance)), 1)
		}
	}
	for i := range w.Openings {
		d.opening(w, &w.Openings[i])
	}
	if len(w.FrameLines) == 0 {
		return
	}
	extent := w.FrameLines[0].Extent
	d.mark(w, (extent.From+extent.To)/2)
	d.chain(w, extent)
}

// cutHeight is how high above the floor the plan cuts walls; common practice.
const cutHeight = quantity.Metre

// cutOpen returns the stretches of a wall's faces, A's and B's, that the plan cuts
// through: between openings that stand at that height.
func cutOpen(w *layout.Wall) (list [][2]geom.Interval) {
	gaps := gapsOf(w, func(o *layout.Opening) bool {
		return o.Kind != plan.Penetration && o.Sill < cutHeight && o.Head > cutHeight
	})
	for _, run := range w.Body() {
		for _, gap := range gaps {
			if gap.From <= max(run[0].From, run[1].From) || gap.To >= min(run[0].To, run[1].To) {
				continue // beside this stretch, or at its end
			}
			list = append(list, [2]geom.Interval{{From: run[0].From, To: gap.From}, {From: run[1].From, To: gap.From}})
			run[0].From, run[1].From = gap.To, gap.To
		}
		list = append(list, run)
	}
	return list
}

// floorTrack returns the stretches of a track on the floor: between openings that go
// down to it.
func floorTrack(w *layout.Wall, extent geom.Interval) (list []geom.Interval) {
	for _, gap := range gapsOf(w, func(o *layout.Opening) bool { return o.Kind != plan.Penetration && o.Sill <= w.Base }) {
		if gap.From > extent.From && gap.To < extent.To {
			list = append(list, geom.Interval{From: extent.From, To: gap.From})
			extent.From = gap.To
		}
	}
	return append(list, extent)
}

// gapsOf lists where openings of a kind are, from the wall's start on.
func gapsOf(w *layout.Wall, wanted func(*layout.Opening) bool) (gaps []geom.Interval) {
	for i := range w.Openings {
		if wanted(&w.Openings[i]) {
			gaps = append(gaps, w.Openings[i].U)
		}
	}
	slices.SortFunc(gaps, func(a, b geom.Interval) int { return cmp.Compare(a.From, b.From) })
	return gaps
}

// opening draws what fills an opening: of a door its leaf and the arc of its swing where
// these are known, else crossed lines; of a window, a hatch and what passes through the
// wall the outline. A bare opening is a gap.
func (d *drawer) opening(w *layout.Wall, o *layout.Opening) {
	half := w.Thickness / 2
	on := d.on(doorElement, asElement, false)
	corner := func(u, v layout.Length) point { return at(w.Point(u, v)) }
	switch {
	case o.Kind == plan.Bare:
	case o.Kind != plan.Door:
		d.outline(d.on(glassElement, asElement, false), all(w.Ground(o.U, -half, half, curveTolerance)), 1)
	case o.Leaf.Hinge == "" || o.Leaf.Opens == "" || o.Pocket != nil || w.Curve != nil:
		d.line(&d.entities, modelHandle, on, corner(o.U.From, -half), corner(o.U.To, half))
		d.line(&d.entities, modelHandle, on, corner(o.U.From, half), corner(o.U.To, -half))
	default:
		hinge, latch := o.U.From, o.U.To
		if o.Leaf.Hinge == plan.AtEnd {
			hinge, latch = latch, hinge
		}
		face := half
		if o.Leaf.Opens == plan.FaceB {
			face = -half
		}
		d.swing(on, corner(hinge, face), corner(latch, face), corner(hinge, 2*face))
	}
}

// swing draws a leaf that stands open at a right angle, and the arc of its edge; out is a
// point in front of the hinge.
func (f *file) swing(on string, hinge, latch, out point) {
	width := math.Hypot(latch.x-hinge.x, latch.y-hinge.y)
	away := math.Hypot(out.x-hinge.x, out.y-hinge.y)
	open := point{(out.x - hinge.x) / away, (out.y - hinge.y) / away}
	f.line(&f.entities, modelHandle, on, hinge, hinge.towards(open, width, 0))
	from, to := degrees(point{latch.x - hinge.x, latch.y - hinge.y}), degrees(open)
	if math.Mod(to-from+720, 360) > 180 { // arcs run counter-clockwise
		from, to = to, from
	}
	f.arc(on, hinge, width, from, to)
}

func degrees(dir point) float64 { return math.Mod(math.Atan2(dir.y, dir.x)*180/math.Pi+360, 360) }

func reversed(points []geom.Point) []geom.Point {
	out := slices.Clone(points)
	slices.Reverse(out)
	return out
}

// mark writes a wall's mark beside it.
func (d *drawer) mark(w *layout.Wall, u layout.Length) {
	p := at(w.Point(u, -w.Thickness/2-quantity.MM(1.2*textHeight)))
	dir := w.Dir(u)
	degrees := math.Atan2(dir.Y, dir.X) * 180 / math.Pi
	if degrees > 90.001 || degrees <= -89.999 {
		degrees += 180
	}
	d.text(&d.entities, modelHandle, d.on(wallElement, asText, false), p, textHeight, degrees, w.ID)
}

// chain dimensions the track of a straight wall from its start over the sides of its
// openings to its end; curved walls are set out by ordinates, which the sheets give.
func (d *drawer) chain(w *layout.Wall, extent geom.Interval) {
	if w.Curve != nil {
		return
	}
	stops := []layout.Length{extent.From, extent.To}
	for _, o := range w.Openings {
		for _, u := range []layout.Length{o.U.From, o.U.To} {
			if u > extent.From && u < extent.To {
				stops = append(stops, u)
			}
		}
	}
	slices.Sort(stops)
	on := d.on(wallElement, asDimensions, false)
	face := w.Thickness / 2
	for i := range stops[1:] {
		d.dimension(on, at(w.Point(stops[i], face)), at(w.Point(stops[i+1], face)), chainOff)
	}
	if len(stops) > 2 {
		d.dimension(on, at(w.Point(extent.From, face)), at(w.Point(extent.To, face)), 2*chainOff)
	}
}

// Distances in mm.
const (
	chainOff     = 400.0  // of the line of dimensions from the wall
	elevationGap = 8000.0 // of elevations from the plan
	between      = 2000.0 // of elevations from each other
)

// structure draws the existing structure of a level.
func (d *drawer) structure(level string) {
	for i := range d.in.Plan.Structure {
		s := &d.in.Plan.Structure[i]
		if s.Level != level || s.Unread {
			continue
		}
		for _, ring := range setout.Outlines(s) {
			d.outline(d.on(bodyElement, asElement, false), all(ring), 1)
		}
	}
}

// elevations draws the walls of a level one below the other, from a corner to the right
// and down: the frame, then each layer of boards as seen from its face.
func (d *drawer) elevations(walls []*layout.Wall, corner point) {
	for _, w := range walls {
		list := parts.Of(w, d.in.Catalogue, d.in.Practice)
		high, wide := 0.0, 0.0
		for _, p := range list {
			if p.Solid == nil {
				continue
			}
			b := p.Solid.Outline.Bounds()
			high, wide = max(high, b.Max.Y.MM()), max(wide, b.Max.X.MM())
		}
		corner.y -= high + between
		x := corner.x
		for _, layer := range drawnLayers(list) {
			d.elevation(w, list, layer, seat{point{x, corner.y}, wide, from(w, layer).RunsBack()})
			x += wide + between
		}
	}
}

// drawnLayers lists the layers of parts that have elevations, the frame first.
func drawnLayers(list []parts.Part) []string {
	var layers []string
	for _, p := range list {
		if p.Solid != nil && (p.Kind == parts.Board || p.Layer == parts.FrameLayer) && !slices.Contains(layers, p.Layer) && p.Layer != parts.TrimLayer {
			layers = append(layers, p.Layer)
		}
	}
	return layers
}

// from returns the face from which the elevation of a layer is seen.
func from(w *layout.Wall, layer string) plan.Face {
	for _, f := range w.Faces {
		if layer != parts.FrameLayer && strings.HasPrefix(layer, string(f.Face)) {
			return f.Face
		}
	}
	return w.FrameFrom()
}

// seat is where an elevation stands: its lower left corner, how wide it may be, and
// whether the wall runs from right to left.
type seat struct {
	zero point
	wide float64
	back bool
}

func (s seat) at(p point) point {
	if s.back {
		p.x = s.wide - p.x
	}
	return point{p.x + s.zero.x, p.y + s.zero.y}
}

func (d *drawer) elevation(w *layout.Wall, list []parts.Part, of string, s seat) {
	element := boardElement
	if of == parts.FrameLayer {
		element = trackElement
	}
	place := func(ring geom.Polygon) []point {
		out := all(ring)
		for i := range out {
			out[i] = s.at(out[i])
		}
		return out
	}
	box := geom.Rect{}
	for _, p := range list {
		if p.Layer != of || p.Solid == nil || len(p.Solid.Outline) < 3 {
			continue
		}
		d.outline(d.on(element, asElement, true), place(p.Solid.Outline), 1)
		for _, h := range p.Solid.Holes {
			d.outline(d.on(element, asElement, true), place(h), 1)
		}
		if b := p.Solid.Outline.Bounds(); box == (geom.Rect{}) {
			box = b
		} else {
			box = geom.Bounds(box.Min, box.Max, b.Min, b.Max)
		}
	}
	corners := place(geom.Polygon{box.Min, geom.Pt(box.Max.X, box.Min.Y), box.Max, geom.Pt(box.Min.X, box.Max.Y)})
	if s.back { // from the lower left corner as drawn
		corners = []point{corners[1], corners[0], corners[3], corners[2]}
	}
	on := d.on(element, asDimensions, true)
	d.dimension(on, corners[0], corners[1], -chainOff)
	d.dimension(on, corners[0], corners[3], chainOff)
	d.text(&d.entities, modelHandle, d.on(element, asText, true), point{(corners[0].x + corners[1].x) / 2, corners[0].y - 2*chainOff}, textHeight, 0, w.ID+" "+of)
}
