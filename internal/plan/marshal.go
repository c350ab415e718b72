package plan

import "nogging/internal/yamlfile"

// Marshal writes the plan as a file that Parse reads back to the same plan and
// that people can go on writing. The comments are put on top, one a line.
// It fails for numbers that are not finite.
func Marshal(p *Plan, comments ...string) ([]byte, error) {
	return yamlfile.Encode(p, comments...)
}
