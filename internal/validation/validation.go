// Package validation lets tests put what the program reckons beside what a
// source outside the project prints, and collects these pairs, so that a user
// who wants to know whether to trust a figure can read them.
//
// A test calls Check. It fails where the figure is off by more than the case
// allows. Under `make validation` it is also written down, and Report turns all
// that was written into docs/validation.md.
package validation

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// Status says how the expected figure came to be known. A figure from memory
// has no status here: it proves nothing.
type Status string

// How an expected figure came to be known.
const (
	Reworked   Status = "read and reworked" // read in the source named, and found again there from its own inputs
	Read       Status = "read"              // read in the source named, or in a transcription of it
	SecondHand Status = "second-hand"       // read where another source quotes it
	Regression Status = "reckoned"          // reckoned by another program of ours or by hand from the method's formulae; guards against change
)

// Case is one figure of the program beside one from outside. Numbers go into
// Expected and Got, anything else into the texts.
type Case struct {
	Method       string  `json:"method"` // what was put to the test, such as "ISO 717-1:2020"; cases of one method stand together
	Name         string  `json:"name"`   // what the figure is of, such as "Annex C, table C.1: Rw"
	Source       string  `json:"source"` // publication with edition and page, clause or table
	Status       Status  `json:"status"`
	Unit         string  `json:"unit,omitempty"`
	Expected     float64 `json:"expected"`
	Got          float64 `json:"got"`
	Tolerance    float64 `json:"tolerance"` // greatest absolute deviation at which the test passes, in Unit
	ExpectedText string  `json:"expected_text,omitempty"`
	GotText      string  `json:"got_text,omitempty"`
}

// Deviation is what the program's figure is above the source's.
func (c Case) Deviation() float64 { return c.Got - c.Expected }

// ofText reports whether the case is of words and not of numbers.
func (c Case) ofText() bool { return c.ExpectedText != "" || c.GotText != "" }

// rounding forgives the last bits of floating-point numbers.
const rounding = 1e-9

// fault says what is wrong with the case, or nothing.
func (c Case) fault() string {
	switch {
	case c.Method == "" || c.Name == "" || c.Source == "" || c.Status == "":
		return fmt.Sprintf("a case needs method, name, source and status: %+v", c)
	case c.ofText():
		if c.GotText != c.ExpectedText {
			return fmt.Sprintf("%s: %s: got %q, the source has %q (%s)", c.Method, c.Name, c.GotText, c.ExpectedText, c.Source)
		}
	case !(math.Abs(c.Deviation()) <= c.Tolerance+rounding*max(1, math.Abs(c.Expected))): // also where it is no number
		return fmt.Sprintf("%s: %s: got %.6g %s, the source has %.6g, %.3g off where %.3g is allowed (%s)",
			c.Method, c.Name, c.Got, c.Unit, c.Expected, c.Deviation(), c.Tolerance, c.Source)
	}
	return ""
}

// Folder is the environment variable that names the folder into which cases are
// written; where it is not set they are only checked.
const Folder = "NOGGING_VALIDATION"

// Check fails the test where the case's figure is not the source's, and writes
// the case down where that is asked for.
func Check(t testing.TB, c Case) {
	t.Helper()
	if wrong := c.fault(); wrong != "" {
		t.Error(wrong)
	}
	folder := os.Getenv(Folder)
	if folder == "" || math.IsNaN(c.Got) || math.IsInf(c.Got, 0) {
		return
	}
	if err := write(folder, c); err != nil {
		t.Error(err)
	}
}

// write adds the case to this process's own file: each package's tests are a
// process of their own.
func write(folder string, c Case) error {
	line, err := json.Marshal(c)
	if err != nil {
		return err
	}
	f, err := os.OpenFile(filepath.Join(folder, fmt.Sprintf("%d.jsonl", os.Getpid())), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	if _, err := f.Write(append(line, '\n')); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
