package schemas

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
)

// sources reads what comments and constants say of types.
type sources struct {
	root string
	read map[string]*comments // by package path
}

// comments is what one package says.
type comments struct {
	types     map[string]string    // comment by type
	fields    map[[2]string]string // comment by type and field
	constants map[string][]string  // texts by type, in the source's order
}

func newSources(root string) *sources { return &sources{root: root, read: map[string]*comments{}} }

// typeText returns the first sentence of a type's comment.
func (s *sources) typeText(t reflect.Type) string {
	text := strings.Join(strings.Fields(s.of(t).types[t.Name()]), " ")
	sentence, _, _ := strings.Cut(text, ". ")
	return strings.TrimSuffix(sentence, ".")
}

func (s *sources) fieldText(t reflect.Type, field string) string {
	return strings.Join(strings.Fields(s.of(t).fields[[2]string{t.Name(), field}]), " ")
}

func (s *sources) constants(t reflect.Type) []string { return s.of(t).constants[t.Name()] }

// of reads the sources of a type's package, once.
func (s *sources) of(t reflect.Type) *comments {
	path := t.PkgPath()
	if w := s.read[path]; w != nil {
		return w
	}
	w := &comments{types: map[string]string{}, fields: map[[2]string]string{}, constants: map[string][]string{}}
	s.read[path] = w
	folder, ours := strings.CutPrefix(path, "nogging/")
	if !ours || t.Name() == "" {
		return w
	}
	files, _ := filepath.Glob(filepath.Join(s.root, filepath.FromSlash(folder), "*.go"))
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		if f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments|parser.SkipObjectResolution); err == nil {
			w.file(f)
		}
	}
	return w
}

func (w *comments) file(f *ast.File) {
	for _, d := range f.Decls {
		g, ok := d.(*ast.GenDecl)
		if !ok {
			continue
		}
		for _, spec := range g.Specs {
			switch spec := spec.(type) {
			case *ast.TypeSpec:
				w.typeSpec(spec, g.Doc)
			case *ast.ValueSpec:
				w.constant(g.Tok, spec)
			}
		}
	}
}

func (w *comments) typeSpec(spec *ast.TypeSpec, doc *ast.CommentGroup) {
	if spec.Doc != nil {
		doc = spec.Doc
	}
	w.types[spec.Name.Name] = doc.Text()
	structure, ok := spec.Type.(*ast.StructType)
	if !ok {
		return
	}
	for _, f := range structure.Fields.List {
		text := f.Comment.Text()
		if text == "" {
			text = f.Doc.Text()
		}
		for _, name := range f.Names {
			w.fields[[2]string{spec.Name.Name, name.Name}] = text
		}
	}
}

func (w *comments) constant(tok token.Token, spec *ast.ValueSpec) {
	of, ok := spec.Type.(*ast.Ident)
	if tok != token.CONST || !ok {
		return
	}
	for _, v := range spec.Values {
		if lit, ok := v.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			text, err := strconv.Unquote(lit.Value)
			if err == nil {
				w.constants[of.Name] = append(w.constants[of.Name], text)
			}
		}
	}
}
