package ifc

import (
	"math"
	"strconv"

	"nogging/internal/exchange/ifc/step"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// georeference reads where on earth the model lies: its site, its true north, and the map
// to which it is tied.
func (r *reader) georeference() plan.Georeference {
	var g plan.Georeference
	r.site(&g)
	for _, id := range r.file.OfType("IFCGEOMETRICREPRESENTATIONCONTEXT") {
		if north, ok := r.file.Arg(id, 5).Ref(); ok {
			g.NorthX, g.NorthY = r.number(north, 0, 0), r.number(north, 0, 1)
			break
		}
	}
	for _, kind := range []string{"IFCMAPCONVERSION", "IFCMAPCONVERSIONSCALED"} {
		for _, id := range r.file.OfType(kind) {
			r.mapConversion(id, &g)
			return g
		}
	}
	r.mapSets(&g)
	return g
}

// number returns a number of a list, 0 where it is none that can be kept.
func (r *reader) number(id step.ID, arg, n int) float64 {
	x, _ := r.file.Arg(id, arg).Three()
	return finite(x[n])
}

func finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return v
}

// site reads latitude, longitude and elevation of the site.
func (r *reader) site(g *plan.Georeference) {
	sites := r.file.OfType("IFCSITE")
	if len(sites) == 0 {
		return
	}
	args := r.file.Args(sites[0])
	g.Latitude, g.Longitude = r.angle(sites[0], args.At(9)), r.angle(sites[0], args.At(10))
	if e, ok := args.At(11).Real(); ok && sane(e*r.shape.Units().Length) {
		g.Elevation = quantity.MM(e * r.shape.Units().Length)
	}
}

// angle reads an IfcCompoundPlaneAngleMeasure.
func (r *reader) angle(site step.ID, list step.Value) string {
	var parts []int
	for item := range list.Items() {
		n, ok := item.Int()
		if !ok || len(parts) == 4 {
			return ""
		}
		parts = append(parts, n)
	}
	if len(parts) == 0 {
		return ""
	}
	text := plan.AngleText(parts)
	if _, err := plan.Angle(text); err != nil {
		r.tell(finding.Note, "site-angle", "", words.F("latitude or longitude of %s cannot be read: %v", r.entity(site), words.OfErr(err)), "")
		return ""
	}
	return text
}

// mapConversion reads an IfcMapConversion with its IfcProjectedCRS.
func (r *reader) mapConversion(id step.ID, g *plan.Georeference) {
	args := r.file.Args(id)
	crs, _ := args.At(1).Ref()
	r.crs(crs, g)
	number := func(n int) float64 {
		v, _ := args.At(n).Real()
		return finite(v)
	}
	g.Eastings, g.Northings, g.Height = number(2), number(3), number(4)
	g.AxisEast, g.AxisNorth = number(5), number(6)
	r.mapScale(g, number(7))
	if r.file.Type(id) == "IFCMAPCONVERSIONSCALED" {
		for n := 8; n <= 10; n++ {
			if f, ok := args.At(n).Real(); ok && f != 1 {
				r.tell(finding.Warning, "map-factors", "", words.F("%s scales its axes by factors of their own, which are not kept", r.entity(id)), "give one scale for all axes")
				return
			}
		}
	}
}

// crs reads an IfcProjectedCRS. Without a unit of its own the map is in that of the model.
func (r *reader) crs(id step.ID, g *plan.Georeference) {
	args := r.file.Args(id)
	g.CRS, g.Description, g.GeodeticDatum = args.At(0).Text(), args.At(1).Text(), args.At(2).Text()
	g.MapUnit = r.shape.Units().Length / 1000
	if r.file.Type(id) == "IFCPROJECTEDCRS" {
		g.VerticalDatum, g.Projection, g.Zone = args.At(3).Text(), args.At(4).Text(), args.At(5).Text()
		if unit, ok := args.At(6).Ref(); ok {
			if f, ok := r.shape.Factor(unit); ok {
				g.MapUnit = f
			}
		}
	}
}

// mapScale takes the scale of a map conversion, which turns lengths of the model in its
// own unit into those of the map in its. What is kept is how many times as long a length
// is in the map, whatever the units.
func (r *reader) mapScale(g *plan.Georeference, scale float64) {
	unit := r.shape.Units().Length / 1000
	if scale <= 0 {
		if math.Abs(g.MapUnit/unit-1) > 1e-6 {
			r.tell(finding.Assumed, "map-scale", "", "map and model have different units, and no scale between them is given: lengths in both are taken as equal", "check the map conversion")
		}
	} else {
		g.Scale = digits(scale * g.MapUnit / unit)
	}
	if g.Scale != 0 && math.Abs(g.Scale-1) > 0.01 {
		r.tell(finding.Warning, "map-scale", "", words.F("lengths are %g times as long in the map as in the model: it seems that units were mixed", g.Scale), "check Scale of the map conversion")
	}
	if g.Scale == 1 {
		g.Scale = 0
	}
	if g.MapUnit == 1 {
		g.MapUnit = 0
	}
}

// digits rounds to twelve digits, which hides that units were multiplied.
func digits(v float64) float64 {
	v, _ = strconv.ParseFloat(strconv.FormatFloat(finite(v), 'g', 12, 64), 64)
	return v
}

// mapSets reads the sets by which files of IFC2X3 state the same (buildingSMART's user
// guide for geo-referencing, from memory).
func (r *reader) mapSets(g *plan.Georeference) {
	found, scale := false, 0.0
	number := func(to *float64, v step.Value) {
		x, _ := v.Real()
		*to, found = finite(x), true
	}
	for _, kind := range []string{"IFCSITE", "IFCPROJECT"} {
		for _, id := range r.file.OfType(kind) {
			r.values(id, "ePset_MapConversion", func(property string, v step.Value) {
				switch property {
				case "Eastings":
					number(&g.Eastings, v)
				case "Northings":
					number(&g.Northings, v)
				case "OrthogonalHeight":
					number(&g.Height, v)
				case "XAxisAbscissa":
					number(&g.AxisEast, v)
				case "XAxisOrdinate":
					number(&g.AxisNorth, v)
				case "Scale":
					number(&scale, v)
				}
			})
			r.values(id, "ePset_ProjectedCRS", func(property string, v step.Value) {
				for name, to := range map[string]*string{"Name": &g.CRS, "Description": &g.Description, "GeodeticDatum": &g.GeodeticDatum, "VerticalDatum": &g.VerticalDatum, "MapProjection": &g.Projection, "MapZone": &g.Zone} {
					if name == property {
						*to, found = v.Text(), true
					}
				}
			})
		}
	}
	if found {
		g.MapUnit = r.shape.Units().Length / 1000
		r.mapScale(g, scale)
	}
}

// keepGeoreference puts what was read into the plan.
func (a *assembler) keepGeoreference() {
	g := a.georeference()
	g.OriginX, g.OriginY = a.origin.X/1000, a.origin.Y/1000
	a.plan.Project.Georeference = g
}
