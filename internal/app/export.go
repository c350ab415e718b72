package app

import (
	"fmt"
	"io"
	"path"
	"strings"

	"nogging/internal/exchange/gltf"
)

// formats are the forms in which a built plan is given to other programs, by the
// endings of files.
var formats = []struct {
	ending, what string
	write        func(*Job, io.Writer) error
}{
	{".glb", "three-dimensional scene, glTF 2.0", func(j *Job, out io.Writer) error {
		return gltf.Write(out, j.Plan, j.Layout.Walls, j.Catalogue, j.Practice)
	}},
}

// ExportFormats describes the forms that Export knows, by their endings.
func ExportFormats() string {
	list := make([]string, len(formats))
	for i, f := range formats {
		list[i] = fmt.Sprintf("%s (%s)", f.ending, f.what)
	}
	return strings.Join(list, ", ")
}

// Export writes a built plan in the form that the ending of a file's name asks for.
func (j *Job) Export(name string, out io.Writer) error {
	for _, f := range formats {
		if strings.EqualFold(path.Ext(name), f.ending) {
			return f.write(j, out)
		}
	}
	return fmt.Errorf("%s: no form of file ends in %q; known are %s", name, path.Ext(name), ExportFormats())
}
