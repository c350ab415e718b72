package yamlfile

import (
	"strconv"
	"strings"

	"nogging/internal/finding"
)

// Places knows where in its file every value stands that Decode read, by path:
// walls[3].openings[0].width. The zero Places knows nothing.
type Places struct {
	source *source
	root   *node
}

// node is where one value stands. The entries of a list are its kids in order;
// the keys of an object are kids with names.
type node struct {
	name         string
	line, column int32
	kids         []node
}

// At returns where the value with the given path stands, or the nearest thing
// around it that the file has.
func (p Places) At(path string) finding.Place {
	if p.source == nil {
		return finding.Place{}
	}
	at := p.root
	line, column := int32(1), int32(1)
	for path != "" && at != nil {
		var name string
		name, path = firstStep(path)
		if at = at.kid(name); at != nil && at.line > 0 {
			line, column = at.line, at.column
		}
	}
	return p.source.place(int(line), int(column))
}

// Fill sets the place of every finding that has a path but no place.
func (p Places) Fill(list finding.List) {
	for i := range list {
		if list[i].Place.IsZero() && list[i].Path != "" {
			list[i].Place = p.At(list[i].Path)
		}
	}
}

// firstStep parts the first name or number from a path: "walls" from
// "walls[3].id", and "3" from "[3].id".
func firstStep(path string) (name, rest string) {
	if inner, ok := strings.CutPrefix(path, "["); ok {
		name, rest, _ = strings.Cut(inner, "]")
		return name, strings.TrimPrefix(rest, ".")
	}
	i := strings.IndexAny(path, ".[")
	if i < 0 {
		return path, ""
	}
	return path[:i], strings.TrimPrefix(path[i:], ".")
}

func (n *node) kid(name string) *node {
	for i := range n.kids {
		if n.kids[i].name == "" {
			break // a list
		}
		if n.kids[i].name == name {
			return &n.kids[i]
		}
	}
	i, err := strconv.Atoi(name)
	if err != nil || i < 0 || i >= len(n.kids) || n.kids[i].name != "" {
		return nil
	}
	return &n.kids[i]
}
