// Uses of rooms: those of the plan, and common ones to choose from; and which
// walls stand between two uses.

import type { WallBrief } from '../../api.ts'
import type { Plan } from '../../core/plan.ts'

const common = ['office', 'meeting', 'corridor', 'stair', 'lift', 'dwelling', 'bedroom', 'bathroom', 'toilet', 'kitchen', 'store', 'plant', 'classroom', 'treatment', 'shaft']

export const usesOf = (plan: Plan | null): string[] => [...new Set([...usesIn(plan), ...common])]

export const usesIn = (plan: Plan | null): string[] => [...new Set((plan?.rooms ?? []).flatMap((r) => r.use ?? []))].sort()

// A pair of uses, whichever way round; outside or unnamed is ''.
export const pairOf = (a: string, b: string): string => [a, b].sort().join('|')

// The walls between each pair of uses, of all levels.
export function wallsBetween(plan: Plan, briefs: ReadonlyMap<string, WallBrief>): Map<string, string[]> {
  const use = new Map((plan.rooms ?? []).map((r) => [r.id, r.use ?? '']))
  const pairs = new Map<string, string[]>()
  for (const w of plan.walls) {
    const [a, b] = briefs.get(w.id)?.rooms ?? []
    if (!a || !b || a === b) continue
    const pair = pairOf(use.get(a) ?? '', use.get(b) ?? '')
    const list = pairs.get(pair)
    if (list) list.push(w.id)
    else pairs.set(pair, [w.id])
  }
  return pairs
}
