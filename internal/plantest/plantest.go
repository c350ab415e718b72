// Package plantest makes plans for tests and benchmarks: a table of situations that
// the trade has to solve, and office floors of any
// size, with the walls, doors, junctions and build-ups that such floors have.
// It takes a number of walls and gives a plan; the same number gives the same
// plan.
package plantest

import (
	"fmt"

	"nogging/internal/plan"
	"nogging/internal/quantity"
)

const mm = quantity.Millimetre

// Sizes of the floors that Offices draws.
const (
	roomWidth    = 3600 * mm
	roomDepth    = 5400 * mm
	corridor     = 2000 * mm
	roomsInRow   = 12
	rowsPerLevel = 8
)

// Offices returns a plan with the given number of partitions: rows of rooms
// along corridors, on as many levels as it takes.
func Offices(walls int) *plan.Plan {
	p := &plan.Plan{
		Version: plan.Version, Project: plan.Project{Name: "Offices", Number: "OF"},
		Practice: "metric", BuildUps: buildUps(),
	}
	for level := 0; len(p.Walls) < walls; level++ {
		id := fmt.Sprintf("L%d", level)
		p.Levels = append(p.Levels, plan.Level{
			ID: id, Elevation: quantity.Length(level) * 3500 * mm, ClearHeight: 3000 * mm, Deflection: quantity.Length(level%3) * 6 * mm,
		})
		for row := 0; row < rowsPerLevel && len(p.Walls) < walls; row++ {
			addRow(p, id, row, walls)
		}
		addOuterWalls(p, id)
	}
	return p
}

func buildUps() []plan.BuildUp {
	return []plan.BuildUp{
		{ID: "W1", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: []string{"GKB-12.5"}, Insulation: []plan.Insulation{{Product: "MW-60"}}},
		{ID: "W2", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW100"}, FaceA: []string{"GKF-12.5", "GKF-12.5"}, Insulation: []plan.Insulation{{Product: "MW-80"}}},
		{ID: "W3", Frame: plan.FrameSpec{Kind: plan.TwinIndependent, Stud: "CW75", Gap: 10 * mm}, FaceA: []string{"GKF-12.5", "GKB-12.5"},
			Insulation: []plan.Insulation{{Product: "MW-60"}, {Product: "MW-60"}}},
	}
}

// addRow draws one row of rooms: a long wall to the corridor with a door to
// each room, and cross walls between the rooms.
func addRow(p *plan.Plan, level string, row, most int) {
	y := quantity.Length(row)*(roomDepth+corridor) + 200*mm
	add := func(w plan.Wall) {
		if len(p.Walls) < most {
			w.ID, w.Level = fmt.Sprintf("%s-%03d", level, len(p.Walls)+1), level
			p.Walls = append(p.Walls, w)
		}
	}
	front := plan.Wall{
		Line: []plan.Pt{{X: 0, Y: y + roomDepth}, {X: roomsInRow * roomWidth, Y: y + roomDepth}}, BuildUp: "W2",
		Require: plan.Requirements{Fire: "EI 60"},
	}
	for i := range roomsInRow {
		front.Openings = append(front.Openings, plan.Opening{
			Kind: plan.Door, At: quantity.Length(i)*roomWidth + 400*mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 28,
		})
	}
	add(front)
	for i := 1; i < roomsInRow; i++ {
		x := quantity.Length(i) * roomWidth
		w := plan.Wall{Line: []plan.Pt{{X: x, Y: y}, {X: x, Y: y + roomDepth}}, BuildUp: "W1"}
		switch i % 4 {
		case 0:
			w.BuildUp = "W3"
		case 1:
			w.Openings = []plan.Opening{{Kind: plan.Window, At: 1500 * mm, Width: 1200 * mm, Height: 1000 * mm, Sill: 1100 * mm}}
		}
		w.Boxes = []plan.Box{{Kind: "socket", Face: plan.FaceA, At: 900 * mm, Height: 300 * mm, Gangs: 2}}
		add(w)
	}
	add(plan.Wall{Line: []plan.Pt{{X: 0, Y: y}, {X: roomsInRow * roomWidth, Y: y}}, BuildUp: "W2"})
}

// addOuterWalls closes the floor with concrete walls at both ends of the rows.
func addOuterWalls(p *plan.Plan, level string) {
	high := quantity.Length(rowsPerLevel) * (roomDepth + corridor)
	for i, x := range []quantity.Length{-100 * mm, roomsInRow*roomWidth + 100*mm} {
		p.Structure = append(p.Structure, plan.Structure{
			ID: fmt.Sprintf("S-%s-%d", level, i+1), Level: level, Kind: "wall", Material: "concrete", Thickness: 200 * mm,
			Line: []plan.Pt{{X: x, Y: 0}, {X: x, Y: high}},
		})
	}
}
