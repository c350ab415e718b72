// Command build bundles web/src into web/dist, from which the program embeds the
// page: one script and one style sheet with a hash of their content in their
// names, parts that load when asked for as files of their own, and each text file
// also compressed. It runs in the folder web, after the type check (`make web`).
package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

const (
	out    = "dist"
	shell  = "index.html"
	script = "src/main.tsx"
	public = "public"
	// worker reads PDF pages in a thread of its own; it is taken over as it is.
	worker = "node_modules/pdfjs-dist/build/pdf.worker.min.mjs"
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
	work, err := os.ReadFile(worker)
	if err != nil {
		return err
	}
	hash := sha256.Sum256(work)
	workName := fmt.Sprintf("/assets/pdf.worker-%x.mjs", hash[:4])
	files, err := bundle(workName)
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
	return errors.Join(write(out+workName, work), copyPublic(), write(filepath.Join(out, "index.html"), page))
}

// bundle has esbuild make the files; nothing is written yet.
func bundle(worker string) ([]api.OutputFile, error) {
	result := api.Build(api.BuildOptions{
		EntryPoints: []string{script}, Outdir: out, Bundle: true, Splitting: true, Format: api.FormatESModule,
		EntryNames: "assets/[name]-[hash]", ChunkNames: "assets/[name]-[hash]", AssetNames: "assets/[name]-[hash]",
		MinifyWhitespace: true, MinifyIdentifiers: true, MinifySyntax: true, LegalComments: api.LegalCommentsLinked,
		Target: api.ES2022, PublicPath: "/", Loader: map[string]api.Loader{".svg": api.LoaderText},
		Define: map[string]string{"PDF_WORKER": strconv.Quote(worker)},
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

// link puts the names with hashes of the entry point's script and style sheet
// into the page.
func link(page []byte, files []api.OutputFile) ([]byte, error) {
	for _, ext := range []string{".css", ".js"} {
		i := slices.IndexFunc(files, func(f api.OutputFile) bool {
			return strings.HasPrefix(filepath.Base(f.Path), "main-") && filepath.Ext(f.Path) == ext
		})
		place := []byte("/assets/main" + ext)
		if i < 0 || !bytes.Contains(page, place) {
			return nil, fmt.Errorf("%s, or what is bundled, has no %s", shell, place)
		}
		page = bytes.ReplaceAll(page, place, []byte("/assets/"+filepath.Base(files[i].Path)))
	}
	return page, nil
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
