package choice

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/proof/fire"
	"nogging/internal/proof/moisture/din18534_1"
	"nogging/internal/proof/sound"
	"nogging/internal/proof/structure"
	"nogging/internal/proof/thermal"
	"nogging/internal/quantity"
)

// judge holds build-ups against a demand, with words; the search does the same
// in numbers.
type judge struct {
	asked
	cat     *catalogue.Catalogue
	pr      *catalogue.Practice
	demand  structure.Demand
	records []catalogue.FireEvidence
	guides  bool // the records are of another scheme: they show what to take and prove nothing
}

func newJudge(a asked, cat *catalogue.Catalogue, pr *catalogue.Practice) judge {
	j := judge{asked: a, cat: cat, pr: pr, demand: structure.DemandOf(a.Require, pr)}
	if !a.withFire {
		return j
	}
	j.records = fire.Records(a.fire, cat.FireEvidence)
	if len(j.records) == 0 {
		j.records = slices.DeleteFunc(slices.Clone(cat.FireEvidence), func(e catalogue.FireEvidence) bool {
			class, err := plan.ParseFire(e.Rating)
			return err != nil || class.Minutes < a.fire.Minutes
		})
		j.guides = true
	}
	return j
}

// needs holds a build-up against everything that is asked.
func (j *judge) needs(b *buildup.BuildUp) []Need {
	var list []Need
	if j.Thickness > 0 {
		list = append(list, j.thickness(b))
	}
	if j.Service > 0 {
		list = append(list, j.services(b))
	}
	for side, class := range j.wet {
		if class != "" && (side == 0 || !b.Kind.OneSided()) {
			list = append(list, moist(side, class, [2][]*catalogue.Board{b.A, b.B}[side]))
		}
	}
	if j.withFire {
		list = append(list, j.burn(b))
	}
	if j.Require.Sound != "" {
		list = append(list, j.hear(b))
	}
	if j.heat > 0 {
		list = append(list, j.warm(b))
	}
	list = append(list, j.stand(b))
	if j.Require.Duty != "" {
		list = append(list, j.impact(b))
	}
	return list
}

func (j *judge) thickness(b *buildup.BuildUp) Need {
	n := Need{About: "thickness", Asked: "up to " + j.Thickness.String() + " mm", Got: b.Thickness.String() + " mm"}
	if over := b.Thickness - j.Thickness; over > 0 {
		n.Standing, n.By = Fails, over.String()+" mm too thick"
	}
	return n
}

// room returns the diameter of what can run along the wall: in the gap of a twin
// frame, else through the holes that the practice lets be cut into studs.
func room(b *buildup.BuildUp, pr *catalogue.Practice) Length {
	if b.Kind.Twin() || b.Kind == plan.Lining {
		return max(b.Gap, hole(b, pr))
	}
	return hole(b, pr)
}

func hole(b *buildup.BuildUp, pr *catalogue.Practice) Length {
	return Length(pr.StudHole.Value*float64(b.Stud.Web)).Round(quantity.Millimetre) - pr.ServiceClear.Value
}

func (j *judge) services(b *buildup.BuildUp) Need {
	has := room(b, j.pr)
	n := Need{About: "services", Asked: j.Service.String() + " mm", Got: fmt.Sprintf("%s mm", has)}
	if has < j.Service {
		n.Standing, n.By = Fails, fmt.Sprintf("%s mm too narrow", j.Service-has)
	}
	return n
}

func moist(side int, class din18534_1.Class, boards []*catalogue.Board) Need {
	n := Need{About: "moisture, face " + string("AB"[side]), Asked: string(class), Got: "all layers suit"}
	var wrong []string
	for _, b := range boards {
		if !din18534_1.Suits(b.Wet, class) && !slices.Contains(wrong, b.ID) {
			wrong = append(wrong, b.ID)
		}
	}
	if len(wrong) > 0 {
		n.Standing, n.Got, n.By = Fails, "", "not for this class: "+strings.Join(wrong, ", ")
	}
	return n
}

// facts are what documents on fire cover of a wall that is not yet laid out: its
// joints are taken to stand one bay apart.
func (j *judge) facts(b *buildup.BuildUp) fire.Facts {
	f := fire.Facts{Frame: b.Kind, Stud: b.Stud, Spacing: b.Spacing, Height: j.Height, Faces: [2][]*catalogue.Board{b.A, b.B}, Fill: b.Insulation, Stagger: b.Spacing}
	if j.sliding {
		f.HeadMove = j.HeadMove
	}
	f.Screws = [2][]Length{screws(len(b.A), j.pr), screws(len(b.B), j.pr)}
	return f
}

// screws returns the practice's spacing of screws in each layer of a face.
func screws(layers int, pr *catalogue.Practice) []Length {
	if layers < 1 || layers > len(pr.ScrewSpacing.Value) {
		return nil
	}
	return pr.ScrewSpacing.Value[layers-1]
}

// burn holds the wall against each document and reports the one that comes closest.
func (j *judge) burn(b *buildup.BuildUp) Need {
	best, least := Need{About: "fire", Asked: j.Require.Fire, Standing: Unknown, Open: []string{j.noDocument()}}, 0
	f := j.facts(b)
	for i := range j.records {
		n, size := j.against(&j.records[i], f)
		if i == 0 || n.Standing < best.Standing || n.Standing == best.Standing && size < least {
			best, least = n, size
		}
	}
	return best
}

func (j *judge) noDocument() string {
	return fmt.Sprintf("no recorded document gives %s or better: record one as fire_evidence", j.fire)
}

// against holds a wall against one document; the second result orders documents
// by how close they come.
func (j *judge) against(e *catalogue.FireEvidence, f fire.Facts) (Need, int) {
	n := Need{About: "fire", Asked: j.Require.Fire, Got: e.ID + " (" + e.Rating + ")"}
	var outside []string
	for _, p := range fire.Match(e, f) {
		switch p.Standing {
		case fire.Outside:
			outside = append(outside, p.String())
		case fire.Unstated:
			n.Open = append(n.Open, p.String())
		}
	}
	size := len(outside)*100 + len(n.Open)
	switch {
	case len(outside) > 0 && j.guides:
		n.Got, n.Standing, n.Open = "", Unknown, []string{j.noDocument()}
		return n, size
	case len(outside) > 0:
		n.Standing, n.By, n.Open = Fails, few(outside), nil
		return n, size
	case j.guides:
		n.Open = append(n.Open, j.noDocument()+"; "+n.Got+" is of another scheme and only shows what to take")
	}
	if e.Status == quantity.Memory {
		n.Open = append(n.Open, e.ID+" is from memory: hold it against "+e.Document)
	}
	if len(n.Open) > 0 {
		n.Standing = Expected
	}
	return n, size
}

// few joins the first points of a list and counts the others.
func few(list []string) string {
	const most = 2
	if len(list) <= most {
		return strings.Join(list, "; ")
	}
	return fmt.Sprintf("%s; and %d more", strings.Join(list[:most], "; "), len(list)-most)
}

func (j *judge) hear(b *buildup.BuildUp) Need {
	n := Need{About: "sound", Asked: j.Require.Sound}
	if j.inField {
		n.Standing, n.Open = Expected, []string{"what goes round the wall: " + j.sound.Name() + " of the wall alone is looked at, rooms decide"}
	}
	if v, ok := testedSound(b, sound.Tests(j.sound, j.cat.SoundEvidence)); ok {
		n.Got = fmt.Sprintf("%s %.0f as tested", j.sound.Name(), v)
		if short := j.sound.Value - float64(v); short > 0 {
			n.Standing, n.By = Fails, fmt.Sprintf("%.0f dB short", short)
		}
		return n
	}
	missing := sound.Unknown(b)
	if b.Kind == plan.Lining {
		missing = append(missing, "the wall behind the lining")
	}
	if len(missing) > 0 {
		n.Standing, n.Open = Unknown, append(n.Open, missing...)
		return n
	}
	c := sound.CandidateOf(b)
	e := c.Estimate(j.sound)
	n.Got = fmt.Sprintf("%s %.0f (%.0f to %.0f)", j.sound.Name(), e.Value, e.Low, e.High)
	beyond := sound.Beyond(b)
	switch least := quantity.Decibel(j.sound.Value); {
	case e.Value < least:
		n.Standing, n.By = Fails, fmt.Sprintf("%.0f dB short", least-e.Value)
		return n
	case e.Low < least:
		n.Open = append(n.Open, fmt.Sprintf("certainty: %.0f to %.0f dB; a test report would settle it", e.Low, e.High))
	}
	if n.Open = append(n.Open, beyond...); len(n.Open) > 0 {
		n.Standing = Expected
	}
	return n
}

// testedSound returns the figure of the best report that covers a build-up.
func testedSound(b *buildup.BuildUp, tests []sound.Test) (quantity.Decibel, bool) {
	var best quantity.Decibel
	found := false
	for _, t := range tests {
		straight := t.Face(0, b.A) && (b.Kind.OneSided() || t.Face(1, b.B))
		turned := t.Face(1, b.A) && (b.Kind.OneSided() || t.Face(0, b.B))
		if t.Frame(b) && (straight || turned) && (!found || t.Value > best) {
			best, found = t.Value, true
		}
	}
	return best, found
}

func (j *judge) warm(b *buildup.BuildUp) Need {
	c := thermal.Prove(j.Require.UValue, b, j.cat)
	n := Need{About: "heat", Asked: "U " + j.Require.UValue, Standing: Unknown, Open: c.Missing}
	if c.Got != nil {
		n.Got = "U " + c.Got.Figure()
	}
	switch c.Verdict {
	case proof.Passes:
		n.Standing = Proven
	case proof.Fails:
		n.Standing, n.By = Fails, fmt.Sprintf("%.0f %% too much", 100*(c.Use-1))
	}
	return n
}

// stand says how far the frame's strength is shown at the height.
func (j *judge) stand(b *buildup.BuildUp) Need {
	n := Need{About: "structure", Asked: j.Height.String() + " mm high"}
	if j.Require.Duty != "" {
		n.Asked += ", " + j.Require.Duty
	}
	s := j.strength(b)
	n.Standing, n.Open = s.standing, s.open
	switch {
	case s.reach > 0:
		n.Got = fmt.Sprintf("%s mm by %s", s.reach, s.by)
	case s.standing < Unknown:
		n.Got = s.by
	}
	if s.standing == Fails {
		n.By = "not 1800 mm"
		if s.reach > 0 {
			n.By = fmt.Sprintf("%s mm short", max(j.Height-s.reach, 1))
		}
	}
	return n
}

// impact says whether the impacts that go with a duty are shown.
func (j *judge) impact(b *buildup.BuildUp) Need {
	n := Need{About: "duty", Asked: j.Require.Duty}
	if s := j.strength(b); s.impact {
		n.Got = "tested"
		return n
	}
	n.Standing, n.Open = Expected, []string{"impact tests of " + j.Require.Duty + ": record them as height_evidence with impact: true"}
	return n
}
