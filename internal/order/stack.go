package order

import (
	"nogging/internal/finding"
	"nogging/internal/proof/floorload"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
	"nogging/internal/words"
)

// Stack is how the boards of one size lie on a zone's floor, and who carries them.
type Stack struct {
	Product string  `json:"product"`
	Name    string  `json:"name"`
	Size    Size    `json:"size"`
	Boards  int     `json:"boards"`
	Mass    float64 `json:"mass"`                // kg, of one board
	Persons int     `json:"persons"`             // that lift one; 0 where it takes a lifting device
	Load    float64 `json:"load"`                // kN/m² under one stack of all of them
	Most    int     `json:"per_stack,omitempty"` // that may lie on one place; 0 where the floor's load is not known
	Stacks  int     `json:"stacks,omitempty"`
}

// stacks says how the boards of a call-off are stored and lifted.
func (m *maker) stacks(z *Zone) []Stack {
	level := m.Plan.LevelByID(z.Level)
	var list []Stack
	for i := range z.Lines {
		l := &z.Lines[i]
		board, ok := m.Catalogue.Board(l.Product)
		if l.Group != takeoff.Boards || !ok || l.Packs == 0 {
			continue
		}
		s := Stack{Product: l.Product, Name: l.Name, Size: l.Size, Boards: roundUp(l.Bought / unitsOf(l.Size)), Mass: board.Mass * unitsOf(l.Size)}
		s.Persons = m.lifters(s.Mass)
		one := quantity.MassPerArea(board.Mass)
		s.Load = float64(floorload.Stack{Mass: one, Count: s.Boards}.Pressure()) / 1000
		if level != nil && level.Imposed > 0 {
			s.Most = min(floorload.Most(one, quantity.Pressure(level.Imposed*1000)), s.Boards)
			if s.Most > 0 {
				s.Stacks = (s.Boards + s.Most - 1) / s.Most
			}
		}
		list = append(list, s)
	}
	return list
}

// lifters returns how many people lift a mass by the practice's limit; 0 where two
// are not enough.
func (m *maker) lifters(kg float64) int {
	limit := m.Practice.LiftLimit.Value
	switch {
	case limit <= 0 || kg <= limit:
		return 1
	case kg <= 2*limit:
		return 2
	}
	return 0
}

// tellStacks adds what a person has to see to before boards are delivered.
func (m *maker) tellStacks(o *Order) {
	found := &o.Findings
	unknown := map[string]bool{}
	for _, z := range o.Zones {
		level := m.Plan.LevelByID(z.Level)
		if level == nil || len(z.Stacks) == 0 {
			continue
		}
		if level.Imposed <= 0 && !unknown[z.Level] {
			unknown[z.Level] = true
			found.Add(finding.Finding{Code: "floor-load-unknown", Severity: finding.Note, Object: z.Level,
				What: "nothing says what the floor carries, so nothing is said of how high boards may be stacked", Fix: "write `imposed` on the level, in kN/m2, as the floor's designer gives it"})
		}
		for _, s := range z.Stacks {
			if level.Imposed > 0 && s.Most == 0 {
				found.Add(finding.Finding{Code: "stack-too-heavy", Severity: finding.Warning, Object: z.ID,
					What: words.F("the floor carries no board %s lying flat", s.Name), Fix: "bring boards up as they are fixed, or ask the floor's designer"})
			}
			if s.Persons == 0 {
				found.Add(finding.Finding{Code: "lift-too-heavy", Severity: finding.Note, Object: z.ID,
					What: words.F("a board %s of %s mm weighs %.0f kg, more than two people lift", s.Name, s.Size, s.Mass), Fix: "use a board lifter, or take shorter boards"})
			}
		}
	}
}
