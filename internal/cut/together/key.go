package together

import (
	"cmp"
	"encoding/binary"
	"slices"

	"nogging/internal/cut/sheet"
	"nogging/internal/geom"
)

// keyOf returns what two lists of pieces have in common exactly if they hold the same
// pieces.
func keyOf(pieces []sheet.Piece) string {
	keys := make([]string, len(pieces))
	for i := range pieces {
		keys[i] = pieceKey(&pieces[i])
	}
	slices.Sort(keys)
	n := 0
	for _, k := range keys {
		n += len(k) + 1
	}
	out := make([]byte, 0, n)
	for _, k := range keys {
		out = append(append(out, k...), '|')
	}
	return string(out)
}

func pieceKey(p *sheet.Piece) string {
	b := make([]byte, 0, 32)
	b = binary.AppendVarint(b, int64(p.Width))
	b = binary.AppendVarint(b, int64(p.Height))
	for _, yes := range []bool{p.Left, p.Right} {
		b = append(b, map[bool]byte{true: 1}[yes])
	}
	notches := slices.Clone(p.Notches)
	slices.SortFunc(notches, func(a, b geom.Rect) int {
		return cmp.Or(cmp.Compare(a.Min.X, b.Min.X), cmp.Compare(a.Min.Y, b.Min.Y))
	})
	for _, r := range notches {
		for _, v := range []sheet.Length{r.Min.X, r.Min.Y, r.Max.X, r.Max.Y} {
			b = binary.AppendVarint(b, int64(v))
		}
	}
	return string(b)
}
