package programme

import (
	"cmp"
	"fmt"
	"slices"

	"nogging/internal/order"
	"nogging/internal/takeoff"
)

// CallOff is one delivery: the material of a kind for one zone, when it has to be
// there, and when it has to be called.
type CallOff struct {
	Zone     string       `json:"zone"`
	Material Material     `json:"material"`
	Use      Moment       `json:"first_use"`
	Arrive   Date         `json:"arrive"`
	Call     Date         `json:"call"`
	Week     string       `json:"week"`           // of the arrival, by ISO 8601
	Late     bool         `json:"late,omitempty"` // its day of calling is before the programme's, or today
	Mass     float64      `json:"mass"`           // kg
	Pallets  int          `json:"pallets"`
	Lines    []order.Line `json:"lines"`
}

// callOffs parts the order by zone and material, and dates each part by its first use.
// What work is recorded with has come.
func (n *network) callOffs() []CallOff {
	if n.Order == nil {
		return nil
	}
	type key struct {
		zone     string
		material Material
	}
	use, there := map[key]Moment{}, map[key]bool{}
	for i := range n.Tasks {
		t := &n.Tasks[i]
		k := key{t.Zone, materialOf(t.Stage)}
		if t.Kind == Work && t.Planned && (use[k] == 0 || t.Start < use[k]) {
			use[k] = t.Start
		}
		there[k] = there[k] || t.Done || len(t.Closed) > 0
	}
	var list []CallOff
	for _, z := range n.Order.Zones {
		for _, m := range Materials() {
			c := CallOff{Zone: z.ID, Material: m, Use: use[key{z.ID, m}]}
			for _, l := range z.Lines {
				if materialFor(l.Group) == m {
					c.Lines, c.Mass, c.Pallets = append(c.Lines, l), c.Mass+l.Mass, c.Pallets+l.Pallets
				}
			}
			if k := (key{z.ID, m}); len(c.Lines) > 0 && c.Use != 0 && !there[k] {
				n.dateCall(&c)
				list = append(list, c)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b CallOff) int { return cmp.Compare(a.Arrive, b.Arrive) })
	return list
}

// dateCall dates a delivery: settled, or some working days before its first use.
func (n *network) dateCall(c *CallOff) {
	k := n.Site.calendar(0)
	d := n.Site.Deliveries
	c.Arrive = k.back(c.Use.Date(), cmp.Or(d.Ahead, usualAhead))
	for _, a := range d.Dated {
		if a.Zone == c.Zone && a.Material == c.Material {
			c.Arrive = a.Date
		}
	}
	c.Call = k.back(c.Arrive, cmp.Or(d.Lead, usualLead))
	c.Week = c.Arrive.Week()
	c.Late = c.Call < n.begin()
}

// materialFor says with which material a group of the take-off comes.
func materialFor(g takeoff.Group) Material {
	switch g {
	case takeoff.Boards:
		return BoardMaterial
	case takeoff.Insulation:
		return FillMaterial
	case takeoff.Joints, takeoff.Treatment:
		return FinishMaterial
	}
	return FrameMaterial
}

// When says by when the delivery has to be called.
func (c *CallOff) When() string {
	if c.Late {
		return "at once"
	}
	return c.Call.Short()
}

// Title names the delivery for people.
func (c *CallOff) Title() string {
	return fmt.Sprintf("%s for %s", c.Material.name(), c.Zone)
}
