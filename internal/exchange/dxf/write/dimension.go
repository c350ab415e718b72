package write

import (
	"math"
	"strconv"
	"strings"
)

// Sizes in mm at full size, for prints at 1:50.
const (
	textHeight = 125.0
	tick       = 60.0 // half the extent of an oblique tick (ISO 129-1)
)

// point is a place in mm.
type point struct{ x, y float64 }

// towards returns the point at a distance from p in the direction given, and so far to
// its left.
func (p point) towards(dir point, along, left float64) point {
	return point{p.x + dir.x*along - dir.y*left, p.y + dir.y*along + dir.x*left}
}

// dimension draws an aligned dimension between two points, its line so far to their
// left, as an entity with the block that shows it.
func (f *file) dimension(on string, p, q point, left float64) {
	length := math.Hypot(q.x-p.x, q.y-p.y)
	if length < 1 {
		return
	}
	dir := point{(q.x - p.x) / length, (q.y - p.y) / length}
	a, b := p.towards(dir, 0, left), q.towards(dir, 0, left)
	degrees := math.Atan2(dir.y, dir.x) * 180 / math.Pi
	above := 0.8 * textHeight
	if degrees > 90.001 || degrees <= -89.999 {
		degrees, above = math.Mod(degrees+180, 360), -above // read from below or from the right
	}
	middle := a.towards(dir, length/2, above)
	f.drawn++
	name := "*D" + strconv.Itoa(f.drawn)
	f.block(name, func(out *strings.Builder, owner int) {
		for _, l := range [][2]point{
			{a.towards(dir, -tick, 0), b.towards(dir, tick, 0)}, {p, a}, {q, b},
			{a.towards(dir, -tick, -tick), a.towards(dir, tick, tick)}, {b.towards(dir, -tick, -tick), b.towards(dir, tick, tick)},
		} {
			f.line(out, owner, on, l[0], l[1])
		}
		f.text(out, owner, on, middle, textHeight, degrees, strconv.FormatFloat(math.Round(length*10)/10, 'f', -1, 64))
	})
	f.entity(&f.entities, modelHandle, "DIMENSION", on, 100, "AcDbDimension", 2, name, 10, b.x, 20, b.y, 30, 0.0, 11, middle.x, 21, middle.y, 31, 0.0,
		70, 33, 71, 5, 42, length, 3, "Standard", 100, "AcDbAlignedDimension", 13, p.x, 23, p.y, 33, 0.0, 14, q.x, 24, q.y, 34, 0.0)
}

// block defines a block.
func (f *file) block(name string, fill func(out *strings.Builder, owner int)) {
	owner := f.next()
	put(&f.records, 0, "BLOCK_RECORD", 5, hex(owner), 330, hex(1), 100, "AcDbSymbolTableRecord", 100, "AcDbBlockTableRecord", 2, name, 340, 0)
	put(&f.blocks, 0, "BLOCK", 5, hex(f.next()), 330, hex(owner), 100, "AcDbEntity", 8, "0", 100, "AcDbBlockBegin", 2, name, 70, 1, 10, 0.0, 20, 0.0, 30, 0.0, 3, name, 1, "")
	fill(&f.blocks, owner)
	put(&f.blocks, 0, "ENDBLK", 5, hex(f.next()), 330, hex(owner), 100, "AcDbEntity", 8, "0", 100, "AcDbBlockEnd")
}
