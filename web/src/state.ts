// What the open page knows, as signals. Components read them; only the functions
// of sync.ts and of the editor change them.

import { computed, signal } from '@preact/signals'
import type { Catalogue, Finding, ProofState, WallBrief, Work } from './api.ts'
import type { Plan } from './core/plan.ts'
import type { ProjectState } from './core/project.ts'

export { route } from './route.ts'

export const project = signal<ProjectState | null>(null)
export const plan = computed<Plan | null>(() => project.value?.shown ?? null)

// Of each wall what the server worked out last, by mark; filled per level when
// it is first looked at, and kept up to date by events.
export const briefs = signal<ReadonlyMap<string, WallBrief>>(new Map())
export const findings = signal<readonly Finding[]>([])
export const totals = signal<unknown>(null)
// The revisions that what is shown belongs to: where walls stand, how they stand
// against what is asked, and the totals.
export const laidRevision = signal(0)
export const computedRevision = signal(0)
export const totalsRevision = signal(0)

// What of the newest revision is still being reckoned; null where nothing is.
export const reckoning = computed<'layout' | 'proofs' | 'totals' | null>(() => {
  const now = project.value?.revision ?? 0
  if (laidRevision.value < now) return 'layout'
  if (computedRevision.value < now) return 'proofs'
  return totalsRevision.value < now ? 'totals' : null
})

// The long piece of work that the server told of last.
export const work = signal<Work | null>(null)
export const catalogue = signal<Catalogue | null>(null)

// Long work on the server, by id, newest state.
export const jobs = signal<ReadonlyMap<string, { id: string; kind: string; done: number; total: number; state: string; url?: string }>>(new Map())

// Marks of the walls selected, shared by all places: what is selected on the plan
// is looked at in the wall view.
export const selection = signal<readonly string[]>([])

// One message for the person at the foot of the page.
export const notice = signal<{ text: string; kind: 'info' | 'error' } | null>(null)

export const proofOf = (wall: string): ProofState => briefs.value.get(wall)?.status.proof ?? ''
