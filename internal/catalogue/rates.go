package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/quantity"
)

// CarbonFactor is the greenhouse gas of making products of some standards and
// types: modules A1 to A3 of EN 15804.
type CarbonFactor struct {
	ID     string          `json:"id"`
	Name   string          `json:"name"`
	For    []string        `json:"for"`             // standards of the products, such as EN 520
	Types  []string        `json:"types,omitempty"` // of boards, or materials of fills; every type if left out
	Factor float64         `json:"factor"`          // kg of CO2 equivalent per kg of product
	Set    string          `json:"set,omitempty"`   // the data set with its edition; figures of two sets are not summed unawares
	Source string          `json:"source,omitempty"`
	Status quantity.Status `json:"status,omitempty"`
}

func (c *CarbonFactor) key() string { return c.ID }

func (c *CarbonFactor) faults() faults {
	var f faults
	f.identity(c.ID, c.Name)
	f.unless(len(c.For) > 0, "for", "it does not say of which products it tells", "list their standards, such as for: [EN 520]")
	f.unless(sound(c.Factor), "factor", fmt.Sprintf("%v is no factor", c.Factor), "write kg of CO2 equivalent per kg of product")
	f.provenance("", c.Source, c.Status)
	return f
}

// CarbonOf returns the factor of products of a standard and type: the first that
// names the type, else the first that names none.
func (c *Catalogue) CarbonOf(standard, kind string) (*CarbonFactor, bool) {
	var general *CarbonFactor
	for i := range c.Carbon {
		e := &c.Carbon[i]
		if !slices.Contains(e.For, standard) {
			continue
		}
		if slices.ContainsFunc(e.Types, func(t string) bool { return strings.EqualFold(t, kind) }) {
			return e, true
		}
		if len(e.Types) == 0 && general == nil {
			general = e
		}
	}
	return general, general != nil
}

// LabourPrice is the id under which a user prices an hour of labour.
const LabourPrice = "labour"

// Price is what the user pays: for a board or fill per m², for a profile per
// metre, for LabourPrice per hour, all in one currency. None ship.
type Price struct {
	ID     string          `json:"id"` // of the product
	Price  float64         `json:"price"`
	Source string          `json:"source,omitempty"` // offer or list, with its date
	Status quantity.Status `json:"status,omitempty"`
}

func (p *Price) key() string { return p.ID }

func (p *Price) faults() faults {
	var f faults
	f.unless(p.ID != "", "id", "it does not say what is priced", "write the id of a board, fill or profile, or "+LabourPrice)
	f.unless(sound(p.Price), "price", fmt.Sprintf("%v is no price", p.Price), "write a number from 0, per m² of boards and fill, per metre of profiles, per hour of labour")
	f.provenance("", p.Source, p.Status)
	return f
}

// PriceOf returns the user's price of a product.
func (c *Catalogue) PriceOf(id string) (float64, bool) {
	for i := range c.Prices {
		if c.Prices[i].ID == id {
			return c.Prices[i].Price, true
		}
	}
	return 0, false
}
