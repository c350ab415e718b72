package quantity

// Units of engineering figures. Each is a type of its own, so that a pressure
// cannot be handed to a function that takes a stress. Their unit is part of the
// type's meaning; nothing converts them by itself.
type (
	Force         float64 // N
	LineLoad      float64 // N/m
	Pressure      float64 // Pa, that is N/m²
	Stress        float64 // N/mm²
	Moment        float64 // N·m
	SecondMoment  float64 // mm⁴
	Modulus       float64 // mm³, section modulus
	SectionArea   float64 // mm²
	Mass          float64 // kg
	MassPerArea   float64 // kg/m²
	MassPerMetre  float64 // kg/m
	Density       float64 // kg/m³
	Decibel       float64 // dB
	Frequency     float64 // Hz
	Celsius       float64 // °C
	Conductivity  float64 // W/(m·K)
	Resistance    float64 // m²·K/W
	Transmittance float64 // W/(m²·K)
	Volume        float64 // m³
)

// Gravity is the standard acceleration of free fall in m/s² (ISO 80000-3).
const Gravity = 9.80665

// Weight returns the force with which a mass weighs.
func (m Mass) Weight() Force { return Force(m * Gravity) }
