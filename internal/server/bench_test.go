package server_test

import (
	"bufio"
	"encoding/json"
	"fmt"
	"net/http"
	"runtime"
	"strings"
	"testing"
	"time"

	"nogging/internal/plan"
	"nogging/internal/plantest"
)

// BenchmarkEdit moves a wall of a project of 2,000 walls by real requests: how long
// until the edit is acknowledged, until the walls that look otherwise are told, and
// until the totals are.
func BenchmarkEdit(b *testing.B) {
	s := newSite(b)
	p, _ := plantest.Offices(2_000).Distinct()
	text, err := json.Marshal(p)
	if err != nil {
		b.Fatal(err)
	}
	var made struct {
		ID string `json:"id"`
	}
	if err := json.Unmarshal([]byte(s.ask("POST", "/api/projects/import?name=offices.json", string(text)).body), &made); err != nil {
		b.Fatal(err)
	}
	path := "/api/projects/" + made.ID
	s.ask("GET", path+"/totals", "").want(b, 200)
	events := s.listen(path + "/events?after=1")
	<-events // state
	var acknowledged, result, totals time.Duration
	base := 1
	for b.Loop() {
		w := p.Walls[500]
		d := plan.Length(base%40+1) * 10_000_000
		w.Line = []plan.Pt{{X: w.Line[0].X + d, Y: w.Line[0].Y}, {X: w.Line[1].X + d, Y: w.Line[1].Y}}
		start := time.Now()
		s.json("POST", path+"/edits", map[string]any{"base": base, "client": "tab", "label": "move", "changes": []any{map[string]any{"kind": "walls", "id": w.ID, "value": w}}}).want(b, 200)
		acknowledged += time.Since(start)
		base++
		for done := false; !done; {
			switch e := <-events; e {
			case "result":
				result += time.Since(start)
			case "totals":
				totals += time.Since(start)
				done = true
			}
		}
	}
	per := func(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 / float64(base-1) }
	b.ReportMetric(per(acknowledged), "acknowledged-ms")
	b.ReportMetric(per(result), "result-ms")
	b.ReportMetric(per(totals), "totals-ms")
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.HeapAlloc>>20), "heap-MB")
}

// listen gives the names of events as they come.
func (s *site) listen(path string) <-chan string {
	s.t.Helper()
	a, err := http.Get(s.url + path)
	if err != nil {
		s.t.Fatal(err)
	}
	s.t.Cleanup(func() { a.Body.Close() })
	names := make(chan string, 100)
	go func() {
		lines := bufio.NewReader(a.Body)
		for {
			line, err := lines.ReadString('\n')
			if err != nil {
				names <- fmt.Sprint(err)
				return
			}
			if name, ok := strings.CutPrefix(line, "event: "); ok {
				names <- strings.TrimSpace(name)
			}
		}
	}()
	return names
}
