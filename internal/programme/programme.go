// Package programme makes the work programme of laid-out walls: who does what when,
// with drying times and inspections, and keeps it true as work goes on.
//
// It takes a plan with its layout, take-off and order, the catalogue's labour norms and
// the practice, a gangs file (Site), the first day, and what is done so far. It gives
// tasks with their dates, the gangs that do them, the chain of tasks that decides the
// end, deliveries, inspections, and what was earned against the norms.
//
// The stages and their order are the trade's (common practice); minutes are those by
// which the price is reckoned (package price). Drying follows the table of drying.go:
// elapsed time, through nights and weekends, while work takes place in the calendars of
// gangs. The dates are found by package schedule, and nothing here asks the clock.
package programme

import (
	"context"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/order"
	"nogging/internal/plan"
	"nogging/internal/takeoff"
)

// Input is what a programme is made of.
type Input struct {
	Plan      *plan.Plan
	Layout    *layout.Project
	Takeoff   *takeoff.Project
	Catalogue *catalogue.Catalogue
	Practice  *catalogue.Practice
	Order     *order.Order // for deliveries; nil for none
	Site      *Site
	Start     Date    // first day
	Today     Date    // from which what is not done is planned anew; 0 for a new programme
	Done      *Record // what is done; nil for nothing
	Schedules int     // how many schedules the search may try; 0 for as many as take a few seconds
	Seed      uint64
	Alternate bool // also work out what other compounds would do to the end date
}

// Programme is the programme of a plan.
type Programme struct {
	From       Date         `json:"start"`
	End        Moment       `json:"end,omitzero"`   // when the last task is done
	Bound      Moment       `json:"bound,omitzero"` // proven: it cannot end before, with these gangs and drying times
	Gap        float64      `json:"gap"`            // how far the working time is above the bound at most, as a fraction
	Tried      int          `json:"schedules"`      // how many were tried
	Hours      float64      `json:"hours"`          // of one person, by the norms, of all work
	Left       float64      `json:"hours_left"`     // of them, what is not done
	Zones      []string     `json:"zones"`
	Groups     []Group      `json:"groups"`
	Tasks      []Task       `json:"tasks"`
	Chain      []Step       `json:"critical_chain"`
	DaysOff    []Date       `json:"days_off"` // on which the first calendar does not work
	Looks      []Look       `json:"look_ahead"`
	CallOffs   []CallOff    `json:"call_offs"`
	Holds      []HoldPoint  `json:"hold_points"`
	Alternates []Alternate  `json:"compounds,omitempty"`
	Progress   *Progress    `json:"progress,omitempty"`
	Findings   finding.List `json:"findings,omitempty"`
}

// Alternate is what the programme would be with another compound.
type Alternate struct {
	Compound Compound `json:"compound"`
	What     string   `json:"what"`
	End      Moment   `json:"end"`
	Days     int      `json:"days"` // by which it ends later than the programme; below 0 earlier
}

// Of makes the programme of a plan. When the context ends, the best found so far is
// returned.
func Of(ctx context.Context, in Input) *Programme {
	n, s := planned(ctx, in)
	n.Programme.finish(n, s)
	if in.Alternate && s != nil {
		n.alternates(ctx)
	}
	n.Site.places.Fill(n.Findings)
	n.Findings.Sort()
	return n.Programme
}

// planned builds the tasks and schedules those that can be; nil where none can.
func planned(ctx context.Context, in Input) (*network, *solved) {
	n := &network{Input: &in, Programme: &Programme{From: in.Start}}
	n.weather = n.makeWeather()
	n.build()
	n.unknownZones()
	n.checkOthers()
	n.record()
	n.releases()
	n.makeTeams()
	return n, n.plan(ctx)
}
