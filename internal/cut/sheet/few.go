package sheet

import "math"

// Limits of the bound for few pieces: how many sets of pieces there may be, how many
// ways to take a sheet's pieces out of a set, and how many sums over sets.
const (
	fewSets = 4096
	fewWays = 1_000_000
	fewSums = 4_000_000
)

// fewBound returns what every plan must cost at least where there are few pieces: it
// parts them among sheets in every way, and takes for each part the cheapest sheet that
// dual feasible functions let it have. So what is left over on sheets counts, which the
// sum over all pieces does not see. It returns 0 where there are too many pieces.
func (in *instance) fewBound() int64 {
	b := newBounder(in)
	f := few{bounder: b, sets: 1}
	ways := 1
	for i := range in.kinds {
		d := 0
		if b.counts[i] {
			d = in.kinds[i].demand
		}
		f.demand = append(f.demand, d)
		f.stride = append(f.stride, f.sets)
		f.sets *= d + 1
		ways *= (d + 1) * (d + 2) / 2
		if f.sets > fewSets || ways > fewWays {
			return 0
		}
	}
	if len(in.stocks) > 64 {
		return 0
	}
	f.forbid()
	return f.part()
}

// few numbers sets of pieces, how many there are of each kind being a digit.
type few struct {
	*bounder
	demand, stride []int
	sets           int
	forbidden      []uint64 // stocks that cannot hold a set, a bit for each
}

// digit returns how many of a kind are in a set.
func (f *few) digit(set, kind int) int { return set / f.stride[kind] % (f.demand[kind] + 1) }

// forbid finds which stocks cannot hold which sets.
func (f *few) forbid() {
	f.forbidden = make([]uint64, f.sets)
	for set := range f.sets {
		for i := range f.in.kinds {
			for t := range f.in.stocks {
				if f.digit(set, i) > 0 && !f.in.stocks[t].takes(&f.in.kinds[i]) {
					f.forbidden[set] |= 1 << t
				}
			}
		}
	}
	across, along := f.graded()
	every := f.sets*len(across)*len(along)/fewSums + 1
	size, sums := make([]float64, len(f.in.kinds)), make([]float64, f.sets)
	for n := 0; n < len(across)*len(along); n += every {
		a, b := &across[n/len(along)], &along[n%len(along)]
		for i := range f.in.kinds {
			size[i] = f.size(i, a, b)
		}
		f.add(size, sums)
		for t := range f.in.stocks {
			gives := a.stock[t]*b.stock[t] + 1e-9
			for set, sum := range sums {
				if sum > gives {
					f.forbidden[set] |= 1 << t
				}
			}
		}
	}
}

// add finds for each set the sum of the sizes of its pieces.
func (f *few) add(size, sums []float64) {
	for set := 1; set < f.sets; set++ {
		for i := len(f.demand) - 1; i >= 0; i-- {
			if f.demand[i] > 0 && f.stride[i] <= set && f.digit(set, i) > 0 {
				sums[set] = sums[set-f.stride[i]] + size[i]
				break
			}
		}
	}
}

// part finds the cheapest way to part all pieces among sheets.
func (f *few) part() int64 {
	sheet, cost := make([]int64, f.sets), make([]int64, f.sets)
	for set := 1; set < f.sets; set++ {
		sheet[set] = math.MaxInt64
		for t, s := range f.in.stocks {
			if f.forbidden[set]&(1<<t) == 0 {
				sheet[set] = min(sheet[set], s.cost)
			}
		}
		cost[set] = math.MaxInt64
		f.parts(set, 0, 0, func(part int) {
			if rest := cost[set-part]; sheet[part] < math.MaxInt64 && rest < math.MaxInt64 {
				cost[set] = min(cost[set], sheet[part]+rest)
			}
		})
	}
	return cost[f.sets-1]
}

// parts calls use with each part of a set that holds one of its first kind.
func (f *few) parts(set, kind, part int, use func(part int)) {
	if kind == len(f.demand) {
		if part > 0 {
			use(part)
		}
		return
	}
	from := 0
	if part == 0 {
		from = min(1, f.digit(set, kind))
	}
	for n := from; n <= f.digit(set, kind); n++ {
		f.parts(set, kind+1, part+n*f.stride[kind], use)
	}
}
