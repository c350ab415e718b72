// What is done to walls on the plan: each takes walls and gives them anew. What
// stands on a wall (openings, boxes, fixings, pipes) keeps its place in the
// building.

import type { Opening, Wall } from '../core/plan.ts'
import { wallLength } from './body.ts'
import type { Point, Segment } from './vec.ts'
import { add, along, direction, distance, dot, local, meet, nearestOn, roundTo, rounded, scale, sub, turned } from './vec.ts'

type Move = (p: Point) => Point

function withLine(w: Wall, move: Move): Wall {
  const line: [Point, Point] = [rounded(move(w.line[0])), rounded(move(w.line[1]))]
  return w.via ? { ...w, line, via: rounded(move(w.via)) } : { ...w, line }
}

export const moved = (w: Wall, by: Point): Wall => withLine(w, (p) => add(p, by))
export const turnedWall = (w: Wall, about: Point, degrees: number): Wall => withLine(w, (p) => turned(p, about, degrees))

// Moves walls and draws the walls that end at them along, so that what was joined
// stays joined. Gives every wall that changed.
export function movedJoined(all: readonly Wall[], ids: ReadonlySet<string>, by: Point): Wall[] {
  const going = all.filter((w) => ids.has(w.id))
  const level = new Set(going.map((w) => w.level))
  const drawn = all.flatMap((w) => {
    if (ids.has(w.id) || !level.has(w.level) || w.via) return []
    const ends = w.line.map((p, i) => followed(p, w.line[1 - i] as Point, going, by)) as [Point, Point]
    return ends[0] === w.line[0] && ends[1] === w.line[1] ? [] : [relined(w, ends)]
  })
  return [...going.map((w) => moved(w, by)), ...drawn]
}

// Where a wall's end goes when walls that it meets move: to where its own line
// meets theirs, or along with them where the two run the same way.
function followed(end: Point, other: Point, going: readonly Wall[], by: Point): Point {
  for (const g of going) {
    if (g.via || distance(nearestOn(g.line, end), end) > 1) continue
    const to = moved(g, by).line
    const p = meet([other, end], to)
    const corner = g.line.some((q) => distance(q, end) <= 1)
    if (p && (!corner || distance(nearestOn(to, p), p) <= 1)) return rounded(p)
    return rounded(add(end, by))
  }
  return end
}

// Gives a wall a new line; what stands on it stays where it is in the building as
// far as the line runs the same way.
export function relined(w: Wall, line: [Point, Point]): Wall {
  const shift = dot(sub(w.line[0], line[0]), direction(line[0], line[1]))
  return { ...shifted(w, roundTo(shift)), line: [rounded(line[0]), rounded(line[1])] }
}

// Moves everything on the wall along it.
function shifted(w: Wall, by: number): Wall {
  if (by === 0) return w
  const at = <T extends { at: number }>(list: T[] | undefined) => list?.map((o) => ({ ...o, at: roundTo(o.at + by) }))
  return clean({
    ...w,
    heights: at(w.heights),
    openings: at(w.openings),
    boxes: at(w.boxes),
    fixings: at(w.fixings),
    pipes: w.pipes?.map((p) => ({ ...p, path: p.path.map(([u, z]) => [roundTo(u + by), z] as Point) })),
  })
}

type Loose<T> = { [K in keyof T]: T[K] | undefined }

// Leaves out what is undefined or empty, as the plan file does.
export function clean<T extends object>(o: Loose<T>): T {
  return Object.fromEntries(Object.entries(o).filter(([, v]) => v !== undefined && !(Array.isArray(v) && v.length === 0))) as T
}

// Parts a straight wall at u. What stands on it goes to the part on which its
// middle lies; the second part gets the mark given.
export function split(w: Wall, u: number, mark: string): [Wall, Wall] | null {
  const l = wallLength(w)
  if (w.via || u < 1 || u > l - 1) return null
  const at = rounded(along(w.line, u))
  const part = (first: boolean): Partial<Wall> => {
    const here = (from: number, to = from) => (from + to) / 2 < u === first
    return {
      heights: heightsBetween(w, first ? 0 : u, first ? u : l),
      openings: w.openings?.filter((o) => here(o.at, o.at + o.width)),
      boxes: w.boxes?.filter((b) => here(b.at)),
      fixings: w.fixings?.filter((f) => here(f.at, f.at + (f.width ?? 0))),
      pipes: w.pipes?.filter((p) => here(p.path[0]?.[0] ?? 0, p.path.at(-1)?.[0] ?? 0)),
    }
  }
  const one = clean<Wall>({ ...w, ...part(true), line: [w.line[0], at], end: undefined, end_piece: undefined })
  const two = clean<Wall>({ ...w, ...part(false), start: undefined, start_piece: undefined })
  return [one, { ...shifted({ ...two, id: mark }, -u), line: [at, w.line[1]] }]
}

// The height profile between two places, with the heights at its ends.
function heightsBetween(w: Wall, from: number, to: number): Wall['heights'] {
  const h = w.heights
  if (!h || h.length === 0) return undefined
  const at = (u: number): number => {
    const i = h.findIndex((p) => p.at >= u)
    const [a, b] = [h[Math.max(0, i - 1)], h[i]]
    if (!a || !b) return (h.at(-1) as { height: number }).height
    return b.at === a.at ? b.height : roundTo(a.height + ((b.height - a.height) * (u - a.at)) / (b.at - a.at))
  }
  return [{ at: from, height: at(from) }, ...h.filter((p) => p.at > from && p.at < to), { at: to, height: at(to) }]
}

// Turns a wall's line round, so that it is walked the other way; faces A and B
// are then seen from the other side, and what is on a face stays on its side.
export function reversed(w: Wall): Wall {
  const back = mirroredAlong(w, true)
  const justify = w.justify === 'face_a' ? 'face_b' : w.justify === 'face_b' ? 'face_a' : w.justify
  return clean({ ...back, justify, line: [w.line[1], w.line[0]] })
}

function mirroredAlong(w: Wall, swapFaces: boolean): Wall {
  const l = wallLength(w)
  const face = (f: string) => (swapFaces ? (f === 'a' ? 'b' : 'a') : f)
  return clean({
    ...w,
    start: w.end,
    end: w.start,
    start_piece: w.end_piece,
    end_piece: w.start_piece,
    heights: w.heights?.map((h) => ({ ...h, at: roundTo(l - h.at) })).reverse(),
    openings: w.openings?.map((o) => mirroredOpening(o, l)),
    boxes: w.boxes?.map((b) => ({ ...b, face: face(b.face), at: roundTo(l - b.at) })),
    fixings: w.fixings?.map((f) => ({ ...f, face: face(f.face), at: roundTo(l - f.at - (f.width ?? 0)) })),
    pipes: w.pipes?.map((p) => ({ ...p, path: p.path.map(([u, z]) => [roundTo(l - u), z] as Point) })),
  })
}

function mirroredOpening(o: Opening, l: number): Opening {
  const pocket = o.pocket === 'start' ? 'end' : o.pocket === 'end' ? 'start' : undefined
  return clean({ ...o, at: roundTo(l - o.at - o.width), pocket })
}

// Mirrors a wall at a line. Mirroring would put face A on the right; the wall is
// walked from its other end, so that A stays A and looks into the mirrored room.
export function mirrored(w: Wall, axis: Segment): Wall {
  const flip: Move = (p) => {
    const { u, v } = local(axis, p)
    const n: Point = [-direction(axis[0], axis[1])[1], direction(axis[0], axis[1])[0]]
    return add(along(axis, u), scale(n, -v))
  }
  const m = withLine(mirroredAlong(w, false), flip)
  return { ...m, line: [m.line[1], m.line[0]] }
}

// Makes one wall of two that lie in one line, end to end, or null with the text
// key of why not. The first one's properties hold.
export function joined(a: Wall, b: Wall): Wall | { why: string } {
  if (a.via || b.via) return { why: 'plan.join.curved' }
  if (a.buildup !== b.buildup) return { why: 'plan.join.buildup' }
  const near = (p: Point, q: Point) => distance(p, q) <= 1
  if (!a.heights !== !b.heights) return { why: 'plan.join.heights' }
  if (b.line.every((p) => !a.line.some((q) => near(p, q)))) return { why: 'plan.join.apart' }
  if (b.line.some((p) => Math.abs(local(a.line, p).v) > 1)) return { why: 'plan.join.angle' }
  if (dot(sub(a.line[1], a.line[0]), sub(b.line[1], b.line[0])) < 0) return { why: 'plan.join.opposed' }
  const [first, second] = near(a.line[1], b.line[0]) ? [a, b] : [b, a]
  const on = shifted(second, roundTo(wallLength(first)))
  const both = <K extends 'openings' | 'boxes' | 'fixings' | 'pipes' | 'heights'>(k: K) => [...(first[k] ?? []), ...(on[k] ?? [])] as NonNullable<Wall[K]>
  return clean<Wall>({
    ...a,
    line: [first.line[0], second.line[1]],
    start: first.start,
    start_piece: first.start_piece,
    end: second.end,
    end_piece: second.end_piece,
    openings: both('openings'),
    boxes: both('boxes'),
    fixings: both('fixings'),
    pipes: both('pipes'),
    heights: both('heights'),
  })
}
