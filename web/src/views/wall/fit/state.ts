// What the elevation's editor has in hand.

import { computed, signal } from '@preact/signals'
import type { Wall } from '../../../core/plan.ts'
import { putWall } from '../../../editor/commands.ts'
import { wallLength } from '../../../geometry/body.ts'
import type { Point } from '../../../geometry/vec.ts'
import { units } from '../../../preferences.ts'
import { t } from '../../../show.ts'
import { catalogue, findings, plan } from '../../../state.ts'
import { edit } from '../../../sync.ts'
import type { Face, Kind, Ref } from './things.ts'
import { addBox, addFixing, addHeight, addPipe, boxHeights, heightAt, listOf, movedBy, profileOf, sameRef, without } from './things.ts'

export type Tool = 'pick' | Kind
export const tools: readonly Tool[] = ['pick', 'boxes', 'fixings', 'pipes', 'heights']

export const face = signal<Face>('a')
export const tool = signal<Tool>('pick')
export const picked = signal<Ref | null>(null)
export const path = signal<readonly Point[]>([]) // of the pipe being drawn
export const like = signal({ box: 'socket', fixing: 'basin', service: 'water' })
export const step = computed(() => (units.value === 'metric' ? 10 : 12.7))

export const clearOf = (w: Wall): number => plan.value?.levels.find((l) => l.id === w.level)?.clear_height ?? 2750

// One change of a wall, named for undo.
export function store(key: string, before: Wall, after: Wall): void {
  if (JSON.stringify(before) !== JSON.stringify(after)) edit({ label: t(key, { id: before.id }), changes: [putWall(after)] })
}

export function use(next: Tool): void {
  tool.value = next
  path.value = []
}

export function pick(ref: Ref | null): void {
  picked.value = ref
}

// Places what the tool makes; of a pipe one point, until it is done.
export function place(w: Wall, at: Point): void {
  const { box, fixing } = like.value
  if (tool.value === 'boxes') keep(w, 'edit.box.add', addBox(w, box, face.value, at))
  else if (tool.value === 'fixings') keep(w, 'edit.fixing.add', addFixing(w, fixing, face.value, at[0], standing(fixing) ? undefined : at[1]))
  else if (tool.value === 'heights') keep(w, 'edit.height.add', addHeight(w, clearOf(w), at))
  else if (tool.value === 'pipes' && String(path.value.at(-1)) !== String(at)) path.value = [...path.value, at]
}

// What stands on the floor hangs as high as the practice says.
const standing = (kind: string) => kind === 'wc' || kind === 'sanitary_frame'

// Ends the pipe being drawn.
export function finishPipe(w: Wall): void {
  if (path.value.length > 1) keep(w, 'edit.pipe.add', addPipe(w, like.value.service, path.value))
  path.value = []
}

// Without a pointer: one in the middle of the wall, to be moved by its figures.
export function placeMiddle(w: Wall): void {
  const l = wallLength(w)
  const middle = Math.round(l / 2 / step.value) * step.value
  if (tool.value === 'boxes') place(w, [middle, boxHeights[like.value.box] ?? 300])
  else if (tool.value === 'fixings') keep(w, 'edit.fixing.add', addFixing(w, like.value.fixing, face.value, middle))
  else if (tool.value === 'heights') place(w, [middle, Math.round(heightAt(profileOf(w, clearOf(w)), middle) + 200)])
  else if (tool.value === 'pipes') {
    if (path.value.length === 0) path.value = [[Math.round(l * 0.1), 500], [Math.round(l * 0.9), 500]]
    finishPipe(w)
  }
}

function keep(w: Wall, key: string, a: { wall: Wall; ref: Ref }): void {
  store(key, w, a.wall)
  picked.value = a.ref
}

const names: Record<Kind, string> = { boxes: 'box', fixings: 'fixing', pipes: 'pipe', heights: 'height' }
export const nameOf = (kind: Kind): string => names[kind]

export function move(w: Wall, ref: Ref, by: Point): void {
  store(`edit.${nameOf(ref.kind)}.move`, w, movedBy(w, ref, by))
}

export function remove(w: Wall, ref: Ref): void {
  store(`edit.${nameOf(ref.kind)}.remove`, w, without(w, ref))
  if (ref.point === undefined || !sameRef(picked.value, ref)) picked.value = null
  else picked.value = { kind: ref.kind, index: ref.index }
}

// How high a fixing hangs: as given, or as the practice says.
export function hangsAt(f: { kind: string; height?: number }): number {
  return f.height ?? catalogue.value?.fixtures?.find((x) => x.kind === f.kind)?.height ?? 850
}

// The findings about one thing, by its place in the plan.
export function about(w: Wall, ref: Ref) {
  const i = plan.value?.walls.findIndex((x) => x.id === w.id) ?? -1
  const at = `walls[${i}].${ref.kind}[${ref.index}]`
  return findings.value.filter((f) => f.path === at || f.path?.startsWith(`${at}.`))
}

// Heights that others have, to which a thing is drawn.
export function heightsOf(w: Wall, but: Ref | null): number[] {
  const boxes = listOf(w, 'boxes').filter((_, i) => !(but?.kind === 'boxes' && but.index === i)).map((b) => b.height)
  const fixings = listOf(w, 'fixings').flatMap((f, i) => (f.height === undefined || (but?.kind === 'fixings' && but.index === i) ? [] : [f.height]))
  return [...boxes, ...fixings]
}
