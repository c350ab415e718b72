package yamlfile

import (
	"strings"
	"unicode/utf8"

	"nogging/internal/finding"
	"nogging/internal/words"
)

// Limits that keep reading fast and small whatever the file holds. Plans of
// 20 000 walls take about 6 MB.
const (
	MaxFile     = 32 << 20  // bytes of a file
	maxBlock    = 8 << 20   // bytes of one top-level key, or of one entry of its list
	maxEntries  = 1_000_000 // list entries of a file
	maxFindings = 1000      // findings listed for a file
	maxShown    = 200       // characters of a line that a finding shows
)

// source is the text of a file with the places where its lines begin.
type source struct {
	file   string
	text   string
	starts []int32
}

// newSource brings data to one form: no byte order mark, lines that end in a
// line feed, and blanks for the tabs that stand between words.
func newSource(file string, data []byte) *source {
	text := strings.TrimPrefix(string(data), "\ufeff")
	if strings.Contains(text, "\r") {
		text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	}
	if strings.Contains(text, "\t") {
		text = spaceTabs(text)
	}
	s := &source{file: file, text: text, starts: []int32{0}}
	for i := range len(text) {
		if text[i] == '\n' {
			s.starts = append(s.starts, int32(i+1))
		}
	}
	return s
}

// spaceTabs puts a blank for every tab but those that indent a line, which
// YAML forbids and JSON allows.
func spaceTabs(text string) string {
	if strings.HasPrefix(strings.TrimLeft(text, " \t\n"), "{") {
		return strings.ReplaceAll(text, "\t", " ")
	}
	b := []byte(text)
	indenting := true
	for i, c := range b {
		switch c {
		case '\n':
			indenting = true
		case ' ':
		case '\t':
			if !indenting {
				b[i] = ' '
			}
		default:
			indenting = false
		}
	}
	return string(b)
}

// line returns the text of line n, counted from 1, shortened where it is too
// long to show.
func (s *source) line(n int) string {
	if n < 1 || n > len(s.starts) {
		return ""
	}
	text := s.text[s.starts[n-1]:]
	if n < len(s.starts) {
		text = s.text[s.starts[n-1] : s.starts[n]-1]
	}
	if len(text) > maxShown {
		text = strings.ToValidUTF8(text[:maxShown], "") + "…"
	}
	return strings.TrimRight(text, " ")
}

// place returns line and column as a finding shows them.
func (s *source) place(line, column int) finding.Place {
	return finding.Place{File: s.file, Line: line, Column: column, Text: s.line(line)}
}

// unreadable tells why a file cannot be read at all, if so.
func (s *source) unreadable(size int) (finding.Finding, bool) {
	bad := finding.Finding{Severity: finding.Error, Place: finding.Place{File: s.file}}
	switch {
	case size > MaxFile:
		bad.Code = "file-too-large"
		bad.What = words.F("the file has %d MB; %d MB can be read", size>>20, MaxFile>>20)
		bad.Fix = "split the project into several plans, one a building or a storey"
	case !utf8.ValidString(s.text):
		before := validPrefix(s.text)
		column := utf8.RuneCountInString(before[strings.LastIndex(before, "\n")+1:]) + 1
		bad.Code = "file-encoding"
		bad.Place = s.place(strings.Count(before, "\n")+1, column)
		bad.Place.Text = strings.ToValidUTF8(bad.Place.Text, "\ufffd")
		bad.What = "a character here is not UTF-8 text"
		bad.Fix = "save the file with the encoding UTF-8"
	case strings.Trim(s.text, " \n\t") == "":
		bad.Code = "file-empty"
		bad.What = "the file is empty"
		bad.Fix = "start from the plan that 'nogging new' writes"
	default:
		return finding.Finding{}, false
	}
	return bad, true
}

// validPrefix returns the text up to the first byte that is not UTF-8.
func validPrefix(text string) string {
	for i, r := range text {
		if r == utf8.RuneError && !strings.HasPrefix(text[i:], "\ufffd") {
			return text[:i]
		}
	}
	return text
}

// block is a stretch of a file that is read by itself, so that a mistake in
// one wall does not take the others with it: a top-level key with its value,
// or one entry of the list that stands under a top-level key.
type block struct {
	line, last int  // its first and last line, counted from 1
	entry      bool // an entry of the list whose key is the last block without entry
}

// split cuts a file into blocks. It returns nil when the file is not a plain
// list of keys from the first column on, as with JSON; and the line at which a
// second document begins, or 0.
func (s *source) split() (blocks []block, second int) {
	list := -1       // indentation of the dashes of the list that is open
	opened := false  // the last line was a key without a value
	started := false // a block is open
	begin := func(line int, entry bool) {
		blocks = append(blocks, block{line: line, entry: entry})
		started = true
	}
	end := len(s.starts)
	for n := 1; n <= len(s.starts); n++ {
		line := s.rawLine(n)
		body := strings.TrimLeft(line, " \t")
		indent := len(line) - len(body)
		switch {
		case body == "" || body[0] == '#' || !started && line[0] == '%':
		case isMarker(line):
			if started {
				end, second = n-1, s.contentAfter(n)
				n = len(s.starts)
			}
		case indent == 0 && isKey(line):
			begin(n, false)
			list, opened = -1, isBareKey(line)
		case isDash(body) && (opened || indent == list):
			begin(n, true)
			list, opened = indent, false
		case !started:
			return nil, 0
		default:
			opened = false
		}
	}
	for i := range blocks {
		blocks[i].last = end
		if i+1 < len(blocks) {
			blocks[i].last = blocks[i+1].line - 1
		}
	}
	return blocks, second
}

// rawLine returns line n without its line feed.
func (s *source) rawLine(n int) string { return strings.TrimSuffix(s.lines(n, n), "\n") }

// lines returns the text of the lines from first to last, both included.
func (s *source) lines(first, last int) string {
	if last >= len(s.starts) {
		return s.text[s.starts[first-1]:]
	}
	return s.text[s.starts[first-1]:s.starts[last]]
}

// contentAfter returns the number of the first line after line n that says
// something, or 0.
func (s *source) contentAfter(n int) int {
	for n++; n <= len(s.starts); n++ {
		line := strings.TrimSpace(s.rawLine(n))
		if line != "" && line[0] != '#' && !isMarker(line) {
			return n
		}
	}
	return 0
}

// isMarker reports whether the line ends or begins a document.
func isMarker(line string) bool {
	rest, ok := strings.CutPrefix(line, "---")
	if !ok {
		rest, ok = strings.CutPrefix(line, "...")
	}
	rest = strings.TrimSpace(rest)
	return ok && (rest == "" || rest[0] == '#')
}

// isDash reports whether an entry of a list begins here.
func isDash(body string) bool { return body == "-" || strings.HasPrefix(body, "- ") }

// isKey reports whether the line, which is not indented, begins with a key.
func isKey(line string) bool {
	return line[0] != '-' && strings.IndexByte("?{}[],&*!|>%@`#", line[0]) < 0 &&
		(strings.Contains(line, ": ") || isBareKey(line))
}

// isBareKey reports whether the line is a key without a value.
func isBareKey(line string) bool {
	if i := strings.Index(line, " #"); i >= 0 {
		line = line[:i]
	}
	return strings.HasSuffix(strings.TrimRight(line, " "), ":")
}
