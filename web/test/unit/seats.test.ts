import assert from 'node:assert/strict'
import { test } from 'node:test'
import fc from 'fast-check'
import type { Seat } from '../../src/editor/seats.ts'
import { lineHeight, seatAt, seats } from '../../src/editor/seats.ts'
import { edges } from '../../src/geometry/body.ts'
import type { Point } from '../../src/geometry/vec.ts'
import { inside } from '../../src/geometry/vec.ts'

const width = (text: string) => text.length * 0.55
const room = (w: number, h: number): Point[] => [[0, 0], [w, 0], [w, h], [0, h]]
const of = (outline: Point[], ways = [['Shower', '2.2 m²'], ['Shower']]) => seats(outline, edges(outline), ways, width)

test('a name stands level in the middle where there is room, and turned in a narrow one', () => {
  const wide = seatAt(of(room(4000, 3000)), 0.05, 12, 9.5)
  assert.deepEqual([wide?.turned, wide?.lines.length, wide?.p], [false, 2, [2000, 1500]])
  const narrow = seatAt(of(room(900, 2400)), 0.05, 12, 9.5)
  assert.deepEqual([narrow?.turned, narrow?.lines.length], [true, 2])
})

test('it is smaller where only that fits, and left out where it could not be read', () => {
  const seat = seatAt(of(room(900, 2400)), 0.025, 12, 9.5)
  assert.ok(seat && seat.turned && seat.size * 0.025 < 16)
  assert.equal(seatAt(of(room(900, 2400)), 0.012, 12, 9.5), null)
})

test('what is written never leaves the room', () => {
  const arm = fc.integer({ min: 600, max: 5000 })
  fc.assert(
    fc.property(arm, arm, arm, arm, (a, b, c, d) => {
      const l: Point[] = [[0, 0], [a + b, 0], [a + b, c], [a, c], [a, c + d], [0, c + d]]
      for (const s of of(l)) assert.ok(corners(s).every((p) => inside(l, p)), JSON.stringify(s))
    }),
  )
})

function corners(s: Seat): Point[] {
  const [w, h] = [Math.max(...s.lines.map(width)) * s.size, s.lines.length * lineHeight * s.size]
  const [x, y] = s.turned ? [h / 2, w / 2] : [w / 2, h / 2]
  return [-1, 1].flatMap((i) => [-1, 1].map((k): Point => [s.p[0] + i * x, s.p[1] + k * y]))
}
