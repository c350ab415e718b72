package plan

import (
	"slices"

	"nogging/internal/words"
)

// Junction is what the plan says of the place where two walls meet, where that
// differs from what is worked out from what is asked of them.
type Junction struct {
	Walls   []string `json:"walls" jsonschema:"ids of the two walls that meet"`
	Through string   `json:"through,omitempty" jsonschema:"id of the one that runs through; the one of which more is asked if left out"`
	Boards  string   `json:"boards,omitempty" jsonschema:"boards of the through wall where the other stands against it: cut (interrupted by the other's frame) or run (carry on); cut from the practice's sound demand if left out"`
	Reason  string   `json:"reason,omitempty" jsonschema:"why, for the people on site"`
}

// What the boards of a through wall may be said to do at a junction.
const (
	BoardsCut = "cut"
	BoardsRun = "run"
)

// Names reports whether the entry is about the two walls.
func (j *Junction) Names(a, b string) bool {
	return len(j.Walls) == 2 && (j.Walls[0] == a && j.Walls[1] == b || j.Walls[0] == b && j.Walls[1] == a)
}

// Usable reports whether the entry names two walls and, if any, one of them as
// running through.
func (j *Junction) Usable() bool {
	return len(j.Walls) == 2 && j.Walls[0] != j.Walls[1] && (j.Through == "" || slices.Contains(j.Walls, j.Through))
}

// junctions checks what the plan says of junctions.
func (c *checker) junctions() {
	ids := make([]string, 0, len(c.plan.Walls))
	for i := range c.plan.Walls {
		ids = append(ids, c.plan.Walls[i].ID)
	}
	first := map[[2]string]int{}
	for i := range c.plan.Junctions {
		j := &c.plan.Junctions[i]
		s := c.root.entry("junctions", i, "")
		s.choice("Junction", "boards", j.Boards)
		if len(j.Walls) != 2 || j.Walls[0] == j.Walls[1] {
			s.wrong("junction-walls", "walls", words.F("%s named; a junction is between two different walls", words.Count(len(j.Walls), "1 wall", "%d walls")), "name the two, such as walls: [L1-01, L1-02]")
			continue
		}
		for _, id := range j.Walls {
			s.reference("unknown-wall", "walls", id, "walls", ids)
		}
		if !j.Usable() {
			s.wrong("junction-through", "through", words.F("%s is not one of the two walls", j.Through), words.F("write through: %s or through: %s", j.Walls[0], j.Walls[1]))
		}
		pair := [2]string{min(j.Walls[0], j.Walls[1]), max(j.Walls[0], j.Walls[1])}
		if before, twice := first[pair]; twice {
			s.doubt("junction-twice", "walls", words.F("junctions[%d] is about the same two walls; this one is ignored", before), "keep one of the two")
			continue
		}
		first[pair] = i
	}
}
