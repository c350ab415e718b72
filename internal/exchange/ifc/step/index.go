package step

import (
	"bytes"
	"cmp"
	"math"
	"slices"

	"nogging/internal/words"
)

// Parse indexes a file in one pass. It never fails: what is no instance is
// left out and told in Problems.
func Parse(data []byte) *File {
	few := len(data) / 60 // an instance takes about 60 bytes
	f := &File{data: data, number: map[string]int32{}, instances: make([]instance, 0, few)}
	p := &indexer{File: f}
	for p.pos = skipSpace(data, 0); p.pos < len(data) && len(f.instances) < math.MaxInt32; p.pos = skipSpace(data, p.pos) {
		if data[p.pos] == '#' {
			p.instance()
		} else {
			p.statement()
		}
	}
	p.sortByID()
	f.sortByType()
	return f
}

// indexer walks through the file.
type indexer struct {
	*File
	pos     int
	last    int32 // number of the keyword met last: runs of one type are common
	highest ID
}

func (p *indexer) problem(id ID, at int, what words.Text) {
	if len(p.problems) < maxProblems {
		p.problems = append(p.problems, Problem{ID: id, Line: p.lineAt(at), What: what})
	}
}

// statement takes a header record or a section mark.
func (p *indexer) statement() {
	end, closed := statementEnd(p.data, p.pos, 0)
	if len(p.header) < maxProblems {
		p.header = append(p.header, p.data[p.pos:end])
	}
	p.pos = end
	if closed {
		p.pos++
	}
}

// instance takes one #id=KEYWORD(...); and moves behind it. Whatever is wrong,
// it moves on at least to the next instance.
func (p *indexer) instance() {
	at := p.pos
	id, pos := digits(p.data, at+1)
	end, closed := statementEnd(p.data, pos, 1)
	p.pos = end
	if !closed {
		p.problem(id, at, "the instance does not end with a semicolon")
		return
	}
	p.pos++
	pos = skipSpace(p.data, pos)
	if pos >= end || p.data[pos] != '=' || id == 0 {
		p.problem(id, at, "a number sign without a number and an equals sign")
		return
	}
	from := skipSpace(p.data, pos+1)
	open := keywordEnd(p.data, from)
	name := p.data[from:open]
	open = skipSpace(p.data, open)
	last := bytes.LastIndexByte(p.data[pos:end], ')') + pos
	if len(name) == 0 || open >= end || p.data[open] != '(' || last <= open {
		p.problem(id, at, "the instance has no keyword with arguments in brackets")
		return
	}
	p.highest = max(p.highest, id)
	p.instances = append(p.instances, instance{id: id, from: open + 1, to: last, at: at, keyword: p.intern(name)})
}

// intern returns the number of a keyword.
func (p *indexer) intern(name []byte) int32 {
	if len(p.keywords) > 0 && string(name) == p.keywords[p.last] {
		return p.last
	}
	n, ok := p.number[string(name)]
	if !ok {
		upper := string(bytes.ToUpper(name))
		if n, ok = p.number[upper]; !ok {
			n = int32(len(p.keywords))
			p.keywords = append(p.keywords, upper)
			p.number[upper] = n
		}
	}
	p.last = n
	return n
}

// sortByID makes the directory. Of instances with the same number the first
// stays.
func (p *indexer) sortByID() {
	p.byID = newDirectory(p.highest, len(p.instances))
	kept := p.instances[:0]
	for _, in := range p.instances {
		if p.byID.at(in.id) > 0 {
			p.problem(in.id, in.at, "the number is used twice: the first instance counts")
			continue
		}
		p.byID.put(in.id, len(kept))
		kept = append(kept, in)
	}
	p.instances = kept
	slices.SortStableFunc(p.problems, func(a, b Problem) int { return cmp.Compare(a.Line, b.Line) })
}

// sortByType lists the instances of each type, without growing any list.
func (f *File) sortByType() {
	counts := make([]int, len(f.keywords))
	for i := range f.instances {
		counts[f.instances[i].keyword]++
	}
	all := make([]ID, 0, len(f.instances))
	f.byType = make([][]ID, len(f.keywords))
	for k, n := range counts {
		f.byType[k] = all[len(all):len(all):cap(all)][:0:n]
		all = all[:len(all)+n]
	}
	for i := range f.instances {
		k := f.instances[i].keyword
		f.byType[k] = append(f.byType[k], f.instances[i].id)
	}
}

// digits reads a number; 0 where there is none or where it is too long.
func digits(data []byte, pos int) (ID, int) {
	var id ID
	start := pos
	for pos < len(data) && data[pos] >= '0' && data[pos] <= '9' {
		id = id*10 + ID(data[pos]-'0')
		pos++
	}
	if pos-start > 18 {
		id = 0
	}
	return id, pos
}

func keywordEnd(data []byte, pos int) int {
	for pos < len(data) && wordByte(data[pos]) {
		pos++
	}
	return pos
}

func wordByte(c byte) bool {
	return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '_'
}

// skipSpace moves past blanks, line ends, other control characters and
// comments.
func skipSpace(data []byte, pos int) int {
	for pos < len(data) {
		switch {
		case data[pos] <= ' ':
			pos++
		case data[pos] == '/' && pos+1 < len(data) && data[pos+1] == '*':
			pos = commentEnd(data, pos)
		default:
			return pos
		}
	}
	return pos
}

// commentEnd returns where the comment that begins at pos ends. A comment that
// is never closed takes the rest.
func commentEnd(data []byte, pos int) int {
	if i := bytes.Index(data[pos+2:], []byte("*/")); i >= 0 {
		return pos + 2 + i + 2
	}
	return len(data)
}

// statementEnd returns the offset of the semicolon that closes the statement
// at pos, in which as many equals signs may stand as given. Where the
// statement is broken, it returns the offset of the next instance, or of the
// end, and false.
func statementEnd(data []byte, pos, equals int) (end int, closed bool) {
	hash := -1
	for ; pos < len(data); pos++ {
		switch data[pos] {
		case ';':
			return pos, true
		case '\'':
			var ok bool
			if pos, ok = textEnd(data, pos); !ok {
				return pos, false
			}
			pos--
		case '/':
			if pos+1 < len(data) && data[pos+1] == '*' {
				pos = commentEnd(data, pos) - 1
			}
		case '#':
			hash = pos
		case '=':
			// No argument holds an equals sign: one too many belongs to the
			// next instance.
			if equals--; equals < 0 && hash >= 0 {
				return hash, false
			}
		}
	}
	return len(data), false
}

// textEnd returns the offset behind the text whose opening quote is at pos. A
// text with an instance inside was never closed: then it returns the offset of
// that instance and false.
func textEnd(data []byte, pos int) (end int, closed bool) {
	for pos++; pos < len(data); pos++ {
		switch data[pos] {
		case '\'':
			if pos+1 >= len(data) || data[pos+1] != '\'' {
				return pos + 1, true
			}
			pos++
		case '\n', '\r':
			for pos+1 < len(data) && data[pos+1] <= ' ' {
				pos++
			}
			if startsInstance(data, pos+1) {
				return pos + 1, false
			}
		}
	}
	return len(data), false
}

// startsInstance reports whether #digits= stands at pos.
func startsInstance(data []byte, pos int) bool {
	if pos >= len(data) || data[pos] != '#' {
		return false
	}
	id, end := digits(data, pos+1)
	for end < len(data) && data[end] == ' ' {
		end++
	}
	return id > 0 && end < len(data) && data[end] == '='
}
