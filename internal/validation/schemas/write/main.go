// Command write prints the schema of a kind of document that the program writes; it is
// run in the root of the module.
package main

import (
	"fmt"
	"os"

	"nogging/internal/validation/schemas"
)

func main() {
	kind := ""
	if len(os.Args) > 1 {
		kind = os.Args[1]
	}
	text, err := schemas.Of(kind, ".")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	os.Stdout.Write(text)
}
