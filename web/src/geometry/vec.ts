// Points and segments in plan, millimetres.

import type { Point } from '../core/plan.ts'

export type { Point }
export type Segment = readonly [Point, Point]

export const add = (a: Point, b: Point): Point => [a[0] + b[0], a[1] + b[1]]
export const sub = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1]]
export const scale = (a: Point, k: number): Point => [a[0] * k, a[1] * k]
export const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1]
export const cross = (a: Point, b: Point): number => a[0] * b[1] - a[1] * b[0]
export const distance = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1])
export const middle = (a: Point, b: Point): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]
export const same = (a: Point, b: Point, within = 0.5): boolean => distance(a, b) <= within

// The unit vector from a to b; east where they are the same.
export function direction(a: Point, b: Point): Point {
  const d = distance(a, b)
  return d === 0 ? [1, 0] : scale(sub(b, a), 1 / d)
}

// To the left of a direction.
export const left = (d: Point): Point => [-d[1], d[0]]

// Degrees anticlockwise from east, 0 to below 360.
export function angleOf(d: Point): number {
  const a = (Math.atan2(d[1], d[0]) * 180) / Math.PI
  return a < 0 ? a + 360 : a
}

export function atAngle(degrees: number): Point {
  const r = (degrees * Math.PI) / 180
  return [Math.cos(r), Math.sin(r)]
}

// Along the segment's line from its start to the foot of p, and p's distance to
// the left of it.
export function local(s: Segment, p: Point): { u: number; v: number } {
  const d = direction(s[0], s[1])
  const r = sub(p, s[0])
  return { u: dot(r, d), v: cross(d, r) }
}

export const along = (s: Segment, u: number): Point => add(s[0], scale(direction(s[0], s[1]), u))

export function distanceTo(s: Segment, p: Point): number {
  return distance(p, nearestOn(s, p))
}

export function nearestOn(s: Segment, p: Point): Point {
  const l = distance(s[0], s[1])
  return along(s, Math.min(Math.max(local(s, p).u, 0), l))
}

// Where the two segments' lines meet, or null if they are parallel.
export function meet(a: Segment, b: Segment): Point | null {
  const d = sub(a[1], a[0])
  const e = sub(b[1], b[0])
  const k = cross(d, e)
  if (Math.abs(k) < 1e-9 * Math.hypot(...d) * Math.hypot(...e)) return null
  return add(a[0], scale(d, cross(sub(b[0], a[0]), e) / k))
}

export function turned(p: Point, about: Point, degrees: number): Point {
  const [c, s] = atAngle(degrees)
  const [x, y] = sub(p, about)
  return add(about, [x * c - y * s, x * s + y * c])
}

// The plan keeps lengths to the nanometre; a thousandth of a millimetre is what
// drawing can mean.
export const rounded = (p: Point): Point => [roundTo(p[0]), roundTo(p[1])]
export const roundTo = (x: number): number => Math.round(x * 1000) / 1000 + 0

export interface Box {
  x0: number
  y0: number
  x1: number
  y1: number
}

export function boxOf(points: readonly Point[]): Box {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const [x, y] of points) {
    if (x < x0) x0 = x
    if (x > x1) x1 = x
    if (y < y0) y0 = y
    if (y > y1) y1 = y
  }
  return { x0, y0, x1, y1 }
}

export const inBox = (b: Box, [x, y]: Point): boolean => x >= b.x0 && x <= b.x1 && y >= b.y0 && y <= b.y1
export const boxesMeet = (a: Box, b: Box): boolean => a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1

export function inside(outline: readonly Point[], p: Point): boolean {
  let within = false
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [xi, yi] = outline[i] as Point
    const [xj, yj] = outline[j] as Point
    if (yi > p[1] !== yj > p[1] && p[0] < ((xj - xi) * (p[1] - yi)) / (yj - yi) + xi) within = !within
  }
  return within
}

// Positive where the corners run anticlockwise.
export function signedArea(outline: readonly Point[]): number {
  let sum = 0
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) sum += cross(outline[j] as Point, outline[i] as Point)
  return sum / 2
}

// A point well inside an outline, to write its name at, and how wide the outline
// is there: the middle of the widest stretch of five lines across.
export function widest(outline: readonly Point[]): { p: Point; w: number } {
  const b = boxOf(outline)
  let best: { p: Point; w: number } = { p: [(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2], w: -1 }
  for (const k of [0.5, 0.35, 0.65, 0.2, 0.8]) {
    const y = b.y0 + (b.y1 - b.y0) * k + 0.01
    const xs: number[] = []
    for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
      const [xi, yi] = outline[i] as Point
      const [xj, yj] = outline[j] as Point
      if (yi > y !== yj > y) xs.push(((xj - xi) * (y - yi)) / (yj - yi) + xi)
    }
    xs.sort((p, q) => p - q)
    for (let i = 0; i + 1 < xs.length; i += 2) {
      const [from, to] = [xs[i] as number, xs[i + 1] as number]
      if (to - from > best.w * 1.2) best = { p: [(from + to) / 2, y], w: to - from }
    }
  }
  return best
}

export const middleInside = (outline: readonly Point[]): Point => widest(outline).p
