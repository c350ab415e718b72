package gltf

import (
	"encoding/binary"
	"math"

	"nogging/internal/parts"
)

// shape is a mesh in single precision.
type shape struct {
	points [][3]float32
	faces  []uint32
}

func single(m parts.Mesh, from []float64) shape {
	s := shape{faces: m.Faces, points: make([][3]float32, len(m.Points))}
	for i, p := range m.Points {
		for k := range p {
			// Whole hundredths of millimetres, so that equal pieces stay equal.
			s.points[i][k] = float32(math.Round((p[k]-from[k])*1e5) / 1e5)
		}
	}
	return s
}

// lowest returns the lowest corner of a mesh: parts are told from there, so that equal
// pieces are equal shapes.
func lowest(m parts.Mesh) []float64 {
	low := []float64{0, 0, 0}
	for i, p := range m.Points {
		for k := range low {
			if i == 0 || p[k] < low[k] {
				low[k] = p[k]
			}
		}
	}
	return low
}

func (s *shape) bounds() (low, high []float64) {
	low, high = make([]float64, 3), make([]float64, 3)
	for k := range low {
		low[k], high[k] = math.Inf(1), math.Inf(-1)
		for _, p := range s.points {
			low[k], high[k] = min(low[k], float64(p[k])), max(high[k], float64(p[k]))
		}
	}
	return low, high
}

func (s *shape) bytes() (points, faces []byte) {
	for _, p := range s.points {
		for _, x := range p {
			points = binary.LittleEndian.AppendUint32(points, math.Float32bits(x))
		}
	}
	for _, f := range s.faces {
		faces = binary.LittleEndian.AppendUint32(faces, f)
	}
	return points, faces
}
