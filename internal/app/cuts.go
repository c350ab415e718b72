package app

import (
	"context"
	"fmt"

	"nogging/internal/cut"
	"nogging/internal/cut/boards"
	"nogging/internal/layout"
	"nogging/internal/order"
	"nogging/internal/plan"
)

// Effort of the cutting plans behind an order: enough for plans close to the best in
// a few seconds; `nogging cut` looks harder.
const (
	barEffort   = 20_000_000
	boardEffort = 1
)

// cuts plans how the profiles and boards of each zone are cut, and gives what has to
// be bought. Nothing is kept over from zone to zone. What no plan gives is left to
// the practice's percentages.
func (j *Job) cuts() []order.Cut {
	zone := j.zoneOf()
	var ids []string
	walls := map[string][]*layout.Wall{}
	for _, w := range j.Layout.Walls {
		id := zone(w)
		if walls[id] == nil {
			ids = append(ids, id)
		}
		walls[id] = append(walls[id], w)
	}
	var list []order.Cut
	for _, id := range ids {
		profiles, _ := cut.Profiles(context.Background(), walls[id], j.Catalogue, cut.Yard{Effort: barEffort})
		for i := range profiles {
			list = append(list, barCuts(id, &profiles[i])...)
		}
	}
	zones, err := boards.Plan(context.Background(), j.Layout.Walls, j.Catalogue, j.Practice, boards.Options{Zone: zone, Effort: boardEffort})
	if err != nil {
		return list // only where somebody ends the work
	}
	for i := range zones {
		for k := range zones[i].Boards {
			list = append(list, boardCuts(zones[i].ID, &zones[i].Boards[k])...)
		}
	}
	return list
}

// zoneOf returns the function that names the zone of a laid-out wall.
func (j *Job) zoneOf() func(*layout.Wall) string {
	specs := map[string]*plan.Wall{}
	for i := range j.Plan.Walls {
		if w := &j.Plan.Walls[i]; specs[w.ID] == nil {
			specs[w.ID] = w
		}
	}
	return func(w *layout.Wall) string {
		if spec := specs[w.ID]; spec != nil {
			return order.ZoneOf(spec)
		}
		return w.Level
	}
}

// barCuts gives what a cutting plan of bars buys, by length.
func barCuts(zone string, p *cut.Profile) []order.Cut {
	method := fmt.Sprintf("cutting plan, within %.1f %% of the least", 100*p.Gap())
	if p.Cost == p.Bound {
		method = "cutting plan, proven least"
	}
	var list []order.Cut
	at := map[layout.Length]int{}
	for _, b := range p.Bars {
		i, ok := at[b.Length]
		if !ok {
			i = len(list)
			at[b.Length] = i
			list = append(list, order.Cut{Zone: zone, Product: p.Product, Stock: order.Size{Length: b.Length}, Method: method})
		}
		c := &list[i]
		c.Count++
		for _, x := range b.Pieces {
			c.Net += x.Length.Metres()
		}
	}
	return list
}

// boardCuts gives what a cutting plan of boards buys, by length. What the pieces
// take is parted by the area of the boards of each length.
func boardCuts(zone string, b *boards.Board) []order.Cut {
	if len(b.Unmade) > 0 {
		return nil
	}
	net, bought := 0.0, 0.0
	for i := range b.Pieces {
		net += b.Pieces[i].Net
	}
	for _, s := range b.Stocks {
		bought += float64(s.Count) * s.Width.Metres() * s.Length.Metres()
	}
	method := fmt.Sprintf("cutting plan, within %.1f %% of the least", 100*(bought/b.Bound-1))
	if bought-b.Bound < 1e-6 {
		method = "cutting plan, proven least"
	}
	var list []order.Cut
	for _, s := range b.Stocks {
		share := float64(s.Count) * s.Width.Metres() * s.Length.Metres() / bought
		list = append(list, order.Cut{Zone: zone, Product: b.Product, Stock: order.Size{Length: s.Length, Width: s.Width}, Count: s.Count, Net: net * share, Method: method})
	}
	return list
}
