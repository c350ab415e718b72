package pdf_test

import (
	"bytes"
	"errors"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"nogging/internal/drawing"
	"nogging/internal/drawing/pdf"
	"nogging/internal/validation/pdfa"
)

// archived is a document that holds all that a writer of documents can ask for.
func archived(t *testing.T, attached ...pdf.Attachment) []byte {
	t.Helper()
	s := scene()
	s.Layer(drawing.Notes).Add(drawing.Text{At: drawing.Point{X: 20, Y: 60}, Text: "tab\there, 石膏, \x01\u2011", Height: drawing.Small})
	s.Layer(drawing.Notes).Add(drawing.Link{Area: drawing.NewRect(10, 10, 30, 5), Page: 2}, drawing.Link{Area: drawing.NewRect(10, 20, 30, 5), Page: 9})
	var b bytes.Buffer
	d := pdf.New(&b, pdf.Info{Title: "Harbour & <clinic>\x00", Subject: "Łódź", Attached: attached})
	d.Add(pdf.Render(s))
	d.Bookmark("Walls", 0)
	d.Add(pdf.Render(drawing.NewScene("empty", "", drawing.A4)))
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func check(t *testing.T, file []byte, part int) []string {
	t.Helper()
	faults, err := pdfa.Check(file, part, t.TempDir())
	if errors.Is(err, pdfa.ErrNoReader) && os.Getenv("CI") == "" {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	return faults
}

var planFile = pdf.Attachment{Name: "plan.yaml", Type: "application/yaml", What: "what it was made from", Data: []byte("nogging: 1\n")}

// TestArchive: documents keep ISO 19005-2, with attachments 19005-3, both level U.
func TestArchive(t *testing.T) {
	for _, f := range check(t, archived(t), 2) {
		t.Error(f)
	}
	for _, f := range check(t, archived(t, planFile), 3) {
		t.Error(f)
	}
}

// TestFaultsAreSeen: a file from which something is taken, or in which it is wrong, has
// the fault of that clause and no other. Texts are of one length, so the file stays whole.
func TestFaultsAreSeen(t *testing.T) {
	whole := archived(t, planFile)
	for _, c := range []struct{ clause, from, to string }{
		{"6.1.2", "%\xE2\xE3\xCF\xD3", "%abcd"},
		{"6.1.3", "/ID[", "/IX["},
		{"6.2.3", "/GTS_PDFA1", "/GTS_PDFX1"},
		{"6.2.3", "/OutputIntents", "/OutputIntentz"},
		{"6.2.11.3.1", "(Identity)", "(Japanese)"},
		{"6.2.11.3.2", "/CIDToGIDMap/Identity", "/CIDToGIDMap/Identifi"},
		{"6.2.11.3.3", "/Identity-H", "/Identity-V"},
		{"6.2.11.4.1", "/FontFile2", "/FontFile9"},
		{"6.2.11.7.2", "/ToUnicode", "/ToUnicorn"},
		{"6.3.1", "/Subtype/Link", "/Subtype/Line"},
		{"6.3.2", "/F 4", "/F 6"},
		{"6.6.2", "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">H", "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">h"},
		{"6.6.2.1", "/Metadata ", "/Metadatq "},
		{"6.6.2.1", "<?xpacket begin=", "<?xpacket bytes="},
		{"6.6.2.3", "http://ns.adobe.com/xap/1.0/", "http://ns.adobe.com/zap/1.0/"},
		{"6.6.4", "<pdfaid:part>3", "<pdfaid:part>1"},
		{"6.9", "/Name(Layers)", "/Nane(Layers)"},
		{"6.5.2", "/DisplayDocTitle true", "/OpenAction  [1  0 R]"},
		{"19005-3, 6.8", "/AF[", "/AG["},
		{"19005-3, 6.8", "/AFRelationship/Source", "/AFRelationship/Other "},
	} {
		if len(c.from) != len(c.to) || !bytes.Contains(whole, []byte(c.from)) {
			t.Errorf("%q cannot be put for %q", c.to, c.from)
			continue
		}
		faults := check(t, bytes.Replace(whole, []byte(c.from), []byte(c.to), 1), 3)
		if len(faults) == 0 || slices.ContainsFunc(faults, func(f string) bool { return !strings.HasPrefix(f, c.clause+":") && !strings.HasPrefix(f, c.clause+".") }) {
			t.Errorf("%s: %q for %q gives %q", c.clause, c.to, c.from, faults)
		}
	}
	if faults := check(t, whole, 2); len(faults) == 0 {
		t.Error("attachments pass as part 2")
	}
}

// TestProfile compares the colorants of the profile with those published for sRGB
// adapted to D50 by Bradford's transform (B. Lindbloom, RGB/XYZ matrices; from memory;
// his D50 has Z 0.82521, that of profiles 0.8249, hence the tolerance), and looks for
// the transfer function of IEC 61966-2-1.
func TestProfile(t *testing.T) {
	m := regexp.MustCompile(`(?s)/N 3>>\nstream\n(.*?)\nendstream`).FindSubmatch(archived(t))
	icc := inflate(t, m[1])
	element := func(tag string) []byte {
		at := bytes.Index(icc[132:], []byte(tag)) + 132
		from, size := be(icc[at+4:]), be(icc[at+8:])
		return icc[from : from+size]
	}
	for tag, want := range map[string][3]float64{
		"rXYZ": {0.4360747, 0.2225045, 0.0139322}, "gXYZ": {0.3850649, 0.7168786, 0.0971045}, "bXYZ": {0.1430804, 0.0606169, 0.7141733},
	} {
		for i, w := range want {
			if got := float64(be(element(tag)[8+4*i:])) / 65536; math.Abs(got-w) > 4e-4 {
				t.Errorf("%s[%d] is %.6f, want %.6f", tag, i, got, w)
			}
		}
	}
	for i, w := range []float64{2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045} {
		if got := float64(be(element("rTRC")[12+4*i:])) / 65536; math.Abs(got-w) > 1e-5 {
			t.Errorf("transfer function: number %d is %f, want %f", i, got, w)
		}
	}
}

func be(b []byte) int { return int(b[0])<<24 | int(b[1])<<16 | int(b[2])<<8 | int(b[3]) }
