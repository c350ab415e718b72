package choice

import (
	"slices"

	"nogging/internal/catalogue"
)

// Result is what a demand can be met with.
type Result struct {
	Rank     Measure     // by which the winner wins
	Standing Standing    // of the build-ups below; Fails where there are none
	Front    []Candidate // build-ups that none betters in every measure, the winner first; not more than asked for
	OnFront  int         // how many there are
	Tried    int         // build-ups among which was chosen
	Priced   bool        // the user gives prices
	Near     []Near      // what would win but for one need
	Relaxed  []Relaxed   // where nothing is expected to do all that is asked: what is with one need relaxed
}

// Near is a build-up that would win if one thing were not asked.
type Near struct {
	Without string // the need
	Candidate
}

// Options say what of a choice is wanted.
type Options struct {
	Rank  Measure
	Most  int  // build-ups of the front; all if 0
	About bool // also Near and Relaxed, which take a search for each need
}

// Choose chooses among the products of the practice's standards. It returns errors
// where the demand cannot be understood.
func Choose(d Demand, cat *catalogue.Catalogue, pr *catalogue.Practice, o Options) (*Result, []error) {
	a, errs := d.read()
	if len(errs) > 0 {
		return nil, errs
	}
	cat = cat.For(pr)
	s := newSearch(newJudge(a, cat, pr))
	r := &Result{Rank: o.Rank, Standing: Fails, Tried: s.tried, Priced: s.meter.priced}
	if r.Rank == Cost && !r.Priced {
		r.Rank = Thickness
	}
	hits, standing := s.best()
	r.Standing, r.OnFront = standing, len(hits)
	order(hits, r.Rank)
	for _, h := range picked(hits, o.Most) {
		r.Front = append(r.Front, s.candidate(h))
	}
	if o.About && len(hits) > 0 {
		r.near(&s.judge, &hits[0].measures)
	}
	if o.About && standing >= Unknown {
		r.relax(d, cat, pr)
	}
	return r, nil
}

// best returns the front of the firmest standing that any build-up has.
func (s *search) best() ([]hit, Standing) {
	for limit := Proven; limit < Fails; limit++ {
		if hits := s.front(limit); len(hits) > 0 {
			return hits, limit
		}
	}
	return nil, Fails
}

// order sorts build-ups by a measure.
func order(hits []hit, rank Measure) {
	by := byMeasure(rank)
	slices.SortStableFunc(hits, func(a, b hit) int { return by(&a.measures, &b.measures) })
}

// picked returns the first of ordered build-ups, and among them the best by each
// measure.
func picked(hits []hit, most int) []hit {
	if most <= 0 || len(hits) <= most {
		return hits
	}
	take := map[int]bool{0: true}
	for k := range measures {
		best := 0
		for i := range hits {
			if hits[i].measures[k] < hits[best].measures[k] {
				best = i
			}
		}
		take[best] = true
	}
	for i := 0; len(take) < most; i++ {
		take[i] = true
	}
	var list []hit
	for i := range hits {
		if take[i] {
			list = append(list, hits[i])
		}
	}
	return list
}

// near finds what would win if one thing were not asked.
func (r *Result) near(j *judge, won *Measures) {
	for _, n := range needs {
		d := j.Demand
		if !n.drop(&d) {
			continue
		}
		a, _ := d.read()
		s := newSearch(newJudge(a, j.cat, j.pr))
		hits := s.front(r.Standing)
		order(hits, r.Rank)
		if len(hits) == 0 || hits[0].measures[r.Rank] >= won[r.Rank] {
			continue
		}
		c := s.candidate(hits[0])
		c.Needs = j.needs(c.Build)
		m := newMeter(j.cat, j.pr, j.Height)
		c.Measures = m.of(c.Build)
		r.Near = append(r.Near, Near{n.name, c})
	}
}
