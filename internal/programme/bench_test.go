package programme

import (
	"context"
	"testing"

	"nogging/internal/plan"
	"nogging/internal/plantest"
)

// BenchmarkProgramme makes the programme of 2,000 walls, each a group by itself: about
// 30,000 tasks.
func BenchmarkProgramme(b *testing.B) {
	p := plantest.Offices(2000)
	p.Climate = plan.Climate{Temperature: 20, Humidity: 50}
	in := inputOf(b, p, "group_hours: 0.1\n"+crews)
	in.Schedules = 0
	for b.Loop() {
		out := Of(context.Background(), in)
		b.ReportMetric(float64(len(out.Tasks)), "tasks")
		b.ReportMetric(float64(out.Tried), "schedules")
		b.ReportMetric(100*out.Gap, "%gap")
	}
}

// crews are enough for a large site.
const crews = `programme: 1
leave_out: [paint]
calendars:
  - {id: site, days: [mon, tue, wed, thu, fri], shifts: ["07:00-12:00", "12:30-16:00"]}
gangs:
  - {id: f1, skills: [setting_out, framing], size: 4}
  - {id: f2, skills: [setting_out, framing], size: 4}
  - {id: b1, skills: [boarding, insulating], size: 4}
  - {id: b2, skills: [boarding, insulating], size: 4}
  - {id: b3, skills: [boarding, insulating], size: 4}
  - {id: b4, skills: [boarding, insulating], size: 4}
  - {id: j1, skills: [jointing], size: 4}
  - {id: j2, skills: [jointing], size: 4}
  - {id: j3, skills: [jointing], size: 4}
others:
  - {id: cables, name: Electrical first fix, after: first_face, before: insulation, days: 2}
`
