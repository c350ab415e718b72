// What the pointer does on the drawing: mouse, pen and touch. Turns presses and
// moves into steps of the session; holds only the gesture in hand.

import { signal } from '@preact/signals'
import type { Wall } from '../core/plan.ts'
import { riseOf } from '../geometry/arc.ts'
import { onWall, openingBody, wallLength } from '../geometry/body.ts'
import type { Point } from '../geometry/vec.ts'
import { distance, local, roundTo, rounded, sub } from '../geometry/vec.ts'
import { moved } from '../geometry/walls.ts'
import { plan, selection } from '../state.ts'
import { panned, toPlan, zoomed } from './camera.ts'
import { bendWalls, demand, moveEnd, moveWalls, withOpenings, wallsOf } from './commands.ts'
import { pick, wallAt, wallsIn } from './pick.ts'
import type { Hit } from './pick.ts'
import { brush, camera, choose, choosePicked, clicked, drawing, lastSnap, openingLike, penFrom, picked, run, say, scene, several, size, fineGrid, snapped, snapping, toggle, tool } from './session.ts'
import { pressWith } from './tools.ts'
import { slide, underlay } from './underlay.ts'

export type Gesture =
  | { kind: 'pan' }
  | { kind: 'box'; from: Point; to: Point; adding: boolean }
  | { kind: 'move'; from: Point; by: Point; alone: boolean }
  | { kind: 'end'; wall: string; end: 0 | 1; to: Point }
  | { kind: 'bend'; wall: string; grip: number; rise: number }
  | { kind: 'opening'; wall: string; index: number; grip: number; at: number }
  | { kind: 'paint'; walls: ReadonlySet<string> }
  | { kind: 'underlay'; last: Point }

export const gesture = signal<Gesture | null>(null)
export const hovered = signal<Hit | null>(null)
// An opening as it would be placed.
export const ghost = signal<{ wall: string; at: number } | null>(null)

// A press becomes a drag once the pointer has gone so far.
const dragAfter = 4

interface Press {
  id: number
  at: Point // on screen
  hit: Hit | null
  shift: boolean
  touch: boolean
  dragging: boolean
  painted?: Point // where the brush was last
}

let press: Press | null = null
const fingers = new Map<number, Point>()

const reachOf = (touch: boolean) => (touch ? 16 : 7) / camera.value.scale
const onPlan = (q: Point) => toPlan(camera.value, size.value, q)

export function down(q: Point, e: PointerEvent): void {
  const touch = e.pointerType === 'touch'
  if (touch) fingers.set(e.pointerId, q)
  if (fingers.size === 2) {
    gesture.value = { kind: 'pan' }
    press = null
    return
  }
  const p = onPlan(q)
  const hit = bendAt(p, touch) ?? pick(scene.value, p, reachOf(touch), new Set(selection.value))
  press = { id: e.pointerId, at: q, hit, shift: e.shiftKey || several.value, touch, dragging: false }
  if (e.button === 1 || e.button === 2) gesture.value = { kind: 'pan' }
  else if (tool.value === 'paint') paintAt(p, touch)
}

export function move(q: Point, e: PointerEvent): void {
  if (fingers.size === 2 && fingers.has(e.pointerId)) return pinch(q, e.pointerId)
  if (fingers.has(e.pointerId)) fingers.set(e.pointerId, q)
  const p = onPlan(q)
  if (!press) return hover(p, e.pointerType === 'touch')
  if (!press.dragging && distance(press.at, q) > dragAfter) {
    press.dragging = true
    gesture.value ??= begin(press, e)
  }
  if (press.dragging) drag(q, p, e)
  else if (gesture.value?.kind === 'paint') paintAt(p, press.touch)
}

export function up(q: Point, e: PointerEvent): void {
  fingers.delete(e.pointerId)
  const g = gesture.value
  const was = press
  press = null
  gesture.value = null
  if (g && g.kind !== 'pan') return finish(g)
  if (!was || was.dragging || g) return
  click(onPlan(q), was)
}

export function cancel(e: PointerEvent): void {
  fingers.delete(e.pointerId)
  press = null
  gesture.value = null
}

function hover(p: Point, touch: boolean): void {
  const drawsPoints = tool.value === 'wall' || tool.value === 'structure' || tool.value === 'underlay'
  if (drawsPoints) {
    const s = tool.value === 'underlay' ? { point: p, kind: 'none' as const, guides: [] } : snapped(p, penFrom())
    lastSnap.value = s
    drawing.value = { ...drawing.value, pen: rounded(s.point) }
  } else if (tool.value === 'opening') ghost.value = openingAt(p, touch)
  const hit = bendAt(p, touch) ?? pick(scene.value, p, reachOf(touch), new Set(selection.value))
  const shown = tool.value === 'pick' || tool.value === 'paint' ? hit : null
  if (JSON.stringify(shown && 'u' in shown ? { ...shown, u: 0 } : shown) !== JSON.stringify(hovered.peek())) hovered.value = shown && 'u' in shown ? { ...shown, u: 0 } : shown
}

// The opening in hand on the wall under p, with its middle at p, within the wall.
export function openingAt(p: Point, touch: boolean): { wall: string; at: number } | null {
  const on = wallAt(scene.value, p, reachOf(touch))
  const w = on && scene.value.byId.get(on.wall)?.wall
  if (!on || !w) return null
  return { wall: on.wall, at: placedAt(w, on.u, openingLike.value.width) }
}

function placedAt(w: Wall, u: number, width: number): number {
  const step = 10
  const at = Math.round((u - width / 2) / step) * step
  return roundTo(Math.max(0, Math.min(at, wallLength(w) - width)))
}

export function ghostBody(): readonly Point[] | null {
  const g = ghost.value
  const w = g && scene.value.byId.get(g.wall)
  return w ? openingBody(w.wall, w.brief?.thickness ?? 100, { ...openingLike.value, at: g.at }) : null
}

function begin(p: Press, e: PointerEvent): Gesture {
  const from = onPlan(p.at)
  const hit = p.hit
  if (tool.value === 'underlay' && underlay.value) return { kind: 'underlay', last: from }
  if (tool.value === 'paint') return { kind: 'paint', walls: new Set() }
  if (tool.value !== 'pick') return { kind: 'pan' }
  if (hit?.kind === 'end') return { kind: 'end', wall: hit.wall, end: hit.end, to: from }
  if (hit?.kind === 'bend') return { kind: 'bend', wall: hit.wall, grip: riseAt(hit.wall, from) - riseOfWall(hit.wall), rise: riseOfWall(hit.wall) }
  if (hit?.kind === 'opening') return { kind: 'opening', wall: hit.wall, index: hit.index, ...grip(hit.wall, hit.index, from) }
  if (hit?.kind === 'wall' && !p.shift) {
    if (!selection.value.includes(hit.wall)) choose([hit.wall])
    return { kind: 'move', from, by: [0, 0], alone: e.altKey }
  }
  // A finger on empty ground pans, unless several are to be taken.
  if (p.touch && !several.value) return { kind: 'pan' }
  return { kind: 'box', from, to: from, adding: p.shift }
}

// The handle that bends the one wall selected stands beside its middle, so that
// the wall itself can still be taken and moved.
export function bendHandle(): Point | null {
  const w = selection.value.length === 1 && !picked.value && tool.value === 'pick' ? scene.value.byId.get(selection.value[0] ?? '') : undefined
  const length = w ? wallLength(w.wall) : 0
  if (!w || length * camera.value.scale < 70) return null
  return onWall(w.wall, length / 2, (w.brief?.thickness ?? 100) / 2 + 20 / camera.value.scale)
}

function bendAt(p: Point, touch: boolean): Hit | null {
  const h = bendHandle()
  return h && distance(h, p) <= reachOf(touch) * 1.3 ? { kind: 'bend', wall: selection.value[0] ?? '' } : null
}

const wallNow = (id: string) => scene.value.byId.get(id)?.wall
const riseOfWall = (id: string): number => riseOf(wallNow(id) ?? { line: [[0, 0], [1, 0]] })
const riseAt = (id: string, p: Point): number => local(wallNow(id)?.line ?? [[0, 0], [1, 0]], p).v

// In steps of the grid; near its chord the line snaps straight.
function steppedRise(rise: number): number {
  if (Math.abs(rise) * camera.value.scale < 8) return 0
  const step = snapping.value.grid ? fineGrid() : 1
  return roundTo(Math.round(rise / step) * step)
}

function grip(wall: string, index: number, p: Point): { grip: number; at: number } {
  const on = wallAt(scene.value, p, Infinity)
  const at = scene.value.byId.get(wall)?.wall.openings?.[index]?.at ?? 0
  return { grip: (on?.u ?? at) - at, at }
}

function drag(q: Point, p: Point, e: PointerEvent): void {
  const g = gesture.value
  if (!g) return
  if (g.kind === 'pan') {
    const last = press as Press
    camera.value = panned(camera.value, q[0] - last.at[0], q[1] - last.at[1])
    last.at = q
  } else if (g.kind === 'underlay') {
    slide(sub(p, g.last))
    gesture.value = { ...g, last: p }
  } else if (g.kind === 'box') gesture.value = { ...g, to: p }
  else if (g.kind === 'move') gesture.value = { ...g, by: moveBy(g.from, p), alone: e.altKey }
  else if (g.kind === 'end') {
    const w = scene.value.byId.get(g.wall)?.wall
    const s = snapped(p, w?.line[1 - g.end], new Set([g.wall]))
    lastSnap.value = s
    gesture.value = { ...g, to: rounded(s.point) }
  } else if (g.kind === 'bend') gesture.value = { ...g, rise: steppedRise(riseAt(g.wall, p) - g.grip) }
  else if (g.kind === 'opening') gesture.value = { ...g, at: slid(g, p) }
  else paintAt(p, press?.touch ?? false)
}

function slid(g: Extract<Gesture, { kind: 'opening' }>, p: Point): number {
  const w = scene.value.byId.get(g.wall)?.wall
  const on = w && wallAt({ ...scene.value, walls: scene.value.walls.filter((x) => x.wall === w) }, p, Infinity)
  const width = w?.openings?.[g.index]?.width ?? 0
  return w && on ? placedAt(w, on.u - g.grip + width / 2, width) : g.at
}

// Moves in steps of the grid, or such that an end of what is moved snaps.
function moveBy(from: Point, to: Point): Point {
  const by = sub(to, from)
  const p = plan.value
  const first = p ? wallsOf(p, selection.value)[0] : undefined
  if (!first) return by
  const s = snapped(moved(first, by).line[0], first.line[0], new Set(selection.value))
  lastSnap.value = s
  return rounded(sub(s.point, first.line[0]))
}

// Paints the wall at p, and those between the last place and p: a quick hand skips
// over walls between two events.
function paintAt(p: Point, touch: boolean): void {
  const last = press?.painted ?? p
  if (press) press.painted = p
  const steps = Math.min(200, Math.ceil(distance(last, p) / (reachOf(touch) + 20)))
  const walls = new Set(gesture.value?.kind === 'paint' ? gesture.value.walls : [])
  const had = walls.size
  for (let i = 0; i <= steps; i++) {
    const k = steps === 0 ? 1 : i / steps
    const on = wallAt(scene.value, [last[0] + (p[0] - last[0]) * k, last[1] + (p[1] - last[1]) * k], reachOf(touch))
    if (on) walls.add(on.wall)
  }
  if (walls.size > had) gesture.value = { kind: 'paint', walls }
}

function finish(g: Gesture): void {
  const p = plan.value
  lastSnap.value = null
  if (!p) return
  if (g.kind === 'box') choose([...new Set([...(g.adding ? selection.value : []), ...wallsIn(scene.value, g.from, g.to)])])
  else if (g.kind === 'move') run(moveWalls(p, say, selection.value, g.by, g.alone))
  else if (g.kind === 'end') run(moveEnd(p, say, g.wall, g.end, g.to))
  else if (g.kind === 'bend') run(bendWalls(p, say, [g.wall], g.rise))
  else if (g.kind === 'opening') {
    run(withOpenings(p, say, 'edit.opening.move', g.wall, (all) => all.map((o, i) => (i === g.index ? { ...o, at: g.at } : o))))
    choosePicked({ kind: 'opening', wall: g.wall, index: g.index })
  } else if (g.kind === 'paint') run(demand(p, say, [...g.walls], brush.value))
}

function click(p: Point, was: Press): void {
  if (tool.value !== 'pick') return pressWith(p, was.touch)
  const h = was.hit
  if (!h) {
    if (!was.shift) {
      choose([])
      picked.value = null
    }
  } else if (h.kind === 'bend') return
  else if (h.kind === 'wall' || h.kind === 'end') {
    if (was.shift) toggle(h.wall)
    else choose([h.wall])
    clicked.value = h.kind === 'wall' ? { wall: h.wall, u: h.u } : null
  } else if (h.kind === 'opening') choosePicked({ kind: 'opening', wall: h.wall, index: h.index })
  else choosePicked({ kind: h.kind, id: h.id })
}

function pinch(q: Point, id: number): void {
  const [other] = [...fingers].filter(([k]) => k !== id).map(([, v]) => v)
  const was = fingers.get(id)
  if (!other || !was) return
  const mid: Point = [(q[0] + other[0]) / 2, (q[1] + other[1]) / 2]
  const factor = distance(q, other) / Math.max(distance(was, other), 1)
  camera.value = zoomed(panned(camera.value, (q[0] - was[0]) / 2, (q[1] - was[1]) / 2), size.value, mid, factor)
  fingers.set(id, q)
}

export function wheel(q: Point, e: WheelEvent): void {
  if (e.shiftKey) camera.value = panned(camera.value, -e.deltaY - e.deltaX, 0)
  else camera.value = zoomed(camera.value, size.value, q, Math.exp(-e.deltaY * (e.deltaMode === 1 ? 0.05 : 0.0016)))
}
