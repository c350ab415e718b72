// Command report prints, as Markdown, the cases that tests wrote into the
// folder named by its only argument (see package validation).
package main

import (
	"fmt"
	"os"

	"nogging/internal/validation"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("name the folder with the cases")
	}
	cases, err := validation.ReadCases(os.DirFS(args[0]))
	if err != nil {
		return err
	}
	_, err = os.Stdout.Write(validation.Report(cases))
	return err
}
