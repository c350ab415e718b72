package ifc

import (
	"math"
	"slices"

	"nogging/internal/exchange/ifc/own"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// change carries what was done to a wall of ours in the model over to the wall as it was
// drawn.
type change struct {
	*reader
	*ownWall
	level *plan.Level // as it was written
	wall  plan.Wall
	told  []words.Text // what has changed, and by how much
}

// carry returns the wall with the model's geometry, and what was changed.
func (r *reader) carry(w *ownWall, level *plan.Level) (plan.Wall, []words.Text) {
	c := change{reader: r, ownWall: w, level: level, wall: w.spec}
	c.wall.Openings = slices.Clone(c.wall.Openings)
	c.wall.Heights = slices.Clone(c.wall.Heights)
	c.line()
	c.body()
	c.thickness()
	c.openings()
	return c.wall, c.told
}

func (c *change) tell(what words.Text) { c.told = append(c.told, what) }

// line moves the drawn line as the wall's axis was moved.
func (c *change) line() {
	off := 0.0
	for i := range c.was.Axis {
		off = max(off, math.Hypot(c.was.Axis[i][0]-c.now.Axis[i][0], c.was.Axis[i][1]-c.now.Axis[i][1]))
	}
	if off <= own.Near {
		return
	}
	if c.was.Curved() || c.now.Curved() {
		c.arc(off)
		return
	}
	c.tell(words.F("its line lies up to %.1f mm elsewhere (%.1f mm long, before %.1f mm)", off, c.now.Length(), c.was.Length()))
	c.ends([2]float64{}, 0)
}

// ends puts the ends of a straight line where they lay beside the ends of the axis, and
// then moves them along the wall and to its left.
func (c *change) ends(along [2]float64, left float64) {
	from, to := own.FrameOf(c.was.Axis), own.FrameOf(c.now.Axis)
	longer := [2]float64{0, c.now.Length() - c.was.Length()}
	line := slices.Clone(c.wall.Line)
	for i, p := range c.spec.Line {
		at := from.Local(own.Point{p.X.MM(), p.Y.MM()})
		at[0] += longer[i] + along[i]
		at[1] += left
		at = to.Global(at)
		line[i] = plan.Pt{X: length(at[0]), Y: length(at[1])}
	}
	c.wall.Line = line
}

// arc takes the line of a curved wall from its axis.
func (c *change) arc(off float64) {
	c.tell(words.F("its curved line lies up to %.1f mm elsewhere; it is taken in the middle of the wall", off))
	pt := func(p own.Point) plan.Pt { return plan.Pt{X: length(p[0]), Y: length(p[1])} }
	c.wall.Line = []plan.Pt{pt(c.now.Axis[0]), pt(c.now.Axis[2])}
	c.wall.Justify, c.wall.Via = "", nil
	if c.now.Curved() {
		via := pt(c.now.Axis[1])
		c.wall.Via = &via
	}
}

// body follows the wall's body: its ends, where it has one of its own, its foot and top.
func (c *change) body() {
	was, is := c.was.Body, c.now.Body
	switch {
	case was == nil:
		return
	case is == nil:
		c.tell("its body is no more in the model: height and openings are kept")
		return
	case c.was.Pieces != c.now.Pieces:
		c.tell(words.F("it has %d pieces in the model, before %d: the pieces are worked out anew", c.now.Pieces, c.was.Pieces))
		return
	}
	c.alongBody(was, is)
	foot, top := is.Low[2]-was.Low[2], is.High[2]-was.High[2]
	if math.Abs(foot) > own.Near {
		c.tell(words.F("its foot is %+.1f mm higher", foot))
		c.wall.Base = max(c.wall.Base+length(foot), 0)
	}
	if math.Abs(top) > own.Near {
		c.tell(words.F("its top is %+.1f mm higher", top))
		c.raise(length(top))
	}
}

// alongBody follows a body that is not made of pieces along and across the axis.
func (c *change) alongBody(was, is *own.Box) {
	if c.was.Pieces > 0 || c.was.Curved() || c.now.Curved() {
		return
	}
	along := [2]float64{is.Low[0] - was.Low[0], is.High[0] - c.now.Length() - was.High[0] + c.was.Length()}
	left := (is.Low[1] + is.High[1] - was.Low[1] - was.High[1]) / 2
	if max(math.Abs(along[0]), math.Abs(along[1]), math.Abs(left)) <= own.Near {
		return
	}
	c.tell(words.F("its body begins %+.1f mm and ends %+.1f mm along the wall, and lies %+.1f mm to the left", along[0], along[1], left))
	c.ends(along, left)
	shift := length(along[0])
	for i := range c.wall.Openings {
		c.wall.Openings[i].At -= shift
	}
}

// raise makes the wall higher.
func (c *change) raise(by plan.Length) {
	if len(c.wall.Heights) > 0 {
		for i := range c.wall.Heights {
			c.wall.Heights[i].Height += by
		}
		return
	}
	if c.wall.Height == 0 && c.level != nil {
		c.wall.Height = c.level.ClearHeight
	}
	c.wall.Height += by
}

// thickness follows the layers, or the body where there are none.
func (c *change) thickness() {
	was, is := c.was.Layers, c.now.Layers
	if was == 0 || is == 0 {
		if c.was.Pieces > 0 || c.was.Body == nil || c.now.Body == nil || c.was.Curved() {
			return
		}
		was, is = c.was.Body.High[1]-c.was.Body.Low[1], c.now.Body.High[1]-c.now.Body.Low[1]
	}
	if math.Abs(was-is) > own.Near {
		c.tell(words.F("it is %.1f mm thick, before %.1f mm: its build-up has to be chosen anew", is, was))
		c.wall.Thickness, c.wall.BuildUp = length(is), ""
	}
}

// openings follows the openings: moved, taken out and added ones.
func (c *change) openings() {
	at := map[string]int{}
	for i := range c.spec.Openings {
		at[c.spec.OpeningID(i)] = i
	}
	taken := make([]bool, len(c.now.Holes))
	var gone []int
	for _, was := range c.was.Holes {
		i, known := at[was.ID]
		n := slices.IndexFunc(c.now.Holes, func(h own.Hole) bool { return h.ID == was.ID })
		switch {
		case n >= 0 && !taken[n]:
			taken[n] = true
			if known {
				c.opening(i, was.Box, c.now.Holes[n].Box)
			}
		case known:
			c.tell(words.F("its opening %s is no more in the model", was.ID))
			gone = append(gone, i)
		}
	}
	for _, i := range slices.Backward(slices.Sorted(slices.Values(gone))) {
		c.wall.Openings = slices.Delete(c.wall.Openings, i, i+1)
	}
	for n, h := range c.now.Holes {
		if !taken[n] {
			c.added(n, h)
		}
	}
}

// opening follows one opening.
func (c *change) opening(i int, was, is own.Box) {
	o, id := &c.wall.Openings[i], c.spec.OpeningID(i)
	was.Low[1], was.High[1], is.Low[1], is.High[1] = 0, 0, 0, 0
	off := was.Off(is)
	switch {
	case off <= own.Near:
		return
	case c.was.Curved():
		c.tell(words.F("its opening %s was changed by up to %.1f mm: in a curved wall the drawn one is kept", id, off))
		return
	}
	c.tell(words.F("its opening %s was changed by up to %.1f mm", id, off))
	o.At += length(is.Low[0] - was.Low[0])
	o.Width += length(is.High[0] - is.Low[0] - was.High[0] + was.Low[0])
	o.Sill += length(is.Low[2] - was.Low[2])
	o.Height += length(is.High[2] - is.Low[2] - was.High[2] + was.Low[2])
}

// added adds an opening that was made in the model.
func (c *change) added(n int, h own.Hole) {
	if c.now.Curved() {
		c.tell(words.F("the opening %s was added to a curved wall and is not read: draw it by hand", c.entity(c.holes[n])))
		return
	}
	start := own.FrameOf(c.now.Axis).Local(own.Point{c.wall.Line[0].X.MM(), c.wall.Line[0].Y.MM()})[0]
	x := &opening{id: c.holes[n], filling: c.filling(c.holes[n])}
	x.rect = rect{h.Low[0] - start, h.High[0] - start, max(h.Low[2], c.wall.Base.MM()), h.High[2]}
	if !x.rect.atLeast(smallest) {
		return
	}
	kind := c.kindOf(x)
	c.tell(words.F("the %s %s was added", kind, c.entity(x.id)))
	c.wall.Openings = append(c.wall.Openings, plan.Opening{
		Kind: kind, At: length(x.rect.u0), Width: length(x.rect.width()), Sill: length(x.rect.z0), Height: length(x.rect.height()),
	})
}
