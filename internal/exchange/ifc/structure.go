package ifc

import (
	"cmp"
	"math"

	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/exchange/ifc/step"
	"nogging/internal/finding"
	"nogging/internal/words"
)

// body is existing structure other than a straight wall, on its way to the
// plan.
type body struct {
	id             step.ID
	kind, material string
	level          *level
	foot, top      float64 // z
	outline        []shape.Vec
	line           [2]shape.Vec // where there is no outline
	thickness      float64
}

// Kinds of structure in a plan.
const (
	kindWall   = "wall"
	kindColumn = "column"
	kindFacade = "facade"
)

// materials are the words by which the material of structure is told, in the
// order in which they are tried.
var materials = []struct {
	material string
	words    vocabulary
}{
	{"masonry", vocabulary{parts: []string{"masonry", "brick", "blockwork", "ziegel", "mauerwerk", "kalksand", "porenbeton", "klinker", "brique", "parpaing", "baksteen", "metselwerk", "mattone", "muratura", "laterizio", "ladrillo", "tijolo", "alvenaria", "tegel", "tegl", "murverk", "tiili", "cegła", "pustak", "cihla", "tuğla", "кирпич", "кладка", "砖", "レンガ", "stone"}, words: []string{"cmu", "block", "ks"}}},
	{"concrete", vocabulary{parts: []string{"concrete", "beton", "béton", "calcestruzzo", "hormigón", "hormigon", "concreto", "betão", "żelbet", "бетон", "混凝土", "コンクリート"}, words: []string{"rc"}}},
	{"steel", vocabulary{parts: []string{"steel", "stahl", "acier", "staal", "acciaio", "acero", "stål", "teräs", "stal ", "ocel", "metal", "сталь", "钢", "鉄骨"}}},
	{"timber", vocabulary{parts: []string{"timber", "wood", "holz", "bois", "hout", "legno", "madera", "madeira", "trä", "puu", "drewn", "dřev", "ahşap", "дерев", "木"}}},
	{"glass", vocabulary{parts: []string{"glass", "glas", "glazing", "verre", "vetro", "vidrio", "vidro", "lasi", "szkło", "стекл", "玻璃", "ガラス"}}},
}

// materialOf returns what structure is made of: that of its thickest layer,
// or by its other names; "" where nothing tells it.
func materialOf(m makeup, names ...string) string {
	thickest := layer{}
	for _, l := range m.layers {
		if l.thickness > thickest.thickness {
			thickest = l
		}
	}
	for _, text := range append([]string{thickest.words, m.words}, lower(names...)) {
		for _, k := range materials {
			if _, ok := k.words.in(text); ok {
				return k.material
			}
		}
	}
	return ""
}

// readColumns reads columns as structure with their outline.
func (r *reader) readColumns() []*body {
	var found []*body
	for _, id := range r.all(columnTypes) {
		solids, err := r.shape.Body(id)
		if len(solids) == 0 {
			solids = r.partBodies(id)
		}
		outline := outlineOf(solids)
		if len(outline) < 3 || !allSane(outline) {
			r.leaveOut(id, finding.Warning, "column-unread", words.F("the column cannot be read: %s", words.OfErr(cmp.Or(err, errNoBody))), "draw it by hand in the plan")
			continue
		}
		b := &body{kind: kindColumn, material: materialOf(r.makeup(id), r.file.Arg(id, 2).Text()), outline: outline}
		if r.stand(id, solids, b) {
			found = append(found, b)
			r.stats.Columns++
		}
	}
	return found
}

// stand puts structure on its level and reports whether there is one.
func (r *reader) stand(id step.ID, solids []*shape.Solid, b *body) bool {
	b.id = id
	b.foot, b.top = math.Inf(1), math.Inf(-1)
	for p := range shape.Points(solids) {
		b.foot, b.top = min(b.foot, p.Z), max(b.top, p.Z)
	}
	foot := b.foot
	if b.level = r.storeyOf(id); b.level == nil {
		b.level = r.levelAt(foot)
	}
	if b.level == nil {
		r.leaveOut(id, finding.Warning, "structure-homeless", "there is no level that it could stand on", "assign it to a storey in the model")
	}
	return b.level != nil
}

// standsOn reports whether structure stands on a level: its own, or for a column
// one that it passes on its way through a building.
func (r *reader) standsOn(b *body, l *level) bool {
	if b.level == l || b.kind != kindColumn {
		return b.level == l
	}
	return r.rel.whole[l.id] == r.rel.whole[b.level.id] && math.Abs(l.elevation-b.level.elevation) > sameFloor &&
		b.foot < l.elevation+sameFloor && b.top > l.elevation+sameFloor
}

// outlineOf returns the outline of a body in plan: of its foot where it is one
// solid, and around all of it where it is several or has no level foot.
func outlineOf(solids []*shape.Solid) []shape.Vec {
	if len(solids) == 1 {
		if ring, ok := shape.Footprint(solids); ok {
			return ring
		}
	}
	var points []shape.Vec
	for p := range shape.Points(solids) {
		points = append(points, p)
	}
	return shape.Hull(points)
}

// readObstacles keeps the outlines of walls that cannot be read as walls, so
// that partitions have something to meet.
func (r *reader) readObstacles() []*body {
	var found []*body
	for _, id := range r.unread {
		solids, _ := r.shape.Body(id)
		ring, ok := shape.Footprint(solids)
		if !ok || !allSane(ring) {
			continue
		}
		b := &body{kind: kindWall, material: materialOf(r.makeup(id)), outline: ring}
		if r.stand(id, solids, b) {
			found = append(found, b)
		}
	}
	return found
}

// maxFacade is the thickness in mm above which a curtain wall is not straight.
const maxFacade = 1000

// readFacades reads straight curtain walls as structure, from their parts.
func (r *reader) readFacades() []*body {
	var found []*body
	for _, id := range r.file.OfType("IFCCURTAINWALL") {
		solids, _ := r.shape.Body(id)
		if len(solids) == 0 {
			solids = r.partBodies(id)
		}
		f := shape.Frame{Dir: shape.SidesOf(solids).Along}
		box := shape.Extent(solids, f)
		size := box.Size()
		if f.Dir == (shape.Vec{}) || !(size.Y <= maxFacade && size.X >= size.Y && sane(box.Min.X) && sane(box.Max.X)) {
			r.leaveOut(id, finding.Note, "facade-unread", "the curtain wall is not straight, or has no body: it is left out", "draw it as existing structure if partitions meet it")
			continue
		}
		v := (box.Min.Y + box.Max.Y) / 2
		b := &body{
			kind: kindFacade, material: "glass", thickness: size.Y,
			line: [2]shape.Vec{f.Global(box.Min.X, v, 0), f.Global(box.Max.X, v, 0)},
		}
		if r.stand(id, solids, b) {
			found = append(found, b)
			r.stats.Facades++
		}
	}
	return found
}
