package dxf

import (
	"bytes"
	"encoding/binary"
	"encoding/hex"
	"math"
	"strconv"
	"strings"

	"nogging/internal/words"
)

// tag is one group of a file: its code and its value as text, not yet decoded.
type tag struct {
	code int
	text string
	line int // in the file, of the code; of a binary file the number of the group
}

// longest is the greatest number that is taken for a length or coordinate.
const longest = 1e12

// float returns the value as a number, 0 where it is none that can be used.
func (t tag) float() float64 {
	v, err := strconv.ParseFloat(strings.TrimSpace(t.text), 64)
	if err != nil || math.IsNaN(v) || math.Abs(v) > longest {
		return 0
	}
	return v
}

// int returns the value as a whole number, 0 where it is none.
func (t tag) int() int {
	v, err := strconv.ParseInt(strings.TrimSpace(t.text), 10, 32)
	if err != nil {
		return 0
	}
	return int(v)
}

// mostTags bounds the groups of a file, and with them the memory.
const mostTags = 8_000_000

var tooManyTags = words.F("it has more than %d groups", mostTags)

// binarySentinel begins binary files.
const binarySentinel = "AutoCAD Binary DXF\r\n\x1a\x00"

// readTags returns the groups of a file in order. What follows a group that cannot
// be read is left out, and broken says why.
func readTags(data []byte) (tags []tag, broken words.Text) {
	if bytes.HasPrefix(data, []byte(binarySentinel)) {
		return binaryTags(data[len(binarySentinel):])
	}
	return textTags(string(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))))
}

// textTags reads pairs of lines. Lines are parted before anything is decoded, so
// that bytes of any code page leave the pairs whole.
func textTags(text string) (tags []tag, broken words.Text) {
	line := 0
	next := func() string {
		var s string
		s, text, _ = strings.Cut(text, "\n")
		line++
		return strings.TrimSuffix(s, "\r")
	}
	for text != "" {
		code := strings.TrimSpace(next())
		if code == "" && strings.TrimSpace(text) == "" {
			break
		}
		n, err := strconv.Atoi(code)
		if err != nil || text == "" {
			return tags, words.F("line %d holds no group code followed by a value", line)
		}
		if len(tags) == mostTags {
			return tags, tooManyTags
		}
		at := line
		if value := next(); n != 999 {
			tags = append(tags, tag{n, value, at})
		}
	}
	return tags, ""
}

// binaryTags reads groups of a binary file. Codes take one byte to R12 and two
// afterwards; the first group is always 0 SECTION, which shows which it is.
func binaryTags(data []byte) (tags []tag, broken words.Text) {
	wide := len(data) > 1 && data[1] == 0
	for len(data) > 0 {
		code, rest, ok := binaryCode(data, wide)
		var value string
		if ok {
			value, rest, ok = binaryValue(code, rest)
		}
		if !ok {
			return tags, words.F("it ends within group %d", len(tags)+1)
		}
		if len(tags) == mostTags {
			return tags, tooManyTags
		}
		data = rest
		if code != 999 {
			tags = append(tags, tag{code, value, len(tags) + 1})
		}
	}
	return tags, ""
}

func binaryCode(data []byte, wide bool) (code int, rest []byte, ok bool) {
	switch {
	case wide && len(data) >= 2:
		return int(binary.LittleEndian.Uint16(data)), data[2:], true
	case !wide && data[0] != 255:
		return int(data[0]), data[1:], true
	case !wide && len(data) >= 3:
		return int(binary.LittleEndian.Uint16(data[1:])), data[3:], true
	}
	return 0, nil, false
}

// forms says how values are stored in binary files, by the last code of each range.
var forms = []struct {
	last int
	form byte
}{
	{9, 's'}, {59, 'd'}, {79, 2}, {89, 's'}, {99, 4}, {109, 's'}, {149, 'd'}, {169, 8}, {179, 2}, {209, 's'}, {239, 'd'},
	{269, 's'}, {289, 2}, {299, 1}, {309, 's'}, {319, 'c'}, {369, 's'}, {389, 2}, {399, 's'}, {409, 2}, {419, 's'}, {429, 4},
	{439, 's'}, {459, 4}, {469, 'd'}, {1003, 's'}, {1004, 'c'}, {1009, 's'}, {1059, 'd'}, {1070, 2}, {1071, 4},
}

// binaryValue reads a value of the form that its code asks for.
func binaryValue(code int, data []byte) (value string, rest []byte, ok bool) {
	form := byte('s')
	for _, f := range forms {
		if code <= f.last {
			form = f.form
			break
		}
	}
	switch form {
	case 's':
		text, rest, ok := bytes.Cut(data, []byte{0})
		return string(text), rest, ok
	case 'c':
		if len(data) == 0 || len(data) < 1+int(data[0]) {
			return "", nil, false
		}
		return hex.EncodeToString(data[1 : 1+int(data[0])]), data[1+int(data[0]):], true
	case 'd':
		if len(data) < 8 {
			return "", nil, false
		}
		v := math.Float64frombits(binary.LittleEndian.Uint64(data))
		return strconv.FormatFloat(v, 'g', -1, 64), data[8:], true
	}
	size := int(form)
	if len(data) < size {
		return "", nil, false
	}
	var v uint64
	for i := range size {
		v |= uint64(data[i]) << (8 * i)
	}
	shift := 64 - 8*size
	return strconv.FormatInt(int64(v<<shift)>>shift, 10), data[size:], true
}
