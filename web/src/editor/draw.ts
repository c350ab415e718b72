// Drawing a chain of lines: points one after another by pointer, by arrow keys,
// or by typed length and angle. A curved line takes a third point after its end, or
// a typed rise or radius. Pure: (state, event) → state; the caller makes walls of
// the lines that come out.

import type { System } from '../core/units.ts'
import { parseAngle, parseLength } from '../core/units.ts'
import type { Line } from '../geometry/arc.ts'
import { bentTo, leastRise, riseFor } from '../geometry/arc.ts'
import type { Point } from '../geometry/vec.ts'
import { add, atAngle, direction, distance, dot, left, local, rounded, scale, sub } from '../geometry/vec.ts'

export interface Draw {
  chain: readonly Point[] // points placed so far
  pen: Point // where the next one would go, as the pointer or arrow keys have it
  typed: string
  curved: boolean // each line gets a third point
  end: Point | null // of the curved line whose third point is still to come
  via: Point | null // third point of the line placed last
}

export type DrawEvent =
  | { type: 'pen'; at: Point }
  | { type: 'typed'; text: string }
  | { type: 'place' }
  | { type: 'arrow'; towards: Point; step: number }
  | { type: 'curved'; on: boolean }
  | { type: 'back' }
  | { type: 'stop' }

export const start = (pen: Point): Draw => ({ chain: [], pen, typed: '', curved: false, end: null, via: null })

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
    case 'curved':
      return { ...d, curved: e.on, end: null, typed: '' }
    case 'back':
      return d.typed !== '' ? { ...d, typed: '' } : d.end ? { ...d, end: null } : { ...d, chain: d.chain.slice(0, -1) }
    case 'stop':
      return { ...d, chain: [], typed: '', end: null }
  }
}

// The line that the last event added, if it added one.
export function added(before: Draw, after: Draw): Line | null {
  if (after.chain.length !== before.chain.length + 1 || after.chain.length < 2) return null
  const line: Line['line'] = [after.chain.at(-2) as Point, after.chain.at(-1) as Point]
  return after.via ? { line, via: after.via } : { line }
}

// The line that the next press or Enter would add; null where there is none.
export function upcoming(d: Draw, system: System): Line | null {
  const last = d.chain.at(-1)
  const to = target(d, system)
  if (!last || !to) return null
  return d.end ? through([last, d.end], to) : { line: [last, to] }
}

function place(d: Draw, at: Point | null): Draw {
  const last = d.chain.at(-1)
  if (!at || (last && !d.end && distance(last, at) < 1)) return d
  if (d.curved && last && !d.end) return { ...d, end: rounded(at), pen: at, typed: '' }
  const via = last && d.end ? (through([last, d.end], at).via ?? null) : null
  return { ...d, chain: [...d.chain, rounded(d.end ?? at)], pen: d.end ?? at, typed: '', end: null, via }
}

const through = (line: Line['line'], p: Point): Line => (Math.abs(local(line, p).v) < leastRise ? { line } : { line, via: rounded(p) })

// With a length typed, an arrow key draws so far that way; else it moves the pen.
function arrow(d: Draw, towards: Point, step: number, system: System): Draw {
  const last = d.chain.at(-1)
  if (last && d.end && d.typed !== '') {
    const side = Math.sign(dot(towards, left(direction(last, d.end)))) || 1
    return place(d, bend({ ...d, end: d.end }, last, side, system))
  }
  const typed = d.typed === '' ? null : parseLength(d.typed, system)
  if (typed !== null && last) return place(d, add(last, scale(towards, typed)))
  if (typed !== null) return { ...d, pen: add(d.pen, scale(towards, typed)), typed: '' }
  const onGrid = (x: number) => Math.round(x / step) * step
  const to = add(d.pen, scale(towards, step))
  return { ...d, pen: towards[0] === 0 ? [to[0], onGrid(to[1])] : [onGrid(to[0]), to[1]] }
}

// Where a point would be placed: at the pen, or where what is typed says:
// a length ("2500"), a length and an angle ("2500<90"), an angle ("<90"), or for
// coordinates x;y. The third point of a curved line also by its rise or radius.
// Null where what is typed cannot be read, or no arc has such a radius.
export function target(d: Draw, system: System): Point | null {
  const text = d.typed.trim()
  if (text === '') return d.pen
  if (text.includes(';')) return coordinates(text, system)
  const last = d.chain.at(-1)
  if (!last) return null
  if (d.end) return bend({ ...d, end: d.end }, last, local([last, d.end], d.pen).v < 0 ? -1 : 1, system)
  const [before = '', after] = text.split('<')
  const length = before.trim() === '' ? null : parseLength(before, system)
  const angle = after === undefined ? null : parseAngle(after)
  if ((before.trim() !== '' && length === null) || (after !== undefined && angle === null)) return null
  const way = angle === null ? direction(last, d.pen) : atAngle(angle)
  const l = length ?? Math.max(0, dot(sub(d.pen, last), way))
  return add(last, scale(way, l))
}

// The middle of the arc whose rise ("600") or radius ("r 3000") is typed, to the
// left of the line (1) or to its right (-1); a sign turns it over.
function bend(d: Draw & { end: Point }, last: Point, side: number, system: System): Point | null {
  const text = d.typed.trim()
  const line: Line['line'] = [last, d.end]
  const typed = parseLength(text.replace(/^r/, ''), system)
  if (typed === null) return null
  const round = Math.abs(local(line, d.pen).v) > distance(...line) / 2
  const rise = text.startsWith('r') ? riseFor(distance(...line), Math.abs(typed), round) : Math.abs(typed)
  return rise === null || rise < leastRise ? null : (bentTo(line, rise * side * (typed < 0 ? -1 : 1)).via ?? null)
}

function coordinates(text: string, system: System): Point | null {
  const [x, y] = text.split(';').map((t) => parseLength(t, system))
  return x === null || y === null || x === undefined || y === undefined ? null : [x, y]
}
