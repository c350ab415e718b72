// Uses of rooms: those of the plan, and common ones to choose from; and which
// walls stand between two uses.

import type { Plan } from '../../core/plan.ts'
import { roomsBeside, roomsOn } from '../../geometry/beside.ts'

const common = ['office', 'meeting', 'corridor', 'stair', 'lift', 'dwelling', 'bedroom', 'bathroom', 'toilet', 'kitchen', 'store', 'plant', 'classroom', 'treatment', 'shaft']

export const usesOf = (plan: Plan | null): string[] => [...new Set([...usesIn(plan), ...common])]

export const usesIn = (plan: Plan | null): string[] => [...new Set((plan?.rooms ?? []).flatMap((r) => r.use ?? []))].sort()

// A pair of uses, whichever way round; outside or unnamed is ''.
export const pairOf = (a: string, b: string): string => [a, b].sort().join('|')

// The walls between each pair of uses, of all levels. A wall that parts several
// pairs stands at each.
export function wallsBetween(plan: Plan): Map<string, string[]> {
  const pairs = new Map<string, Set<string>>()
  for (const l of plan.levels) {
    const rooms = roomsOn(plan, l.id)
    for (const w of plan.walls) {
      if (w.level !== l.id) continue
      for (const [a, b] of roomsBeside(w, rooms)) {
        if (!a || !b || a === b) continue
        const pair = pairOf(a.use ?? '', b.use ?? '')
        pairs.set(pair, (pairs.get(pair) ?? new Set()).add(w.id))
      }
    }
  }
  return new Map([...pairs].map(([pair, walls]) => [pair, [...walls]]))
}
