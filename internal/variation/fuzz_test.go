package variation_test

import (
	"testing"

	"nogging/internal/variation"
)

// FuzzDone: whatever a file of what was cut and delivered holds, a variation can be
// told with it.
func FuzzDone(f *testing.F) {
	f.Add([]byte("cut: [L1-01, L1-99]\ndelivered: [{product: UW75, packs: 3}]\n"))
	f.Add([]byte("cut: [{wall: L1-01}]\ndelivered: [{product: \"\", packs: -1}, {product: UW75, packs: 9223372036854775807}]\n"))
	after := base()
	after.Walls = after.Walls[:1]
	before, now := side(base()), side(after)
	f.Fuzz(func(t *testing.T, data []byte) {
		d, _, _ := variation.ReadDone("done.yaml", data)
		variation.Of(before, now, d)
	})
}
