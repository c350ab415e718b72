package boards

import (
	"runtime"
	"sync"

	"nogging/internal/catalogue"
	"nogging/internal/layout"
)

// link is where a product is cut: in a zone, as the board at a place of its list.
type link struct {
	zone, place int
	product     *catalogue.Board
}

// inChains lists the zones with room for their boards, and for each product the zones
// in which it is cut, in build order. Offcuts go on from zone to zone of one product, so
// products can be cut side by side.
func inChains(ids []string, of map[string][]*layout.Wall, cat *catalogue.Catalogue) ([]Zone, [][]link) {
	zones := make([]Zone, len(ids))
	var chains [][]link
	at := map[string]int{}
	for i, id := range ids {
		zones[i].ID = id
		for _, b := range products(of[id]) {
			product, ok := cat.Board(b)
			if !ok {
				continue // the layout has said so
			}
			n, ok := at[b]
			if !ok {
				n = len(chains)
				at[b] = n
				chains = append(chains, nil)
			}
			chains[n] = append(chains[n], link{i, len(zones[i].Boards), product})
			zones[i].Boards = append(zones[i].Boards, Board{})
		}
	}
	return zones, chains
}

// teller tells how many of all are done.
type teller struct {
	mu          sync.Mutex
	told        func(done, total int)
	done, total int
}

func (t *teller) one() {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.done++; t.told != nil {
		t.told(t.done, t.total)
	}
}

// each calls f for numbers from 0 on, on all processors. Where it panics, so does each.
func each(n int, f func(int)) {
	var group sync.WaitGroup
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	faults := make(chan any, n)
	for k := range n {
		free <- struct{}{}
		group.Go(func() {
			defer func() {
				if r := recover(); r != nil {
					faults <- r
				}
				<-free
			}()
			f(k)
		})
	}
	group.Wait()
	if len(faults) > 0 {
		panic(<-faults)
	}
}
