// Package setout lists what is marked on a slab before any profile is fixed, as
// points: the ends of both faces of every track on the floor and their transfer to
// the soffit, the middles of openings in the floor track, and the corners of the
// structure that they are measured from. It takes a plan and its layout, and gives
// for each level its points in the project's coordinates, the two tape distances
// that fix each of them, and the diagonals that show whether walls are square.
//
// The chalk line marks the face of the track, not the wall's axis: face A's edge is
// at the left when walking from the wall's start to its end.
package setout

import (
	"fmt"
	"math"

	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// Length is a length.
type Length = quantity.Length

// Surfaces on which points are marked.
const (
	Floor     = "floor"
	Soffit    = "soffit"
	Structure = "structure"
)

// Point is one point to mark, or a corner of the structure to measure from.
type Point struct {
	Name string     `json:"name"`           // of the whole project only one: the wall, its edge A or B, S for start or E for end, T on the soffit
	Wall string     `json:"wall,omitempty"` // that it belongs to
	Edge string     `json:"edge,omitempty"` // face of the track: A or B
	On   string     `json:"on"`
	What string     `json:"what"`
	At   geom.Point `json:"at"` // in the project's coordinates: x is east, y is north
	Z    Length     `json:"z"`  // above the project's zero
	Ties *Ties      `json:"ties,omitempty"`
}

// Ties are the two distances that fix a point from two corners of the structure,
// and on which side of the line from the first to the second it lies.
type Ties struct {
	From   [2]string `json:"from"`
	Length [2]Length `json:"length"`
	Side   string    `json:"side"`  // left or right
	Angle  float64   `json:"angle"` // degrees at which the two meet
}

// Diagonal is a pair of distances across the field between two parallel walls, on
// the faces of their tracks. They are equal where the field is a rectangle.
type Diagonal struct {
	Walls  [2]string `json:"walls"`
	Room   string    `json:"room,omitempty"`
	From   [2]string `json:"from"`
	To     [2]string `json:"to"`
	Length [2]Length `json:"length"` // to be measured
	lines  [2][2]geom.Point
}

// Level is the set-out of one level.
type Level struct {
	ID        string     `json:"level"`
	Structure []Point    `json:"structure,omitempty"`
	Points    []Point    `json:"points,omitempty"`
	Diagonals []Diagonal `json:"diagonals,omitempty"`
}

// Of returns the set-out of one level.
func Of(p *plan.Plan, l *layout.Project, level *plan.Level) *Level {
	out := &Level{ID: level.ID}
	var bodies [][]geom.Point
	for i := range p.Structure {
		if s := &p.Structure[i]; s.Level == level.ID {
			list := Outlines(s)
			bodies = append(bodies, list...)
			out.Structure = append(out.Structure, corners(s.ID, list, level.Elevation)...)
		}
	}
	t := newTies(out.Structure, bodies)
	var walls []*layout.Wall
	for _, w := range l.Walls {
		if w.Level != level.ID || len(w.FrameLines) == 0 {
			continue
		}
		walls = append(walls, w)
		for _, point := range pointsOf(w, level.Elevation) {
			if point.On == Floor {
				point.Ties = t.of(point.At)
			}
			out.Points = append(out.Points, point)
		}
	}
	out.Diagonals = diagonals(walls, roomsOn(p, level.ID), t)
	return out
}

func roomsOn(p *plan.Plan, level string) []*plan.Room {
	var list []*plan.Room
	for i := range p.Rooms {
		if p.Rooms[i].Level == level {
			list = append(list, &p.Rooms[i])
		}
	}
	return list
}

// Outlines returns the outlines of a piece of existing structure in plan: its own,
// or those of the stretches of a wall given by its centre line.
func Outlines(s *plan.Structure) [][]geom.Point {
	if len(s.Outline) > 2 {
		out := make([]geom.Point, len(s.Outline))
		for i, p := range s.Outline {
			out[i] = geom.Point(p)
		}
		return [][]geom.Point{out}
	}
	var list [][]geom.Point
	for i := 1; i < len(s.Line); i++ {
		f := geom.FrameOf(geom.Segment{A: geom.Point(s.Line[i-1]), B: geom.Point(s.Line[i])})
		n := f.Local(geom.Point(s.Line[i])).X
		half := s.Thickness / 2
		list = append(list, []geom.Point{f.Global(0, -half), f.Global(n, -half), f.Global(n, half), f.Global(0, half)})
	}
	return list
}

// corners names the corners of a piece of structure.
func corners(id string, outlines [][]geom.Point, z Length) []Point {
	var list []Point
	for _, o := range outlines {
		for _, p := range o {
			name := fmt.Sprintf("%s.%d", id, len(list)+1)
			list = append(list, Point{Name: name, On: Structure, What: "corner of " + id, At: p, Z: z})
		}
	}
	return list
}

// edge is one face of a track.
type edge struct {
	letter string
	v      Length
}

func edgesOf(l layout.FrameLine) [2]edge {
	return [2]edge{{"A", l.Offset + l.Depth/2}, {"B", l.Offset - l.Depth/2}}
}

// pointName names an end of a track's face: of the first frame line L1-07.AS, of
// further ones L1-07.2AS.
func pointName(w *layout.Wall, line int, letter, end string) string {
	n := ""
	if line > 0 {
		n = fmt.Sprint(line + 1)
	}
	return w.ID + "." + n + letter + end
}

// ends are the two ends of a frame line.
var ends = [2]struct{ letter, word string }{{"S", "start"}, {"E", "end"}}

// pointsOf lists the points of a wall: floor, soffit, openings.
func pointsOf(w *layout.Wall, z Length) []Point {
	var list []Point
	for i, l := range w.FrameLines {
		for _, e := range edgesOf(l) {
			for k, u := range [2]Length{l.Extent.From, l.Extent.To} {
				what := fmt.Sprintf("track face %s, %s", e.letter, ends[k].word)
				list = append(list, Point{
					Name: pointName(w, i, e.letter, ends[k].letter), Wall: w.ID, Edge: e.letter, On: Floor, What: what,
					At: w.Point(u, e.v), Z: z + w.Base,
				})
			}
		}
	}
	if w.Head.Kind != plan.HeadFree {
		list = append(list, transfers(w, z, list)...)
	}
	for _, o := range w.Openings {
		if !o.AtFloor() || !w.Framed(o) {
			continue
		}
		for _, l := range w.FrameLines {
			if middle := (o.U.From + o.U.To) / 2; l.Extent.Contains(middle) {
				list = append(list, Point{
					Name: o.ID + ".C", Wall: w.ID, On: Floor, What: fmt.Sprintf("middle of the %s, %s wide", o.Kind, o.U.Len()),
					At: w.Point(middle, l.Offset), Z: z + w.Base,
				})
				break
			}
		}
	}
	return list
}

// transfers lists the points plumb above those on the floor.
func transfers(w *layout.Wall, z Length, floor []Point) []Point {
	list := make([]Point, len(floor))
	for i, p := range floor {
		l := w.FrameLines[i/4]
		p.Name, p.On, p.What = p.Name+"T", Soffit, p.What+", on the soffit"
		p.Z = z + w.Top.After(l.Extent.From)
		if i%2 == 1 {
			p.Z = z + w.Top.Before(l.Extent.To)
		}
		list[i] = p
	}
	return list
}

// degrees turns radians into degrees.
func degrees(a float64) float64 { return a * 180 / math.Pi }
