// Package schema holds the JSON Schemas of what the program writes, as `make generate`
// made them from its types.
package schema

import "embed"

// Files are the schemas by name, such as result.schema.json.
//
//go:embed *.schema.json
var Files embed.FS
