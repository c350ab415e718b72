package drawing

// Spread moves labels as little as it can so that none overlaps the next. At
// holds where each would like to be, in ascending order; widths what each takes
// up. The result keeps the order and stays within lo and hi as long as there
// is room; ok is false if there is not, and the labels then overrun hi.
//
// Among all such arrangements it is the one with the least sum of squared
// moves: labels that push each other form blocks that stand at the mean of
// their members' wishes (the pool-adjacent-violators method).
func Spread(at, widths []float64, lo, hi float64) (out []float64, ok bool) {
	type block struct {
		first, n  int
		sum, base float64 // sum of wishes less offsets; wanted place of the first
	}
	var blocks []block
	offset := make([]float64, len(at)) // of each label from the very first, packed tight
	for i := range at {
		if i > 0 {
			offset[i] = offset[i-1] + (widths[i-1]+widths[i])/2
		}
		b := block{first: i, n: 1, sum: at[i] - offset[i]}
		b.base = b.sum
		for len(blocks) > 0 && blocks[len(blocks)-1].base > b.base {
			last := blocks[len(blocks)-1]
			blocks = blocks[:len(blocks)-1]
			b = block{first: last.first, n: last.n + b.n, sum: last.sum + b.sum}
			b.base = b.sum / float64(b.n)
		}
		blocks = append(blocks, b)
	}
	if len(at) == 0 {
		return nil, true
	}
	low := lo + widths[0]/2
	high := hi - widths[len(at)-1]/2 - offset[len(at)-1]
	out = make([]float64, len(at))
	for _, b := range blocks {
		base := max(low, min(b.base, high))
		for i := b.first; i < b.first+b.n; i++ {
			out[i] = base + offset[i]
		}
	}
	return out, high >= low-1e-9
}

// same returns n equal widths.
func same(width float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = width
	}
	return out
}
