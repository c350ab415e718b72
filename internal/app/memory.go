package app

import (
	"context"
	"crypto/sha256"
	"fmt"
	"maps"
	"sync"

	"nogging/internal/cut/linear"
	"nogging/internal/cut/sheet"
)

// answers keeps what came of the questions of the newest runs, by all that they say, and
// so spares a run what was asked before: of cutting plans, whatever no edit since has
// touched.
type answers[A any] struct {
	mu   sync.Mutex
	run  int
	list map[[sha256.Size]byte]answer[A]
}

type answer[A any] struct {
	is  A
	run int // that asked for it last
}

// runsKept is how many runs an answer is kept that none of them asks for: an order and
// a programme may ask in turn.
const runsKept = 4

// turn begins a run.
func (m *answers[A]) turn() {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.run++
	maps.DeleteFunc(m.list, func(_ [sha256.Size]byte, a answer[A]) bool { return m.run-a.run > runsKept })
}

// to gives the answer to a question, worked out only where it is not known. What comes
// of it after ctx ended is not kept.
func (m *answers[A]) to(ctx context.Context, question string, work func() (A, error)) (A, error) {
	key := sha256.Sum256([]byte(question))
	m.mu.Lock()
	known, ok := m.list[key]
	m.mu.Unlock()
	if !ok {
		var err error
		if known.is, err = work(); err != nil || ctx.Err() != nil {
			return known.is, err
		}
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.list == nil {
		m.list = map[[sha256.Size]byte]answer[A]{}
	}
	m.list[key] = answer[A]{known.is, m.run}
	return known.is, nil
}

// cutMemory remembers how bars and boards were cut.
type cutMemory struct {
	bars   answers[linear.MadePlan]
	boards answers[sheet.Plan]
}

func (m *cutMemory) turn() {
	m.bars.turn()
	m.boards.turn()
}

// solveBars is linear.SolveMade from memory.
func (m *cutMemory) solveBars(ctx context.Context, p linear.Problem, made linear.Made, effort int64) (linear.MadePlan, error) {
	return m.bars.to(ctx, fmt.Sprintf("%#v %#v %d", p, made, effort), func() (linear.MadePlan, error) {
		return linear.SolveMade(ctx, p, made, effort)
	})
}

// solveBoards is sheet.Solve from memory. The plan is the caller's own.
func (m *cutMemory) solveBoards(ctx context.Context, p sheet.Problem, effort int) (sheet.Plan, error) {
	plan, err := m.boards.to(ctx, fmt.Sprintf("%#v %d", p, effort), func() (sheet.Plan, error) {
		return sheet.Solve(ctx, p, effort)
	})
	return plan.Clone(), err
}
