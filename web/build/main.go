// Command build bundles web/src into web/dist, from which the program embeds the
// page: one script and one style sheet with a hash of their content in their
// names, parts that load when asked for as files of their own, and each text file
// also compressed. It runs in the folder web, after the type check (`make web`).
package main

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

const (
	out    = "dist"
	shell  = "src/index.html"
	script = "src/main.tsx"
	public = "public"
	// place is where the shell takes the links to the bundle.
	place = "<!-- bundle -->"
)

func main() {
	if err := build(); err != nil {
		fmt.Fprintln(os.Stderr, "web:", err)
		os.Exit(1)
	}
}

func build() error {
	page, err := os.ReadFile(shell)
	if err != nil {
		return err
	}
	files, err := bundle()
	if err != nil {
		return err
	}
	page, err = link(page, files)
	if err != nil {
		return err
	}
	if err := clear(); err != nil {
		return err
	}
	for _, f := range files {
		if err := write(f.Path, f.Contents); err != nil {
			return err
		}
	}
	return errors.Join(copyPublic(), write(filepath.Join(out, "index.html"), page))
}

// bundle has esbuild make the files; nothing is written yet.
func bundle() ([]api.OutputFile, error) {
	result := api.Build(api.BuildOptions{
		EntryPoints: []string{script}, Outdir: out, Bundle: true, Splitting: true, Format: api.FormatESModule,
		EntryNames: "assets/[name]-[hash]", ChunkNames: "assets/[name]-[hash]", AssetNames: "assets/[name]-[hash]",
		MinifyWhitespace: true, MinifyIdentifiers: true, MinifySyntax: true, LegalComments: api.LegalCommentsLinked,
		Target: api.ES2022, PublicPath: "/", Loader: map[string]api.Loader{".svg": api.LoaderText}, Plugins: []api.Plugin{address},
	})
	var err error
	for _, m := range result.Errors {
		where := ""
		if m.Location != nil {
			where = fmt.Sprintf("%s:%d:%d: ", m.Location.File, m.Location.Line, m.Location.Column+1)
		}
		err = errors.Join(err, errors.New(where+m.Text))
	}
	return result.OutputFiles, err
}

// address makes `import url from "file?url"` give where the file itself is to be
// had, as workers need it.
var address = api.Plugin{Name: "address", Setup: func(b api.PluginBuild) {
	b.OnResolve(api.OnResolveOptions{Filter: `\?url$`}, func(a api.OnResolveArgs) (api.OnResolveResult, error) {
		r := b.Resolve(strings.TrimSuffix(a.Path, "?url"), api.ResolveOptions{ResolveDir: a.ResolveDir, Kind: api.ResolveJSImportStatement})
		return api.OnResolveResult{Path: r.Path, Namespace: "address", Errors: r.Errors}, nil
	})
	b.OnLoad(api.OnLoadOptions{Filter: ".*", Namespace: "address"}, func(a api.OnLoadArgs) (api.OnLoadResult, error) {
		text, err := os.ReadFile(a.Path)
		contents := string(text)
		return api.OnLoadResult{Contents: &contents, Loader: api.LoaderFile}, err
	})
}}

// link puts the entry point's style sheet and script into the page.
func link(page []byte, files []api.OutputFile) ([]byte, error) {
	var links strings.Builder
	for _, kind := range []struct{ ext, tag string }{{".css", `<link rel="stylesheet" href="/assets/%s">`}, {".js", `<script type="module" src="/assets/%s"></script>`}} {
		i := slices.IndexFunc(files, func(f api.OutputFile) bool {
			return strings.HasPrefix(filepath.Base(f.Path), "main-") && filepath.Ext(f.Path) == kind.ext
		})
		if i >= 0 {
			fmt.Fprintf(&links, kind.tag, filepath.Base(files[i].Path))
		}
	}
	if !bytes.Contains(page, []byte(place)) {
		return nil, fmt.Errorf("%s has no line %s", shell, place)
	}
	return bytes.Replace(page, []byte(place), []byte(links.String()), 1), nil
}

// clear removes what an earlier build wrote.
func clear() error {
	old, err := os.ReadDir(out)
	for _, e := range old {
		if e.Name() != ".gitkeep" {
			err = errors.Join(err, os.RemoveAll(filepath.Join(out, e.Name())))
		}
	}
	return err
}

// copyPublic takes over files that keep their names.
func copyPublic() error {
	err := filepath.WalkDir(public, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		return write(filepath.Join(out, strings.TrimPrefix(path, public)), text)
	})
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// write writes a file, and beside it the same compressed where that is smaller.
func write(path string, text []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	if err := os.WriteFile(path, text, 0o644); err != nil {
		return err
	}
	var packed bytes.Buffer
	z, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err != nil {
		return err
	}
	if _, err := z.Write(text); err != nil {
		return err
	}
	if err := z.Close(); err != nil {
		return err
	}
	if packed.Len() >= len(text) {
		return nil
	}
	return os.WriteFile(path+".gz", packed.Bytes(), 0o644)
}
