// Package pdfa holds a PDF against ISO 19005-2 and 19005-3, level U, clause by clause:
// documents that archives keep. What stands in the file it takes from another program,
// qpdf (Debian: qpdf), which reads it into JSON and checks its syntax; fonts are read by
// x/image's sfnt. The clauses are from memory. Only what the writers of this program may
// write is let pass: a kind of object that they never use is a fault by itself.
package pdfa

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
)

// ErrNoReader says that qpdf is not installed.
var ErrNoReader = errors.New("qpdf is not installed (Debian: apt install qpdf)")

// Check returns what of the standard's part 2 or 3 a file does not keep, each with its
// clause. It needs a folder for the file.
func Check(file []byte, part int, dir string) (faults []string, err error) {
	objects, trailer, err := read(file, dir)
	if err != nil {
		return nil, err
	}
	c := &checker{file: file, part: part, objects: objects, trailer: trailer}
	c.bytes()
	c.trailerAndInfo()
	c.eachObject()
	c.catalog()
	c.pages()
	return c.faults, nil
}

// checker collects faults.
type checker struct {
	file    []byte
	part    int
	objects map[string]any // by "n g R"; a stream is a stream
	trailer dict
	faults  []string
}

type dict = map[string]any

// stream is a stream's dictionary with its data, inflated.
type stream struct {
	dict dict
	data []byte
}

func (c *checker) fault(clause, format string, args ...any) {
	c.faults = append(c.faults, clause+": "+fmt.Sprintf(format, args...))
}

// need reports a fault unless ok.
func (c *checker) need(ok bool, clause, format string, args ...any) {
	if !ok {
		c.fault(clause, format, args...)
	}
}

// get follows a reference.
func (c *checker) get(v any) any {
	if s, ok := v.(string); ok {
		if o, ok := c.objects[s]; ok {
			return o
		}
	}
	return v
}

func (c *checker) dict(v any) dict {
	switch v := c.get(v).(type) {
	case dict:
		return v
	case stream:
		return v.dict
	}
	return nil
}

func (c *checker) list(v any) []any {
	l, _ := c.get(v).([]any)
	return l
}

// text returns a text string; qpdf marks those with "u:".
func text(v any) string {
	s, _ := v.(string)
	return strings.TrimPrefix(s, "u:")
}

// read has qpdf check a file and turn it into JSON (its format 2).
func read(file []byte, dir string) (objects map[string]any, trailer dict, err error) {
	if _, err := exec.LookPath("qpdf"); err != nil {
		return nil, nil, ErrNoReader
	}
	name := filepath.Join(dir, "checked.pdf")
	if err := os.WriteFile(name, file, 0o600); err != nil {
		return nil, nil, err
	}
	if out, err := exec.Command("qpdf", "--check", name).CombinedOutput(); err != nil { // warnings are errors, too
		return nil, nil, fmt.Errorf("qpdf --check: %w\n%s", err, out)
	}
	out, err := exec.Command("qpdf", "--json=2", "--json-key=qpdf", "--json-stream-data=inline", "--decode-level=generalized", name).Output()
	if err != nil {
		return nil, nil, err
	}
	var all struct{ QPDF []json.RawMessage }
	if err := json.Unmarshal(out, &all); err != nil || len(all.QPDF) != 2 {
		return nil, nil, fmt.Errorf("qpdf's JSON is not as expected: %w", err)
	}
	var raw map[string]struct {
		Value  any
		Stream *struct {
			Dict dict
			Data []byte
		}
	}
	if err := json.Unmarshal(all.QPDF[1], &raw); err != nil {
		return nil, nil, err
	}
	objects = map[string]any{}
	for name, o := range raw {
		key, isObject := strings.CutPrefix(name, "obj:")
		switch {
		case !isObject:
			trailer, _ = o.Value.(dict)
		case o.Stream != nil:
			objects[key] = stream{o.Stream.Dict, o.Stream.Data}
		default:
			objects[key] = o.Value
		}
	}
	return objects, trailer, nil
}

var (
	header    = regexp.MustCompile(`\A%PDF-1\.[0-7]\n%`)
	body      = regexp.MustCompile(`(?s)\nstream\r?\n.*?\r?\nendstream\n`)
	objectAt  = regexp.MustCompile(`(?m)^\d+ 0 obj$`)
	objectEnd = regexp.MustCompile(`(?m)^endobj$`)
	hex       = regexp.MustCompile(`(?:^|[^<])<([^<>]*)>(?:[^>]|$)`)
)

// bytes checks what can only be seen in the file as it lies.
func (c *checker) bytes() {
	f := c.file
	head := header.Find(f)
	after := f[len(head):min(len(head)+4, len(f))] // four bytes that no text has
	c.need(head != nil && !bytes.ContainsFunc(after, func(r rune) bool { return r < 0x80 }), "6.1.2", "the header is %.20q", f)
	c.need(bytes.HasSuffix(f, []byte("%%EOF\n")) || bytes.HasSuffix(f, []byte("%%EOF")), "6.1.3", "data stands after the last end mark")
	c.need(bytes.Contains(f, []byte("\nxref\n0 ")), "6.1.4", "xref and its first section are not one line end apart")
	for _, s := range body.FindAll(f, -1) {
		c.need(bytes.Count(s, []byte("endstream")) == 1, "6.1.7.1", "a stream does not end where it says")
	}
	bare := body.ReplaceAll(f, []byte("\n"))
	starts, ends := len(objectAt.FindAll(bare, -1)), len(objectEnd.FindAll(bare, -1))
	c.need(starts == len(c.objects) && ends == starts && bytes.Count(bare, []byte(" obj")) == starts, "6.1.9", "%d objects begin and %d end on lines of their own, of %d", starts, ends, len(c.objects))
	bare = bare[bytes.Index(bare, []byte("obj")):]
	for _, m := range hex.FindAllSubmatch(bare, -1) {
		c.need(len(m[1])%2 == 0 && len(bytes.Trim(m[1], "0123456789ABCDEFabcdef")) == 0, "6.1.6", "hexadecimal string <%.40s>", m[1])
	}
}
