package catalogue

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"nogging/internal/quantity"
)

func TestShippedIsSound(t *testing.T) {
	c, found := load(data)
	for _, f := range append(found, validate(c)...) {
		t.Errorf("%s (%s)", f, f.Path)
	}
	for _, p := range c.Practices {
		for _, r := range p.Rules() {
			if r.Source == "" && r.Status != quantity.Practice {
				t.Errorf("%s %s: status %q without a source", p.ID, r.Name, r.Status)
			}
			if r.Status == quantity.Entered {
				t.Errorf("%s %s: nobody has entered it", p.ID, r.Name)
			}
		}
	}
}

// steel is the density of steel in kg/m³ (EN 1991-1-1 table A.4 gives 77.0 to
// 78.5 kN/m³).
const steel = 7850

// grossArea is the area in mm² of a plain or lipped channel by the linear method
// of the AISI Cold-Formed Steel Design Manual, part I, or of an angle or strap (a
// hat has the length of a lipped channel): flat parts and quarter
// arcs on the middle line of the sheet.
func grossArea(p *Profile) float64 {
	depth, width, lip := p.Web.MM(), p.Flange.MM(), p.Lip.MM()
	sheet, inside := p.Thickness.MM(), p.Radius.MM()
	switch p.Kind {
	case Strap:
		return width * sheet
	case Angle:
		return sheet * (depth + width - 2*(inside+sheet) + math.Pi*(inside+sheet/2)/2)
	}
	lipped := 0.0
	if lip > 0 {
		lipped = 1
	}
	r := inside + sheet/2
	arc := math.Pi * r / 2
	a := depth - 2*(inside+sheet)
	b := width - (inside + sheet) - lipped*(inside+sheet)
	c := lipped * (lip - (inside + sheet))
	return sheet * (a + 2*b + 2*arc + lipped*(2*c+2*arc))
}

func TestProfileMassByLinearMethod(t *testing.T) {
	const poundPerFoot = 1.488164 // kg/m
	for i := range Shipped().Profiles {
		p := &Shipped().Profiles[i]
		tolerance := 0.0006 // kg/m: the catalogue rounds to three decimals
		if p.Status == quantity.Published {
			tolerance = 0.0055 * poundPerFoot // the table rounds to 0.01 lb/ft
		}
		if got := grossArea(p) * 1e-6 * steel; math.Abs(got-p.Mass) > tolerance {
			t.Errorf("%s: %.4f kg/m by the linear method, %.4f in the catalogue", p.ID, got, p.Mass)
		}
	}
}

func TestMetricProfileMass(t *testing.T) {
	// Derived from nominal sizes by the same method, radius 1.2 mm and 2.0 mm.
	for id, want := range map[string]float64{
		"CW50": 0.734, "CW75": 0.852, "CW100": 0.969, "CW125": 1.087, "CW150": 1.205,
		"UW50": 0.601, "UW75": 0.718, "UW100": 0.836,
		"UA50": 1.919, "UA75": 2.311, "UA100": 2.704,
	} {
		p, ok := Shipped().Profile(id)
		if !ok || math.Abs(p.Mass-want) > 0.001 {
			t.Errorf("%s: %v, want %.3f kg/m", id, p, want)
		}
	}
}

// The SSMA product technical guide, 2024: area in in² and weight in lb/ft.
var ssma = map[string]struct{ area, weight float64 }{
	"162S125-18": {0.080, 0.27}, "250S125-18": {0.097, 0.33}, "250S125-27": {0.144, 0.49},
	"250S125-30": {0.159, 0.54}, "250S125-33": {0.176, 0.60}, "350S125-18": {0.115, 0.39},
	"350S125-27": {0.173, 0.59}, "350S125-30": {0.190, 0.65}, "350S125-33": {0.210, 0.72},
	"362S125-18": {0.118, 0.40}, "362S125-27": {0.176, 0.60}, "362S125-30": {0.194, 0.66},
	"362S125-33": {0.215, 0.73}, "400S125-18": {0.125, 0.42}, "400S125-30": {0.206, 0.70},
	"600S125-27": {0.243, 0.83}, "600S125-30": {0.268, 0.91}, "600S125-33": {0.297, 1.01},
	"250S137-33": {0.197, 0.67}, "250S162-33": {0.223, 0.76}, "362S162-33": {0.262, 0.89},
	"362S162-43": {0.340, 1.16}, "362S162-54": {0.422, 1.44},
}

func TestPublishedSections(t *testing.T) {
	for id, want := range ssma {
		p, ok := Shipped().Profile(id)
		if !ok {
			t.Errorf("%s is missing", id)
			continue
		}
		if got := grossArea(p) / (25.4 * 25.4); math.Abs(got-want.area) > 0.001 {
			t.Errorf("%s: %.4f in², published %.3f", id, got, want.area)
		}
		if got := p.Mass / 1.488164; math.Abs(got-want.weight) > 0.001 {
			t.Errorf("%s: %.4f lb/ft, published %.2f", id, got, want.weight)
		}
		if p.Status != quantity.Published {
			t.Errorf("%s: status %q", id, p.Status)
		}
	}
}

// AISI S201: the first number is the depth in 1/100 in, outside for studs and
// inside for tracks; then the flange in 1/100 in and the least sheet thickness
// in mils, 95 % of the design thickness.
func TestDesignators(t *testing.T) {
	depth := map[string]string{"087": "0.875 in", "162": "1.625 in", "250": "2.5 in", "350": "3.5 in", "362": "3.625 in", "400": "4 in", "600": "6 in"}
	flange := map[string]string{"125": "1.25 in", "137": "1.375 in", "162": "1.625 in", "250": "2.5 in"}
	name := regexp.MustCompile(`^(\d{3})([ST])(\d{3})-(\d\d)$`)
	for i := range Shipped().Profiles {
		p := &Shipped().Profiles[i]
		m := name.FindStringSubmatch(p.ID)
		if m == nil {
			continue
		}
		d := p.Web
		if m[2] == "T" {
			d -= 2 * p.Thickness
		}
		if d != inches(t, depth[m[1]]) || p.Flange != inches(t, flange[m[3]]) || p.Fits != m[1] {
			t.Errorf("%s: depth %s, flange %s, fits %s", p.ID, d, p.Flange, p.Fits)
		}
		if mils := 0.95 * p.Thickness.MM() / 25.4 * 1000; math.Abs(mils-float64(atoi(m[4]))) > 0.75 {
			t.Errorf("%s: least thickness %.2f mils", p.ID, mils)
		}
	}
}

func inches(t *testing.T, text string) Length {
	t.Helper()
	l, err := quantity.ParseLength(text)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func atoi(s string) int {
	n := 0
	for _, c := range s {
		n = 10*n + int(c-'0')
	}
	return n
}

func TestBoardMass(t *testing.T) {
	// OEKOBAUDAT 2020-II: gypsum board fire and impregnated 12.5 mm 10 kg/m²;
	// 12.5 mm at 680 to 800 kg/m³ is 8.5 to 10.0 kg/m². From memory: 12.8 and
	// 15.4 kg/m² for 15 and 18 mm type F; Gypsum Association 1.6 to 2.0 psf for
	// 1/2 in and 2.2 to 2.5 psf for 5/8 in Type X.
	const psf = 4.88243
	for id, want := range map[string][2]float64{
		"GKB-12.5": {8.5, 10.0}, "GKF-12.5": {10, 10}, "GKBI-12.5": {10, 10},
		"GKF-15": {12.8, 12.8}, "GKF-18": {15.4, 15.4}, "GKF-12.5x1250": {10, 10},
		"GWB-0.5": {1.6 * psf, 2.0 * psf}, "GWB-0.5X": {1.6 * psf, 2.0 * psf}, "GWB-0.625X": {2.2 * psf, 2.5 * psf},
	} {
		b, ok := Shipped().Board(id)
		if !ok || b.Mass < want[0]-0.05 || b.Mass > want[1]+0.05 {
			t.Errorf("%s: %v, want %v kg/m²", id, b, want)
		}
	}
}

// EN 520: type D boards have at least 800 kg/m³.
func TestDenseBoards(t *testing.T) {
	for _, b := range Shipped().Boards {
		density := b.Mass / b.Thickness.Metres()
		if strings.HasPrefix(b.Type, "D") && density < 799.99 {
			t.Errorf("%s: type %s with %.0f kg/m³", b.ID, b.Type, density)
		}
		if density < 500 || density > 1700 {
			t.Errorf("%s: %.0f kg/m³ is no board", b.ID, density)
		}
	}
}

// Every entry whose sizes could only be recalled from the named standard says
// so.
func TestFromMemory(t *testing.T) {
	c := Shipped()
	for _, b := range c.Boards {
		if (b.Standard == "EN 520" || b.Standard == "ASTM C1396") && b.Status != quantity.Memory {
			t.Errorf("%s: status %q", b.ID, b.Status)
		}
	}
	for _, p := range c.Profiles {
		if p.Standard == "EN 14195" && p.Kind != DeepTrack && p.Status != quantity.Memory {
			t.Errorf("%s: status %q", p.ID, p.Status)
		}
	}
	for _, n := range c.Insulation {
		if n.Status != quantity.Memory {
			t.Errorf("%s: status %q", n.ID, n.Status)
		}
	}
	for _, s := range c.Screws {
		if s.Status != quantity.Memory {
			t.Errorf("%s: status %q", s.ID, s.Status)
		}
	}
}

// Ids are made of standard designations and sizes.
func TestIDs(t *testing.T) {
	patterns := map[string]string{
		KindBoard:      `^(GKB|GKF|GKBI|GKFI|GKR|GF|CB)-[0-9.]+(x1250)?$|^(GWB|GMB|CBU)-0\.[0-9]+X?(WR)?$`,
		KindProfile:    `^(CW|UW|UA)[0-9]+(-D)?$|^(CD60|UD28)$|^STRAP-[0-9.]+(x|in-)[0-9.]+$|^L[0-9.]+x[0-9]+(in)?-[0-9.]+$|^[0-9]{3}[STF][0-9]{3}-[0-9]{2}$`,
		KindInsulation: `^MW-[0-9]+$|^SW-[0-9]+-[0-9]+$|^R-[0-9]+$`,
		KindScrew:      `^(SP|DP)-3\.5x[0-9]+$|^S(12)?-6x[0-9.]+$`,
		KindSundry:     `^(ANCHOR|ANGLE|TAPE|SEALANT|STRIP|JOINT-TAPE|CORNER-TAPE|COMPOUND|PAINT|BEAD|GUSSET|BOX-LINING|STOP|POCKET|BRACKET|SCREW)(-[A-Z0-9-]+)?$`,
		KindPractice:   `^(metric|us)$`,
	}
	for kind, pattern := range patterns {
		p := regexp.MustCompile(pattern)
		for _, id := range Shipped().IDs(kind) {
			if !p.MatchString(id) {
				t.Errorf("%s %q is no standard designation", kind, id)
			}
		}
	}
}

// Every word with a capital letter in names and sources is a standard, an
// association that publishes standards, or plain English: no maker's name.
func TestNoMakersNames(t *testing.T) {
	allowed := strings.Fields(`IBC Bracket CD Flat Furring Holding Perimeter UD ADA AISI ASHRAE ASME ASTM Acoustic Anchor Angle Association Beads Bead Board CW Cement Clip Compounds Control Corner Creased
		D DIN Deep Drywall EN Edge F Fibre Finishing Fire Fire-stopping GA GA-214 GA-216 GA-600 Glass Gypsum HSE Hard I IBC ISO Impregnated Interior Isolating
		Joint Metric Movement NIOSH Nail No OEKOBAUDAT Opening Panel Paper Part Pocket Practice R S SSMA Screw Sealing Self-drilling Sound-insulating Standards States Stone Stud
		S-12 R-11 R-13 R-19 Track Type UA UW United WP Water-resistant Wood X II 2020-II`)
	designation := regexp.MustCompile(`^[A-Z]*[0-9][A-Z0-9.-]*$|^[0-9.]+[ST][0-9]+-[0-9]+$`)
	word := regexp.MustCompile(`[\p{L}\p{N}.-]+`)
	check := func(id, text string) {
		for _, w := range word.FindAllString(text, -1) {
			w = strings.Trim(w, ".-")
			if w != strings.ToLower(w) && !designation.MatchString(w) && !slices.Contains(allowed, w) {
				t.Errorf("%s: %q in %q", id, w, text)
			}
		}
	}
	c := Shipped()
	for _, e := range c.Boards {
		check(e.ID, e.Name+" "+e.Source)
	}
	for _, e := range c.Profiles {
		check(e.ID, e.Name+" "+e.Source)
	}
	for _, e := range c.Insulation {
		check(e.ID, e.Name+" "+e.Source)
	}
	for _, e := range c.Screws {
		check(e.ID, e.Name+" "+e.Source)
	}
	for _, e := range c.Sundries {
		check(e.ID, e.Name+" "+e.Source)
	}
	for _, p := range c.Practices {
		for _, r := range p.Rules() {
			check(p.ID+" "+r.Name, r.Source)
		}
	}
}
