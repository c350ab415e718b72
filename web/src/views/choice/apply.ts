// Gives walls a chosen build-up: an ordinary edit that puts the build-up and the
// walls. Pure.

import type { BuildUp, Change, Edit, Plan, Wall } from '../../core/plan.ts'

// The build-up of the plan that is made the same, whatever its name.
export function sameAs(plan: Plan, b: BuildUp): BuildUp | undefined {
  const made = (x: BuildUp) => ordered([x.frame, x.face_a ?? [], x.face_b ?? [], x.liner ?? '', x.insulation ?? []])
  return plan.buildups?.find((x) => made(x) === made(b))
}

// JSON in which the order of fields makes no difference.
function ordered(value: unknown): string {
  return JSON.stringify(value, (_, v: unknown) => (v && typeof v === 'object' && !Array.isArray(v) ? Object.fromEntries(Object.entries(v).sort()) : v))
}

// A name that the plan does not have yet: that it was chosen, and how thick it is.
export function freshName(plan: Plan, thickness: number): string {
  const taken = new Set(plan.buildups?.map((b) => b.id))
  const base = `chosen-${Math.round(thickness)}`
  for (let i = 0; ; i++) {
    const name = i === 0 ? base : `${base}-${i + 1}`
    if (!taken.has(name)) return name
  }
}

export function applied(plan: Plan, b: BuildUp, name: string, walls: readonly string[], label: string): Edit {
  const there = sameAs(plan, b)
  const changes: Change[] = there ? [] : [{ kind: 'buildups', id: name, value: { ...b, id: name } }]
  for (const w of plan.walls) {
    if (!walls.includes(w.id)) continue
    const { thickness: _, ...rest } = w // that of the build-up holds from now on
    changes.push({ kind: 'walls', id: w.id, value: { ...rest, buildup: there?.id ?? name } satisfies Wall })
  }
  return { label, changes }
}
