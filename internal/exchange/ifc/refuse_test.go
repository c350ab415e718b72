package ifc_test

import (
	"strings"
	"testing"

	"nogging/internal/exchange/ifc"
	"nogging/internal/finding"
)

// What is no IFC file that can be read is refused with a word on what to do;
// the plan is empty and nothing else is said.
func TestRefused(t *testing.T) {
	tests := map[string]string{
		"zip archive":     "PK\x03\x04 and so on",
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
