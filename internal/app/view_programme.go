package app

import (
	"context"

	"nogging/internal/finding"
	"nogging/internal/programme"
)

// ProgrammeView is a programme as the page shows it: with its charts as SVG, a sheet
// each. GangsAssumed says that no gangs file was given, so that examples stand in.
type ProgrammeView struct {
	*programme.Programme
	Findings     finding.List `json:"findings"` // about the gangs file, and of the programme
	Gantt        []string     `json:"gantt"`
	Balance      []string     `json:"balance"`
	GangsAssumed bool         `json:"gangs_assumed,omitempty"`
}

// viewSchedules is how many schedules are tried for the page: enough for a plan close
// to the best within a second or two.
const viewSchedules = 300

// ProgrammeView makes the programme of the state from a gangs file, which may be nil,
// for work that starts on a day.
func (s *State) ProgrammeView(ctx context.Context, gangs []byte, start programme.Date) *ProgrammeView {
	v := &ProgrammeView{GangsAssumed: gangs == nil}
	if gangs == nil {
		gangs = programme.Starter()
	}
	site, found := programme.ReadSite("gangs.yaml", gangs)
	v.Programme = s.Programme(ctx, Works{Site: site, Start: start, Schedules: viewSchedules, Seed: 1})
	v.Findings = append(append(finding.List{}, found...), v.Programme.Findings...)
	v.Gantt, v.Balance = s.Charts(v.Programme).SVG()
	return v
}
