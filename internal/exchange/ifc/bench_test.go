package ifc_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"nogging/internal/exchange/ifc"
)

// BenchmarkRead reads the sample plans, where they are there, and generated
// buildings.
func BenchmarkRead(b *testing.B) {
	files, _ := filepath.Glob("../../../../shared/data/plans/open/*.ifc")
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(filepath.Base(name), func(b *testing.B) { benchmark(b, data) })
	}
	for _, n := range []int{200, 2000, 20000} {
		b.Run(fmt.Sprintf("generated %d walls", n), func(b *testing.B) { benchmark(b, building(n)) })
	}
}

func benchmark(b *testing.B, data []byte) {
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		ifc.Options{}.Read("bench.ifc", data)
	}
}

// building writes storeys of 100 walls, each with a door and properties, and
// beside every wall a piece of furniture of triangles, since most of a real
// file is no walls.
func building(walls int) []byte {
	m := newModel("mm")
	for i := range walls {
		if i%100 == 0 {
			m.floorAt(fmt.Sprintf("Floor %d", i/100), float64(i/100)*3000)
		}
		x, y := float64(i%10)*6000, float64(i/10%10)*4000
		w := m.plain(m.place(x, y, 0), 5900, 2700)
		m.door(m.opening(w, m.block(1000, -50, 0, 1900, 50, 2100)), 900, 2100)
		m.common(w, "'FireRating',$,IFCLABEL('EI 30'),$", "'IsExternal',$,IFCBOOLEAN(.F.),$", "'LoadBearing',$,IFCBOOLEAN(.F.),$")
		m.put("IFCFURNITURE('u',$,'Desk',$,$,%s,%s,'t',$)", m.at(m.storey, m.place(x, y+500, 0)), m.body(m.triangles(0, 0, 0, 1600, 800, 750)))
	}
	return m.bytes()
}
