// Gathers from the session what the overlay shows.

import { computed } from '@preact/signals'
import { units } from '../preferences.ts'
import { lengthUnit, t } from '../show.ts'
import { plan, selection } from '../state.ts'
import type { Line } from '../geometry/arc.ts'
import { arcOf, riseOf } from '../geometry/arc.ts'
import { openingBody, wallLength } from '../geometry/body.ts'
import type { Point } from '../geometry/vec.ts'
import { bent, moved, relined } from '../geometry/walls.ts'
import { wallsOf } from './commands.ts'
import { upcoming } from './draw.ts'
import type { Overlay } from './overlay.ts'
import type { Gesture } from './pointer.ts'
import { bendHandle, gesture, ghostBody, hovered } from './pointer.ts'
import { estimate } from './scene.ts'
import { drawing, lastSnap, picked, scene, structureLike, tool, wallLike } from './session.ts'
import { foundRooms } from './tools.ts'
import { measure } from './underlay.ts'

export const overlayNow = computed<Overlay>(() => {
  const g = gesture.value
  const drawsPoints = tool.value === 'wall' || tool.value === 'structure' || tool.value === 'underlay'
  return {
    selected: [...outlines(selection.value), ...pickedOutlines()],
    handles: tool.value === 'pick' && selection.value.length <= 20 ? selection.value.flatMap((id) => scene.value.byId.get(id)?.wall.line ?? []) : [],
    hovered: hoveredOutline(),
    painted: g?.kind === 'paint' ? outlines([...g.walls]) : [],
    dragged: dragged(g),
    chain: tool.value === 'underlay' ? measure.value : drawing.value.chain,
    next: nextLine(),
    ghost: tool.value === 'opening' ? ghostBody() : g?.kind === 'opening' ? openingGhost(g) : columnGhost(),
    found: tool.value === 'room' ? foundRooms.value : [],
    box: g?.kind === 'box' ? [g.from, g.to] : null,
    snap: lastSnap.value,
    pen: drawsPoints ? drawing.value.pen : null,
    length: (units.value, lineLength),
    bend: gesture.value ? null : bendHandle(),
    thickness: tool.value === 'wall' ? newThickness() : tool.value === 'structure' ? structureLike.value.thickness : 1,
  }
})

const outlines = (ids: readonly string[]) => ids.flatMap((id) => [scene.value.byId.get(id)?.outline ?? []])

function newThickness(): number {
  const id = wallLike.value.buildup ?? plan.value?.buildups?.[0]?.id
  const known = scene.value.walls.find((w) => w.wall.buildup === id)?.brief?.thickness
  return known || estimate(plan.value?.buildups?.find((b) => b.id === id)) || 100
}

function nextLine(): Line | null {
  const from = measure.value[0]
  if (tool.value === 'underlay') return measure.value.length === 1 && from ? { line: [from, drawing.value.pen] } : null
  return tool.value === 'wall' || tool.value === 'structure' ? upcoming(drawing.value, units.value) : null
}

// A line's length in figures, of a curved one with its radius and rise.
export function lineLength(w: Line): string {
  const arc = arcOf(w)
  const long = lengthUnit(wallLength(w))
  return arc ? t('plan.curve', { length: long, radius: lengthUnit(arc.radius), rise: lengthUnit(Math.abs(riseOf(w))) }) : long
}

function pickedOutlines(): (readonly Point[])[] {
  const p = picked.value
  if (p?.kind === 'structure') return scene.value.structure.filter((s) => s.structure.id === p.id).map((s) => s.outline)
  if (p?.kind === 'room') return scene.value.rooms.filter((r) => r.room.id === p.id).map((r) => r.room.outline)
  if (p?.kind === 'opening') return [scene.value.byId.get(p.wall)?.openings[p.index]?.outline ?? []]
  return []
}

function hoveredOutline(): readonly Point[] | null {
  const h = hovered.value
  if (h?.kind === 'wall') return scene.value.byId.get(h.wall)?.outline ?? null
  if (h?.kind === 'opening') return scene.value.byId.get(h.wall)?.openings[h.index]?.outline ?? null
  return null
}

function dragged(g: Gesture | null): Overlay['dragged'] {
  if (g?.kind === 'move' && plan.value) return wallsOf(plan.value, selection.value).map((w) => ({ wall: moved(w, g.by), thickness: thicknessOf(w.id) }))
  if (g?.kind === 'bend') {
    const w = scene.value.byId.get(g.wall)?.wall
    return w ? [{ wall: bent(w, g.rise), thickness: thicknessOf(g.wall) }] : []
  }
  if (g?.kind !== 'end') return []
  const w = scene.value.byId.get(g.wall)?.wall
  return w ? [{ wall: relined(w, g.end === 0 ? [g.to, w.line[1]] : [w.line[0], g.to]), thickness: thicknessOf(w.id) }] : []
}

const thicknessOf = (id: string) => scene.value.byId.get(id)?.brief?.thickness ?? 100

function openingGhost(g: Extract<Gesture, { kind: 'opening' }>): readonly Point[] | null {
  const w = scene.value.byId.get(g.wall)
  const o = w?.wall.openings?.[g.index]
  return w && o ? openingBody(w.wall, thicknessOf(g.wall), { ...o, at: g.at }) : null
}

function columnGhost(): readonly Point[] | null {
  const s = structureLike.value
  if (tool.value !== 'structure' || s.kind !== 'column') return null
  const [x, y] = drawing.value.pen
  return [[x - s.width / 2, y - s.depth / 2], [x + s.width / 2, y - s.depth / 2], [x + s.width / 2, y + s.depth / 2], [x - s.width / 2, y + s.depth / 2]]
}
