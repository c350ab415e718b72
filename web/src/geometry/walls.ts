// What is done to walls on the plan: each takes walls and gives them anew. What
// stands on a wall (openings, boxes, fixings, pipes) keeps its place in the
// building.

import type { Opening, Wall } from '../core/plan.ts'
import type { Arc } from './arc.ts'
import { arcOf, bentTo, viaMoved } from './arc.ts'
import { alongWall, onWall, wallLength } from './body.ts'
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
    if (ids.has(w.id) || !level.has(w.level)) return []
    const ends = w.line.map((p, i) => followed(p, w.via ? null : (w.line[1 - i] as Point), going, by)) as [Point, Point]
    return ends[0] === w.line[0] && ends[1] === w.line[1] ? [] : [relined(w, ends)]
  })
  return [...going.map((w) => moved(w, by)), ...drawn]
}

// Where a wall's end goes when walls that it meets move: to where its own line
// meets theirs, or along with them where the two run the same way or one is curved.
function followed(end: Point, other: Point | null, going: readonly Wall[], by: Point): Point {
  for (const g of going) {
    if (distance(onWall(g, alongWall(g, end)), end) > 1) continue
    if (g.via || !other) return rounded(add(end, by))
    const to = moved(g, by).line
    const p = meet([other, end], to)
    const corner = g.line.some((q) => distance(q, end) <= 1)
    if (p && (!corner || distance(nearestOn(to, p), p) <= 1)) return rounded(p)
    return rounded(add(end, by))
  }
  return end
}

// Gives a wall a new line; what stands on it stays where it is in the building as
// far as the line runs the same way. A curved line keeps its shape.
export function relined(w: Wall, line: [Point, Point]): Wall {
  if (w.via) return reshaped(w, { line, via: viaMoved(w, line) })
  const shift = dot(sub(w.line[0], line[0]), direction(line[0], line[1]))
  return { ...shifted(w, roundTo(shift)), line: [rounded(line[0]), rounded(line[1])] }
}

// Gives a wall another line of which it may be longer or shorter, and bent, bent
// otherwise or straight: what stands on it keeps its share of the length.
export function reshaped(w: Wall, to: { line: Wall['line']; via?: Point | undefined }): Wall {
  const line: Wall['line'] = [rounded(to.line[0]), rounded(to.line[1])]
  const next = clean<Wall>({ ...w, line, via: to.via && rounded(to.via) })
  const k = wallLength(next) / wallLength(w)
  const centred = <T extends { at: number; width?: number }>(list: T[] | undefined) => list?.map((o) => ({ ...o, at: roundTo((o.at + (o.width ?? 0) / 2) * k - (o.width ?? 0) / 2) }))
  return clean<Wall>({
    ...next,
    heights: centred(w.heights),
    openings: centred(w.openings),
    boxes: centred(w.boxes),
    fixings: centred(w.fixings),
    pipes: w.pipes?.map((p) => ({ ...p, path: p.path.map(([u, z]) => [roundTo(u * k), z] as Point) })),
  })
}

export const bent = (w: Wall, rise: number): Wall => reshaped(w, bentTo(w.line, rise))

// Makes a wall so long by moving its end along its line, straight or curved.
export function lengthened(w: Wall, to: number): Wall {
  const end = rounded(onWall(w, to))
  return w.via ? clean<Wall>({ ...w, line: [w.line[0], end], via: rounded(onWall(w, to / 2)) }) : relined(w, [w.line[0], end])
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

// Parts a wall at u. What stands on it goes to the part on which its
// middle lies; the second part gets the mark given.
export function split(w: Wall, u: number, mark: string): [Wall, Wall] | null {
  const l = wallLength(w)
  if (u < 1 || u > l - 1) return null
  const at = rounded(onWall(w, u))
  const via = (k: number) => (w.via ? rounded(onWall(w, k)) : undefined)
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
  const one = clean<Wall>({ ...w, ...part(true), line: [w.line[0], at], via: via(u / 2), end: undefined, end_piece: undefined })
  const two = clean<Wall>({ ...w, ...part(false), via: via((u + l) / 2), start: undefined, start_piece: undefined })
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
    openings: w.openings?.map((o) => mirroredOpening(o, l, face)),
    boxes: w.boxes?.map((b) => ({ ...b, face: face(b.face), at: roundTo(l - b.at) })),
    fixings: w.fixings?.map((f) => ({ ...f, face: face(f.face), at: roundTo(l - f.at - (f.width ?? 0)) })),
    pipes: w.pipes?.map((p) => ({ ...p, path: p.path.map(([u, z]) => [roundTo(l - u), z] as Point) })),
  })
}

function mirroredOpening(o: Opening, l: number, face: (f: string) => string): Opening {
  const other = (side?: string) => (side === 'start' ? 'end' : side === 'end' ? 'start' : undefined)
  const leaf = o.leaf && clean({ ...o.leaf, hinge: other(o.leaf.hinge), opens: o.leaf.opens && face(o.leaf.opens) })
  return clean({ ...o, at: roundTo(l - o.at - o.width), pocket: other(o.pocket), leaf })
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

// Makes one wall of two that lie in one line or arc, end to end, or the text key of
// why not. The first one's properties hold.
export function joined(a: Wall, b: Wall): Wall | { why: string } {
  const why = apart(a, b)
  if (why) return { why }
  const [first, second] = near(a.line[1], b.line[0]) ? [a, b] : [b, a]
  const on = shifted(second, roundTo(wallLength(first)))
  const both = <K extends 'openings' | 'boxes' | 'fixings' | 'pipes' | 'heights'>(k: K) => [...(first[k] ?? []), ...(on[k] ?? [])] as NonNullable<Wall[K]>
  return clean<Wall>({
    ...a,
    line: [first.line[0], second.line[1]],
    via: a.via && rounded(onWall({ ...first, line: [first.line[0], second.line[1]], via: first.line[1] }, (wallLength(first) + wallLength(second)) / 2)),
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

const near = (p: Point, q: Point) => distance(p, q) <= 1

// Why two walls are not one, as the key of a text.
function apart(a: Wall, b: Wall): string | null {
  if (a.buildup !== b.buildup) return 'plan.join.buildup'
  if (!a.heights !== !b.heights) return 'plan.join.heights'
  if (b.line.every((p) => !a.line.some((q) => near(p, q)))) return 'plan.join.apart'
  const [one, two] = [arcOf(a), arcOf(b)]
  if (!one !== !two) return 'plan.join.curved'
  if (one && two) return apartOnArc(one, two)
  if (b.line.some((p) => Math.abs(local(a.line, p).v) > 1)) return 'plan.join.angle'
  return dot(sub(a.line[1], a.line[0]), sub(b.line[1], b.line[0])) < 0 ? 'plan.join.opposed' : null
}

// Arcs are set out to the millimetre, from which centre and radius come out less
// exactly.
function apartOnArc(a: Arc, b: Arc): string | null {
  if (distance(a.centre, b.centre) > a.radius / 200 || Math.abs(a.radius - b.radius) > a.radius / 200) return 'plan.join.arc'
  if (a.sweep * b.sweep < 0 || near(a.start, b.start) !== near(a.end, b.end)) return 'plan.join.opposed'
  return near(a.start, b.end) && near(a.end, b.start) ? 'plan.join.ring' : null
}
