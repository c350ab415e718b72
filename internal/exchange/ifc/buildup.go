package ifc

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// part is what a layer is in a partition.
type part int

const (
	boardPart part = iota
	framePart
	fillPart
	airPart
	finishPart
)

// Limits of layers in mm.
const (
	thinBoard  = 6
	thickBoard = 30 // more than one board from here on is one layer only on paper
	leastFrame = 38
)

// partsOf says what each layer is: by its name, or else by its thickness.
func partsOf(layers []layer) []part {
	parts := make([]part, len(layers))
	frames, thickest := 0, -1
	for i, l := range layers {
		parts[i] = partOf(l)
		if parts[i] == framePart {
			frames++
		}
		if parts[i] != boardPart && l.thickness >= leastFrame && (thickest < 0 || l.thickness > layers[thickest].thickness) {
			thickest = i
		}
	}
	if frames == 0 && thickest >= 0 {
		parts[thickest] = framePart
	}
	return parts
}

func partOf(l layer) part {
	is := func(v vocabulary) bool { _, ok := v.in(l.words); return ok }
	switch {
	case is(studWords) && l.thickness >= thickBoard:
		return framePart
	case is(boardWords) && l.thickness >= thinBoard:
		return boardPart
	case is(airWords):
		return airPart
	case is(woolWords):
		return fillPart
	case is(finishWords) || l.thickness < thinBoard:
		return finishPart
	case l.thickness <= thickBoard:
		return boardPart
	}
	return airPart
}

// chooser turns layers into build-ups of generic products.
type chooser struct {
	cat      *catalogue.Catalogue
	practice *catalogue.Practice
	made     map[string]*chosen // by layers
	order    []*chosen
	named    int
}

// chosen is the build-up that stands for a set of layers.
type chosen struct {
	plan.BuildUp
	firstOnA bool // whether face A is where the first layer lies
	onesided bool // whether it matters which face is A
	walls    int
	layers   string
	drawn    float64    // thickness of the layers together in mm
	err      words.Text // why there is no build-up
}

func newChooser(practice string) *chooser {
	cat := catalogue.Shipped()
	p, _ := cat.PracticeByID(practice)
	return &chooser{cat: cat, practice: p, made: map[string]*chosen{}}
}

// of returns the build-up for a wall's layers, nil where they show none.
func (c *chooser) of(w *wall) *chosen {
	if len(w.makeup.layers) < 2 {
		return nil
	}
	var key strings.Builder
	for _, l := range w.makeup.layers {
		fmt.Fprintf(&key, "%.2f %s | ", l.thickness, l.name)
	}
	k, ok := c.made[key.String()]
	if !ok {
		k = c.choose(w.makeup)
		k.layers, k.drawn = strings.TrimSuffix(key.String(), " | "), w.makeup.total
		c.made[key.String()] = k
		c.order = append(c.order, k)
		if k.err == "" {
			c.named++
			k.ID, k.Name = fmt.Sprintf("P%d", c.named), w.label
		}
	}
	k.walls++
	return k
}

// choose picks the products that come nearest to the layers.
func (c *chooser) choose(m makeup) *chosen {
	parts := partsOf(m.layers)
	first, last := slices.Index(parts, framePart), -1
	frames := 0
	for i, p := range parts {
		if p == framePart {
			last, frames = i, frames+1
		}
	}
	k := &chosen{firstOnA: true}
	switch {
	case frames == 0:
		k.err = "no layer is thick enough for a frame"
		return k
	case frames > 2:
		k.err = words.F("it has %d layers of studs, and a partition has one or two", frames)
		return k
	}
	left, right := c.face(m.layers[:first], parts[:first]), c.face(m.layers[last+1:], parts[last+1:])
	slices.Reverse(left) // from the frame outwards
	if len(left)+len(right) == 0 {
		k.err = "it has no boards"
		return k
	}
	k.Frame.Kind = plan.Single
	if frames == 2 {
		k.Frame.Kind = plan.TwinIndependent
		for _, l := range m.layers[first+1 : last] {
			k.Frame.Gap += length(l.thickness)
		}
	}
	if frames == 1 && (len(left) == 0 || len(right) == 0) {
		k.Frame.Kind, k.onesided = plan.Lining, true
		if k.firstOnA = len(left) > 0; !k.firstOnA {
			left, right = right, nil
		}
		k.Frame.Gap = airBehind(m.layers, parts, k.firstOnA)
	}
	depth := max(m.layers[first].thickness, m.layers[last].thickness)
	k.Frame.Stud = c.stud(depth).ID
	k.FaceA, k.FaceB = left, right
	if slices.Equal(left, right) {
		k.FaceB = nil
	} else {
		k.onesided = true
	}
	k.Insulation = c.fill(m.layers, parts, frames)
	return k
}

// airBehind returns the air space between a lining and the wall behind it.
func airBehind(layers []layer, parts []part, behindLast bool) plan.Length {
	i := 0
	if behindLast {
		i = len(layers) - 1
	}
	if parts[i] != airPart {
		return 0
	}
	return length(layers[i].thickness)
}

// face picks the boards for the layers on one side of the frame, in their
// order.
func (c *chooser) face(layers []layer, parts []part) []string {
	var ids []string
	for i, l := range layers {
		if parts[i] == boardPart {
			ids = append(ids, c.boards(l)...)
		}
	}
	return ids
}

// otherType is what a board of another type than is wanted counts as far from
// it, in mm of thickness.
const otherType = 3

// boards picks the board that is nearest to a layer. Up to three boards may
// stand for one layer.
func (c *chooser) boards(l layer) []string {
	wanted := c.boardType(l)
	best, count, least := "", 0, math.Inf(1)
	for n := 1; n <= 3; n++ {
		for _, b := range c.cat.Boards {
			if !slices.Contains(c.practice.Standards, b.Standard) {
				continue
			}
			off := math.Abs(float64(n)*b.Thickness.MM() - l.thickness)
			if b.Type != wanted {
				off += otherType
			}
			if off < least-1e-9 {
				best, count, least = b.ID, n, off
			}
		}
	}
	ids := make([]string, count)
	for i := range ids {
		ids[i] = best
	}
	return ids
}

// boardType is the type of board that a layer's name asks for; that of the
// practice's usual board where it asks for none.
func (c *chooser) boardType(l layer) string {
	_, fire := fireWords.in(l.words)
	_, wet := wetWords.in(l.words)
	types := map[[2]bool][2]string{
		{true, false}: {"DF", "Type X"}, {false, true}: {"H2", "water-resistant"}, {true, true}: {"DFH2", "Type X water-resistant"},
	}
	if t, ok := types[[2]bool{fire, wet}]; ok {
		if c.practice.ID == "us" {
			return t[1]
		}
		return t[0]
	}
	usual, ok := c.cat.Board(c.practice.UsualBoard.Value)
	if !ok {
		return ""
	}
	return usual.Type
}

// stud picks the stud whose frame is nearest in depth; among equals the one
// nearest in sheet thickness to the practice's usual stud.
func (c *chooser) stud(depth float64) catalogue.Profile {
	var best catalogue.Profile
	usual := catalogue.Profile{}
	if u, ok := c.cat.Profile(c.practice.UsualStud.Value); ok {
		usual = *u
	}
	off := func(p catalogue.Profile) (float64, float64) {
		return math.Abs(p.NominalDepth().MM() - depth), math.Abs((p.Thickness - usual.Thickness).MM())
	}
	for _, p := range c.cat.Profiles {
		if p.Kind != catalogue.Stud || !slices.Contains(c.practice.Standards, p.Standard) {
			continue
		}
		d, t := off(p)
		bd, bt := off(best)
		if best.ID == "" || d < bd-1e-9 || d < bd+1e-9 && t < bt-1e-9 {
			best = p
		}
	}
	return best
}

// fill picks the cavity fill where a layer between the boards is said to be
// one: the thickest of the kind that goes into the frame. Twin frames get one
// a line.
func (c *chooser) fill(layers []layer, parts []part, frames int) []plan.Insulation {
	var found *layer
	first, last := slices.Index(parts, framePart), len(parts)-1
	for parts[last] != framePart {
		last--
	}
	for i := max(first-1, 0); i <= min(last+1, len(parts)-1); i++ {
		if _, wool := woolWords.in(layers[i].words); wool && (parts[i] == fillPart || parts[i] == framePart) && found == nil {
			found = &layers[i]
		}
	}
	if found == nil {
		return nil
	}
	depth := length(max(layers[first].thickness, layers[last].thickness))
	var best *catalogue.Insulation
	for i := range c.cat.Insulation {
		p := &c.cat.Insulation[i]
		fits := slices.Contains(c.practice.Standards, p.Standard) && len(p.Thicknesses) > 0 && p.Thicknesses[0] <= depth
		if fits && (best == nil || p.Thicknesses[0] > best.Thicknesses[0]) {
			best = p
		}
	}
	if best == nil {
		return nil
	}
	fills := make([]plan.Insulation, frames)
	for i := range fills {
		fills[i] = plan.Insulation{Product: best.ID, Thickness: best.Thicknesses[0]}
	}
	return fills
}

// thickness returns the finished thickness of a build-up in mm.
func (c *chooser) thickness(b *plan.BuildUp) float64 {
	t := b.Frame.Gap
	if b.Frame.Kind == plan.Lining {
		t = 0 // the gap is to the wall behind
	}
	if stud, ok := c.cat.Profile(b.Frame.Stud); ok {
		t += stud.NominalDepth()
		if b.Frame.Kind.Twin() {
			t += stud.NominalDepth()
		}
	}
	other := b.FaceB
	if other == nil && !b.Frame.Kind.OneSided() {
		other = b.FaceA
	}
	for _, id := range slices.Concat(b.FaceA, other) {
		if board, ok := c.cat.Board(id); ok {
			t += board.Thickness
		}
	}
	return t.MM()
}

// showBuildUps tells which products stand for which layers.
func (r *reader) showBuildUps(c *chooser) {
	for _, k := range c.order {
		if k.err != "" {
			r.tell(finding.Warning, "layers-unread", "", words.F("the layers %s of %s give no build-up: %s", k.layers, words.Count(k.walls, "1 wall", "%d walls"), k.err), "name a build-up for these walls")
			continue
		}
		built := c.thickness(&k.BuildUp)
		r.tell(finding.Assumed, "buildup-chosen", k.ID,
			words.F("the layers %s of %s are read as %s: %.1f mm thick, drawn %.1f mm, which is %+.1f mm", k.layers, words.Count(k.walls, "1 wall", "%d walls"), products(&k.BuildUp), built, k.drawn, built-k.drawn),
			"change the build-up if other products are meant")
	}
}

// products names what a build-up is made of.
func products(b *plan.BuildUp) words.Text {
	text := words.Of(b.Frame.Stud)
	switch {
	case b.Frame.Kind.Twin():
		text = words.F("two frames of %s", text)
	case b.Frame.Kind == plan.Lining:
		text = words.F("a lining of %s", text)
	}
	text = words.F("%s with %s", text, together(b.FaceA))
	switch {
	case b.Frame.Kind == plan.Lining:
	case b.FaceB == nil:
		text = words.F("%s on both faces", text)
	default:
		text = words.F("%s on face A, %s on face B", text, together(b.FaceB))
	}
	if len(b.Insulation) > 0 {
		text = words.F("%s, filled with %s", text, b.Insulation[0].Product)
	}
	return text
}

func together(ids []string) words.Text {
	var all words.Text
	for i, id := range ids {
		if all = words.F("%s and %s", all, id); i == 0 {
			all = words.Of(id)
		}
	}
	return all
}
