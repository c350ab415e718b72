package app

import (
	"cmp"
	"fmt"
	"io"
	"path"
	"strings"
	"time"

	drawn "nogging/internal/exchange/dxf/write"
	"nogging/internal/exchange/gltf"
	"nogging/internal/exchange/ifc/write"
)

// formats are the forms in which a built plan is given to other programs, by the
// endings of files.
var formats = []struct {
	ending, what string
	write        func(*Job, io.Writer, ExportOptions) error
}{
	{".ifc", "building model", (*Job).exportIFC},
	{".dxf", "set-out plans and elevations, DXF R2000", func(j *Job, out io.Writer, _ ExportOptions) error {
		return drawn.Write(out, drawn.Input{Plan: j.Plan, Layout: j.Layout, Catalogue: j.Catalogue, Practice: j.Practice})
	}},
	{".bcfzip", "topics for architect, structural engineer and services, BCF 2.1", func(j *Job, out io.Writer, o ExportOptions) error { return j.exportTopics(out, o.Date) }},
	{".glb", "three-dimensional scene, glTF 2.0", func(j *Job, out io.Writer, _ ExportOptions) error {
		return gltf.Write(out, j.Plan, j.Layout.Walls, j.Catalogue, j.Practice)
	}},
}

// ExportOptions are choices of some forms.
type ExportOptions struct {
	Schema write.Schema // of building models; IFC4 if left out
	Date   time.Time    // of topics, where the plan has none
	Simple bool         // walls of building models have a body each instead of parts
}

func (j *Job) exportIFC(out io.Writer, o ExportOptions) error {
	proofs := j.proofs()
	return write.Write(out, write.Input{
		Plan: j.Plan, Layout: j.Layout, Catalogue: j.Catalogue, Practice: j.Practice, Schema: cmp.Or(o.Schema, write.IFC4), Simple: o.Simple,
		Proofs: func(wall string) (list []write.Verdict) {
			for _, c := range proofs(wall) {
				list = append(list, write.Verdict{Need: string(c.Need) + ": " + c.Name, Result: string(c.Verdict) + ", " + c.Result()})
			}
			return list
		},
	})
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
func (j *Job) Export(name string, out io.Writer, o ExportOptions) error {
	for _, f := range formats {
		if strings.EqualFold(path.Ext(name), f.ending) {
			return f.write(j, out, o)
		}
	}
	return fmt.Errorf("%s: no form of file ends in %q; known are %s", name, path.Ext(name), ExportFormats())
}
