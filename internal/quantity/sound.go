package quantity

import (
	"regexp"
	"strconv"
	"strings"

	"nogging/internal/words"
)

// SoundDescriptor is a single number for airborne sound insulation. Numbers of
// different descriptors are never exchanged: none is another plus a constant.
type SoundDescriptor string

// The descriptors of ISO 717-1 and ASTM E413.
const (
	LabRw   SoundDescriptor = "Rw"    // of the wall, in a laboratory
	FieldRw SoundDescriptor = "R'w"   // of the wall with what flanks it, in a building
	FieldD  SoundDescriptor = "DnT,w" // between two rooms
	LabSTC  SoundDescriptor = "STC"   // of the wall, in a laboratory
	ASTC    SoundDescriptor = "ASTC"  // of the wall with what flanks it, in a building
	NIC     SoundDescriptor = "NIC"   // between two rooms
	NNIC    SoundDescriptor = "NNIC"  // between two rooms, for a usual reverberation time
)

// InField reports whether the descriptor is of rooms in a building, with all
// that flanks the wall, and not of the wall alone.
func (d SoundDescriptor) InField() bool { return d != LabRw && d != LabSTC }

// SoundRating is a single number with its descriptor, as it is asked of a wall
// or stated in a document.
type SoundRating struct {
	Descriptor SoundDescriptor
	Term       string  // spectrum adaptation term that is added, as ISO 717-1 writes it: C, Ctr, C50-5000, Ctr,50-5000 …
	Value      float64 // dB
}

// Name returns what the number is of, such as "Rw + Ctr".
func (r SoundRating) Name() string {
	if r.Term == "" {
		return string(r.Descriptor)
	}
	return string(r.Descriptor) + " + " + r.Term
}

// String writes the rating, such as "Rw + Ctr 50".
func (r SoundRating) String() string {
	return r.Name() + " " + strconv.FormatFloat(r.Value, 'f', -1, 64)
}

var (
	soundText   = regexp.MustCompile(`(?i)^(R'?w|DnT[,.]?w|STC|ASTC|NIC|NNIC) *(?:\+ *(Ctr|C)[, ]*(50-3150|50-5000|100-5000)? *)?(?:≥|>=|=|:)? *(\d+(?:\.\d+)?) *(?:dB)?$`)
	weighedA    = regexp.MustCompile(`(?i)^(R|DnT)[,.]?A\b`)
	apostrophes = strings.NewReplacer("’", "'", "′", "'", "´", "'", "`", "'", "–", "-", "_", "")
)

// The least and the greatest value that is taken for a rating of a wall, in dB.
const (
	leastSound = 10
	mostSound  = 90
)

// ParseSound reads a rating as people write it: "Rw 53", "R'w >= 53 dB",
// "Rw+Ctr 50", "DnT,w 54", "STC 50". Its error says what would be understood.
func ParseSound(text string) (SoundRating, error) {
	t := apostrophes.Replace(strings.TrimSpace(text))
	if weighedA.MatchString(t) {
		return SoundRating{}, words.ErrFix(words.F("%q means different spectra in different countries", text), "write the sum that is meant, such as Rw + C 50 or DnT,w + C 53")
	}
	m := soundText.FindStringSubmatch(t)
	if m == nil {
		return SoundRating{}, words.ErrFix(words.F("%q is no rating of airborne sound insulation", text), "write one such as Rw 53, Rw + Ctr 50, R'w 53, DnT,w 54 or STC 50")
	}
	r := SoundRating{Descriptor: descriptor(m[1]), Term: term(m[2], m[3])}
	if r.Term != "" && r.Descriptor != LabRw && r.Descriptor != FieldRw && r.Descriptor != FieldD {
		return SoundRating{}, words.ErrFix(words.F("%q adds a term of ISO 717-1 to %s, which has none", text, string(r.Descriptor)), words.F("write %s alone", string(r.Descriptor)))
	}
	r.Value, _ = strconv.ParseFloat(m[4], 64)
	if r.Value < leastSound || r.Value > mostSound {
		return SoundRating{}, words.ErrFix(words.F("%s is no rating of a wall", r), words.F("write a number of decibels from %d to %d", leastSound, mostSound))
	}
	return r, nil
}

// descriptor returns the descriptor that a word matched by soundText means.
func descriptor(word string) SoundDescriptor {
	switch w := strings.ToLower(word); {
	case w == "rw":
		return LabRw
	case w == "r'w":
		return FieldRw
	case strings.HasPrefix(w, "dnt"):
		return FieldD
	}
	return SoundDescriptor(strings.ToUpper(word))
}

// term writes a spectrum adaptation term as the standard does.
func term(name, bands string) string {
	switch {
	case strings.EqualFold(name, "Ctr") && bands != "":
		return "Ctr," + bands
	case strings.EqualFold(name, "Ctr"):
		return "Ctr"
	}
	return strings.ToUpper(name) + bands
}
