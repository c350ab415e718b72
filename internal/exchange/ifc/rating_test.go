package ifc_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/exchange/ifc"
	"nogging/internal/finding"
	"nogging/internal/plan"
)

// TestRatingTexts: ratings as they stand in models. The classes are those of EN 13501-2,
// DIN 4102-2 and ASTM E119, ISO 717-1 and ASTM E413; '1 HR' and '2 HR' stand in open
// sample models. A number alone, a class of reaction to fire (EN 13501-1) and words are
// no fire resistance.
func TestRatingTexts(t *testing.T) {
	type want = plan.Requirements
	for text, asked := range map[string]want{
		"EI 60": {Fire: "EI 60"}, "REI90": {Fire: "REI90"}, "F90-A": {Fire: "F90-A"}, "F30": {Fire: "F30"}, "60 min": {Fire: "60 min"},
		"1 HR": {Fire: "1 h"}, "2-hour fire rated": {Fire: "2 h"}, "1 1/2 hr": {Fire: "1-1/2 h"}, "Fire rating: EI 30": {Fire: "EI 30"},
		"60": {}, "A2-s1,d0": {}, "see spec": {}, "REI": {}, "EI 9999": {},
	} {
		m, w := house()
		m.common(w, "'FireRating',$,IFCLABEL('"+text+"'),$")
		p, _, found := read(t, m)
		w1 := only(t, p, found)
		if diff := cmp.Diff(asked, w1.Require); diff != "" {
			t.Errorf("%s: %s", text, diff)
		}
		unclear := asked == want{}
		if has(found, "rating-unclear", "L1-01") != unclear || has(found, "rating-asked", "") == unclear || strings.Contains(w1.Note, `FireRating "`+text+`" in the model`) != unclear {
			t.Errorf("%s: note %q, %v", text, w1.Note, found)
		}
	}
	for text, asked := range map[string]want{
		"Rw 52": {Sound: "Rw 52"}, "STC 50": {Sound: "STC 50"}, "R'w ≥ 53 dB": {Sound: "R'w ≥ 53 dB"}, "DnT,w 54": {Sound: "DnT,w 54"}, "52 dB": {}, "52": {}, "good": {},
	} {
		m, w := house()
		m.common(w, "'AcousticRating',$,IFCLABEL('"+strings.ReplaceAll(text, "'", "''")+"'),$")
		p, _, found := read(t, m)
		if diff := cmp.Diff(asked, only(t, p, found).Require); diff != "" || has(found, "rating-unclear", "L1-01") != (asked == want{}) {
			t.Errorf("%s: %s, %v", text, diff, found)
		}
	}
}

// TestRatingPlaces: what an occurrence says replaces what its type says, also where it
// is not understood; a placeholder replaces nothing.
func TestRatingPlaces(t *testing.T) {
	for text, asked := range map[string]string{"EI 30": "EI 30", "as drawn": "", "_FIRE-RATING_": "EI 90"} {
		m, w := house()
		set := m.put("IFCPROPERTYSET('x',$,'Pset_WallCommon',$,(%s))", m.put("IFCPROPERTYSINGLEVALUE('FireRating',$,IFCLABEL('EI 90'),$)"))
		of := m.put("IFCWALLTYPE('t',$,'Inner wall',$,$,(%s),$,$,$,.PARTITIONING.)", set)
		m.put("IFCRELDEFINESBYTYPE('r',$,$,$,(%s),%s)", w, of)
		m.common(w, "'FireRating',$,IFCLABEL('"+text+"'),$")
		p, _, found := read(t, m)
		if got := only(t, p, found).Require.Fire; got != asked {
			t.Errorf("%s over EI 90: %q, want %q: %v", text, got, asked, found)
		}
	}
}

// TestCompartment: a wall between fire compartments without a fire resistance is asked after.
func TestCompartment(t *testing.T) {
	for _, rated := range []bool{false, true} {
		m, w := house()
		properties := []string{"'Compartmentation',$,IFCBOOLEAN(.T.),$"}
		if rated {
			properties = append(properties, "'FireRating',$,IFCLABEL('EI 60'),$")
		}
		m.common(w, properties...)
		_, _, found := read(t, m)
		if has(found, "rating-missing", "L1-01") == rated {
			t.Errorf("rated %v: %v", rated, found)
		}
	}
}

// TestClaimsCounted: each rating is told once, with the walls that it is asked of.
func TestClaimsCounted(t *testing.T) {
	m := newModel("mm")
	m.floorAt("L", 0)
	for i := range 3 {
		m.common(m.plain(m.place(0, float64(i)*3000, 0), 4000, 2500), "'FireRating',$,IFCLABEL('1 HR'),$")
	}
	_, _, found := ifc.Options{}.Read("x.ifc", m.bytes())
	n := 0
	for _, f := range found {
		if f.Code == "rating-asked" {
			n++
			if !strings.Contains(f.What.String(), `FireRating "1 HR" of 3 walls in the model is taken as what is asked: 1 h`) || f.Severity != finding.Assumed {
				t.Error(f)
			}
		}
	}
	if n != 1 {
		t.Errorf("%d of them: %v", n, found)
	}
}
