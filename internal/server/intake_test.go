package server_test

import (
	"strings"
	"testing"
)

// A table is looked at without anything being changed; what cannot be read is refused.
func TestIntake(t *testing.T) {
	s := newSite(t)
	p := s.project("demo")
	a := s.ask("POST", p+"/intake", `{"name":"walls.csv"}`+"\nWall;Note\nL0-01;by the schedule\n")
	a.want(t, 200)
	if !strings.Contains(a.body, `"kind":"schedule"`) || !strings.Contains(a.body, "by the schedule") {
		t.Error(a.body)
	}
	if now := s.ask("GET", p, ""); strings.Contains(now.body, "by the schedule") || !strings.Contains(now.body, `"revision":1`) {
		t.Error("the plan was changed")
	}
	s.ask("POST", p+"/intake", `{"name":"walls.xlsx"}`+"\nPK\x03\x04").want(t, 422)
	s.ask("POST", p+"/intake", "no head").want(t, 400)
	s.ask("POST", p+"/intake", "{}\n"+strings.Repeat("x", 9<<20)).want(t, 413)
}
