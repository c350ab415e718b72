// Keeps the open project and the server alike: sends edits one after another,
// follows what others do, and holds edits back while the server is away. Edits
// not yet answered are also kept in the browser, so that closing the tab loses
// none.

import { effect, signal } from '@preact/signals'
import { ApiError, api, client, follow } from './api.ts'
import type { Events, Remote, WallBrief } from './api.ts'
import type { Edit } from './core/plan.ts'
import type { Conflict, ProjectEvent, ProjectState, Waiting } from './core/project.ts'
import { opened, reduce } from './core/project.ts'
import { keep, left } from './kept.ts'
import { language } from './preferences.ts'
import { go } from './route.ts'
import { t } from './show.ts'
import { briefs, catalogue, computedRevision, findings, jobs, laidRevision, notice, project, totals, totalsRevision, work } from './state.ts'

let stop: (() => void) | null = null
let sending = false
let retry: ReturnType<typeof setTimeout> | undefined

function dispatch(e: ProjectEvent): void {
  const s = project.value
  if (!s) return
  const next = reduce(s, e)
  if (next === s) return
  project.value = next
  if (next.waiting !== s.waiting) keep(next.id, next.waiting)
}

export async function open(id: string): Promise<void> {
  close()
  const loaded = await api.project(id)
  project.value = opened(loaded, await left(id))
  stop = follow(id, () => project.value?.revision ?? loaded.revision, { edit: remote, layout: laid, result, totals: summed, job, work: (w) => (work.value = w), state: connected, gone }, linked)
  void refresh()
  void api.catalogue(id).then((c) => (catalogue.value = c), () => undefined)
  void send()
}

export function close(): void {
  stop?.()
  stop = null
  clearTimeout(retry)
  project.value = null
  briefs.value = new Map()
  findings.value = []
  totals.value = null
  laidRevision.value = computedRevision.value = totalsRevision.value = 0
  work.value = null
}

let editedAt = 0

// How long the last edit has taken to be stored, worked out and summed up, in ms.
export const pace = signal<{ stored?: number; laid?: number; result?: number; totals?: number }>({})
const passed = (what: 'stored' | 'laid' | 'result' | 'totals') => (pace.value = { [what]: Math.round(performance.now() - editedAt), ...pace.value })

// Shows an edit at once and sends it when its turn comes.
export function edit(e: Edit): void {
  if (e.changes.length === 0) return
  editedAt = performance.now()
  pace.value = {}
  dispatch({ type: 'edited', edit: e })
  void send()
}

export const undo = () => inTurn('undo')
export const redo = () => inTurn('redo')

// Undo and redo that have been asked for and are not done.
export const stepping = signal(0)
let steps: Promise<void> = Promise.resolve()

// Each step starts from the revision that the one before it made.
function inTurn(way: 'undo' | 'redo'): Promise<void> {
  stepping.value += 1
  steps = steps.then(() => step(way)).finally(() => (stepping.value -= 1))
  return steps
}

// Undo of an edit that the server has not seen simply drops it.
async function step(way: 'undo' | 'redo'): Promise<void> {
  while (sending) await new Promise((done) => setTimeout(done, 5))
  const s = project.value
  if (!s) return
  const last = s.waiting.at(-1)
  if (way === 'undo' && last) return dispatch({ type: 'dropped', key: last.key })
  try {
    const a = await api[way](s.id, s.revision)
    dispatch({ type: 'remote', revision: a.revision, changes: a.changes ?? [], history: a })
    if (a.label) notice.value = { text: t(`shell.${way}.done`, { label: a.label }), kind: 'info' }
  } catch (e) {
    failed(e)
  }
}

async function send(): Promise<void> {
  if (sending) return
  sending = true
  try {
    for (let s = project.value; s && s.waiting.length > 0 && !s.conflict; s = project.value) {
      if (!(await sendOne(s))) break
    }
  } finally {
    sending = false
  }
}

async function sendOne(s: ProjectState): Promise<boolean> {
  const edit = s.waiting[0]
  if (!edit) return false
  try {
    const a = await api.edit(s.id, s.revision, edit)
    dispatch({ type: 'acknowledged', key: edit.key, revision: a.revision, others: a.applied ?? [], history: a })
    passed('stored')
    linked(true)
    return true
  } catch (e) {
    if (!(e instanceof ApiError)) throw e
    if (e.status === 409) return conflicted(s, edit, e.body.conflicts ?? [])
    else if (e.status >= 400 && e.status < 500) dispatch({ type: 'refused', key: edit.key, detail: e.message })
    else wait()
    return e.status >= 400 && e.status < 500
  }
}

// Where the answer to an edit was lost, the edit comes back as a conflict with
// itself: it is stored already.
async function conflicted(s: ProjectState, edit: Waiting, theirs: Conflict['theirs']): Promise<boolean> {
  const stored = theirs.length > 0 && theirs.every((o) => {
    const mine = edit.changes.find((c) => c.kind === o.kind && c.id === o.id)
    return o.client === client && mine !== undefined && alike(mine.value, o.value)
  })
  if (!stored) {
    dispatch({ type: 'conflicted', key: edit.key, theirs })
    return false
  }
  dispatch({ type: 'reloaded', loaded: await api.project(s.id) })
  dispatch({ type: 'dropped', key: edit.key })
  return true
}

// Whether two values are the same but for the order of their fields.
function alike(a: unknown, b: unknown): boolean {
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return a === b
  const [x, y] = [a, b] as [Record<string, unknown>, Record<string, unknown>]
  const keys = Object.keys(x)
  return keys.length === Object.keys(y).length && keys.every((k) => alike(x[k], y[k]))
}

// The server is away: say so, and try again shortly.
function wait(): void {
  dispatch({ type: 'link', link: 'lost' })
  clearTimeout(retry)
  retry = setTimeout(() => void send(), 1500)
}

function linked(live: boolean): void {
  dispatch({ type: 'link', link: live ? 'live' : 'lost' })
  if (live && !sending) void send()
}

// After a conflict: take theirs (our edit goes), or put ours again on top of
// what is there now.
export async function settle(choice: 'mine' | 'theirs'): Promise<void> {
  const s = project.value
  if (!s?.conflict) return
  const mine = s.conflict.edit
  dispatch({ type: 'reloaded', loaded: await api.project(s.id) })
  if (choice === 'theirs') dispatch({ type: 'dropped', key: mine.key })
  dispatch({ type: 'settled' })
  void send()
}

export const dismissRefusal = () => dispatch({ type: 'settled' })

function remote(e: Remote): void {
  const s = project.value
  if (!s || e.revision <= s.revision) return
  // Our own edit is confirmed by the answer to it; a gap means that events were
  // missed, as after a long sleep.
  if (e.client === client && sending) return
  if (e.revision > s.revision + 1) return void reload(s.id)
  dispatch({ type: 'remote', revision: e.revision, changes: e.changes, history: e })
}

// Results are not told again after a connection was lost; they are asked for.
function connected(e: Events['state']): void {
  const s = project.value
  if (s) void (e.reload ? reload(s.id) : refresh())
}

function gone(): void {
  notice.value = { text: t('shell.gone'), kind: 'error' }
  go('#/')
}

async function reload(id: string): Promise<void> {
  dispatch({ type: 'reloaded', loaded: await api.project(id) })
  await refresh()
}

function laid(e: Events['layout']): void {
  take(e)
  laidRevision.value = e.revision
  passed('laid')
}

function take(e: Events['layout']): void {
  const next = new Map(briefs.value)
  for (const id of e.removed ?? []) next.delete(id)
  for (const w of e.walls ?? []) next.set(w.id, w)
  briefs.value = next
}

function result(e: Events['result']): void {
  take(e)
  laidRevision.value = computedRevision.value = e.revision
  passed('result')
  refreshFindings()
}

function summed(e: Events['totals']): void {
  totals.value = e.totals
  totalsRevision.value = e.revision
  passed('totals')
}

function job(e: Events['job']): void {
  jobs.value = new Map(jobs.value).set(e.id, e)
}

// Loads what the server worked out for every level: first where the walls stand,
// then how they stand against what is asked, then totals and findings.
export async function refresh(): Promise<void> {
  const s = project.value
  if (!s) return
  try {
    laidRevision.value = await levelsBy((l) => api.outlines(s.id, l))
    performance.mark('laid')
    computedRevision.value = await levelsBy((l) => api.level(s.id, l))
    performance.mark('proven')
    const [sums, found] = await Promise.all([api.totals(s.id), api.findings(s.id)])
    totals.value = sums.totals
    totalsRevision.value = sums.revision
    findings.value = found
  } catch (e) {
    failed(e)
  }
}

// Takes the walls of every level; gives the revision that they belong to.
async function levelsBy(get: (level: string) => Promise<{ revision: number; walls: WallBrief[] | null }>): Promise<number> {
  const s = project.value
  const levels = await Promise.all((s?.shown.levels ?? []).map((l) => get(l.id)))
  if (project.value?.id !== s?.id) return 0
  briefs.value = new Map(levels.flatMap((l) => (l.walls ?? []).map((w) => [w.id, w] as const)))
  return levels.length === 0 ? (s?.revision ?? 0) : Math.max(0, ...levels.map((l) => l.revision))
}

let findingsDue: ReturnType<typeof setTimeout> | undefined

// Findings change with most edits; they are asked for once things are quiet.
function refreshFindings(): void {
  clearTimeout(findingsDue)
  findingsDue = setTimeout(() => {
    const s = project.value
    if (s) void api.findings(s.id).then((f) => (findings.value = f), failed)
  }, 200)
}

// The server says findings in the language of the page.
effect(() => {
  if (language.value) refreshFindings()
})

export function failed(e: unknown): void {
  notice.value = { text: e instanceof Error ? e.message : String(e), kind: 'error' }
}
