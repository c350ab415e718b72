// What a press, Enter or arrow key does with the tool in hand. The same for
// mouse, touch and keyboard.

import { signal } from '@preact/signals'
import type { Point } from '../geometry/vec.ts'
import { distance, rounded } from '../geometry/vec.ts'
import { unnamedRooms } from '../geometry/rooms.ts'
import { inside } from '../geometry/vec.ts'
import { wallLength } from '../geometry/body.ts'
import { t } from '../show.ts'
import { units } from '../preferences.ts'
import { notice, plan, selection } from '../state.ts'
import { addRooms, addStructure, addWall, demand, withOpenings } from './commands.ts'
import type { DrawEvent } from './draw.ts'
import { added, draw, target } from './draw.ts'
import { openingAt } from './pointer.ts'
import { parseLength } from '../core/units.ts'
import { brush, choosePicked, drawing, lastSnap, level, openingLike, penFrom, run, say, scene, snapped, structureLike, tool, wallLike } from './session.ts'
import { calibrate } from './underlay.ts'

// Rooms enclosed by walls that have no name yet, while the room tool is in hand.
export const foundRooms = signal<Point[][]>([])

export function findRoomsNow(): void {
  const p = plan.value
  foundRooms.value = p && tool.value === 'room' ? unnamedRooms(p, level.value) : []
}

export function pressWith(p: Point, touch: boolean): void {
  if (tool.value === 'wall' || tool.value === 'structure') {
    const s = snapped(p, penFrom())
    drawing.value = { ...drawing.value, pen: rounded(s.point) }
    step({ type: 'place' })
  } else if (tool.value === 'opening') {
    const at = openingAt(p, touch)
    if (at) placeOpening(at.wall, at.at)
    else notice.value = { text: t('plan.opening.nowall'), kind: 'error' }
  } else if (tool.value === 'room') takeRoom(p)
  else if (tool.value === 'underlay') calibrate(p)
}

// One step of drawing; makes what comes out of it.
export function step(e: DrawEvent): void {
  const before = drawing.value
  if (e.type === 'place' && target(before, units.value) === null) {
    notice.value = { text: t(before.end ? 'plan.bend.unread' : 'plan.typed.unread', { text: before.typed }), kind: 'error' }
    return
  }
  const after = draw(before, e, units.value)
  drawing.value = after
  lastSnap.value = null
  const p = plan.value
  const line = added(before, after)
  if (!p) return
  if (tool.value === 'structure' && structureLike.value.kind === 'column' && after.chain.length > before.chain.length) return placeColumn(after.pen)
  if (!line) return
  if (tool.value === 'wall') run(addWall(p, say, level.value, line, { buildup: p.buildups?.[0]?.id, ...wallLike.value } as object))
  else if (tool.value === 'structure') {
    const { kind, material, thickness } = structureLike.value
    run(addStructure(p, say, level.value, { kind, material, thickness, line: [...line.line] }))
  }
  // A chain that comes back to where it began is done.
  const first = after.chain[0]
  if (first && after.chain.length > 2 && distance(first, after.pen) < 1) drawing.value = { ...after, chain: [] }
}

function placeColumn([x, y]: Point): void {
  const p = plan.value
  const { material, width: w, depth: d } = structureLike.value
  drawing.value = { ...drawing.value, chain: [] }
  const outline: Point[] = [[x - w / 2, y - d / 2], [x + w / 2, y - d / 2], [x + w / 2, y + d / 2], [x - w / 2, y + d / 2]]
  if (p) run(addStructure(p, say, level.value, { kind: 'column', material, outline: outline.map(rounded) }))
}

export function placeOpening(wall: string, at: number): void {
  const p = plan.value
  const index = p?.walls.find((w) => w.id === wall)?.openings?.length ?? 0
  if (p && run(withOpenings(p, say, 'edit.opening.add', wall, (all) => [...all, { ...openingLike.value, at }]))) choosePicked({ kind: 'opening', wall, index })
}

// By keyboard: the typed distance from the start of the wall selected.
export function placeTypedOpening(): void {
  const id = selection.value[0]
  const wall = id === undefined ? undefined : scene.value.byId.get(id)?.wall
  if (!wall) {
    notice.value = { text: t('plan.opening.pickwall'), kind: 'error' }
    return
  }
  const typed = drawing.value.typed
  const at = typed === '' ? (wallLength(wall) - openingLike.value.width) / 2 : parseLength(typed, units.value)
  drawing.value = { ...drawing.value, typed: '' }
  if (at !== null) placeOpening(wall.id, Math.round(at))
}

export function takeRoom(p: Point): void {
  const now = plan.value
  const outline = foundRooms.value.find((f) => inside(f, p))
  const there = scene.value.rooms.find((r) => inside(r.room.outline, p))
  if (there) choosePicked({ kind: 'room', id: there.room.id })
  else if (outline) takeRooms([outline])
  else if (now) notice.value = { text: t('plan.room.open'), kind: 'error' }
}

export function takeRooms(outlines: readonly Point[][]): void {
  const now = plan.value
  if (!now) return
  const made = addRooms(now, say, level.value, outlines)
  if (run(made) && made.changes.length === 1) choosePicked({ kind: 'room', id: made.changes[0]?.id ?? '' })
  findRoomsNow()
}

export function paintSelected(): void {
  const p = plan.value
  if (p) run(demand(p, say, selection.value, brush.value))
}
