package price

import (
	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/quantity"
)

// Norms reckons the hours of one person for a square metre of a long wall without
// openings, before there is a layout: by the same steps of the work as WorkOn, without
// paint. Joints are those of boards side by side.
type Norms struct {
	Catalogue *catalogue.Catalogue
	Practice  *catalogue.Practice
	Height    quantity.Length // of the wall
}

// hours returns the hours for so many units of a step.
func (n *Norms) hours(step string, units float64) float64 {
	o, ok := n.Catalogue.OperationFor(step)
	if !ok {
		return 0
	}
	return units * o.Minutes / 60
}

// Frame returns the hours of setting out, tracks, studs and seals of a build-up.
func (n *Norms) Frame(b *buildup.BuildUp) float64 {
	lines, high := float64(b.FrameLines()), n.Height.Metres()
	h := n.hours(catalogue.SetOut, 1/high) + n.hours(catalogue.FixTrack, 2*lines/high) + n.hours(catalogue.SealFrame, 2*lines/high)
	if b.Spacing > 0 {
		h += n.hours(catalogue.StandStud, lines/(b.Spacing.Metres()*high))
	}
	return h
}

// Face returns the hours of the layers of one face with their joints: inner ones, which
// others cover, and the outermost to the practice's usual finish.
func (n *Norms) Face(boards []*catalogue.Board) float64 {
	h := 0.0
	for k, b := range boards {
		if k < len(boards)-1 {
			h += n.hours(catalogue.BoardInner, 1) + n.hours(catalogue.FillJoint, 1/b.Width.Metres())
			continue
		}
		h += n.hours(catalogue.BoardOuter, 1) + n.hours(catalogue.CoatHead, n.heads(b, len(boards))) + n.joints(1/b.Width.Metres())
	}
	return h
}

// joints returns the hours of finishing so many metres of joints between boards.
func (n *Norms) joints(length float64) float64 {
	h := n.hours(catalogue.TapeJoint, length)
	level, _ := n.Practice.FinishFor("")
	widths := n.Practice.CoatWidths.Value
	last := 0.0
	for _, w := range widths[:min(level.Coats, len(widths))] {
		last = length * w.Metres()
		h += n.hours(catalogue.CoatJoint, last)
	}
	return h + n.hours(catalogue.Sand, last)
}

// heads returns the number of screws in a square metre of the outermost layer: a row at
// each stud, and a second one where boards meet.
func (n *Norms) heads(b *catalogue.Board, layers int) float64 {
	table := n.Practice.ScrewSpacing.Value
	if len(table) == 0 || n.Practice.StudSpacing.Value <= 0 {
		return 0
	}
	row := table[min(layers, len(table))-1]
	return (1/n.Practice.StudSpacing.Value.Metres() + 1/b.Width.Metres()) / row[len(row)-1].Metres()
}

// Fill returns the hours of one layer of fill.
func (n *Norms) Fill() float64 { return n.hours(catalogue.Insulate, 1) }

// Of returns the hours of a whole build-up.
func (n *Norms) Of(b *buildup.BuildUp) float64 {
	h := n.Frame(b) + float64(len(b.Insulation))*n.Fill()
	return h + n.Face(b.A) + n.Face(b.B)
}
