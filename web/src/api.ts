// The server's HTTP interface with types. Every call either gives its value or
// throws an ApiError; a server out of reach is an ApiError with status 0.

import type { Change, Edit, Point } from './core/plan.ts'
import type { Loaded } from './core/project.ts'
import { language } from './preferences.ts'
import { listen } from './stream.ts'

export interface Finding {
  code: string
  severity: 'error' | 'warning' | 'assumed' | 'note'
  object?: string
  other?: string
  path?: string
  what: string
  fix?: string
}

export interface ProjectBrief {
  id: string
  name: string
  number?: string
  revision: number
  changed: string
  levels: number
  walls: number
}

export type ProofState = 'met' | 'not_met' | 'not_proven' | 'not_asked' | ''

// The gravest check of a wall for one need, in short.
export interface NeedState {
  need: string
  verdict: 'passes' | 'fails' | 'not proven' | 'shown'
  asked?: string
  got?: string
}

export interface WallBrief {
  id: string
  level: string
  outline: Point[] // of the finished body, joints resolved
  laid_out?: boolean
  openings?: { id: string; u0: number; u1: number; kind: string; outline?: Point[] }[]
  length: number
  height: number
  buildup: string
  thickness: number
  status: { findings: Finding['severity'] | ''; proof: ProofState; needs?: NeedState[] }
  rooms?: (string | null)[]
}

export interface LevelView {
  revision: number
  walls: WallBrief[] | null
  findings: Finding[]
}

export interface Placement {
  x: number // plan coordinates of the picture's lower left corner, mm
  y: number
  mmPerPixel: number
  turn: number // degrees, anticlockwise, about that corner
  fade: number // 0 full, 1 invisible
}

export interface Answer {
  revision: number
  label?: string
  changes?: Change[]
  applied?: Change[]
  canUndo?: boolean
  canRedo?: boolean
}

export interface Remote extends Answer {
  client: string
  changes: Change[]
}

export class ApiError extends Error {
  readonly status: number
  readonly body: { detail?: string; title?: string; findings?: Finding[]; conflicts?: { kind: string; id: string; value: unknown; label?: string; client?: string }[] }
  constructor(status: number, body: ApiError['body']) {
    super(body.detail ?? body.title ?? `HTTP ${status}`)
    this.status = status
    this.body = body
  }
}

// Tells this tab from others on the same project; kept while the tab is reloaded.
export const client = (() => {
  const kept = sessionStorage.getItem('nogging.client') ?? crypto.getRandomValues(new Uint32Array(2)).join('-')
  sessionStorage.setItem('nogging.client', kept)
  return kept
})()

export async function call<T>(method: string, path: string, body?: unknown, stop?: AbortSignal): Promise<T> {
  const raw = body instanceof Blob
  const headers: Record<string, string> = { 'Accept-Language': language.value }
  if (body !== undefined) headers['Content-Type'] = raw ? body.type || 'application/octet-stream' : 'application/json'
  let response: Response
  try {
    response = await fetch(`/api/${path}`, { method, headers, body: body === undefined ? null : raw ? body : JSON.stringify(body), signal: stop ?? null })
  } catch {
    throw new ApiError(0, { title: 'The server does not answer.' })
  }
  const type = response.headers.get('Content-Type') ?? ''
  const value: unknown = type.includes('json') ? await response.json() : await response.text()
  if (!response.ok) throw new ApiError(response.status, typeof value === 'object' && value !== null ? value : { detail: String(value) })
  return value as T
}

const of = (p: string) => `projects/${encodeURIComponent(p)}`

export const api = {
  about: () => call<{ version: string; authRequired?: boolean; loggedIn?: boolean }>('GET', 'about'),
  login: (password: string) => call<unknown>('POST', 'login', { password }),
  projects: () => call<ProjectBrief[]>('GET', 'projects'),
  create: (from: 'empty' | 'demo', name?: string) => call<{ id: string }>('POST', 'projects', { from, name }),
  import: (file: File) => call<{ id: string; findings?: Finding[] }>('POST', `projects/import?name=${encodeURIComponent(file.name)}`, new Blob([file])),
  rename: (p: string, name: string) => call<unknown>('PATCH', of(p), { name }),
  remove: (p: string) => call<unknown>('DELETE', of(p)),
  project: (p: string) => call<Loaded>('GET', of(p)),
  picture: (p: string, revision: number) => `/api/${of(p)}/picture.svg?r=${revision}`,
  edit: (p: string, base: number, edit: Edit) => call<Answer>('POST', `${of(p)}/edits`, { base, client, label: edit.label, changes: edit.changes }),
  undo: (p: string, base: number) => call<Answer>('POST', `${of(p)}/undo`, { base, client }),
  redo: (p: string, base: number) => call<Answer>('POST', `${of(p)}/redo`, { base, client }),
  level: (p: string, level: string) => call<LevelView>('GET', `${of(p)}/level/${encodeURIComponent(level)}`),
  // Where the walls of a level stand, before it is known how they stand against what is asked.
  outlines: (p: string, level: string) => call<Pick<LevelView, 'revision' | 'walls'>>('GET', `${of(p)}/level/${encodeURIComponent(level)}?outlines`),
  totals: (p: string) => call<{ revision: number; totals: unknown }>('GET', `${of(p)}/totals`),
  findings: (p: string) => call<Finding[]>('GET', `${of(p)}/findings`),
  catalogue: (p: string) => call<Catalogue>('GET', `catalogue?project=${encodeURIComponent(p)}`),
  underlayURL: (p: string, level: string) => `/api/${of(p)}/underlays/${encodeURIComponent(level)}`,
  putUnderlay: (p: string, level: string, picture: Blob) => call<unknown>('PUT', `${of(p)}/underlays/${encodeURIComponent(level)}`, picture),
  placement: (p: string, level: string) => call<Placement | null>('GET', `${of(p)}/underlays/${encodeURIComponent(level)}/placement`),
  place: (p: string, level: string, at: Placement) => call<unknown>('PUT', `${of(p)}/underlays/${encodeURIComponent(level)}/placement`, at),
  removeUnderlay: (p: string, level: string) => call<unknown>('DELETE', `${of(p)}/underlays/${encodeURIComponent(level)}`),
}

export interface Catalogue {
  buildups?: { id: string; name?: string; thickness?: number }[]
  boards?: { id: string; name?: string; thickness?: number }[]
  profiles?: { id: string; name?: string; kind?: string; depth?: number }[]
  insulation?: { id: string; name?: string; thickness?: number }[]
  fixtures?: { kind: string; height: number }[] // how high the practice hangs things
}

// How far a long piece of work of the server has come.
export interface Work {
  work: string
  done: number
  total: number
}

export interface Events {
  edit: Remote
  // Where walls stand, before their proofs.
  layout: { revision: number; walls: WallBrief[] | null; removed?: string[]; ms: number }
  result: { revision: number; walls: WallBrief[] | null; removed?: string[]; ms: number }
  totals: { revision: number; totals: unknown; ms: number }
  // After a connection: whether events before it are lost.
  state: { revision: number; reload?: boolean }
  gone: object
  work: Work
  job: { id: string; kind: string; done: number; total: number; state: string; url?: string }
}

// Follows what happens to a project after the revision known until the function given
// back is called.
export function follow(p: string, after: () => number, on: { [K in keyof Events]?: (e: Events[K]) => void }, link: (live: boolean) => void): () => void {
  const told = (name: string, data: string) => (on[name as keyof Events] as ((e: unknown) => void) | undefined)?.(JSON.parse(data))
  return listen(p, { url: (n) => `/api/${of(p)}/events?after=${n}`, names: Object.keys(on), after, told, link })
}
