// What lies under a point of the plan, and what a box takes in.

import { alongWall, linePoints, onWall } from '../geometry/body.ts'
import type { Box, Point } from '../geometry/vec.ts'
import { boxesMeet, distance, inBox, inside } from '../geometry/vec.ts'
import type { Scene, SceneWall } from './scene.ts'

export type Hit =
  | { kind: 'bend'; wall: string } // the handle that bends it
  | { kind: 'end'; wall: string; end: 0 | 1 }
  | { kind: 'opening'; wall: string; index: number }
  | { kind: 'wall'; wall: string; u: number }
  | { kind: 'structure'; id: string }
  | { kind: 'room'; id: string }

// Ends are handles of walls already selected only, so that picking a wall near
// its end does not drag it out of shape.
export function pick(scene: Scene, p: Point, reach: number, selected: ReadonlySet<string>): Hit | null {
  return endAt(scene, p, reach, selected) ?? openingAt(scene, p) ?? wallAt(scene, p, reach) ?? structureAt(scene, p) ?? roomAt(scene, p)
}

function endAt(scene: Scene, p: Point, reach: number, selected: ReadonlySet<string>): Hit | null {
  for (const id of selected) {
    const line = scene.byId.get(id)?.wall.line
    if (!line) continue
    for (const end of [0, 1] as const) if (distance(line[end], p) <= reach) return { kind: 'end', wall: id, end }
  }
  return null
}

function openingAt(scene: Scene, p: Point): Hit | null {
  for (const w of near(scene, p, 0)) {
    const index = w.openings.findIndex((o) => inside(o.outline, p))
    if (index >= 0) return { kind: 'opening', wall: w.wall.id, index }
  }
  return null
}

export function wallAt(scene: Scene, p: Point, reach: number): Extract<Hit, { kind: 'wall' }> | null {
  let best: { wall: string; u: number; d: number } | null = null
  for (const w of near(scene, p, reach)) {
    const u = alongWall(w.wall, p)
    const d = inside(w.outline, p) ? 0 : distance(onWall(w.wall, u), p)
    if (d <= Math.max(reach, 0) + thicknessOf(w) / 2 && (!best || d < best.d)) best = { wall: w.wall.id, u, d }
  }
  return best && { kind: 'wall', wall: best.wall, u: best.u }
}

const thicknessOf = (w: SceneWall) => w.brief?.thickness ?? 100

function* near(scene: Scene, p: Point, reach: number): Generator<SceneWall> {
  const b = { x0: p[0] - reach, y0: p[1] - reach, x1: p[0] + reach, y1: p[1] + reach }
  for (const w of scene.walls) if (boxesMeet(w.box, b)) yield w
}

export function structureAt(scene: Scene, p: Point): Hit | null {
  const s = scene.structure.find((s) => inBox(s.box, p) && inside(s.outline, p))
  return s ? { kind: 'structure', id: s.structure.id } : null
}

export function roomAt(scene: Scene, p: Point): Hit | null {
  const r = scene.rooms.find((r) => inBox(r.box, p) && inside(r.room.outline, p))
  return r ? { kind: 'room', id: r.room.id } : null
}

// Walls whose line runs through a box.
export function wallsIn(scene: Scene, from: Point, to: Point): string[] {
  const b: Box = { x0: Math.min(from[0], to[0]), y0: Math.min(from[1], to[1]), x1: Math.max(from[0], to[0]), y1: Math.max(from[1], to[1]) }
  return scene.walls.filter((w) => boxesMeet(w.box, b) && runsThrough(w, b)).map((w) => w.wall.id)
}

function runsThrough(w: SceneWall, b: Box): boolean {
  const points = linePoints(w.wall)
  return points.slice(1).some((q, i) => touches([points[i] as Point, q], b))
}

function touches([a, c]: readonly [Point, Point], b: Box): boolean {
  // Liang-Barsky: the part of the segment within each pair of sides.
  let [t0, t1] = [0, 1]
  for (const [p, d, lo, hi] of [[a[0], c[0] - a[0], b.x0, b.x1], [a[1], c[1] - a[1], b.y0, b.y1]] as const) {
    if (d === 0) {
      if (p < lo || p > hi) return false
      continue
    }
    const [u, v] = [(lo - p) / d, (hi - p) / d]
    t0 = Math.max(t0, Math.min(u, v))
    t1 = Math.min(t1, Math.max(u, v))
  }
  return t0 <= t1
}
