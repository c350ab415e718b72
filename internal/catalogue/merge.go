package catalogue

import (
	"cmp"
	"fmt"
	"slices"

	"nogging/internal/finding"
	"nogging/internal/words"
)

// entry is one entry of any list of the catalogue.
type entry[E any] interface {
	*E
	key() string
	faults() faults
}

func (b *Board) key() string      { return b.ID }
func (p *Profile) key() string    { return p.ID }
func (n *Insulation) key() string { return n.ID }
func (s *Screw) key() string      { return s.ID }
func (s *Sundry) key() string     { return s.ID }
func (p *Practice) key() string   { return p.ID }

// Merge returns c with the user's entries, which replace those of the same id
// or are added. Neither catalogue is changed. An entry with something wrong is
// an error finding and left out; the others are merged. Where the user's
// catalogue was read from a file, findings carry their place in it.
//
// A user's practice needs only the rules in which it differs: the rest come
// from its base, or from the practice that it replaces.
func (c *Catalogue) Merge(user *Catalogue) (*Catalogue, finding.List) {
	var found finding.List
	merged := &Catalogue{
		Boards:     mergeList[Board](c.Boards, user.Boards, "boards", user.text, &found),
		Profiles:   mergeList[Profile](c.Profiles, user.Profiles, "profiles", user.text, &found),
		Insulation: mergeList[Insulation](c.Insulation, user.Insulation, "insulation", user.text, &found),
		Screws:     mergeList[Screw](c.Screws, user.Screws, "screws", user.text, &found),
		Sundries:   mergeList[Sundry](c.Sundries, user.Sundries, "sundries", user.text, &found),
		Practices:  mergeList[Practice](c.Practices, c.completed(user.Practices), "practices", user.text, &found),

		Materials:    mergeList[Material](c.Materials, user.Materials, "materials", user.text, &found),
		FireEvidence: mergeList[FireEvidence](c.FireEvidence, user.FireEvidence, "fire_evidence", user.text, &found),

		HeightEvidence: mergeList[HeightEvidence](c.HeightEvidence, user.HeightEvidence, "height_evidence", user.text, &found),
		SoundEvidence:  mergeList[SoundEvidence](c.SoundEvidence, user.SoundEvidence, "sound_evidence", user.text, &found),

		Masonry: mergeList[Masonry](c.Masonry, user.Masonry, "masonry", user.text, &found),

		Carbon: mergeList[CarbonFactor](c.Carbon, user.Carbon, "carbon", user.text, &found),
		Prices: mergeList[Price](c.Prices, user.Prices, "prices", user.text, &found),
		Packs:  mergeList[Pack](c.Packs, user.Packs, "packs", user.text, &found),

		Operations:   mergeList[Operation](c.Operations, user.Operations, "operations", user.text, &found),
		Productivity: mergeList[Productivity](c.Productivity, user.Productivity, "productivity", user.text, &found),
	}
	merged.indexed()
	found = append(found, merged.references(func(id string) bool { return user.Known(KindProfile, id) || user.Known(KindPractice, id) })...)
	user.text.locate(found)
	return merged, found
}

// mergeList puts the sound entries of the user's list into a copy of the base.
func mergeList[E any, P entry[E]](base, user []E, list string, from *text, found *finding.List) []E {
	merged := slices.Clone(base)
	at := make(map[string]int, len(base))
	for i := range merged {
		at[P(&merged[i]).key()] = i
	}
	seen := map[string]bool{}
	for i := range user {
		path := fmt.Sprintf("%s[%d]", list, i)
		if from.half(path) {
			continue
		}
		e := P(&user[i])
		if wrong := entryFindings(e, list, path, seen); len(wrong) > 0 {
			*found = append(*found, wrong...)
			continue
		}
		if j, replaces := at[e.key()]; replaces {
			merged[j] = user[i]
		} else {
			merged = append(merged, user[i])
		}
	}
	return merged
}

// entryFindings checks one entry of a list by itself; seen holds the ids that
// the list has had so far.
func entryFindings[E any, P entry[E]](e P, list, path string, seen map[string]bool) finding.List {
	wrong := e.faults().findings(cmp.Or(e.key(), path), path)
	if seen[e.key()] {
		wrong.Add(finding.Finding{
			Code: "catalogue-duplicate", Severity: finding.Error, Object: e.key(), Path: path + ".id",
			What: words.F("the id %s is used twice in %s; the first entry counts", e.key(), list), Fix: "give one of them another id",
		})
	}
	seen[e.key()] = true
	return wrong
}

// completed returns the user's practices with the rules that they leave to
// their base.
func (c *Catalogue) completed(user []Practice) []Practice {
	all := slices.Clone(user)
	for i := range all {
		p := &all[i]
		base, ok := c.PracticeByID(cmp.Or(p.Base, p.ID))
		if !ok {
			continue
		}
		p.Name = cmp.Or(p.Name, base.Name)
		if len(p.Standards) == 0 {
			p.Standards = base.Standards
		}
		for _, f := range fields {
			if r := f.of(p); !r.given() {
				r.takeFrom(f.of(base))
			}
		}
	}
	return all
}

// references checks what entries say about each other, for those whose id is
// asked for.
func (c *Catalogue) references(asked func(id string) bool) finding.List {
	var found finding.List
	for i := range c.Profiles {
		if p := &c.Profiles[i]; p.Kind == Stud && asked(p.ID) {
			found = append(found, c.studReferences(p)...)
		}
	}
	for i := range c.HeightEvidence {
		if e := &c.HeightEvidence[i]; !c.Known(KindStud, e.Stud) {
			found.Add(reference(e.ID, words.F("its stud %q is not in the catalogue, so it stands for no wall", e.Stud), c.Suggest(KindStud, e.Stud, &Practice{})))
		}
	}
	for i := range c.Practices {
		if p := &c.Practices[i]; asked(p.ID) {
			found = append(found, c.practiceReferences(p)...)
		}
	}
	return found
}

func (c *Catalogue) studReferences(p *Profile) finding.List {
	var found finding.List
	t, ok := c.TrackFor(p.ID)
	if !ok {
		found.Add(reference(p.ID, words.F("no track of %s takes the size %s", p.Standard, p.Fits), "add a track with the same standard and the same fits"))
	} else if t.Web < p.Web {
		found.Add(reference(p.ID, words.F("the stud is %s mm deep and does not go into %s, which is %s mm", p.Web, t.ID, t.Web), "correct web or fits"))
	}
	if p.Opening != "" && !c.Known(KindProfile, p.Opening) {
		found.Add(reference(p.ID, words.F("its opening stud %q is not in the catalogue", p.Opening), c.Suggest(KindProfile, p.Opening, &Practice{Standards: []string{p.Standard}})))
	}
	return found
}

func (c *Catalogue) practiceReferences(p *Practice) finding.List {
	var found finding.List
	if !c.Known(KindProfile, p.UsualStud.Value) {
		found.Add(reference(p.ID, words.F("its usual stud %q is not in the catalogue", p.UsualStud.Value), c.Suggest(KindProfile, p.UsualStud.Value, p)))
	}
	if !c.Known(KindBoard, p.UsualBoard.Value) {
		found.Add(reference(p.ID, words.F("its usual board %q is not in the catalogue", p.UsualBoard.Value), c.Suggest(KindBoard, p.UsualBoard.Value, p)))
	}
	return found
}

func reference(object string, what, fix words.Text) finding.Finding {
	return finding.Finding{Code: "catalogue-reference", Severity: finding.Warning, Object: object, What: what, Fix: fix}
}
