// Which answer of the server belongs to which version of a wall. Walls are values:
// an edited wall is a new one, for which there is no body until the server has
// answered.

import { computed } from '@preact/signals'
import type { WallBrief } from '../api.ts'
import type { Wall } from '../core/plan.ts'
import { briefs, project } from '../state.ts'

const bodies = new WeakMap<Wall, WallBrief>()
let known: ReadonlyMap<string, WallBrief> = new Map()

// Gives the answer for a wall as it is, if there is one. The signal changes when
// new answers have come.
export const briefOf = computed(() => {
  const all = briefs.value
  const s = project.peek()
  if (s && all !== known) {
    const waiting = new Set(s.waiting.flatMap((w) => w.changes.map((c) => c.id)))
    for (const w of s.shown.walls) {
      const b = all.get(w.id)
      if (b && (b !== known.get(w.id) || !bodies.has(w)) && !waiting.has(w.id)) bodies.set(w, b)
    }
    known = all
  }
  return (w: Wall) => bodies.get(w)
})
