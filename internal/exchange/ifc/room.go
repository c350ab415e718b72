package ifc

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/exchange/ifc/step"
	"nogging/internal/finding"
	"nogging/internal/words"
)

// room is a space on its way to the plan.
type room struct {
	id           step.ID
	name, use    string
	outline      []shape.Vec
	foot, height float64
}

// lowRoom is the height in mm under which a space is no room: a duct or a
// void.
const lowRoom = 1800

// readRooms reads every space.
func (r *reader) readRooms() {
	for _, id := range r.file.OfType("IFCSPACE") {
		m, err := r.readRoom(id)
		if err != nil {
			r.leaveOut(id, finding.Warning, "space-unread", words.F("the space cannot be read: %s", words.OfErr(err)), "draw the room by hand in the plan")
			continue
		}
		home := cmp.Or(r.storeyOf(id), r.levelAt(m.foot))
		if home == nil {
			r.leaveOut(id, finding.Warning, "space-homeless", "there is no level that it could stand on", "assign it to a storey in the model")
			continue
		}
		home.rooms = append(home.rooms, m)
	}
}

var errNoFloor = words.Err("it has no level floor from which its outline could be read")

// readRoom reads one space: the outline of its body's floor, or else its
// FootPrint.
func (r *reader) readRoom(id step.ID) (*room, error) {
	m := &room{id: id}
	body, err := r.shape.Body(id)
	outline, ok := shape.Footprint(body)
	if ok {
		box := shape.Extent(body, shape.Frame{Dir: shape.Vec{X: 1}})
		m.outline, m.foot, m.height = outline, box.Min.Z, box.Size().Z
	} else if c, _ := r.shape.Curve(id, "FootPrint"); len(c.Points) > 2 {
		m.outline, m.foot = c.Points, c.Points[0].Z
	} else {
		return nil, cmp.Or(err, errNoFloor)
	}
	if !allSane(m.outline) {
		return nil, errFar
	}
	args := r.file.Args(id)
	short, long := args.At(2).Text(), args.At(7).Text()
	if m.name = short; !strings.Contains(short, long) {
		m.name = strings.TrimSpace(short + " " + long)
	}
	m.use = r.roomUse(id, short, long)
	return m, nil
}

// roomUse returns what a room is used for: the first that is a known use of its name, of
// what its occupancy, object type and type are called, and of its number; the name or the
// like where none is known.
func (r *reader) roomUse(id step.ID, short, long string) string {
	names := []string{long}
	for _, set := range []string{"Pset_SpaceOccupancyRequirements", "Pset_SpaceCommon"} {
		r.eachOf(id, set, func(property string, value step.Value) {
			if text := value.Text(); property == "OccupancyType" && !placeholder(text, property) {
				names = append(names, text)
			}
		})
	}
	names = append(names, r.file.Arg(id, 4).Text(), r.file.Arg(r.rel.typeOf[id], 2).Text(), short)
	for _, name := range names {
		if use, known := useOf(name); known {
			return use
		}
	}
	return cmp.Or(names...)
}

// roomHeight returns the height, to the millimetre, of most rooms on a level.
func (l *level) roomHeight() (float64, bool) {
	var heights []float64
	for _, m := range l.rooms {
		if m.height >= lowRoom && math.Abs(m.foot-l.elevation) < sameFloor/2 {
			heights = append(heights, math.Round(m.height))
		}
	}
	slices.Sort(heights)
	most, run, best := 0.0, 0, 0
	for i, h := range heights {
		if i > 0 && h != heights[i-1] {
			run = 0
		}
		if run++; run > best {
			most, best = h, run
		}
	}
	return most, best > 0
}
