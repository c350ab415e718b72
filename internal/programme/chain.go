package programme

import (
	"fmt"

	"nogging/internal/finding"
	"nogging/internal/programme/schedule"
	"nogging/internal/words"
)

// chain explains, task by task, what decides the end.
func (n *network) chain(s *solved) []Step {
	var steps []Step
	for _, r := range s.solution.Chain {
		t := &n.Tasks[s.tasks[r.Task]]
		if t.Kind == gate {
			continue
		}
		step := Step{ID: t.ID, Task: t.label(), Start: t.Start, End: t.End, Why: n.why(s, r)}
		if r.Cause == schedule.AfterResource {
			step.For = s.words[r.Resource]
		}
		steps = append(steps, step)
	}
	return steps
}

// label names a task for people, as in second coat, L2 north/03.
func (t *Task) label() string {
	if t.Group != "" {
		return t.Name + ", " + t.Group
	}
	return t.Name + ", " + t.Zone
}

// why says what a task waits for.
func (n *network) why(s *solved, r schedule.Reason) string {
	t := &n.Tasks[s.tasks[r.Task]]
	by := ""
	if r.By >= 0 {
		by = n.Tasks[s.tasks[r.By]].label()
	}
	why := ""
	switch r.Cause {
	case schedule.AfterLag:
		why = "waits for drying of the " + by
		if r.By >= 0 {
			if d := n.Tasks[s.tasks[r.By]].Dry; d != nil {
				why += fmt.Sprintf(" (%.1f h at %s)", d.Hours, d.Air)
				if d.Compound == Setting {
					why = fmt.Sprintf("waits for setting of the %s (%g h)", by, d.Hours)
				}
			}
		}
	case schedule.AfterWork:
		why = "waits for: " + by
	case schedule.AfterResource:
		why = fmt.Sprintf("waits for %s, until then at: %s", s.words[r.Resource], by)
	case schedule.AfterCapacity:
		why = fmt.Sprintf("waits until %s come", s.words[r.Resource])
	case schedule.AfterRelease:
		why = "may not begin before: " + n.releaseOf(t)
	case schedule.WasFixed:
		why = "is done"
	default:
		why = "begins with the programme"
	}
	if r.Calendar > 0 {
		why += ", then for working hours"
		if t.Stage.wet() && t.Kind == Work {
			why += fmt.Sprintf(" at %g °C or more", n.Practice.JointMinimum.Value)
		}
	}
	return why
}

// releaseOf says what keeps a task from beginning before its day.
func (n *network) releaseOf(t *Task) string {
	day := t.release.Date()
	if t.Kind == ByOther && n.Site.Others[t.other].From == day {
		return fmt.Sprintf("its date, %s", day.Short())
	}
	for _, a := range n.Site.Deliveries.Dated {
		if a.Zone == t.Zone && a.Date == day {
			return fmt.Sprintf("%s come on %s", a.Material.name(), day.Short())
		}
	}
	for i := range n.Site.Zones {
		if z := &n.Site.Zones[i]; z.ID == t.Zone && z.Access == day {
			return fmt.Sprintf("access to %s on %s", z.ID, day.Short())
		}
	}
	return day.Short()
}

// late says that work by others begins later than dated.
func (n *network) late(t *Task, o *Other) {
	n.Findings.Add(finding.Finding{Code: "others-late", Severity: finding.Warning, Object: o.ID, Path: fmt.Sprintf("others[%d].from", t.other),
		What: words.F("%s in %s is dated from %s, and what it waits for is ready on %s: %d days later", o.Name, t.Zone, o.From, t.Start.Date(), t.Start.Date()-max(o.From, n.begin())),
		Fix:  "agree on another date, give the work before it more people, or begin sooner"})
}
