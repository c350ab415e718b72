package together

import (
	"context"

	"nogging/internal/cut/boards"
	"nogging/internal/layout"
)

// Saving is what the choice saves of one board in one zone; nothing where both numbers
// are the same.
type Saving struct {
	Zone      string  `json:"zone"`
	Board     string  `json:"board"`
	Boards    int     `json:"boards"`       // bought
	Plain     int     `json:"plain_boards"` // bought for the plain layout
	Area      float64 `json:"area"`         // m² of them
	PlainArea float64 `json:"plain_area"`   // m²
}

// held holds a choice against the plain layout by real cutting plans: zones that buy
// no less stay plain, and so does everything if the whole buys no less.
func (in *Input) held(ctx context.Context, ways map[string]layout.Way) (Choice, error) {
	plain, err := in.cut(ctx, nil)
	if err != nil {
		return Choice{}, err
	}
	for len(ways) > 0 {
		chosen, err := in.cut(ctx, ways)
		if err != nil {
			return Choice{}, err
		}
		worse := map[string]bool{}
		for i := range chosen {
			if area(chosen[i:i+1]) >= area(plain[i:i+1]) {
				worse[chosen[i].ID] = true
			}
		}
		if left := in.without(ways, worse); len(left) < len(ways) {
			ways = left
			continue
		}
		if area(chosen) < area(plain) {
			return Choice{ways, savings(plain, chosen)}, nil
		}
		ways = nil
	}
	return Choice{map[string]layout.Way{}, savings(plain, plain)}, nil
}

// without leaves out the ways of walls in some zones.
func (in *Input) without(ways map[string]layout.Way, zones map[string]bool) map[string]layout.Way {
	left := map[string]layout.Way{}
	for i := range in.Ready.Walls() {
		id, _ := in.Ready.Name(i)
		if way, ok := ways[id]; ok && !zones[in.zone(i)] {
			left[id] = way
		}
	}
	return left
}

// cut lays the walls out and cuts their boards.
func (in *Input) cut(ctx context.Context, ways map[string]layout.Way) ([]boards.Zone, error) {
	walls := in.Ready.Layout(ways, func(int, int) {}).Walls
	return boards.Plan(ctx, walls, in.Catalogue, in.Practice, in.Options)
}

func area(zones []boards.Zone) float64 {
	sum := 0.0
	for i := range zones {
		for k := range zones[i].Boards {
			sum += zones[i].Boards[k].Area()
		}
	}
	return sum
}

// savings puts two plans of the same zones and boards side by side.
func savings(plain, chosen []boards.Zone) []Saving {
	var list []Saving
	for i := range chosen {
		for k := range chosen[i].Boards {
			b := &chosen[i].Boards[k]
			s := Saving{Zone: chosen[i].ID, Board: b.Product, Boards: b.Bought(), Area: b.Area()}
			for n := range plain[i].Boards {
				if p := &plain[i].Boards[n]; p.Product == b.Product {
					s.Plain, s.PlainArea = p.Bought(), p.Area()
				}
			}
			list = append(list, s)
		}
	}
	return list
}

// Sum adds savings up.
func Sum(list []Saving) Saving {
	var sum Saving
	for _, s := range list {
		sum.Boards, sum.Plain = sum.Boards+s.Boards, sum.Plain+s.Plain
		sum.Area, sum.PlainArea = sum.Area+s.Area, sum.PlainArea+s.PlainArea
	}
	return sum
}
