// Package web holds the page as `make web` builds it. Without that the folder is
// empty, and the program still compiles: the server then says what to do.
package web

import (
	"embed"
	"io/fs"
)

//go:embed all:dist
var dist embed.FS

// Dist gives the built files: index.html, and assets with a hash of their content
// in their names; text files also as NAME.gz.
func Dist() fs.FS {
	sub, err := fs.Sub(dist, "dist")
	if err != nil {
		panic(err) // the folder is embedded above
	}
	return sub
}
