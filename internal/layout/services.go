package layout

// Services is what is let into a wall, hung on it, or runs through or along it.
type Services struct {
	Boxes     []Box      `json:"boxes,omitempty"`
	FireStops []FireStop `json:"fire_stops,omitempty"`
	Pipes     []Pipe     `json:"pipes,omitempty"`
	Cutouts   []Cutout   `json:"cutouts,omitempty"`
	Fixtures  []Fixture  `json:"fixtures,omitempty"`
}
