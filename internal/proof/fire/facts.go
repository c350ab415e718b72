package fire

import (
	"slices"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// Length is a length in a fire proof.
type Length = quantity.Length

// Facts is a wall as it will stand, in the terms in which documents describe what
// they cover.
type Facts struct {
	Frame        plan.FrameKind
	Stud         *catalogue.Profile
	Spacing      Length // greatest distance of stud centres
	Height       Length // greatest height of the wall
	HeadMove     Length // movement of the head; 0 for rigid heads
	Faces        [2][]*catalogue.Board
	Fill         []buildup.Fill
	Screws       [2][]Length // widest spacing in each layer; nil where it is not laid out
	Stagger      Length      // least distance between joints that have to be staggered; -1 where no two such joints exist
	BackToBack   []string    // boxes that face each other in one bay
	Penetrations []string    // ids of pipes, ducts and cables through the wall
	Doors        []string    // ids of doors, windows and hatches
}

// FactsOf reads a laid-out wall.
func FactsOf(w *layout.Wall, wall *plan.Wall, b *buildup.BuildUp) Facts {
	f := Facts{
		Frame: b.Kind, Stud: b.Stud, Spacing: b.Spacing, HeadMove: w.Head.Gap,
		Faces: [2][]*catalogue.Board{b.A, b.B}, Fill: b.Insulation, Stagger: stagger(w),
	}
	for _, p := range w.Top {
		f.Height = max(f.Height, p.Y)
	}
	for _, face := range w.Faces {
		side := sideOf(face.Face)
		f.Screws[side] = make([]Length, len(face.Layers))
	}
	for _, row := range w.Screws {
		if spacings := f.Screws[sideOf(row.Face)]; row.Layer >= 0 && row.Layer < len(spacings) && row.Count > 1 {
			spacings[row.Layer] = max(spacings[row.Layer], row.From.Dist(row.To)/Length(row.Count-1))
		}
	}
	for _, o := range w.Openings {
		switch o.Kind {
		case plan.Penetration:
			f.Penetrations = append(f.Penetrations, o.ID)
		case plan.Door, plan.Window, plan.Hatch:
			f.Doors = append(f.Doors, o.ID)
		}
	}
	f.BackToBack = backToBack(w, wall)
	return f
}

func sideOf(f plan.Face) int {
	if f == plan.FaceB {
		return 1
	}
	return 0
}

// stagger returns the least distance between upright joints that fall near each
// other: of neighbouring layers of one face, and of the outer layers of the two
// faces.
func stagger(w *layout.Wall) Length {
	least := Length(-1)
	near := func(a, b []Length) {
		for _, x := range a {
			for _, y := range b {
				if d := (x - y).Abs(); least < 0 || d < least {
					least = d
				}
			}
		}
	}
	var inner [2][]Length
	for i := range w.Faces {
		face := &w.Faces[i]
		var under []Length
		for k := range face.Layers {
			joints := uprightJoints(w, face.Face, k)
			near(joints, under)
			if k == 0 && i < 2 {
				inner[i] = joints
			}
			under = joints
		}
	}
	near(inner[0], inner[1])
	return least
}

// uprightJoints lists where the upright joints of one layer stand.
func uprightJoints(w *layout.Wall, face plan.Face, layer int) []Length {
	var us []Length
	for _, j := range w.Joints {
		if j.Face != face || j.Layer != layer || j.From.X != j.To.X {
			continue
		}
		switch j.Kind {
		case layout.TaperedJoint, layout.MixedJoint, layout.CutJoint:
			us = append(us, j.From.X)
		}
	}
	return us
}

// backToBack lists boxes on the two faces that share a bay of the frame.
func backToBack(w *layout.Wall, wall *plan.Wall) []string {
	studs := studLines(w)
	var found []string
	for _, a := range wall.Boxes {
		for _, b := range wall.Boxes {
			if a.Face == plan.FaceA && b.Face == plan.FaceB && bay(studs, a.At) == bay(studs, b.At) {
				found = append(found, boxName(a)+" and "+boxName(b))
			}
		}
	}
	return found
}

func boxName(b plan.Box) string {
	kind := b.Kind
	if kind == "" {
		kind = "box"
	}
	return kind + " at " + b.At.Round(quantity.Millimetre).String()
}

// studLines lists where uprights stand, from left to right.
func studLines(w *layout.Wall) []Length {
	var us []Length
	for i := range w.Members {
		if m := &w.Members[i]; m.Upright() && m.Role != layout.Cripple {
			us = append(us, m.From.X)
		}
	}
	slices.Sort(us)
	return slices.Compact(us)
}

// bay returns the number of the bay between uprights in which u lies.
func bay(studs []Length, u Length) int {
	i, _ := slices.BinarySearch(studs, u)
	return i
}
