package write

import (
	"nogging/internal/plan"
)

// site writes the site, with where on earth it is.
func (w *writer) site() (site, place ref) {
	f, g := w.file, &w.Plan.Project.Georeference
	place = w.place(0, g.OriginX*1000, g.OriginY*1000, 0)
	elevation := value(null)
	if g.Elevation != 0 {
		elevation = real(g.Elevation.MM())
	}
	site = f.add("IFCSITE", w.id("site"), null, text("Site"), null, null, place, null, null, enum("ELEMENT"), angle(g.Latitude), angle(g.Longitude), elevation, null, null)
	return site, place
}

// angle is a latitude or longitude, or nothing where it is none.
func angle(s string) value {
	parts, err := plan.Angle(s)
	if err != nil {
		return null
	}
	l := make(list, len(parts))
	for i, n := range parts {
		l[i] = integer(n)
	}
	return l
}

// trueNorth is the direction of true north, or nothing where it is y.
func (w *writer) trueNorth() value {
	g := &w.Plan.Project.Georeference
	if g.NorthX == 0 && g.NorthY == 0 {
		return null
	}
	return w.file.direction(g.NorthX, g.NorthY)
}

// mapConversion ties the model to the map, where the plan knows one.
func (w *writer) mapConversion(context ref) {
	f, g := w.file, &w.Plan.Project.Georeference
	if g.CRS == "" && g.Eastings == 0 && g.Northings == 0 {
		return
	}
	unit := g.MapUnit
	if unit == 0 {
		unit = 1
	}
	scale := g.Scale
	if scale == 0 {
		scale = 1
	}
	crs := f.add("IFCPROJECTEDCRS", text(g.CRS), optional(g.Description), optional(g.GeodeticDatum), optional(g.VerticalDatum), optional(g.Projection), optional(g.Zone), w.lengthUnit(unit))
	east, north := value(null), value(null)
	if g.AxisEast != 0 || g.AxisNorth != 0 {
		east, north = real(g.AxisEast), real(g.AxisNorth)
	}
	const millimetre = 0.001 // of the model's lengths, in metres
	f.add("IFCMAPCONVERSION", context, crs, real(g.Eastings), real(g.Northings), real(g.Height), east, north, real(scale*millimetre/unit))
}

// lengthUnit is a unit of so many metres.
func (w *writer) lengthUnit(metres float64) ref {
	f := w.file
	prefixes := map[float64]value{1: null, 0.001: enum("MILLI"), 0.01: enum("CENTI"), 0.1: enum("DECI"), 1000: enum("KILO")}
	if p, ok := prefixes[metres]; ok {
		return f.add("IFCSIUNIT", derived, enum("LENGTHUNIT"), p, enum("METRE"))
	}
	metre := f.add("IFCSIUNIT", derived, enum("LENGTHUNIT"), null, enum("METRE"))
	measure := f.add("IFCMEASUREWITHUNIT", typed{"IFCLENGTHMEASURE", real(metres)}, metre)
	one := f.add("IFCDIMENSIONALEXPONENTS", integer(1), integer(0), integer(0), integer(0), integer(0), integer(0), integer(0))
	return f.add("IFCCONVERSIONBASEDUNIT", one, enum("LENGTHUNIT"), text("map unit"), measure)
}
