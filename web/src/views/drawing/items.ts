// What was recognised in a drawing, as things that a person accepts, refuses or
// mends. Pure: items in, items out; an item never changes, it is replaced.

import type { Opening, Plan, Point, Structure, Wall } from '../../core/plan.ts'
import { body, openingBody, structureBody, wallLength } from '../../geometry/body.ts'
import { findRooms } from '../../geometry/rooms.ts'
import { boxOf, inside, middleInside, roundTo, signedArea } from '../../geometry/vec.ts'
import type { Reading, Recognised } from './types.ts'

export type Kind = 'wall' | 'structure' | 'opening' | 'column' | 'room'
export type Standing = 'open' | 'taken' | 'refused'

export interface Item {
  key: string // by where it lies, so that it is known again when the drawing is read anew
  name: string
  kind: Kind
  confidence: number
  signs: readonly string[]
  standing: Standing
  mended?: boolean
  line?: readonly Point[] // of a wall; of structure with more corners than two, too
  via?: Point
  thickness?: number
  outline?: Point[] // of a column or room
  words?: string // name of a room
  host?: string // key of the wall of an opening
  opening?: Opening
}

const spot = (p: Point) => `${Math.round(p[0])},${Math.round(p[1])}`
const lineKey = (line: readonly Point[]) => `w ${line.map(spot).join(' ')}`
const outlineKey = (kind: string, o: Point[]) => `${kind} ${spot(middleInside(o))} ${Math.round(Math.abs(signedArea(o)) / 1e4)}`

// The items of a reading, the surest first.
export function itemsOf(r: Pick<Reading, 'plan'> & { stats: Pick<Reading['stats'], 'recognised'> }): Item[] {
  const by = new Map(r.stats.recognised.map((x) => [x.id, x]))
  const told = (id: string) => by.get(id) ?? ({ id, kind: '', confidence: 0, why: '', signs: [] } as Recognised)
  const base = (id: string) => ({ name: id, confidence: told(id).confidence, signs: told(id).signs, standing: 'open' as const })
  const items: Item[] = []
  for (const w of r.plan.walls) {
    const key = lineKey(w.line)
    items.push({ ...base(w.id), key, kind: 'wall', line: w.line, ...(w.via ? { via: w.via } : {}), thickness: w.thickness ?? 0 })
    w.openings?.forEach((o, i) => items.push({ ...base(o.id ?? `${w.id}/${i + 1}`), key: openingKey(key, o), kind: 'opening', host: key, opening: o }))
  }
  for (const s of r.plan.structure ?? []) {
    if (s.outline) items.push({ ...base(s.id), key: outlineKey('c', s.outline), kind: 'column', outline: s.outline })
    else if (s.line) items.push({ ...base(s.id), key: lineKey(s.line), kind: 'structure', line: s.line, thickness: s.thickness ?? 0 })
  }
  for (const room of r.plan.rooms ?? []) {
    items.push({ ...base(room.id), key: outlineKey('r', room.outline), kind: 'room', outline: room.outline, words: room.name ?? '' })
  }
  return sorted(items)
}

const openingKey = (host: string, o: Opening) => `o ${Math.round(o.at)} ${host}`

export function sorted(items: readonly Item[]): Item[] {
  const order = ['wall', 'structure', 'opening', 'column', 'room']
  return [...items].sort((a, b) => b.confidence - a.confidence || order.indexOf(a.kind) - order.indexOf(b.kind) || a.name.localeCompare(b.name, 'en', { numeric: true }))
}

// What a person had decided of earlier items stays decided where the thing is the
// same; what was added by hand stays, unless the drawing has another size now.
export function kept(before: readonly Item[], now: readonly Item[], sameSize: boolean): Item[] {
  const decided = new Map(before.filter((i) => i.standing !== 'open' || i.mended).map((i) => [i.key, i]))
  const known = new Set(now.map((i) => i.key))
  const same = now.map((i) => decided.get(i.key) ?? i)
  const byHand = sameSize ? before.filter((i) => i.signs.includes('hand') && !known.has(i.key)) : []
  return sorted([...same, ...byHand])
}

export const isWall = (i: Item): boolean => i.kind === 'wall' || i.kind === 'structure'

// An item as the plan would have it, for its shape.
export const asWall = (i: Item): Wall => ({ id: i.name, level: '', line: [i.line?.[0] as Point, i.line?.at(-1) as Point], thickness: i.thickness ?? 0, ...(i.via ? { via: i.via } : {}) })

// What an item covers in plan; structure with corners has a body a side.
export function shapes(i: Item, host?: Item): Point[][] {
  if (i.outline) return [i.outline]
  if (i.opening && host) return [openingBody(asWall(host), host.thickness ?? 0, i.opening)]
  if (!i.line) return []
  if (i.line.length === 2) return [body(asWall(i), i.thickness ?? 0)]
  return i.line.slice(1).map((p, k) => structureBody({ id: '', level: '', line: [i.line?.[k] as Point, p], thickness: i.thickness ?? 0 }))
}

export const lengthOf = (i: Item): number => (i.line ? (i.line.length > 2 ? boxDiagonal(i.line) : wallLength(asWall(i))) : 0)

function boxDiagonal(line: readonly Point[]): number {
  const b = boxOf(line)
  return Math.hypot(b.x1 - b.x0, b.y1 - b.y0)
}

// Openings go with their wall, whatever is decided of it.
const withOpenings = (items: readonly Item[], keys: ReadonlySet<string>) => new Set([...keys, ...items.filter((i) => i.host && keys.has(i.host)).map((i) => i.key)])

export function stand(items: readonly Item[], keys: ReadonlySet<string>, standing: Standing): Item[] {
  const all = standing === 'refused' ? withOpenings(items, keys) : keys
  const hosts = standing === 'taken' ? new Set(items.filter((i) => i.host && keys.has(i.key)).map((i) => i.host as string)) : new Set<string>()
  return afresh(items, items.map((i) => (all.has(i.key) || hosts.has(i.key) ? { ...i, standing } : i)))
}

// Accepts what is not decided yet and is at least so sure.
export const acceptFrom = (items: readonly Item[], confidence: number): Item[] => items.map((i) => (i.standing === 'open' && i.confidence >= confidence - 1e-9 ? { ...i, standing: 'taken' } : i))

// Changes an item, which is thereby accepted.
export function mend(items: readonly Item[], key: string, change: Partial<Item>): Item[] {
  return afresh(items, items.map((i) => (i.key === key ? { ...i, ...change, standing: 'taken', mended: true } : i)))
}

export function addWall(items: readonly Item[], line: [Point, Point], thickness: number): { items: Item[]; key: string } {
  const key = lineKey(line)
  const item: Item = { key, name: freeName(items, '+'), kind: 'wall', confidence: 1, signs: ['hand'], standing: 'taken', mended: true, line, thickness }
  return { items: afresh(items, [item, ...items.filter((i) => i.key !== key)]), key }
}

// A door with its middle at u along a wall; an opening that is there already becomes
// a door.
export function addDoor(items: readonly Item[], host: Item, u: number, width: number): { items: Item[]; key: string } | null {
  const there = items.find((i) => i.host === host.key && i.opening && u >= i.opening.at && u <= i.opening.at + i.opening.width)
  if (there?.opening) return { items: mend(items, there.key, { opening: asDoor(there.opening) }), key: there.key }
  const l = lengthOf(host)
  if (l < width) return null
  const at = roundTo(Math.min(Math.max(u - width / 2, 0), l - width))
  const opening: Opening = { kind: 'door', at, width, height: 2100 }
  const item: Item = { key: openingKey(host.key, opening), name: freeName(items, `${host.name}/+`), kind: 'opening', confidence: 1, signs: ['hand'], standing: 'taken', mended: true, host: host.key, opening }
  return { items: [item, ...items].map((i) => (i.key === host.key ? { ...i, standing: 'taken' } : i)), key: item.key }
}

export function asDoor({ sill: _, ...o }: Opening): Opening {
  return { ...o, kind: 'door', height: Math.max(o.height, 2000) }
}

// The opening as another kind, with the usual height and sill where they are missing.
export function asKind(o: Opening, kind: string): Opening {
  if (kind === 'door') return asDoor(o)
  return kind === 'window' ? { ...o, kind, height: o.sill ? o.height : 1200, sill: o.sill ?? 900 } : { ...o, kind }
}

function freeName(items: readonly Item[], prefix: string): string {
  const used = new Set(items.map((i) => i.name))
  for (let n = 1; ; n++) if (!used.has(`${prefix}${n}`)) return `${prefix}${n}`
}

// Rooms that walls enclose follow the walls: where those changed, what they enclose
// is found again, and a room round which nothing changed stays what it was.
function afresh(before: readonly Item[], now: Item[]): Item[] {
  const standing = (items: readonly Item[]) => items.filter((i) => i.standing !== 'refused')
  const walls = (items: readonly Item[]) => standing(items).filter((i) => isWall(i) || i.kind === 'column').map((i) => i.key).join()
  if (walls(before) === walls(now)) return now
  const rooms = now.filter((i) => i.kind === 'room')
  const outlined = rooms.filter((r) => r.signs.includes('outlined'))
  const enclosed = rooms.filter((r) => !outlined.includes(r))
  const was = findRooms(planOf(standing(before)), 'X')
  const found = findRooms(planOf(standing(now)), 'X').filter((f) => !outlined.some((r) => inside(r.outline as Point[], middleInside(f))))
  const next = found.map((f) => {
    const here = enclosed.find((r) => inside(r.outline as Point[], middleInside(f)))
    return here && was.some((w) => alike(w, f)) ? here : newRoom(now, f, enclosed)
  })
  return sorted([...now.filter((i) => i.kind !== 'room'), ...outlined, ...next])
}

const alike = (a: Point[], b: Point[]) => Math.abs(signedArea(a) - signedArea(b)) < 1000 && inside(a, middleInside(b))

// A room that is found now has the name of the one whose middle lies in it.
function newRoom(items: readonly Item[], outline: Point[], rooms: readonly Item[]): Item {
  const words = rooms.find((r) => r.words && inside(outline, middleInside(r.outline as Point[])))?.words ?? ''
  return { key: outlineKey('r', outline), name: freeName(items, 'R+'), kind: 'room', confidence: words ? 0.85 : 0.6, signs: words ? ['enclosed', 'words'] : ['enclosed'], standing: 'open', outline, words }
}

// The items as a plan of one level X.
function planOf(items: readonly Item[]): Plan {
  const structure = items.flatMap((i): Structure[] => {
    if (i.kind === 'structure') return [{ id: i.name, level: 'X', line: [...(i.line ?? [])], thickness: i.thickness ?? 0 }]
    return i.kind === 'column' && i.outline ? [{ id: i.name, level: 'X', outline: i.outline }] : []
  })
  return { nogging: 1, levels: [{ id: 'X', clear_height: 2750 }], structure, walls: items.filter((i) => i.kind === 'wall').map((i) => ({ ...asWall(i), level: 'X' })) }
}
