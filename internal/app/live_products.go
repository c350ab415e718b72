package app

import (
	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// Products is what a plan can name: the products of its practice, its own
// build-ups, and the values of the practice that it may change.
type Products struct {
	Practice   string                 `json:"practice"`
	BuildUps   []BuildUpBrief         `json:"buildups"`
	Boards     []catalogue.Board      `json:"boards"`
	Profiles   []catalogue.Profile    `json:"profiles"`
	Insulation []catalogue.Insulation `json:"insulation"`
	Rules      []catalogue.NamedRule  `json:"rules"`
	Fixtures   []catalogue.Fixture    `json:"fixtures"` // how high and by what things hang
}

// BuildUpBrief is a build-up in a list.
type BuildUpBrief struct {
	ID        string          `json:"id"`
	Name      string          `json:"name"`
	Thickness quantity.Length `json:"thickness"` // 0 where it cannot be made
}

// Products lists what the plan can name.
func (s *State) Products() Products {
	p := ProductsOf(s.job.Catalogue, s.job.Practice)
	for i := range s.job.Plan.BuildUps {
		p.BuildUps = append(p.BuildUps, briefBuildUp(s.job.Plan.BuildUps[i], s.job.Catalogue, s.job.Practice))
	}
	return p
}

func briefBuildUp(spec plan.BuildUp, cat *catalogue.Catalogue, pr *catalogue.Practice) BuildUpBrief {
	b := BuildUpBrief{ID: spec.ID, Name: spec.Name}
	if made, _ := buildup.Make(spec, cat, pr); made != nil {
		b.Thickness = made.Thickness
	}
	return b
}

// ProductsOf lists what plans of a practice can name.
func ProductsOf(cat *catalogue.Catalogue, pr *catalogue.Practice) Products {
	own := cat.For(pr)
	return Products{pr.ID, []BuildUpBrief{}, own.Boards, own.Profiles, own.Insulation, pr.Rules(), pr.Fixtures.Value}
}

// ShippedProducts lists what plans of the usual practice can name.
func ShippedProducts() Products {
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID(DefaultPractice) // it ships
	return ProductsOf(cat, pr)
}
