package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"nogging/internal/app"
	"nogging/internal/document"
	"nogging/internal/exchange/ifc"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/programme"
	"nogging/internal/yamlfile"
	"nogging/schema"
)

type readCommand struct {
	File      string   `arg:"" help:"Building model (IFC2x3, IFC4 or IFC4x3; .ifc or .ifczip) or drawing (DXF, R12 to 2018)."`
	Output    string   `short:"o" placeholder:"PLAN" help:"Write the plan to this file instead of standard output."`
	Partition []string `placeholder:"TYPE" sep:"none" help:"Take walls of this type as partitions. May be repeated."`
	Structure []string `placeholder:"TYPE" sep:"none" help:"Take walls of this type as existing structure. May be repeated."`
	JSON      bool     `name:"json" help:"Print counts and findings as JSON; the plan is written only with -o."`

	drawingFlags `embed:""`
}

func (r *readCommand) Run(c *console) error {
	data, err := os.ReadFile(r.File)
	if err != nil {
		return readError(r.File, err)
	}
	if isDrawing(r.File, data) {
		return r.readDrawing(c, data)
	}
	p, stats, found := r.choice().Read(filepath.Base(r.File), data)
	found.Sort()
	refused := ifc.Refused(found)
	if !refused {
		if err := r.write(c, p); err != nil {
			return err
		}
	}
	return r.tell(c, struct {
		ifc.Stats
		Findings finding.List `json:"findings"`
	}{stats, list(found)}, found, refused, modelSummary(stats, p.Project.Georeference))
}

// modelSummary says in short what was read of a model.
func modelSummary(s ifc.Stats, g plan.Georeference) string {
	text := fmt.Sprintf("%s, %s, %s of existing structure, %s, %s", count(s.Levels, "level"), count(s.Walls, "partition"),
		count(s.Structure, "wall"), count(s.Openings, "opening"), count(s.Rooms, "room"))
	if s.Ours {
		text += fmt.Sprintf("; the model was written by this program: %s came back as drawn", count(s.Restored, "wall"))
	}
	if g.CRS != "" {
		text += fmt.Sprintf("; on the map %s its origin lies at %.10g east, %.10g north", g.CRS, g.Eastings, g.Northings)
	}
	if s.Sized > 0 {
		text += fmt.Sprintf("; sizes that the file states agree with its geometry in %d of %s", s.SizesMeet, count(s.Sized, "wall"))
	}
	return text
}

// tell tells what was read. Where standard output takes the plan, findings go to
// standard error.
func (r *readCommand) tell(c *console, asJSON any, found finding.List, refused bool, summary string) error {
	if r.JSON {
		if err := printJSON(c.out, asJSON); err != nil {
			return err
		}
	} else {
		to := *c
		if r.Output == "" {
			to.out, to.colour = c.err, false
		}
		printFindings(&to, found)
		if !refused {
			fmt.Fprintln(c.err, summary)
		}
	}
	if refused {
		return fmt.Errorf("nothing was read of %s", r.File)
	}
	return verdict(found)
}

// choice is what the user said of wall types.
func (r *readCommand) choice() ifc.Options {
	types := map[string]bool{}
	for _, t := range r.Structure {
		types[t] = false
	}
	for _, t := range r.Partition {
		types[t] = true
	}
	return ifc.Options{Partitions: types}
}

// write puts the plan where it was asked for.
func (r *readCommand) write(c *console, p *plan.Plan) error {
	if r.JSON && r.Output == "" {
		return nil
	}
	text, err := plan.Marshal(p, "Plan read from "+filepath.Base(r.File)+". Lengths are millimetres.")
	if err != nil {
		return err
	}
	if r.Output == "" {
		_, err = c.out.Write(text)
		return err
	}
	return os.WriteFile(r.Output, text, 0o644)
}

type checkCommand struct {
	Plan string `arg:"" help:"Plan file; - for standard input."`
	JSON bool   `name:"json" help:"Print the findings as JSON."`
}

func (k *checkCommand) Run(c *console) error {
	j, err := open(c, k.Plan)
	if err != nil {
		return err
	}
	progress := newProgress(c, k.JSON)
	j.Build(progress.report)
	progress.end()
	if k.JSON {
		if err := printJSON(c.out, map[string]any{"findings": list(j.Findings)}); err != nil {
			return err
		}
	} else {
		printFindings(c, j.Findings)
		printVerdict(c, j)
	}
	return verdict(j.Findings)
}

type buildCommand struct {
	Plan   string          `arg:"" help:"Plan file; - for standard input."`
	Output string          `short:"o" required:"" placeholder:"DIR" help:"Folder to write to; it is made if need be."`
	Parts  []document.Part `placeholder:"PART" enum:"practice,set_out,details,walls,finish,cutting,proofs,takeoff,masonry,findings" help:"What pack.pdf has, beside cover and list of sheets: practice, set_out, details, walls, finish, cutting, proofs, takeoff, masonry, findings; all if left out. Several with commas."`
	JSON   bool            `name:"json" help:"Print the totals as JSON."`
	saving `embed:""`
}

func (b *buildCommand) Run(c *console) error {
	j, err := open(c, b.Plan)
	if err != nil {
		return err
	}
	progress := newProgress(c, b.JSON)
	if err := b.build(j, progress.report); err != nil {
		return err
	}
	j.Judge(progress.report)
	files, err := j.Write(folder(b.Output), progress.report, b.Parts...)
	progress.end()
	if err != nil {
		return err
	}
	if b.JSON {
		if err := printJSON(c.out, j.Totals()); err != nil {
			return err
		}
	} else {
		printFindings(c, j.Findings)
		printTakeoff(c.out, j.Takeoff.Total)
		printSaved(c.out, j.Saved())
		printVerdict(c, j)
		fmt.Fprintf(c.err, "%d files in %s: result.json, takeoff.csv, setout.csv, pack.pdf and the drawings\n", files, b.Output)
	}
	return verdict(j.Findings)
}

type newCommand struct {
	Output string `arg:"" optional:"" help:"File to write; - for standard output; plan.yaml if left out."`
	Gangs  bool   `help:"Write a gangs file for nogging programme; gangs.yaml if no file is named."`
}

func (n *newCommand) Run(c *console) error {
	text, next := plan.Starter(), "nogging build %s -o out"
	name := cmp.Or(n.Output, "plan.yaml")
	if n.Gangs {
		text, next = programme.Starter(), "nogging programme plan.yaml --start 2027-01-11 --gangs %s -o out"
		name = cmp.Or(n.Output, "gangs.yaml")
	}
	n.Output = name
	if n.Output == standard {
		_, err := c.out.Write(text)
		return err
	}
	f, err := os.OpenFile(n.Output, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s exists already\n  hint: name another file, or move this one away", n.Output)
	}
	if err != nil {
		return err
	}
	if _, err := f.Write(text); err != nil {
		return errors.Join(err, f.Close())
	}
	fmt.Fprintf(c.err, "wrote %s; next: "+next+"\n", n.Output, n.Output)
	return f.Close()
}

type schemaCommand struct {
	Of string `arg:"" optional:"" enum:"plan,gangs,result,order,programme,proofs" default:"plan" help:"Of what: plan and gangs are files to write; result, order, programme and proofs are JSON that the commands write."`
}

func (s schemaCommand) Run(c *console) error {
	var text []byte
	var err error
	switch s.Of {
	case "plan":
		text, err = plan.Schema()
	case "gangs":
		text, err = programme.Schema()
	default:
		text, err = schema.Files.ReadFile(s.Of + ".schema.json")
	}
	if err != nil {
		return err
	}
	_, err = c.out.Write(text)
	return err
}

type versionCommand struct{}

func (versionCommand) Run(c *console) error {
	_, err := fmt.Fprintln(c.out, "nogging", version)
	return err
}

// standard stands for standard input or output where a file is named.
const standard = "-"

// open opens a plan file from disk or standard input.
func open(c *console, name string) (*app.Job, error) {
	called := name
	if name == standard {
		called = "standard input"
	}
	j, err := app.Open(filepath.ToSlash(called), func(file string) ([]byte, error) {
		if file != filepath.ToSlash(called) {
			return os.ReadFile(filepath.FromSlash(file)) // a catalogue that the plan names
		}
		return readPlan(c, name)
	})
	if err != nil {
		return nil, readError(name, err)
	}
	return j, nil
}

// readPlan returns the content of a plan file; a building model is none.
func readPlan(c *console, name string) (data []byte, err error) {
	if name == standard {
		data, err = io.ReadAll(io.LimitReader(c.in, yamlfile.MaxFile+1))
	} else {
		data, err = os.ReadFile(name)
	}
	if bytes.HasPrefix(bytes.TrimSpace(data), []byte("ISO-10303-21")) || strings.EqualFold(filepath.Ext(name), ".ifczip") && err == nil {
		base := strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))
		return nil, fmt.Errorf("%s is a building model, not a plan\n  hint: nogging read %s -o %s.yaml makes a plan of it", name, name, cmp.Or(base, "plan"))
	}
	return data, err
}

func readError(name string, err error) error {
	switch {
	case !errors.Is(err, fs.ErrNotExist):
		return err
	case planName(name):
		return fmt.Errorf("there is no file %s\n  hint: nogging new %s writes a plan to start from", name, name)
	}
	return fmt.Errorf("there is no file %s\n  hint: check the name and the folder", name)
}

// planName reports whether a file is called as plans are.
func planName(name string) bool {
	return slices.Contains([]string{".yaml", ".yml", ".json"}, strings.ToLower(filepath.Ext(name)))
}

// folder is a directory on disk as app writes to it.
type folder string

// Create makes a file in the folder, and the folders above it.
func (f folder) Create(name string) (io.WriteCloser, error) {
	path := filepath.Join(string(f), filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return nil, err
	}
	return os.Create(path)
}

// ClearDrawings removes the SVG files of a folder within the folder.
func (f folder) ClearDrawings(dir string) error {
	old, err := filepath.Glob(filepath.Join(string(f), dir, "*.svg"))
	for _, name := range old {
		err = errors.Join(err, os.Remove(name))
	}
	return err
}

// verdict turns findings into the command's outcome.
func verdict(found finding.List) error {
	if found.NeedsPerson() {
		return errFindings
	}
	return nil
}

// list makes an empty list print as [] rather than null.
func list(found finding.List) finding.List {
	if found == nil {
		return finding.List{}
	}
	return found
}

func printJSON(out io.Writer, v any) error {
	e := json.NewEncoder(out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
