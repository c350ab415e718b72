package dxf

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// SaidHeight is a height that words of the drawing tell: a hint, since nothing says how
// far it holds.
type SaidHeight struct {
	Text   string      `json:"text"`
	Height plan.Length `json:"height"` // clear
	At     plan.Pt     `json:"at"`
	Room   string      `json:"room,omitempty"` // in which the words stand
}

// Words for clear heights (H=2.70, RH 2,70 m, CH: 2700), and for the top of a floor and
// the underside of a slab (OK FF ±0.00, UK RD +2.70) over the storey's zero; common
// practice in the languages concerned.
var (
	clearWords = regexp.MustCompile(`(?i)(?:^|[\s(,;])(?:lrh|l\.?h|r\.?h|c\.?h|h|clg|ceiling(?: height)?|raumhöhe|höhe|hsp|hauteur|altura|altezza)\.?\s*[=:]?\s*(\d+(?:[.,]\d+)?)\s*(mm|cm|m)?(?:$|[\s),;])`)
	edgeWords  = regexp.MustCompile(`(?:^|[\s(])(OK|UK|FFL|SSL|USS)\.?\s*[A-ZÄÖÜ]*\s*[=:]?\s*([+±-]?\s*\d+[.,]\d+)\s*(?:m)?(?:$|[\s),;])`)
)

// Clear heights that are believed, in mm.
const (
	lowestClear  = 1800
	highestClear = 12_000
)

// heightOf reads a number as a height: metres with a decimal point, whole numbers as
// millimetres or centimetres by their size.
func heightOf(number, unit string) (mm float64, ok bool) {
	v, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
	switch {
	case err != nil:
		return 0, false
	case unit == "m" || unit == "" && v < 20:
		v *= 1000
	case unit == "cm" || unit == "" && v < 1000:
		v *= 10
	}
	return v, v >= lowestClear && v <= highestClear
}

// heights lists the clear heights that words tell.
func (g *recogniser) heights() []SaidHeight {
	out := []SaidHeight{}
	var tops, undersides []float64
	var slab label
	for _, l := range g.labels {
		if m := clearWords.FindStringSubmatch(l.text); m != nil {
			if mm, ok := heightOf(m[1], strings.ToLower(m[2])); ok {
				out = append(out, SaidHeight{Text: l.text, Height: length(mm), At: pt(l.at)})
			}
		}
		if m := edgeWords.FindStringSubmatch(l.text); m != nil {
			v, err := strconv.ParseFloat(strings.NewReplacer(",", ".", "±", "", " ", "").Replace(m[2]), 64)
			switch {
			case err != nil:
			case m[1] == "OK" || m[1] == "FFL" || m[1] == "SSL":
				tops = append(tops, v*1000)
			default:
				undersides, slab = append(undersides, v*1000), l
			}
		}
	}
	if len(tops) > 0 && len(undersides) > 0 {
		if mm := most(undersides) - most(tops); mm >= lowestClear && mm <= highestClear {
			out = append(out, SaidHeight{Text: slab.text, Height: length(mm), At: pt(slab.at)})
		}
	}
	return out
}

// most returns the value that occurs most often, the smallest of several.
func most[T cmp.Ordered](values []T) T {
	slices.Sort(values)
	best, times := values[0], 0
	for i := 0; i < len(values); {
		n := i
		for n < len(values) && values[n] == values[i] {
			n++
		}
		if n-i > times {
			best, times = values[i], n-i
		}
		i = n
	}
	return best
}

// clear settles the clear height of the level by what words tell, else it is assumed.
func (r *reader) clear(g *recogniser) plan.Length {
	r.stats.Heights = g.heights()
	if len(r.stats.Heights) == 0 {
		r.tell(finding.Assumed, "dxf-heights", level, words.F("a drawing tells no heights: %d mm clear, doors %d mm high, windows %d mm on a sill of %d mm are taken", clearHeight, doorHeight, windowHeight, sillHeight), "give the heights in the plan")
		return length(clearHeight)
	}
	var all []plan.Length
	for _, h := range r.stats.Heights {
		all = append(all, h.Height)
	}
	clear := most(all)
	r.tell(finding.Assumed, "dxf-heights", level, words.F("%s mm clear are taken from words of the drawing (%s); doors %d mm high, windows %d mm on a sill of %d mm are taken", clear, r.stats.Heights[slices.Index(all, clear)].Text, doorHeight, windowHeight, sillHeight), "give the heights in the plan")
	return clear
}

// otherHeights says which rooms have words of another height in them.
func (r *reader) otherHeights(p *plan.Plan) {
	for i := range r.stats.Heights {
		h := &r.stats.Heights[i]
		for k := range p.Rooms {
			if within(h.At, p.Rooms[k].Outline) {
				h.Room = p.Rooms[k].ID
			}
		}
		if h.Room != "" && h.Height != p.Levels[0].ClearHeight {
			r.tell(finding.Warning, "dxf-room-height", h.Room, words.F("words in the room say %s mm clear (%s), and the level has %s mm", h.Height, h.Text, p.Levels[0].ClearHeight), "give the walls of the room their height")
		}
	}
}

// within reports whether a place lies in an outline.
func within(at plan.Pt, corners []plan.Pt) bool {
	ring := make([]vec, len(corners))
	for i, c := range corners {
		ring[i] = vec{c.X.MM(), c.Y.MM()}
	}
	return inside(vec{at.X.MM(), at.Y.MM()}, ring)
}
