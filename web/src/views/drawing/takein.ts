// What was accepted of a drawing, as a plan of its own or as changes of a plan.

import type { Change, Level, Opening, Plan, Point, Room, Structure, Wall } from '../../core/plan.ts'
import { nextMark, roomPrefix, structurePrefix, taken, wallPrefix } from '../../core/marks.ts'
import type { Item } from './items.ts'
import { asWall } from './items.ts'

export interface Objects {
  walls: Wall[]
  structure: Structure[]
  rooms: Room[]
}

// The accepted items as objects of a level, with marks that are not used yet.
export function objectsOf(items: readonly Item[], level: string, used: Set<string>): Objects {
  const out: Objects = { walls: [], structure: [], rooms: [] }
  const inPlan = items.filter((i) => i.standing === 'taken').sort((a, b) => a.name.localeCompare(b.name, 'en', { numeric: true }))
  for (const i of inPlan) {
    if (i.kind === 'wall') {
      const openings = openingsOf(inPlan, i)
      out.walls.push({ ...asWall(i), id: nextMark(used, wallPrefix(level)), level, ...(openings.length > 0 ? { openings } : {}) })
    } else if (i.kind === 'structure' && i.line) {
      out.structure.push({ id: nextMark(used, structurePrefix(level)), level, kind: 'wall', line: [...i.line] as Point[], thickness: i.thickness ?? 0 })
    } else if (i.kind === 'column' && i.outline) {
      out.structure.push({ id: nextMark(used, structurePrefix(level)), level, kind: 'column', outline: i.outline })
    } else if (i.kind === 'room' && i.outline) {
      out.rooms.push({ id: nextMark(used, roomPrefix(level)), level, outline: i.outline, ...(i.words ? { name: i.words } : {}), ...(i.signs.includes('enclosed') ? { found: true } : {}) })
    }
  }
  return out
}

const openingsOf = (items: readonly Item[], host: Item): Opening[] =>
  items.flatMap((i) => (i.host === host.key && i.opening ? [i.opening] : [])).sort((a, b) => a.at - b.at)

export function planOf(items: readonly Item[], about: { name: string; practice: string; level: Level }): Plan {
  const o = objectsOf(items, about.level.id, new Set([about.level.id]))
  return { nogging: 1, project: { name: about.name }, practice: about.practice, levels: [about.level], ...o }
}

export function changesOf(items: readonly Item[], plan: Plan, level: Level): Change[] {
  const used = taken(plan).add(level.id)
  const o = objectsOf(items, level.id, used)
  const changes: Change[] = plan.levels.some((l) => l.id === level.id) ? [] : [{ kind: 'levels', id: level.id, value: level }]
  for (const kind of ['structure', 'walls', 'rooms'] as const) changes.push(...o[kind].map((x) => ({ kind, id: x.id, value: x })))
  return changes
}

// A mark for one more level, as the plan's other levels have it.
export function nextLevel(plan: Plan): string {
  const used = taken(plan)
  for (let n = plan.levels.length; ; n++) if (!used.has(`L${n}`)) return `L${n}`
}
