package programme

import (
	"context"
	"strings"
	"testing"

	"nogging/internal/finding"
)

// What cannot be planned is a finding that names the tasks; what waits for it is left
// out with it, and the rest is planned.
func TestCannotBePlanned(t *testing.T) {
	for _, c := range []struct {
		name, from, to string // of the gangs file: one text for another
		code           string
		words          []string
		planned        Stage // is planned all the same
		not            Stage // is not, since it waits
	}{
		{"skill that no gang has", "skills: [jointing]", "skills: [painting]", "skill-missing", []string{"gangs.yaml:6", "jointing", "L0 east/01 first_coat"}, SecondFace, Sanding},
		{"zones in a ring", "gangs:\n", "zones:\n  - {zone: L0 east, after: [L0 west]}\n  - {zone: L0 west, after: [L0 east]}\ngangs:\n", "tasks-in-ring", []string{"L0 east", "L0 west", "ring"}, "", SetOut},
		{"calendar without a working day", `size: 2}
  - {id: joint, skills: [jointing], size: 2}`, `size: 2, calendar: off}
  - {id: joint, skills: [jointing], size: 2, calendar: off}
others:
  - {id: x, name: X, after: first_face, before: insulation, days: 1, calendar: off}
`, "gangs-wrong", []string{`"off" is none of the calendars`}, FirstFace, Sanding},
		{"air outside the table", "gangs:\n", "compound: drying\nclimate: [{from: 2027-01-11, temperature: 45, humidity: 50}]\ngangs:\n", "climate-outside-table", []string{"gangs.yaml:6", "first_coat", "37.8 °C"}, InnerJoints, SecondCoat},
		{"too damp in one zone", "gangs:\n", "compound: drying\nclimate: [{from: 2027-01-11, zone: L0 east, temperature: 15, humidity: 99}]\ngangs:\n", "climate-outside-table", []string{"L0 east/01 first_coat", "98 %"}, InnerJoints, ThirdCoat},
		{"always too cold", "gangs:\n", "climate: [{from: 2027-01-11, temperature: 6, humidity: 50}]\ngangs:\n", "too-cold", []string{"10 °C", "inner_joints"}, SecondFace, Sanding},
		{"gang that leaves", "skills: [jointing], size: 2", "skills: [jointing], size: 2, until: 2027-01-22", "no-time-left", []string{"gangs.yaml:"}, SecondFace, Final},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(site, c.from, c.to, 1)
			if text == site {
				t.Fatal("the gangs file stays as it is")
			}
			s, found := ReadSite("gangs.yaml", []byte(text))
			in := inputOf(t, offices(), site)
			in.Site = s
			p := Of(context.Background(), in)
			says(t, append(found, p.Findings...), c.code, c.words...)
			if g := "L0 east/01"; c.planned != "" && !p.task(g, c.planned).Planned {
				t.Errorf("%s is not planned: %v", c.planned, p.Findings)
			}
			if x := p.task("L0 east/01", c.not); x.Planned || x.Start != 0 || x.End != 0 {
				t.Errorf("%s is planned from %s to %s", c.not, x.Start, x.End)
			}
		})
	}
}

// Mistakes of the gangs file are told with their places, and the rest is read.
func TestGangsFile(t *testing.T) {
	for _, c := range []struct{ from, to, place, words string }{
		{"programme: 1", "programme: 2", "gangs.yaml:1:12", "version 2"},
		{"size: 2}\n  - {id: boards-1", "size: 0}\n  - {id: boards-1", "gangs.yaml:6:54", "a gang of 0 cannot work"},
		{"id: boards-2", "id: boards-1", "gangs.yaml:8:", "stands twice"},
		{"[jointing]", "[jointng]", "gangs.yaml:9:26", "none of the skills"},
		{"[mon, tue", "[moon, tue", "gangs.yaml:4:23", "none of the weekdays"},
		{`"07:00-12:00"`, `"12:00-07:00"`, "gangs.yaml:4:", "no shift"},
		{`"07:00-12:00"`, `07:00-12:00`, "gangs.yaml:4:", "in quotes"},
		{`"07:00-12:00"`, `"07:03-12:00"`, "gangs.yaml:4:", "steps of 5 minutes"},
		{`"12:30-16:00"`, `"11:30-16:00"`, "gangs.yaml:4:", "before the one above ends"},
		{"[2027-01-15]", "[2027-13-15]", "gangs.yaml:4:", "no date"},
		{"days: [mon, tue, wed, thu, fri], ", "days: [], ", "gangs.yaml:4:", "no working day"},
		{"gangs:\n", "open_zones: -1\ngangs:\n", "gangs.yaml:5:", "fewer zones than none"},
		{"gangs:\n", "holds: {before_closing: -1}\ngangs:\n", "gangs.yaml:5:", "below 0"},
		{"gangs:\n", "plant: [{id: x, count: 0, stages: [first_face]}]\ngangs:\n", "gangs.yaml:5:", "none of it"},
		{"gangs:\n", "others: [{id: x, name: X, after: first_fase, days: 1}]\ngangs:\n", "gangs.yaml:5:34", "first_face"},
		{"gangs:\n", "others: [{id: x, name: X}]\ngangs:\n", "gangs.yaml:5:", "how long it takes"},
		{"gangs:\n", "climate: [{from: 2027-01-11, temperature: 200, humidity: 50}]\ngangs:\n", "gangs.yaml:5:", "no site has 200 °C"},
		{"gangs:\n", "deliveries: {dated: [{zone: L0, material: bords, date: 2027-01-12}]}\ngangs:\n", "gangs.yaml:5:", "boards"},
		{"gangs:\n", "compound: quick\ngangs:\n", "gangs.yaml:5:11", "none of the compounds"},
	} {
		_, found := ReadSite("gangs.yaml", []byte(strings.Replace(site, c.from, c.to, 1)))
		ok := false
		for _, f := range found {
			ok = ok || strings.HasPrefix(f.String(), c.place) && strings.Contains(f.String()+f.Fix.String(), c.words) && f.Severity == finding.Error && f.Fix.String() != ""
		}
		if !ok {
			t.Errorf("%q: want %s %q, got %v", c.to, c.place, c.words, found)
		}
	}
}

// Zones that the plan does not have are told, not guessed.
func TestUnknownZones(t *testing.T) {
	p := Of(context.Background(), inputOf(t, offices(), site+"zones: [{zone: L0 eest}]\n"))
	says(t, p.Findings, "zone-unknown", "gangs.yaml:10", "L0 eest", "L0 east")
}

// Reading goes on whatever a file holds, and what was read can be planned with.
func FuzzSite(f *testing.F) {
	f.Add([]byte(site))
	f.Add(Starter())
	f.Add([]byte("programme: 1\nclimate: [{from: 2027-01-11, temperature: 1e300, humidity: .nan}]\nothers: [{id: x, name: X, days: 1e9}]\n"))
	f.Add([]byte("gangs: [{id: x, skills: [framing], size: -1, from: 2199-01-01, until: 1972-01-01}]\n"))
	p := offices()
	p.Walls = p.Walls[:1]
	in := inputOf(f, p, site)
	f.Fuzz(func(t *testing.T, data []byte) {
		s, _ := ReadSite("gangs.yaml", data)
		in := in
		in.Site, in.Schedules = s, 1
		Of(context.Background(), in)
	})
}

// FuzzRecord: whatever a file of what is done holds, the rest can be planned.
func FuzzRecord(f *testing.F) {
	f.Add([]byte("done:\n  - {wall: L0-01, stage: tracks, date: 2027-01-12, gang: lead, minutes: 90}\n"))
	f.Add([]byte("done:\n  - {walls: [L0-01, L0-01, x], stage: second_face, date: 2199-12-31}\n  - {zone: L0 east, other: x, date: 1971-01-01}\n"))
	p := offices()
	p.Walls = p.Walls[:1]
	in := inputOf(f, p, site)
	f.Fuzz(func(t *testing.T, data []byte) {
		r, _ := ReadRecord("done.yaml", data)
		in := in
		in.Done, in.Today, in.Schedules = r, mustDate("2027-01-25"), 1
		Of(context.Background(), in)
	})
}
