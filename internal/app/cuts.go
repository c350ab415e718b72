package app

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"nogging/internal/cut"
	"nogging/internal/cut/boards"
	"nogging/internal/cut/sheet"
	"nogging/internal/document"
	"nogging/internal/layout"
	"nogging/internal/order"
	"nogging/internal/plan"
	"nogging/internal/takeoff"
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

// zonePlans keeps the newest plans while the walls of all zones stay as they are. What
// one zone leaves goes on to later ones, so they stand and fall together; but what is
// asked again on the way, such as in zones before the one that changed, is remembered.
type zonePlans struct {
	mu     sync.Mutex
	list   []*zonePlan
	memory cutMemory
}

func (k *zonePlans) get(list []*zonePlan) []*zonePlan {
	if k == nil {
		return nil // a job that is built once has nothing to keep
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if slices.EqualFunc(k.list, list, func(a, b *zonePlan) bool { return a.id == b.id && slices.Equal(a.walls, b.walls) }) {
		return k.list
	}
	return nil
}

func (k *zonePlans) put(list []*zonePlan) {
	if k != nil {
		k.mu.Lock()
		k.list = list
		k.mu.Unlock()
	}
}

// cutZones plans how the profiles and boards of each zone are cut, in build order: by
// the sequence where one is known. What a zone leaves for reuse, later ones may use.
// The error is that of ctx.
func (j *Job) cutZones(ctx context.Context, sequence ...string) ([]*zonePlan, error) {
	yard, o := j.Yard(), j.cutOptions()
	yard.Effort = barEffort
	yard.Order = order.ZoneOrder(j.Plan, sequence...)
	o.Order = yard.Order
	tell := teller(ctx)
	o.Told = func(done, total int) { tell("cutting", done, total) }
	var list []*zonePlan
	ids, of := cut.InZones(j.Layout.Walls, o.Zone, o.Order)
	for _, id := range ids {
		list = append(list, &zonePlan{id: id, walls: of[id]})
	}
	if known := j.zones.get(list); known != nil {
		return known, nil
	}
	if j.zones != nil {
		j.zones.memory.turn()
		yard.Solve, o.Solve = j.zones.memory.solveBars, j.zones.memory.solveBoards
	}
	var failed error
	each(2, func(i int) {
		if i == 0 {
			for k, z := range cut.Zones(ctx, j.Layout.Walls, j.Catalogue, yard) {
				list[k].bars = z.Profiles
			}
			return
		}
		var planned []boards.Zone
		planned, failed = boards.Plan(ctx, j.Layout.Walls, j.Catalogue, j.Practice, o)
		for k := range planned {
			list[k].boards = planned[k].Boards
		}
	})
	if ctx.Err() == nil && failed == nil {
		j.zones.put(list)
	}
	return list, ctx.Err()
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

// cutting is how everything is cut, as the pack shows it.
func (j *Job) cutting(ctx context.Context) (*document.Cutting, error) {
	zones, err := j.cutZones(ctx)
	if err != nil {
		return nil, err
	}
	c := &document.Cutting{Options: j.cutOptions()}
	for _, z := range zones {
		c.Zones = append(c.Zones, document.CutZone{ID: z.id, Bars: z.bars, Boards: z.boards})
	}
	return c, nil
}

// cutOptions is how boards are cut for an order.
func (j *Job) cutOptions() boards.Options { return j.boardOptions(boardEffort) }

// Yard returns how the plan and its practice want profiles cut: by zones in build
// order, with rests kept for later ones.
func (j *Job) Yard() cut.Yard {
	return cut.Yard{Zone: j.zoneOf(), Order: order.ZoneOrder(j.Plan), Keep: j.Practice.OffcutProfile.Value}
}

// boardOptions returns the same for boards.
func (j *Job) boardOptions(effort int) boards.Options {
	return boards.Options{Zone: j.zoneOf(), Order: order.ZoneOrder(j.Plan), Offcut: j.Practice.OffcutBoard.Value, Effort: effort}
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

// bySize gathers what is bought of a product in a zone by the stock of which it is or
// once was.
type bySize struct {
	zone, product string
	list          []order.Cut
}

func (b *bySize) of(s order.Size) *order.Cut {
	i := slices.IndexFunc(b.list, func(c order.Cut) bool { return c.Stock == s })
	if i < 0 {
		i = len(b.list)
		b.list = append(b.list, order.Cut{Zone: b.zone, Product: b.product, Stock: s})
	}
	return &b.list[i]
}

// said writes into each how it was found.
func (b *bySize) said(method, unit string) []order.Cut {
	for i := range b.list {
		c := &b.list[i]
		c.Method = method
		if c.Reused > 0 {
			c.Method += fmt.Sprintf("; %.2f %s of offcuts of earlier zones used", c.Reused, unit)
		}
		if c.Kept > 0 {
			c.Method += fmt.Sprintf("; %.2f %s of offcuts go on to later zones", c.Kept, unit)
		}
	}
	return b.list
}

// barCuts gives what a cutting plan of bars buys, by length.
func barCuts(zone string, p *cut.Profile) []order.Cut {
	method := fmt.Sprintf("cutting plan, within %.1f %% of the least", 100*p.Gap())
	if p.Cost == p.Bound {
		method = "cutting plan, proven least"
	}
	out := bySize{zone: zone, product: p.Product}
	for i := range p.Bars {
		b := &p.Bars[i]
		var c *order.Cut
		if b.From != nil {
			c = out.of(order.Size{Length: b.From.Stock})
			c.Reused += b.Length.Metres()
		} else {
			c = out.of(order.Size{Length: b.Length})
			c.Count++
		}
		for _, x := range b.Pieces {
			c.Net += x.Length.Metres()
		}
		if b.Kept != nil && b.Kept.To != "" {
			c.Kept += b.Rest.Metres()
		}
	}
	return out.said(method, takeoff.Metre)
}

// boardCuts gives what a cutting plan of boards buys, by length.
func boardCuts(zone string, b *boards.Board) []order.Cut {
	if len(b.Unmade) > 0 {
		return nil
	}
	out := bySize{zone: zone, product: b.Product}
	of := func(s boards.Stock) *order.Cut { return out.of(order.Size{Length: s.Length, Width: s.Width}) }
	for i := range b.Sheets {
		x := &b.Sheets[i]
		c := of(x.Stock())
		if x.Offcut == nil {
			c.Count++
		}
		x.Root.Walk(func(n *sheet.Node) {
			if n.Piece >= 0 {
				c.Net += b.Pieces[n.Piece].Net
			}
		})
	}
	for _, f := range b.Used {
		of(f.Stock).Reused += f.Area()
	}
	for _, f := range b.Offcuts {
		if f.To != "" && f.To != zone {
			of(f.Stock).Kept += f.Area()
		}
	}
	return out.said(boardMethod(b), takeoff.SquareMetre)
}

// boardMethod says how good a plan is.
func boardMethod(b *boards.Board) string {
	over := b.Area() - b.Bound
	switch {
	case over < 1e-6:
		return "cutting plan, proven least"
	case b.Bound < 1e-6:
		return "cutting plan"
	}
	return fmt.Sprintf("cutting plan, within %.1f %% of the least", 100*over/b.Bound)
}
