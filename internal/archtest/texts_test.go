package archtest

import (
	"bytes"
	"encoding/json"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"nogging/internal/words"
)

// filed are the packages whose words stand in files that people write: they are said as
// they have to be written.
var filed = []string{"nogging/internal/plan", "nogging/internal/programme", "nogging/internal/catalogue", "nogging/internal/price", "nogging/internal/exchange/dxf"}

// TestTexts: every text that the program can say, other languages say, too, with the
// same arguments; and they say nothing that the program does not.
func TestTexts(t *testing.T) {
	said := everyText(t)
	for _, l := range words.Languages() {
		if l == words.English {
			continue
		}
		var missing []string
		for _, text := range slices.Sorted(maps.Keys(said)) {
			other, ok := l.Says(text)
			switch {
			case !ok:
				missing = append(missing, said[text]+": "+text)
			case ok && !slices.Equal(verbs(other), verbs(text)):
				t.Errorf("%s takes other arguments:\n%s\n%s", l, text, other)
			}
		}
		if len(missing) > 0 {
			t.Errorf("%s has no words for %d texts:\n%s", l, len(missing), strings.Join(missing, "\n"))
		}
		for _, text := range l.Known() {
			if said[text] == "" {
				t.Errorf("%s has words for what is never said: %q", l, text)
			}
		}
	}
}

var verb = regexp.MustCompile(`%([-+# 0]*)(\[(\d+)\])?([-+# 0]*\d*(?:\.\d+)?[a-zA-Z])|%%`)

// verbs lists the verbs of a format in the order of its arguments.
func verbs(format string) []string {
	list := map[int]string{}
	next := 1
	for _, m := range verb.FindAllStringSubmatch(format, -1) {
		if m[0] == "%%" {
			continue
		}
		if m[3] != "" {
			next = 0
			for _, d := range m[3] {
				next = 10*next + int(d-'0')
			}
		}
		list[next] = m[1] + m[4]
		next++
	}
	var inOrder []string
	for _, n := range slices.Sorted(maps.Keys(list)) {
		inOrder = append(inOrder, list[n])
	}
	return inOrder
}

// everyText finds the texts of the program's source, and in which package each stands:
// formats of words.F, constants that become a words.Text, and the constants of types
// that are arguments of texts.
func everyText(t *testing.T) map[string]string {
	p := checkAll(t)
	said := map[string]string{}
	tell := func(pkg, text string) {
		if strings.ContainsFunc(verb.ReplaceAllString(text, ""), func(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' }) {
			said[text] = strings.TrimPrefix(pkg, "nogging/")
		}
	}
	vocabulary := map[types.Type]bool{}
	for path, one := range p {
		for _, file := range one.files {
			ast.Inspect(file, func(n ast.Node) bool {
				e, ok := n.(ast.Expr)
				if !ok {
					return true
				}
				if call, ok := e.(*ast.CallExpr); ok && isF(one.info, call) {
					if v := one.info.Types[call.Args[0]].Value; v != nil {
						tell(path, constant.StringVal(v))
					}
					for _, a := range call.Args[1:] {
						vocabulary[one.info.Types[a].Type] = true
					}
				}
				if tv := one.info.Types[e]; tv.Value != nil && isText(tv.Type) {
					tell(path, constant.StringVal(tv.Value))
					return false
				}
				return true
			})
		}
	}
	for path, one := range p {
		if slices.Contains(filed, path) {
			continue
		}
		scope := one.pkg.Scope()
		for _, name := range scope.Names() {
			if c, ok := scope.Lookup(name).(*types.Const); ok && vocabulary[c.Type()] && isWord(c.Type()) {
				tell(path, constant.StringVal(c.Val()))
			}
		}
	}
	return said
}

func isText(t types.Type) bool { return t.String() == "nogging/internal/words.Text" }

// isWord reports whether a type holds words of the program's own.
func isWord(t types.Type) bool {
	b, ok := t.Underlying().(*types.Basic)
	_, named := t.(*types.Named)
	return ok && named && b.Info()&types.IsString != 0 && !isText(t)
}

func isF(info *types.Info, call *ast.CallExpr) bool {
	s, ok := call.Fun.(*ast.SelectorExpr)
	if !ok || len(call.Args) == 0 {
		return false
	}
	f, ok := info.Uses[s.Sel].(*types.Func)
	return ok && f.FullName() == "nogging/internal/words.F"
}

// checked is a package with the types of its expressions.
type checked struct {
	pkg   *types.Package
	files []*ast.File
	info  *types.Info
}

// checkAll type-checks the program's packages against what the go command has built.
func checkAll(t *testing.T) map[string]checked {
	t.Helper()
	cmd := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Export,Dir,GoFiles", "../../cmd/nogging")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	exports := map[string]string{}
	all := map[string]checked{}
	fset := token.NewFileSet()
	from := importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	for list := json.NewDecoder(bytes.NewReader(out)); list.More(); {
		var p struct {
			ImportPath, Export, Dir string
			GoFiles                 []string
		}
		if err := list.Decode(&p); err != nil {
			t.Fatal(err)
		}
		exports[p.ImportPath] = p.Export
		if !strings.HasPrefix(p.ImportPath, "nogging/") {
			continue
		}
		one := checked{info: &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}}}
		for _, name := range p.GoFiles {
			f, err := parser.ParseFile(fset, filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			one.files = append(one.files, f)
		}
		importing := types.Config{Importer: among{all, from}}
		if one.pkg, err = importing.Check(p.ImportPath, fset, one.files, one.info); err != nil {
			t.Fatal(err)
		}
		all[p.ImportPath] = one
	}
	return all
}

// among imports packages that were checked, and others from what was built.
type among struct {
	checked map[string]checked
	others  types.Importer
}

func (a among) Import(path string) (*types.Package, error) {
	if p, ok := a.checked[path]; ok {
		return p.pkg, nil
	}
	return a.others.Import(path)
}
