package app

import (
	"bytes"
	"fmt"

	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// Size of the small picture of a project, in units of its SVG.
const (
	pictureWidth  = 320
	pictureHeight = 200
	pictureRim    = 8
)

// Picture draws the level with most walls, small, as SVG: walls as they will be
// built, and existing structure. Its elements have classes, wall and structure, and
// carry no style but a fallback for a picture that stands alone.
func (s *State) Picture() []byte {
	s.judge()
	level := s.fullest()
	var walls, structure [][]Corner
	for i := range s.job.Plan.Walls {
		if w := &s.job.Plan.Walls[i]; w.Level == level {
			b := s.briefs[w.ID]
			walls = append(walls, b.Outline)
		}
	}
	for i := range s.job.Plan.Structure {
		if x := &s.job.Plan.Structure[i]; x.Level == level {
			structure = append(structure, structureOutline(x))
		}
	}
	f := fit(append(walls[:len(walls):len(walls)], structure...))
	var out bytes.Buffer
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" role="img">`, pictureWidth, pictureHeight)
	f.path(&out, "structure", "#8a8f98", structure)
	f.path(&out, "wall", "#3a4250", walls)
	out.WriteString("</svg>\n")
	return out.Bytes()
}

// fullest returns the level with most walls, the lowest of equals.
func (s *State) fullest() string {
	count := map[string]int{}
	for i := range s.job.Plan.Walls {
		count[s.job.Plan.Walls[i].Level]++
	}
	best := ""
	for i := range s.job.Plan.Levels {
		if id := s.job.Plan.Levels[i].ID; best == "" || count[id] > count[best] {
			best = id
		}
	}
	return best
}

// structureOutline returns the corners of existing structure, or none.
func structureOutline(x *plan.Structure) []Corner {
	var list []Corner
	if len(x.Outline) > 0 {
		for _, p := range x.Outline {
			list = append(list, Corner{p.X, p.Y})
		}
		return list
	}
	return drawnOutline(&plan.Wall{Line: x.Line, Thickness: x.Thickness})
}

// frame maps plan coordinates into a picture.
type frame struct {
	left, top quantity.Length
	scale     float64 // units a nanometre
	x, y      float64 // of the upper left corner
}

// fit returns the frame in which outlines fill a picture.
func fit(outlines [][]Corner) frame {
	var low, high Corner
	first := true
	for _, o := range outlines {
		for _, p := range o {
			if first {
				low, high, first = p, p, false
			}
			for i := range p {
				low[i], high[i] = min(low[i], p[i]), max(high[i], p[i])
			}
		}
	}
	const wide, tall = pictureWidth - 2*pictureRim, pictureHeight - 2*pictureRim
	w, h := float64(max(high[0]-low[0], quantity.Metre)), float64(max(high[1]-low[1], quantity.Metre))
	scale := min(wide/w, tall/h)
	return frame{low[0], high[1], scale, (pictureWidth - w*scale) / 2, (pictureHeight - h*scale) / 2}
}

// path draws outlines as one path.
func (f frame) path(out *bytes.Buffer, class, colour string, outlines [][]Corner) {
	fmt.Fprintf(out, `<path class="%s" fill="%s" stroke="%s" stroke-width="0.6" d="`, class, colour, colour)
	for _, o := range outlines {
		for i, p := range o {
			letter := 'L'
			if i == 0 {
				letter = 'M'
			}
			fmt.Fprintf(out, "%c%.1f %.1f", letter, f.x+float64(p[0]-f.left)*f.scale, f.y+float64(f.top-p[1])*f.scale)
		}
		if len(o) > 0 {
			out.WriteByte('Z')
		}
	}
	out.WriteString(`"/>`)
}
