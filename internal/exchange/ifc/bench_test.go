package ifc

import (
	"os"
	"path/filepath"
	"testing"
)

func BenchmarkRead(b *testing.B) {
	files, _ := filepath.Glob("../../../../shared/data/plans/open/*.ifc")
	for _, name := range files {
		b.Run(filepath.Base(name), func(b *testing.B) {
			data, err := os.ReadFile(name)
			if err != nil {
				b.Fatal(err)
			}
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			for b.Loop() {
				Read(name, data)
			}
		})
	}
}
