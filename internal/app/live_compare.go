package app

import (
	"context"
	"errors"

	"nogging/internal/catalogue"
	"nogging/internal/price"
	"nogging/internal/variation"
)

// Comparison is what changes between two versions of a plan, with what a plan on the
// screen needs to draw both.
type Comparison struct {
	*variation.Report
	Before []WallBrief `json:"before"` // walls as they were, of those that change
	After  []WallBrief `json:"after"`  // and as they are
}

// Compare says what changes from a state before to this one: walls added, removed,
// changed and how, the effect on the order, and on the price where there are rates.
// The error is that of ctx, or says that a price file could not be read.
func (s *State) Compare(ctx context.Context, before *State) (*Comparison, error) {
	v, err := s.variation(ctx, before)
	if err != nil {
		return nil, err
	}
	c := &Comparison{Report: v.Report}
	var was, is []string
	for i := range v.Walls {
		w := &v.Walls[i]
		old := w.Was
		if old == "" {
			old = w.Wall
		}
		was, is = append(was, old), append(is, w.Wall)
	}
	c.Before, c.After = before.Briefs(was), s.Briefs(is)
	return c, nil
}

func (s *State) variation(ctx context.Context, before *State) (*Variation, error) {
	from, err := before.side(ctx)
	if err != nil {
		return nil, err
	}
	to, err := s.side(ctx)
	if err != nil {
		return nil, err
	}
	return &Variation{variation.Of(from, to, nil), before.job, s.job}, nil
}

// side gathers what is compared of the state.
func (s *State) side(ctx context.Context) (variation.Side, error) {
	o, err := s.Order(ctx)
	if err != nil {
		return variation.Side{}, err
	}
	x := variation.Side{Plan: s.job.Plan, Layout: s.job.Layout, Order: o}
	switch b, err := s.Price(ctx); {
	case err == nil:
		x.Quote, x.Work = b.Quote, b.Quote.Work
		return x, nil
	case !errors.Is(err, ErrNoPrices):
		return variation.Side{}, err
	}
	for i, w := range s.job.Layout.Walls {
		x.Work = append(x.Work, price.WorkOn(w, s.job.Takeoff.Walls[i].Lines, s.job.Catalogue, false, func(*catalogue.Product) bool { return false }))
	}
	return x, nil
}
