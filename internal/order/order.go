// Package order turns a take-off into what is bought: whole packs of each product
// in each stock size, with the waste that they allow for, their mass and volume,
// and what is left over.
//
// It takes a plan with its layout and take-off, and, where there is one, what a
// cutting plan says has to be bought; elsewhere waste is a percentage of the
// practice. It gives the order of the whole project and its parts: one call-off for
// each zone, which is a level or a part of one, in the order of the plan. Packs are
// rounded up as deliveries add up, so that what is left of one is used in the next:
// the call-offs sum to the order exactly, and no product is rounded up twice.
package order

import (
	"cmp"
	"math"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/cut/together"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
	"nogging/internal/words"
)

// Length is a length of stock.
type Length = quantity.Length

// Input is what an order is made of.
type Input struct {
	Plan      *plan.Plan
	Layout    *layout.Project
	Takeoff   *takeoff.Project
	Catalogue *catalogue.Catalogue
	Practice  *catalogue.Practice
	Cuts      []Cut    // what cutting plans say; products and zones without one take the practice's percentages
	Sequence  []string // zones in the order in which they are built; that of the plan if left out
}

// Cut is what a cutting plan says has to be bought of one product, in one stock
// size, for one zone.
type Cut struct {
	Zone    string
	Product string
	Stock   Size
	Count   int     // of bars or boards
	Net     float64 // that the parts take, in the product's unit (m or m²)
	Kept    float64 // in offcuts that later zones use, in the same unit
	Reused  float64 // in offcuts of earlier zones, in the same unit
	Method  string  // how it was found, with its bound
}

// Size is the size in which something is stocked. Width is 0 for bars; both are 0
// for what has no size.
type Size struct {
	Length Length `json:"length,omitempty"`
	Width  Length `json:"width,omitempty"`
}

// String gives the size in millimetres, as in "1200 x 2500"; nothing for no size.
func (s Size) String() string {
	switch {
	case s.Length == 0:
		return ""
	case s.Width == 0:
		return s.Length.String()
	}
	return s.Width.String() + " x " + s.Length.String()
}

// Line is one product in one stock size. Net, Gross, PerPack, Bought and Surplus
// are in Unit.
type Line struct {
	Group   takeoff.Group `json:"group"`
	Product string        `json:"product"`
	Name    string        `json:"name"`
	Size    Size          `json:"size,omitzero"`
	Unit    string        `json:"unit"`
	Net     float64       `json:"net"`       // measured
	Gross   float64       `json:"gross"`     // with waste
	Rule    string        `json:"waste"`     // how the waste was found
	Pack    string        `json:"pack"`      // what one pack is called
	Amount  float64       `json:"amount"`    // in one pack, in the pack's own unit
	In      string        `json:"amount_in"` // that unit
	PerPack float64       `json:"per_pack"`  // in the line's unit
	Packs   int           `json:"packs"`
	Bought  float64       `json:"bought"`  // in the line's unit
	Surplus float64       `json:"surplus"` // left over when all is built; in call-offs what is left after this one
	Pallets int           `json:"pallets,omitempty"`
	Mass    float64       `json:"mass,omitempty"`   // kg, of what is bought; 0 where it is not known
	Volume  float64       `json:"volume,omitempty"` // m³, as above

	built, waste float64 // kg, of Net and of Gross beyond it
}

// Pieces returns how many single bars, boards, boxes … the packs hold, where packs
// are counted in pieces.
func (l *Line) Pieces() float64 {
	if l.In != takeoff.Pieces {
		return 0
	}
	return float64(l.Packs) * l.Amount
}

// Key is what makes lines of different zones one line of the order.
type Key struct {
	Product string
	Size    Size
}

// Key returns the line's key.
func (l *Line) Key() Key { return Key{l.Product, l.Size} }

// Zone is what is called off for one zone.
type Zone struct {
	ID      string   `json:"zone"` // the level's id, or that and the zone's name
	Level   string   `json:"level"`
	Walls   []string `json:"walls"`
	Lines   []Line   `json:"lines"`
	Mass    float64  `json:"mass"`   // kg, of the lines whose mass is known
	Volume  float64  `json:"volume"` // m³, likewise
	Pallets int      `json:"pallets"`
	Stacks  []Stack  `json:"stacks,omitempty"`
}

// Order is the order of a project.
type Order struct {
	Lines    []Line            `json:"lines"`
	Zones    []Zone            `json:"call_offs"`
	Mass     float64           `json:"mass"`   // kg
	Volume   float64           `json:"volume"` // m³
	Pallets  int               `json:"pallets"`
	Carbon   Carbon            `json:"carbon"`
	Waste    []Stream          `json:"waste_streams"`
	Saved    []together.Saving `json:"boards_saved,omitempty"` // where walls were laid out so that fewest boards are bought
	Findings finding.List      `json:"findings,omitempty"`
}

// ZoneOf names the zone of a wall.
func ZoneOf(w *plan.Wall) string {
	if w.Zone == "" {
		return w.Level
	}
	return w.Level + " " + w.Zone
}

// ZoneOrder lists the zones of a plan in the order in which they are built: first the
// ones of a sequence, where one is known, then by level, and on a level as their walls
// stand in the plan.
func ZoneOrder(p *plan.Plan, sequence ...string) []string {
	list := slices.Clone(sequence)
	for i := range p.Levels {
		for k := range p.Walls {
			if w := &p.Walls[k]; w.Level == p.Levels[i].ID && !slices.Contains(list, ZoneOf(w)) {
				list = append(list, ZoneOf(w))
			}
		}
	}
	return list
}

// Of makes the order of a laid-out and measured plan.
func Of(in Input) *Order {
	m := &maker{Input: in, bought: map[Key]*running{}, open: map[string]bool{}}
	o := &Order{}
	for _, z := range m.zones() {
		o.Zones = append(o.Zones, m.callOff(z))
	}
	o.fold()
	m.impact(o)
	m.tell(o)
	m.tellStacks(o)
	return o
}

// maker makes one order.
type maker struct {
	Input
	bought map[Key]*running // so far, over the zones
	open   map[string]bool  // products that no pack is known of
	noMass []string         // products whose mass is not known
	rated  bool             // some waste is a percentage
}

// running is what the zones so far need and buy of something.
type running struct {
	gross, required, bought float64
	packs, pallets          int
}

// zoneWalls is a zone with its walls.
type zoneWalls struct {
	id, level string
	laid      []*layout.Wall
	lines     [][]takeoff.Line
}

// zones parts the walls into zones, in the order in which they are built, or in which
// levels, and zones of a level, stand in the plan.
func (m *maker) zones() []*zoneWalls {
	specs := map[string]*plan.Wall{}
	for i := range m.Plan.Walls {
		if w := &m.Plan.Walls[i]; specs[w.ID] == nil {
			specs[w.ID] = w
		}
	}
	var list []*zoneWalls
	at := map[string]*zoneWalls{}
	for i, w := range m.Layout.Walls {
		id := w.Level
		if spec := specs[w.ID]; spec != nil {
			id = ZoneOf(spec)
		}
		z := at[id]
		if z == nil {
			z = &zoneWalls{id: id, level: w.Level}
			at[id] = z
			list = append(list, z)
		}
		z.laid = append(z.laid, w)
		z.lines = append(z.lines, m.Takeoff.Walls[i].Lines)
	}
	order := ZoneOrder(m.Plan, m.Sequence...)
	slices.SortStableFunc(list, func(a, b *zoneWalls) int { return cmp.Compare(slices.Index(order, a.id), slices.Index(order, b.id)) })
	return list
}

// callOff makes the call-off of a zone.
func (m *maker) callOff(z *zoneWalls) Zone {
	out := Zone{ID: z.id, Level: z.level}
	for _, w := range z.laid {
		out.Walls = append(out.Walls, w.ID)
	}
	for _, n := range m.needs(z) {
		out.Lines = append(out.Lines, m.line(n))
	}
	sortLines(out.Lines)
	out.Mass, out.Volume, out.Pallets = sums(out.Lines)
	out.Stacks = m.stacks(&out)
	return out
}

// line turns a need into packs, given what earlier zones have left.
func (m *maker) line(n need) Line {
	p := n.product
	l := Line{Group: n.group, Product: p.ID, Name: p.Name, Size: n.size, Unit: p.Unit, Net: n.net, Gross: n.gross, Rule: n.rule}
	pack, ok := m.Catalogue.PackOf(&p)
	if !ok {
		m.open[p.ID] = true
		pack = &catalogue.Pack{Name: p.Unit, Amount: 1, Unit: p.Unit}
	}
	l.Pack, l.Amount, l.In, l.PerPack = pack.Name, pack.Amount, pack.Unit, perPack(&p, n.size, pack)
	r := m.bought[l.Key()]
	if r == nil {
		r = &running{}
		m.bought[l.Key()] = r
	}
	r.gross += n.gross
	r.required += n.required
	packs := max(roundUp(r.required/l.PerPack), r.packs)
	l.Packs, r.packs = packs-r.packs, packs
	l.Bought = float64(l.Packs) * l.PerPack
	r.bought += l.Bought
	l.Surplus = r.bought - r.gross
	if pack.Pallet > 0 {
		pallets := roundUp(float64(packs) / float64(pack.Pallet))
		l.Pallets, r.pallets = pallets-r.pallets, pallets
	}
	perUnit := p.Mass
	if perUnit == 0 {
		perUnit = pack.Mass / l.PerPack
	}
	if perUnit == 0 && !slices.Contains(m.noMass, p.Name) {
		m.noMass = append(m.noMass, p.Name)
	}
	l.Mass, l.built, l.waste = perUnit*l.Bought, perUnit*l.Net, perUnit*(l.Gross-l.Net)
	l.Volume = l.Bought * section(&p)
	return l
}

// perPack returns what one pack holds in the product's unit.
func perPack(p *catalogue.Product, s Size, pack *catalogue.Pack) float64 {
	if pack.Unit == p.Unit {
		return pack.Amount
	}
	switch p.Unit { // a pack counted in pieces
	case takeoff.Metre:
		return pack.Amount * s.Length.Metres()
	case takeoff.SquareMetre:
		return pack.Amount * s.Length.Metres() * s.Width.Metres()
	}
	return pack.Amount
}

// section returns the volume of one unit of a product in m³, where its sizes give
// it: profiles by the rectangle about them.
func section(p *catalogue.Product) float64 {
	switch p.Unit {
	case takeoff.SquareMetre:
		return p.Size.Metres()
	case takeoff.Metre:
		return p.Width.Metres() * p.Depth.Metres()
	}
	return 0
}

// roundUp rounds up to a whole number; what exceeds one by less than a millionth
// is an error of reckoning.
func roundUp(v float64) int { return int(math.Ceil(v - 1e-6)) }

// fold sums the call-offs into the order.
func (o *Order) fold() {
	at := map[Key]int{}
	for _, z := range o.Zones {
		for _, l := range z.Lines {
			i, ok := at[l.Key()]
			if !ok {
				at[l.Key()] = len(o.Lines)
				o.Lines = append(o.Lines, l)
				continue
			}
			t := &o.Lines[i]
			if t.Rule != l.Rule {
				t.Rule = "as the call-offs say"
			}
			t.Net += l.Net
			t.Gross += l.Gross
			t.Packs += l.Packs
			t.Bought += l.Bought
			t.Pallets += l.Pallets
			t.Mass += l.Mass
			t.Volume += l.Volume
			t.built += l.built
			t.waste += l.waste
		}
	}
	for i := range o.Lines {
		o.Lines[i].Surplus = o.Lines[i].Bought - o.Lines[i].Gross
	}
	sortLines(o.Lines)
	o.Mass, o.Volume, o.Pallets = sums(o.Lines)
}

func sums(lines []Line) (mass, volume float64, pallets int) {
	for i := range lines {
		mass += lines[i].Mass
		volume += lines[i].Volume
		pallets += lines[i].Pallets
	}
	return mass, volume, pallets
}

func sortLines(lines []Line) {
	slices.SortFunc(lines, func(a, b Line) int {
		return cmp.Or(
			cmp.Compare(slices.Index(takeoff.Groups(), a.Group), slices.Index(takeoff.Groups(), b.Group)),
			cmp.Compare(a.Product, b.Product), cmp.Compare(a.Size.Length, b.Size.Length), cmp.Compare(a.Size.Width, b.Size.Width),
		)
	})
}

// tell says what was assumed and what is not known.
func (m *maker) tell(o *Order) {
	for _, id := range sorted(m.open) {
		o.Findings.Add(finding.Finding{Code: "pack-unknown", Severity: finding.Assumed, Object: id,
			What: "nothing says in which packs it is sold; single units are taken", Fix: words.F("add to a catalogue of your own: packs: [{id: %s, name: box, of: [%s], amount: 100, unit: pcs}]", id, id)})
	}
	if m.rated {
		o.Findings.Add(finding.Finding{Code: "waste-assumed", Severity: finding.Assumed,
			What: "where no cutting plan is made, waste is a percentage of the practice; each line names its rule",
			Fix:  "override waste_boards, waste_profiles, waste_insulation, waste_compounds or waste_screws by your own"})
	}
	if len(m.noMass) > 0 {
		slices.Sort(m.noMass)
		o.Findings.Add(finding.Finding{Code: "mass-unknown", Severity: finding.Note,
			What: words.F("masses are without: %s", joined(m.noMass)), Fix: "give the mass of a pack in a catalogue of your own"})
	}
}
