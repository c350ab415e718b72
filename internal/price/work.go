package price

import (
	"slices"
	"strconv"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/takeoff"
)

// Task is one step of the work on one wall. Minutes are those of one person, with
// what makes the wall slower.
type Task struct {
	Operation string  `json:"operation"`
	Quantity  float64 `json:"quantity"`
	Minutes   float64 `json:"minutes"`
}

// Work is the work on one wall.
type Work struct {
	Wall   string   `json:"wall"`
	Tasks  []Task   `json:"tasks"`
	Factor float64  `json:"factor"`           // by which all its times are multiplied
	Slowed []string `json:"slowed,omitempty"` // by what
}

// Hours returns the work's hours of one person.
func (w *Work) Hours() float64 {
	minutes := 0.0
	for _, t := range w.Tasks {
		minutes += t.Minutes
	}
	return minutes / 60
}

// WorkOn reckons the work on a laid-out wall from its layout and take-off by the
// catalogue's norms. Products left out take no work.
func WorkOn(w *layout.Wall, lines []takeoff.Line, cat *catalogue.Catalogue, night bool, leftOut func(*catalogue.Product) bool) Work {
	q := map[string]float64{}
	countFrame(w, q)
	countBoards(w, q)
	coats := map[int]float64{}
	gross := 0.0
	for _, l := range lines {
		if l.Group == takeoff.Walls && l.Code == w.BuildUp+" gross" {
			gross = l.Quantity
		}
		countLine(l, cat, q, coats, leftOut)
	}
	last := 0
	for n := range coats {
		last = max(last, n)
	}
	q[catalogue.Sand] += coats[last]
	out := Work{Wall: w.ID}
	out.Factor, out.Slowed = slowness(w, gross, cat, night)
	for _, id := range catalogue.Operations() {
		if o, ok := cat.OperationFor(id); ok && q[id] > 0 {
			out.Tasks = append(out.Tasks, Task{id, q[id], q[id] * o.Minutes * out.Factor})
		}
	}
	return out
}

// countFrame counts what the frame takes.
func countFrame(w *layout.Wall, q map[string]float64) {
	for i := range w.Members {
		m := &w.Members[i]
		switch {
		case m.Role == layout.FloorTrack || m.Role == layout.SoffitTrack:
			q[catalogue.FixTrack] += m.Cut.Metres()
		case m.Upright():
			q[catalogue.StandStud]++
		default:
			q[catalogue.FitNogging]++
		}
	}
	for i := range w.Seals {
		q[catalogue.SealFrame] += w.Seals[i].From.Dist(w.Seals[i].To).Metres()
	}
	for i := range w.Beads {
		q[catalogue.FitBead] += w.Beads[i].From.Dist(w.Beads[i].To).Metres()
	}
	for i := range w.Openings {
		if w.Openings[i].Service != "" {
			q[catalogue.CutOut]++
		} else {
			q[catalogue.FrameTrim]++
		}
	}
}

// countBoards sums boards by whether others cover them.
func countBoards(w *layout.Wall, q map[string]float64) {
	for _, f := range w.Faces {
		for k := range f.Layers {
			id := catalogue.BoardInner
			if k == len(f.Layers)-1 {
				id = catalogue.BoardOuter
			}
			for i := range f.Layers[k].Pieces {
				q[id] += f.Layers[k].Pieces[i].Area().SquareMetres()
			}
		}
	}
	for i := range w.Caps {
		q[catalogue.BoardOuter] += w.Caps[i].Area().SquareMetres()
	}
	for i := range w.Gussets {
		q[catalogue.BoardInner] += w.Gussets[i].Width.Metres() * w.Gussets[i].Height.Metres()
	}
}

// countLine takes what a line of the take-off tells; coats by their number.
func countLine(l takeoff.Line, cat *catalogue.Catalogue, q map[string]float64, coats map[int]float64, leftOut func(*catalogue.Product) bool) {
	paint, _ := cat.Sundry(catalogue.PaintID)
	switch {
	case l.Group == takeoff.Walls && l.Unit == takeoff.Metre:
		q[catalogue.SetOut] += l.Quantity
	case l.Group == takeoff.Insulation:
		q[catalogue.Insulate] += l.Quantity
	case l.Group == takeoff.Openings && strings.HasPrefix(l.Code, "cut-out "):
		q[catalogue.CutOut] += l.Quantity
	case l.Group == takeoff.Joints && strings.HasSuffix(l.Code, ", inner layer"):
		q[catalogue.FillJoint] += l.Quantity
	case l.Group != takeoff.Treatment:
	case l.Code == "screw heads":
		q[catalogue.CoatHead] += l.Quantity
	case l.Code == "closed area":
		q[catalogue.CloseFace] += l.Quantity
		q[catalogue.Sand] += l.Quantity
	case l.Code == "skim area":
		q[catalogue.SkimFace] += l.Quantity
		q[catalogue.Sand] += l.Quantity
	case l.Code == "paint area":
		if paint == nil || !leftOut(&catalogue.Product{ID: paint.ID, Kinds: []string{paint.Kind}}) {
			q[catalogue.PaintFace] += l.Quantity
		}
	case strings.HasPrefix(l.Code, "coat "):
		n, _ := strconv.Atoi(strings.TrimPrefix(l.Code, "coat "))
		coats[n] += l.Quantity
		q[catalogue.CoatJoint] += l.Quantity
	default:
		if p, ok := cat.Product(l.Code); ok && slices.Contains(p.Kinds, catalogue.KindJointTape) {
			q[catalogue.TapeJoint] += l.Quantity
		}
	}
}

// slowness returns the factor of a wall's times, and what it is made of.
func slowness(w *layout.Wall, gross float64, cat *catalogue.Catalogue, night bool) (factor float64, why []string) {
	factor = 1
	height := 0.0
	for _, p := range w.Top {
		height = max(height, p.Y.Metres())
	}
	for _, kind := range catalogue.ProductivityKinds() {
		var holds *catalogue.Productivity
		for i := range cat.Productivity {
			p := &cat.Productivity[i]
			if p.When != kind {
				continue
			}
			switch kind {
			case catalogue.SlowHeight:
				if height > p.Above {
					holds = p
				}
			case catalogue.SlowSmall:
				if gross > 0 && gross < p.Below {
					holds = p
				}
			case catalogue.SlowCurved:
				if w.Curve != nil {
					holds = p
				}
			case catalogue.SlowNight:
				if night {
					holds = p
				}
			}
		}
		if holds != nil {
			factor *= holds.Factor
			why = append(why, holds.Name)
		}
	}
	return factor, why
}
