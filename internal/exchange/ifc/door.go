package ifc

import (
	"math"
	"strings"

	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/exchange/ifc/step"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// leafOf reads the door that fills an opening: how it hangs, its sizes, and what it does
// against fire and sound.
func (r *reader) leafOf(o *opening) (leaf plan.Leaf, sound string) {
	if !r.is(o.filling, doorTypes) || o.kind != plan.Door && o.kind != plan.Hatch {
		return leaf, ""
	}
	r.hang(o, &leaf)
	r.leafSizes(o, &leaf)
	var fire, noise string
	r.eachOf(o.filling, "Pset_DoorCommon", func(property string, value step.Value) {
		text := strings.Join(strings.Fields(value.Text()), " ")
		switch {
		case placeholder(text, property):
		case property == "FireRating":
			fire = before.ReplaceAllString(text, "")
		case property == "AcousticRating":
			noise = before.ReplaceAllString(text, "")
		}
	})
	if fire != "" && plan.CheckDoorFire(fire) == nil {
		leaf.Fire = fire
	} else if fire != "" {
		r.unclearDoor(o, "FireRating", fire)
	}
	if _, err := quantity.ParseSound(noise); noise != "" && err == nil {
		sound = noise
	} else if noise != "" {
		r.unclearDoor(o, "AcousticRating", noise)
	}
	return leaf, sound
}

func (r *reader) unclearDoor(o *opening, property, text string) {
	o.doubt(finding.Warning, "rating-unclear", words.F("the %s %q of %s is not understood and left out", property, text, r.entity(o.filling)), "ask who drew the model what is meant")
}

// eachOf yields the properties of the sets of a name of an object's type, and then its own.
func (r *reader) eachOf(object step.ID, set string, f func(property string, value step.Value)) {
	of := r.rel.typeOf[object]
	for _, id := range r.file.Arg(of, 5).Refs() {
		if r.isSet(id, set) {
			r.setValues(id, f)
		}
	}
	r.values(of, set, f)
	r.values(object, set, f)
}

// operation returns how a door works: by itself, or by its type (IfcDoorTypeOperationEnum,
// in IFC2X3 IfcDoorStyleOperationEnum).
func (r *reader) operation(door step.ID) string {
	if kind := r.file.Arg(door, 11).Enum(); kind != "" && kind != "NOTDEFINED" {
		return kind
	}
	of := r.rel.typeOf[door]
	if r.file.Type(of) == "IFCDOORSTYLE" {
		return r.file.Arg(of, 8).Enum()
	}
	return r.file.Arg(of, 10).Enum()
}

// hang finds on which side of the opening a leaf hangs and to which face it opens. A door
// opens towards its own y; left and right are as seen along it, so that left is against
// its x (IfcDoorTypeOperationEnum). A mapped body may mirror that.
func (r *reader) hang(o *opening, leaf *plan.Leaf) {
	kind := r.operation(o.filling)
	switch {
	case strings.HasPrefix(kind, "SLIDING"):
		leaf.Count = 1
		o.doubt(finding.Assumed, "door-slides", words.F("%s slides; the model does not say whether into the wall: it is read as sliding before it", r.entity(o.filling)), "write `pocket: start` or `pocket: end` if its leaf runs into the wall")
		return
	case strings.HasPrefix(kind, "DOUBLE_DOOR_SLIDING"):
		leaf.Count = 2
		return
	case strings.HasPrefix(kind, "DOUBLE_DOOR"):
		leaf.Count = 2
	case strings.HasPrefix(kind, "SINGLE_SWING"), strings.HasPrefix(kind, "DOUBLE_SWING"):
		leaf.Count = 1
	default:
		return
	}
	x, y, ok := r.doorAxes(o.filling)
	along, across := x.Dot(o.wall.frame.Dir), y.Dot(shape.Vec{X: -o.wall.frame.Dir.Y, Y: o.wall.frame.Dir.X})
	if !ok || math.Abs(along) < 0.7 || math.Abs(across) < 0.7 {
		return
	}
	if kind == "DOUBLE_DOOR_SINGLE_SWING" || strings.HasPrefix(kind, "SINGLE_SWING") {
		if leaf.Opens = plan.FaceB; across > 0 {
			leaf.Opens = plan.FaceA
		}
	}
	if leaf.Count == 1 {
		if leaf.Hinge = plan.AtEnd; strings.HasSuffix(kind, "LEFT") == (along > 0) {
			leaf.Hinge = plan.AtStart
		}
	}
}

// doorAxes returns the directions of a door's x and y in the project, as its body shows
// them.
func (r *reader) doorAxes(door step.ID) (x, y shape.Vec, ok bool) {
	at, err := r.shape.Mapped(door)
	return at.X.Times(1 / max(at.X.Len(), 1e-9)), at.Y.Times(1 / max(at.Y.Len(), 1e-9)), err == nil
}

// leafSizes takes the sizes of leaf and frame, as far as the model states them
// (IfcDoorLiningProperties, IfcDoorPanelProperties). A door's overall size is that of its
// opening; the leaf is what the frame leaves of it.
func (r *reader) leafSizes(o *opening, leaf *plan.Leaf) {
	of := r.rel.typeOf[o.filling]
	unit := r.shape.Units().Length
	mm := func(v step.Value) float64 {
		x, _ := v.Real()
		if x *= unit; !(x > 0 && x < thickestNamed) {
			return 0
		}
		return x
	}
	share := 0.0
	for _, set := range append(r.file.Arg(of, 5).Refs(), r.rel.sets[o.filling]...) {
		args := r.file.Args(set)
		switch r.file.Type(set) {
		case "IFCDOORLININGPROPERTIES":
			leaf.FrameDepth, leaf.Frame = length(mm(args.At(4))), length(mm(args.At(5)))
		case "IFCDOORPANELPROPERTIES":
			if v, ok := args.At(6).Real(); ok && v > 0 && v <= 1 {
				share = max(share, v)
			}
		}
	}
	width, height := r.overall(o.filling)
	frame := leaf.Frame.MM()
	if frame == 0 || width <= 2*frame || height <= frame || width > o.rect.width()+samePart || height > o.rect.height()+samePart {
		return
	}
	if share == 0 {
		share = 1 / float64(max(leaf.Count, 1))
	}
	leaf.Width, leaf.Height = length((width-2*frame)*share), length(height-frame)
}
