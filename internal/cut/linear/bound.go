package linear

// easyBound returns a bound without a programme where there is one stock: L2 (1990).
func (in *instance) easyBound() int64 {
	if len(in.size) > 1 {
		return 0
	}
	total := 0
	for k, w := range in.weight {
		total += w * in.demand[k]
	}
	return int64(in.bins(total)) * in.cost[0]
}

// bins is the bound L2: for each a up to half the capacity C, pieces
// above C-a stand alone, those above C/2 cannot share a bar, and what is at least a
// fills what room they leave.
func (in *instance) bins(total int) int {
	c := in.size[0]
	best := (total + c - 1) / c
	for _, a := range append(in.halves(), 1) {
		alone, large, largeSum, small := 0, 0, 0, 0
		for k, w := range in.weight {
			d := in.demand[k]
			switch {
			case w > c-a:
				alone += d
			case 2*w > c:
				large += d
				largeSum += d * w
			case w >= a:
				small += d * w
			}
		}
		room := large*c - largeSum
		n := alone + large
		if small > room {
			n += (small - room + c - 1) / c
		}
		best = max(best, n)
	}
	return best
}

// halves lists the weights up to half the capacity: only they change L2.
func (in *instance) halves() []int {
	var list []int
	for _, w := range in.weight {
		if 2*w <= in.size[0] {
			list = append(list, w)
		}
	}
	return list
}
