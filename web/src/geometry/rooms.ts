// Finds rooms: the spaces that walls and structure enclose. Lines are split where
// they meet or nearly meet, and the faces of the net that they make are walked.

import type { Plan, Room } from '../core/plan.ts'
import { edges, linePoints, structureBody } from './body.ts'
import type { Point, Segment } from './vec.ts'
import { angleOf, boxOf, boxesMeet, distance, distanceTo, inside, local, meet, middleInside, rounded, signedArea, sub } from './vec.ts'

// A wall's line may end so far from the line that it meets: at the other's face,
// or at the face of a column.
const gap = 200
const leastArea = 0.3e6 // mm²; less is a shaft for a pipe

export function findRooms(plan: Plan, level: string): Point[][] {
  const bodies = (plan.structure ?? []).filter((s) => s.level === level).map(structureBody).filter((b) => b.length > 2)
  const lines = plan.walls
    .filter((w) => w.level === level)
    .flatMap((w) => {
      const p = linePoints(w)
      return p.slice(1).map((q, i) => [p[i] as Point, q] as const)
    })
  const net = [...lines, ...bodies.flatMap(edges)].filter((s) => distance(s[0], s[1]) > 1)
  return facesOf(split(net)).filter((f) => {
    const at = middleInside(f)
    return signedArea(f) >= leastArea && !bodies.some((b) => inside(b, at))
  })
}

// Rooms found that the plan does not name yet.
export function unnamedRooms(plan: Plan, level: string): Point[][] {
  const named = (plan.rooms ?? []).filter((r) => r.level === level)
  return findRooms(plan, level).filter((f) => !named.some((r) => inside(r.outline, middleInside(f))))
}

export const roomArea = (r: Pick<Room, 'outline'>): number => Math.abs(signedArea(r.outline))

// Splits each segment wherever another meets it; an end that stops short of
// another line within the gap is drawn out to it.
function split(net: readonly Segment[]): Segment[] {
  const boxes = net.map((s) => grown(boxOf(s)))
  const order = net.map((_, i) => i).sort((a, b) => boxes[a]!.x0 - boxes[b]!.x0)
  const cuts: Point[][] = net.map((s) => [s[0], s[1]])
  for (let k = 0; k < order.length; k++) {
    const i = order[k] as number
    for (let m = k + 1; m < order.length && boxes[order[m]!]!.x0 <= boxes[i]!.x1; m++) {
      const j = order[m] as number
      if (boxesMeet(boxes[i]!, boxes[j]!)) cutBoth(net, cuts, i, j)
    }
  }
  return net.flatMap((s, i) => pieces(s, cuts[i] as Point[]))
}

const grown = (b: ReturnType<typeof boxOf>) => ({ x0: b.x0 - gap, y0: b.y0 - gap, x1: b.x1 + gap, y1: b.y1 + gap })

function cutBoth(net: readonly Segment[], cuts: Point[][], i: number, j: number): void {
  const [a, b] = [net[i] as Segment, net[j] as Segment]
  const p = meet(a, b)
  if (p) {
    if (distanceTo(a, p) <= gap && distanceTo(b, p) <= gap) {
      cuts[i]!.push(p)
      cuts[j]!.push(p)
    }
    return
  }
  for (const end of b) if (distanceTo(a, end) < 1) cuts[i]!.push(end)
  for (const end of a) if (distanceTo(b, end) < 1) cuts[j]!.push(end)
}

function pieces(s: Segment, cuts: readonly Point[]): Segment[] {
  const sorted = [...cuts].sort((p, q) => local(s, p).u - local(s, q).u)
  return sorted.slice(1).map((q, i) => [sorted[i] as Point, q] as const)
}

// Walks the net's faces, keeping the next edge clockwise at each knot, so that
// each face inside is gone round anticlockwise once.
function facesOf(segments: readonly Segment[]): Point[][] {
  const { points, next } = knots(segments)
  const walked = new Set<string>()
  const faces: Point[][] = []
  for (const [from, all] of next.entries()) {
    for (const to of all) {
      if (walked.has(`${from}>${to}`)) continue
      const face = walk(from, to, next, walked).map((i) => points[i] as Point)
      if (face.length > 2 && signedArea(face) > 0) faces.push(plain(face))
    }
  }
  return faces
}

function walk(from: number, to: number, next: number[][], walked: Set<string>): number[] {
  const face: number[] = []
  let [a, b] = [from, to]
  while (!walked.has(`${a}>${b}`)) {
    walked.add(`${a}>${b}`)
    face.push(a)
    const around = next[b] as number[]
    const back = around.indexOf(a)
    ;[a, b] = [b, around[(back - 1 + around.length) % around.length] as number]
  }
  return face
}

// A wall that ends free within a room bounds nothing: ends that nothing joins go,
// one after another.
function prune(joined: Set<number>[]): void {
  const loose = joined.flatMap((all, k) => (all.size === 1 ? [k] : []))
  for (let k = loose.pop(); k !== undefined; k = loose.pop()) {
    const [other] = joined[k] as Set<number>
    joined[k]?.clear()
    if (other === undefined) continue
    joined[other]?.delete(k)
    if (joined[other]?.size === 1) loose.push(other)
  }
}

// Ends that are the same to a few millimetres become one knot; at each the knots
// that it is joined to, anticlockwise.
function knots(segments: readonly Segment[]): { points: Point[]; next: number[][] } {
  const points: Point[] = []
  const joined: Set<number>[] = []
  const cells = new Map<string, number>()
  const close = 5
  const knot = (p: Point): number => {
    const [x, y] = [Math.round(p[0] / close), Math.round(p[1] / close)]
    for (let i = -1; i <= 1; i++) {
      for (let j = -1; j <= 1; j++) {
        const k = cells.get(`${x + i},${y + j}`)
        if (k !== undefined && distance(points[k] as Point, p) <= close) return k
      }
    }
    points.push(p)
    joined.push(new Set())
    cells.set(`${x},${y}`, points.length - 1)
    return points.length - 1
  }
  for (const s of segments) {
    const [a, b] = [knot(s[0]), knot(s[1])]
    if (a === b) continue
    joined[a]?.add(b)
    joined[b]?.add(a)
  }
  prune(joined)
  const bearing = (from: number, to: number) => angleOf(sub(points[to] as Point, points[from] as Point))
  const next = points.map((_, i) => [...(joined[i] ?? [])].sort((a, b) => bearing(i, a) - bearing(i, b)))
  return { points, next }
}

// Leaves out corners that lie in a straight line.
function plain(face: readonly Point[]): Point[] {
  const n = face.length
  return face
    .filter((p, i) => {
      const [a, b] = [face[(i - 1 + n) % n] as Point, face[(i + 1) % n] as Point]
      return Math.abs(local([a, b], p).v) > 0.5
    })
    .map(rounded)
}
