// What stands on a level, with bodies, as the painter and the picking need it.
// Built anew after each edit; bodies of walls come from the server where it has
// answered for that very wall, else from the wall's line.

import type { WallBrief } from '../api.ts'
import type { BuildUp, Plan, Room, Structure, Wall } from '../core/plan.ts'
import { body, openingBody, structureBody } from '../geometry/body.ts'
import type { Box, Point } from '../geometry/vec.ts'
import { boxOf } from '../geometry/vec.ts'

export interface SceneWall {
  wall: Wall
  brief: WallBrief | null // null while the server works it out
  outline: readonly Point[]
  openings: { kind: string; outline: readonly Point[] }[]
  box: Box
}

export interface Scene {
  level: string
  walls: SceneWall[]
  byId: ReadonlyMap<string, SceneWall>
  structure: { structure: Structure; outline: readonly Point[]; box: Box }[]
  rooms: { room: Room; box: Box }[]
  box: Box
}

export type BriefOf = (w: Wall) => WallBrief | undefined

// What a wall is thick where nothing says so.
const unknownThickness = 100

export function build(plan: Plan, level: string, briefOf: BriefOf): Scene {
  const thickness = thicknesses(plan, briefOf)
  const walls = plan.walls.filter((w) => w.level === level).map((w) => sceneWall(w, briefOf(w) ?? null, thickness(w)))
  const structure = (plan.structure ?? [])
    .filter((s) => s.level === level)
    .map((s) => ({ structure: s, outline: structureBody(s) }))
    .filter((s) => s.outline.length > 0)
    .map((s) => ({ ...s, box: boxOf(s.outline) }))
  const rooms = (plan.rooms ?? []).filter((r) => r.level === level).map((r) => ({ room: r, box: boxOf(r.outline) }))
  const points = [...walls, ...structure, ...rooms].flatMap(({ box: b }): Point[] => [[b.x0, b.y0], [b.x1, b.y1]])
  const box = points.length > 0 ? boxOf(points) : { x0: 0, y0: 0, x1: 12000, y1: 8000 }
  return { level, walls, byId: new Map(walls.map((w) => [w.wall.id, w])), structure, rooms, box }
}

// An edit leaves most walls as they are; what was built for them is taken again.
const built = new WeakMap<Wall, { thickness: number; made: SceneWall }>()

function sceneWall(w: Wall, brief: WallBrief | null, thickness: number): SceneWall {
  const had = built.get(w)
  if (had && had.made.brief === brief && had.thickness === thickness) return had.made
  const made = newSceneWall(w, brief, thickness)
  built.set(w, { thickness, made })
  return made
}

function newSceneWall(w: Wall, brief: WallBrief | null, thickness: number): SceneWall {
  const outline = brief && brief.outline.length > 2 ? brief.outline : body(w, thickness)
  const openings = (w.openings ?? []).map((o) => ({ kind: o.kind, outline: openingBody(w, thickness, o) }))
  return { wall: w, brief, outline, openings, box: boxOf(outline) }
}

// Walls of one build-up are as thick as the first of them that the server knows.
function thicknesses(plan: Plan, briefOf: BriefOf): (w: Wall) => number {
  const known = new Map<string, number>()
  for (const w of plan.walls) {
    const b = briefOf(w)
    if (b && b.thickness > 0 && w.buildup && !known.has(w.buildup)) known.set(w.buildup, b.thickness)
  }
  const builds = new Map(plan.buildups?.map((b) => [b.id, b]))
  return (w) => briefOf(w)?.thickness || (w.buildup && known.get(w.buildup)) || estimate(builds.get(w.buildup ?? '')) || w.thickness || unknownThickness
}

// Board and stud marks end in their thickness or depth, such as GKB-12.5, CW75.
export function estimate(b: BuildUp | undefined): number {
  if (!b) return 0
  const size = (id: string) => Number(/(\d+(?:\.\d+)?)$/.exec(id)?.[1] ?? 12.5)
  const sum = (ids: readonly string[] = []) => ids.reduce((t, id) => t + size(id), 0)
  const twin = b.frame.kind.startsWith('twin')
  const oneSided = ['lining', 'furring', 'shaft'].includes(b.frame.kind)
  const faceB = oneSided ? 0 : sum(b.face_b ?? b.face_a)
  return size(b.frame.stud) * (twin ? 2 : 1) + (b.frame.gap ?? 0) + sum(b.face_a) + faceB
}
