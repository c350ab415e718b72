// Which rooms a wall parts, by the rooms' outlines: the same rule as the server's
// (package plan, RoomsBeside), so that the table of room uses answers at once.

import type { Plan, Room, Wall } from '../core/plan.ts'
import { edges } from './body.ts'
import type { Box, Point } from './vec.ts'
import { along, boxOf, boxesMeet, distance, inside, left, direction, add, scale, local } from './vec.ts'

const reach = 400 // how far a room's edge may lie from the wall's line on its side
const overlap = 50 // and on the other
const least = 100 // shorter stretches are slips of drawing
const askew = 0.02

interface Edge {
  from: number
  to: number
  room: Room
  side: 0 | 1 // 0 at face A
  off: number
}

export interface Beside {
  room: Room
  box: Box
}

export const roomsOn = (plan: Plan, level: string): Beside[] =>
  (plan.rooms ?? []).filter((r) => r.level === level && r.outline.length > 2).map((room) => ({ room, box: boxOf(room.outline) }))

// The pairs of rooms, at face A and at face B, along the stretches of a wall. Null
// where no room is. A curved wall has none.
export function roomsBeside(w: Wall, rooms: readonly Beside[]): [Room | null, Room | null][] {
  if (w.via || distance(...w.line) < 1) return []
  const b = boxOf(w.line)
  const near = { x0: b.x0 - reach, y0: b.y0 - reach, x1: b.x1 + reach, y1: b.y1 + reach }
  const found = rooms.filter((r) => boxesMeet(r.box, near)).flatMap((r) => edgesAt(w, r.room))
  const stops = [...new Set([0, distance(...w.line), ...found.flatMap((e) => [e.from, e.to])])].sort((p, q) => p - q)
  const pairs: [Room | null, Room | null][] = []
  stops.slice(1).forEach((to, i) => {
    const from = stops[i] as number
    if (to - from < least) return
    const pair: [Room | null, Room | null] = [nearest(found, 0, from, to), nearest(found, 1, from, to)]
    if (pair[0] || pair[1]) pairs.push(pair)
  })
  return pairs
}

function edgesAt(w: Wall, room: Room): Edge[] {
  const l = distance(...w.line)
  const n = left(direction(...w.line))
  return edges(room.outline).flatMap(([p, q]): Edge[] => {
    const [a, b] = [local(w.line, p), local(w.line, q)]
    const [from, to] = [Math.max(Math.min(a.u, b.u), 0), Math.min(Math.max(a.u, b.u), l)]
    if (to - from < least || Math.abs(a.v - b.v) > askew * Math.abs(a.u - b.u)) return []
    const v = (a.v + b.v) / 2
    const probe: Point = add(along(w.line, (from + to) / 2), scale(n, v + least / 10))
    const side = inside(room.outline, probe) ? 0 : 1
    const off = side === 0 ? v : -v
    return off >= -overlap && off <= reach ? [{ from, to, room, side, off: Math.abs(v) }] : []
  })
}

function nearest(all: readonly Edge[], side: 0 | 1, from: number, to: number): Room | null {
  let best: Edge | null = null
  for (const e of all) if (e.side === side && e.from <= from && e.to >= to && (!best || e.off < best.off)) best = e
  return best?.room ?? null
}
