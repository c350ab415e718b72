package xlsx

import (
	"bytes"
	"fmt"

	"github.com/xuri/excelize/v2"
)

// maxUnpacked bounds what a workbook may unpack to.
const maxUnpacked = 256 << 20

// Rows reads the first sheet of a workbook, or the one named, as rows of text:
// numbers as they are stored, not as they are shown.
func Rows(data []byte, sheet string) ([][]string, error) {
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true, UnzipSizeLimit: maxUnpacked})
	if err != nil {
		return nil, fmt.Errorf("this is no workbook that can be read: %w", err)
	}
	defer f.Close()
	names := f.GetSheetList()
	if len(names) == 0 {
		return nil, fmt.Errorf("the workbook has no sheet")
	}
	if sheet == "" {
		sheet = names[0]
	}
	return f.GetRows(sheet)
}
