package yamlfile

import (
	"iter"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"github.com/goccy/go-yaml/ast"

	"nogging/internal/finding"
)

// document reads the file block by block. Where a block by itself is not YAML
// but the whole file is, the file is read again in one piece.
func (d *decoder) document(v reflect.Value) {
	whole := block{line: 1, last: len(d.source.starts)}
	blocks, second := d.source.split()
	if blocks == nil {
		d.whole(whole, v)
		return
	}
	before := reflect.New(v.Type()).Elem()
	before.Set(v)
	if broken := d.blocks(blocks, v); broken && second == 0 {
		if _, bad := d.parse(whole); bad == nil {
			*d.root = node{line: 1, column: 1}
			d.list, d.dropped, d.errors, d.entries = nil, 0, 0, 0
			v.Set(before)
			d.whole(whole, v)
			return
		}
	}
	if second > 0 {
		d.second(second, 1)
	}
}

// parse parses a block of the file.
func (d *decoder) parse(b block) ([]ast.Node, *problem) { return parse(d.source.lines(b.line, b.last)) }

// parsed is what parsing a block gave.
type parsed struct {
	bodies []ast.Node
	bad    *problem
}

// parseAll parses blocks in order, several at a time: by far the most of the
// time of reading goes into parsing.
func (d *decoder) parseAll(blocks []block) iter.Seq2[block, parsed] {
	const ahead = 256
	return func(yield func(block, parsed) bool) {
		var results [ahead]parsed
		for some := range slices.Chunk(blocks, ahead) {
			var next atomic.Int64
			var group sync.WaitGroup
			for range min(runtime.GOMAXPROCS(0), len(some)) {
				group.Go(func() {
					for i := next.Add(1) - 1; i < int64(len(some)); i = next.Add(1) - 1 {
						results[i].bodies, results[i].bad = d.parse(some[i])
					}
				})
			}
			group.Wait()
			for i, b := range some {
				if !yield(b, results[i]) {
					return
				}
			}
		}
	}
}

// whole reads the file in one piece.
func (d *decoder) whole(b block, v reflect.Value) {
	bodies, bad := d.parse(b)
	d.before = 0
	switch {
	case bad != nil:
		d.broken(bad, b)
	case len(bodies) == 0:
		d.add(finding.Finding{Code: "file-empty", Severity: finding.Error, What: "the file holds nothing but comments",
			Fix: "fill it in; take the comment signs # away"}, nil)
	default:
		d.value(bodies[0], v, d.root)
		if len(bodies) > 1 {
			d.second(d.position(bodies[1]))
		}
	}
}

// second tells that a second document is not read.
func (d *decoder) second(line, column int) {
	d.add(finding.Finding{Code: "several-documents", Severity: finding.Error, Place: d.source.place(line, column),
		What: "a second document begins here, which is not read", Fix: "put it into a file of its own, or take out the line --- or ... before it"}, nil)
}

// broken tells why a block could not be read.
func (d *decoder) broken(bad *problem, b block) {
	line := b.line + max(bad.line-1, 0)
	d.add(finding.Finding{Code: bad.code, Severity: finding.Error, Place: d.source.place(line, max(bad.column, 1)),
		What: bad.what, Fix: bad.fix}, nil)
}

// blocks reads a file that was cut into blocks and reports whether any of them
// is not YAML.
func (d *decoder) blocks(blocks []block, v reflect.Value) (broken bool) {
	t := d.structType(v.Type())
	for i := 0; i < len(blocks); {
		head, next := blocks[i], i+1
		for next < len(blocks) && blocks[next].entry {
			next++
		}
		entries := blocks[i+1 : next]
		if f := d.listField(head, entries, t, v); f != nil {
			broken = d.entriesOf(f, entries, v.Field(f.index)) || broken
		} else {
			head.last = blocks[next-1].last
			broken = d.keys(head, t, v) || broken
		}
		i = next
	}
	d.before = 0
	d.missing(t, d.root)
	return broken
}

// listField returns the field whose list entries the blocks hold, or nil if
// they have to be read together with their key.
func (d *decoder) listField(head block, entries []block, t *structType, v reflect.Value) *field {
	name := d.headName(head)
	f := t.fields[name]
	if len(entries) == 0 || f == nil || v.Field(f.index).Kind() != reflect.Slice || d.root.kid(name) != nil {
		return nil
	}
	if p := reflect.PointerTo(f.typ); p.Implements(tupleType) || p.Implements(textType) {
		return nil
	}
	return f
}

// headName returns the key with which a block begins, as far as it is plain.
func (d *decoder) headName(head block) string {
	name, _, _ := strings.Cut(d.source.rawLine(head.line), ":")
	return strings.Trim(strings.TrimSpace(name), `"'`)
}

// entriesOf reads the entries of a top-level list, each by itself.
func (d *decoder) entriesOf(f *field, entries []block, v reflect.Value) (broken bool) {
	d.root.kids = append(d.root.kids, node{name: f.name, line: int32(entries[0].line), column: 1})
	at := len(d.root.kids) - 1
	v.Set(reflect.MakeSlice(v.Type(), 0, len(entries)))
	d.path = append(d.path, step{name: f.name})
	for b, read := range d.parseAll(entries) {
		d.before = b.line - 1
		bad, values := read.bad, []ast.Node{nil}
		if len(read.bodies) == 1 {
			if list, ok := read.bodies[0].(*ast.SequenceNode); ok {
				values = list.Values
			}
		}
		if !d.room(nil, len(values)) {
			break
		}
		for _, n := range values {
			i := v.Len()
			v.Set(reflect.Append(v, reflect.Zero(v.Type().Elem())))
			list := &d.root.kids[at]
			list.kids = append(list.kids, node{line: int32(b.line), column: 1})
			if bad == nil {
				d.entry(n, v.Index(i), &list.kids[i], i)
				continue
			}
			d.path = append(d.path, step{index: i})
			d.objects = append(d.objects, statedID(d.source.lines(b.line, b.last)))
			d.broken(bad, b)
			markUnread(v.Index(i))
			d.path, d.objects = d.path[:1], d.objects[:0]
			broken = broken || bad.syntax
		}
	}
	d.path = d.path[:0]
	return broken
}

// keys reads a top-level key with its value.
func (d *decoder) keys(b block, t *structType, v reflect.Value) (broken bool) {
	d.before = b.line - 1
	bodies, bad := d.parse(b)
	if bad != nil {
		name := d.headName(b)
		d.path = append(d.path, step{name: name})
		d.broken(bad, b)
		d.path = d.path[:0]
		d.root.kids = append(d.root.kids, node{name: name, line: int32(b.line), column: 1})
		return bad.syntax
	}
	for _, body := range bodies {
		m, ok := body.(*ast.MappingNode)
		if !ok {
			d.mismatch(body, v.Type())
			continue
		}
		for _, pair := range m.Values {
			if f := d.field(pair, t, d.root); f != nil {
				d.member(pair.Value, pair.Key, v.Field(f.index), f, d.root)
			}
		}
	}
	return false
}

// statedID looks for the id in the text of an entry that cannot be parsed.
func statedID(text string) string {
	for _, opening := range []string{" id:", "{id:"} {
		if _, rest, ok := strings.Cut(text, opening); ok {
			end := strings.IndexAny(rest, "\n,}#")
			if end < 0 {
				end = len(rest)
			}
			return clip(strings.Trim(rest[:end], ` "'`))
		}
	}
	return ""
}
