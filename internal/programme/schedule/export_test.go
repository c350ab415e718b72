package schedule

// Refuted reports whether the bound's reasoning says that a problem cannot be over at an
// end.
func Refuted(p Problem, end int) bool {
	n, err := compile(p)
	if err != nil {
		return true
	}
	return n.newBuilder().newProver(end).refuted(end)
}
