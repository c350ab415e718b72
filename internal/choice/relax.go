package choice

import (
	"fmt"
	"strconv"

	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/proof/moisture/din18534_1"
	"nogging/internal/quantity"
)

// Relaxed is one need relaxed until something does all that is asked.
type Relaxed struct {
	Need  string
	Asked string // what would have to be asked instead
	Candidate
}

// need is one thing that may be asked. drop takes it out of a demand and reports
// whether it was there; milder lists what could be asked in its place, the
// nearest first, as the demand with it and the words for it.
type need struct {
	name   string
	drop   func(*Demand) bool
	milder func(Demand) []mild
}

type mild struct {
	demand Demand
	words  string
}

func dropText(of func(*Demand) *string) func(*Demand) bool {
	return func(d *Demand) bool {
		text := of(d)
		had := *text != ""
		*text = ""
		return had
	}
}

var needs = []need{
	{"fire", dropText(func(d *Demand) *string { return &d.Require.Fire }), milderFire},
	{"sound", dropText(func(d *Demand) *string { return &d.Require.Sound }), milderSound},
	{"height", func(d *Demand) bool {
		had := d.Height > leastHeight
		d.Height = leastHeight
		return had
	}, milderHeight},
	{"duty", dropText(func(d *Demand) *string { return &d.Require.Duty }), milderDuty},
	{"moisture", func(d *Demand) bool {
		had := d.Wet != [2]string{}
		d.Wet = [2]string{}
		return had
	}, milderWet},
	{"heat", dropText(func(d *Demand) *string { return &d.Require.UValue }), milderHeat},
	{"thickness", func(d *Demand) bool {
		had := d.Thickness > 0
		d.Thickness = 0
		return had
	}, milderThickness},
	{"services", func(d *Demand) bool {
		had := d.Service > 0
		d.Service = 0
		return had
	}, milderServices},
}

func milderFire(d Demand) []mild {
	asked, _ := plan.ParseFire(d.Require.Fire)
	var list []mild
	for _, minutes := range []int{180, 120, 90, 60, 45, 30, 20, 15} {
		if minutes < asked.Minutes {
			asked.Minutes = minutes
			d.Require.Fire = asked.String()
			list = append(list, mild{d, d.Require.Fire})
		}
	}
	return list
}

func milderSound(d Demand) []mild {
	asked, _ := quantity.ParseSound(d.Require.Sound)
	var list []mild
	for asked.Value--; asked.Value >= 20; asked.Value-- {
		d.Require.Sound = asked.String()
		list = append(list, mild{d, d.Require.Sound})
	}
	return list
}

func milderHeight(d Demand) []mild {
	const step = 50 * quantity.Millimetre
	var list []mild
	for h := (d.Height - 1) / step * step; h >= leastHeight; h -= step {
		d.Height = h
		list = append(list, mild{d, h.String() + " mm"})
	}
	return list
}

func milderDuty(d Demand) []mild {
	asked, _ := plan.ParseDuty(d.Require.Duty)
	var list []mild
	for _, word := range []string{"zone 1", "HD", "MD", "LD"} {
		if duty, _ := plan.ParseDuty(word); duty != asked && asked.Covers(duty) {
			d.Require.Duty = word
			list = append(list, mild{d, word})
		}
	}
	return list
}

func milderWet(d Demand) []mild {
	var list []mild
	classes := din18534_1.Classes()
	for i := len(classes) - 1; i >= 0; i-- {
		milder := d
		for side, text := range d.Wet {
			if c, err := din18534_1.Parse(text); err == nil && c.Severity() > i {
				milder.Wet[side] = string(classes[i])
			}
		}
		if milder.Wet != d.Wet {
			list = append(list, mild{milder, string(classes[i])})
		}
	}
	return list
}

func milderHeat(d Demand) []mild {
	a, _ := d.read()
	var list []mild
	for u := int(float64(a.heat)*100) + 1; u <= 300; u++ {
		d.Require.UValue = strconv.FormatFloat(float64(u)/100, 'f', 2, 64)
		list = append(list, mild{d, "U " + d.Require.UValue})
	}
	return list
}

func milderThickness(d Demand) []mild {
	const step, greatest = 5 * quantity.Millimetre, quantity.Metre
	var list []mild
	for t := (d.Thickness + step) / step * step; t <= greatest; t += step {
		d.Thickness = t
		list = append(list, mild{d, t.String() + " mm"})
	}
	return list
}

func milderServices(d Demand) []mild {
	const step = 5 * quantity.Millimetre
	var list []mild
	for t := (d.Service - 1) / step * step; t > 0; t -= step {
		d.Service = t
		list = append(list, mild{d, t.String() + " mm"})
	}
	return list
}

// relax finds for each need the nearest milder demand that something is expected
// to meet, or where there is none, that nothing tells against.
func (r *Result) relax(d Demand, cat *catalogue.Catalogue, pr *catalogue.Practice) {
	for _, limit := range []Standing{Expected, Unknown} {
		for _, n := range needs {
			if x, ok := n.relaxed(d, func(d Demand) *Candidate { return meets(d, cat, pr, r.Rank, limit) }); ok {
				r.Relaxed = append(r.Relaxed, x)
			}
		}
		if len(r.Relaxed) > 0 || limit == r.Standing-1 {
			return
		}
	}
}

// relaxed finds the nearest milder demand in one need that something meets. What
// meets a demand meets all milder ones.
func (n *need) relaxed(d Demand, meets func(Demand) *Candidate) (Relaxed, bool) {
	without := d
	if !n.drop(&without) {
		return Relaxed{}, false
	}
	met, words := meets(without), fmt.Sprintf("no %s at all", n.name)
	if met == nil {
		return Relaxed{}, false
	}
	milder := n.milder(d)
	for low, high := 0, len(milder); low < high; {
		mid := (low + high) / 2
		if c := meets(milder[mid].demand); c != nil {
			met, words, high = c, milder[mid].words, mid
		} else {
			low = mid + 1
		}
	}
	return Relaxed{n.name, words, *met}, true
}

// meets returns what wins for a demand with a standing up to limit; nil where
// nothing does.
func meets(d Demand, cat *catalogue.Catalogue, pr *catalogue.Practice, rank Measure, limit Standing) *Candidate {
	a, errs := d.read()
	if len(errs) > 0 {
		return nil
	}
	s := newSearch(newJudge(a, cat, pr))
	hits := s.front(limit)
	if len(hits) == 0 {
		return nil
	}
	order(hits, rank)
	c := s.candidate(hits[0])
	return &c
}
