// Edits as a person makes them, as changes to the plan. Pure: plan and wish in,
// edit out; an edit without changes means that there is nothing to do.

import type { BuildUp, Change, Demands, Edit, Level, Opening, Plan, Room, Structure, Wall } from '../core/plan.ts'
import { nextMark, roomPrefix, structurePrefix, taken, wallPrefix } from '../core/marks.ts'
import type { Line } from '../geometry/arc.ts'
import { leastRise } from '../geometry/arc.ts'
import type { Point, Segment } from '../geometry/vec.ts'
import { rounded } from '../geometry/vec.ts'
import { bent, clean, joined, mirrored, moved, movedJoined, relined, reversed, split, turnedWall } from '../geometry/walls.ts'

type Say = (key: string, values?: Record<string, string | number>) => string

export interface Made extends Edit {
  select?: string[] // walls to select afterwards
}

export const putWall = (w: Wall): Change => ({ kind: 'walls', id: w.id, value: w })
const remove = (kind: string, id: string): Change => ({ kind, id, value: null })

const named = (say: Say, key: string, walls: readonly { id: string }[]) => say(key, { n: walls.length, id: walls[0]?.id ?? '' })

export const wallsOf = (plan: Plan, ids: readonly string[]): Wall[] => {
  const wanted = new Set(ids)
  return plan.walls.filter((w) => wanted.has(w.id))
}

export function addWall(plan: Plan, say: Say, level: string, { line, via }: Line, like: Partial<Wall>): Made {
  const id = nextMark(taken(plan), wallPrefix(level))
  const wall = clean<Wall>({ ...like, id, level, line: [rounded(line[0]), rounded(line[1])], via: via && rounded(via) })
  return { label: say('edit.wall.add', { id }), changes: [putWall(wall)], select: [id] }
}

export function changeWalls(plan: Plan, say: Say, ids: readonly string[], change: (w: Wall) => Wall): Made {
  const walls = wallsOf(plan, ids)
  const changes = walls.flatMap((w) => {
    const next = change(w)
    return JSON.stringify(next) === JSON.stringify(w) ? [] : [putWall(clean<Wall>(next))]
  })
  return { label: named(say, 'edit.wall.change', walls), changes }
}

// Demands given replace those of the walls; an empty text takes one away.
export function demand(plan: Plan, say: Say, ids: readonly string[], wanted: Demands): Made {
  const made = changeWalls(plan, say, ids, (w) => ({ ...w, require: merged(w.require, wanted) }) as Wall)
  return { ...made, label: named(say, 'edit.demand', wallsOf(plan, ids)) }
}

export function merged(had: Demands | undefined, wanted: Demands): Demands | undefined {
  const all = { ...had, ...wanted } as Record<string, string | number | undefined>
  const kept = Object.fromEntries(Object.entries(all).filter(([, v]) => v !== '' && v !== undefined && v !== 0))
  return Object.keys(kept).length > 0 ? kept : undefined
}

export function moveWalls(plan: Plan, say: Say, ids: readonly string[], by: Point, alone: boolean): Made {
  const walls = wallsOf(plan, ids)
  const next = alone ? walls.map((w) => moved(w, by)) : movedJoined(plan.walls, new Set(ids), by)
  return { label: named(say, 'edit.wall.move', walls), changes: by[0] === 0 && by[1] === 0 ? [] : next.map(putWall) }
}

export function moveEnd(plan: Plan, say: Say, id: string, end: 0 | 1, to: Point): Made {
  return changeWalls(plan, say, [id], (w) => {
    const line: [Point, Point] = end === 0 ? [to, w.line[1]] : [w.line[0], to]
    return relined(w, line)
  })
}

// Bends walls to a rise, positive towards face A; 0 makes them straight.
export function bendWalls(plan: Plan, say: Say, ids: readonly string[], rise: number): Made {
  const made = changeWalls(plan, say, ids, (w) => bent(w, rise))
  return { ...made, label: named(say, Math.abs(rise) < leastRise ? 'edit.wall.straight' : 'edit.wall.bend', wallsOf(plan, ids)) }
}

export function turnWalls(plan: Plan, say: Say, ids: readonly string[], about: Point, degrees: number): Made {
  const walls = wallsOf(plan, ids)
  return { label: named(say, 'edit.wall.turn', walls), changes: walls.map((w) => putWall(turnedWall(w, about, degrees))) }
}

export function reverseWalls(plan: Plan, say: Say, ids: readonly string[]): Made {
  const walls = wallsOf(plan, ids)
  return { label: named(say, 'edit.wall.reverse', walls), changes: walls.map((w) => putWall(reversed(w))) }
}

export function splitWall(plan: Plan, say: Say, id: string, u: number): Made {
  const wall = plan.walls.find((w) => w.id === id)
  const mark = nextMark(taken(plan), wallPrefix(wall?.level ?? ''))
  const parts = wall && split(wall, u, mark)
  return { label: say('edit.wall.split', { id }), changes: parts ? parts.map(putWall) : [], select: parts ? parts.map((w) => w.id) : [] }
}

export function joinWalls(plan: Plan, say: Say, a: string, b: string): Made | { why: string } {
  const [one, two] = [a, b].map((id) => plan.walls.find((w) => w.id === id))
  if (!one || !two) return { why: 'plan.join.apart' }
  const whole = joined(one, two)
  if ('why' in whole) return whole
  return { label: say('edit.wall.join', { id: a, other: b }), changes: [putWall(whole), remove('walls', b)], select: [a] }
}

export function copyWalls(plan: Plan, say: Say, ids: readonly string[], level: string, place: (w: Wall) => Wall): Made {
  const used = taken(plan)
  const copies = wallsOf(plan, ids).map((w) => copied({ ...place(w), level }, nextMark(used, wallPrefix(level))))
  return { label: named(say, 'edit.wall.copy', copies), changes: copies.map(putWall), select: copies.map((w) => w.id) }
}

// Openings keep no marks of their own in a copy: marks are unique in the plan.
function copied(w: Wall, id: string): Wall {
  const openings = w.openings?.map(({ id: _, ...o }) => o)
  return clean<Wall>({ ...w, id, openings })
}

export const mirrorWalls = (plan: Plan, say: Say, ids: readonly string[], axis: Segment, keep: boolean): Made => {
  if (keep) return copyWalls(plan, say, ids, wallsOf(plan, ids)[0]?.level ?? '', (w) => mirrored(w, axis))
  const walls = wallsOf(plan, ids)
  return { label: named(say, 'edit.wall.mirror', walls), changes: walls.map((w) => putWall(mirrored(w, axis))) }
}

export function removeWalls(plan: Plan, say: Say, ids: readonly string[]): Made {
  const walls = wallsOf(plan, ids)
  const gone = new Set(ids)
  const junctions = (plan.junctions ?? []).filter((j) => j.walls.some((w) => gone.has(w)))
  const changes = [...junctions.map((j) => remove('junctions', [...j.walls].sort().join('+'))), ...walls.map((w) => remove('walls', w.id))]
  return { label: named(say, 'edit.wall.remove', walls), changes, select: [] }
}

export function renameWall(plan: Plan, say: Say, id: string, to: string): Made {
  const at = plan.walls.findIndex((w) => w.id === id)
  const wall = plan.walls[at]
  if (!wall || to === '' || taken(plan).has(to)) return { label: '', changes: [] }
  return { label: say('edit.wall.rename', { id, to }), changes: [remove('walls', id), { kind: 'walls', id: to, at, value: { ...wall, id: to } }], select: [to] }
}

// Openings of a wall are part of it: each edit puts the wall anew.
export function withOpenings(plan: Plan, say: Say, key: string, id: string, change: (all: Opening[]) => Opening[]): Made {
  const wall = plan.walls.find((w) => w.id === id)
  if (!wall) return { label: '', changes: [] }
  const openings = change(wall.openings ?? []).map((o) => clean<Opening>(o))
  return { label: say(key, { id }), changes: [putWall(clean<Wall>({ ...wall, openings }))] }
}

export function addStructure(plan: Plan, say: Say, level: string, what: Omit<Structure, 'id' | 'level'>): Made {
  const id = nextMark(taken(plan), structurePrefix(level))
  return { label: say('edit.structure.add', { id }), changes: [{ kind: 'structure', id, value: { id, level, ...what } }] }
}

export function addRooms(plan: Plan, say: Say, level: string, outlines: readonly Point[][], about: Partial<Room> = {}): Made {
  const used = taken(plan)
  const rooms = outlines.map((outline) => clean<Room>({ name: '', ...about, id: nextMark(used, roomPrefix(level)), level, outline }))
  return { label: say('edit.room.add', { n: rooms.length, id: rooms[0]?.id ?? '' }), changes: rooms.map((r) => ({ kind: 'rooms', id: r.id, value: r })) }
}

export function put(say: Say, key: string, kind: 'rooms' | 'structure' | 'levels' | 'buildups', o: Room | Structure | Level | BuildUp): Made {
  return { label: say(key, { id: o.id }), changes: [{ kind, id: o.id, value: clean<object>(o) }] }
}

export const drop = (say: Say, key: string, kind: string, id: string): Made => ({ label: say(key, { id }), changes: [remove(kind, id)] })

// A level goes with all that stands on it.
export function removeLevel(plan: Plan, say: Say, id: string): Made {
  const on = (kind: string, list: readonly { id: string; level: string }[] = []) => list.filter((o) => o.level === id).map((o) => remove(kind, o.id))
  const walls = plan.walls.filter((w) => w.level === id).map((w) => w.id)
  const gone = removeWalls(plan, say, walls).changes
  return { label: say('edit.level.remove', { id }), changes: [...gone, ...on('rooms', plan.rooms), ...on('structure', plan.structure), remove('levels', id)] }
}

export function addLevel(plan: Plan, say: Say): Made {
  const id = nextLevelMark(plan)
  const top = [...plan.levels].sort((a, b) => (b.elevation ?? 0) - (a.elevation ?? 0))[0]
  const height = top?.clear_height ?? 2750
  const level = clean<Level>({ ...top, id, name: undefined, clear_height: height, elevation: top ? (top.elevation ?? 0) + height + 300 : 0 })
  return { label: say('edit.level.add', { id }), changes: [{ kind: 'levels', id, value: level }] }
}

function nextLevelMark(plan: Plan): string {
  const used = taken(plan)
  for (let n = plan.levels.length; ; n++) if (!used.has(`L${n}`)) return `L${n}`
}
