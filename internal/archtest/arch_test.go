// Package archtest keeps the shape of the program: data flows one way, and the
// core knows no files, no network, no database and no clock. It looks at direct
// imports, since packages such as fmt import os themselves.
package archtest

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// layers lists the packages from the lowest up, as ARCHITECTURE.md draws them.
// A package may import only packages of lower layers, or of its own subtree.
var layers = [][]string{
	{"words", "lp", "draws", "schematest"},
	{"quantity", "finding"},
	{"geom", "yamlfile", "table"},
	{"plan", "catalogue"},
	{"buildup", "plantest", "survey", "schedule"},
	{"layout"},
	{"finish", "setout", "parts"},
	{"takeoff"},
	{"proof", "cut"},
	{"order"},
	{"price"},
	{"programme"},
	{"variation"},
	{"choice", "masonry", "drawing"},
	{"document", "exchange"},
	{"app", "store"},
	{"desk"},
	{"server"},
	{"archtest", "validation"},
}

// worldlyParts are the packages that may know files, network, database and clock; all
// others take values and give values.
var worldlyParts = []string{"store", "desk", "server", "archtest", "validation"}

func pure(top string) bool { return !slices.Contains(worldlyParts, top) }

var worldly = []string{"os", "net", "net/http", "database/sql", "os/exec", "syscall", "math/rand", "math/rand/v2"}

func layerOf(top string) int {
	return slices.IndexFunc(layers, func(l []string) bool { return slices.Contains(l, top) })
}

func TestImports(t *testing.T) {
	eachFile(t, func(path, top string, f *ast.File) {
		if layerOf(top) < 0 {
			t.Errorf("%s: package internal/%s stands in no layer; add it here and to ARCHITECTURE.md", path, top)
			return
		}
		for _, imp := range f.Imports {
			name, _ := strconv.Unquote(imp.Path.Value)
			if pure(top) && slices.Contains(worldly, name) {
				t.Errorf("%s imports %s: the core takes values and gives values", path, name)
			}
			rest, ours := strings.CutPrefix(name, "nogging/internal/")
			if !ours {
				continue
			}
			other, _, _ := strings.Cut(rest, "/")
			if other != top && layerOf(other) >= layerOf(top) {
				t.Errorf("%s imports internal/%s, which is not below internal/%s", path, other, top)
			}
		}
	})
}

func TestNoClock(t *testing.T) {
	eachFile(t, func(path, top string, f *ast.File) {
		if !pure(top) {
			return
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if sel, ok := n.(*ast.SelectorExpr); ok {
				if x, ok := sel.X.(*ast.Ident); ok && x.Name == "time" && (sel.Sel.Name == "Now" || sel.Sel.Name == "Since") {
					t.Errorf("%s asks the clock", path)
				}
			}
			return true
		})
	})
}

// TestDraws: wherever tests draw their inputs they draw the same in every run.
func TestDraws(t *testing.T) {
	draws, same := map[string]bool{}, map[string]bool{}
	eachFileOf(t, func(name string) bool { return strings.HasSuffix(name, "_test.go") }, func(path, _ string, f *ast.File) {
		for _, imp := range f.Imports {
			switch name, _ := strconv.Unquote(imp.Path.Value); name {
			case "pgregory.net/rapid":
				draws[filepath.Dir(path)] = true
			case "nogging/internal/draws":
				same[filepath.Dir(path)] = true
			}
		}
	})
	if len(draws) == 0 {
		t.Error("no package draws inputs")
	}
	for dir := range draws {
		if !same[dir] {
			t.Errorf("the tests of %s draw other inputs in each run: import nogging/internal/draws", dir)
		}
	}
}

// eachFile parses every Go file of the internal packages that is not a test.
func eachFile(t *testing.T, f func(path, top string, file *ast.File)) {
	t.Helper()
	eachFileOf(t, func(name string) bool { return !strings.HasSuffix(name, "_test.go") }, f)
}

// eachFileOf parses the Go files of the internal packages whose name is wanted.
func eachFileOf(t *testing.T, wanted func(name string) bool, f func(path, top string, file *ast.File)) {
	t.Helper()
	root := os.DirFS("..")
	err := fs.WalkDir(root, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || !wanted(path) {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), filepath.Join("..", path), nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		top, _, _ := strings.Cut(path, "/")
		f("internal/"+path, top, file)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
