package plan

import "nogging/internal/yamlfile"

// Marshal writes the plan as a file that Parse reads back to the same plan and
// that people can go on writing. The comments are put on top, one a line; see
// SchemaComment. It fails for numbers that are not finite.
func Marshal(p *Plan, comments ...string) ([]byte, error) {
	return yamlfile.Encode(p, comments...)
}

// SchemaComment is the comment by which editors find the schema of a plan file,
// given the schema's file name or address.
func SchemaComment(schema string) string { return "yaml-language-server: $schema=" + schema }
