// What a press on the drawing and the keys do, by the tool in hand.

import { panned, zoomed } from '../../editor/camera.ts'
import type { Point, Segment } from '../../geometry/vec.ts'
import { boxOf, distance, distanceTo, inBox, inside, local } from '../../geometry/vec.ts'
import { notice } from '../../state.ts'
import { t } from '../../show.ts'
import type { Item } from './items.ts'
import { addDoor, addWall, shapes, stand } from './items.ts'
import { between, drawnOut } from './lines.ts'
import { act, byKey, camera, firstLine, fit, items, picked, reading, redo, show, size, tool, undo } from './session.ts'

export const doorWidth = 885 // of an opening for a door leaf of 860 mm, common practice

export function press(p: Point, reach: number): void {
  if (tool.value === 'lines') return pressLine(p, reach)
  const at = itemAt(p, reach)
  if (tool.value === 'door') return markDoor(at, p)
  picked.value = at?.key ?? null
}

// The smallest thing under a place: openings before their walls, walls before rooms.
export function itemAt(p: Point, reach: number): Item | undefined {
  const order = ['opening', 'column', 'wall', 'structure', 'room']
  const hit = items.value.filter((i) => shapes(i, byKey.value.get(i.host ?? '')).some((b) => near(b, p, i.kind === 'room' ? 0 : reach)))
  return hit.sort((a, b) => order.indexOf(a.kind) - order.indexOf(b.kind))[0]
}

function near(b: Point[], p: Point, reach: number): boolean {
  const box = boxOf(b)
  if (!inBox({ x0: box.x0 - reach, y0: box.y0 - reach, x1: box.x1 + reach, y1: box.y1 + reach }, p)) return false
  return inside(b, p) || b.some((q, i) => distanceTo([q, b[(i + 1) % b.length] as Point], p) <= reach)
}

const say = (key: string) => (notice.value = { text: t(key), kind: 'info' })

function markDoor(at: Item | undefined, p: Point): void {
  const host = at?.host ? byKey.value.get(at.host) : at
  if (!host || host.kind !== 'wall' || host.line?.length !== 2) return void say('drawing.why.nowall')
  const made = addDoor(items.value, host, local([host.line[0] as Point, host.line[1] as Point], p).u, doorWidth)
  if (!made) return void say('drawing.why.short')
  act(made.items)
  picked.value = made.key
}

function pressLine(p: Point, reach: number): void {
  const s = lineAt(p, reach)
  if (!s) return
  if (!firstLine.value) firstLine.value = s
  else {
    join(firstLine.value, s)
    firstLine.value = null
  }
}

// Makes a wall of two lines.
export function join(a: Segment, b: Segment): boolean {
  const w = between(a, b)
  if ('why' in w) {
    say(w.why)
    return false
  }
  const made = addWall(items.value, drawnOut(w.line, w.thickness, items.value), w.thickness)
  act(made.items)
  show(made.key)
  return true
}

function lineAt(p: Point, reach: number): Segment | null {
  let best: Segment | null = null
  let least = reach
  for (const { lines } of reading.value?.picture.layers ?? []) {
    for (let i = 0; i + 3 < lines.length; i += 4) {
      const [x0, y0, x1, y1] = [lines[i], lines[i + 1], lines[i + 2], lines[i + 3]] as [number, number, number, number]
      if (Math.min(x0, x1) > p[0] + least || Math.max(x0, x1) < p[0] - least || Math.min(y0, y1) > p[1] + least || Math.max(y0, y1) < p[1] - least) continue
      const s: Segment = [[x0, y0], [x1, y1]]
      const d = distance(s[0], s[1]) < 1 ? Infinity : distanceTo(s, p)
      if (d < least) [best, least] = [s, d]
    }
  }
  return best
}

const arrows: Record<string, [number, number]> = { ArrowLeft: [60, 0], ArrowRight: [-60, 0], ArrowUp: [0, 60], ArrowDown: [0, -60] }

// Keys on the drawing; those for what is picked serve in the list, too.
export function key(e: KeyboardEvent): boolean {
  if (itemKey(e)) return true
  const arrow = arrows[e.key]
  const middle: Point = [size.value.width / 2, size.value.height / 2]
  if (arrow) camera.value = panned(camera.value, ...arrow)
  else if (e.key === '+' || e.key === '=') camera.value = zoomed(camera.value, size.value, middle, 1.4)
  else if (e.key === '-') camera.value = zoomed(camera.value, size.value, middle, 1 / 1.4)
  else if (e.key === 'f' || e.key === 'F') fit()
  else if (e.key === 'Escape') {
    tool.value = 'pick'
    firstLine.value = null
    picked.value = null
  } else return false
  return true
}

export function itemKey(e: KeyboardEvent): boolean {
  const letter = e.key.toLowerCase()
  if (e.ctrlKey || e.metaKey) {
    if (letter === 'z' && !e.shiftKey) undo()
    else if (letter === 'y' || letter === 'z') redo()
    else return false
    return true
  }
  if (picked.value === null) return false
  if (letter === 'a') decide('taken')
  else if (letter === 'x' || e.key === 'Delete') decide('refused')
  else return false
  return true
}

// Decides on what is picked; the same again takes the decision back.
export function decide(standing: 'taken' | 'refused'): void {
  const i = picked.value === null ? undefined : byKey.value.get(picked.value)
  if (i) act(stand(items.value, new Set([i.key]), i.standing === standing ? 'open' : standing))
}
