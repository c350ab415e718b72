package ifc

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"nogging/internal/exchange/ifc/step"
	"nogging/internal/finding"
	"nogging/internal/words"
)

// level is a storey on its way to the plan.
type level struct {
	id        step.ID // 0 where it was made from the feet of walls
	mark      string  // id in the plan
	name      string
	elevation float64 // mm: of the storey's placement, later of the floor on which walls stand
	clear     float64
	walls     []*wall
	rooms     []*room
}

// Tolerances of levels, in mm.
const (
	sameFloor  = 1200 // feet of walls nearer than this stand on one floor
	wrongFloor = 1000 // a storey farther than this from its walls has a wrong elevation
	nearFloor  = 300  // walls nearer than this stand on a floor, on a finish or in a recess of it
)

// storeys reads the storeys of the file. A storey's elevation is that of its
// placement; the attribute Elevation is informative only, and often missing.
func (r *reader) storeys() {
	for _, id := range r.file.OfType("IFCBUILDINGSTOREY") {
		args := r.file.Args(id)
		l := &level{id: id, name: args.At(2).Text()}
		if l.name == "" {
			l.name = args.At(7).Text() // LongName
		}
		at, err := r.shape.Placement(id)
		switch {
		case err != nil:
			r.leaveOut(id, finding.Warning, "storey-placement", words.F("its placement cannot be read: %s", words.OfErr(err)), "its walls go to the level at which they stand")
			continue
		case math.Abs(at.Z.Z) < 0.9999 || !sane(at.O.Z):
			r.leaveOut(id, finding.Warning, "storey-tilted", "the storey is tilted or lies outside all bounds", "its walls go to the level at which they stand")
			continue
		}
		l.elevation = at.O.Z
		if args.At(5).IsNull() {
			if e, ok := args.At(9).Real(); ok {
				l.elevation = e * r.shape.Units().Length
			}
		}
		r.storey[id] = l
		r.levels = append(r.levels, l)
	}
	r.sortLevels()
}

func (r *reader) sortLevels() {
	slices.SortStableFunc(r.levels, func(a, b *level) int { return cmp.Compare(a.elevation, b.elevation) })
}

// house puts walls that are in no storey on the level at which they stand. In
// a file without storeys, levels are made from the feet of the walls.
func (r *reader) house(homeless []*wall) {
	if len(homeless) == 0 {
		return
	}
	stated := len(r.levels) > 0
	slices.SortStableFunc(homeless, func(a, b *wall) int { return cmp.Compare(a.foot, b.foot) })
	for _, w := range homeless {
		home := r.levelAt(w.foot)
		if !stated && (home == nil || w.foot-home.elevation > sameFloor) {
			home = &level{name: fmt.Sprintf("Level at %+.3f m", w.foot/1000), elevation: w.foot}
			r.levels = append(r.levels, home)
		}
		w.level = home
	}
	r.tell(finding.Assumed, "storey-missing", "",
		words.F("%s in no storey: each is put on the level at which it stands", words.Count(len(homeless), "1 wall", "%d walls")),
		"assign the walls to storeys in the model")
}

// levelAt returns the level on which something stands at z, nil where there
// are no levels.
func (r *reader) levelAt(z float64) *level {
	var home *level
	for _, l := range r.levels {
		if home == nil || l.elevation <= z+sameFloor/2 {
			home = l
		}
	}
	return home
}

// settleLevels decides what each level is called, how high its floor is and
// how high its soffit.
func (r *reader) settleLevels() {
	for _, w := range r.walls {
		w.level.walls = append(w.level.walls, w)
	}
	stated := map[*level]float64{}
	for _, l := range r.levels {
		stated[l] = l.elevation
		l.settleFloor()
	}
	r.sortLevels()
	r.nameLevels()
	for _, l := range r.levels {
		r.showFloor(l, stated[l])
	}
	r.readRooms()
	slabs := r.slabs()
	for i := range r.levels {
		r.settleSoffit(i, slabs)
	}
}

// settleFloor moves a level's floor to where most of its partitions stand,
// since heights in a plan are measured from there. Where they do not stand near
// the storey's elevation, most of all walls decide.
func (l *level) settleFloor() {
	foot, n := commonest(l.walls, true, func(w *wall) float64 { return w.foot })
	if n == 0 || math.Abs(foot-l.elevation) > nearFloor {
		foot, n = commonest(l.walls, false, func(w *wall) float64 { return w.foot })
	}
	if n > 0 && math.Abs(foot-l.elevation) >= 1 {
		l.elevation = foot
	}
}

// showFloor tells where the floor is not at the elevation that the file states.
func (r *reader) showFloor(l *level, stated float64) {
	off := math.Abs(l.elevation - stated)
	if off == 0 {
		return
	}
	severity, code, fix := finding.Note, "level-floor", words.Text("")
	if off > wrongFloor {
		severity, code, fix = finding.Warning, "level-elevation", "check the storey's elevation in the model"
	}
	r.tell(severity, code, l.mark, words.F("the storey %s is at %+.3f m, but most of its walls stand at %+.3f m: that is taken as the floor", l.name, stated/1000, l.elevation/1000), fix)
}

// commonest returns the value, to the millimetre, that most walls have,
// weighted by length; the lowest of equals. n is how many walls were asked.
func commonest(walls []*wall, partitions bool, value func(*wall) float64) (most float64, n int) {
	weight := map[float64]float64{}
	exact := map[float64]float64{}
	for _, w := range walls {
		if partitions && !w.partition {
			continue
		}
		v := value(w)
		key := math.Round(v)
		weight[key] += w.length
		if _, ok := exact[key]; !ok {
			exact[key] = v
		}
		n++
	}
	best := -1.0
	for key, sum := range weight {
		if sum > best || sum == best && key < most {
			best, most = sum, key
		}
	}
	return exact[most], n
}

// nameLevels gives levels their marks: the ground floor and those above are
// L1, L2 …, those below B1, B2 … downwards. Floors at one height, as of two
// buildings, are L1 and L1.2.
func (r *reader) nameLevels() {
	var floors [][]*level
	for _, l := range r.levels {
		if n := len(floors); n > 0 && l.elevation-floors[n-1][0].elevation < 1 {
			floors[n-1] = append(floors[n-1], l)
		} else {
			floors = append(floors, []*level{l})
		}
	}
	ground := r.groundFloor(floors)
	for i, floor := range floors {
		mark := fmt.Sprintf("L%d", i-ground+1)
		if i < ground {
			mark = fmt.Sprintf("B%d", ground-i)
		}
		floor[0].mark = mark
		for j, twin := range floor[1:] {
			twin.mark = fmt.Sprintf("%s.%d", mark, j+2)
		}
	}
}

// groundFloor finds the floor that is nearest to the zero of the building, or
// of the project; the lowest where none is near either.
func (r *reader) groundFloor(floors [][]*level) int {
	zeros := []float64{0}
	for _, id := range r.file.OfType("IFCBUILDING") {
		if at, err := r.shape.Placement(id); err == nil {
			zeros = []float64{at.O.Z, 0}
			break
		}
	}
	for _, zero := range zeros {
		ground, least := -1, float64(sameFloor)
		for i, f := range floors {
			if off := math.Abs(f[0].elevation - zero); off < least {
				ground, least = i, off
			}
		}
		if ground >= 0 {
			return ground
		}
	}
	return 0
}

// slab is the extent of a slab in height.
type slab struct{ bottom, top float64 }

// maxSlab is the thickness above which a slab is no floor that can be reckoned
// with.
const maxSlab = 1000

// slabs returns the heights of all slabs.
func (r *reader) slabs() []slab {
	var slabs []slab
	for _, o := range r.overheads {
		if r.is(o.id, slabTypes) && o.box.Size().Z < maxSlab {
			slabs = append(slabs, slab{o.box.Min.Z, o.box.Max.Z})
		}
	}
	slices.SortStableFunc(slabs, func(a, b slab) int { return cmp.Compare(b.top, a.top) })
	return slabs
}

// defaultClear is the clear height in mm where nothing tells it.
const defaultClear = 2700

// settleSoffit finds a level's clear height. It is that under the slab of the
// next level, or that of most rooms, whichever is nearer to the height of most
// partitions. Where no slab shows the soffit, partitions that are higher than
// the rooms do: rooms end at ceilings. Where the file has neither, the height
// of most walls is taken, which for a topmost level may be measured to its roof.
func (r *reader) settleSoffit(i int, slabs []slab) {
	l := r.levels[i]
	usual := l.usualHeight()
	soffit, underSlab := r.soffit(i, slabs)
	rooms, hasRooms := l.roomHeight()
	fix := words.Text("correct clear_height of the level")
	switch {
	case underSlab:
		l.clear = soffit
		if hasRooms && usual > 0 && math.Abs(rooms-usual) < math.Abs(soffit-usual) {
			l.clear = rooms
		}
	case hasRooms && usual > rooms && usual <= r.storeyHeight(i):
		l.clear = usual
		if usual > rooms+sameSoffit {
			r.tell(finding.Assumed, "clear-height", l.mark,
				words.F("most rooms are %.0f mm high, most partitions %.0f mm: the soffit is taken where the partitions end", rooms, usual), fix)
		}
	case hasRooms:
		l.clear = rooms
	case usual > 0 && l.measuredTops():
		l.clear = usual
	case usual > 0:
		l.clear = usual
		r.tell(finding.Assumed, "clear-height", l.mark,
			words.F("the file shows no slab or space to measure to: the clear height is taken as %.0f mm, that of most walls", usual), fix)
	default:
		l.clear = defaultClear
		r.tell(finding.Assumed, "clear-height", l.mark, words.F("nothing on the level shows its clear height: %d mm is taken", defaultClear), fix)
	}
	if usual > 0 && math.Abs(l.clear-usual) < sameSoffit {
		l.clear = usual
	}
}

// measuredTops reports whether the tops of most partitions were measured to what
// stands above them.
func (l *level) measuredTops() bool {
	measured, all := 0, 0
	for _, w := range l.walls {
		if w.partition {
			all++
		}
		if w.measured {
			measured++
		}
	}
	return 2*measured > all
}

// usualHeight returns the height of most partitions on a level, or of most
// walls where it has none that reach a soffit; 0 where it has no walls.
func (l *level) usualHeight() float64 {
	usual, _ := commonest(l.walls, true, (*wall).height)
	if usual < lowRoom {
		usual, _ = commonest(l.walls, false, (*wall).height)
	}
	return usual
}

// storeyHeight returns the height from a level to the next, infinite for the
// topmost.
func (r *reader) storeyHeight(i int) float64 {
	for _, l := range r.levels[i+1:] {
		if h := l.elevation - r.levels[i].elevation; h > sameFloor {
			return h
		}
	}
	return math.Inf(1)
}

// sameSoffit is how near the height of most walls must come to the clear
// height, in mm, to be it.
const sameSoffit = 50

// soffit returns the height up to the slab under the next level. Finishes on
// the slab count as part of it.
func (r *reader) soffit(i int, slabs []slab) (float64, bool) {
	floor := r.levels[i].elevation
	next := floor + r.storeyHeight(i)
	soffit := next
	for _, s := range slabs {
		if s.top < next+sameSoffit && s.top > soffit-2*sameSoffit && s.bottom < soffit && s.bottom > floor+sameFloor {
			soffit = s.bottom
		}
	}
	return soffit - floor, soffit < next
}
