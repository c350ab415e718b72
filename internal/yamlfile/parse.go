package yamlfile

import (
	"errors"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"nogging/internal/words"
)

// Limits on the form of one block, which keep the parser's stack and time in
// bounds; no plan comes near them.
const (
	maxFlowDepth = 32  // brackets within brackets
	maxIndent    = 200 // columns before a key or a dash
	maxKeys      = 250 // keys of one object in block style
)

// problem is why a block could not be read; its line counts from the block's
// own first line.
type problem struct {
	code         string
	what, fix    words.Text
	line, column int
	syntax       bool // the YAML itself is at fault, not our limits
}

// parse returns the documents of a block. Whatever goes wrong inside the YAML
// library becomes a problem.
func parse(text string) (bodies []ast.Node, bad *problem) {
	if len(text) > maxBlock {
		return nil, &problem{code: "block-too-large", what: words.F("more than %d MB stand here in one piece", maxBlock>>20),
			fix: "write lists with one entry a line, each beginning with a dash"}
	}
	defer func() {
		if r := recover(); r != nil {
			bodies, bad = nil, &problem{code: "yaml-syntax", syntax: true, what: "this cannot be read as YAML", fix: adviseLayout}
		}
	}()
	tokens := lexer.Tokenize(text)
	if bad := guard(tokens); bad != nil {
		return nil, bad
	}
	file, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		return nil, syntaxProblem(err)
	}
	for _, doc := range file.Docs {
		if doc.Body != nil {
			bodies = append(bodies, doc.Body)
		}
	}
	return bodies, nil
}

// unwanted are the parts of YAML that plans do without: they make a file mean
// something else than what stands there, or grow without bound when followed.
var unwanted = map[token.Type]struct {
	code      string
	what, fix words.Text
}{
	token.AnchorType:     {"yaml-anchor", "anchors (&name) are not read", "write the values out in each place"},
	token.AliasType:      {"yaml-anchor", "aliases (*name) are not read", "write the values out here; put text that begins with * in quotes"},
	token.MergeKeyType:   {"yaml-merge", "merge keys (<<) are not read", "write the keys out here"},
	token.TagType:        {"yaml-tag", "tags (!name) are not read", "leave the tag out; put text that begins with ! in quotes"},
	token.MappingKeyType: {"yaml-complex-key", "keys with a question mark are not read", "write the key, a colon and a space; put text that begins with ? in quotes"},
}

// guard refuses what would lead the parser, which calls itself for every level
// and every key, too deep, and what plans do without.
func guard(tokens token.Tokens) *problem {
	depth, run := 0, 0 // open brackets; keys since the last bracket or comma
	var open []keyCount
	for _, t := range tokens {
		if u, ok := unwanted[t.Type]; ok {
			return &problem{code: u.code, what: u.what, fix: u.fix, line: t.Position.Line, column: t.Position.Column}
		}
		indent := 0
		switch t.Type {
		case token.MappingStartType, token.SequenceStartType:
			depth, run = depth+1, 0
		case token.MappingEndType, token.SequenceEndType:
			depth, run = max(depth-1, 0), 0
		case token.CollectEntryType:
			run = 0
		case token.MappingValueType:
			run++
			if depth == 0 && t.Prev != nil {
				indent = t.Prev.Position.Column
				open, run = countKey(open, indent)
			}
		case token.SequenceEntryType:
			indent = t.Position.Column
			open = closeAbove(open, indent)
		}
		if depth > maxFlowDepth || indent > maxIndent || run > maxKeys {
			return &problem{code: "yaml-too-deep", what: "too many levels or keys within one another",
				fix: "check the indentation and the brackets", line: t.Position.Line, column: t.Position.Column}
		}
	}
	return nil
}

// keyCount is how many keys an open object in block style has, by the column
// of its keys.
type keyCount struct{ column, keys int }

// countKey counts a key in the object whose keys stand in column, and returns
// how many that object has by now.
func countKey(open []keyCount, column int) ([]keyCount, int) {
	open = closeAbove(open, column)
	if n := len(open); n == 0 || open[n-1].column != column {
		open = append(open, keyCount{column: column})
	}
	last := &open[len(open)-1]
	last.keys++
	return open, last.keys
}

// closeAbove drops the objects whose keys stand to the right of column.
func closeAbove(open []keyCount, column int) []keyCount {
	for len(open) > 0 && open[len(open)-1].column > column {
		open = open[:len(open)-1]
	}
	return open
}

const adviseLayout = "check the indentation, that a space follows each colon, and that every bracket and quote is closed"

// plain gives the library's messages in the words of someone who writes plans.
// The first entry whose text occurs in the message is taken.
var plain = []struct {
	has       string
	what, fix words.Text
}{
	{`'\t'`, "a tab stands in the indentation", "indent with spaces"},
	{"\t", "a tab stands in the indentation", "indent with spaces"},
	{"end character of double-quoted", "the text opened by \" is not closed", "close it with \" on the same line"},
	{"end character of single-quoted", "the text opened by ' is not closed", "close it with ' on the same line"},
	{"end token ']'", "the bracket [ is not closed", "close it with ]"},
	{"or ']' must", "a comma or the closing bracket ] is missing before this", "part the values with commas and close the list with ]"},
	{"end token '}'", "the brace { is not closed", "close it with }"},
	{"or '}' must", "a comma or the closing brace } is missing before this", "part the entries with commas and close them with }"},
	{"corresponding to ']'", "the bracket ] was never opened", "take it out or open it with ["},
	{"corresponding to '}'", "the brace } was never opened", "take it out or open it with {"},
	{"reserved character", "text cannot begin with this character", "put the text in quotes"},
	{"mapping value is not allowed", "the value here runs on into another key", "put text that holds a colon in quotes, and check how the next line is indented"},
	{"non-map value", "a key with a colon is missing here", "write key: value; check the indentation"},
	{"unexpected key name", "a colon is missing here, or the line is not indented as its neighbours", "write key: value, with a space after the colon"},
	{"block sequence entries", "a list entry cannot begin here", "begin the list on the next line, indented"},
	{"map key-value is pre-defined", "the line goes on after its value has ended", "check the quotes and the indentation"},
	{"value is not allowed in this context", "this is not indented as what it belongs to", "give all keys of one object the same indentation"},
}

// syntaxProblem turns an error of the library into a problem.
func syntaxProblem(err error) *problem {
	bad := &problem{code: "yaml-syntax", syntax: true, what: "this cannot be read as YAML", fix: adviseLayout}
	var located interface {
		error
		GetMessage() string
		GetToken() *token.Token
	}
	if !errors.As(err, &located) {
		return bad
	}
	if t := located.GetToken(); t != nil && t.Position != nil {
		bad.line, bad.column = t.Position.Line, t.Position.Column
	}
	for _, p := range plain {
		if strings.Contains(located.GetMessage(), p.has) {
			bad.what, bad.fix = p.what, p.fix
			break
		}
	}
	return bad
}
