package ifc_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/exchange/ifc"
	"nogging/internal/finding"
)

// What is no IFC file that can be read is refused with a word on what to do;
// the plan is empty and nothing else is said.
func TestRefused(t *testing.T) {
	tests := map[string]string{
		"zip archive":     "PK\x03\x04 and so on",
		"empty zip":       pack(t),
		"zip of others":   pack(t, "model.rvt", "x", "readme.txt", "y"),
		"zip of XML":      pack(t, "model.ifcxml", "<x/>"),
		"zip in zip":      pack(t, "inner.ifczip", pack(t, "model.ifc", "x")),
		"zip called ifc":  pack(t, "model.ifc", pack(t, "model.ifc", "x")),
		"two models":      pack(t, "a.ifc", "x", "b/B.IFC", "y"),
		"bomb":            pack(t, "model.ifc", strings.Repeat(" ", 64<<20)),
		"cut short":       pack(t, "model.ifc", strings.Repeat("x", 100))[:80],
		"bad checksum":    strings.Replace(pack(t, "model.ifc", "ISO-10303-21;"), "10303", "10304", 1),
		"swarm":           pack(t, slices.Repeat([]string{"a.txt", ""}, 1001)...),
		"XML":             "\n <?xml version=\"1.0\"?><ifcXML/>",
		"empty":           "",
		"PDF":             "%PDF-1.7\n%âãÏÓ\n1 0 obj",
		"DXF":             "  0\r\nSECTION\r\n  2\r\nHEADER\r\n",
		"remark in DXF":   "999\nmade by hand\n  0\nSECTION\n",
		"binary DXF":      "AutoCAD Binary DXF\r\n\x1a\x00",
		"DWG":             "AC1032\x00\x00",
		"something else":  "Dear all, here is the model.",
		"an older schema": "ISO-10303-21;HEADER;FILE_SCHEMA(('IFC2X_FINAL'));ENDSEC;DATA;#1=IFCWALL('',$,$,$,$,$,$,$);ENDSEC;",
		"another schema":  "ISO-10303-21;HEADER;FILE_SCHEMA(('AUTOMOTIVE_DESIGN'));ENDSEC;DATA;#1=PRODUCT('');ENDSEC;",
	}
	for name, text := range tests {
		p, _, found := ifc.Options{}.Read("model.ifc", []byte(text))
		if len(found) != 1 || found[0].Severity != finding.Error || !ifc.Refused(found) || found[0].Fix == "" || found[0].Place.File != "model.ifc" || len(p.Levels) > 0 {
			t.Errorf("%s: %v", name, found)
		}
	}
}

// A schema that is not named is read as IFC2X3, with a warning; one broken
// line costs no more than itself.
func TestBrokenFile(t *testing.T) {
	m, _ := house()
	text := string(m.bytes())
	p, _, found := ifc.Options{}.Read("model.ifc", []byte(strings.Replace(text, "FILE_SCHEMA(('IFC4'))", "FILE_SCHEMA($)", 1)))
	if len(p.Walls) != 1 || !has(found, "ifc-schema", "") {
		t.Errorf("%d walls: %v", len(p.Walls), found)
	}
	broken := strings.Replace(text, "ENDSEC;\nEND-ISO", "#9999=IFCWALL('no end\n#10000=IFCWALL('',$,$,$,$,$,$,$);\nENDSEC;\nEND-ISO", 1)
	p, stats, found := ifc.Options{}.Read("model.ifc", []byte(broken))
	balance(t, stats, found)
	if len(p.Walls) != 1 || !has(found, "step-syntax", "#9999") || !has(found, "wall-unread", "#10000 IfcWall") {
		t.Errorf("%d walls: %v", len(p.Walls), found)
	}
}

// pack returns a zip archive of files: names and contents in turn. Short ones are stored
// as they are.
func pack(t *testing.T, files ...string) string {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for f := range slices.Chunk(files, 2) {
		method := zip.Deflate
		if len(f[1]) < 100 {
			method = zip.Store
		}
		w, err := z.CreateHeader(&zip.FileHeader{Name: f[0], Method: method})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(f[1])); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// A model in a zip archive is read as it is by itself, whatever lies beside it.
func TestZipped(t *testing.T) {
	m, _ := house()
	want, _, _ := read(t, m)
	for name, data := range map[string]string{
		"alone":     pack(t, "house.ifc", string(m.bytes())),
		"in folder": pack(t, "model/", "", "model/House.IFC", string(m.bytes()), "model/picture.png", "x", "__MACOSX/model/._House.ifc", "x"),
	} {
		got, stats, found := ifc.Options{}.Read("house.ifczip", []byte(data))
		balance(t, stats, found)
		if diff := cmp.Diff(want, got); diff != "" || ifc.Refused(found) {
			t.Errorf("%s: %s %v", name, diff, found)
		}
	}
}

// A bomb is found out before it is unpacked as a whole.
func TestBomb(t *testing.T) {
	text, found := ifc.Unpack("bomb.ifczip", []byte(pack(t, "model.ifc", strings.Repeat(" ", 64<<20))))
	if text != nil || !ifc.Refused(found) || !strings.Contains(fmt.Sprint(found), "unpacks to more than 16 MB") {
		t.Errorf("%d bytes, %v", len(text), found)
	}
}
