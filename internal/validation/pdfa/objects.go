package pdfa

import (
	"encoding/binary"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// trailerAndInfo checks the trailer and that Info and the XMP packet say the same.
func (c *checker) trailerAndInfo() {
	ids := c.list(c.trailer["/ID"])
	c.need(len(ids) == 2 && ids[0] != "b:" && ids[0] != "u:", "6.1.3", "the file has no identifier")
	c.need(c.trailer["/Encrypt"] == nil, "6.1.3", "the file is encrypted")
	meta, ok := c.get(c.dict(c.trailer["/Root"])["/Metadata"]).(stream)
	if !ok {
		c.fault("6.6.2.1", "there is no metadata")
		return
	}
	c.need(meta.dict["/Type"] == "/Metadata" && meta.dict["/Subtype"] == "/XML" && meta.dict["/Filter"] == nil, "6.6.2.1", "metadata are %v", meta.dict)
	fields := c.packet(meta.data)
	level := fields["part"] + fields["conformance"]
	c.need(level == string(rune('0'+c.part))+"U", "6.6.4", "the packet claims %q", level)
	info := c.dict(c.trailer["/Info"])
	c.need(fields["title"] == text(info["/Title"]), "6.6.2", "title %q, in Info %q", fields["title"], text(info["/Title"]))
	c.need(fields["description"] == text(info["/Subject"]), "6.6.2", "description %q, in Info %q", fields["description"], text(info["/Subject"]))
	for key, field := range map[string]string{"/CreationDate": "CreateDate", "/ModDate": "ModifyDate"} {
		a, errA := time.Parse("D:20060102150405Z", text(info[key]))
		b, errB := time.Parse(time.RFC3339, fields[field])
		c.need(errors.Join(errA, errB) == nil && a.Equal(b), "6.6.2", "%s %q, in Info %q", field, fields[field], text(info[key]))
	}
}

// predefined are the schemas from which properties may come without being described.
var predefined = []string{"adobe:ns:meta/", "http://www.w3.org/1999/02/22-rdf-syntax-ns#", "http://purl.org/dc/elements/1.1/",
	"http://ns.adobe.com/xap/1.0/", "http://www.aiim.org/pdfa/ns/id/", "http://www.w3.org/XML/1998/namespace"}

// packet reads an XMP packet: the text of each property by its name.
func (c *checker) packet(data []byte) map[string]string {
	fields := map[string]string{}
	c.need(utf8.Valid(data), "6.6.2.1", "the packet is not UTF-8")
	d := xml.NewDecoder(strings.NewReader(string(data)))
	name := ""
	for {
		token, err := d.Token()
		if err != nil {
			c.need(errors.Is(err, io.EOF), "6.6.2.1", "the packet is not well-formed: %v", err)
			return fields
		}
		switch t := token.(type) {
		case xml.ProcInst:
			c.need(t.Target == "xpacket" && !strings.Contains(string(t.Inst), "bytes=") && !strings.Contains(string(t.Inst), "encoding="), "6.6.2.1", "packet mark %q", t.Inst)
		case xml.StartElement:
			c.need(slices.Contains(predefined, t.Name.Space), "6.6.2.3", "property of the schema %q", t.Name.Space)
			if t.Name.Space != predefined[1] {
				name = t.Name.Local
			}
		case xml.CharData:
			fields[name] += strings.TrimSpace(string(t))
		}
	}
}

// eachObject checks what holds for objects of every kind.
func (c *checker) eachObject() {
	c.need(len(c.objects) <= 8388607, "6.1.13", "%d objects", len(c.objects))
	for _, o := range c.objects {
		if s, ok := o.(stream); ok {
			c.streamOf(s.dict)
		}
		c.walk(o)
	}
}

func (c *checker) streamOf(d dict) {
	for _, key := range []string{"/F", "/FFilter", "/FDecodeParms"} {
		c.need(d[key] == nil, "6.1.7.1", "a stream has %s", key)
	}
	// Only this filter is ever written; LZW and encryption are not allowed.
	c.need(d["/Filter"] == nil || d["/Filter"] == "/FlateDecode", "6.1.7.2", "filter %v", d["/Filter"])
}

// banned are keys of dictionaries that must not be, or that nothing written here has a
// use for, with their clauses.
var banned = map[string]string{
	"/TR": "6.2.5", "/TR2": "6.2.5", "/HTP": "6.2.5", "/HT": "6.2.5", "/OPI": "6.2.8", "/Alternates": "6.2.8", "/Interpolate": "6.2.8",
	"/PS": "6.2.9", "/Ref": "6.2.9", "/SMask": "6.2.10", "/BM": "6.2.10", "/CA": "6.2.10", "/ca": "6.2.10", "/Group": "6.2.10",
	"/CIDSet": "6.2.11.4.2", "/CharSet": "6.2.11.4.2", "/AcroForm": "6.4.1", "/A": "6.5.1", "/AA": "6.5.2", "/OpenAction": "6.5.2", "/JS": "6.5.1", "/JavaScript": "6.5.1",
	"/AS": "6.9", "/AlternatePresentations": "6.10", "/PresSteps": "6.10", "/Requirements": "6.11", "/Perms": "6.1.12", "/Encrypt": "6.1.3",
}

func (c *checker) walk(v any) {
	switch v := v.(type) {
	case stream:
		c.walk(v.dict)
	case dict:
		for key, x := range v {
			if clause := banned[key]; clause != "" {
				c.fault(clause, "%s is used", key)
			}
			c.need(len(key) <= 128 && utf8.ValidString(key), "6.1.8, 6.1.13", "name %q", key)
			c.walk(x)
		}
	case []any:
		for _, x := range v {
			c.walk(x)
		}
	case string:
		limit := 32767
		if strings.HasPrefix(v, "/") {
			limit = 128
		}
		c.need(len(v) <= 2*limit && utf8.ValidString(v), "6.1.13", "a string of %d bytes", len(v))
	case float64:
		c.need(math.Abs(v) <= 2147483647, "6.1.13", "the number %g", v)
	}
}

// catalog checks what the catalog leads to, apart from the pages.
func (c *checker) catalog() {
	root := c.dict(c.trailer["/Root"])
	intents := c.list(root["/OutputIntents"])
	if len(intents) != 1 {
		c.fault("6.2.3", "%d output intents", len(intents))
	} else {
		c.intent(c.dict(intents[0]))
	}
	oc := c.dict(root["/OCProperties"])
	d := c.dict(oc["/D"])
	c.need(text(d["/Name"]) != "", "6.9", "the layers' configuration has no name")
	groups, order := c.list(oc["/OCGs"]), c.list(d["/Order"])
	for _, g := range groups {
		c.need(slices.Contains(order, g), "6.9", "a layer is not in the order")
		c.need(text(c.dict(g)["/Name"]) != "", "6.9", "a layer has no name")
	}
	c.attachments(root)
}

// intent checks the output intent and its profile's header (ISO 15076-1, 7.2).
func (c *checker) intent(d dict) {
	c.need(d["/S"] == "/GTS_PDFA1" && text(d["/OutputConditionIdentifier"]) != "", "6.2.3", "intent %v", d)
	p, _ := c.get(d["/DestOutputProfile"]).(stream)
	if len(p.data) < 132 {
		c.fault("6.2.3", "no profile")
		return
	}
	h := p.data
	c.need(int(binary.BigEndian.Uint32(h)) == len(h) && string(h[36:40]) == "acsp", "6.2.3", "the profile is damaged")
	c.need(h[8] <= 4 && (string(h[12:16]) == "mntr" || string(h[12:16]) == "prtr") && string(h[16:20]) == "RGB " && p.dict["/N"] == 3.0, "6.2.3", "profile of version %d, %q, %v components", h[8], h[12:20], p.dict["/N"])
}

// attachments checks embedded files: none in part 2, with all that part 3 asks.
func (c *checker) attachments(root dict) {
	names := c.list(c.dict(c.dict(root["/Names"])["/EmbeddedFiles"])["/Names"])
	if c.part == 2 {
		c.need(len(names) == 0 && root["/AF"] == nil, "6.8", "files are attached")
		return
	}
	c.need(len(names) > 0, "19005-3, 6.8", "nothing is attached")
	for i := 1; i < len(names); i += 2 {
		spec := c.dict(names[i])
		f, _ := c.get(c.dict(spec["/EF"])["/F"]).(stream)
		subtype, _ := f.dict["/Subtype"].(string)
		c.need(text(spec["/F"]) != "" && text(spec["/UF"]) != "" && text(spec["/Desc"]) != "", "19005-3, 6.8", "file specification %v", spec)
		c.need(spec["/AFRelationship"] == "/Source" && slices.Contains(c.list(root["/AF"]), names[i]), "19005-3, 6.8", "%s stands in no relation", text(spec["/F"]))
		c.need(strings.Contains(subtype, "/") && c.dict(f.dict["/Params"])["/ModDate"] != nil, "19005-3, 6.8", "%s: %v", text(spec["/F"]), f.dict)
		c.need(c.dict(f.dict["/Params"])["/Size"] == float64(len(f.data)), "19005-3, 6.8", "%s has %d bytes", text(spec["/F"]), len(f.data))
	}
}
