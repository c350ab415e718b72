// The bodies of walls, openings and structure in plan, from what the plan says of
// them. The server gives wall bodies with joints resolved; this serves until its
// answer is there.

import type { Opening, Structure, Wall } from '../core/plan.ts'
import type { Point, Segment } from './vec.ts'
import type { Line } from './arc.ts'
import { alongArc, arcLength, arcOf, onArc } from './arc.ts'
import { add, direction, distance, left, local, scale, sub, turned } from './vec.ts'

// How far face A and face B lie to the left of the wall's line.
export function faces(w: Wall, thickness: number): [number, number] {
  if (w.justify === 'face_a') return [0, -thickness]
  if (w.justify === 'face_b') return [thickness, 0]
  return [thickness / 2, -thickness / 2]
}

// The wall's line as straight pieces; an arc as chords of 7.5 degrees or less.
export function linePoints(w: Line): Point[] {
  const arc = arcOf(w)
  if (!arc) return [...w.line]
  const n = Math.max(2, Math.ceil(Math.abs(arc.sweep) / 7.5))
  return Array.from({ length: n + 1 }, (_, i) => turned(arc.start, arc.centre, (arc.sweep * i) / n))
}

export function wallLength(w: Line): number {
  const arc = arcOf(w)
  return arc ? arcLength(arc) : distance(...w.line)
}

// The point at u along the wall's line and v to its left.
export function onWall(w: Line, u: number, v = 0): Point {
  const arc = arcOf(w)
  if (!arc) {
    const d = direction(...w.line)
    return add(add(w.line[0], scale(d, u)), scale(left(d), v))
  }
  const at = onArc(arc, u)
  return add(at, scale(direction(at, arc.centre), v * Math.sign(arc.sweep)))
}

// The distance along the wall's line of the place nearest to p.
export function alongWall(w: Line, p: Point): number {
  const arc = arcOf(w)
  return arc ? alongArc(arc, p) : Math.min(Math.max(local(w.line, p).u, 0), distance(...w.line))
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
  const steps = arcOf(w) ? 24 : 1
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
