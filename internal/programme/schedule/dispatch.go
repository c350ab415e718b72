package schedule

import (
	"cmp"
	"container/heap"
)

// dispatch is parallel schedule generation: of the tasks that wait for nothing more, the
// one that can start soonest goes first; of several, the one with the least key. It gives
// the first task for which there is no room, or -1.
func (b *builder) dispatch(key []int, p *plan) int {
	b.prof.reset()
	p.finish, p.late = b.fix(p), 0
	b.begin(key, p)
	for len(b.queue) > 0 {
		i := b.queue[0].task
		s, e := b.prof.earliest(i, b.queue[0].at)
		if s >= never {
			return i
		}
		if s > b.queue[0].at {
			b.queue[0].at = s
			heap.Fix(&b.queue, 0)
			continue
		}
		heap.Pop(&b.queue)
		b.put(i, s, e, p)
		for _, a := range b.succs[i] {
			if b.waits[a.task]--; b.waits[a.task] == 0 {
				heap.Push(&b.queue, waiting{b.ready(a.task, p), key[a.task], b.rank[a.task], a.task})
			}
		}
	}
	return -1
}

// begin queues the tasks that wait for fixed tasks only.
func (b *builder) begin(key []int, p *plan) {
	b.queue = b.queue[:0]
	for _, i := range b.movable {
		b.waits[i] = 0
		for _, a := range b.preds[i] {
			if !b.Tasks[a.task].Fixed {
				b.waits[i]++
			}
		}
		if b.waits[i] == 0 {
			b.queue = append(b.queue, waiting{b.ready(i, p), key[i], b.rank[i], i})
		}
	}
	heap.Init(&b.queue)
}

// waiting is a task that can start no sooner than at a point of time.
type waiting struct{ at, key, rank, task int }

// queue is a heap: the task that may start soonest is on top.
type queue []waiting

func (q queue) Len() int      { return len(q) }
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(waiting)) }

func (q queue) Less(i, j int) bool {
	return cmp.Or(cmp.Compare(q[i].at, q[j].at), cmp.Compare(q[i].key, q[j].key), cmp.Compare(q[i].rank, q[j].rank)) < 0
}

func (q *queue) Pop() any {
	last := len(*q) - 1
	x := (*q)[last]
	*q = (*q)[:last]
	return x
}
