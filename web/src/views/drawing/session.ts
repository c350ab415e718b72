// The drawing at hand: what the server read of it, what the person decided, and how
// it is seen. Nothing of it is stored before it is taken in.

import { computed, signal } from '@preact/signals'
import type { Camera, Size } from '../../editor/camera.ts'
import { fitted } from '../../editor/camera.ts'
import { ApiError, call } from '../../api.ts'
import type { Finding } from '../../api.ts'
import type { Point, Segment } from '../../geometry/vec.ts'
import { boxOf } from '../../geometry/vec.ts'
import type { Item } from './items.ts'
import { itemsOf, kept, shapes } from './items.ts'
import type { Mapping, Reading, Role } from './types.ts'

export const reading = signal<Reading | null>(null)
export const unread = signal<{ detail: string; findings: Finding[] } | null>(null)
export const busy = signal(false)
export const said = signal<Mapping>({})

interface State {
  items: readonly Item[]
}

const past = signal<readonly State[]>([])
const future = signal<readonly State[]>([])
export const items = signal<readonly Item[]>([])
export const byKey = computed(() => new Map(items.value.map((i) => [i.key, i])))
export const canUndo = computed(() => past.value.length > 0)
export const canRedo = computed(() => future.value.length > 0)

export type Tool = 'pick' | 'lines' | 'door'

export const tool = signal<Tool>('pick')
export const picked = signal<string | null>(null)
export const firstLine = signal<Segment | null>(null)
export const shownLayer = signal<string | null>(null) // pointed at in the list of layers
export const camera = signal<Camera>({ at: [0, 0], scale: 0.05 })
export const size = signal<Size>({ width: 800, height: 600 })

export const pickedItem = computed(() => (picked.value === null ? undefined : byKey.value.get(picked.value)))

// What the person does with the items, one step of undo each.
export function act(next: readonly Item[]): void {
  if (next === items.value) return
  past.value = [...past.value, { items: items.value }]
  future.value = []
  items.value = next
}

export function undo(): void {
  const last = past.value.at(-1)
  if (!last) return
  past.value = past.value.slice(0, -1)
  future.value = [...future.value, { items: items.value }]
  items.value = last.items
}

export function redo(): void {
  const next = future.value.at(-1)
  if (!next) return
  future.value = future.value.slice(0, -1)
  past.value = [...past.value, { items: items.value }]
  items.value = next.items
}

let reads = 0

// Reads a file as it was said to be; a new file forgets the one before.
export async function read(file: File, mapping: Mapping, anew: boolean): Promise<void> {
  const turn = ++reads
  busy.value = true
  if (anew) forget()
  said.value = mapping
  try {
    const first = JSON.stringify({ ...(mapping.unit ? { unit: mapping.unit } : {}), layers: [...remembered(mapping), ...(mapping.layers ?? [])] })
    const r = await call<Reading>('POST', `drawings?name=${encodeURIComponent(file.name)}`, new Blob([`${first}\n`, file]))
    if (turn === reads) take(r)
  } catch (e) {
    if (turn === reads) unread.value = { detail: e instanceof Error ? e.message : String(e), findings: e instanceof ApiError ? (e.body.findings ?? []) : [] }
  } finally {
    if (turn === reads) busy.value = false
  }
}

function take(r: Reading): void {
  const before = reading.value
  const now = itemsOf(r)
  items.value = before ? kept(items.value, now, before.stats.unit === r.stats.unit) : now
  past.value = []
  future.value = []
  picked.value = null
  firstLine.value = null
  unread.value = null
  reading.value = r
  if (!before || before.stats.unit !== r.stats.unit) fit()
}

export function forget(): void {
  reading.value = null
  unread.value = null
  items.value = []
  past.value = []
  future.value = []
  picked.value = null
  firstLine.value = null
  tool.value = 'pick'
}

// Shows all that was recognised; where nothing was, all lines.
export function fit(): void {
  const points = items.value.flatMap((i) => shapes(i, byKey.value.get(i.host ?? ''))).flat()
  const all = points.length > 0 ? points : (reading.value?.picture.layers.flatMap((s) => ends(s.lines)) ?? [])
  if (all.length > 0) camera.value = fitted(boxOf(all), size.value)
}

const ends = (flat: readonly number[]): Point[] => Array.from({ length: Math.floor(flat.length / 2) }, (_, i) => [flat[2 * i] as number, flat[2 * i + 1] as number])

// Shows an item, nearer if it is small on the screen.
export function show(key: string): void {
  picked.value = key
  const i = byKey.value.get(key)
  const points = i ? shapes(i, byKey.value.get(i.host ?? '')).flat() : []
  if (points.length === 0) return
  const b = boxOf(points)
  const middle: Point = [(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2]
  const near = fitted({ x0: b.x0 - 2000, y0: b.y0 - 2000, x1: b.x1 + 2000, y1: b.y1 + 2000 }, size.value).scale
  const scale = camera.value.scale < near / 3 ? near / 2 : Math.min(camera.value.scale, near)
  camera.value = { at: middle, scale }
}

const store = 'nogging.layers'
const mostRemembered = 2000

function all(): Record<string, Role> {
  try {
    return JSON.parse(localStorage.getItem(store) ?? '{}') as Record<string, Role>
  } catch {
    return {}
  }
}

// What layers of these names were said to show in earlier drawings, but for those of
// which something is said now.
function remembered(now: Mapping): { layer: string; as: Role }[] {
  const said = new Set(now.layers?.map((l) => l.layer))
  return Object.entries(all()).filter(([layer]) => !said.has(layer)).map(([layer, as]) => ({ layer, as }))
}

export const isRemembered = (layer: string): boolean => layer in all()

// Keeps in this browser what layers show, the newest of them; null forgets.
export function remember(roles: readonly { layer: string; as: Role | null }[]): void {
  const now = all()
  for (const { layer, as } of roles) {
    delete now[layer]
    if (as !== null) now[layer] = as
  }
  localStorage.setItem(store, JSON.stringify(Object.fromEntries(Object.entries(now).slice(-mostRemembered))))
}
