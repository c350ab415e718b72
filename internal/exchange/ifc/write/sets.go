package write

import (
	"nogging/internal/layout"
)

// property is a single value of a property set.
type property struct {
	name, of string
	value    value
}

// property writes a set of properties of some objects.
func (w *writer) property(key, set string, of list, properties []property) {
	var all list
	for _, p := range properties {
		all = append(all, w.file.shared("IFCPROPERTYSINGLEVALUE", text(p.name), null, typed{p.of, p.value}, null))
	}
	if len(all) > 0 && len(of) > 0 {
		s := w.file.add("IFCPROPERTYSET", w.id("set", set, key), null, text(set), null, all)
		w.file.add("IFCRELDEFINESBYPROPERTIES", w.id("has", set, key), null, null, null, of, s)
	}
}

// amount is a quantity of a set of quantities.
type amount struct {
	kind, name string // IFCQUANTITYLENGTH and so on
	value      float64
}

func (w *writer) quantities(key, set string, of list, amounts []amount) {
	var all list
	for _, a := range amounts {
		all = append(all, w.file.add(a.kind, text(a.name), null, null, real(a.value), null))
	}
	s := w.file.add("IFCELEMENTQUANTITY", w.id("quantities", set, key), null, text(set), null, null, all)
	w.file.add("IFCRELDEFINESBYPROPERTIES", w.id("measures", set, key), null, null, null, of, s)
}

// setsOf writes what is asked of a wall, what was proven, how large it is, and the
// wall as it was drawn.
func (w *writer) setsOf(l *layout.Wall, e ref) {
	spec := w.specs[l.ID]
	common := []property{{"IsExternal", "IFCBOOLEAN", enum("F")}, {"LoadBearing", "IFCBOOLEAN", enum("F")}}
	if spec != nil {
		if spec.Require.Fire != "" {
			common = append(common, property{"FireRating", "IFCLABEL", text(spec.Require.Fire)})
		}
		if spec.Require.Sound != "" {
			common = append(common, property{"AcousticRating", "IFCLABEL", text(spec.Require.Sound)})
		}
		w.ownWall(l, spec, e)
		var asked []property
		for _, x := range []struct{ name, value string }{{"Duty", spec.Require.Duty}, {"WaterActionClass", spec.Require.Wet}, {"UValue", spec.Require.UValue}, {"Zone", spec.Zone}} {
			if x.value != "" {
				asked = append(asked, property{x.name, "IFCLABEL", text(x.value)})
			}
		}
		w.property(l.ID, "Nogging_Requirement", list{e}, asked)
	}
	w.property(l.ID, "Pset_WallCommon", list{e}, common)
	if w.Proofs != nil {
		var proven []property
		for _, v := range w.Proofs(l.ID) {
			proven = append(proven, property{v.Need, "IFCTEXT", text(v.Result)})
		}
		w.property(l.ID, "Nogging_Proof", list{e}, proven)
	}
	outline := elevation(l)
	gross := outline.Area().SquareMetres()
	net := gross
	for _, o := range l.Openings {
		net -= o.U.Len().Metres() * (o.Head - o.Sill).Metres()
	}
	box := outline.Bounds()
	thick := l.Thickness.Metres()
	w.quantities(l.ID, "Qto_WallBaseQuantities", list{e}, []amount{
		{"IFCQUANTITYLENGTH", "Length", (box.Max.X - box.Min.X).MM()},
		{"IFCQUANTITYLENGTH", "Width", l.Thickness.MM()},
		{"IFCQUANTITYLENGTH", "Height", (box.Max.Y - box.Min.Y).MM()},
		{"IFCQUANTITYAREA", "GrossFootprintArea", (box.Max.X - box.Min.X).Metres() * thick},
		{"IFCQUANTITYAREA", "GrossSideArea", gross},
		{"IFCQUANTITYAREA", "NetSideArea", net},
		{"IFCQUANTITYVOLUME", "GrossVolume", gross * thick},
		{"IFCQUANTITYVOLUME", "NetVolume", net * thick},
	})
}
