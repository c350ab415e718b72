package pdf

import (
	"crypto/md5" // the sum that PDF asks for; it keeps nothing secret
	"encoding/xml"
	"fmt"
	"strings"
	"time"
	"unicode"
)

// Attachment is a file that a document carries, such as what it was made from.
type Attachment struct {
	Name string // with its ending
	Type string // media type
	What string // for people
	Data []byte
}

// writeArchive writes what makes a PDF one for archives and returns the entries of the
// catalog: metadata (ISO 19005-2, 6.6.2), the colour space in which greys are meant
// (6.2.3), and what is attached (ISO 19005-3, 6.8).
func (d *Document) writeArchive() string {
	icc := d.out.stream("/N 3", compress(profile()))
	meta := d.metadata()
	n := d.out.reserve(1)
	d.out.plainStream(n, "/Type/Metadata/Subtype/XML", meta)
	return fmt.Sprintf("/Metadata %d 0 R/OutputIntents[<</Type/OutputIntent/S/GTS_PDFA1/OutputConditionIdentifier(sRGB)/Info(sRGB, IEC 61966-2-1)/DestOutputProfile %d 0 R>>]%s",
		n, icc, d.writeAttachments())
}

// part returns the part of ISO 19005 that the document follows: files of any kind may
// be attached by part 3 only; apart from that parts 2 and 3 ask for the same.
func (d *Document) part() int {
	if len(d.info.Attached) > 0 {
		return 3
	}
	return 2
}

// metadata is the document's XMP packet (ISO 16684-1). It says the same as Info.
func (d *Document) metadata() []byte {
	var b strings.Builder
	b.WriteString("<?xpacket begin=\"\uFEFF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n" +
		`<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">` +
		`<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/">` + "\n")
	fmt.Fprintf(&b, "<pdfaid:part>%d</pdfaid:part><pdfaid:conformance>U</pdfaid:conformance>\n", d.part())
	for _, x := range []struct{ name, text string }{{"title", d.info.Title}, {"description", d.info.Subject}} {
		fmt.Fprintf(&b, "<dc:%s><rdf:Alt><rdf:li xml:lang=\"x-default\">", x.name)
		_ = xml.EscapeText(&b, []byte(x.text)) // a strings.Builder takes everything
		fmt.Fprintf(&b, "</rdf:li></rdf:Alt></dc:%s>\n", x.name)
	}
	stamp := d.info.Created.UTC().Format(time.RFC3339)
	fmt.Fprintf(&b, "<xmp:CreateDate>%s</xmp:CreateDate><xmp:ModifyDate>%s</xmp:ModifyDate>\n", stamp, stamp)
	b.WriteString("</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>")
	return []byte(b.String())
}

// writeAttachments writes the files that the document carries and returns the entries
// of the catalog that name them.
func (d *Document) writeAttachments() string {
	var names, refs strings.Builder
	for _, a := range d.info.Attached {
		file := d.out.stream(fmt.Sprintf("/Type/EmbeddedFile/Subtype%s/Params<</Size %d/ModDate(D:%s)/CheckSum<%X>>>",
			nameOf(a.Type), len(a.Data), d.stamp(), md5.Sum(a.Data)), compress(a.Data))
		spec := d.out.object("<</Type/Filespec/F %s/UF %s/Desc %s/AFRelationship/Source/EF<</F %d 0 R/UF %d 0 R>>>>",
			text(a.Name), text(a.Name), text(a.What), file, file)
		fmt.Fprintf(&names, "%s %d 0 R ", text(a.Name), spec)
		fmt.Fprintf(&refs, "%d 0 R ", spec)
	}
	if refs.Len() == 0 {
		return ""
	}
	return fmt.Sprintf("/AF[%s]/Names<</EmbeddedFiles<</Names[%s]>>>>", refs.String(), names.String())
}

// stamp is when the document was made, as PDF writes it (7.9.4).
func (d *Document) stamp() string { return d.info.Created.UTC().Format("20060102150405Z") }

// nameOf writes a name; what is not a letter, a digit or one of "-.+" becomes #hh (7.3.5).
func nameOf(s string) string {
	var b strings.Builder
	for _, c := range []byte(s) {
		if c < 0x80 && (unicode.IsLetter(rune(c)) || unicode.IsDigit(rune(c)) || strings.IndexByte("-.+", c) >= 0) {
			b.WriteByte(c)
		} else {
			fmt.Fprintf(&b, "#%02X", c)
		}
	}
	return "/" + b.String()
}

// plain leaves out what neither XML nor people can read, so that all parts of a
// document can say the same.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == 0xFFFE || r == 0xFFFF {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
}
