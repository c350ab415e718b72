package app

import (
	"context"
	"errors"
	"maps"
	"slices"

	"nogging/internal/drawing/svg"
	"nogging/internal/order"
	"nogging/internal/programme"
)

// once makes a value when it is first asked for, and keeps it. Who waits for it, or
// makes it, can give up; then the next one makes it.
type once[T any] struct {
	gate chan struct{} // holds one token while nobody makes the value
	done bool
	v    T
}

func newOnce[T any]() once[T] {
	o := once[T]{gate: make(chan struct{}, 1)}
	o.gate <- struct{}{}
	return o
}

func (o *once[T]) get(ctx context.Context, of func(context.Context) (T, error)) (T, error) {
	select {
	case <-o.gate:
	case <-ctx.Done():
		var none T
		return none, ctx.Err()
	}
	defer func() { o.gate <- struct{}{} }()
	if o.done {
		return o.v, nil
	}
	v, err := of(ctx)
	if err == nil {
		o.v, o.done = v, true
	}
	return v, err
}

// orderedJob is a job with the findings of its order, and the order.
type orderedJob struct {
	*Job
	order *order.Order
}

// own returns a copy of the judged job to which findings can be added.
func (s *State) own() *Job {
	s.judge()
	j := *s.job
	j.Findings, j.said = slices.Clone(j.Findings), maps.Clone(j.said)
	return &j
}

func (s *State) orderedJob(ctx context.Context) (*orderedJob, error) {
	return s.ordered.get(ctx, func(ctx context.Context) (*orderedJob, error) {
		j := s.own()
		o, err := j.OrderIn(ctx)
		if err != nil {
			return nil, err
		}
		return &orderedJob{j, o}, nil
	})
}

// Order returns what to buy, with cutting plans for each zone; those of zones in
// which nothing was laid out anew since another state of the same Live are taken
// from there. The error is that of ctx.
func (s *State) Order(ctx context.Context) (*order.Order, error) {
	j, err := s.orderedJob(ctx)
	if err != nil {
		return nil, err
	}
	return j.order, nil
}

// Cutting returns how the order's bars and boards are cut. The error is that of ctx.
func (s *State) Cutting(ctx context.Context) (*Cutting, error) {
	return s.cut.get(ctx, func(ctx context.Context) (*Cutting, error) {
		zones, err := s.job.cutZones(ctx)
		if err != nil {
			return nil, err
		}
		c := &Cutting{Zones: []CutZone{}}
		for _, z := range zones {
			c.Zones = append(c.Zones, CutZoneOf(z.id, z.bars, z.boards, s.job.cutOptions(), s.job.Catalogue))
		}
		return c, nil
	})
}

// CutSheets returns the drawings by which the boards of a product are cut in a zone,
// as SVG, for printing; none where nothing is cut of it there. The error is that of ctx.
func (s *State) CutSheets(ctx context.Context, zone, product string, imperial bool) ([][]byte, error) {
	zones, err := s.job.cutZones(ctx)
	if err != nil {
		return nil, err
	}
	set, err := s.set(ctx, imperial)
	if err != nil {
		return nil, err
	}
	var list [][]byte
	for _, z := range zones {
		for i := range z.boards {
			if z.id != zone || z.boards[i].Product != product {
				continue
			}
			for _, scene := range set.CutSheets(z.id, &z.boards[i], s.job.cutOptions()) {
				list = append(list, svg.Append(nil, scene))
			}
		}
	}
	return list, nil
}

// ErrNoPrices says that a project has no rates, so that nothing can be priced.
var ErrNoPrices = errors.New("the project has no rates, so nothing can be priced: give rates and price lists")

// Price prices the order, with its alternates. The error is that of ctx, ErrNoPrices,
// or says that a file could not be read.
func (s *State) Price(ctx context.Context) (*Bid, error) {
	_, b, err := s.pricedJob(ctx)
	return b, err
}

// pricedJob returns the bid with a job that has its findings.
func (s *State) pricedJob(ctx context.Context) (*Job, *Bid, error) {
	b, err := s.priced.get(ctx, func(ctx context.Context) (*pricedBid, error) {
		ordered, err := s.orderedJob(ctx)
		if err != nil {
			return nil, err
		}
		j := *ordered.Job
		j.Findings = slices.Clone(j.Findings)
		prices, err := s.prices(&j)
		if err != nil {
			return nil, err
		}
		b, err := j.PriceIn(ctx, prices, ordered.order)
		if err != nil {
			return nil, err
		}
		return &pricedBid{&j, b}, nil
	})
	if err != nil {
		return nil, nil, err
	}
	return b.Job, b.bid, nil
}

type pricedBid struct {
	*Job
	bid *Bid
}

// prices reads the files of prices and adds to the job what it finds in them.
func (s *State) prices(j *Job) (*Prices, error) {
	if s.files.Rates == "" {
		return nil, ErrNoPrices
	}
	return j.OpenPrices(s.files.Rates, s.files.Prices, s.files.Read)
}

// Programme makes the programme of works. When ctx ends, the best that was found so far
// is given.
func (s *State) Programme(ctx context.Context, w Works) *programme.Programme {
	return s.own().Programme(ctx, w)
}

// Charts draws a programme of the state.
func (s *State) Charts(p *programme.Programme) Charts { return s.job.Charts(p) }
