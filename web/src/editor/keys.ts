// The keyboard on the drawing. Single letters choose tools only while the drawing
// has the focus; Ctrl Z and Ctrl Y hold everywhere.

import type { Point } from '../geometry/vec.ts'
import { boxOf } from '../geometry/vec.ts'
import { plan, selection } from '../state.ts'
import { redo, undo } from '../sync.ts'
import { panned, zoomed } from './camera.ts'
import { drop, moveWalls, removeWalls, withOpenings } from './commands.ts'
import { camera, choose, drawing, fit, penStep, picked, run, say, scene, size, tool, use } from './session.ts'
import type { Tool } from './session.ts'
import { paintSelected, placeTypedOpening, step, takeRooms, foundRooms } from './tools.ts'
import { calibrate } from './underlay.ts'

export const letters: Record<string, Tool> = { p: 'pick', w: 'wall', o: 'opening', e: 'structure', r: 'room', d: 'paint', u: 'underlay' }

const arrows: Record<string, Point> = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }

// Handles a key on the drawing; true if it was of use.
export function key(e: KeyboardEvent): boolean {
  if (e.ctrlKey || e.metaKey) return control(e)
  const arrow = arrows[e.key]
  if (arrow) return arrowKey(arrow, e)
  if (typing() && /^[\d.,;'"/<° -]$/.test(e.key)) return type(e.key)
  if (drawing.value.end && e.key === 'r' && drawing.value.typed === '') return type('r')
  if (typing() && e.key === 'm' && drawing.value.typed !== '') return type('m')
  const does = plainKeys[e.key]
  if (does) {
    does()
    return true
  }
  const next = letters[e.key.toLowerCase()]
  if (!next) return false
  use(next)
  return true
}

const typing = () => tool.value === 'wall' || tool.value === 'structure' || tool.value === 'opening'

function type(text: string): boolean {
  if (text === ' ' && drawing.value.typed === '') return false
  step({ type: 'typed', text: drawing.value.typed + text })
  return true
}

const plainKeys: Record<string, () => void> = {
  Enter: enter,
  Escape: escape,
  Backspace: () => (drawing.value.typed !== '' ? step({ type: 'typed', text: drawing.value.typed.slice(0, -1) }) : drawing.value.chain.length > 0 ? step({ type: 'back' }) : removePicked()),
  Delete: removePicked,
  PageDown: () => next(1),
  PageUp: () => next(-1),
  Home: () => fit(),
  f: () => fit(),
  c: curve,
  '+': () => zoom(1.25),
  '=': () => zoom(1.25),
  '-': () => zoom(0.8),
}

function control(e: KeyboardEvent): boolean {
  if (e.key !== 'a') return globalKey(e)
  choose(scene.value.walls.map((w) => w.wall.id))
  return true
}

export function globalKey(e: KeyboardEvent): boolean {
  if (!(e.ctrlKey || e.metaKey)) return false
  const k = e.key.toLowerCase()
  if (k === 'z') void (e.shiftKey ? redo() : undo())
  else if (k === 'y') void redo()
  return k === 'z' || k === 'y'
}

function enter(): void {
  if (tool.value === 'wall' || tool.value === 'structure') step({ type: 'place' })
  else if (tool.value === 'opening') placeTypedOpening()
  else if (tool.value === 'room') takeRooms(foundRooms.value)
  else if (tool.value === 'paint') paintSelected()
  else if (tool.value === 'underlay') calibrate(drawing.value.pen)
}

// Draws curved walls, or straight ones again.
function curve(): void {
  const on = tool.value !== 'wall' || !drawing.value.curved
  if (tool.value !== 'wall') use('wall')
  step({ type: 'curved', on })
}

function escape(): void {
  const d = drawing.value
  if (d.chain.length > 0 || d.typed !== '') step({ type: 'stop' })
  else if (tool.value !== 'pick') use('pick')
  else choose([])
}

// Arrow keys move the pen while drawing, else what is selected, else the view.
function arrowKey(towards: Point, e: KeyboardEvent): boolean {
  const far = penStep.value * (e.shiftKey ? 10 : 1)
  const p = plan.value
  if (tool.value === 'wall' || tool.value === 'structure' || tool.value === 'underlay') {
    step({ type: 'arrow', towards, step: far })
    follow()
  } else if (selection.value.length > 0 && !picked.value && p) run(moveWalls(p, say, selection.value, [towards[0] * far, towards[1] * far], e.altKey))
  else camera.value = panned(camera.value, -towards[0] * 60, towards[1] * 60)
  return true
}

// Keeps the pen in view.
function follow(): void {
  const { at, scale } = camera.value
  const [dx, dy] = [drawing.value.pen[0] - at[0], drawing.value.pen[1] - at[1]]
  const [w, h] = [(size.value.width / 2 - 40) / scale, (size.value.height / 2 - 40) / scale]
  if (Math.abs(dx) > w || Math.abs(dy) > h) camera.value = { scale, at: drawing.value.pen }
}

function next(by: number): void {
  const all = scene.value.walls
  if (all.length === 0) return
  const now = all.findIndex((w) => w.wall.id === selection.value[0])
  const to = all[(now + by + all.length) % all.length] ?? all[0]
  if (!to) return
  choose([to.wall.id])
  const b = boxOf(to.outline)
  const [cx, cy] = [(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2]
  const { at, scale } = camera.value
  const out = Math.abs(cx - at[0]) * scale > size.value.width / 2 || Math.abs(cy - at[1]) * scale > size.value.height / 2
  if (out) camera.value = { scale, at: [cx, cy] }
}

const zoom = (factor: number) => (camera.value = zoomed(camera.value, size.value, [size.value.width / 2, size.value.height / 2], factor))

export function removePicked(): void {
  const p = plan.value
  const it = picked.value
  if (!p) return
  if (it?.kind === 'opening') run(withOpenings(p, say, 'edit.opening.remove', it.wall, (all) => all.filter((_, i) => i !== it.index)))
  else if (it?.kind === 'structure') run(drop(say, 'edit.structure.remove', 'structure', it.id))
  else if (it?.kind === 'room') run(drop(say, 'edit.room.remove', 'rooms', it.id))
  else if (selection.value.length > 0) run(removeWalls(p, say, selection.value))
  picked.value = null
}
