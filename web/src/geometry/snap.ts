// Where a pointed-at place snaps to. Pure: takes what is near, gives the point,
// what it snapped to, and lines to show why. Snapping a snapped point changes
// nothing.

import type { Arc } from './arc.ts'
import { arcMeets, middleOf, nearestOnArc, tangentTo } from './arc.ts'
import type { Point, Segment } from './vec.ts'
import { add, angleOf, atAngle, direction, distance, distanceTo, local, meet, middle, nearestOn, scale } from './vec.ts'

export type SnapKind = 'end' | 'middle' | 'crossing' | 'square' | 'line' | 'centre' | 'extension' | 'angle' | 'grid' | 'none'

export interface Snap {
  point: Point
  kind: SnapKind
  guides: Segment[]
}

export interface SnapInput {
  lines: readonly Segment[] // walls' lines and edges of structure
  arcs?: readonly Arc[] // lines of curved walls
  from?: Point // the last point of what is drawn
  reach: number // how far snapping pulls, mm
  grid: number // spacing of the grid, mm; 0 for none
  angles: number // step of the angles from `from`, degrees; 0 for none
}

// An extension is of use near the line that it extends; short edges, as those of
// round columns, have none.
const extensionReach = 6000
const shortest = 300

// Snapping runs until it stands still: a foot on a line may be within reach of
// the line's end, which is the better place.
export function snap(p: Point, input: SnapInput): Snap {
  let found = once(p, input)
  for (let i = 0; i < 8; i++) {
    const next = once(found.point, input)
    if (distance(next.point, found.point) < 1e-6) return next
    found = next
  }
  return found
}

function once(p: Point, input: SnapInput): Snap {
  const near = input.lines.filter((s) => distanceTo(s, p) <= input.reach)
  const arcs = (input.arcs ?? []).filter((a) => distance(nearestOnArc(a, p), p) <= input.reach)
  const rays = guidesNear(p, input)
  const point =
    nearest(p, input.reach, [...near.flat(), ...arcs.flatMap((a) => [a.start, a.end])].map((q) => at('end', q))) ??
    nearest(p, input.reach, [...near.map((s) => middle(s[0], s[1])), ...arcs.map(middleOf)].map((q) => at('middle', q))) ??
    nearest(p, input.reach, [...crossings(near, rays), ...arcCrossings(arcs, near, rays)]) ??
    nearest(p, input.reach, feet(near, input.from)) ??
    nearest(p, input.reach, [...near.map((s) => nearestOn(s, p)), ...arcs.map((a) => nearestOnArc(a, p))].map((q) => at('line', q))) ??
    nearest(p, input.reach, (input.arcs ?? []).map((a) => at('centre', a.centre))) ??
    nearest(p, input.reach, rays.map((r) => ({ ...at(r.kind, foot(r.line, p)), guides: [r.line] })))
  return point ?? gridPoint(p, input.grid)
}

const at = (kind: SnapKind, point: Point): Snap => ({ kind, point, guides: [] })

function nearest(p: Point, reach: number, all: Snap[]): Snap | null {
  let best: Snap | null = null
  for (const s of all) {
    if (distance(s.point, p) <= (best ? distance(best.point, p) - 1e-9 : reach)) best = s
  }
  return best
}

const foot = (s: Segment, p: Point): Point => add(s[0], scale(direction(s[0], s[1]), local(s, p).u))

interface Ray {
  kind: 'extension' | 'angle'
  line: Segment // from where it starts to where it is shown to end
}

// Lines on which the pointer lies without anything being drawn there: extensions
// of lines, and the lines at whole steps of angle from the last point.
function guidesNear(p: Point, input: SnapInput): Ray[] {
  const rays: Ray[] = []
  if (input.from && input.angles > 0 && distance(input.from, p) > input.reach) {
    const step = Math.round(angleOf(direction(input.from, p)) / input.angles) * input.angles
    const d = exact(atAngle(step))
    const end = foot([input.from, add(input.from, d)], p)
    if (distance(end, p) <= input.reach) rays.push({ kind: 'angle', line: [input.from, end] })
  }
  for (const s of input.lines) {
    const { u, v } = local(s, p)
    const l = distance(s[0], s[1])
    if (l < shortest || Math.abs(v) > input.reach || (u >= 0 && u <= l)) continue
    if (u < -extensionReach || u > l + extensionReach) continue
    rays.push({ kind: 'extension', line: [u < 0 ? s[0] : s[1], foot(s, p)] })
  }
  return [...rays, ...(input.arcs ?? []).flatMap((a) => tangentsNear(a, p, input.reach))]
}

// A wall that goes on from a curved one runs in its tangent.
function tangentsNear(a: Arc, p: Point, reach: number): Ray[] {
  return ([0, 1] as const).flatMap((end): Ray[] => {
    const line = tangentTo(a, end, p)
    return line && distance(line[1], p) <= reach && distance(...line) <= extensionReach ? [{ kind: 'extension', line }] : []
  })
}

function arcCrossings(arcs: readonly Arc[], near: readonly Segment[], rays: readonly Ray[]): Snap[] {
  return arcs.flatMap((a) => [
    ...near.flatMap((s) => arcMeets(a, s)).map((p) => at('crossing', p)),
    ...rays.flatMap((r) => arcMeets(a, r.line).map((p): Snap => ({ kind: 'crossing', point: p, guides: [[r.line[0], p]] }))),
  ])
}

// Sine and cosine of right angles come out a hair off.
const exact = (d: Point): Point => [Math.abs(d[0]) < 1e-12 ? 0 : d[0], Math.abs(d[1]) < 1e-12 ? 0 : d[1]]

function crossings(near: readonly Segment[], rays: readonly Ray[]): Snap[] {
  const all: Snap[] = []
  near.forEach((a, i) => {
    for (const b of near.slice(i + 1)) {
      const p = meet(a, b)
      if (p && distanceTo(a, p) < 1e-3 && distanceTo(b, p) < 1e-3) all.push(at('crossing', p))
    }
    for (const r of rays) {
      const p = meet(a, r.line)
      if (p && distanceTo(a, p) < 1e-3) all.push({ kind: 'crossing', point: p, guides: [[r.line[0], p]] })
    }
  })
  rays.forEach((a, i) => {
    for (const b of rays.slice(i + 1)) {
      const p = meet(a.line, b.line)
      if (p) all.push({ kind: 'crossing', point: p, guides: [[a.line[0], p], [b.line[0], p]] })
    }
  })
  return all
}

// Feet of the perpendiculars from the last point.
function feet(near: readonly Segment[], from: Point | undefined): Snap[] {
  if (!from) return []
  return near
    .map((s) => foot(s, from))
    .filter((p, i) => distanceTo(near[i] as Segment, p) < 1e-3 && distance(p, from) > 1)
    .map((p) => ({ kind: 'square' as const, point: p, guides: [[from, p] as const] }))
}

function gridPoint(p: Point, grid: number): Snap {
  if (grid <= 0) return at('none', p)
  return at('grid', [Math.round(p[0] / grid) * grid, Math.round(p[1] / grid) * grid])
}
