// The lines of curved walls: arcs through a start, a third point and an end. Angles
// in degrees, anticlockwise positive; a rise is how far an arc's middle lies from
// its chord, positive to the left, where face A is.

import type { Wall } from '../core/plan.ts'
import type { Point, Segment } from './vec.ts'
import { add, along, angleOf, cross, direction, distance, dot, left, local, meet, middle, rounded, scale, sub, turned } from './vec.ts'

export type Line = Pick<Wall, 'line' | 'via'>

export interface Arc {
  start: Point
  end: Point
  centre: Point
  radius: number
  sweep: number
}

// Flatter than this, a line is straight: it cannot be set out as a curve.
export const leastRise = 1

// The arc of a curved wall's line; null for a straight one, and where the three
// points lie in a line.
export function arcOf(w: Line): Arc | null {
  const found = w.via && arcThrough(w.line[0], w.via, w.line[1])
  return found ? { ...found, start: w.line[0], end: w.line[1], radius: distance(w.line[0], found.centre) } : null
}

// Centre and sweep of the arc from a over via to b, or null where the three lie in
// a line.
export function arcThrough(a: Point, via: Point, b: Point): { centre: Point; sweep: number } | null {
  const m = middle(a, via)
  const n = middle(via, b)
  const centre = meet([m, add(m, left(sub(via, a)))], [n, add(n, left(sub(b, via)))])
  if (!centre) return null
  const turn = cross(sub(via, a), sub(b, via)) > 0 ? 1 : -1
  return { centre, sweep: turnFrom(centre, a, b, turn) * turn }
}

// How far one turns about a centre from a to b, 0 to below 360.
function turnFrom(centre: Point, a: Point, b: Point, turn: number): number {
  return ((((angleOf(sub(b, centre)) - angleOf(sub(a, centre))) * turn) % 360) + 360) % 360
}

export const arcLength = (a: Arc): number => (a.radius * Math.abs(a.sweep) * Math.PI) / 180

// The point at u along an arc.
export const onArc = (a: Arc, u: number): Point => turned(a.start, a.centre, ((u / a.radius) * 180 * Math.sign(a.sweep)) / Math.PI)

export const middleOf = (a: Arc): Point => onArc(a, arcLength(a) / 2)

// The distance along an arc of the place nearest to p.
export function alongArc(a: Arc, p: Point): number {
  const turn = turnFrom(a.centre, a.start, p, Math.sign(a.sweep))
  if (turn <= Math.abs(a.sweep)) return (a.radius * turn * Math.PI) / 180
  return distance(p, a.start) < distance(p, a.end) ? 0 : arcLength(a)
}

export const nearestOnArc = (a: Arc, p: Point): Point => onArc(a, alongArc(a, p))

// Where an arc and a segment meet.
export function arcMeets(a: Arc, s: Segment): Point[] {
  const { u, v } = local(s, a.centre)
  if (Math.abs(v) > a.radius) return []
  const half = Math.sqrt(a.radius ** 2 - v ** 2)
  return [u - half, u + half].filter((k) => k >= 0 && k <= distance(...s)).map((k) => along(s, k)).filter((p) => distance(nearestOnArc(a, p), p) < 1e-3)
}

// The way in which an arc would go on straight from its end, and from its start.
export function tangents(a: Arc): [Point, Point] {
  const turn = Math.sign(a.sweep)
  const at = (p: Point, k: number) => scale(left(direction(a.centre, p)), turn * k)
  return [at(a.start, -1), at(a.end, 1)]
}

// The signed rise of a wall's line; 0 for a straight one.
export function riseOf(w: Line): number {
  const a = arcOf(w)
  return a ? local(w.line, middleOf(a)).v : 0
}

// The line between two points bent to a rise; straight where there is next to none.
export function bentTo(line: Wall['line'], rise: number): Line {
  if (Math.abs(rise) < leastRise) return { line }
  const [a, b] = line
  return { line, via: rounded(add(middle(a, b), scale(left(direction(a, b)), rise))) }
}

// The rise of an arc of a radius over a chord: of the flat arc, or of the one that
// goes more than half round; null where the radius is less than half the chord.
export function riseFor(chord: number, radius: number, round: boolean): number | null {
  const inner = radius ** 2 - (chord / 2) ** 2
  if (inner < -1e-6) return null
  const d = Math.sqrt(Math.max(0, inner))
  return round ? radius + d : radius - d
}

// Takes the third point of a line along when its ends move, so that the arc keeps
// its shape.
export function viaMoved(w: Line, line: Wall['line']): Point | undefined {
  if (!w.via) return undefined
  const k = distance(...line) / distance(...w.line)
  const { u, v } = local(w.line, w.via)
  const d = direction(...line)
  return rounded(add(line[0], add(scale(d, u * k), scale(left(d), v * k))))
}

// The tangent's ray from one of an arc's ends to the foot of p on it; null where p
// lies behind.
export function tangentTo(a: Arc, end: 0 | 1, p: Point): Segment | null {
  const from = end === 0 ? a.start : a.end
  const d = tangents(a)[end]
  const u = dot(sub(p, from), d)
  return u > 0 ? [from, add(from, scale(d, u))] : null
}
