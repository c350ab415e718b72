package demo_test

import (
	"context"
	"os"
	"testing"

	"nogging/internal/finding"
	"nogging/internal/order"
	"nogging/internal/programme"
	"nogging/internal/takeoff"
)

// TestProgrammeNeedsNobody: gangs and record of the demo are read and planned without
// anything that a person would have to see to, and show every kind of thing that they
// may hold.
func TestProgrammeNeedsNobody(t *testing.T) {
	p, l, cat, pr := clinic(t)
	measured := takeoff.Of(p, l, cat, pr)
	o := order.Of(order.Input{Plan: p, Layout: l, Takeoff: measured, Catalogue: cat, Practice: pr})
	site, found := programme.ReadSite("site/gangs.yaml", content(t, "site/gangs.yaml"))
	quiet(t, found)
	done, found := programme.ReadRecord("site/done.yaml", content(t, "site/done.yaml"))
	quiet(t, found)
	start, today := day(t, "2027-01-11"), day(t, "2027-01-27")
	in := programme.Input{Plan: p, Layout: l, Takeoff: measured, Catalogue: cat, Practice: pr, Order: o, Site: site, Start: start, Schedules: 10}
	fresh := programme.Of(context.Background(), in)
	quiet(t, fresh.Findings)
	in.Done, in.Today = done, today
	later := programme.Of(context.Background(), in)
	quiet(t, later.Findings)
	if n := len(fresh.Unplanned()) + len(later.Unplanned()); n > 0 || later.Progress.Earned < 100 {
		t.Errorf("%d tasks are not planned, %g h earned", n, later.Progress.Earned)
	}
	if len(site.Plant) == 0 || len(site.Zones) == 0 || len(site.Climate) == 0 || len(site.Others) == 0 || len(site.Deliveries.Dated) == 0 || site.Holds == (programme.Holds{}) {
		t.Error("the demo does not show all that a gangs file can hold")
	}
	if n := fresh.Findings.Count(finding.Error); n > 0 {
		t.Errorf("%d errors", n)
	}
}

func content(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func day(t *testing.T, s string) programme.Date {
	t.Helper()
	d, err := programme.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}
