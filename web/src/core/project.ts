// The state of one open project and how events change it: edits shown at once
// and confirmed by the server afterwards. Pure: (state, event) → state.
//
// `confirmed` is the plan at `revision`, as the server has it. `waiting` are
// edits that the server has not answered yet, in order; `shown` is the one with
// the others applied, which is what everybody draws.

import { apply } from './apply.ts'
import type { Change, Edit, Plan } from './plan.ts'

export interface Waiting extends Edit {
  key: number // counts up; tells the edits of this page apart
}

export interface Conflict {
  edit: Waiting
  theirs: { kind: string; id: string; value: unknown; label?: string; client?: string }[]
}

export type Link = 'live' | 'lost'

export interface ProjectState {
  id: string
  name: string
  revision: number
  confirmed: Plan
  shown: Plan
  waiting: Waiting[]
  nextKey: number
  canUndo: boolean
  canRedo: boolean
  link: Link
  conflict: Conflict | null
  refused: { edit: Waiting; detail: string } | null
}

export interface Loaded {
  id: string
  name: string
  revision: number
  canUndo: boolean
  canRedo: boolean
  plan: Plan
}

export interface History {
  canUndo?: boolean
  canRedo?: boolean
}

export type ProjectEvent =
  | { type: 'edited'; edit: Edit } // by the person at this page
  | { type: 'acknowledged'; key: number; revision: number; others: Change[]; history: History }
  | { type: 'remote'; revision: number; changes: Change[]; history: History } // by somebody else, or undo and redo
  | { type: 'conflicted'; key: number; theirs: Conflict['theirs'] }
  | { type: 'refused'; key: number; detail: string }
  | { type: 'dropped'; key: number } // a waiting edit that the person gives up
  | { type: 'settled' } // the conflict or refusal was seen to
  | { type: 'link'; link: Link }
  | { type: 'reloaded'; loaded: Loaded }

export function opened(loaded: Loaded, waiting: Waiting[] = []): ProjectState {
  return refold({
    ...loadedFields(loaded),
    shown: loaded.plan,
    waiting,
    nextKey: waiting.reduce((n, w) => Math.max(n, w.key + 1), 1),
    link: 'live',
    conflict: null,
    refused: null,
  })
}

function loadedFields(l: Loaded) {
  return { id: l.id, name: l.name, revision: l.revision, confirmed: l.plan, canUndo: l.canUndo, canRedo: l.canRedo }
}

export function reduce(s: ProjectState, e: ProjectEvent): ProjectState {
  switch (e.type) {
    case 'edited':
      return edited(s, e.edit)
    case 'acknowledged':
      return acknowledged(s, e)
    case 'remote':
      if (e.revision <= s.revision) return s
      return refold({ ...s, ...history(s, e.history), revision: e.revision, confirmed: apply(s.confirmed, e.changes) })
    case 'conflicted': {
      const edit = s.waiting.find((w) => w.key === e.key)
      return edit ? { ...s, conflict: { edit, theirs: e.theirs } } : s
    }
    case 'refused': {
      const edit = s.waiting.find((w) => w.key === e.key)
      return edit ? { ...without(s, e.key), refused: { edit, detail: e.detail } } : s
    }
    case 'dropped':
      return without(s, e.key)
    case 'settled':
      return { ...s, conflict: null, refused: null }
    case 'link':
      return s.link === e.link ? s : { ...s, link: e.link }
    case 'reloaded':
      return refold({ ...s, ...loadedFields(e.loaded) })
  }
}

function edited(s: ProjectState, edit: Edit): ProjectState {
  const waiting = [...s.waiting, { ...edit, key: s.nextKey }]
  return { ...s, waiting, nextKey: s.nextKey + 1, shown: apply(s.shown, edit.changes), canUndo: true, canRedo: false }
}

// The answer to our edit may come after the same revision was told by the event
// stream; then only the waiting edit goes.
function acknowledged(s: ProjectState, e: Extract<ProjectEvent, { type: 'acknowledged' }>): ProjectState {
  const edit = s.waiting.find((w) => w.key === e.key)
  if (!edit) return s
  const rest = { ...s, ...history(s, e.history), waiting: s.waiting.filter((w) => w.key !== e.key) }
  if (e.revision <= s.revision) return refold(rest)
  const confirmed = apply(apply(s.confirmed, e.others), edit.changes)
  return refold({ ...rest, revision: e.revision, confirmed })
}

function history(s: ProjectState, h: History) {
  return { canUndo: h.canUndo ?? s.canUndo, canRedo: h.canRedo ?? s.canRedo }
}

function without(s: ProjectState, key: number): ProjectState {
  const conflict = s.conflict?.edit.key === key ? null : s.conflict
  return refold({ ...s, conflict, waiting: s.waiting.filter((w) => w.key !== key) })
}

function refold(s: ProjectState): ProjectState {
  return { ...s, shown: s.waiting.reduce((plan, w) => apply(plan, w.changes), s.confirmed) }
}
