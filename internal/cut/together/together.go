// Package together chooses how walls are laid out by what cuts best: of the ways that
// are as right as the plain one, it picks for each wall the one with which the boards
// of the whole zone are fewest.
//
// It takes a plan ready to be laid out, the catalogue, the practice and the options of
// cutting, and gives the ways to ask of the layout. Which ways are right is the
// layout's business, what pieces take is that of the cutting plans; neither knows of
// the other. Walls are looked at in build order, a group at a time, each against what
// is settled of its group, as often as something is saved. The plain layout stays
// where nothing is saved by the cutting plans that people cut by, too.
package together

import (
	"cmp"
	"context"
	"runtime"
	"slices"
	"sync"

	"nogging/internal/catalogue"
	"nogging/internal/cut/boards"
	"nogging/internal/cut/sheet"
	"nogging/internal/layout"
)

// Input is what is chosen for, and from.
type Input struct {
	Ready     *layout.Prepared
	Catalogue *catalogue.Catalogue
	Practice  *catalogue.Practice
	Options   boards.Options        // by which boards are cut in the end, with the zones
	Rounds    int                   // over a group of walls, at most; 0 for 2
	Progress  func(done, total int) // told how many walls are settled; may be nil
}

// Choice is the ways to ask of the layout, by wall, and what they save.
type Choice struct {
	Ways    map[string]layout.Way `json:"ways"`
	Savings []Saving              `json:"savings"`
}

// groupSize is how many walls in build order are looked at together: more take long,
// and save little more.
const groupSize = 24

const usualRounds = 2

// chooser chooses for one zone.
type chooser struct {
	Input
	ctx   context.Context
	walls []*choices
	known map[string]int64 // values by board and pieces
	lock  sync.Mutex
}

// choices is a wall with the ways it may be laid out.
type choices struct {
	id   string
	ways []option // the plain one first
	now  int
}

// option is one way with what it takes.
type option struct {
	way   layout.Way
	needs map[string][]sheet.Piece
}

// Choose looks for the ways. When ctx ends before all is settled and held against the
// plain layout, it gives its error.
func Choose(ctx context.Context, in Input) (Choice, error) {
	in.Rounds = cmp.Or(in.Rounds, usualRounds)
	done, ways := 0, map[string]layout.Way{}
	for _, z := range in.zones() {
		c := &chooser{Input: in, ctx: ctx}
		for group := range slices.Chunk(z, groupSize) {
			c.walls, c.known = make([]*choices, len(group)), map[string]int64{}
			c.each(len(group), func(k int) { c.walls[k] = c.optionsOf(group[k]) })
			c.settle()
			for _, w := range c.walls {
				if w.now > 0 {
					ways[w.id] = w.ways[w.now].way
				}
			}
			if done += len(group); in.Progress != nil {
				in.Progress(done, in.Ready.Walls())
			}
			if err := ctx.Err(); err != nil {
				return Choice{}, err
			}
		}
	}
	return in.held(ctx, ways)
}

// zones lists the walls of each zone by their numbers, in build order.
func (in *Input) zones() [][]int {
	at := map[string]int{}
	var list [][]int
	for i := range in.Ready.Walls() {
		id := in.zone(i)
		k, ok := at[id]
		if !ok {
			k = len(list)
			at[id] = k
			list = append(list, nil)
		}
		list[k] = append(list[k], i)
	}
	return list
}

// zone names the zone of a wall.
func (in *Input) zone(i int) string {
	id, level := in.Ready.Name(i)
	return in.Options.Zone(&layout.Wall{ID: id, Level: level})
}

// optionsOf lays a wall out in every way, and keeps those that give other pieces.
func (c *chooser) optionsOf(i int) *choices {
	plain := c.Ready.Wall(i, layout.Way{})
	w := &choices{id: plain.ID}
	seen := map[string]bool{}
	take := func(way layout.Way, laid *layout.Wall) {
		o := option{way, map[string][]sheet.Piece{}}
		key := ""
		for _, n := range boards.NeedsOf(laid, c.Catalogue, c.Practice, c.Options) {
			o.needs[n.Board] = n.Pieces
			key += n.Board + keyOf(n.Pieces)
		}
		if !seen[key] {
			seen[key] = true
			w.ways = append(w.ways, o)
		}
	}
	take(layout.Way{}, plain)
	for _, way := range c.Ready.Ways(i) {
		take(way, c.Ready.Wall(i, way))
	}
	return w
}

// settle goes over the walls, and gives each the way with which the group takes least.
func (c *chooser) settle() {
	for range c.Rounds {
		better := false
		for _, w := range c.walls {
			if len(w.ways) < 2 {
				continue
			}
			values := make([]int64, len(w.ways))
			c.each(len(w.ways), func(k int) { values[k] = c.value(w, k) })
			if c.ctx.Err() != nil {
				return
			}
			best := w.now
			for k := range values {
				if values[k] < values[best] {
					best = k
				}
			}
			better = better || best != w.now
			w.now = best
		}
		if !better {
			return
		}
	}
}

// each calls f for numbers from 0 on, on all processors.
func (c *chooser) each(n int, f func(int)) {
	var group sync.WaitGroup
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	for k := range n {
		free <- struct{}{}
		group.Go(func() {
			f(k)
			<-free
		})
	}
	group.Wait()
}

// value returns what the boards of a wall's group take if it is laid out in its k-th
// way: only boards that the wall may take differ.
func (c *chooser) value(w *choices, k int) int64 {
	sum := int64(0)
	for _, board := range w.boards() {
		var pieces []sheet.Piece
		for _, o := range c.walls {
			at := o.now
			if o == w {
				at = k
			}
			pieces = append(pieces, o.ways[at].needs[board]...)
		}
		sum += c.valued(board, pieces)
	}
	return sum
}

// boards lists the boards that a wall may take, sorted.
func (w *choices) boards() []string {
	var list []string
	for _, o := range w.ways {
		for board := range o.needs {
			if !slices.Contains(list, board) {
				list = append(list, board)
			}
		}
	}
	slices.Sort(list)
	return list
}

func (c *chooser) valued(board string, pieces []sheet.Piece) int64 {
	key := board + keyOf(pieces)
	c.lock.Lock()
	v, ok := c.known[key]
	c.lock.Unlock()
	if ok {
		return v
	}
	v, err := boards.Value(c.ctx, board, pieces, c.Catalogue, c.Practice, c.Options)
	if err != nil {
		return 1 << 60
	}
	c.lock.Lock()
	c.known[key] = v
	c.lock.Unlock()
	return v
}
