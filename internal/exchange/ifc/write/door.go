package write

import (
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// door writes the door of an opening. It stands so that it opens towards its own y, as
// IfcDoorTypeOperationEnum has it; left is against its x.
func (w *writer) door(l *layout.Wall, o *layout.Opening, place ref, high, wide value) ref {
	f := w.file
	turned := o.Leaf.Opens == plan.FaceB
	at := w.place(place, o.U.From.MM(), 0, o.Sill.MM())
	if turned {
		at = f.add("IFCLOCALPLACEMENT", place, f.add("IFCAXIS2PLACEMENT3D", f.point(o.U.To.MM(), 0, o.Sill.MM()), w.up, f.direction(-1, 0, 0)))
	}
	operation := value(null)
	if o.Pocket == nil && o.Leaf.Opens != "" {
		switch left := (o.Leaf.Hinge == plan.AtStart) != turned; {
		case o.Leaf.Count == 2:
			operation = enum("DOUBLE_DOOR_SINGLE_SWING")
		case o.Leaf.Hinge == "":
		case left:
			operation = enum("SINGLE_SWING_LEFT")
		default:
			operation = enum("SINGLE_SWING_RIGHT")
		}
	}
	e := f.add("IFCDOOR", w.id("door", l.ID, o.ID), null, text(o.ID), null, null, at, null, null, high, wide, enum("DOOR"), operation, null)
	var common []property
	if o.Leaf.Fire != "" {
		common = append(common, property{"FireRating", "IFCLABEL", text(o.Leaf.Fire)})
	}
	if o.Sound != "" {
		common = append(common, property{"AcousticRating", "IFCLABEL", text(o.Sound)})
	}
	w.property(l.ID+" "+o.ID, "Pset_DoorCommon", list{e}, common)
	return e
}
