// Package pdf writes drawing.Scenes as the pages of one PDF (ISO 32000-1,
// version 1.7) that can be kept in archives (ISO 19005-2 level U, or 19005-3 level U
// where files are attached; clauses from memory): text in embedded subsets of the faces
// in which drawings are measured, one optional layer a drawing layer, an outline of
// bookmarks, metadata, greys meant in sRGB. It takes no clock: the same scenes give the
// same bytes.
//
// Render turns a scene into a page and may run in several goroutines at once; a
// Document then writes pages in order, each as soon as it is added, so that a
// pack of thousands of sheets needs little memory.
package pdf

import (
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf16"

	"nogging/internal/drawing"
)

// perMM is the number of points, the unit of PDF, in a millimetre.
const perMM = 72 / 25.4

// Info is what the document says of itself. Created stamps it; zero stands for
// the first day of 2000, so that output does not depend on when it was made. What
// is attached goes with the document.
type Info struct {
	Title    string
	Subject  string
	Created  time.Time
	Attached []Attachment
}

// Numbers of the objects that are known before the first page.
const (
	catalogObject = iota + 1
	pagesObject
	resourcesObject
	infoObject
	outlineObject
	fixedObjects = outlineObject
)

// Document is a PDF that is being written.
type Document struct {
	out       *file
	info      Info
	layers    []int // object of each layer
	pages     []int // object of each page
	linked    []linked
	bookmarks []bookmark
	used      [2]glyphSet
}

// New begins a document.
func New(w io.Writer, info Info) *Document {
	if info.Created.IsZero() {
		info.Created = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	info.Title, info.Subject = plain(info.Title), plain(info.Subject)
	d := &Document{out: newFile(w, fixedObjects), info: info}
	for i := range d.used {
		d.used[i] = glyphSet{}
	}
	for _, n := range drawing.LayerNames() {
		d.layers = append(d.layers, d.out.object("<</Type/OCG/Name %s>>", text(string(n))))
	}
	return d
}

// Add writes a page.
func (d *Document) Add(p *Page) {
	for i := range d.used {
		d.used[i].join(p.used[i])
	}
	content := d.out.stream("", p.content)
	annots := ""
	if len(p.links) > 0 {
		object := d.out.reserve(1)
		annots = fmt.Sprintf("/Annots %d 0 R", object)
		d.linked = append(d.linked, linked{object, p})
	}
	d.pages = append(d.pages, d.out.object("<</Type/Page/Parent %d 0 R/Resources %d 0 R/MediaBox[0 0 %s %s]/Contents %d 0 R%s>>",
		pagesObject, resourcesObject, points(p.size.Width), points(p.size.Height), content, annots))
}

// linked is a page whose links are written once every page has a number.
type linked struct {
	object int
	page   *Page
}

// writeLinks writes the links of all pages; those to pages that are not there are
// left out.
func (d *Document) writeLinks() {
	for _, l := range d.linked {
		var s strings.Builder
		for _, link := range l.page.links {
			if link.Page < 1 || link.Page > len(d.pages) {
				continue
			}
			h, r := l.page.size.Height, link.Area
			fmt.Fprintf(&s, "<</Type/Annot/Subtype/Link/F 4/Border[0 0 0]/Rect[%s %s %s %s]/Dest[%d 0 R/Fit]>>",
				points(r.Min.X), points(h-r.Max.Y), points(r.Max.X), points(h-r.Min.Y), d.pages[link.Page-1])
		}
		d.out.fixed(l.object, "[%s]", s.String())
	}
}

// points writes a length on paper in points.
func points(mm float64) string { return strings.TrimSpace(string(appendNum(nil, mm*perMM))) }

// Pages returns the number of pages so far.
func (d *Document) Pages() int { return len(d.pages) }

// bookmark is an entry of the outline.
type bookmark struct {
	title string
	level int
	page  int // index
}

// Bookmark enters the last page in the outline. Level 0 is outermost; a level
// is at most one deeper than that of the entry before.
func (d *Document) Bookmark(title string, level int) {
	deepest := 0
	if n := len(d.bookmarks); n > 0 {
		deepest = d.bookmarks[n-1].level + 1
	}
	d.bookmarks = append(d.bookmarks, bookmark{title, max(0, min(level, deepest)), len(d.pages) - 1})
}

// Close writes what comes after the last page. It returns the first error met
// in writing the document.
func (d *Document) Close() error {
	d.writeResources()
	var kids strings.Builder
	for _, p := range d.pages {
		fmt.Fprintf(&kids, "%d 0 R ", p)
	}
	d.out.fixed(pagesObject, "<</Type/Pages/Count %d/Kids[%s]>>", len(d.pages), kids.String())
	d.writeLinks()
	d.writeOutline()
	var layers strings.Builder
	for _, l := range d.layers {
		fmt.Fprintf(&layers, "%d 0 R ", l)
	}
	mode := ""
	if len(d.bookmarks) > 0 {
		mode = "/PageMode/UseOutlines"
	}
	d.out.fixed(catalogObject, "<</Type/Catalog/Pages %d 0 R/Outlines %d 0 R%s/Lang(en)/ViewerPreferences<</DisplayDocTitle true>>/OCProperties<</OCGs[%s]/D<</Name(Layers)/Order[%s]>>>>%s>>",
		pagesObject, outlineObject, mode, layers.String(), layers.String(), d.writeArchive())
	stamp := d.stamp()
	d.out.fixed(infoObject, "<</Title %s/Subject %s/CreationDate(D:%s)/ModDate(D:%s)>>", text(d.info.Title), text(d.info.Subject), stamp, stamp)
	return d.out.close(catalogObject, infoObject)
}

// writeResources writes what all pages share: fonts and layers.
func (d *Document) writeResources() {
	var s strings.Builder
	s.WriteString("<</Font<<")
	for i := range d.used {
		fmt.Fprintf(&s, "/F%d %d 0 R", i, d.writeFont(faces[i](), d.used[i]))
	}
	s.WriteString(">>/Properties<<")
	for i, l := range d.layers {
		fmt.Fprintf(&s, "/L%d %d 0 R", i, l)
	}
	s.WriteString(">>>>")
	d.out.fixed(resourcesObject, "%s", s.String())
}

// writeOutline writes the tree of bookmarks. Its inner levels are closed.
func (d *Document) writeOutline() {
	first := d.out.reserve(len(d.bookmarks))
	ref := func(name string, i int) string {
		if i < 0 {
			return ""
		}
		return fmt.Sprintf("/%s %d 0 R", name, first+i)
	}
	top := d.children(-1)
	if len(top) > 0 {
		d.out.fixed(outlineObject, "<</Type/Outlines/Count %d%s%s>>", len(top), ref("First", top[0]), ref("Last", top[len(top)-1]))
	} else {
		d.out.fixed(outlineObject, "<</Type/Outlines/Count 0>>")
	}
	d.writeSiblings(top, fmt.Sprintf("/Parent %d 0 R", outlineObject), first, ref)
}

func (d *Document) writeSiblings(list []int, parent string, first int, ref func(string, int) string) {
	for n, i := range list {
		before, after := -1, -1
		if n > 0 {
			before = list[n-1]
		}
		if n+1 < len(list) {
			after = list[n+1]
		}
		b, inner := d.bookmarks[i], d.children(i)
		down := ""
		if len(inner) > 0 {
			down = ref("First", inner[0]) + ref("Last", inner[len(inner)-1]) + fmt.Sprintf("/Count %d", -len(inner))
		}
		d.out.fixed(first+i, "<</Title %s/Dest[%d 0 R/Fit]%s%s%s%s>>", text(b.title), d.pages[max(b.page, 0)], parent, ref("Prev", before), ref("Next", after), down)
		d.writeSiblings(inner, ref("Parent", i), first, ref)
	}
}

// children lists the bookmarks right below one; below -1, the outermost.
func (d *Document) children(of int) []int {
	level := 0
	if of >= 0 {
		level = d.bookmarks[of].level + 1
	}
	var list []int
	for i := of + 1; i < len(d.bookmarks) && d.bookmarks[i].level >= level; i++ {
		if d.bookmarks[i].level == level {
			list = append(list, i)
		}
	}
	return list
}

// text writes a text string in UTF-16 with a byte order mark.
func text(s string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	b.WriteString(">")
	return b.String()
}
