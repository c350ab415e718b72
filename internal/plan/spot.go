package plan

import (
	"slices"
	"strconv"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// spot is the thing at hand while a plan is checked: where findings about it
// go, its path, and the id by which people know it.
type spot struct {
	list   *finding.List
	up     *spot
	name   string // the key of a list or of an object
	index  int    // of a list entry, or -1
	object string
}

// entry returns the spot of an entry of a list. Without an id of its own it
// goes by that of what it belongs to.
func (s *spot) entry(list string, i int, id string) *spot {
	if id == "" {
		id = s.object
	}
	return &spot{s.list, s, list, i, id}
}

// part returns the spot of an object that belongs to the one at hand.
func (s *spot) part(name string) *spot { return &spot{s.list, s, name, -1, s.object} }

// path returns where in the plan a key of the spot is; an empty key means the
// spot itself.
func (s *spot) path(key string) string {
	var b strings.Builder
	s.write(&b)
	if key != "" && b.Len() > 0 {
		b.WriteByte('.')
	}
	b.WriteString(key)
	return b.String()
}

func (s *spot) write(b *strings.Builder) {
	if s.up == nil {
		return
	}
	s.up.write(b)
	if b.Len() > 0 {
		b.WriteByte('.')
	}
	b.WriteString(s.name)
	if s.index >= 0 {
		b.WriteString("[" + strconv.Itoa(s.index) + "]")
	}
}

func (s *spot) add(severity finding.Severity, code, key string, what, fix words.Text) {
	s.put(finding.Finding{Code: code, Severity: severity, Path: key, What: what, Fix: fix})
}

// between doubts something about the thing at hand and another.
func (s *spot) between(other, code, key string, what, fix words.Text) {
	s.put(finding.Finding{Code: code, Severity: finding.Warning, Other: other, Path: key, What: what, Fix: fix})
}

// put adds a finding about a key of the thing at hand.
func (s *spot) put(f finding.Finding) {
	if len(*s.list) >= mostFindings {
		return
	}
	f.Object, f.Path = s.object, s.path(f.Path)
	s.list.Add(f)
}

func (s *spot) wrong(code, key string, what, fix words.Text) {
	s.add(finding.Error, code, key, what, fix)
}
func (s *spot) doubt(code, key string, what, fix words.Text) {
	s.add(finding.Warning, code, key, what, fix)
}
func (s *spot) assumed(code, key string, what, fix words.Text) {
	s.add(finding.Assumed, code, key, what, fix)
}

// choice checks a field that takes one of a few words, or nothing.
func (s *spot) choice(owner, key, value string) {
	if what, fix := chooses(owner, key, value); what != "" {
		s.wrong("unknown-word", key, what, fix)
	}
}

// chooses says what is wrong with the word in a field that takes one of a few,
// and what would work; nothing where the word is one of them or left out.
func chooses(owner, key, value string) (what, fix words.Text) {
	allowed := choices[owner+"."+key]
	if value == "" || slices.Contains(allowed, value) {
		return "", ""
	}
	fix = words.F("write one of: %s", strings.Join(allowed, ", "))
	if near, ok := yamlfile.Nearest(value, allowed); ok {
		fix = words.F("did you mean %s? allowed are: %s", near, strings.Join(allowed, ", "))
	}
	return words.F("%s cannot be %q", key, value), fix
}

// chosen is choice for fields that must say something.
func (s *spot) chosen(owner, key, value string) {
	if value == "" {
		s.wrong("missing-word", key, words.F("%s is not stated", key), words.F("write one of: %s", strings.Join(choices[owner+"."+key], ", ")))
		return
	}
	s.choice(owner, key, value)
}

// reference checks that a field names something that the plan has.
func (s *spot) reference(code, key, value, plural string, known []string) {
	if slices.Contains(known, value) {
		return
	}
	what := words.F("%s %q is not in the plan", key, value)
	if value == "" {
		what = words.F("no %s is named", key)
	}
	s.wrong(code, key, what, yamlfile.Suggest(value, words.F("%s of the plan", plural), known))
}

// notNegative checks a length that is nothing or more.
func (s *spot) notNegative(key string, l Length) {
	if l < 0 {
		s.wrong("negative", key, words.F("%s is negative: %s", key, mm(l)), "write it without the minus sign")
	}
}

// positive checks a length that has to be more than nothing.
func (s *spot) positive(key string, l Length) {
	if l <= 0 {
		s.wrong("not-positive", key, words.F("%s is %s; it has to be more than 0", key, mm(l)), "write the size in millimetres")
	}
}

// notNegativeNumber checks a number that is nothing or more.
func (s *spot) notNegativeNumber(key string, v float64) {
	if v < 0 {
		s.wrong("negative", key, words.F("%s is negative: %g", key, v), "write it without the minus sign")
	}
}

// mm writes a length for people.
func mm(l Length) words.Text { return words.F("%s mm", l) }
