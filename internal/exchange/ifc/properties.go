package ifc

import (
	"fmt"
	"strings"

	"nogging/internal/exchange/ifc/step"
	"nogging/internal/plan"
)

// truth is a boolean that may be unknown.
type truth int

const (
	unknown truth = iota
	yes
	no
)

func truthOf(value, known bool) truth {
	switch {
	case !known:
		return unknown
	case value:
		return yes
	}
	return no
}

const wallCommon = "Pset_WallCommon"

// common is what Pset_WallCommon says of a wall.
type common struct {
	external, bearing truth
	require           plan.Requirements
	compartment       truth
	status            string   // EXISTING or DEMOLISH; "" for a wall that is to be built
	ignored           []string // properties that are only placeholders
	unclear           []rating // ratings that are not understood
	taken             []rating
}

// common reads the sets of the wall's type and then its own, which win.
func (r *reader) common(wall step.ID) common {
	var c common
	of := r.rel.typeOf[wall]
	for _, set := range r.file.Arg(of, 5).Refs() {
		if r.isSet(set, wallCommon) {
			r.commonSet(set, &c)
		}
	}
	for _, object := range []step.ID{of, wall} {
		for _, set := range r.rel.sets[object] {
			if r.isSet(set, wallCommon) {
				r.commonSet(set, &c)
			}
		}
	}
	return c
}

func (r *reader) commonSet(set step.ID, c *common) {
	for _, id := range r.file.Arg(set, 4).Refs() {
		args := r.file.Args(id)
		value := args.At(2)
		switch name := args.At(0).Text(); name {
		case "Status":
			c.setStatus(value)
		case "IsExternal":
			c.external = truthOf(value.Bool())
		case "LoadBearing":
			c.bearing = truthOf(value.Bool())
		case "FireRating":
			c.rating(&c.require.Fire, name, value.Text(), fireOf)
		case "AcousticRating":
			c.rating(&c.require.Sound, name, value.Text(), soundOf)
		case "ThermalTransmittance":
			if u, ok := value.Real(); ok && u != 0 {
				c.rating(&c.require.UValue, name, fmt.Sprintf("%.3g", u), heatOf)
			}
		case "Compartmentation":
			c.compartment = truthOf(value.Bool())
		}
	}
}

// setStatus reads an IfcPropertyEnumeratedValue, or a single one.
func (c *common) setStatus(value step.Value) {
	c.status = value.Text()
	for v := range value.Items() {
		c.status = v.Text()
	}
	if c.status = strings.ToUpper(c.status); c.status != "EXISTING" && c.status != "DEMOLISH" {
		c.status = ""
	}
}
