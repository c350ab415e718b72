// Package floorload says what a wall lays on the floor that carries it: its
// mass per area and per metre, the equivalent load over the floor by
// EN 1991-1-1:2002 6.3.1.2(8), and the boards that lie stacked on the floor
// before they are fixed.
//
// It takes a laid-out wall and the catalogue's masses, and gives checks against
// what the plan says that the floor carries. Masses are those of what is built
// in: profiles, boards, fill and door leaves; screws, compound and finishes are
// not counted.
package floorload

import (
	"fmt"
	"math"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/proof/floorload/en1991_1_1"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
	"nogging/internal/words"
)

// Masses is what a wall weighs.
type Masses struct {
	Parts    []Part                // by what it is made of
	Total    quantity.Mass         // with door leaves
	PerArea  quantity.MassPerArea  // of the wall's face with openings
	PerMetre quantity.MassPerMetre // of its length
	Length   float64               // m
	Area     float64               // m²
}

// Part is the mass of one product, or of the door leaves, in a wall.
type Part struct {
	Name string
	Mass quantity.Mass
}

// MassesOf weighs a wall. The second result lists products without a mass in
// the catalogue; the sums are without them.
func MassesOf(w *layout.Wall, cat *catalogue.Catalogue, pr *catalogue.Practice) (Masses, []string) {
	var m Masses
	var missing []string
	for _, l := range takeoff.OfWall(w, cat, pr) {
		switch {
		case l.Group == takeoff.Walls && l.Unit == takeoff.Metre:
			m.Length += l.Quantity
		case l.Group == takeoff.Walls && l.Code == w.BuildUp+" gross":
			m.Area += l.Quantity
		case l.Mass > 0:
			m.add(l.Name, quantity.Mass(l.Mass))
		case slices.Contains([]takeoff.Group{takeoff.Profiles, takeoff.Boards, takeoff.Insulation}, l.Group) && l.Quantity > 0:
			missing = append(missing, fmt.Sprintf("the catalogue has no mass of %s", l.Name))
		}
	}
	var leaves quantity.Mass
	for _, o := range w.Openings {
		leaves += quantity.Mass(o.LeafMass)
	}
	if leaves > 0 {
		m.add("door leaves", leaves)
	}
	if m.Area > 0 && m.Length > 0 {
		m.PerArea = quantity.MassPerArea(float64(m.Total) / m.Area)
		m.PerMetre = quantity.MassPerMetre(float64(m.Total) / m.Length)
	}
	return m, missing
}

func (m *Masses) add(name string, mass quantity.Mass) {
	m.Parts = append(m.Parts, Part{name, mass})
	m.Total += mass
}

// derivation shows the mass per metre down to the masses of the products.
func (m *Masses) derivation(cat *catalogue.Catalogue) quantity.Derivation {
	total := quantity.Derivation{Name: "mass", Symbol: "m", Value: float64(m.Total), Unit: "kg", Method: "sum over what is built in, from the take-off", Status: quantity.Derived}
	for _, p := range m.Parts {
		source, status := origin(p.Name, cat)
		total.From = append(total.From, quantity.Derivation{Name: p.Name, Value: float64(p.Mass), Unit: "kg", Source: source, Status: status})
	}
	length := quantity.Derivation{Name: "length of the wall", Symbol: "l", Value: m.Length, Unit: "m", Status: quantity.Derived, Method: "from the layout"}
	return quantity.Derivation{Name: "mass per metre", Value: float64(m.PerMetre), Unit: "kg/m", Method: "m/l", Status: quantity.Derived,
		Note: "without screws, compound and finishes", From: []quantity.Derivation{total, length}}
}

// origin returns where the mass of a product comes from.
func origin(name string, cat *catalogue.Catalogue) (string, quantity.Status) {
	for i := range cat.Profiles {
		if p := &cat.Profiles[i]; p.Name == name {
			return p.Source, p.Status
		}
	}
	for i := range cat.Boards {
		if b := &cat.Boards[i]; b.Name == name {
			return b.Source, b.Status
		}
	}
	for i := range cat.Insulation {
		if n := &cat.Insulation[i]; n.Name == name {
			return n.Source, n.Status
		}
	}
	return "", quantity.Entered // door leaves
}

// Prove checks one wall against what its level's floor carries.
func Prove(w *layout.Wall, level *plan.Level, cat *catalogue.Catalogue, pr *catalogue.Practice) []proof.Check {
	m, missing := MassesOf(w, cat, pr)
	if m.Length <= 0 {
		missing = append(missing, "the wall has no frame to measure")
	}
	return []proof.Check{m.perArea(missing), m.equivalent(level, cat, missing), stacks(w, level, cat)}
}

func (m *Masses) perArea(missing []string) proof.Check {
	c := proof.Check{Need: proof.FloorLoad, Name: "mass of the wall per area", Verdict: proof.Shown, Missing: missing}
	if len(missing) > 0 {
		c.Verdict = proof.NotProven
		return c
	}
	c.Got = &quantity.Derivation{Name: "mass per area with openings", Value: float64(m.PerArea), Unit: "kg/m²", Method: "m/A", Status: quantity.Derived, Note: "without screws, compound and finishes",
		From: []quantity.Derivation{{Name: "mass", Symbol: "m", Value: float64(m.Total), Unit: "kg", Status: quantity.Derived, Method: "take-off"}, {Name: "area of a face with openings", Symbol: "A", Value: m.Area, Unit: "m²", Status: quantity.Derived, Method: "from the layout"}}}
	return c
}

// equivalent checks the equivalent load against what the floor's design allows
// for partitions.
func (m *Masses) equivalent(level *plan.Level, cat *catalogue.Catalogue, missing []string) proof.Check {
	c := proof.Check{Need: proof.FloorLoad, Name: "weight on the floor", Verdict: proof.Shown, Missing: missing}
	if len(missing) > 0 {
		c.Verdict = proof.NotProven
		return c
	}
	weight := quantity.LineLoad(float64(m.PerMetre) * quantity.Gravity)
	line := quantity.Derivation{Name: "weight per metre", Symbol: "g", Value: round3(float64(weight) / 1000), Unit: "kN/m", Method: "mass per metre × 9.80665 m/s²", Status: quantity.Derived,
		From: []quantity.Derivation{m.derivation(cat)}}
	class, ok := en1991_1_1.ClassOf(weight)
	if !ok {
		c.Verdict, c.Got = proof.NotProven, &line
		c.Missing = []string{"above 3 kN/m no equivalent load over the floor is given (EN 1991-1-1 6.3.1.2); the floor's design has to take this wall where it stands"}
		c.Advice = "take a lighter build-up, or ask the floor's designer"
		return c
	}
	c.Got = &quantity.Derivation{Name: "equivalent load over the floor", Symbol: "qk", Value: float64(class.Floor) / 1000, Unit: "kN/m²", Method: fmt.Sprintf("walls up to %g kN/m", float64(class.Wall)/1000),
		Source: "EN 1991-1-1:2002 6.3.1.2(8)", Status: quantity.Memory, Note: "for a floor that spreads loads sideways", From: []quantity.Derivation{line}}
	if level.Partitions > 0 {
		c.Asked = fmt.Sprintf("up to %g kN/m² for partitions", level.Partitions)
		c.Use = float64(class.Floor) / 1000 / level.Partitions
		c.Verdict = verdict(c.Use)
		if c.Verdict == proof.Fails {
			c.Advice = "take a lighter build-up, or ask the floor's designer whether the floor carries it"
		}
	}
	return c
}

func verdict(use float64) proof.Verdict {
	if use <= 1 {
		return proof.Passes
	}
	return proof.Fails
}

func round3(v float64) float64 { return math.Round(v*1000) / 1000 }

// stacks checks the wall's boards, stacked on the floor in one pile of each
// kind, against the imposed load that the floor carries.
func stacks(w *layout.Wall, level *plan.Level, cat *catalogue.Catalogue) proof.Check {
	c := proof.Check{Need: proof.FloorLoad, Name: "boards stacked on the floor", Verdict: proof.Shown}
	heaviest, count := heaviestStack(w, cat)
	if heaviest == nil {
		c.Verdict, c.Missing = proof.NotProven, []string{"the wall has no boards whose mass is known"}
		return c
	}
	one := quantity.MassPerArea(heaviest.Mass)
	load := Stack{one, count}.Pressure()
	c.Got = &quantity.Derivation{Name: "load under a stack of all boards of one kind", Value: round3(float64(load) / 1000), Unit: "kN/m²", Method: "boards × mass per area × 9.80665 m/s²", Status: quantity.Derived,
		Note: "spread over the area of a board lying flat on bearers", From: []quantity.Derivation{
			{Name: "boards " + heaviest.ID, Value: float64(count), Status: quantity.Derived, Method: "pieces of the layout"},
			{Name: "mass of " + heaviest.ID, Value: heaviest.Mass, Unit: "kg/m²", Source: heaviest.Source, Status: heaviest.Status}}}
	if level.Imposed <= 0 {
		c.Verdict = proof.NotProven
		c.Missing = []string{fmt.Sprintf("the imposed load that the floor of level %s carries", level.ID)}
		c.Advice = "write imposed: on the level, in kN/m², as the floor's designer gives it"
		return c
	}
	c.Asked = fmt.Sprintf("up to %g kN/m² on the floor", level.Imposed)
	c.Use = float64(load) / 1000 / level.Imposed
	c.Verdict = verdict(c.Use)
	if c.Verdict == proof.Fails {
		c.Advice = spreadAdvice(one, count, level.Imposed)
	}
	return c
}

// spreadAdvice says how many boards go on one stack.
func spreadAdvice(one quantity.MassPerArea, count int, imposed float64) words.Text {
	most := Most(one, quantity.Pressure(imposed*1000))
	if most < 1 {
		return "store no boards on this floor"
	}
	return words.F("stack at most %d boards of this kind on one place, %d stacks in all, or bring them up as they are fixed", most, (count+most-1)/most)
}

// heaviestStack returns the board whose pieces make the heaviest stack, and
// their number.
func heaviestStack(w *layout.Wall, cat *catalogue.Catalogue) (*catalogue.Board, int) {
	counts := map[string]int{}
	var order []string
	for _, f := range w.Faces {
		for _, l := range f.Layers {
			if counts[l.Board] == 0 && len(l.Pieces) > 0 {
				order = append(order, l.Board)
			}
			counts[l.Board] += len(l.Pieces)
		}
	}
	var best *catalogue.Board
	most := 0.0
	for _, id := range order {
		if b, ok := cat.Board(id); ok && float64(counts[id])*b.Mass > most {
			best, most = b, float64(counts[id])*b.Mass
		}
	}
	if best == nil {
		return nil, 0
	}
	return best, counts[best.ID]
}
