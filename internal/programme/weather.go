package programme

import (
	"fmt"
	"slices"
)

// weather tells the air of each zone on each day.
type weather struct {
	site  *Site
	usual Air // of the plan, where no row holds
}

// usualAir is taken where nobody says what the air is like: a heated site.
var usualAir = Air{20, 60}

// on returns the air in a zone on a day: the last row that has begun, of the zone
// itself or of all; before the first row, that row.
func (w *weather) on(zone string, d Date) Air {
	var found, first *Weather
	for i := range w.site.Climate {
		r := &w.site.Climate[i]
		if r.Zone != "" && r.Zone != zone {
			continue
		}
		if first == nil || r.From < first.From {
			first = r
		}
		if r.From <= d && (found == nil || r.From > found.From || r.From == found.From && r.Zone != "") {
			found = r
		}
	}
	switch {
	case found != nil:
		return Air{found.Temperature, found.Humidity}
	case first != nil:
		return Air{first.Temperature, first.Humidity}
	}
	return w.usual
}

// changes returns the last day from which a row of the zone holds.
func (w *weather) changes(zone string) Date {
	last := Date(0)
	for _, r := range w.site.Climate {
		if r.Zone == "" || r.Zone == zone {
			last = max(last, r.From)
		}
	}
	return last
}

// warmBefore is how long the air has to be warm before joints are treated: 48 hours
// (application guides that repeat GA-216).
const warmBefore = 2 // days

// warm reports whether joints may be treated in a zone on a day: on it and the two
// days before, as far as they belong to the programme, the air is no colder than the
// practice asks for.
func (w *weather) warm(zone string, d, start Date, least float64) bool {
	for k := max(d-warmBefore, start); k <= d; k++ {
		if w.on(zone, k).Temperature < least {
			return false
		}
	}
	return w.on(zone, d).Temperature >= least
}

// coldMask returns the slots in which joints may be treated in a zone, and how many
// come again; false where none is cold.
func (w *weather) coldMask(zone string, start Date, least float64) (working []bool, repeat int, cold bool) {
	days := int(max(w.changes(zone)-start, 0)) + warmBefore + 8
	working = make([]bool, days*daySlots)
	for d := range days {
		warm := w.warm(zone, start+Date(d), start, least)
		cold = cold || !warm
		for k := range daySlots {
			working[d*daySlots+k] = warm
		}
	}
	return working, 7 * daySlots, cold
}

// dry returns how many hours a coat that is drawn at a moment takes to dry in a zone,
// day by day in the air of each: in each hour that part of it dries which is one by
// the hours that its air would take. It is false where some air is outside the table.
func (w *weather) dry(zone string, from Moment, thickness float64) (hours float64, ok bool) {
	last := w.changes(zone)
	left := 1.0
	for at := from; ; {
		need, ok := DryingHours(w.on(zone, at.Date()), thickness)
		if !ok {
			return 0, false
		}
		midnight := (at.Date() + 1).At(0)
		here := float64(midnight-at) / 60
		if at.Date() >= last || left*need <= here {
			return hours + left*need, true
		}
		left -= here / need
		hours += here
		at = midnight
	}
}

// compoundFor returns how the compound of a coat hardens: as the gangs file says, else
// as the catalogue's compound for it.
func (n *network) compoundFor(s Stage) Compound {
	if n.Site.Compound != "" {
		return n.Site.Compound
	}
	return n.catalogued(s)
}

// thickness returns the thickness of a coat in mm. The first fills the taper of the
// boards' edges, too.
func (n *network) thickness(s Stage) float64 {
	pr := n.Practice
	if s == WholeFace {
		return skimThickness
	}
	i := slices.Index(coatStages, s)
	coats := pr.CoatThickness.Value
	if len(coats) == 0 || i < 0 {
		return tableCoat
	}
	mm := coats[min(i, len(coats)-1)].Metres() * 1000
	if i == 0 {
		mm += pr.TaperDepth.Value.Metres() * 1000
	}
	return mm
}

// skimThickness is that of a skim in mm (reference: 1 kg/m² is about 0.7 mm; common
// practice).
const skimThickness = 0.7

// wait returns how long what comes after a task has to wait if the task ends at a
// moment. It is false where the air is outside the table.
func (n *network) wait(t *Task, end Moment) (Wait, bool) {
	w := Wait{Compound: n.compoundFor(t.Stage), Coat: n.thickness(t.Stage), Air: n.weather.on(t.Zone, end.last())}
	if w.Compound == Setting {
		w.Hours = n.Practice.SettingWait.Value
		w.Method = fmt.Sprintf("setting compound: %g h before the next coat (%s)", w.Hours, n.Practice.SettingWait.Status)
		return w, true
	}
	hours, ok := n.weather.dry(t.Zone, end, w.Coat)
	w.Hours = hours
	w.Method = "evaporation table by temperature and humidity (from memory), in proportion to the coat's thickness (estimate)"
	return w, ok
}

// outside blocks tasks that would dry in air that the table does not have.
func (n *network) outside(zone string, tasks []int) {
	n.block(tasks, "climate-outside-table", zone, "the drying table reaches from 0 to 37.8 °C (32 to 100 °F) and to 98 % humidity, and these coats would dry outside it",
		"heat, cool or dry the air and state it under climate, or take a setting compound (compound: setting)", "climate")
}
