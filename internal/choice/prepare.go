package choice

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/proof/fire"
	"nogging/internal/proof/moisture/din18534_1"
	"nogging/internal/proof/sound"
	"nogging/internal/proof/sound/prediction"
	"nogging/internal/proof/structure"
)

// sheet is the faces of boards of one width and the pairs of them.
type sheet struct {
	width  Length
	faces  []face
	pairs  []pair  // lightest first
	blocks []block // of some pairs each
	least  Measures
	count  int // pairs before any was left out
}

// face is a face with all that decides over it.
type face struct {
	faceOf
	list     []*catalogue.Board
	ok       [2]bool          // may stand on face A, B
	leaf     *prediction.Leaf // nil where the prediction does not know its boards
	leafNo   int              // the same for the same leaf
	beyond   bool             // more layers than the prediction was held against
	fire     [2][]bool        // inside each document as face A, B
	heights  []bool           // as each tested height covers it
	tests    [2][]bool        // as face A, B of each sound test
	measures Measures
	kind     uint64 // faces of one kind differ in their measures only
}

// pair is two faces; b is nil where one face is boarded.
type pair struct {
	a, b     *face
	measures Measures
}

// blockSize is the number of pairs in a block; any gives the same front.
const blockSize = 32

// block is some pairs in a row.
type block struct {
	least      Measures
	here, upTo bound // of these pairs; of these and all before
}

// bound is faces no worse than those of some pairs.
type bound struct {
	a, b    *prediction.Leaf // nil where the prediction knows none of them
	unknown bool             // some pair is not known to the prediction
}

func (b *bound) take(p *pair) {
	if p.a.leaf == nil || p.b != nil && p.b.leaf == nil {
		b.unknown = true
		return
	}
	b.a = better(b.a, p.a.leaf)
	if p.b != nil {
		b.b = better(b.b, p.b.leaf)
	}
}

func (b *bound) join(o *bound) {
	b.unknown = b.unknown || o.unknown
	b.a, b.b = better(b.a, o.a), better(b.b, o.b)
}

func better(a, b *prediction.Leaf) *prediction.Leaf {
	switch {
	case a == nil || a == b:
		return b
	case b == nil:
		return a
	}
	return prediction.Envelope(a, b)
}

// frame is a frame with its fill and all that decides over it.
type frame struct {
	frameOf
	sheet    *sheet
	build    *buildup.BuildUp // its boards are any
	measures Measures
	standing Standing        // in what no face decides
	strong   *structure.Stud // nil where its strength cannot be reckoned
	uses     structure.Uses
	scoped   bool // the method of strength is inside its range
	tied     bool
	shown    []shown         // tested heights that cover it
	fire     []fire.Standing // to each document
	tests    []int           // sound tests that cover it
	cavity   *prediction.Cavity
	studs    *prediction.Studs
	unknown  bool // the prediction does not know it
	beyond   bool // it was not held against such frames
}

// shown is a tested height, by its number, with what it shows.
type shown struct {
	record int
	structure.Shown
}

// newSearch prepares the parts for a demand.
func newSearch(j judge) *search { return newSearchBy(j, blockSize) }

func newSearchBy(j judge, size int) *search {
	s := &search{judge: j, size: size, meter: newMeter(j.cat, j.pr, j.Height), heard: map[[2]int]Standing{}}
	if j.Require.Sound != "" {
		s.tests = sound.Tests(j.sound, j.cat.SoundEvidence)
	}
	oneSided := slices.ContainsFunc(j.Demand.frames(), func(k kind) bool { return k.OneSided() })
	twoSided := slices.ContainsFunc(j.Demand.frames(), func(k kind) bool { return !k.OneSided() })
	leaves := map[string]numbered{}
	for _, width := range widths(j.cat) {
		list := s.newFaces(width, leaves)
		if twoSided {
			s.addFrames(s.newSheet(width, list, false))
		}
		if oneSided {
			s.addFrames(s.newSheet(width, list, true))
		}
	}
	slices.SortStableFunc(s.frames, func(a, b frame) int { return cmp.Compare(weight(&a.measures), weight(&b.measures)) })
	return s
}

// weight puts build-ups in an order in which good ones come early; any does.
func weight(m *Measures) int64 {
	w := m[Thickness]/100 + m[Mass]/30 + m[Labour]
	if m.Known(Carbon) {
		w += m[Carbon] / 10
	}
	return w
}

// newFaces reckons all faces of boards of a width.
func (s *search) newFaces(width Length, leaves map[string]numbered) []face {
	kinds := map[string]uint64{}
	specs := faces(s.cat, width)
	list := make([]face, len(specs))
	for i := range specs {
		f := &list[i]
		f.faceOf, f.list = specs[i], specs[i].boards()
		f.measures = s.meter.face(f.list)
		f.heights = make([]bool, len(s.cat.HeightEvidence))
		for k := range s.cat.HeightEvidence {
			f.heights[k] = structure.FaceTested(&s.cat.HeightEvidence[k], f.list, s.pr)
		}
		s.burning(f)
		if s.Require.Sound != "" {
			s.hearing(f, leaves)
		}
		key := s.key(f)
		if _, known := kinds[key]; !known {
			kinds[key] = uint64(len(kinds))
		}
		f.kind = kinds[key]
	}
	return list
}

// burning finds on which faces boards may stand for fire and water.
func (s *search) burning(f *face) {
	rows := screws(f.layers, s.pr)
	for side := range f.ok {
		f.fire[side] = make([]bool, len(s.records))
		covered := s.guides || !s.withFire
		for i := range s.records {
			f.fire[side][i] = fire.FaceInside(&s.records[i], side, f.list, rows)
			covered = covered || f.fire[side][i]
		}
		class := s.wet[side]
		f.ok[side] = covered && (class == "" || din18534_1.Suits(f.inner.Wet, class) && din18534_1.Suits(f.outer.Wet, class))
	}
}

// numbered is a leaf with its number.
type numbered struct {
	leaf   *prediction.Leaf
	number int
}

// hearing reckons a face's sound; equal boards in any order are one leaf.
func (s *search) hearing(f *face, leaves map[string]numbered) {
	b := buildup.BuildUp{A: f.list}
	f.beyond = f.layers > sound.MostLayers
	for side := range f.tests {
		f.tests[side] = make([]bool, len(s.tests))
		for i, t := range s.tests {
			f.tests[side][i] = t.Face(side, f.list)
		}
	}
	if len(sound.Unknown(&b)) > 0 {
		return
	}
	sorted := slices.Clone(f.list)
	slices.SortStableFunc(sorted, func(a, b *catalogue.Board) int {
		return cmp.Or(cmp.Compare(a.Mass, b.Mass), cmp.Compare(a.Thickness, b.Thickness))
	})
	var key strings.Builder
	for _, x := range sorted {
		fmt.Fprintf(&key, "%v/%d ", x.Mass, x.Thickness)
	}
	leaf, known := leaves[key.String()]
	if !known {
		leaf = numbered{sound.Leaf(sorted), len(leaves)}
		leaves[key.String()] = leaf
	}
	f.leaf, f.leafNo = leaf.leaf, leaf.number
}

// key tells faces apart in all but their measures.
func (s *search) key(f *face) string {
	var lambda []float64
	if s.heat > 0 {
		for _, b := range f.list {
			m, _ := s.cat.BoardMaterial(b)
			if m != nil {
				lambda = append(lambda, m.Lambda.Value, b.Thickness.MM())
			} else {
				lambda = append(lambda, -1)
			}
		}
	}
	return fmt.Sprintf("%p %v %v %v %v %d %d %v", f.leaf, f.beyond, f.fire, f.heights, f.tests, f.layers, f.list[0].Thickness, lambda)
}

// newSheet pairs faces.
func (s *search) newSheet(width Length, list []face, oneSided bool) *sheet {
	out := &sheet{width: width, faces: list}
	groups := map[[2]uint64][]pair{}
	add := func(a, b *face) {
		p, key := pair{a: a, b: b, measures: a.measures}, [2]uint64{a.kind, 0}
		if b != nil {
			p.measures, key[1] = sum(&a.measures, &b.measures), b.kind+1
		}
		group := groups[key]
		if slices.ContainsFunc(group, func(q pair) bool { return noWorse(&q.measures, &p.measures) }) {
			return
		}
		groups[key] = append(slices.DeleteFunc(group, func(q pair) bool { return noWorse(&p.measures, &q.measures) }), p)
	}
	free := s.wet[0] != s.wet[1]
	for i := range list {
		if oneSided {
			out.count++
			if list[i].ok[0] {
				add(&list[i], nil)
			}
			continue
		}
		for k := range list {
			if !goTogether(&list[i].faceOf, &list[k].faceOf, free) {
				continue
			}
			out.count++
			if list[i].ok[0] && list[k].ok[1] {
				add(&list[i], &list[k])
			}
		}
	}
	for _, g := range groups {
		out.pairs = append(out.pairs, g...)
	}
	slices.SortFunc(out.pairs, comparePairs)
	out.cut(s.size)
	return out
}

func comparePairs(a, b pair) int {
	order := cmp.Compare(a.measures[Mass], b.measures[Mass])
	for k := 0; order == 0 && k < len(a.measures); k++ {
		order = cmp.Compare(a.measures[k], b.measures[k])
	}
	if order == 0 {
		order = slices.CompareFunc(a.a.list, b.a.list, byID)
	}
	if order == 0 && a.b != nil {
		order = slices.CompareFunc(a.b.list, b.b.list, byID)
	}
	return order
}

func byID(a, b *catalogue.Board) int { return strings.Compare(a.ID, b.ID) }

// cut cuts the pairs into blocks.
func (s *sheet) cut(size int) {
	for start := 0; start < len(s.pairs); start += size {
		b := block{least: s.pairs[start].measures}
		for i := start; i < min(start+size, len(s.pairs)); i++ {
			b.least = smaller(&b.least, &s.pairs[i].measures)
			b.here.take(&s.pairs[i])
		}
		if start > 0 {
			b.upTo = s.blocks[len(s.blocks)-1].upTo
		}
		b.upTo.join(&b.here)
		if start == 0 {
			s.least = b.least
		}
		s.least = smaller(&s.least, &b.least)
		s.blocks = append(s.blocks, b)
	}
}

// smaller returns the lesser of each measure.
func smaller(a, b *Measures) Measures {
	out := *a
	for k := range out {
		out[k] = min(out[k], b[k])
	}
	return out
}
