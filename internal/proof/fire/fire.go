// Package fire holds walls against recorded fire evidence. No rating is
// calculated for a steel-framed wall: it comes from a test, a classification or a
// published listing that the catalogue records, and this package says, point by
// point, whether the wall as laid out stays inside what that document covers. It
// takes a wall's facts and the catalogue's records and gives one check.
//
// The classes are those of EN 13501-2, DIN 4102-2 and the hours of ASTM E119; one
// scheme is never read as another. Methods that codes give for other
// constructions stand in the packages below, each within its scope, which for
// the walls of this program means that they say why they do not apply.
//
// The result is no certificate: the local code and a licensed professional decide.
package fire

import (
	"cmp"
	"fmt"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/proof/fire/en1995_1_2"
	"nogging/internal/proof/fire/ibc722_6"
	"nogging/internal/quantity"
)

// Caution stands beside every fire check.
const Caution = "Not a certificate: a rating is a property of the tested or listed wall. The local code, the document itself and a licensed professional decide."

// Prove holds a wall against what is asked, by the document that comes closest.
// A wall inside a document that was itself checked passes; any other is not
// proven, since another document may cover it.
func Prove(asked string, f Facts, records []catalogue.FireEvidence) proof.Check {
	c := proof.Check{Need: proof.Fire, Name: "fire resistance", Asked: asked, Verdict: proof.NotProven}
	class, err := plan.ParseFire(asked)
	if err != nil {
		c.Missing = []string{err.Error()}
		return c
	}
	best, points := closest(class, f, records)
	if best == nil {
		c.Missing = append([]string{fmt.Sprintf("no recorded document gives %s or better", class)}, notApplied()...)
		c.Advice = "record the test report, classification or listing of this wall under fire_evidence in a catalogue of your own"
		return c
	}
	c.Got = derivation(best, points)
	c.Missing = open(best, points)
	if len(c.Missing) == 0 {
		c.Verdict = proof.Passes
	} else {
		c.Advice = "bring the wall inside the document, or record one that covers it"
	}
	c.Missing = append(c.Missing, othersEvidence(f)...)
	return c
}

// closest returns the document of a sufficient class in which the fewest points
// are open; of equal ones the one whose own figures are firmest, then the first.
func closest(asked plan.FireClass, f Facts, records []catalogue.FireEvidence) (*catalogue.FireEvidence, []Point) {
	var best *catalogue.FireEvidence
	var points []Point
	for i := range records {
		e := &records[i]
		class, err := plan.ParseFire(e.Rating)
		if err != nil || !class.Covers(asked) {
			continue
		}
		p := Match(e, f)
		if best == nil || cmp.Or(cmp.Compare(count(p, Outside), count(points, Outside)), cmp.Compare(len(open(e, p)), len(open(best, points)))) < 0 {
			best, points = e, p
		}
	}
	return best, points
}

func count(points []Point, s Standing) int {
	n := 0
	for _, p := range points {
		if p.Standing == s {
			n++
		}
	}
	return n
}

// open lists what keeps a document from proving the wall.
func open(e *catalogue.FireEvidence, points []Point) []string {
	var list []string
	for _, p := range points {
		if p.Standing != Inside {
			list = append(list, p.String())
		}
	}
	if e.Status == quantity.Memory {
		list = append(list, "the record was written from memory: hold it against "+e.Document+" and record it in a catalogue of your own")
	}
	return list
}

// othersEvidence names the parts that need evidence of their own whatever the
// wall's says.
func othersEvidence(f Facts) []string {
	var list []string
	for _, id := range f.Doors {
		list = append(list, id+": doors, windows and hatches need a rating of their own")
	}
	for _, id := range f.Penetrations {
		list = append(list, id+": penetrations need a listed seal (EN 1366-3 or ASTM E814)")
	}
	return list
}

// notApplied says why code-given methods do not rate the wall.
func notApplied() []string {
	var list []string
	for _, err := range []error{ibc722_6.Scope(ibc722_6.Steel, 0), en1995_1_2.Scope(en1995_1_2.Steel)} {
		if err != nil {
			list = append(list, err.Error())
		}
	}
	return list
}

// derivation shows the comparison.
func derivation(e *catalogue.FireEvidence, points []Point) *quantity.Derivation {
	d := &quantity.Derivation{
		Name: "fire resistance of the document that comes closest", Text: e.Rating,
		Method: "held against " + e.Document + " (" + e.ID + ") point by point", Source: cmp.Or(e.Source, e.Document), Status: e.Status, Note: Caution,
	}
	for _, p := range points {
		d.From = append(d.From, quantity.Derivation{
			Name: p.About, Text: p.Built, Method: string(p.Standing), Note: p.Covers, Status: quantity.Derived,
		})
	}
	return d
}

// Records returns the documents that rate at least what is asked, for a search
// among build-ups.
func Records(asked plan.FireClass, records []catalogue.FireEvidence) []catalogue.FireEvidence {
	return slices.DeleteFunc(slices.Clone(records), func(e catalogue.FireEvidence) bool {
		class, err := plan.ParseFire(e.Rating)
		return err != nil || !class.Covers(asked)
	})
}
