package programme

import (
	"fmt"

	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/price"
	"nogging/internal/takeoff"
)

// Part is what a stage takes of one operation of the labour norms. Minutes are those
// of one person.
type Part struct {
	Operation string  `json:"operation"`
	Quantity  float64 `json:"quantity"` // in the operation's unit
	Minutes   float64 `json:"minutes"`  // of one person
}

// wallWork is the work on one wall, parted into stages.
type wallWork struct {
	wall   *layout.Wall
	zone   string
	area   float64   // m² of one face with its openings
	first  plan.Face // face that is boarded first; the other, or the only one, closes the wall
	stages map[Stage][]Part
}

// minutes sums the minutes of a stage.
func (w *wallWork) minutes(s Stage) float64 {
	sum := 0.0
	for _, p := range w.stages[s] {
		sum += p.Minutes
	}
	return sum
}

// height returns the greatest height of the wall.
func (w *wallWork) height() plan.Length {
	var h plan.Length
	for _, p := range w.wall.Top {
		h = max(h, p.Y)
	}
	return h
}

// share is a stage's part of an operation.
type share struct {
	stage  Stage
	weight float64
}

// workOn parts the work on a wall, as the price reckons it, into stages. The minutes
// of all stages sum to those of the price.
func workOn(w *layout.Wall, lines []takeoff.Line, first plan.Face, in *Input, leftOut func(*catalogue.Product) bool) wallWork {
	out := wallWork{wall: w, first: first, stages: map[Stage][]Part{}}
	for _, l := range lines {
		if l.Group == takeoff.Walls && l.Code == w.BuildUp+" gross" {
			out.area = l.Quantity
		}
	}
	for _, t := range price.WorkOn(w, lines, in.Catalogue, in.Site.Night, leftOut).Tasks {
		shares := sharesOf(t.Operation, w, lines, first, in)
		total := 0.0
		for _, s := range shares {
			total += s.weight
		}
		for _, s := range shares {
			if s.weight > 0 {
				p := Part{t.Operation, t.Quantity * s.weight / total, t.Minutes * s.weight / total}
				out.stages[s.stage] = append(out.stages[s.stage], p)
			}
		}
	}
	return out
}

// sharesOf says in which stages an operation is done on a wall, and how much of it in
// each: boards by area, joints by length, coats by their areas, screw heads evenly
// with the coats that the surface level asks for.
func sharesOf(operation string, w *layout.Wall, lines []takeoff.Line, first plan.Face, in *Input) []share {
	var shares []share
	switch operation {
	case catalogue.BoardInner:
		shares = append(boards(w, first, true), share{Studs, gussets(w)})
	case catalogue.BoardOuter:
		shares = append(boards(w, first, false), share{lastBoards(w, first), capped(w)})
	case catalogue.CutOut:
		shares = boards(w, first, false)
	case catalogue.FillJoint:
		for i := range w.Joints {
			if j := &w.Joints[i]; !j.Outer {
				shares = append(shares, share{nth(jointStages, j.Layer), j.From.Dist(j.To).Metres()})
			}
		}
	case catalogue.CoatJoint:
		for _, l := range lines {
			var n int
			if _, err := fmt.Sscanf(l.Code, "coat %d", &n); err == nil && l.Group == takeoff.Treatment && n > 0 {
				shares = append(shares, share{nth(coatStages, n-1), l.Quantity})
			}
		}
	case catalogue.CoatHead:
		level, ok := in.Practice.FinishFor(w.Finish)
		if !ok {
			level, _ = in.Practice.FinishFor("")
		}
		for n := range level.Heads {
			shares = append(shares, share{nth(coatStages, n), 1})
		}
	}
	return merged(shares, stagesOf(operation)[0])
}

// merged sums the shares of each stage; where there are none, all is done in the stage
// given.
func merged(shares []share, otherwise Stage) []share {
	var list []share
	at := map[Stage]int{}
	for _, s := range shares {
		if s.weight <= 0 {
			continue
		}
		i, ok := at[s.stage]
		if !ok {
			i = len(list)
			at[s.stage] = i
			list = append(list, share{stage: s.stage})
		}
		list[i].weight += s.weight
	}
	if len(list) == 0 {
		return []share{{otherwise, 1}}
	}
	return list
}

// boards weighs the layers of a wall by area: those that others cover, or the
// outermost ones.
func boards(w *layout.Wall, first plan.Face, inner bool) []share {
	var shares []share
	for i := range w.Faces {
		f := &w.Faces[i]
		for k := range f.Layers {
			if inner == (k == len(f.Layers)-1) {
				continue
			}
			area := 0.0
			for n := range f.Layers[k].Pieces {
				area += f.Layers[k].Pieces[n].Area().SquareMetres()
			}
			shares = append(shares, share{boardStage(w, f.Face, k, first), area})
		}
	}
	return shares
}

// boardStage returns the stage in which a layer goes up. The face of a wall that is
// boarded on one side only closes it.
func boardStage(w *layout.Wall, f plan.Face, layer int, first plan.Face) Stage {
	switch {
	case layer > 0:
		return nth(layerStages, layer-1)
	case f == first && len(w.Faces) > 1:
		return FirstFace
	}
	return SecondFace
}

// lastBoards returns the stage in which the last boards of a wall go up, and with them
// the strips that close its ends.
func lastBoards(w *layout.Wall, first plan.Face) Stage {
	last := SecondFace
	for i := range w.Faces {
		if n := len(w.Faces[i].Layers); n > 0 {
			if s := boardStage(w, w.Faces[i].Face, n-1, first); s.rank() > last.rank() {
				last = s
			}
		}
	}
	return last
}

func gussets(w *layout.Wall) float64 {
	sum := 0.0
	for i := range w.Gussets {
		sum += w.Gussets[i].Width.Metres() * w.Gussets[i].Height.Metres()
	}
	return sum
}

func capped(w *layout.Wall) float64 {
	sum := 0.0
	for i := range w.Caps {
		sum += w.Caps[i].Area().SquareMetres()
	}
	return sum
}
