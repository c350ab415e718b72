package server

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"
)

// FuzzPicture: what is taken for a picture is one of those that browsers show and not
// larger than they can.
func FuzzPicture(f *testing.F) {
	m := image.NewGray(image.Rect(0, 0, 8, 4))
	m.Set(3, 2, color.White)
	var p, j bytes.Buffer
	if png.Encode(&p, m) != nil || jpeg.Encode(&j, m, nil) != nil {
		f.Fatal("no pictures")
	}
	f.Add(p.Bytes())
	f.Add(j.Bytes())
	f.Add([]byte("GIF89a\x01\x00\x01\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		kind, err := picture(data)
		if (err == nil) != (kind == "image/png" || kind == "image/jpeg") {
			t.Fatalf("%q, %v", kind, err)
		}
		if err != nil {
			return
		}
		if c, _, err := image.DecodeConfig(bytes.NewReader(data)); err != nil || c.Width*c.Height > maxPixels {
			t.Fatalf("%d by %d: %v", c.Width, c.Height, err)
		}
	})
}
