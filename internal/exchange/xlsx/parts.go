package xlsx

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

const (
	mainSpace     = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	relationSpace = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	packageSpace  = "http://schemas.openxmlformats.org/package/2006/relationships"
	contentType   = "application/vnd.openxmlformats-officedocument.spreadsheetml."
)

const packageRelations = `<Relationships xmlns="` + packageSpace + `">` +
	`<Relationship Id="rId1" Type="` + relationSpace + `/officeDocument" Target="xl/workbook.xml"/>` +
	`<Relationship Id="rId2" Type="http://schemas.openxmlformats.org/package/2006/relationships/metadata/core-properties" Target="docProps/core.xml"/></Relationships>`

func contentTypes(sheets int) string {
	var b strings.Builder
	b.WriteString(`<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
		`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
		`<Default Extension="xml" ContentType="application/xml"/>` +
		`<Override PartName="/docProps/core.xml" ContentType="application/vnd.openxmlformats-package.core-properties+xml"/>` +
		`<Override PartName="/xl/workbook.xml" ContentType="` + contentType + `sheet.main+xml"/>` +
		`<Override PartName="/xl/styles.xml" ContentType="` + contentType + `styles+xml"/>`)
	for i := range sheets {
		fmt.Fprintf(&b, `<Override PartName="/xl/worksheets/sheet%d.xml" ContentType="%sworksheet+xml"/>`, i+1, contentType)
	}
	b.WriteString(`</Types>`)
	return b.String()
}

func coreProperties(title string) string {
	return `<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:title>` +
		escape(title) + `</dc:title></cp:coreProperties>`
}

// workbook lists the sheets, with the print area and the repeated head row of each.
func workbook(sheets []*Sheet, names []string) string {
	var b, defined strings.Builder
	b.WriteString(`<workbook xmlns="` + mainSpace + `" xmlns:r="` + relationSpace + `"><sheets>`)
	for i, s := range sheets {
		fmt.Fprintf(&b, `<sheet name="%s" sheetId="%d" r:id="rId%d"/>`, escape(names[i]), i+1, i+1)
		head := s.headRow()
		fmt.Fprintf(&defined, `<definedName name="_xlnm.Print_Area" localSheetId="%d">'%s'!$A$1:$%s$%d</definedName>`, i, escape(names[i]), letters(len(s.Columns)-1), s.Next()-1)
		fmt.Fprintf(&defined, `<definedName name="_xlnm.Print_Titles" localSheetId="%d">'%s'!$%d:$%d</definedName>`, i, escape(names[i]), head, head)
	}
	b.WriteString(`</sheets><definedNames>` + defined.String() + `</definedNames><calcPr fullCalcOnLoad="1"/></workbook>`)
	return b.String()
}

func workbookRelations(sheets int) string {
	var b strings.Builder
	b.WriteString(`<Relationships xmlns="` + packageSpace + `">`)
	for i := range sheets {
		fmt.Fprintf(&b, `<Relationship Id="rId%d" Type="%s/worksheet" Target="worksheets/sheet%d.xml"/>`, i+1, relationSpace, i+1)
	}
	fmt.Fprintf(&b, `<Relationship Id="rId%d" Type="%s/styles" Target="styles.xml"/></Relationships>`, sheets+1, relationSpace)
	return b.String()
}

// Cell styles: for each format plain and bold, then the title and the lines below it.
const (
	formats    = 6
	titleStyle = 2 * formats
	lineStyle  = titleStyle + 1
)

// sides are where the formats' cells stand: numbers and their heads to the right, text
// and days to the left.
var sides = [formats]string{General: "left", Whole: "right", Two: "right", Four: "right", Date: "left", Time: "left"}

// styles lists the cell styles in the order that styleOf counts on.
func styles() string {
	var b strings.Builder
	b.WriteString(`<styleSheet xmlns="` + mainSpace + `"><numFmts count="3"><numFmt numFmtId="164" formatCode="#,##0.0000"/><numFmt numFmtId="165" formatCode="yyyy-mm-dd"/><numFmt numFmtId="166" formatCode="yyyy-mm-dd hh:mm"/></numFmts>` +
		`<fonts count="3"><font><sz val="10"/><name val="Arial"/></font><font><b/><sz val="10"/><name val="Arial"/></font><font><b/><sz val="14"/><name val="Arial"/></font></fonts>` +
		`<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>` +
		`<borders count="2"><border><left/><right/><top/><bottom/><diagonal/></border><border><left/><right/><top style="thin"/><bottom/><diagonal/></border></borders>` +
		`<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>`)
	fmt.Fprintf(&b, `<cellXfs count="%d">`, lineStyle+1)
	for format, number := range [formats]int{General: 0, Whole: 3, Two: 4, Four: 164, Date: 165, Time: 166} {
		for bold := range 2 {
			fmt.Fprintf(&b, `<xf numFmtId="%d" fontId="%d" fillId="0" borderId="%d" xfId="0" applyNumberFormat="1" applyFont="1" applyBorder="1" applyAlignment="1"><alignment horizontal="%s" vertical="top" wrapText="1"/></xf>`, number, bold, bold, sides[format])
		}
	}
	b.WriteString(`<xf numFmtId="0" fontId="2" fillId="0" borderId="0" xfId="0" applyFont="1"/>` +
		`<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0" applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf></cellXfs><cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`)
	return b.String()
}

func styleOf(f Format, bold bool) int {
	if bold {
		return 2*int(f) + 1
	}
	return 2 * int(f)
}

// headRow returns the number of the row of column heads.
func (s *Sheet) headRow() int { return len(s.Heading) + 1 }

// xml writes the sheet.
func (s *Sheet) xml() string {
	var b strings.Builder
	head := s.headRow()
	b.WriteString(`<worksheet xmlns="` + mainSpace + `"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>`)
	fmt.Fprintf(&b, `<sheetViews><sheetView workbookViewId="0"><pane ySplit="%d" topLeftCell="A%d" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><cols>`, head, head+1)
	for i, c := range s.Columns {
		fmt.Fprintf(&b, `<col min="%d" max="%d" width="%g" customWidth="1"/>`, i+1, i+1, c.Width)
	}
	b.WriteString(`</cols><sheetData>`)
	for i, text := range s.Heading {
		if i == 0 {
			fmt.Fprintf(&b, `<row r="1">%s</row>`, Text(text).xml("A1", titleStyle))
		} else {
			fmt.Fprintf(&b, `<row r="%d"%s>%s</row>`, i+1, tall(linesOf(text, s.width())), Text(text).xml(At(0, i+1), lineStyle))
		}
	}
	var heads []Cell
	for _, c := range s.Columns {
		heads = append(heads, Text(c.Head))
	}
	s.row(&b, head, row{heads, true})
	for i, r := range s.rows {
		s.row(&b, head+1+i, r)
	}
	b.WriteString(`</sheetData>`)
	if n := len(s.Heading); n > 1 && len(s.Columns) > 1 { // so that long lines run on below, not off the page
		fmt.Fprintf(&b, `<mergeCells count="%d">`, n-1)
		for i := 2; i <= n; i++ {
			fmt.Fprintf(&b, `<mergeCell ref="%s:%s"/>`, At(0, i), At(len(s.Columns)-1, i))
		}
		b.WriteString(`</mergeCells>`)
	}
	b.WriteString(`<pageMargins left="0.4" right="0.4" top="0.5" bottom="0.5" header="0.3" footer="0.3"/>`)
	fmt.Fprintf(&b, `<pageSetup paperSize="9" orientation="%s" fitToWidth="1" fitToHeight="0"/><headerFooter><oddFooter>&amp;L&amp;A&amp;R&amp;P/&amp;N</oddFooter></headerFooter></worksheet>`, s.orientation())
	return b.String()
}

// upright is how many characters beside each other an upright page takes at full size.
const upright = 100

// width returns how many characters the columns take together.
func (s *Sheet) width() float64 {
	width := 0.0
	for _, c := range s.Columns {
		width += c.Width
	}
	return width
}

// orientation says how a page lies.
func (s *Sheet) orientation() string {
	if s.width() <= upright {
		return "portrait"
	}
	return "landscape"
}

// row writes a row of the table, as high as its longest text asks for.
func (s *Sheet) row(b *strings.Builder, number int, r row) {
	lines := 1
	for k, c := range r.cells {
		lines = max(lines, linesOf(c.text, s.Columns[k].Width))
	}
	fmt.Fprintf(b, `<row r="%d"%s>`, number, tall(lines))
	for k, c := range r.cells {
		b.WriteString(c.xml(At(k, number), styleOf(s.Columns[k].Format, r.bold)))
	}
	b.WriteString(`</row>`)
}

// linesOf returns about how many lines a text takes in so many characters.
func linesOf(text string, width float64) int {
	lines, at := 1, 0.0
	for _, word := range strings.Fields(text) {
		n := float64(utf8.RuneCountInString(word))
		if at > 0 && at+n > width-1 {
			lines, at = lines+1, 0
		}
		at += n + 1
	}
	return lines
}

// tall is the attribute of rows of several lines: programs do not all find it themselves.
func tall(lines int) string {
	const line = 13 // points, of type of 10
	if lines < 2 {
		return ""
	}
	return fmt.Sprintf(` ht="%d" customHeight="1"`, line*lines)
}

func (c Cell) xml(at string, style int) string {
	formula := ""
	if c.formula != "" {
		formula = "<f>" + escape(c.formula) + "</f>"
	}
	switch {
	case c.number != "":
		return fmt.Sprintf(`<c r="%s" s="%d">%s<v>%s</v></c>`, at, style, formula, escape(c.number))
	case formula != "":
		return fmt.Sprintf(`<c r="%s" s="%d" t="str">%s<v>%s</v></c>`, at, style, formula, escape(c.text))
	case c.text != "":
		return fmt.Sprintf(`<c r="%s" s="%d" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, at, style, escape(c.text))
	}
	return fmt.Sprintf(`<c r="%s" s="%d"/>`, at, style)
}
