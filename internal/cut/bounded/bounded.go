// Package bounded says how good a cutting plan is: what it costs beside what any plan
// has to cost.
package bounded

// Value is what a plan costs and a proven bound, both in the same unit.
type Value struct {
	Cost  int64 `json:"cost"`
	Bound int64 `json:"bound"` // no plan costs less
}

// Proven reports whether no plan can cost less.
func (v *Value) Proven() bool { return v.Cost == v.Bound }

// Gap returns how far the cost may be above the least possible, as a part of it.
func (v *Value) Gap() float64 {
	if v.Bound == 0 {
		return 0
	}
	return float64(v.Cost-v.Bound) / float64(v.Bound)
}
