package ifc

import (
	"math"
	"slices"

	"nogging/internal/exchange/ifc/step"
	"nogging/internal/finding"
	"nogging/internal/words"
)

// stated is a size of a wall as the file states it: mm, or mm2 for areas.
type stated struct {
	name string
	area bool
	size float64
}

// statedSizes reads the quantities of a wall that can be compared. A quantity may have a
// unit of its own.
func (r *reader) statedSizes(wall step.ID) []stated {
	var sizes []stated
	units := r.shape.Units()
	for _, set := range r.rel.sets[wall] {
		if r.file.Type(set) != "IFCELEMENTQUANTITY" {
			continue
		}
		for _, id := range r.file.Arg(set, 5).Refs() {
			args := r.file.Args(id)
			kind := r.file.Type(id)
			s := stated{name: args.At(0).Text(), area: kind == "IFCQUANTITYAREA"}
			v, ok := args.At(3).Real()
			if !ok || !s.area && kind != "IFCQUANTITYLENGTH" {
				continue
			}
			factor := units.Length
			if s.area {
				factor = units.Area
			}
			if own, given := args.At(2).Ref(); given {
				if factor, ok = r.shape.Factor(own); !ok {
					continue
				}
				if factor *= 1000; s.area {
					factor *= 1000
				}
			}
			s.size = v * factor
			sizes = append(sizes, s)
		}
	}
	return sizes
}

// Sizes that differ by less are the same: by the share, or by this many mm.
const (
	sameShare = 0.01
	sameSize  = 5
)

// compareSizes holds what the file states of a wall's size against what was read of its
// geometry, and tells where they differ.
func (r *reader) compareSizes(w *wall) {
	var off []words.Text
	compared := false
	for _, s := range r.statedSizes(w.id) {
		read := w.sizes(s.name)
		if len(read) == 0 {
			continue
		}
		compared = true
		slack := max(sameShare*s.size, sameSize)
		if s.area {
			slack = max(sameShare*s.size, sameSize*(w.length+w.height()))
		}
		if slices.ContainsFunc(read, func(x float64) bool { return math.Abs(x-s.size) <= slack }) {
			continue
		}
		if s.area {
			off = append(off, words.F("%s %.2f m², read %.2f m²", s.name, s.size/1e6, read[0]/1e6))
		} else {
			off = append(off, words.F("%s %.0f mm, read %.0f mm", s.name, s.size, read[0]))
		}
	}
	if !compared {
		return
	}
	if r.stats.Sized++; len(off) == 0 {
		r.stats.SizesMeet++
		return
	}
	w.doubt(finding.Note, "sizes-differ", words.F("the file states other sizes than its geometry has: %s", words.Join(off, "; ")), "")
}

// sizes returns what was read of a size that quantities name: lengths of the wall's body
// in its middle and at its longer face, and of its axis, since programs measure either.
func (w *wall) sizes(name string) []float64 {
	if w.elevation == nil {
		return nil
	}
	lengths := []float64{w.length, w.ends[1] - w.ends[0]}
	if w.axis > 0 {
		lengths = append(lengths, w.axis)
	}
	switch name {
	case "Length":
		return lengths
	case "Height":
		heights := []float64{w.height()}
		if w.depth > 0 {
			heights = append(heights, w.depth)
		}
		return heights
	case "Width":
		return []float64{w.thickness}
	case "GrossSideArea", "NetSideArea":
		less := 0.0
		if name == "NetSideArea" {
			for _, o := range w.openings {
				less += o.rect.area()
			}
		}
		side := w.side()
		areas := make([]float64, len(lengths))
		for i, l := range lengths {
			areas[i] = side/w.length*l - less
		}
		return areas
	}
	return nil
}

// side returns the area of the wall's elevation without its openings taken away.
func (w *wall) side() float64 {
	area := 0.0
	top := w.elevation.top
	for i := 1; i < len(top); i++ {
		area += (top[i].u - top[i-1].u) * ((top[i].z+top[i-1].z)/2 - w.elevation.foot)
	}
	return area
}
