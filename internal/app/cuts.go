package app

import (
	"context"
	"fmt"
	"slices"
	"sync"

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

// zonePlan is how the profiles and boards of one zone are cut.
type zonePlan struct {
	id     string
	walls  []*layout.Wall
	bars   []cut.Profile
	boards []boards.Board
}

// zonePlans keeps the newest plan of each zone while its walls stay as they are.
type zonePlans struct {
	mu   sync.Mutex
	byID map[string]*zonePlan
}

func (k *zonePlans) get(id string, walls []*layout.Wall) *zonePlan {
	if k == nil {
		return nil // a job that is built once has nothing to keep
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if z := k.byID[id]; z != nil && slices.Equal(z.walls, walls) {
		return z
	}
	return nil
}

func (k *zonePlans) put(z *zonePlan) {
	if k == nil {
		return
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.byID == nil {
		k.byID = map[string]*zonePlan{}
	}
	k.byID[z.id] = z
}

// cutOptions is how boards are cut for an order.
func (j *Job) cutOptions() boards.Options {
	return boards.Options{Zone: j.zoneOf(), Effort: boardEffort}
}

// cutZones plans how the profiles and boards of each zone are cut, in the order in
// which zones come up. Nothing is kept over from zone to zone. The error is that of
// ctx.
func (j *Job) cutZones(ctx context.Context) ([]*zonePlan, error) {
	o := j.cutOptions()
	var list []*zonePlan
	at := map[string]*zonePlan{}
	for _, w := range j.Layout.Walls {
		id := o.Zone(w)
		if at[id] == nil {
			at[id] = &zonePlan{id: id}
			list = append(list, at[id])
		}
		at[id].walls = append(at[id].walls, w)
	}
	each(len(list), func(i int) {
		if ctx.Err() != nil {
			return
		}
		if known := j.zones.get(list[i].id, list[i].walls); known != nil {
			list[i] = known
		} else if j.cutZone(ctx, list[i], o) == nil {
			j.zones.put(list[i])
		}
	})
	return list, ctx.Err()
}

// cutZone plans one zone.
func (j *Job) cutZone(ctx context.Context, z *zonePlan, o boards.Options) error {
	z.bars, _ = cut.Profiles(ctx, z.walls, j.Catalogue, cut.Yard{Effort: barEffort})
	planned, err := boards.Plan(ctx, z.walls, j.Catalogue, j.Practice, o)
	if err != nil {
		return err // only where somebody ends the work
	}
	for i := range planned {
		z.boards = append(z.boards, planned[i].Boards...)
	}
	return ctx.Err()
}

// cuts gives what has to be bought by cutting plans. What no plan gives is left to
// the practice's percentages.
func cuts(zones []*zonePlan) []order.Cut {
	var list []order.Cut
	for _, z := range zones {
		for i := range z.bars {
			list = append(list, barCuts(z.id, &z.bars[i])...)
		}
	}
	for _, z := range zones {
		for i := range z.boards {
			list = append(list, boardCuts(z.id, &z.boards[i])...)
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
