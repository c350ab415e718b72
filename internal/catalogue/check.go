package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// fault is one thing wrong with an entry: the field, what is wrong with it and
// what would work.
type fault struct {
	field, what string
	fix         words.Text
}

// faults collects what is wrong with one entry.
type faults []fault

func (f *faults) add(field, what string, fix words.Text) { *f = append(*f, fault{field, what, fix}) }

func (f *faults) unless(ok bool, field, what string, fix words.Text) {
	if !ok {
		f.add(field, what, fix)
	}
}

// longest bounds every dimension of a product.
const longest = 20 * quantity.Metre

func (f *faults) positive(field string, l Length) {
	f.unless(l > 0 && l <= longest, field, fmt.Sprintf("%s mm is not a dimension of a product", l), "write a length above 0 and up to 20 m")
}

func (f *faults) amount(field string, v float64, unit string) {
	f.unless(v > 0 && !math.IsInf(v, 0), field, fmt.Sprintf("%v is no %s", v, unit), words.F("write a number above 0 in %s", unit))
}

func (f *faults) ascending(field string, list []Length) {
	f.unless(len(list) > 0, field, "no size is listed", "list at least one length")
	for i, l := range list {
		if l <= 0 || l > longest || i > 0 && l <= list[i-1] {
			f.add(field, fmt.Sprintf("%s mm is out of order", l), "list lengths above 0 and up to 20 m, each once, shortest first")
			return
		}
	}
}

func (f *faults) oneOf(field, value string, choices ...string) {
	f.unless(slices.Contains(choices, value), field, fmt.Sprintf("%q is not known", value), words.F("write one of: %s", strings.Join(choices, ", ")))
}

func (f *faults) identity(id, name string) {
	f.unless(id != "" && id == strings.TrimSpace(id), "id", fmt.Sprintf("%q cannot be an id", id), "give the entry an id without blanks at its ends")
	f.unless(name != "", "name", "the entry has no name", "say in a few words what it is")
}

// provenance asks for a known status, and for a source unless the status
// stands for itself.
func (f *faults) provenance(prefix, source string, status quantity.Status) {
	if !slices.Contains(quantity.Statuses(), status) {
		f.add(prefix+"status", fmt.Sprintf("status %q is not known", status), words.F("write one of: %s", statusList()))
		return
	}
	own := status == quantity.Practice || status == quantity.Entered
	f.unless(own || source != "", prefix+"source", fmt.Sprintf("the status is %q but no source is named", status), "name the standard, clause or table")
}

func statusList() string {
	var all []string
	for _, s := range quantity.Statuses() {
		all = append(all, string(s))
	}
	return strings.Join(all, ", ")
}

// WetClasses lists the water action classes of DIN 18534-1, mildest first.
func WetClasses() []string { return []string{"W0-I", "W1-I", "W2-I", "W3-I"} }

func (b *Board) faults() faults {
	var f faults
	f.identity(b.ID, b.Name)
	f.positive("thickness", b.Thickness)
	f.positive("width", b.Width)
	f.ascending("lengths", b.Lengths)
	f.amount("mass", b.Mass, "kg/m²")
	f.oneOf("edge", b.Edge, "tapered", "square")
	if b.Wet != "" {
		f.oneOf("wet", b.Wet, WetClasses()...)
	}
	f.provenance("", b.Source, b.Status)
	return f
}

func (p *Profile) faults() faults {
	var f faults
	f.identity(p.ID, p.Name)
	f.oneOf("kind", string(p.Kind), string(Stud), string(Track), string(OpeningStud), string(DeepTrack), string(Channel), string(Rail), string(Strap), string(Angle))
	f.positive("web", p.Web)
	f.positive("flange", p.Flange)
	f.positive("thickness", p.Thickness)
	f.unless(p.Lip >= 0 && p.Radius >= 0 && p.Depth >= 0, "lip", "lip, radius and depth cannot be below 0", "leave out what the profile does not have")
	f.amount("mass", p.Mass, "kg/m")
	f.ascending("lengths", p.Lengths)
	f.unless(p.Fits != "" || p.Kind == Strap || p.Kind == Angle, "fits", "it does not say which studs and tracks go together", `write the size that they share, such as fits: "75"`)
	f.provenance("", p.Source, p.Status)
	return f
}

func (n *Insulation) faults() faults {
	var f faults
	f.identity(n.ID, n.Name)
	f.ascending("thicknesses", n.Thicknesses)
	f.amount("density", n.Density, "kg/m³")
	f.amount("lambda", n.Lambda, "W/mK")
	f.positive("width", n.Width)
	f.positive("length", n.Length)
	f.provenance("", n.Source, n.Status)
	return f
}

func (s *Screw) faults() faults {
	var f faults
	f.identity(s.ID, s.Name)
	f.positive("length", s.Length)
	f.oneOf("point", s.Point, SharpPoint, DrillPoint)
	f.positive("steel", s.Steel)
	f.provenance("", s.Source, s.Status)
	return f
}

func (s *Sundry) faults() faults {
	var f faults
	f.identity(s.ID, s.Name)
	f.unless(s.Kind != "", "kind", "it does not say what kind of thing it is", "write a kind such as anchor, seal_tape or bead")
	f.oneOf("unit", s.Unit, "m", "kg", "pcs", "l")
	if s.Hardens != "" {
		f.oneOf("hardens", s.Hardens, HardensSetting, HardensDrying)
	}
	for _, use := range sortedKeys(s.Uses) {
		f.amount("uses", s.Uses[use], s.Unit+" for "+use)
	}
	f.provenance("", s.Source, s.Status)
	return f
}

func (p *Practice) faults() faults {
	var f faults
	f.identity(p.ID, p.Name)
	for _, field := range fields {
		r := field.of(p)
		if !r.given() {
			f.add(field.name, "the rule is missing", "set it, or give the practice the id of one that has it")
			continue
		}
		if bad := field.outOfRange(p); bad != "" {
			f.add(field.name, bad, words.F("write a value from %s to %s %s", inWords(field.min), inWords(field.max), field.unit))
		}
		o := r.origin()
		f.provenance(field.name+".", o.Source, o.Status)
	}
	for _, c := range conflicts(p) {
		f.add(c.rules[0], c.what, c.fix)
	}
	return f
}

// findings turns an entry's faults into findings; path is where the entry
// stands in its file, such as boards[3].
func (f faults) findings(object, path string) finding.List {
	var l finding.List
	for _, one := range f {
		l.Add(finding.Finding{
			Code: "catalogue-value", Severity: finding.Error, Object: object, Path: path + "." + one.field,
			What: words.F("%s: %s; the entry is left out", one.field, one.what), Fix: one.fix,
		})
	}
	return l
}
