// Package masonry holds a plan's partitions beside block walls, plastered on both
// faces, that meet the same demands: mass on the slab, floor area, hours, and cost
// where the user gives prices. It takes laid-out walls and the catalogue's block
// walls and gives figures with their derivations.
//
// Of the block walls that meet a wall's fire and sound demand the thinnest is
// taken. Sound is reckoned by the mass law of EN 12354-1, annex B (from memory),
// which holds from 150 kg/m² on; fire classes are the catalogue's. Height, doors
// and what hangs on walls are not compared. Linings and shaft walls are left out:
// they stand before something else.
package masonry

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/price"
	"nogging/internal/proof/sound/en12354_1"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
)

// Input is one wall with what it is made of.
type Input struct {
	Spec  *plan.Wall
	Laid  *layout.Wall
	Build *buildup.BuildUp
}

// Wall is one partition beside the block wall that does the same.
type Wall struct {
	ID        string             `json:"wall"`
	Block     string             `json:"block,omitempty"` // id in the catalogue; none where nothing is known that does the same
	Missing   string             `json:"missing,omitempty"`
	Length    float64            `json:"length"`    // m
	Area      float64            `json:"area"`      // m², without openings
	Thickness [2]quantity.Length `json:"thickness"` // partition, block wall
	Mass      [2]quantity.Mass   `json:"mass"`      // kg, of the partition and of the block wall
	Hours     [2]float64         `json:"hours"`     // likewise
	Cost      [2]float64         `json:"cost"`      // likewise, in the currency of the prices
}

// Comparison is all partitions that can be compared. Figures has the totals, each
// with its derivation: what the partitions have, what block walls would have.
type Comparison struct {
	Walls    []Wall   `json:"walls"`
	Compared int      `json:"compared"`
	Figures  []Figure `json:"figures"`
	Missing  []string `json:"missing,omitempty"`
	Note     string   `json:"note"`
}

// Amount writes a total to three significant digits.
func Amount(v float64) string {
	d := quantity.Derivation{Value: v}
	return d.Figure()
}

// Saved returns the part of the block walls' total that the partitions save.
func (f *Figure) Saved() float64 {
	if f.Block.Value == 0 {
		return 0
	}
	return 1 - f.Partition.Value/f.Block.Value
}

// Figure is one total of the partitions beside that of block walls.
type Figure struct {
	Name      string              `json:"name"`
	Partition quantity.Derivation `json:"partition"`
	Block     quantity.Derivation `json:"block"`
}

// note stands beside every comparison.
const note = "For a first judgement only: block walls are not designed here. Height, doors, finishes beyond plaster and what hangs on walls are not compared."

// Compare holds walls beside block walls.
func Compare(walls []Input, cat *catalogue.Catalogue, pr *catalogue.Practice) Comparison {
	c := comparer{cat: cat, pr: pr, out: Comparison{Note: note}, unpriced: map[string]bool{}}
	for _, w := range walls {
		if !w.Build.Kind.OneSided() {
			c.wall(w)
		}
	}
	c.sum()
	return c.out
}

// comparer collects a comparison.
type comparer struct {
	cat      *catalogue.Catalogue
	pr       *catalogue.Practice
	out      Comparison
	unpriced map[string]bool
}

func (c *comparer) wall(in Input) {
	w := Wall{ID: in.Laid.ID, Length: in.Laid.Line.Length().Metres()}
	w.Thickness[0] = in.Build.Thickness
	lines := takeoff.OfWall(in.Laid, c.cat, c.pr)
	for _, l := range lines {
		w.Mass[0] += quantity.Mass(l.Mass)
		if l.Group == takeoff.Walls && l.Code == in.Laid.BuildUp+" net" {
			w.Area += l.Quantity
		}
		w.Cost[0] += c.material(l)
	}
	work := price.WorkOn(in.Laid, lines, c.cat, false, paint)
	w.Hours[0] = work.Hours()
	w.Cost[0] += c.labour(w.Hours[0])
	block, why := c.block(in.Spec.Require)
	if block == nil {
		w.Missing = why
	} else {
		w.Block, w.Thickness[1] = block.ID, block.Thickness()
		w.Mass[1] = quantity.Mass(w.Area * block.Mass())
		w.Hours[1] = w.Area * block.Hours.Value
		w.Cost[1] = w.Area*c.price(block.ID) + c.labour(w.Hours[1])
	}
	c.out.Walls = append(c.out.Walls, w)
}

// paint reports whether a product is paint, which both walls need.
func paint(p *catalogue.Product) bool { return p.ID == catalogue.PaintID }

// material prices a line of the take-off of boards, profiles or fill.
func (c *comparer) material(l takeoff.Line) float64 {
	switch l.Group {
	case takeoff.Boards, takeoff.Profiles, takeoff.Insulation:
		if l.Unit == takeoff.Pieces {
			return 0
		}
		return l.Quantity * c.price(l.Code)
	}
	return 0
}

func (c *comparer) labour(hours float64) float64 { return hours * c.price(catalogue.LabourPrice) }

// price returns the user's price, and notes where there is none.
func (c *comparer) price(id string) float64 {
	p, ok := c.cat.PriceOf(id)
	if !ok {
		c.unpriced[id] = true
	}
	return p
}

// block returns the thinnest block wall that meets what is asked; of equals the
// lightest.
func (c *comparer) block(asked plan.Requirements) (*catalogue.Masonry, string) {
	var best *catalogue.Masonry
	why := "the catalogue has no block walls"
	for i := range c.cat.Masonry {
		m := &c.cat.Masonry[i]
		if reason := short(m, asked); reason != "" {
			why = reason
			continue
		}
		if best == nil || cmp.Or(cmp.Compare(m.Thickness(), best.Thickness()), cmp.Compare(m.Mass(), best.Mass())) < 0 {
			best = m
		}
	}
	return best, why
}

// leastMass is the mass from which the mass law of EN 12354-1 holds.
const leastMass = 150

// short says what a block wall lacks of what is asked, or nothing.
func short(m *catalogue.Masonry, asked plan.Requirements) string {
	if asked.Fire != "" {
		want, err := plan.ParseFire(asked.Fire)
		if err != nil {
			return err.Error()
		}
		if has, err := plan.ParseFire(m.Fire.Value); err != nil || !sameMinutes(has, want) {
			return "no block wall of the catalogue has " + asked.Fire
		}
	}
	if asked.Sound == "" {
		return ""
	}
	want, err := quantity.ParseSound(asked.Sound)
	switch {
	case err != nil:
		return err.Error()
	case want.Descriptor != quantity.LabRw || want.Term != "":
		return "block walls are compared by Rw only, and " + asked.Sound + " is asked"
	case m.Mass() < leastMass || math.Floor(float64(Rw(m))) < float64(want.Value):
		return "no block wall of the catalogue reaches " + asked.Sound
	}
	return ""
}

// sameMinutes reports whether a block wall resists fire as long as is asked: only
// the duration is compared, whatever the scheme.
func sameMinutes(has, asked plan.FireClass) bool { return has.Minutes >= asked.Minutes }

// Rw returns the sound insulation of a block wall by its mass.
func Rw(m *catalogue.Masonry) quantity.Decibel {
	return en12354_1.Homogeneous(quantity.MassPerArea(m.Mass()))
}

// sum adds up the walls that can be compared.
func (c *comparer) sum() {
	var mass, area, hours, cost [2]float64
	for _, w := range c.out.Walls {
		if w.Block == "" {
			c.out.Missing = append(c.out.Missing, w.ID+": "+w.Missing)
			continue
		}
		c.out.Compared++
		for k := range mass {
			mass[k] += float64(w.Mass[k])
			area[k] += w.Length * w.Thickness[k].Metres()
			hours[k] += w.Hours[k]
			cost[k] += w.Cost[k]
		}
	}
	if c.out.Compared == 0 {
		return
	}
	c.add("mass on the slabs", "kg", "take-off, without compound and finishes", "net area x mass of blocks and plaster", mass, quantity.Derived)
	c.add("floor area taken", "m²", "length x finished thickness", "length x thickness of blocks and plaster", area, quantity.Derived)
	c.add("labour", "h", "the steps of the work by the catalogue's norms, without paint", "net area x hours of laying and plastering", hours, quantity.Memory)
	if unpriced := keys(c.unpriced); len(unpriced) > 0 {
		c.out.Missing = append(c.out.Missing, fmt.Sprintf("cost: no price of %s in a catalogue of your own (prices)", shortened(unpriced)))
		return
	}
	c.add("cost", "in the currency of the prices", "materials of the take-off and labour", "net area x price, and labour", cost, quantity.Entered)
}

func (c *comparer) add(name, unit, of, block string, value [2]float64, status quantity.Status) {
	c.out.Figures = append(c.out.Figures, Figure{
		Name:      name,
		Partition: quantity.Derivation{Name: name + ", partitions", Value: value[0], Unit: unit, Method: of, Status: status},
		Block:     quantity.Derivation{Name: name + ", block walls", Value: value[1], Unit: unit, Method: block, Status: status, Note: note},
	})
}

func keys(set map[string]bool) []string {
	var list []string
	for k := range set {
		list = append(list, k)
	}
	slices.Sort(list)
	return list
}

// shortened writes the first few of a list and how many more there are.
func shortened(list []string) string {
	const most = 4
	if len(list) <= most {
		return strings.Join(list, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(list[:most], ", "), len(list)-most)
}
