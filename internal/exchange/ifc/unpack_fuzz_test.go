package ifc_test

import (
	"archive/zip"
	"bytes"
	"testing"

	"nogging/internal/exchange/ifc"
)

// FuzzUnpack: an archive gives a model no larger than what may be unpacked, or is
// refused.
func FuzzUnpack(f *testing.F) {
	for _, names := range [][]string{{"house.ifc"}, {"a/", "a/b.IFC", "__MACOSX/b.ifc", "readme.txt"}, {"a.ifc", "b.ifc"}, {"a.ifczip"}, {}} {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		for _, n := range names {
			w, err := z.Create(n)
			if err != nil {
				f.Fatal(err)
			}
			if _, err := w.Write(bytes.Repeat([]byte("ISO-10303-21;"), 20)); err != nil && n != "a/" {
				f.Fatal(err)
			}
		}
		if err := z.Close(); err != nil {
			f.Fatal(err)
		}
		f.Add(b.Bytes())
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		text, found := ifc.Unpack("fuzz.ifczip", data)
		const most = 512 << 20
		if (text == nil) != ifc.Refused(found) && len(data) > 0 || len(text) > most {
			t.Fatalf("%d bytes, %v", len(text), found)
		}
	})
}
