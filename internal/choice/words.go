package choice

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/yamlfile"
)

// Words says what a build-up is made of in a few words.
func Words(b *buildup.BuildUp) string {
	s := strings.ReplaceAll(string(b.Kind), "_", " ") + " " + b.Stud.ID + " at " + b.Spacing.String()
	if b.Gap > 0 {
		s += ", gap " + b.Gap.String()
	}
	if a, c := layersText(b.A), layersText(b.B); a == c {
		s += "; a face " + a
	} else {
		s += "; A " + a
		if c != "" {
			s += ", B " + c
		}
	}
	if len(b.Insulation) > 0 {
		s += "; "
		if len(b.Insulation) > 1 {
			s += fmt.Sprintf("%d x ", len(b.Insulation))
		}
		s += b.Insulation[0].Product.ID
	}
	return s
}

func layersText(boards []*catalogue.Board) string {
	var parts []string
	for i := 0; i < len(boards); {
		n := 1
		for i+n < len(boards) && boards[i+n] == boards[i] {
			n++
		}
		parts = append(parts, strconv.Itoa(n)+" x "+boards[i].ID)
		i += n
	}
	return strings.Join(parts, " + ")
}

// Need returns the candidate's standing to what the name is about, if it was asked.
func (c *Candidate) Need(about string) (Need, bool) {
	i := slices.IndexFunc(c.Needs, func(n Need) bool { return n.About == about })
	if i < 0 {
		return Need{}, false
	}
	return c.Needs[i], true
}

// Open lists what is missing for a proof of the candidate, each once.
func (c *Candidate) Open() []string {
	var list []string
	for _, n := range c.Needs {
		for _, o := range n.Open {
			if text := n.About + ": " + o; !slices.Contains(list, text) {
				list = append(list, text)
			}
		}
	}
	return list
}

// Figure writes a measure of a build-up with its unit.
func (m Measures) Figure(k Measure) string {
	if !m.Known(k) {
		return "not known"
	}
	return strconv.FormatFloat(m.Value(k), 'f', decimals[k], 64) + " " + k.Unit()
}

// decimals are those with which measures are written: no more than they are good
// for.
var decimals = [measures]int{1, 1, 2, 1, 2}

// Why says why the winner won.
func (r *Result) Why() string {
	if len(r.Front) == 0 {
		return ""
	}
	won := r.Front[0].Measures
	s := fmt.Sprintf("least %s of all that do what is asked: %s", r.Rank, won.Figure(r.Rank))
	if !won.Known(r.Rank) {
		s = fmt.Sprintf("its %s is not known, nor that of any other that does what is asked", r.Rank)
	}
	if len(r.Front) == 1 {
		return s + ", and no other is less in any measure"
	}
	next := r.Front[1].Measures
	for k := r.Rank; ; k = (k + 1) % measures {
		if d := next[k] - won[k]; d > 0 && next.Known(k) {
			diff := Measures{}
			diff[k] = d
			text := diff.Figure(k) + " less than the next"
			if k != r.Rank {
				text = fmt.Sprintf("the next has as much, and %s more %s", diff.Figure(k), k)
			}
			return s + ", " + text
		}
		if (k+1)%measures == r.Rank {
			return s
		}
	}
}

// YAML writes a build-up as plans have it, under an id.
func YAML(b *buildup.BuildUp, id string) (string, error) {
	spec := b.Spec
	spec.ID = id
	text, err := yamlfile.Encode(&struct {
		BuildUps []plan.BuildUp `json:"buildups"`
	}{[]plan.BuildUp{spec}})
	return string(text), err
}
