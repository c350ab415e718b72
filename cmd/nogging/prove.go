package main

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"nogging/internal/app"
	"nogging/internal/proof"
	"nogging/internal/quantity"
)

type proveCommand struct {
	Plan   string   `arg:"" help:"Plan file; - for standard input."`
	Wall   []string `placeholder:"ID" help:"Only this wall, with the whole derivation of every figure. May be repeated."`
	Failed bool     `help:"Only walls with a demand that is not met or not proven."`
	JSON   bool     `name:"json" help:"Print every check with its derivation as JSON."`
}

func (k *proveCommand) Run(c *console) error {
	j, err := open(c, k.Plan)
	if err != nil {
		return err
	}
	progress := newProgress(c, k.JSON)
	j.Build(progress.report)
	proofs, err := j.Prove(k.Wall, progress.report)
	progress.end()
	if err != nil {
		return err
	}
	failed, open, over := 0, 0, 0
	shown := []app.WallProof{}
	for _, p := range proofs {
		if fails(p) {
			failed++
		}
		if unsettled(p) {
			open++
		}
		if overused(p) {
			over++
		}
		if !k.Failed || fails(p) || unsettled(p) {
			shown = append(shown, p)
		}
	}
	if k.JSON {
		if err := printJSON(c.out, map[string]any{"walls": shown}); err != nil {
			return err
		}
	} else {
		printProofs(c, shown, len(k.Wall) > 0)
		fmt.Fprintf(c.err, "%s: %d with a check that fails, %d with something asked and not proven, of which %d are used above 100 %% by a method outside its range.\nNot a certificate: the local code and a licensed professional decide.\n",
			count(len(proofs), "wall"), failed, open, over)
	}
	if failed > 0 {
		return errFindings
	}
	return nil
}

// fails reports whether any check of the wall fails.
func fails(p app.WallProof) bool { return p.Verdict == proof.Fails }

// unsettled reports whether anything that is asked of the wall is not proven.
func unsettled(p app.WallProof) bool {
	for _, c := range p.Checks {
		if c.Verdict == proof.NotProven && c.Asked != "" {
			return true
		}
	}
	return false
}

// overused reports whether a check that is not proven shows more demand than
// resistance all the same.
func overused(p app.WallProof) bool {
	for _, c := range p.Checks {
		if c.Verdict == proof.NotProven && c.Use > 1 {
			return true
		}
	}
	return false
}

// marks of verdicts in tables; the word stands beside them.
var verdictColours = map[proof.Verdict]string{
	proof.Passes: "\x1b[32m", proof.Fails: "\x1b[31m", proof.NotProven: "\x1b[33m", proof.Shown: "\x1b[2m",
}

// printProofs writes one table a wall: what was checked, the verdict, what was got
// and how far it is used; whole writes the derivations too.
func printProofs(c *console, proofs []app.WallProof, whole bool) {
	for _, p := range proofs {
		fmt.Fprintf(c.out, "%s  %s", p.Wall, p.BuildUp)
		if len(p.Asked) > 0 {
			fmt.Fprintf(c.out, "  asked: %s", strings.Join(p.Asked, ", "))
		}
		fmt.Fprintln(c.out)
		name := 0
		for _, k := range p.Checks {
			name = max(name, utf8.RuneCountInString(k.Name))
		}
		need := proof.Need("")
		told := map[string]bool{}
		for i := range p.Checks {
			k := &p.Checks[i]
			if k.Need != need {
				need = k.Need
				clear(told)
				fmt.Fprintf(c.out, "  %s\n", strings.ToUpper(string(need)))
			}
			printCheck(c, k, name, told)
			if whole {
				printWhole(c.out, k)
			}
		}
		fmt.Fprintln(c.out)
	}
}

// printCheck writes one check on one line, and below it what is missing, unless it
// was told under the same need, and what would work.
func printCheck(c *console, k *proof.Check, name int, told map[string]bool) {
	verdict := padRight(string(k.Verdict), len(proof.NotProven))
	if c.colour {
		verdict = verdictColours[k.Verdict] + verdict + plain
	}
	line := fmt.Sprintf("    %s  %s", verdict, padRight(k.Name, name))
	if k.Asked != "" {
		line += "  asked " + k.Asked + ";"
	}
	if k.Got != nil {
		line += "  " + k.Got.Figure()
	}
	if k.Use > 0 {
		line += fmt.Sprintf("  (%.0f %% used)", 100*k.Use)
	}
	fmt.Fprintln(c.out, line)
	for _, m := range k.Missing {
		if !told[m] {
			told[m] = true
			fmt.Fprintln(c.out, "                  open:", m)
		}
	}
	if k.Advice != "" && (k.Verdict == proof.Fails || k.Verdict == proof.NotProven) {
		fmt.Fprintln(c.out, "                  hint:", k.Advice)
	}
}

// printWhole writes the derivation of a check, inputs indented below their
// results.
func printWhole(out io.Writer, k *proof.Check) {
	if k.Got != nil {
		printDerivation(out, k.Got, 9)
	}
}

func printDerivation(out io.Writer, d *quantity.Derivation, indent int) {
	line := strings.Repeat(" ", indent) + d.Name
	if d.Symbol != "" {
		line += " " + d.Symbol
	}
	line += " = " + d.Figure()
	var about []string
	if d.Method != "" {
		about = append(about, d.Method)
	}
	if d.Source != "" {
		about = append(about, d.Source)
	}
	if d.Status != "" {
		about = append(about, string(d.Status))
	}
	if len(about) > 0 {
		line += "  [" + strings.Join(about, "; ") + "]"
	}
	fmt.Fprintln(out, line)
	if d.Note != "" {
		fmt.Fprintln(out, strings.Repeat(" ", indent+2)+d.Note)
	}
	for i := range d.From {
		printDerivation(out, &d.From[i], indent+2)
	}
}
