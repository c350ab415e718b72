package app_test

import (
	"fmt"
	"io"
	"runtime"
	"testing"
	"time"

	"nogging/internal/app"
	"nogging/internal/plan"
	"nogging/internal/plantest"
)

// opened returns a job for a generated plan of the given number of walls.
func opened(tb testing.TB, walls int) *app.Job {
	tb.Helper()
	text, err := plan.Marshal(plantest.Offices(walls))
	if err != nil {
		tb.Fatal(err)
	}
	j, err := app.Open("offices.yaml", func(string) ([]byte, error) { return text, nil })
	if err != nil {
		tb.Fatal(err)
	}
	if j.Findings.NeedsPerson() {
		tb.Fatalf("the generated plan needs a person: %v", j.Findings[0])
	}
	return j
}

// BenchmarkBuild checks, lays out and measures a plan that is in memory.
// live-MB is what the finished job holds.
func BenchmarkBuild(b *testing.B) {
	for _, walls := range []int{2_000, 20_000} {
		b.Run(fmt.Sprintf("walls=%d", walls), func(b *testing.B) {
			j := opened(b, walls)
			for b.Loop() {
				j.Plan.Validate()
				j.Build(app.Quiet)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*walls), "ns/wall")
			runtime.GC()
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			b.ReportMetric(float64(m.HeapAlloc)/1e6, "live-MB")
			runtime.KeepAlive(j)
		})
	}
}

// BenchmarkWrite makes all drawings, tables and the PDF pack of a built plan.
func BenchmarkWrite(b *testing.B) {
	for _, walls := range []int{200, 2_000} {
		b.Run(fmt.Sprintf("walls=%d", walls), func(b *testing.B) {
			j := opened(b, walls)
			j.Build(app.Quiet)
			for b.Loop() {
				if _, err := j.Write(discard{}, app.Quiet); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkOpen reads and checks a plan file.
func BenchmarkOpen(b *testing.B) {
	text, err := plan.Marshal(plantest.Offices(2_000))
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := app.Open("offices.yaml", func(string) ([]byte, error) { return text, nil }); err != nil {
			b.Fatal(err)
		}
	}
}

// discard is a folder that keeps nothing.
type discard struct{}

func (discard) Create(string) (io.WriteCloser, error) { return nothing{io.Discard}, nil }

func (discard) ClearDrawings(string) error { return nil }

type nothing struct{ io.Writer }

func (nothing) Close() error { return nil }

// BenchmarkProve measures the proof of a wall among the walls of an office plan.
func BenchmarkProve(b *testing.B) {
	j := opened(b, 100)
	j.Build(app.Quiet)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := j.Prove(nil, app.Quiet); err != nil {
			b.Fatal(err)
		}
	}
}

// stopwatch sums up how long parts of a benchmark take.
type stopwatch struct{ sum time.Duration }

func (s *stopwatch) time(f func()) {
	start := time.Now()
	f()
	s.sum += time.Since(start)
}

func (s *stopwatch) ms(n int) float64 { return s.sum.Seconds() * 1000 / float64(max(n, 1)) }
