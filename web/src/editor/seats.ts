// Where a room's name is written: inside the room and off its walls, level where it
// can be, else turned; smaller where the room is narrow. What does not fit anywhere is
// left out until the view is nearer.

import type { Room } from '../core/plan.ts'
import { edges } from '../geometry/body.ts'
import type { Point, Segment } from '../geometry/vec.ts'
import { boxOf, boxesMeet, inside, middleInside } from '../geometry/vec.ts'
import type { Scene, SceneWall } from './scene.ts'

export interface Seat {
  lines: readonly string[]
  p: Point // middle of the text
  turned: boolean // read from the right
  size: number // of the letters at scale 1: mm of the plan
}

export const lineHeight = 1.3 // over the size of the letters
const air = 0.5 // round the text, over the size of the letters

// The largest letters that each way to write a name can have in a room. Widths are
// over the size of the letters.
export function seats(outline: readonly Point[], obstacles: readonly Segment[], ways: readonly (readonly string[])[], width: (text: string) => number): Seat[] {
  const places = inner(outline)
  return ways.flatMap((lines) =>
    [false, true].map((turned): Seat => {
      const [long, high] = [Math.max(...lines.map(width)) + air, lines.length * lineHeight + air]
      return best(places, obstacles, turned ? [high, long] : [long, high], { lines, turned })
    }),
  )
}

// The first seat at which letters have their full size; else the one that lets them
// be largest, if that is large enough to read.
export function seatAt(all: readonly Seat[], scale: number, full: number, least: number): Seat | null {
  const level = all.find((s) => !s.turned && s.size * scale >= full)
  const found = level ?? all.find((s) => s.size * scale >= full) ?? all.reduce<Seat | null>((a, b) => (!a || b.size > a.size * 1.1 ? b : a), null)
  return found && found.size * scale >= least ? found : null
}

function best(places: readonly Point[], obstacles: readonly Segment[], [w, h]: Point, way: Pick<Seat, 'lines' | 'turned'>): Seat {
  let seat: Seat = { ...way, p: places[0] ?? [0, 0], size: 0 }
  for (const p of places) {
    let size = Infinity
    for (const s of obstacles) {
      size = Math.min(size, reach(s, p, w / 2, h / 2))
      if (size <= seat.size) break
    }
    // Much larger letters only are worth a place off the middle.
    if (size > seat.size * (seat.size === 0 ? 1 : 1.15)) seat = { ...seat, p, size }
  }
  return seat
}

// How many times a rectangle of these half sides about p can be enlarged before it
// meets a segment.
function reach([a, b]: Segment, p: Point, w: number, h: number): number {
  const [x, y] = [(a[0] - p[0]) / w, (a[1] - p[1]) / h]
  const [dx, dy] = [(b[0] - p[0]) / w - x, (b[1] - p[1]) / h - y]
  // The larger of two distances is least at an end, where one is nought, or where
  // the two are the same.
  let least = Math.min(Math.max(Math.abs(x), Math.abs(y)), Math.max(Math.abs(x + dx), Math.abs(y + dy)))
  for (const [over, under] of [[-x, dx], [-y, dy], [y - x, dx - dy], [-x - y, dx + dy]] as const) {
    const t = over / under
    if (t > 0 && t < 1) least = Math.min(least, Math.max(Math.abs(x + dx * t), Math.abs(y + dy * t)))
  }
  return least
}

// Places inside an outline, the middle first.
function inner(outline: readonly Point[]): Point[] {
  const b = boxOf(outline)
  const [cx, cy] = [(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2]
  const grid: Point[] = []
  const n = 7
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) grid.push([b.x0 + ((b.x1 - b.x0) * (i + 0.5)) / n, b.y0 + ((b.y1 - b.y0) * (j + 0.5)) / n])
  grid.sort((p, q) => Math.hypot(p[0] - cx, p[1] - cy) - Math.hypot(q[0] - cx, q[1] - cy))
  return [...grid, middleInside(outline)].filter((p) => inside(outline, p))
}

// The seats in a room of a scene, kept while the room, the walls about it and what is
// written stay as they are.
const kept = new WeakMap<Room, { walls: readonly SceneWall[]; text: string; seats: Seat[] }>()

export function seatsIn(scene: Scene, room: Scene['rooms'][number], ways: readonly (readonly string[])[], width: (text: string) => number): Seat[] {
  const walls = near(scene, room)
  const text = ways.flat().join('\n')
  const had = kept.get(room.room)
  if (had && had.text === text && had.walls.length === walls.length && had.walls.every((w, i) => w === walls[i])) return had.seats
  const structure = scene.structure.filter((s) => boxesMeet(s.box, room.box)).map((s) => s.outline)
  const obstacles = [room.room.outline, ...walls.map((w) => w.outline), ...structure].flatMap(edges)
  const made = seats(room.room.outline, obstacles, ways, width)
  kept.set(room.room, { walls, text, seats: made })
  return made
}

// The walls of a scene by cells of the plan, so that those near a room are found
// without asking all.
const cell = 4000
const indexes = new WeakMap<Scene, Map<string, SceneWall[]>>()

function near(scene: Scene, { box }: { box: SceneWall['box'] }): SceneWall[] {
  let index = indexes.get(scene)
  if (!index) {
    index = new Map()
    for (const w of scene.walls) {
      for (const k of cells(w.box)) {
        const list = index.get(k)
        if (list) list.push(w)
        else index.set(k, [w])
      }
    }
    indexes.set(scene, index)
  }
  const found = new Set<SceneWall>()
  for (const k of cells(box)) for (const w of index.get(k) ?? []) if (boxesMeet(w.box, box)) found.add(w)
  return [...found]
}

function cells(b: SceneWall['box']): string[] {
  const keys: string[] = []
  for (let i = Math.floor(b.x0 / cell); i <= Math.floor(b.x1 / cell); i++) for (let j = Math.floor(b.y0 / cell); j <= Math.floor(b.y1 / cell); j++) keys.push(`${i},${j}`)
  return keys
}
