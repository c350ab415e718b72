package variation

import (
	"fmt"
	"slices"

	"nogging/internal/finding"
	"nogging/internal/quantity"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// Done is what was delivered and cut before the plan changed.
type Done struct {
	Delivered []Delivered `json:"delivered,omitempty"`
	Cut       []Cut       `json:"cut,omitempty"`
}

// Delivered is packs of a product on site.
type Delivered struct {
	Product string          `json:"product"`
	Length  quantity.Length `json:"length,omitempty"` // of bars and boards, where the order has several
	Packs   int             `json:"packs"`
}

// Cut is parts of a wall that were cut; all of them where none is named.
type Cut struct {
	Wall  string   `json:"wall"`
	Parts []string `json:"parts,omitempty"` // marks, as on the wall's sheets
}

// of picks the parts out of a wall's; unknown lists marks that it does not have.
func (x *Cut) of(parts []part) (list []part, unknown []string) {
	if len(x.Parts) == 0 {
		return parts, nil
	}
	for _, mark := range x.Parts {
		i := slices.IndexFunc(parts, func(p part) bool { return p.mark == mark })
		if i < 0 {
			unknown = append(unknown, mark)
			continue
		}
		list = append(list, parts[i])
	}
	return list, unknown
}

// ReadDone reads the file of what was done so far. The places are for the findings
// of a report that it is used in.
func ReadDone(file string, data []byte) (*Done, yamlfile.Places, finding.List) {
	d := &Done{}
	places, found := yamlfile.Decode(file, data, d)
	var wrong finding.List
	for i, x := range d.Delivered {
		if x.Packs < 1 {
			wrong.Add(finding.Finding{Code: "delivered-wrong", Severity: finding.Error, Object: x.Product, Path: fmt.Sprintf("delivered[%d].packs", i),
				What: words.F("%d packs cannot have been delivered", x.Packs), Fix: "write how many packs came, 1 or more"})
		}
	}
	places.Fill(wrong)
	found = append(found, wrong...)
	found.Sort()
	return d, places, found
}
