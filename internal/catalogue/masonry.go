package catalogue

// Masonry is one block wall plastered on both faces, to hold partitions against.
type Masonry struct {
	ID       string        `json:"id"`
	Name     string        `json:"name"`
	Standard string        `json:"standard,omitempty"` // such as EN 771-2
	Block    Length        `json:"block"`              // thickness of the blocks
	Density  Rule[float64] `json:"density"`            // of the blocks with their mortar, kg/m³
	Plaster  Length        `json:"plaster"`            // on each face
	Coat     Rule[float64] `json:"coat"`               // density of the plaster, kg/m³
	Fire     Rule[string]  `json:"fire,omitzero"`      // class that the wall is listed for
	Hours    Rule[float64] `json:"hours"`              // of labour per m², laid and plastered on both faces
}

func (m *Masonry) key() string { return m.ID }

// Thickness returns the finished thickness.
func (m *Masonry) Thickness() Length { return m.Block + 2*m.Plaster }

// Mass returns the finished wall's mass in kg/m².
func (m *Masonry) Mass() float64 {
	return m.Block.Metres()*m.Density.Value + 2*m.Plaster.Metres()*m.Coat.Value
}

func (m *Masonry) faults() faults {
	var f faults
	f.identity(m.ID, m.Name)
	f.positive("block", m.Block)
	f.unless(m.Plaster >= 0 && m.Plaster <= m.Block, "plaster", m.Plaster.String()+" mm is no plaster", "write its thickness on each face")
	for _, one := range []struct {
		field string
		rule  Rule[float64]
		unit  string
	}{{"density", m.Density, "kg/m³"}, {"coat", m.Coat, "kg/m³"}, {"hours", m.Hours, "h/m²"}} {
		f.amount(one.field, one.rule.Value, one.unit)
		f.provenance(one.field+".", one.rule.Source, one.rule.Status)
	}
	if m.Fire.given() {
		f.unless(m.Fire.Value != "", "fire", "no class is given", "write it as it is listed, such as EI 90")
		f.provenance("fire.", m.Fire.Source, m.Fire.Status)
	}
	return f
}
