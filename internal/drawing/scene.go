// Package drawing is a technical drawing that knows no file format: one Scene
// of lines, text and dimensions on one sheet of paper, which the writers in
// the packages below it turn into SVG and PDF.
//
// Coordinates are millimetres on paper from the sheet's upper left corner, x to
// the right and y down. Lines follow ISO 128-2 (line types, one ratio of
// weights), text ISO 3098 (nominal heights, the height being that of a
// capital), dimensions ISO 129-1 with the oblique tick of building drawings,
// sheets ISO 5457 and title blocks ISO 7200; the values taken from them are
// from memory.
package drawing

// Point is a place on paper in millimetres, y down.
type Point struct{ X, Y float64 }

// Add returns p moved by dx, dy.
func (p Point) Add(dx, dy float64) Point { return Point{p.X + dx, p.Y + dy} }

// Rect is an upright rectangle on paper.
type Rect struct{ Min, Max Point }

// NewRect returns the rectangle with its upper left corner at x, y.
func NewRect(x, y, width, height float64) Rect {
	return Rect{Point{x, y}, Point{x + width, y + height}}
}

// Width returns the rectangle's extent in x.
func (r Rect) Width() float64 { return r.Max.X - r.Min.X }

// Height returns the rectangle's extent in y.
func (r Rect) Height() float64 { return r.Max.Y - r.Min.Y }

// Centre returns the rectangle's middle.
func (r Rect) Centre() Point { return Point{(r.Min.X + r.Max.X) / 2, (r.Min.Y + r.Max.Y) / 2} }

// Inset returns the rectangle with every side moved in by d.
func (r Rect) Inset(d float64) Rect {
	return Rect{r.Min.Add(d, d), r.Max.Add(-d, -d)}
}

// Overlaps reports whether r and o share any area.
func (r Rect) Overlaps(o Rect) bool {
	return r.Min.X < o.Max.X && o.Min.X < r.Max.X && r.Min.Y < o.Max.Y && o.Min.Y < r.Max.Y
}

// Holds reports whether o lies within r, edges included.
func (r Rect) Holds(o Rect) bool {
	return r.Min.X <= o.Min.X && o.Max.X <= r.Max.X && r.Min.Y <= o.Min.Y && o.Max.Y <= r.Max.Y
}

// Corners returns the rectangle's corners, going round.
func (r Rect) Corners() []Point {
	return []Point{r.Min, {r.Max.X, r.Min.Y}, r.Max, {r.Min.X, r.Max.Y}}
}

// LayerName names a layer in the trade's words.
type LayerName string

// The layers of a drawing, in painting order.
const (
	Structure  LayerName = "existing structure"
	Insulation LayerName = "insulation"
	Boards     LayerName = "boards"
	Frame      LayerName = "frame"
	Openings   LayerName = "openings"
	Joints     LayerName = "joints"
	SettingOut LayerName = "setting-out"
	Dimensions LayerName = "dimensions"
	Marks      LayerName = "marks"
	Notes      LayerName = "notes"
	Border     LayerName = "sheet"
)

// LayerNames lists every layer in painting order.
func LayerNames() []LayerName {
	return []LayerName{Structure, Insulation, Boards, Frame, Openings, Joints, SettingOut,
		Dimensions, Marks, Notes, Border}
}

// Scene is one sheet.
type Scene struct {
	Name  string // stable and fit for a file name, such as L1-07-framing
	Title string // for people
	Size  Size

	layers []Layer
}

// Layer is one layer of a scene.
type Layer struct {
	Name  LayerName
	Items []Item
}

// NewScene returns an empty sheet.
func NewScene(name, title string, size Size) *Scene {
	s := &Scene{Name: name, Title: title, Size: size}
	for _, n := range LayerNames() {
		s.layers = append(s.layers, Layer{Name: n})
	}
	return s
}

// Layer returns the named layer, to draw on.
func (s *Scene) Layer(name LayerName) *Layer {
	for i := range s.layers {
		if s.layers[i].Name == name {
			return &s.layers[i]
		}
	}
	return &s.layers[len(s.layers)-1]
}

// Layers returns the layers that hold anything, in painting order.
func (s *Scene) Layers() []Layer {
	var used []Layer
	for _, l := range s.layers {
		if len(l.Items) > 0 {
			used = append(used, l)
		}
	}
	return used
}

// Add appends items to the layer.
func (l *Layer) Add(items ...Item) { l.Items = append(l.Items, items...) }

// Item is anything that can be drawn: Path, Lines, Circle, Arc, Text, Link or
// Group.
type Item interface{ item() }

// Path is an open line or a closed outline.
type Path struct {
	Points []Point
	Closed bool
	Pen    Pen
	Fill   Fill
}

// Lines is a set of separate straight lines in one pen.
type Lines struct {
	Segments []Segment
	Pen      Pen
}

// Segment is a straight line from A to B.
type Segment struct{ A, B Point }

// Circle is a full circle.
type Circle struct {
	Centre Point
	Radius float64
	Pen    Pen
	Fill   Fill
}

// Arc is part of a circle. Angles are in degrees, counter-clockwise as seen on
// paper, from the direction of x.
type Arc struct {
	Centre   Point
	Radius   float64
	From, To float64
	Pen      Pen
}

// Link is a part of a sheet that leads to another page of the same document,
// counted from 1. Drawings on their own do not show it.
type Link struct {
	Area Rect
	Page int
}

// Group holds the items of one part. ID is stable and unique in its scene;
// Title is what a reader hears or sees on pointing at the part; Data are
// further facts for programs, in the order to be written.
type Group struct {
	ID    string
	Title string
	Data  []Datum
	Clip  *Rect // nothing outside it shows
	Items []Item
}

// Datum is one named fact about a part. Name is in lower-case ASCII letters.
type Datum struct{ Name, Value string }

// Add appends items to the group.
func (g *Group) Add(items ...Item) { g.Items = append(g.Items, items...) }

func (Path) item()   {}
func (Lines) item()  {}
func (Circle) item() {}
func (Arc) item()    {}
func (Text) item()   {}
func (Link) item()   {}
func (*Group) item() {}

// Line returns a straight line.
func Line(a, b Point, pen Pen) Path { return Path{Points: []Point{a, b}, Pen: pen} }

// Box returns a rectangle's outline.
func Box(r Rect, pen Pen, fill Fill) Path {
	return Path{Points: r.Corners(), Closed: true, Pen: pen, Fill: fill}
}

// Walk calls f for every item of the scene that is not a group, in painting
// order.
func (s *Scene) Walk(f func(LayerName, Item)) {
	for _, l := range s.layers {
		walk(l.Items, func(it Item) { f(l.Name, it) })
	}
}

func walk(items []Item, f func(Item)) {
	for _, it := range items {
		if g, ok := it.(*Group); ok {
			walk(g.Items, f)
			continue
		}
		f(it)
	}
}
