// Drawing a chain of lines: points one after another by pointer, by arrow keys,
// or by typed length and angle. Pure: (state, event) → state; the caller makes
// walls of the segments that come out.

import type { System } from '../core/units.ts'
import { parseAngle, parseLength } from '../core/units.ts'
import type { Point, Segment } from '../geometry/vec.ts'
import { add, atAngle, direction, distance, dot, rounded, scale, sub } from '../geometry/vec.ts'

export interface Draw {
  chain: readonly Point[] // points placed so far
  pen: Point // where the next one would go, as the pointer or arrow keys have it
  typed: string
}

export type DrawEvent =
  | { type: 'pen'; at: Point }
  | { type: 'typed'; text: string }
  | { type: 'place' }
  | { type: 'arrow'; towards: Point; step: number }
  | { type: 'back' }
  | { type: 'stop' }

export const start = (pen: Point): Draw => ({ chain: [], pen, typed: '' })

export function draw(d: Draw, e: DrawEvent, system: System): Draw {
  switch (e.type) {
    case 'pen':
      return { ...d, pen: e.at }
    case 'typed':
      return { ...d, typed: e.text }
    case 'place':
      return place(d, target(d, system))
    case 'arrow':
      return arrow(d, e.towards, e.step, system)
    case 'back':
      return d.typed === '' ? { ...d, chain: d.chain.slice(0, -1) } : { ...d, typed: '' }
    case 'stop':
      return { ...d, chain: [], typed: '' }
  }
}

// The segment that the last event added, if it added one.
export function added(before: Draw, after: Draw): Segment | null {
  if (after.chain.length !== before.chain.length + 1 || after.chain.length < 2) return null
  return [after.chain.at(-2) as Point, after.chain.at(-1) as Point]
}

function place(d: Draw, at: Point | null): Draw {
  const last = d.chain.at(-1)
  if (!at || (last && distance(last, at) < 1)) return d
  return { chain: [...d.chain, rounded(at)], pen: at, typed: '' }
}

// With a length typed, an arrow key draws so far that way; else it moves the pen.
function arrow(d: Draw, towards: Point, step: number, system: System): Draw {
  const last = d.chain.at(-1)
  const typed = d.typed === '' ? null : parseLength(d.typed, system)
  if (typed !== null && last) return place(d, add(last, scale(towards, typed)))
  if (typed !== null) return { ...d, pen: add(d.pen, scale(towards, typed)), typed: '' }
  const onGrid = (x: number) => Math.round(x / step) * step
  const to = add(d.pen, scale(towards, step))
  return { ...d, pen: towards[0] === 0 ? [to[0], onGrid(to[1])] : [onGrid(to[0]), to[1]] }
}

// Where a point would be placed: at the pen, or where what is typed says:
// a length ("2500"), a length and an angle ("2500<90"), an angle ("<90"), or for
// coordinates x;y. Null where what is typed cannot be read.
export function target(d: Draw, system: System): Point | null {
  const text = d.typed.trim()
  if (text === '') return d.pen
  if (text.includes(';')) return coordinates(text, system)
  const last = d.chain.at(-1)
  if (!last) return null
  const [before = '', after] = text.split('<')
  const length = before.trim() === '' ? null : parseLength(before, system)
  const angle = after === undefined ? null : parseAngle(after)
  if ((before.trim() !== '' && length === null) || (after !== undefined && angle === null)) return null
  const way = angle === null ? direction(last, d.pen) : atAngle(angle)
  const l = length ?? Math.max(0, dot(sub(d.pen, last), way))
  return add(last, scale(way, l))
}

function coordinates(text: string, system: System): Point | null {
  const [x, y] = text.split(';').map((t) => parseLength(t, system))
  return x === null || y === null || x === undefined || y === undefined ? null : [x, y]
}
