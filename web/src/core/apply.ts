// Applies changes to a plan without touching the plan given, as the server does:
// what is unchanged is shared, so that comparing references tells what an edit
// touched. An object that is not there cannot be removed; that changes nothing.

import type { Change, Junction, Plan } from './plan.ts'

type Dict = Record<string, unknown>

const lists = new Set(['levels', 'structure', 'rooms', 'buildups', 'walls', 'junctions'])

// A junction goes by its walls' marks in alphabetical order.
const idOf = (kind: string, o: unknown) => (kind === 'junctions' ? [...(o as Junction).walls].sort().join('+') : (o as { id: string }).id)

export function apply(plan: Plan, changes: readonly Change[]): Plan {
  if (changes.length === 0) return plan
  const next = { ...plan } as unknown as Dict
  const copied = new Set<string>()
  for (const c of changes) {
    if (c.kind === 'overrides') next.overrides = put({ ...(next.overrides as Dict) }, c.id, c.value)
    else if (!lists.has(c.kind)) put(next, c.kind, c.value)
    else {
      if (!copied.has(c.kind)) next[c.kind] = [...((next[c.kind] as unknown[] | undefined) ?? [])]
      copied.add(c.kind)
      putInList(next[c.kind] as unknown[], c)
    }
  }
  return next as unknown as Plan
}

function put(into: Dict, key: string, value: unknown): Dict {
  if (value === null) delete into[key]
  else into[key] = value
  return into
}

function putInList(list: unknown[], c: Change): void {
  const i = list.findIndex((o) => idOf(c.kind, o) === c.id)
  if (c.value === null) {
    if (i >= 0) list.splice(i, 1)
  } else if (i >= 0) list[i] = c.value
  else list.splice(c.at ?? list.length, 0, c.value)
}

// The changes that take apply(plan, changes) back to the plan.
export function inverse(plan: Plan, changes: readonly Change[]): Change[] {
  const back: Change[] = []
  let now = plan
  for (const c of changes) {
    back.unshift(object(now, c.kind, c.id))
    now = apply(now, [c])
  }
  return back
}

// An object of the plan as a change would put it: with null where it is not there.
export function object(plan: Plan, kind: string, id: string): Change {
  const held = (plan as unknown as Dict)[kind]
  if (kind === 'overrides') return { kind, id, value: (held as Dict | undefined)?.[id] ?? null }
  if (!lists.has(kind)) return { kind, id, value: held ?? null }
  const list = (held ?? []) as unknown[]
  const at = list.findIndex((o) => idOf(kind, o) === id)
  return at < 0 ? { kind, id, value: null } : { kind, id, at, value: list[at] }
}
