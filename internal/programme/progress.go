package programme

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"nogging/internal/catalogue"
)

// Progress is what is done, against the norms. Hours are those of one person.
type Progress struct {
	Today    Date     `json:"today"`
	Hours    float64  `json:"hours"`    // by the norms, of all work
	Earned   float64  `json:"earned"`   // by the norms, of the work that is done
	Norm     float64  `json:"norm"`     // by the norms, of the work whose time is recorded
	Recorded float64  `json:"recorded"` // of that work
	Rows     []Earned `json:"rows"`     // by gang and stage
	Norms    []Norm   `json:"norms"`    // that the records suggest
}

// Earned is what a gang has done of a stage.
type Earned struct {
	Gang     string  `json:"gang"`
	Stage    Stage   `json:"stage"`
	Walls    int     `json:"walls"`
	Area     float64 `json:"area"`            // m² of wall
	Earned   float64 `json:"earned"`          // hours by the norms
	Norm     float64 `json:"norm"`            // of them, of walls whose time is recorded
	Recorded float64 `json:"recorded"`        // hours
	Ratio    float64 `json:"ratio,omitempty"` // recorded by norm; above 1 is slower
}

// Norm is the time that a firm's own records suggest for the operations of stages that
// are the same work, such as all layers of boards. Records tell times of stages; all
// operations of a stage are taken to differ from their norms by the same factor.
type Norm struct {
	Name       string        `json:"name"`
	Stages     []Stage       `json:"stages"`
	Records    int           `json:"records"`       // with minutes
	Factor     float64       `json:"factor"`        // by which the norms are to be multiplied
	Low        float64       `json:"low"`           // quartiles of the factor of single records
	Median     float64       `json:"median"`        // likewise
	High       float64       `json:"high"`          // likewise
	Spread     float64       `json:"spread"`        // standard deviation of the factor of single records; 0 for one
	Few        bool          `json:"few,omitempty"` // too few to change a norm by
	Operations []NormMinutes `json:"operations"`
}

// NormMinutes is the norm of an operation, in minutes of one person for one unit.
type NormMinutes struct {
	Operation string  `json:"operation"`
	Name      string  `json:"name"`
	Unit      string  `json:"unit"`
	Now       float64 `json:"now"`       // minutes a unit
	Suggested float64 `json:"suggested"` // minutes a unit
}

// fewRecords is how many records a suggestion has to rest on.
const fewRecords = 5

// sameWork lists the stages that are the same work, with what people call it.
var sameWork = []struct {
	name   string
	stages []Stage
}{
	{"set-out", []Stage{SetOut}},
	{"tracks", []Stage{Tracks}},
	{"studs and door frames", []Stage{Studs}},
	{"boards", []Stage{FirstFace, SecondFace, SecondLayer, ThirdLayer, FourthLayer}},
	{"insulation", []Stage{Insulation}},
	{"inner-layer joints", jointStages},
	{"beads", []Stage{Beads}},
	{"tape and coats", coatStages},
	{"closing or skimming of faces", []Stage{WholeFace}},
	{"sanding", []Stage{Sanding}},
	{"painting", []Stage{Painting}},
}

// progress sums what is recorded, by gang and stage, and suggests norms.
func (n *network) progress() *Progress {
	p := &Progress{Today: n.Today, Hours: n.Hours}
	ratios := map[Stage]map[int]ratio{} // by stage and record
	for _, key := range n.markKeys() {
		m, w := n.marked[key], &n.works[key.wall]
		norm := w.minutes(key.stage) / 60
		if norm == 0 {
			continue
		}
		k := slices.IndexFunc(p.Rows, func(e Earned) bool { return e.Gang == m.gang && e.Stage == key.stage })
		if k < 0 {
			k = len(p.Rows)
			p.Rows = append(p.Rows, Earned{Gang: m.gang, Stage: key.stage})
		}
		e := &p.Rows[k]
		e.Walls, e.Area, e.Earned, p.Earned = e.Walls+1, e.Area+w.area, e.Earned+norm, p.Earned+norm
		if m.minutes > 0 {
			e.Norm, e.Recorded = e.Norm+norm, e.Recorded+m.minutes/60
			e.Ratio = e.Recorded / e.Norm
			p.Norm, p.Recorded = p.Norm+norm, p.Recorded+m.minutes/60
			if ratios[key.stage] == nil {
				ratios[key.stage] = map[int]ratio{}
			}
			r := ratios[key.stage][m.entry]
			ratios[key.stage][m.entry] = ratio{r.norm + norm, r.recorded + m.minutes/60}
		}
	}
	slices.SortStableFunc(p.Rows, func(a, b Earned) int {
		return cmp.Or(cmp.Compare(a.Gang, b.Gang), cmp.Compare(a.Stage.rank(), b.Stage.rank()))
	})
	for _, w := range sameWork {
		var list []ratio
		for _, s := range w.stages {
			for _, entry := range slices.Sorted(maps.Keys(ratios[s])) {
				list = append(list, ratios[s][entry])
			}
		}
		if len(list) > 0 {
			p.Norms = append(p.Norms, n.suggest(w.name, w.stages, list))
		}
	}
	return p
}

// markKeys lists what is recorded, in the order of walls and stages.
func (n *network) markKeys() []markKey {
	var keys []markKey
	for k := range n.works {
		for _, s := range Stages() {
			if _, ok := n.marked[markKey{k, s}]; ok {
				keys = append(keys, markKey{k, s})
			}
		}
	}
	return keys
}

// ratio is the time of one record, by the norms and as recorded, in hours.
type ratio struct{ norm, recorded float64 }

// suggest derives norms from the recorded times of stages.
func (n *network) suggest(name string, stages []Stage, list []ratio) Norm {
	out := Norm{Name: name, Stages: stages, Records: len(list), Few: len(list) < fewRecords}
	norm, recorded := 0.0, 0.0
	var single []float64
	for _, r := range list {
		norm, recorded, single = norm+r.norm, recorded+r.recorded, append(single, r.recorded/r.norm)
	}
	out.Factor = recorded / norm
	slices.Sort(single)
	out.Low, out.Median, out.High = quantile(single, 0.25), quantile(single, 0.5), quantile(single, 0.75)
	out.Spread = deviation(single)
	for _, id := range catalogue.Operations() {
		o, ok := n.Catalogue.OperationFor(id)
		if ok && slices.ContainsFunc(stagesOf(id), func(s Stage) bool { return slices.Contains(stages, s) }) {
			out.Operations = append(out.Operations, NormMinutes{id, o.Name, o.Unit, o.Minutes, o.Minutes * out.Factor})
		}
	}
	return out
}

// quantile returns the value below which the part q of a sorted list lies, between
// its entries linearly.
func quantile(sorted []float64, q float64) float64 {
	at := q * float64(len(sorted)-1)
	i := min(int(at), len(sorted)-1)
	next := min(i+1, len(sorted)-1)
	return sorted[i] + (at-float64(i))*(sorted[next]-sorted[i])
}

// deviation returns the standard deviation of a sample; 0 for one value.
func deviation(list []float64) float64 {
	if len(list) < 2 {
		return 0
	}
	mean := 0.0
	for _, v := range list {
		mean += v / float64(len(list))
	}
	sum := 0.0
	for _, v := range list {
		sum += (v - mean) * (v - mean)
	}
	return math.Sqrt(sum / float64(len(list)-1))
}
