import assert from 'node:assert/strict'
import { test } from 'node:test'
import type { Plan, Room } from '../../src/core/plan.ts'
import { roomsBeside, roomsOn } from '../../src/geometry/beside.ts'
import { pairOf, wallsBetween } from '../../src/views/plan/uses.ts'

const room = (id: string, use: string, x0: number, y0: number, x1: number, y1: number): Room => ({ id, level: 'L0', use, outline: [[x0, y0], [x1, y0], [x1, y1], [x0, y1]] })

// A corridor to the north of two offices; outlines to the axis on one side and to
// the finished faces on the other.
const plan: Plan = {
  nogging: 1,
  levels: [{ id: 'L0', clear_height: 2750 }],
  rooms: [room('C', 'corridor', 0, 3000, 8000, 5000), room('A', 'office', 0, 0, 4000, 2950), room('B', 'store', 4000, 0, 8000, 2950)],
  walls: [
    { id: 'long', level: 'L0', line: [[0, 3000], [8000, 3000]] },
    { id: 'between', level: 'L0', line: [[4000, 0], [4000, 3000]] },
    { id: 'outside', level: 'L0', line: [[8000, 0], [0, 0]] },
  ],
}

test('a wall parts the rooms along it, face A on the left', () => {
  const at = (id: string) => roomsBeside(plan.walls.find((w) => w.id === id)!, roomsOn(plan, 'L0')).map((pair) => pair.map((r) => r?.id ?? null))
  assert.deepEqual(at('long'), [['C', 'A'], ['C', 'B']])
  assert.deepEqual(at('between'), [['A', 'B']])
  assert.deepEqual(at('outside'), [[null, 'B'], [null, 'A']])
})

test('walls by the uses that they part, each at every pair', () => {
  const between = wallsBetween(plan)
  assert.deepEqual(between.get(pairOf('office', 'corridor')), ['long'])
  assert.deepEqual(between.get(pairOf('corridor', 'store')), ['long'])
  assert.deepEqual(between.get(pairOf('store', 'office')), ['between'])
  assert.equal(between.size, 3)
})
