// Package draws makes property tests draw the same inputs in every run, so that a
// build fails by what was changed and never by chance. A package whose tests draw
// imports it for that effect alone:
//
//	import _ "nogging/internal/draws"
//
// A -rapid.seed on the command line goes before it: 0 draws anew in each run, as
// make explore does.
package draws

import (
	"flag"

	_ "pgregory.net/rapid" // which registers the flag
)

func init() {
	if err := flag.Set("rapid.seed", "1"); err != nil {
		panic("draws: " + err.Error()) // the library no longer knows the flag
	}
}
