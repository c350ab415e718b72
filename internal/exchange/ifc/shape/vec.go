package shape

import "math"

// Vec is a point or a direction. Points are in millimetres.
type Vec struct{ X, Y, Z float64 }

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Sub returns v - w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Times returns v scaled by f.
func (v Vec) Times(f float64) Vec { return Vec{v.X * f, v.Y * f, v.Z * f} }

// Dot returns the scalar product.
func (v Vec) Dot(w Vec) float64 { return v.X*w.X + v.Y*w.Y + v.Z*w.Z }

// Cross returns the vector product.
func (v Vec) Cross(w Vec) Vec {
	return Vec{v.Y*w.Z - v.Z*w.Y, v.Z*w.X - v.X*w.Z, v.X*w.Y - v.Y*w.X}
}

// Len returns the length of v.
func (v Vec) Len() float64 { return math.Sqrt(v.Dot(v)) }

// unit returns v with length 1, or the fallback where v has none.
func (v Vec) unit(fallback Vec) Vec {
	l := v.Len()
	if !(l > 1e-12) || math.IsInf(l, 0) {
		return fallback
	}
	return v.Times(1 / l)
}

// Transform maps one frame to another: it may turn, move, scale and mirror.
type Transform struct{ X, Y, Z, O Vec }

// Identity changes nothing.
var Identity = Transform{X: Vec{X: 1}, Y: Vec{Y: 1}, Z: Vec{Z: 1}}

// Point maps a point.
func (t Transform) Point(p Vec) Vec { return t.O.Add(t.Dir(p)) }

// Dir maps a direction.
func (t Transform) Dir(d Vec) Vec {
	return t.X.Times(d.X).Add(t.Y.Times(d.Y)).Add(t.Z.Times(d.Z))
}

// After returns the map that first does s, then t.
func (t Transform) After(s Transform) Transform {
	return Transform{t.Dir(s.X), t.Dir(s.Y), t.Dir(s.Z), t.Point(s.O)}
}

// rigidInverse inverts a map that only turns and moves.
func (t Transform) rigidInverse() Transform {
	inv := Transform{
		X: Vec{t.X.X, t.Y.X, t.Z.X},
		Y: Vec{t.X.Y, t.Y.Y, t.Z.Y},
		Z: Vec{t.X.Z, t.Y.Z, t.Z.Z},
	}
	inv.O = inv.Dir(t.O).Times(-1)
	return inv
}
