// What stands on a wall besides its openings: boxes, fixings, pipes and the height
// profile. Pure: a wall and a wish in, the wall as it is then out. Places are [at,
// height]: along the wall from its start, and above the floor, in mm.

import type { Wall } from '../../../core/plan.ts'
import { wallLength } from '../../../geometry/body.ts'
import type { Point } from '../../../geometry/vec.ts'
import { roundTo } from '../../../geometry/vec.ts'
import { clean } from '../../../geometry/walls.ts'

export const kinds = ['boxes', 'fixings', 'pipes', 'heights'] as const
export type Kind = (typeof kinds)[number]
export type Face = 'a' | 'b'
type List<K extends Kind> = NonNullable<Wall[K]>
export type Thing<K extends Kind> = List<K>[number]

// One thing of a wall; of a pipe or profile perhaps one point of it.
export interface Ref {
  kind: Kind
  index: number
  point?: number
}

export const sameRef = (a: Ref | null, b: Ref | null) => a?.kind === b?.kind && a?.index === b?.index && a?.point === b?.point

export const boxKinds = ['socket', 'switch', 'data', 'other']
export const fixingKinds = ['basin', 'wc', 'sanitary_frame', 'grab_rail', 'rail', 'radiator', 'cabinet', 'console', 'screen']
export const services = ['water', 'waste', 'heating', 'gas', 'duct', 'cable']

// How new things are until they are told otherwise. Heights of boxes and widths of
// fixings are common practice; a fixing hangs as high as the practice says.
export const boxHeights: Record<string, number> = { socket: 300, switch: 1050, data: 300, other: 300 }
export const fixingWidths: Record<string, number> = { basin: 600, wc: 500, sanitary_frame: 500, grab_rail: 700, rail: 2000, radiator: 1000, cabinet: 800, console: 600, screen: 1000 }
const leastDiameter = 22

export const listOf = <K extends Kind>(w: Wall, kind: K): List<K> => (w[kind] ?? []) as List<K>

// Puts a list in the place of another; a profile stands instead of a height.
function withList<K extends Kind>(w: Wall, kind: K, list: List<K>): Wall {
  const height = kind === 'heights' && list.length > 0 ? undefined : w.height
  return clean<Wall>({ ...w, height, [kind]: list })
}

// Where a new thing comes to lie, and the wall with it.
export interface Added {
  wall: Wall
  ref: Ref
}

function added<K extends Kind>(w: Wall, kind: K, thing: Thing<K>): Added {
  const list = [...listOf(w, kind), clean<object>(thing as object) as Thing<K>] as List<K>
  return { wall: withList(w, kind, list), ref: { kind, index: list.length - 1 } }
}

export const addBox = (w: Wall, kind: string, face: Face, [at, height]: Point): Added => added(w, 'boxes', { kind, face, at, height })

// A fixing about a place along the wall; its height is the practice's where none is given.
export function addFixing(w: Wall, kind: string, face: Face, middle: number, height?: number): Added {
  const width = fixingWidths[kind] ?? 600
  const at = Math.max(0, Math.min(roundTo(middle - width / 2), roundTo(wallLength(w) - width)))
  return added(w, 'fixings', { kind, face, at, width, ...(height === undefined ? {} : { height }) })
}

export const addPipe = (w: Wall, service: string, path: readonly Point[]): Added => added(w, 'pipes', { service, diameter: leastDiameter, path: [...path] })

// The heights of a wall along its line: its profile, or two of one height.
export function profileOf(w: Wall, clear: number): { at: number; height: number }[] {
  const heights = listOf(w, 'heights')
  if (heights.length > 1) return heights
  const height = heights[0]?.height ?? w.height ?? clear
  return [{ at: 0, height }, { at: roundTo(wallLength(w)), height }]
}

export function heightAt(profile: readonly { at: number; height: number }[], u: number): number {
  const i = profile.findIndex((p) => p.at >= u)
  const [a, b] = [profile[Math.max(0, i - 1)], profile[i]]
  if (!a || !b) return profile.at(-1)?.height ?? 0
  return b.at === a.at ? b.height : a.height + ((b.height - a.height) * (u - a.at)) / (b.at - a.at)
}

// A further point of the profile; where there is one at that place already, the two
// make a step.
export function addHeight(w: Wall, clear: number, [at, height]: Point): Added {
  const before = profileOf(w, clear)
  const after = before.findIndex((p) => p.at > at)
  const index = after < 0 ? before.length : after
  return { wall: withList(w, 'heights', [...before.slice(0, index), { at, height }, ...before.slice(index)]), ref: { kind: 'heights', index } }
}

// A step half way along the wall, to be moved to where it belongs.
export function addStep(w: Wall, clear: number, at: number, by: number): Added {
  const before = profileOf(w, clear)
  const h = roundTo(heightAt(before, at))
  const low = { at, height: h }
  const high = { at, height: roundTo(h + by) }
  const end = before.findIndex((p) => p.at > at)
  const index = end < 0 ? before.length - 1 : end
  const rest = before.slice(index).map((p) => ({ ...p, height: roundTo(p.height + by) }))
  return { wall: withList(w, 'heights', [...before.slice(0, index), low, high, ...rest]), ref: { kind: 'heights', index } }
}

// The wall level on top again, at its greatest height.
export function plainTop(w: Wall): Wall {
  const height = Math.max(...listOf(w, 'heights').map((h) => h.height))
  return clean<Wall>({ ...w, heights: undefined, height: Number.isFinite(height) ? height : w.height })
}

export function changed<K extends Kind>(w: Wall, kind: K, index: number, change: Partial<Thing<K>>): Wall {
  const list = listOf(w, kind).map((t, i) => (i === index ? clean<object>({ ...t, ...change } as object) : t)) as List<K>
  return withList(w, kind, list)
}

// Moves a thing, or a point of a pipe or of the profile. A point of the profile
// stays between its neighbours.
export function movedBy(w: Wall, ref: Ref, [du, dz]: Point): Wall {
  const plus = (x: number, d: number) => roundTo(x + d)
  const { kind, index } = ref
  if (kind === 'boxes') {
    const b = listOf(w, kind)[index]
    return b ? changed(w, kind, index, { at: plus(b.at, du), height: plus(b.height, dz) }) : w
  }
  if (kind === 'fixings') {
    const f = listOf(w, kind)[index]
    return f ? changed(w, kind, index, { at: plus(f.at, du), ...(f.height === undefined ? {} : { height: plus(f.height, dz) }) }) : w
  }
  if (kind === 'pipes') {
    const p = listOf(w, kind)[index]
    return p ? changed(w, kind, index, { path: p.path.map(([u, z], i) => (ref.point === undefined || ref.point === i ? [plus(u, du), plus(z, dz)] : [u, z])) }) : w
  }
  const all = listOf(w, kind)
  const h = all[index]
  if (!h) return w
  const [least, most] = [all[index - 1]?.at ?? 0, all[index + 1]?.at ?? Infinity]
  return changed(w, kind, index, { at: Math.min(Math.max(plus(h.at, du), least), most), height: plus(h.height, dz) })
}

// Without a thing; a pipe of one point and a profile of one height are none.
export function without(w: Wall, ref: Ref): Wall {
  if (ref.kind === 'pipes' && ref.point !== undefined) {
    const path = listOf(w, 'pipes')[ref.index]?.path.filter((_, i) => i !== ref.point) ?? []
    return path.length > 1 ? changed(w, 'pipes', ref.index, { path }) : without(w, { kind: 'pipes', index: ref.index })
  }
  if (ref.kind === 'heights' && listOf(w, 'heights').length <= 2) return plainTop(w)
  return withList(w, ref.kind, (listOf(w, ref.kind) as Thing<Kind>[]).filter((_, i) => i !== ref.index) as List<Kind>)
}

// Everything on a wall, in the order of its lists.
export const allOf = (w: Wall): Ref[] => kinds.flatMap((kind) => listOf(w, kind).map((_, index) => ({ kind, index })))
