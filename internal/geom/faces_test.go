package geom

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/quantity"
)

const metre = quantity.Metre

// drawn reads lines given as x y x y in metres.
func drawn(t *testing.T, text string) []Segment {
	t.Helper()
	var list []Segment
	for _, line := range strings.Split(text, ";") {
		var v [4]float64
		if _, err := fmt.Sscan(line, &v[0], &v[1], &v[2], &v[3]); err != nil {
			t.Fatal(line, err)
		}
		list = append(list, Segment{Pt(quantity.Metres(v[0]), quantity.Metres(v[1])), Pt(quantity.Metres(v[2]), quantity.Metres(v[3]))})
	}
	return list
}

const square = "0 0 4 0; 4 0 4 3; 4 3 0 3; 0 3 0 0"

// Areas by hand, in m².
func TestFaces(t *testing.T) {
	for _, test := range []struct {
		name, lines string
		gap         Length
		areas       []float64
		corners     []int
	}{
		{"nothing", "0 0 4 0", 0, nil, nil},
		{"open", "0 0 4 0; 4 0 4 3; 4 3 0 3", 0, nil, nil},
		{"square", square, 0, []float64{12}, []int{4}},
		{"the other way round", "0 0 0 3; 0 3 4 3; 4 3 4 0; 4 0 0 0", 0, []float64{12}, []int{4}},
		{"parted by a wall between two tees", square + "; 1 0 1 3", 0, []float64{3, 9}, []int{4, 4}},
		{"parted by a cross", square + "; 1 0 1 3; 0 1 4 1", 0, []float64{1, 3, 2, 6}, []int{4, 4, 4, 4}},
		{"not convex", "0 0 4 0; 4 0 4 1; 4 1 1 1; 1 1 1 3; 1 3 0 3; 0 3 0 0", 0, []float64{6}, []int{6}},
		{"a stub and a wall that stands free", square + "; 1 0 1 2; 2 1 3 1; 3 1 3 2", 0, []float64{12}, []int{4}},
		{"lines that run past the corners", "-0.1 0 4.1 0; 4 -0.1 4 3.1; 4.1 3 -0.1 3; 0 3.1 0 -0.1", 0, []float64{12}, []int{4}},
		{"ends that stop short", "0.1 0 3.9 0; 4 0 4 3; 3.9 3 0.1 3; 0 3 0 0", 0.15e9, []float64{12}, []int{4}},
		{"too short", "0.1 0 3.9 0; 4 0 4 3; 3.9 3 0.1 3; 0 3 0 0", 0.05e9, nil, nil},
		{"corners that miss each other", "0.05 0 3.95 0; 4 0.05 4 2.95; 3.95 3 0.05 3; 0 2.95 0 0.05", 0.15e9, []float64{12 - 4*0.05*0.05/2}, []int{8}},
		{"drawn to the faces of thicker walls", square + "; 1 0.12 1 2.88", 0.15e9, []float64{3, 9}, []int{4, 4}},
		{"a wall that ends at the first of two", square + "; 0 0.1 4 0.1; 1 0.1 1 3", 0.15e9, []float64{0.4, 2.9, 8.7}, []int{4, 4, 4}},
		{"one within another", square + "; 1 1 2 1; 2 1 2 2; 2 2 1 2; 1 2 1 1", 0, []float64{12, 1}, []int{4, 4}},
		{"joined by a wall to one within", square + "; 1 1 2 1; 2 1 2 2; 2 2 1 2; 1 2 1 1; 0 1 1 1", 0, []float64{12, 1}, []int{4, 4}},
		{"side by side, apart", square + "; 5 0 6 0; 6 0 6 1; 6 1 5 1; 5 1 5 0", 0, []float64{12, 1}, []int{4, 4}},
		{"a line drawn twice", square + "; 1 0 3 0; 4 3 0 3", 0, []float64{12}, []int{4}},
		{"on each other in part", "0 0 3 0; 1 0 4 0; 4 0 4 3; 4 3 0 3; 0 3 0 0", 0, []float64{12}, []int{5}},
		{"askew", "0 0 3 4; 3 4 -1 7; -1 7 -4 3; -4 3 0 0", 0, []float64{25}, []int{4}},
		{"touching at a corner", "0 0 1 0; 1 0 1 1; 1 1 0 1; 0 1 0 0; 1 1 2 1; 2 1 2 2; 2 2 1 2; 1 2 1 1", 0, []float64{1, 1}, []int{4, 4}},
	} {
		t.Run(test.name, func(t *testing.T) {
			var areas []float64
			var corners []int
			for _, f := range Faces(drawn(t, test.lines), test.gap) {
				areas = append(areas, math.Round(1e6*f.Corners.Area().SquareMetres())/1e6)
				corners = append(corners, len(f.Corners))
				if len(f.Lines) != len(f.Corners) || f.Corners.signedArea() <= 0 {
					t.Error("sides are amiss")
				}
			}
			for i := range test.areas {
				test.areas[i] = math.Round(1e6*test.areas[i]) / 1e6
			}
			if !slices.Equal(areas, test.areas) || !slices.Equal(corners, test.corners) {
				t.Errorf("%v m², %v corners; want %v, %v", areas, corners, test.areas, test.corners)
			}
		})
	}
}

// Each side lies on the line that it names.
func TestFaceLines(t *testing.T) {
	lines := drawn(t, square+"; 1 0 1 3; 2.05 0 2.05 2.9")
	for _, f := range Faces(lines, 150*quantity.Millimetre) {
		for i, line := range f.Lines {
			a, b := f.Corners[i], f.Corners[(i+1)%len(f.Corners)]
			frame := FrameOf(lines[line])
			if frame.Local(a).Y.Abs() > Same || frame.Local(b).Y.Abs() > Same {
				t.Errorf("side %v–%v is not on line %d", a, b, line)
			}
		}
	}
}

// Random walls from side to side of a floor part it: there are as many areas as
// Euler's formula has (V - E + F = 2), they make up the floor, and no point lies in
// two.
func TestFacesMakeUpTheFloor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const side = 20 * metre
		floor := Polygon{Pt(0, 0), Pt(side, 0), Pt(side, side), Pt(0, side)}
		var lines []Segment
		floor.Edges(func(s Segment) { lines = append(lines, s) })
		coordinate := rapid.Map(rapid.IntRange(1, 39), func(i int) Length { return Length(i) * metre / 2 })
		for range rapid.IntRange(0, 8).Draw(t, "walls") {
			a, b := coordinate.Draw(t, "from"), coordinate.Draw(t, "to")
			ends := [][2]Point{{Pt(a, 0), Pt(b, side)}, {Pt(0, a), Pt(side, b)}, {Pt(a, 0), Pt(side, b)}, {Pt(0, a), Pt(b, side)}}
			x := rapid.SampledFrom(ends).Draw(t, "wall")
			lines = append(lines, Segment{x[0], x[1]})
		}
		n := newNet(lines, 0)
		_, sides := n.walk()
		n.dropBridges(sides)
		points := map[int]bool{}
		edges := 0
		for _, e := range n.edges {
			if !e.gone {
				edges++
				points[e.ends[0]], points[e.ends[1]] = true, true
			}
		}
		faces := Faces(lines, 0)
		sum := 0.0
		for _, f := range faces {
			sum += f.Corners.Area().SquareMetres()
		}
		if want := 1 - len(points) + edges; len(faces) != want { // the unbounded one is no area
			t.Fatalf("%d areas, and Euler has %d", len(faces), want)
		}
		if math.Abs(sum-400) > 0.05 {
			t.Fatalf("they make up %.4f m² of 400", sum)
		}
		at := Pt(Length(rapid.Int64Range(1, int64(side)).Draw(t, "x")), Length(rapid.Int64Range(1, int64(side)).Draw(t, "y")))
		in := 0
		for _, f := range faces {
			if f.Corners.Contains(at) {
				in++
			}
		}
		if in > 1 {
			t.Fatalf("%v lies in %d areas", at, in)
		}
	})
}

func BenchmarkFaces(b *testing.B) {
	var lines []Segment
	for i := range Length(33) {
		lines = append(lines, Segment{Pt(i*4*metre, 0), Pt(i*4*metre, 128*metre)}, Segment{Pt(0, i*4*metre), Pt(128*metre, i*4*metre)})
	}
	for b.Loop() {
		if n := len(Faces(lines, 200*quantity.Millimetre)); n != 32*32 {
			b.Fatal(n)
		}
	}
}
