// Package step reads exchange files of ISO 10303-21 (clear text encoding). It
// takes the bytes of a file and gives an index of its instances: where each
// stands and of which entity type it is. Arguments are parsed only when asked
// for, and nothing is copied, so the bytes must not change while a File is in
// use.
//
// The reader forgives what real files do: malformed headers, lower-case
// keywords, comments anywhere, any line ending, several DATA sections, bytes
// that are not ASCII. An instance that cannot be read becomes a Problem and the
// rest is read.
package step

import (
	"bytes"
	"cmp"
	"slices"
	"sort"
	"strings"

	"nogging/internal/words"
)

// ID is the number of an instance: 12 in #12.
type ID uint64

// File is an indexed exchange file. It is not safe for use by several
// goroutines.
type File struct {
	data      []byte
	instances []instance
	byID      directory
	byType    [][]ID   // by keyword number
	keywords  []string // in upper case
	number    map[string]int32
	header    [][]byte // statements outside the instances
	problems  []Problem
	lines     []int   // offsets of line starts, filled on first use
	arena     []Value // where lists of arguments are put
}

// instance is one #id=KEYWORD(arguments);
type instance struct {
	id      ID
	from    int // offset of the first byte after the opening bracket
	to      int // offset of the closing bracket
	at      int // offset of the #
	keyword int32
}

// Problem is a part of the file that could not be read.
type Problem struct {
	ID   ID // 0 where not even the number could be read
	Line int
	What words.Text
}

// maxProblems bounds the list of problems of a file that is no exchange file.
const maxProblems = 100

// directory finds instances by number. Numbers are mostly dense, though some
// programs leave great gaps between them.
type directory struct {
	dense  []int32 // place + 1; 0 for none
	sparse map[ID]int32
}

// spread is how many times as high as the count of instances the highest
// number may be for a dense directory.
const spread = 8

func newDirectory(highest ID, n int) directory {
	if highest < ID(spread*n+spread) {
		return directory{dense: make([]int32, highest+1)}
	}
	return directory{sparse: make(map[ID]int32, n)}
}

// at returns the place of an instance + 1, or 0 where there is none.
func (d *directory) at(id ID) int32 {
	if id < ID(len(d.dense)) {
		return d.dense[id]
	}
	return d.sparse[id]
}

func (d *directory) put(id ID, place int) {
	if d.dense != nil {
		d.dense[id] = int32(place + 1)
	} else {
		d.sparse[id] = int32(place + 1)
	}
}

func (f *File) find(id ID) *instance {
	if i := f.byID.at(id); i > 0 {
		return &f.instances[i-1]
	}
	return nil
}

// Len returns the number of instances.
func (f *File) Len() int { return len(f.instances) }

// Problems returns what could not be read, in the order of the file. After the
// first 100 the list stops.
func (f *File) Problems() []Problem { return f.problems }

// Has reports whether the file holds an instance of that number.
func (f *File) Has(id ID) bool { return f.find(id) != nil }

// Type returns the entity type of an instance in upper case, or "" where there
// is no such instance.
func (f *File) Type(id ID) string {
	if in := f.find(id); in != nil {
		return f.keywords[in.keyword]
	}
	return ""
}

// OfType returns the instances of an entity type, given in upper case, in the
// order of the file.
func (f *File) OfType(keyword string) []ID {
	if n, ok := f.number[keyword]; ok {
		return f.byType[n]
	}
	return nil
}

// Types returns every entity type of the file in upper case, sorted.
func (f *File) Types() []string {
	return slices.Sorted(slices.Values(f.keywords))
}

// Args returns the arguments of an instance, none where there is no such
// instance.
func (f *File) Args(id ID) Args {
	in := f.find(id)
	if in == nil {
		return nil
	}
	const chunk, most = 1024, 32 // few instances have more arguments than this
	if cap(f.arena)-len(f.arena) < most {
		f.arena = make([]Value, 0, chunk)
	}
	start := len(f.arena)
	for v := range items(f.data[in.from:in.to]) {
		f.arena = append(f.arena, v)
	}
	return Args(f.arena[start:len(f.arena):len(f.arena)])
}

// Arg returns one argument of an instance, counted from 0, or an empty Value.
// It costs less than Args where only one is wanted.
func (f *File) Arg(id ID, n int) Value {
	in := f.find(id)
	if in == nil {
		return nil
	}
	for v := range items(f.data[in.from:in.to]) {
		if n == 0 {
			return v
		}
		n--
	}
	return nil
}

// Compare orders instances as they stand in the file.
func (f *File) Compare(a, b ID) int { return cmp.Compare(f.byID.at(a), f.byID.at(b)) }

// Place returns the line and column at which an instance begins, counted from
// 1, or zeros where there is no such instance.
func (f *File) Place(id ID) (line, column int) {
	in := f.find(id)
	if in == nil {
		return 0, 0
	}
	at := in.at
	line = f.lineAt(at)
	return line, at - f.lines[line-1] + 1
}

func (f *File) lineAt(offset int) int {
	if f.lines == nil {
		f.lines = lineStarts(f.data)
	}
	return sort.SearchInts(f.lines, offset+1)
}

// lineStarts understands LF, CRLF and CR alone.
func lineStarts(data []byte) []int {
	starts := []int{0}
	for i, c := range data {
		if c == '\n' || c == '\r' && (i+1 == len(data) || data[i+1] != '\n') {
			starts = append(starts, i+1)
		}
	}
	return starts
}

// Schemas returns the names in the header's FILE_SCHEMA, in upper case.
func (f *File) Schemas() []string {
	var names []string
	for _, statement := range f.header {
		if len(statement) < 11 || !strings.EqualFold(string(statement[:11]), "FILE_SCHEMA") {
			continue
		}
		for rest := statement; ; {
			_, after, ok := bytes.Cut(rest, []byte{'\''})
			name, tail, closed := bytes.Cut(after, []byte{'\''})
			if !ok || !closed {
				break
			}
			names = append(names, strings.ToUpper(strings.TrimSpace(string(name))))
			rest = tail
		}
	}
	return names
}
