//go:build linux

// Command benchifc reads building models side by side with another reader (npm's web-ifc,
// as `make readers` fetches it), and prints the processor time of both and how much memory ours
// has at its peak, beyond what it has for a model of nothing (the catalogue that ships is
// about 10 MB). It takes the folder of models and that of the other reader. Each
// reading is a process of its own; the best of three counts. The other reader opens the
// model and makes its meshes; after two minutes it is ended, and counts as that. The last model is a large one, written by our own writer.
package main

import (
	"bytes"
	"context"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"

	"nogging/internal/catalogue"
	"nogging/internal/exchange/ifc"
	"nogging/internal/exchange/ifc/write"
	"nogging/internal/layout"
	"nogging/internal/plantest"
)

//go:embed mesh.mjs
var meshes string

func main() {
	var err error
	switch {
	case len(os.Args) == 3 && os.Args[1] == "-read":
		err = readOnce(os.Args[2])
	case len(os.Args) == 3:
		err = compare(os.Args[1], os.Args[2])
	default:
		err = errors.New("usage: benchifc MODELS READERS")
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// taken is what one reading took.
type taken struct {
	Seconds float64 // of processor time
	Peak    int64   // bytes resident at most
	Walls   int
}

// readOnce reads a model and prints what that took.
func readOnce(name string) error {
	var t taken
	start := processor()
	data, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	_, stats, _ := ifc.Options{}.Read(name, data)
	t.Seconds, t.Walls = processor()-start, stats.Entities.Walls
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return err
	}
	for line := range strings.Lines(string(status)) {
		if rest, ok := strings.CutPrefix(line, "VmHWM:"); ok {
			kb, err := strconv.ParseInt(strings.Fields(rest)[0], 10, 64)
			if err != nil {
				return err
			}
			t.Peak = kb << 10
		}
	}
	return json.NewEncoder(os.Stdout).Encode(t)
}

// processor is the processor time in seconds that this process has had.
func processor() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano()).Seconds()
}

func compare(models, readers string) error {
	files, err := filepath.Glob(filepath.Join(models, "*.ifc"))
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "benchifc")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	large := filepath.Join(dir, "written_by_us.ifc")
	if err := writeLarge(large); err != nil {
		return err
	}
	module, err := filepath.Abs(filepath.Join(readers, "node_modules", "web-ifc"))
	if err != nil {
		return err
	}
	nothing := filepath.Join(dir, "nothing.ifc")
	if err := os.WriteFile(nothing, []byte("ISO-10303-21;\nHEADER;\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n#1=IFCPROJECT('',$,$,$,$,$,$,$,$);\nENDSEC;\nEND-ISO-10303-21;\n"), 0o600); err != nil {
		return err
	}
	empty, err := best(func() (taken, error) { return run(os.Args[0], "-read", nothing) })
	if err != nil {
		return err
	}
	fmt.Printf("%-34s %8s %6s %10s %10s %6s %12s\n", "model", "MB", "walls", "ours, s", "other, s", "ratio", "memory/file")
	for _, file := range append(files, large) {
		if err := line(file, module, empty); err != nil {
			return err
		}
	}
	return nil
}

// line reads a model with both and prints what that took.
func line(file, module string, empty taken) error {
	info, err := os.Stat(file)
	if err != nil {
		return err
	}
	ours, err := best(func() (taken, error) { return run(os.Args[0], "-read", file) })
	if err != nil {
		return err
	}
	other, err := best(func() (taken, error) { return run("node", "--input-type=module", "-e", meshes, module, file) })
	if err != nil {
		return err
	}
	fmt.Printf("%-34s %8.2f %6d %10.3f %10.3f %6.3f %12.1f\n", filepath.Base(file), float64(info.Size())/1e6, ours.Walls, ours.Seconds, other.Seconds,
		ours.Seconds/other.Seconds, float64(ours.Peak-empty.Peak)/float64(info.Size()))
	return nil
}

// longRun is the time in seconds after which a reading is not done again.
const longRun = 20

// best is the shortest of three runs, or the first where it is long.
func best(f func() (taken, error)) (taken, error) {
	var all []taken
	for range 3 {
		t, err := f()
		if err != nil {
			return t, err
		}
		all = append(all, t)
		if t.Seconds > longRun {
			break
		}
	}
	return slices.MinFunc(all, func(a, b taken) int {
		switch {
		case a.Seconds < b.Seconds:
			return -1
		case a.Seconds > b.Seconds:
			return 1
		}
		return int(a.Peak - b.Peak)
	}), nil
}

// longest is how long a reading may take: then it is ended, and counts as that.
const longest = 2 * time.Minute

func run(name string, args ...string) (taken, error) {
	var t taken
	limit, stop := context.WithTimeout(context.Background(), longest)
	defer stop()
	c := exec.CommandContext(limit, name, args...)
	var complaint bytes.Buffer
	c.Stderr = &complaint
	out, err := c.Output()
	if limit.Err() != nil {
		return taken{Seconds: longest.Seconds()}, nil
	}
	if err != nil {
		return t, fmt.Errorf("%w: %s", err, complaint.String())
	}
	return t, json.Unmarshal(out, &t)
}

// largeWalls is of how many walls the model is that we write.
const largeWalls = 250

// writeLarge writes a model of some ten megabytes, part by part.
func writeLarge(name string) error {
	p := plantest.Offices(largeWalls)
	cat := catalogue.Shipped()
	practice, _ := cat.PracticeByID("metric")
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	err = write.Write(f, write.Input{Plan: p, Layout: layout.Of(p, cat, practice), Catalogue: cat, Practice: practice, Schema: write.IFC4})
	return errors.Join(err, f.Close())
}
