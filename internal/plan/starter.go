package plan

import (
	_ "embed" // for the starter plan
	"slices"
)

//go:embed starter.yaml
var starter []byte

// Starter returns a plan file to begin with: a few walls, explained line by
// line for someone who has not written one before.
func Starter() []byte { return slices.Clone(starter) }
