// A wall of two lines of the drawing that a person points at.

import { direction, distance, dot, left, local, meet, add, along, cross, roundTo, rounded, scale, sub } from '../../geometry/vec.ts'
import type { Point, Segment } from '../../geometry/vec.ts'
import type { Item } from './items.ts'
import { isWall } from './items.ts'

const [thinnest, thickest] = [30, 800] // mm
const parallel = Math.sin(Math.PI / 180)

// The wall between two lines as far as they lie side by side, or the key of the text
// that says why there is none.
export function between(a: Segment, b: Segment): { line: [Point, Point]; thickness: number } | { why: string } {
  const d = direction(a[0], a[1])
  if (Math.abs(cross(d, direction(b[0], b[1]))) > parallel) return { why: 'drawing.why.angle' }
  const off = (local(a, b[0]).v + local(a, b[1]).v) / 2
  if (Math.abs(off) < thinnest || Math.abs(off) > thickest) return { why: 'drawing.why.apart' }
  const [u, w] = [local(a, b[0]).u, local(a, b[1]).u].sort((x, y) => x - y) as [number, number]
  const [lo, hi] = [Math.max(0, u), Math.min(distance(a[0], a[1]), w)]
  if (hi - lo < 50) return { why: 'drawing.why.beside' }
  const shift = scale(left(d), off / 2)
  return { line: [rounded(add(along(a, lo), shift)), rounded(add(along(a, hi), shift))], thickness: roundTo(Math.abs(off)) }
}

// The line with its ends drawn to the centre lines of the walls that they meet.
export function drawnOut(line: [Point, Point], thickness: number, items: readonly Item[]): [Point, Point] {
  const end = (p: Point, other: Point): Point => {
    const near = items
      .filter((i) => isWall(i) && i.line?.length === 2 && !i.via && i.standing !== 'refused')
      .flatMap((i) => reached(p, other, thickness, i))
      .sort((a, b) => distance(a, p) - distance(b, p))[0]
    return near ? rounded(near) : p
  }
  return [end(line[0], line[1]), end(line[1], line[0])]
}

function reached(p: Point, other: Point, thickness: number, i: Item): Point[] {
  const s = [i.line?.[0], i.line?.[1]] as unknown as Segment
  const turn = Math.abs(cross(direction(other, p), direction(s[0], s[1])))
  const to = turn < 0.2 ? null : meet([other, p], s)
  if (!to || distance(to, p) > ((i.thickness ?? 0) / 2 + 20) / turn) return []
  const u = dot(sub(to, s[0]), direction(s[0], s[1]))
  return u >= -thickness && u <= distance(s[0], s[1]) + thickness ? [to] : []
}
