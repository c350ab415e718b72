package ifc

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// rating is what a property of the model says that something does. It is a claim of
// whoever drew the model: a plan takes it as what is asked, and never as proof.
type rating struct{ property, text, asked string }

// rating takes a rating unless it is only a placeholder. The set of an occurrence is read
// after that of its type: what it says replaces what that said.
func (c *common) rating(to *string, property, text string, understand func(string) (string, bool)) {
	text = strings.Join(strings.Fields(text), " ")
	if placeholder(text, property) {
		if text != "" {
			c.ignored = append(c.ignored, fmt.Sprintf("%s %q", property, text))
		}
		return
	}
	same := func(r rating) bool { return r.property == property }
	c.taken, c.unclear = slices.DeleteFunc(c.taken, same), slices.DeleteFunc(c.unclear, same)
	asked, ok := understand(text)
	if *to = asked; ok {
		c.taken = append(c.taken, rating{property, text, asked})
	} else {
		c.unclear = append(c.unclear, rating{property, text, ""})
	}
}

var (
	// hours are fire ratings in hours, in the ways in which they are written.
	hours = regexp.MustCompile(`(?i)^(\d+(?:[./ -]\d+)*)\s*-?\s*(?:h|hr|hrs|hour|hours)\.?(?:\s+(?:fire\s+)?(?:rat(?:ed|ing)|resist\w*))?$`)
	// half parts a half from the hours before it.
	half = regexp.MustCompile(`^(\d+)[ -]1/2`)
	// before are words that may stand before a class.
	before = regexp.MustCompile(`(?i)^(?:fire(?: resistance| rating)?|fr|frp|feuerwiderstand(?:sklasse)?|sound|acoustic)\s*[:=]?\s+`)
)

// fireOf returns a fire class in the words of a plan, as far as it is one.
func fireOf(text string) (string, bool) {
	text = before.ReplaceAllString(text, "")
	text = hours.ReplaceAllString(text, "$1 h")
	text = half.ReplaceAllString(text, "$1-1/2")
	_, err := plan.ParseFire(text)
	if err != nil {
		return "", false
	}
	return text, true
}

// soundOf is fireOf for sound insulation.
func soundOf(text string) (string, bool) {
	text = before.ReplaceAllString(text, "")
	if _, err := quantity.ParseSound(text); err != nil {
		return "", false
	}
	return text, true
}

// mostU is the heat transmittance in W/m2K above which no wall's is: that of a sheet of
// metal between two airs is about 6 (ISO 6946: 1/(0.13+0.04), from memory).
const mostU = 6

// heatOf takes a heat transmittance that a wall can have.
func heatOf(text string) (string, bool) {
	u, err := strconv.ParseFloat(text, 64)
	return text, err == nil && u > 0 && u <= mostU
}

// claims counts, for each rating, the walls of which it is taken as asked.
type claims struct {
	order []rating
	walls map[rating]int
}

// ratings puts what the model says that a wall does on its entry, and tells what is not
// understood.
func (a *assembler) ratings(w *wall, p *plan.Wall) {
	for _, t := range w.common.taken {
		if a.claims.walls[t]++; a.claims.walls[t] == 1 {
			a.claims.order = append(a.claims.order, t)
		}
	}
	for _, t := range w.common.unclear {
		p.Note += fmt.Sprintf("; %s %q in the model", t.property, t.text)
		w.doubt(finding.Warning, "rating-unclear", words.F("its %s %q is not understood: nothing is asked of the wall for it", t.property, t.text), "ask who drew the model what is meant, and write it in `require`")
	}
	for _, text := range w.common.ignored {
		w.doubt(finding.Note, "rating-ignored", words.F("%s says nothing and is left out", text), "")
	}
	if w.common.compartment == yes && p.Require.Fire == "" {
		w.doubt(finding.Warning, "rating-missing", "the model says that it parts fire compartments (Compartmentation), and not which fire resistance it has", "ask for the fire resistance, and write it in `require`")
	}
}

// tellClaims tells which ratings were taken as demands.
func (a *assembler) tellClaims() {
	for _, t := range a.claims.order {
		a.tell(finding.Assumed, "rating-asked", "",
			words.F("%s %q of %s in the model is taken as what is asked: %s. It proves nothing", t.property, t.text, words.Count(a.claims.walls[t], "1 wall", "%d walls"), t.asked),
			"change `require` of these walls if something else is asked")
	}
}

// nothing are words by which people say that there is no value.
var nothing = map[string]bool{
	"": true, "-": true, "--": true, "0": true, "n/a": true, "na": true, "n.a.": true, "none": true, "no": true, "not rated": true,
	"unrated": true, "undefined": true, "notdefined": true, "not defined": true, "unset": true, "unknown": true, "notknown": true,
	"tbd": true, "tbc": true, "?": true, "nil": true, "null": true, "x": true, "keine": true, "ohne": true, "sans": true,
	"0 hr": true, "0 h": true, "0hr": true, "false": true, "true": true,
}

// placeholder reports whether a value says nothing: it is empty, a word for
// nothing, or the name of the property itself, as templates leave it.
func placeholder(text, property string) bool {
	if nothing[strings.ToLower(text)] {
		return true
	}
	letters := func(s string) string {
		return strings.ToLower(strings.Map(func(c rune) rune {
			if strings.ContainsRune("_- <>[]{}#*.", c) {
				return -1
			}
			return c
		}, s))
	}
	bare := letters(text)
	return bare == "" || bare == letters(property) || strings.HasPrefix(text, "_") && strings.HasSuffix(text, "_")
}
