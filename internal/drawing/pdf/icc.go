package pdf

import (
	"encoding/binary"
	"math"
)

// The colour space sRGB by IEC 61966-2-1: primaries and white point D65 as
// chromaticities, and the transfer function, which is linear near black.
var (
	srgbPrimaries = [3][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}
	srgbWhite     = [2]float64{0.3127, 0.3290}
	srgbCurve     = []float64{2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045}
)

// illuminant is D50 as profiles give it (ISO 15076-1, 7.2.16), and bradford the
// transform in whose cone responses white points are adapted (annex E).
var (
	illuminant = vector{0.9642, 1, 0.8249}
	bradford   = matrix{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}
)

type (
	vector [3]float64
	matrix [3]vector // rows
)

func (m matrix) times(v vector) (out vector) {
	for i := range m {
		for k := range v {
			out[i] += m[i][k] * v[k]
		}
	}
	return out
}

func (m matrix) after(n matrix) (out matrix) {
	for i := range m {
		for k := range n {
			for j := range n {
				out[i][k] += m[i][j] * n[j][k]
			}
		}
	}
	return out
}

// inverse is the matrix of cofactors over the determinant.
func (m matrix) inverse() (out matrix) {
	minor := func(r, c int) float64 {
		a, b, x, y := (r+1)%3, (r+2)%3, (c+1)%3, (c+2)%3
		return m[a][x]*m[b][y] - m[a][y]*m[b][x]
	}
	det := m[0][0]*minor(0, 0) + m[0][1]*minor(0, 1) + m[0][2]*minor(0, 2)
	for r := range m {
		for c := range m {
			out[c][r] = minor(r, c) / det
		}
	}
	return out
}

// xyz returns the tristimulus values of a chromaticity with Y 1.
func xyz(c [2]float64) vector { return vector{c[0] / c[1], 1, (1 - c[0] - c[1]) / c[1]} }

// adaptation returns the matrix that takes colours seen under D65 to D50.
func adaptation() matrix {
	from, to := bradford.times(xyz(srgbWhite)), bradford.times(illuminant)
	scale := matrix{{to[0] / from[0]}, {0, to[1] / from[1]}, {0, 0, to[2] / from[2]}}
	return bradford.inverse().after(scale).after(bradford)
}

// colorants returns the tristimulus values of red, green and blue, adapted to D50:
// so much of each that together they make white.
func colorants() [3]vector {
	var p matrix // the primaries in columns
	for c, primary := range srgbPrimaries {
		for r, v := range xyz(primary) {
			p[r][c] = v
		}
	}
	amount, adapt := p.inverse().times(xyz(srgbWhite)), adaptation()
	var list [3]vector
	for c := range list {
		list[c] = adapt.times(vector{p[0][c] * amount[c], p[1][c] * amount[c], p[2][c] * amount[c]})
	}
	return list
}

// profile returns a display profile of sRGB (ISO 15076-1, version 4.2).
func profile() []byte {
	adapt, colour := adaptation(), colorants()
	tags := []struct {
		names []string
		data  []byte
	}{
		{[]string{"desc"}, localised("sRGB (IEC 61966-2-1)")},
		{[]string{"cprt"}, localised("No copyright, use freely")},
		{[]string{"wtpt"}, fixedNumbers("XYZ ", illuminant[:]...)},
		{[]string{"chad"}, fixedNumbers("sf32", append(append(adapt[0][:], adapt[1][:]...), adapt[2][:]...)...)},
		{[]string{"rXYZ"}, fixedNumbers("XYZ ", colour[0][:]...)},
		{[]string{"gXYZ"}, fixedNumbers("XYZ ", colour[1][:]...)},
		{[]string{"bXYZ"}, fixedNumbers("XYZ ", colour[2][:]...)},
		{[]string{"rTRC", "gTRC", "bTRC"}, curve()},
	}
	const head, entry = 128, 12
	count := 0
	for _, t := range tags {
		count += len(t.names)
	}
	table := binary.BigEndian.AppendUint32(nil, uint32(count))
	at := head + 4 + entry*count
	var body []byte
	for _, t := range tags {
		for _, name := range t.names {
			table = append(table, name...)
			table = binary.BigEndian.AppendUint32(table, uint32(at+len(body)))
			table = binary.BigEndian.AppendUint32(table, uint32(len(t.data)))
		}
		body = append(body, t.data...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	file := profileHeader(at + len(body))
	return append(append(file, table...), body...)
}

// profileHeader returns the first 128 bytes (7.2).
func profileHeader(size int) []byte {
	h := make([]byte, 128)
	binary.BigEndian.PutUint32(h, uint32(size))
	binary.BigEndian.PutUint32(h[8:], 0x04200000) // version 4.2
	copy(h[12:], "mntrRGB XYZ ")
	for i, v := range []uint16{2000, 1, 1, 0, 0, 0} { // the same bytes whenever it is made
		binary.BigEndian.PutUint16(h[24+2*i:], v)
	}
	copy(h[36:], "acsp")
	copy(h[68:], fixedNumbers("", illuminant[:]...)[4:])
	return h
}

// fixedNumbers is an element of s15Fixed16 numbers: signed, with 16 bits after the point (4.6).
func fixedNumbers(kind string, list ...float64) []byte {
	out := append([]byte(kind), 0, 0, 0, 0)
	for _, v := range list {
		out = binary.BigEndian.AppendUint32(out, uint32(int32(math.Round(v*65536))))
	}
	return out
}

// curve is the transfer function as a parametric curve of type 3 (10.18).
func curve() []byte {
	numbers := fixedNumbers("", srgbCurve...)[4:]
	return append([]byte{'p', 'a', 'r', 'a', 0, 0, 0, 0, 0, 3, 0, 0}, numbers...)
}

// localised is a text in English (10.15).
func localised(text string) []byte {
	out := append([]byte("mluc"), 0, 0, 0, 0)
	for _, v := range []uint32{1, 12} { // one record of twelve bytes
		out = binary.BigEndian.AppendUint32(out, v)
	}
	out = append(out, "enUS"...)
	for _, v := range []uint32{uint32(2 * len(text)), 28} {
		out = binary.BigEndian.AppendUint32(out, v)
	}
	for _, r := range text {
		out = binary.BigEndian.AppendUint16(out, uint16(r))
	}
	return out
}
