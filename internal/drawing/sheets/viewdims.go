package sheets

import (
	"cmp"
	"slices"

	"nogging/internal/drawing"
)

// drawDims draws everything around the body: texts over it, running and
// overall dimensions below, heights beside. It returns the texts.
func (e *elevation) drawDims(s *drawing.Scene) []drawing.Text {
	dims, marks := s.Layer(drawing.Dimensions), s.Layer(drawing.Marks)
	texts := e.topRow().Draw(marks)
	y := e.origin.Y + slabDepth + belowAir
	for _, r := range e.runs {
		row := e.runRow(r, y)
		texts = append(texts, row.Draw(dims)...)
		y += e.deep(r)
	}
	if len(e.chain) > 0 {
		y += chainPitch - 3.5
		chain := e.chainDim(y)
		chain.Lo, chain.Hi = e.sideways()
		texts = append(texts, chain.Draw(dims)...)
		y += e.m.chain + 3.5
	}
	if e.overall {
		texts = append(texts, e.overallDim(y+chainPitch-3.5).Draw(dims)...)
	}
	left, right := e.heights, e.ends
	if !e.first {
		left = nil
	}
	if !e.last {
		right = nil
	}
	if e.mirror {
		left, right = right, left
	}
	texts = append(texts, e.heightRow(left, -1).Draw(dims)...)
	return append(texts, e.heightRow(right, 1).Draw(dims)...)
}

// sideways returns where texts along the body may stand.
func (e *elevation) sideways() (lo, hi float64) {
	lo = e.origin.X - (e.m.wide-e.bodyWidth())/2
	return lo - 3, lo + e.m.wide + 3
}

// topRow returns the texts over the wall.
func (e *elevation) topRow() drawing.Row {
	lo, hi := e.sideways()
	marks := make([]drawing.Mark, len(e.top))
	for i, m := range e.top {
		marks[i] = drawing.Mark{At: e.x(Length(m.At)), From: e.y(Length(m.From)), Text: m.Text}
	}
	slices.SortStableFunc(marks, func(a, b drawing.Mark) int { return cmp.Compare(a.At, b.At) })
	return drawing.Row{Line: e.origin.Y - e.tall() - slabDepth - topAir, Out: -1, Lo: lo, Hi: hi,
		Marks: marks, Upright: !e.flatTop, Height: drawing.Small}
}

// runRow returns running dimensions from the start of the track.
func (e *elevation) runRow(r run, y float64) drawing.Row {
	lo, hi := e.sideways()
	var marks []drawing.Mark
	for _, u := range r.at {
		if e.inWindow(u) {
			marks = append(marks, drawing.Mark{At: e.x(u), From: e.origin.Y + slabDepth + 0.5, Text: e.set.units.dim(u - e.datum)})
		}
	}
	slices.SortStableFunc(marks, func(a, b drawing.Mark) int { return cmp.Compare(a.At, b.At) })
	row := drawing.Row{Line: y, Out: 1, Lo: lo, Hi: hi, Marks: marks, Dimension: true, Upright: true, Height: drawing.Small}
	row.Origin = e.x(max(e.window.From, min(e.datum, e.window.To)))
	row.Continued = !e.first
	return row
}

// chainDim returns the dimensions of openings and of the wall between them; Lo
// and Hi are left to the caller.
func (e *elevation) chainDim(y float64) drawing.Chain {
	c := drawing.Chain{Line: y, Height: drawing.Small}
	edges := slices.Clone(e.chain)
	if e.mirror {
		slices.Reverse(edges)
	}
	for i, u := range edges {
		c.Marks = append(c.Marks, drawing.Mark{At: e.x(u), From: y - 3})
		if i > 0 {
			c.Texts = append(c.Texts, e.set.units.dim((u - edges[i-1]).Abs()))
		}
	}
	return c
}

// overallDim returns the dimension of the whole wall, or of its part shown.
func (e *elevation) overallDim(y float64) drawing.Chain {
	lo, hi := e.sideways()
	from := y - 3
	text := e.set.units.dim(e.window.Len())
	if !e.first || !e.last {
		text += " of " + e.set.units.dim(e.extent.Len())
	}
	return drawing.Chain{Line: y, Height: drawing.Small, Lo: lo, Hi: hi, Texts: []string{text},
		Marks: []drawing.Mark{{At: e.origin.X, From: from}, {At: e.origin.X + e.bodyWidth(), From: from}}}
}

// heightRow returns running heights from the floor on one side of the body.
func (e *elevation) heightRow(at []Length, out float64) drawing.Row {
	b := e.body()
	x := b.Min.X - 4 - e.past[0]
	from := x + 3.5
	if out > 0 {
		x = b.Max.X + 4 + e.past[1]
		from = x - 3.5
	}
	var marks []drawing.Mark
	for i := len(at) - 1; i >= 0; i-- {
		marks = append(marks, drawing.Mark{At: e.y(at[i]), From: from, Text: e.set.units.dim(at[i])})
	}
	return drawing.Row{Axis: drawing.AlongY, Line: x, Out: out, Lo: b.Min.Y - 6, Hi: b.Max.Y + 4,
		Marks: marks, Dimension: true, Origin: e.y(0), Height: drawing.Small}
}
