package schedule

import "context"

// solve searches for the best plan within the budget.
func (n *network) solve(ctx context.Context, o Options) (Solution, error) {
	p := n.newPlan()
	if i := n.forward(n.topo, newProfile(n), p); i >= 0 {
		return Solution{}, Mistakes{n.mistake(NoRoom, i)}
	}
	return Solution{Start: p.start, End: p.end, Finish: p.finish, Schedules: 1, Stopped: ctx.Err() != nil}, nil
}
