package ifc

import (
	"fmt"
	"regexp"
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
	status            string   // EXISTING or DEMOLISH; "" for a wall that is to be built
	ignored           []string // properties that are only placeholders
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
			c.rating(&c.require.Fire, name, value)
		case "AcousticRating":
			c.rating(&c.require.Sound, name, value)
		case "ThermalTransmittance":
			if u, ok := value.Real(); ok && u > 0 && u < 100 {
				c.require.UValue = fmt.Sprintf("%.3g", u)
			}
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

// rating takes a rating unless it is only a placeholder.
func (c *common) rating(to *string, name string, value step.Value) {
	text := strings.Join(strings.Fields(value.Text()), " ")
	switch {
	case placeholder(text, name):
		if text != "" {
			c.ignored = append(c.ignored, fmt.Sprintf("%s %q", name, text))
		}
	default:
		*to = hours.ReplaceAllString(text, "$1 h")
	}
}

// hours are fire ratings in hours, in the ways in which they are written.
var hours = regexp.MustCompile(`(?i)^(\d+(?:[./ ]\d+)*)\s*-?\s*(?:h|hr|hrs|hour|hours)\.?(?:\s+(?:fire\s+)?rat(?:ed|ing))?$`)

// nothing are words by which people say that there is no value.
var nothing = map[string]bool{
	"": true, "-": true, "--": true, "0": true, "n/a": true, "na": true, "n.a.": true, "none": true, "no": true, "not rated": true,
	"unrated": true, "undefined": true, "notdefined": true, "not defined": true, "unset": true, "unknown": true, "notknown": true,
	"tbd": true, "tbc": true, "?": true, "nil": true, "null": true, "x": true, "keine": true, "ohne": true, "sans": true,
	"0 hr": true, "0 h": true, "0hr": true, "false": true, "true": true,
}

// placeholder reports whether a value says nothing: it is empty, a word for
// nothing, or the name of the property itself, as templates leave it.
func placeholder(text, property string) bool {
	if nothing[strings.ToLower(text)] {
		return true
	}
	letters := func(s string) string {
		return strings.ToLower(strings.Map(func(c rune) rune {
			if strings.ContainsRune("_- <>[]{}#*.", c) {
				return -1
			}
			return c
		}, s))
	}
	bare := letters(text)
	return bare == "" || bare == letters(property) || strings.HasPrefix(text, "_") && strings.HasSuffix(text, "_")
}
