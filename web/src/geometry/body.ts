// The bodies of walls, openings and structure in plan, from what the plan says of
// them. The server gives wall bodies with joints resolved; this serves until its
// answer is there.

import type { Opening, Structure, Wall } from '../core/plan.ts'
import type { Point, Segment } from './vec.ts'
import { add, cross, direction, distance, left, meet, middle, scale, sub, turned } from './vec.ts'

// How far face A and face B lie to the left of the wall's line.
export function faces(w: Wall, thickness: number): [number, number] {
  if (w.justify === 'face_a') return [0, -thickness]
  if (w.justify === 'face_b') return [thickness, 0]
  return [thickness / 2, -thickness / 2]
}

// The wall's line as straight pieces; an arc as chords of 7.5 degrees or less.
export function linePoints(w: Pick<Wall, 'line' | 'via'>): Point[] {
  const [a, b] = w.line
  const arc = w.via && arcThrough(a, w.via, b)
  if (!arc) return [a, b]
  const n = Math.max(2, Math.ceil(Math.abs(arc.sweep) / 7.5))
  return Array.from({ length: n + 1 }, (_, i) => turned(a, arc.centre, (arc.sweep * i) / n))
}

// Centre and signed sweep in degrees of the arc from a over via to b, or null
// where the three lie in a line.
export function arcThrough(a: Point, via: Point, b: Point): { centre: Point; sweep: number } | null {
  const m = middle(a, via)
  const n = middle(via, b)
  const centre = meet([m, add(m, left(sub(via, a)))], [n, add(n, left(sub(b, via)))])
  if (!centre) return null
  const angle = (p: Point) => (Math.atan2(p[1] - centre[1], p[0] - centre[0]) * 180) / Math.PI
  const turn = cross(sub(via, a), sub(b, via)) > 0 ? 1 : -1
  const sweep = ((((angle(b) - angle(a)) * turn) % 360) + 360) % 360
  return { centre, sweep: sweep * turn }
}

export function wallLength(w: Pick<Wall, 'line' | 'via'>): number {
  const arc = w.via && arcThrough(w.line[0], w.via, w.line[1])
  return arc ? (distance(w.line[0], arc.centre) * Math.abs(arc.sweep) * Math.PI) / 180 : distance(w.line[0], w.line[1])
}

// The point at u along the wall's line and v to its left.
export function onWall(w: Pick<Wall, 'line' | 'via'>, u: number, v = 0): Point {
  const [a, b] = w.line
  const arc = w.via && arcThrough(a, w.via, b)
  if (!arc) {
    const d = direction(a, b)
    return add(add(a, scale(d, u)), scale(left(d), v))
  }
  const r = distance(a, arc.centre)
  const at = turned(a, arc.centre, ((u / r) * 180 * Math.sign(arc.sweep)) / Math.PI)
  return add(at, scale(direction(at, arc.centre), v * Math.sign(arc.sweep)))
}

// The body of a wall whose ends are cut square.
export function body(w: Wall, thickness: number): Point[] {
  const [a, b] = faces(w, thickness)
  return band(w, 0, wallLength(w), a, b)
}

export function openingBody(w: Wall, thickness: number, o: Pick<Opening, 'at' | 'width'>): Point[] {
  const [a, b] = faces(w, thickness)
  return band(w, o.at, o.at + o.width, a, b)
}

function band(w: Wall, u0: number, u1: number, a: number, b: number): Point[] {
  const steps = w.via ? 16 : 1
  const at = (i: number) => u0 + ((u1 - u0) * i) / steps
  const one = Array.from({ length: steps + 1 }, (_, i) => onWall(w, at(i), a))
  const other = Array.from({ length: steps + 1 }, (_, i) => onWall(w, at(steps - i), b))
  return [...one, ...other]
}

export function structureBody(s: Structure): Point[] {
  if (s.outline && s.outline.length > 2) return s.outline
  if (!s.line || s.line.length < 2) return []
  const [a, b] = [s.line[0] as Point, s.line.at(-1) as Point]
  const n = scale(left(direction(a, b)), (s.thickness ?? 0) / 2)
  return [add(a, n), sub(a, n), sub(b, n), add(b, n)]
}

export function edges(outline: readonly Point[]): Segment[] {
  return outline.map((p, i) => [p, outline[(i + 1) % outline.length] as Point] as const)
}
