package xlsx

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"io"
	"path"

	"nogging/internal/words"

	"github.com/xuri/excelize/v2"
)

// Limits of what is read, so that a small file cannot fill the memory: what a
// workbook may unpack to in bytes, and the cells from the first column to the last
// of each row, taken together. Price lists of a merchant's whole range stay far below.
const (
	maxUnpacked = 128 << 20
	maxCells    = 4_000_000
)

// Rows reads the first sheet of a workbook, or the one named, as rows of text:
// numbers as they are stored, not as they are shown.
func Rows(data []byte, sheet string) ([][]string, error) {
	if err := plainXML(data); err != nil {
		return nil, words.Err(words.F("this is no workbook that can be read: %s", words.OfErr(err)))
	}
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true, UnzipSizeLimit: maxUnpacked})
	if err != nil {
		return nil, words.Err(words.F("this is no workbook that can be read: %s", words.OfErr(err)))
	}
	defer f.Close()
	names := f.GetSheetList()
	if len(names) == 0 {
		return nil, words.Err("the workbook has no sheet")
	}
	if sheet == "" {
		sheet = names[0]
	}
	return rowsOf(f, sheet)
}

// plainXML refuses workbooks whose parts declare a document type, by which entities
// multiply or lead to other files. Packages must not have any (ECMA-376-2, annex B).
func plainXML(data []byte) error {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return err
	}
	for _, part := range z.File {
		if ext := path.Ext(part.Name); ext != ".xml" && ext != ".rels" {
			continue
		}
		text, err := part.Open()
		if err != nil {
			return err
		}
		typed := declaresType(text)
		text.Close()
		if typed {
			return words.Err(words.F("%s declares a document type", part.Name))
		}
	}
	return nil
}

// declaresType reports whether a declaration stands before the first element.
func declaresType(text io.Reader) bool {
	d := xml.NewDecoder(io.LimitReader(text, 1<<20))
	for {
		token, err := d.RawToken()
		if err != nil {
			return false // whoever reads it whole says what is wrong
		}
		switch token.(type) {
		case xml.Directive:
			return true
		case xml.StartElement:
			return false
		}
	}
}

// rowsOf reads the rows of a sheet up to the last that holds anything.
func rowsOf(f *excelize.File, sheet string) ([][]string, error) {
	rows, err := f.Rows(sheet)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var list [][]string
	filled, cells := 0, 0
	for rows.Next() {
		row, err := rows.Columns()
		if err != nil {
			return nil, err
		}
		if cells += 1 + len(row); cells > maxCells {
			return nil, words.ErrFix(words.F("the sheet has more than %d million cells", maxCells/1_000_000), "leave out what is no price")
		}
		if list = append(list, row); len(row) > 0 {
			filled = len(list)
		}
	}
	return list[:filled], rows.Error()
}
