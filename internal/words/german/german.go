// Package german holds what the program says in German: for every English text, a
// format with the same arguments. Arguments can stand in another order (%[2]s).
package german

import "maps"

// Texts returns all German texts by their English.
func Texts() map[string]string {
	all := map[string]string{}
	for _, area := range areas {
		maps.Copy(all, area)
	}
	return all
}

var areas = []map[string]string{walls, plans, exchanged}
