package catalogue

import (
	"fmt"

	"nogging/internal/quantity"
)

// Pack is how products are sold: so much in one pack. A row that names a
// product by its id counts before one that names its kind; of several, the last
// counts, so that a user's row counts before a shipped one.
type Pack struct {
	ID     string          `json:"id"`
	Name   string          `json:"name"`             // what one is called: board, bar, box, roll, bag …
	Of     []string        `json:"of"`               // ids, kinds, types or materials of products
	From   Length          `json:"from,omitempty"`   // only products of at least this size: thickness of boards and fills, length of screws
	Amount float64         `json:"amount"`           // in one pack
	Unit   string          `json:"unit"`             // of the amount: pcs, m, kg or l
	Mass   float64         `json:"mass,omitempty"`   // kg of one pack, where the product itself has none
	Pallet int             `json:"pallet,omitempty"` // packs on one pallet
	Source string          `json:"source,omitempty"`
	Status quantity.Status `json:"status,omitempty"`
}

func (p *Pack) key() string { return p.ID }

func (p *Pack) faults() faults {
	var f faults
	f.identity(p.ID, p.Name)
	f.unless(len(p.Of) > 0, "of", "it does not say what is sold so", "list ids or kinds of products, such as [GKB-12.5] or [screw]")
	f.amount("amount", p.Amount, "units in a pack")
	f.oneOf("unit", p.Unit, "pcs", "m", "kg", "l")
	f.unless(p.From >= 0 && p.Mass >= 0 && p.Pallet >= 0, "pallet", "from, mass and pallet cannot be below 0", "leave out what is not known")
	f.provenance("", p.Source, p.Status)
	return f
}

// String says what is in the pack.
func (p *Pack) String() string { return fmt.Sprintf("%s of %g %s", p.Name, p.Amount, p.Unit) }

// PackOf returns how a product is sold.
func (c *Catalogue) PackOf(p *Product) (*Pack, bool) {
	var best *Pack
	closest := 0
	for i := range c.Packs {
		row := &c.Packs[i]
		if n := p.is(row.Of); n > 0 && n >= closest && p.Size >= row.From {
			best, closest = row, n
		}
	}
	return best, best != nil
}
