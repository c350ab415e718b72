// Package yamlfile reads YAML 1.2 documents, and JSON as a subset of them,
// into Go structs and writes them again.
//
// Reading goes on past mistakes: each is a finding with file, line, column, the
// line's text and what would work, and everything else is read all the same.
// Struct fields are keys by their json tags; a field without omitempty or
// omitzero is required. Anchors, aliases, tags and merge keys are refused, so
// that a file means what stands in it.
package yamlfile

import (
	"encoding"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"nogging/internal/finding"
	"nogging/internal/words"
)

// Tuple is a struct that files give as a list of fixed length, such as a point
// given as [x, y]. Tuple returns pointers to its parts in order.
type Tuple interface{ Tuple() []any }

// Marker is an object that wants to know that one of its values could not be
// read.
type Marker interface{ MarkUnread() }

// Decode reads the document in data into the struct that into points to. The
// name of the file is used in findings only. Values that cannot be read keep
// what into held before.
func Decode(file string, data []byte, into any) (Places, finding.List) {
	if len(data) > MaxFile {
		bad, _ := (&source{file: file}).unreadable(len(data))
		return Places{}, finding.List{bad}
	}
	s := newSource(file, data)
	d := decoder{source: s, root: &node{line: 1, column: 1}, types: map[reflect.Type]*structType{}}
	places := Places{source: s, root: d.root}
	if bad, ok := s.unreadable(len(data)); ok {
		return places, finding.List{bad}
	}
	d.document(reflect.ValueOf(into).Elem())
	return places, d.findings()
}

// Exemplar is a value read from text that can say how it is written, for messages.
type Exemplar interface{ Example() string }

// decoder walks the syntax tree and the Go value side by side.
type decoder struct {
	source  *source
	root    *node
	types   map[reflect.Type]*structType
	list    finding.List
	dropped int      // findings beyond maxFindings
	errors  int      // findings of severity Error so far
	entries int      // list entries so far
	path    []step   // of the value at hand
	objects []string // ids of the objects around it
	before  int      // lines of the file before the block at hand
}

// step is one step of a path: a key, or the number of a list entry.
type step struct {
	name  string
	index int
}

// add adds a finding about the value at hand, or about the node given.
func (d *decoder) add(f finding.Finding, n ast.Node) {
	if f.Severity == finding.Error {
		d.errors++
	}
	if len(d.list) >= maxFindings {
		d.dropped++
		return
	}
	if n != nil {
		line, column := d.position(n)
		f.Place = d.source.place(line, column)
	}
	if f.Path == "" {
		f.Path = d.pathTo("")
	}
	for i := len(d.objects) - 1; i >= 0 && f.Object == ""; i-- {
		f.Object = d.objects[i]
	}
	d.list.Add(f)
}

// findings returns what was found, in the order of the file.
func (d *decoder) findings() finding.List {
	for i := range d.list {
		if d.list[i].Place.IsZero() {
			d.list[i].Place = Places{d.source, d.root}.At(d.list[i].Path)
		}
	}
	d.list.Sort()
	if d.dropped > 0 {
		d.list.Add(finding.Finding{Code: "more-findings", Severity: finding.Error, Place: finding.Place{File: d.source.file},
			What: words.F("%d more mistakes are not listed", d.dropped), Fix: "mend those listed and read the file again"})
	}
	return d.list
}

// pathTo returns the path of the value at hand, or of a key in it.
func (d *decoder) pathTo(key string) string {
	var b strings.Builder
	write := func(name string) {
		if b.Len() > 0 {
			b.WriteByte('.')
		}
		b.WriteString(name)
	}
	for _, s := range d.path {
		if s.name == "" {
			b.WriteByte('[')
			b.WriteString(strconv.Itoa(s.index))
			b.WriteByte(']')
			continue
		}
		write(s.name)
	}
	if key != "" {
		write(key)
	}
	return b.String()
}

// position returns where a node begins in the file.
func (d *decoder) position(n ast.Node) (line, column int) {
	if n == nil {
		return d.before + 1, 1
	}
	if m, ok := n.(*ast.MappingNode); ok && !m.IsFlowStyle && len(m.Values) > 0 {
		n = m.Values[0].Key
	}
	t := n.GetToken()
	if t == nil || t.Position == nil {
		return d.before + 1, 1
	}
	return d.before + t.Position.Line, t.Position.Column
}

// value reads n into v and notes its place.
func (d *decoder) value(n ast.Node, v reflect.Value, at *node) {
	line, column := d.position(n)
	at.line, at.column = int32(line), int32(column)
	if isNull(n) {
		return
	}
	switch t := v.Addr().Interface().(type) {
	case Tuple:
		d.tuple(n, t.Tuple(), v.Type())
		return
	case encoding.TextUnmarshaler:
		d.text(n, t, v.Type())
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		d.pointer(n, v, at)
	case reflect.Struct:
		d.object(n, v, at)
	case reflect.Slice, reflect.Array:
		d.sequence(n, v, at)
	case reflect.Map:
		d.dictionary(n, v, at)
	case reflect.Interface:
		if x := d.anything(n); x != nil {
			v.Set(reflect.ValueOf(x))
		}
	default:
		d.scalar(n, v)
	}
}

// pointer reads n into a new value, which is kept if all of it could be read.
func (d *decoder) pointer(n ast.Node, v reflect.Value, at *node) {
	errors := d.errors
	p := reflect.New(v.Type().Elem())
	d.value(n, p.Elem(), at)
	if d.errors == errors {
		v.Set(p)
	}
}

// tuple reads a list of fixed length.
func (d *decoder) tuple(n ast.Node, parts []any, t reflect.Type) {
	list, ok := n.(*ast.SequenceNode)
	if !ok {
		d.mismatch(n, t)
		return
	}
	if len(list.Values) != len(parts) {
		d.add(finding.Finding{Code: "wrong-count", Severity: finding.Error,
			What: words.F("%d values are needed here, not %d", len(parts), len(list.Values)),
			Fix:  words.F("write %s", wanted(t).example)}, n)
		return
	}
	for i, part := range parts {
		d.path = append(d.path, step{index: i})
		if isNull(list.Values[i]) {
			d.mismatch(list.Values[i], reflect.TypeOf(part).Elem())
		} else {
			d.value(list.Values[i], reflect.ValueOf(part).Elem(), &node{})
		}
		d.path = d.path[:len(d.path)-1]
	}
}

// sequence reads a list into a slice or an array.
func (d *decoder) sequence(n ast.Node, v reflect.Value, at *node) {
	list, ok := n.(*ast.SequenceNode)
	if !ok {
		d.mismatch(n, v.Type())
		return
	}
	count := len(list.Values)
	if flat, ok := d.flat(list, v.Type().Elem()); ok {
		d.add(flat, n)
		return
	}
	if v.Kind() == reflect.Array && count != v.Len() {
		d.add(finding.Finding{Code: "wrong-count", Severity: finding.Error,
			What: words.F("%d values are needed here, not %d", v.Len(), count), Fix: words.F("write %s", wanted(v.Type()).example)}, n)
		return
	}
	if count == 0 || !d.room(n, count) {
		return
	}
	if v.Kind() == reflect.Slice {
		v.Set(reflect.MakeSlice(v.Type(), count, count))
	}
	at.kids = make([]node, count)
	for i, entry := range list.Values {
		d.entry(entry, v.Index(i), &at.kids[i], i)
	}
}

// flat tells of a list of tuples whose inner brackets were left out.
func (d *decoder) flat(list *ast.SequenceNode, of reflect.Type) (finding.Finding, bool) {
	if !reflect.PointerTo(of).Implements(tupleType) || len(list.Values) < 2 {
		return finding.Finding{}, false
	}
	var texts []string
	for _, entry := range list.Values {
		text, ok := plainText(entry)
		if !ok {
			return finding.Finding{}, false
		}
		texts = append(texts, clip(text))
	}
	w := wanted(of)
	example := "[" + w.example + "]"
	const shown = 12
	if parts := tupleSize(of); len(texts)%parts == 0 && len(texts) <= shown {
		var tuples []string
		for some := range slices.Chunk(texts, parts) {
			tuples = append(tuples, "["+strings.Join(some, ", ")+"]")
		}
		example = "[" + strings.Join(tuples, ", ") + "]"
	}
	return finding.Finding{Code: "wrong-type", Severity: finding.Error,
		What: words.F("each entry of this list has to be %s", w.name), Fix: words.F("write %s", example)}, true
}

// entry reads one entry of a list.
func (d *decoder) entry(n ast.Node, v reflect.Value, at *node, i int) {
	d.path = append(d.path, step{index: i})
	if isNull(n) {
		line, column := d.position(n)
		at.line, at.column = int32(line), int32(column)
		d.add(finding.Finding{Code: "empty-entry", Severity: finding.Error, What: "this list entry is empty", Fix: "fill it in or take the dash out"}, n)
		markUnread(v)
	} else {
		d.value(n, v, at)
	}
	d.path = d.path[:len(d.path)-1]
}

// room counts list entries and reports whether more can be taken.
func (d *decoder) room(n ast.Node, count int) bool {
	d.entries += count
	if d.entries > maxEntries {
		d.add(finding.Finding{Code: "file-too-large", Severity: finding.Error,
			What: words.F("more than %d list entries stand in this file", maxEntries), Fix: "split the project into several plans"}, n)
		return false
	}
	return true
}

// dictionary reads keys of the user's own choice.
func (d *decoder) dictionary(n ast.Node, v reflect.Value, at *node) {
	m, ok := n.(*ast.MappingNode)
	if !ok {
		d.mismatch(n, v.Type())
		return
	}
	t := v.Type()
	if v.IsNil() {
		v.Set(reflect.MakeMap(t))
	}
	at.kids = make([]node, 0, len(m.Values))
	for _, pair := range m.Values {
		name := keyText(pair.Key)
		key := reflect.ValueOf(name).Convert(t.Key())
		if v.MapIndex(key).IsValid() {
			d.duplicate(pair.Key, name)
			continue
		}
		at.kids = append(at.kids, node{name: name})
		value := reflect.New(t.Elem()).Elem()
		d.path = append(d.path, step{name: name})
		d.value(pair.Value, value, &at.kids[len(at.kids)-1])
		d.path = d.path[:len(d.path)-1]
		v.SetMapIndex(key, value)
	}
}

// object reads the keys of a struct.
func (d *decoder) object(n ast.Node, v reflect.Value, at *node) {
	m, ok := n.(*ast.MappingNode)
	if !ok {
		d.mismatch(n, v.Type())
		markUnread(v)
		return
	}
	errors := d.errors
	t := d.structType(v.Type())
	at.kids = make([]node, 0, len(m.Values))
	d.objects = append(d.objects, idOf(m))
	for _, pair := range m.Values {
		if field := d.field(pair, t, at); field != nil {
			d.member(pair.Value, pair.Key, v.Field(field.index), field, at)
		}
	}
	d.missing(t, at)
	d.objects = d.objects[:len(d.objects)-1]
	if d.errors > errors {
		markUnread(v)
	}
}

// field finds the field that a key names, or tells why there is none.
func (d *decoder) field(pair *ast.MappingValueNode, t *structType, at *node) *field {
	key, name := ast.Node(pair.Key), keyText(pair.Key)
	f := t.fields[name]
	switch {
	case f == nil:
		d.add(unknownKey(name, pair.Value, t.names), key)
	case slices.ContainsFunc(at.kids, func(n node) bool { return n.name == name }):
		d.duplicate(key, name)
		f = nil
	}
	return f
}

// unknownKey tells of a key that does not exist, and what is lost with it.
func unknownKey(name string, value ast.Node, known []string) finding.Finding {
	f := finding.Finding{Code: "unknown-key", Severity: finding.Warning,
		What: words.F("unknown key %q", clip(name)), Fix: Suggest(name, "known keys", known)}
	list, ok := value.(*ast.SequenceNode)
	switch {
	case ok && len(list.Values) == 1:
		f.What += ": its 1 entry is left out"
	case ok && len(list.Values) > 1:
		f.What += words.F(": its %d entries are left out", len(list.Values))
	case isNull(value) && measured.MatchString(name):
		f.Fix = "a comma parts entries: write decimals with a point, as in 2.75"
	}
	return f
}

func (d *decoder) duplicate(key ast.Node, name string) {
	d.add(finding.Finding{Code: "duplicate-key", Severity: finding.Error, What: words.F("the key %q stands here a second time", clip(name)),
		Fix: "keep one of the two", Path: d.pathTo(name)}, key)
}

// member reads the value of one key of an object.
func (d *decoder) member(n, key ast.Node, v reflect.Value, f *field, at *node) {
	at.kids = append(at.kids, node{name: f.name})
	kid := &at.kids[len(at.kids)-1]
	d.path = append(d.path, step{name: f.name})
	d.value(n, v, kid)
	d.path = d.path[:len(d.path)-1]
	if isNull(n) {
		line, column := d.position(key)
		kid.line, kid.column = int32(line), int32(column)
		if f.required {
			d.lacks(f, key)
		}
	}
}

// missing tells which required keys an object lacks.
func (d *decoder) missing(t *structType, at *node) {
	for _, f := range t.required {
		if !slices.ContainsFunc(at.kids, func(n node) bool { return n.name == f.name }) {
			d.lacks(f, nil)
		}
	}
}

func (d *decoder) lacks(f *field, key ast.Node) {
	fix := words.F("add %s: %s", f.name, wanted(f.typ).example)
	if f.about != "" {
		fix += words.F(" (%s)", f.about)
	}
	d.add(finding.Finding{Code: "missing-key", Severity: finding.Error, Path: d.pathTo(f.name),
		What: words.F("%s is missing", f.name), Fix: fix}, key)
}

// markUnread tells an object that it is incomplete.
func markUnread(v reflect.Value) {
	if m, ok := v.Addr().Interface().(Marker); ok {
		m.MarkUnread()
	}
}

// idOf returns the id that an object states, for findings about it.
func idOf(m *ast.MappingNode) string {
	for _, pair := range m.Values {
		if keyText(pair.Key) == "id" {
			text, _ := plainText(pair.Value)
			return text
		}
	}
	return ""
}
