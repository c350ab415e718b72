package dxf

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"nogging/internal/finding"
)

// near reports whether two places are the same to a thousandth.
func near(p, q vec) bool { return p.dist(q) < 1e-3 }

// Points on splines, ellipses and multi-lines as ezdxf 0.18.1 gives them for the same
// entities.
func TestCurvesAndMultiLines(t *testing.T) {
	spline := []any{0, "SPLINE", 8, "S", 71, 3, 72, 8, 73, 4, 40, 0, 40, 0, 40, 0, 40, 0, 40, 1, 40, 1, 40, 1, 40, 1,
		10, 0, 20, 0, 10, 1000, 20, 2000, 10, 3000, 20, 2000, 10, 4000, 20, 0}
	segments := parse(entities(spline...)).draw().segments
	for i, want := range map[int]vec{6: {906.25, 1125}, 12: {2000, 1500}, 18: {3093.75, 1125}} {
		if len(segments) != 24 || !near(segments[i].a, want) {
			t.Errorf("%d lines; point %d is %v, want %v", len(segments), i, segments[min(i, len(segments)-1)].a, want)
		}
	}
	ellipse := parse(entities(0, "ELLIPSE", 8, "E", 10, 100, 20, 200, 11, 3000, 21, 1000, 40, 0.5, 41, 0.3, 42, 2)).draw().segments
	if n := len(ellipse); n == 0 || !near(ellipse[0].a, vec{2818.24936, 1598.61680}) || !near(ellipse[n-1].b, vec{-1603.08922, 1147.79930}) {
		t.Errorf("got %v", ellipse)
	}
	if c := parse(entities(0, "ELLIPSE", 8, "E", 10, 1, 20, 2, 11, 3, 21, 0, 40, 1, 41, 0, 42, math.Pi)).draw().curves; len(c) != 1 || c[0].radius != 3 {
		t.Errorf("an ellipse with even axes is %v", c)
	}
	r2 := 141.4213562373095
	mline := []any{0, "MLINE", 8, "M", 2, "W", 40, 100, 71, 1, 72, 3, 73, 2, 10, 0, 20, 0,
		11, 0, 21, 0, 12, 1, 22, 0, 13, 0, 23, 1, 74, 2, 41, 0, 41, 0, 75, 0, 74, 2, 41, -100, 41, 0, 75, 0,
		11, 4000, 21, 0, 12, 0, 22, 1, 13, -math.Sqrt2 / 2, 23, math.Sqrt2 / 2, 74, 2, 41, 0, 41, 0, 75, 0, 74, 2, 41, -r2, 41, 0, 75, 0,
		11, 4000, 21, 3000, 12, 0, 22, 1, 13, -1, 23, 0, 74, 2, 41, 0, 41, 0, 75, 0, 74, 2, 41, -100, 41, 0, 75, 0}
	lines := parse(entities(mline...)).draw().segments
	want := []segment{{a: vec{0, 0}, b: vec{4000, 0}}, {a: vec{0, -100}, b: vec{4100, -100}}, {a: vec{4000, 0}, b: vec{4000, 3000}}, {a: vec{4100, -100}, b: vec{4100, 3000}}}
	if len(lines) != len(want) {
		t.Fatalf("%d lines, want %d", len(lines), len(want))
	}
	for i := range want {
		if !near(lines[i].a, want[i].a) || !near(lines[i].b, want[i].b) {
			t.Errorf("line %d runs %v to %v, want %v to %v", i, lines[i].a, lines[i].b, want[i].a, want[i].b)
		}
	}
}

// A polyline as wide as a wall is one, in the middle of its width; scaled with its block.
func TestWidePolylines(t *testing.T) {
	for name, data := range map[string][]byte{
		"light":  entities(0, "LWPOLYLINE", 8, "WALL", 43, 120, 70, 0, 10, 0, 20, 0, 10, 4000, 20, 0),
		"sides":  entities(0, "LWPOLYLINE", 8, "WALL", 70, 0, 10, 0, 20, 0, 40, 120, 41, 120, 10, 4000, 20, 0),
		"heavy":  entities(0, "POLYLINE", 8, "WALL", 66, 1, 40, 120, 41, 120, 0, "VERTEX", 10, 0, 20, 0, 0, "VERTEX", 10, 4000, 20, 0, 0, "SEQEND"),
		"scaled": blocks([]any{0, "BLOCK", 2, "W", 0, "LWPOLYLINE", 8, "WALL", 43, 12, 70, 0, 10, 0, 20, 0, 10, 400, 20, 0, 0, "ENDBLK"}, 0, "INSERT", 2, "W", 8, "0", 41, 10, 42, 10),
	} {
		p, _, _ := Mapping{Unit: "mm"}.Read("wide.dxf", data)
		if len(p.Walls) != 1 || p.Walls[0].Thickness != length(120) || p.Walls[0].Length() != length(4000) || p.Walls[0].Line[0].Y != 0 {
			t.Errorf("%s: %+v", name, p.Walls)
		}
	}
}

// What lies within the island of a hatch is not filled, and the island is no column.
func TestIslands(t *testing.T) {
	path := func(x0, y0, x1, y1 float64) []any {
		return []any{92, 2, 72, 0, 73, 1, 93, 4, 10, x0, 20, y0, 10, x1, 20, y0, 10, x1, 20, y1, 10, x0, 20, y1, 97, 0}
	}
	hatch := append([]any{0, "HATCH", 8, "WALL", 2, "SOLID", 70, 1, 91, 2}, append(path(0, 0, 900, 900), path(200, 200, 700, 700)...)...)
	d := parse(entities(hatch...)).draw()
	if len(d.rings) != 2 || d.rings[0].hole || !d.rings[1].hole {
		t.Fatalf("%+v", d.rings)
	}
	_, stats, _ := Mapping{Unit: "mm"}.Read("hatch.dxf", entities(hatch...))
	if stats.Columns != 1 {
		t.Errorf("%d columns", stats.Columns)
	}
}

func TestCodesInTexts(t *testing.T) {
	for in, want := range map[string]string{"%%c20 %%p0.5 45%%d": "Ø20 ±0.5 45°", "100%%%": "100%", "B%%252ro": "Büro", "%%004x": "x", "%%kgone%%k": "gone"} {
		if got := plain(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

// What is wrong with a file is told with the line on which it was met first; nothing
// hangs, and what is right is read all the same.
func TestHostile(t *testing.T) {
	wall := append(line("WALL", 0, 0, 3000, 0), line("WALL", 0, 100, 3000, 100)...)
	block := func(name string, flags int, inside ...any) []any {
		return append(append([]any{0, "BLOCK", 2, name, 70, flags}, inside...), 0, "ENDBLK")
	}
	insert := func(name string, more ...any) []any {
		return append([]any{0, "INSERT", 2, name, 8, "0"}, more...)
	}
	deep := block("D0", 0, line("0", 0, 0, 1, 1)...)
	for i := range 20 {
		deep = append(deep, block(fmt.Sprintf("D%d", i+1), 0, insert(fmt.Sprintf("D%d", i))...)...)
	}
	for _, c := range []struct {
		name    string
		defined []any
		more    []any
		code    string
	}{
		{"self-reference", block("A", 0, insert("A")...), insert("A"), loop},
		{"reference in a ring", append(block("A", 0, insert("B")...), block("B", 0, insert("A")...)...), insert("A"), loop},
		{"repeated", block("A", 0, line("0", 0, 0, 1, 1)...), insert("A", 70, 1000000000, 71, 1000000000), endless},
		{"deep", deep, insert("D20"), tooDeep},
		{"not there", nil, insert("GONE"), noBlock},
		{"another drawing", block("GRID", 4), insert("GRID"), xref},
		{"no number", nil, []any{0, "LINE", 8, "WALL", 10, "NaN", 20, 0, 11, 1, 21, 1}, badNumber},
		{"no length", nil, []any{0, "LINE", 8, "WALL", 10, "1e999", 20, 0, 11, 1, 21, 1}, badNumber},
		{"endless text", nil, []any{0, "TEXT", 8, "T", 10, 0, 20, 0, 1, strings.Repeat("room ", 1_000_000)}, longText},
	} {
		t.Run(c.name, func(t *testing.T) {
			data := blocks(c.defined, append(append([]any{}, wall...), c.more...)...)
			p, _, found := Mapping{Unit: "mm"}.Read("x.dxf", data)
			if len(p.Walls) != 1 {
				t.Errorf("%d walls", len(p.Walls))
			}
			var at *finding.Finding
			for i := range found {
				if found[i].Code == c.code {
					at = &found[i]
				}
			}
			if at == nil || at.Place.Line == 0 {
				t.Fatalf("no finding %s with a line: %v", c.code, found)
			}
			for _, f := range found {
				if f.Severity == finding.Error {
					t.Errorf("%v", f)
				}
			}
		})
	}
}

// Wherever a file ends, what stands before is read, and the line is told.
func TestTruncated(t *testing.T) {
	whole := entities(room(1)...)
	for _, cut := range []int{len(whole) / 3, len(whole) / 2, len(whole) - 40} {
		_, stats, found := Mapping{Unit: "mm"}.Read("cut.dxf", whole[:cut])
		if stats.Walls+stats.Structure+len(stats.LeftOver) == 0 {
			t.Errorf("nothing was read of %d bytes: %v", cut, found)
		}
	}
	if _, _, found := (Mapping{}).Read("cut.dxf", append(whole[:len(whole)/2:len(whole)/2], "\nno code\nvalue\n"...)); !hasLine(found, "dxf-broken") {
		t.Errorf("the line is not told: %v", found)
	}
}

func hasLine(found finding.List, code string) bool {
	for _, f := range found {
		if f.Code == code && f.Place.Line > 0 {
			return true
		}
	}
	return false
}
