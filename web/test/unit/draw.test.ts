import assert from 'node:assert/strict'
import { test } from 'node:test'
import type { DrawEvent } from '../../src/editor/draw.ts'
import { added, draw, start, target } from '../../src/editor/draw.ts'

const run = (...events: DrawEvent[]) => events.reduce((d, e) => draw(d, e, 'metric'), start([0, 0]))
const east: DrawEvent = { type: 'arrow', towards: [1, 0], step: 100 }
const north: DrawEvent = { type: 'arrow', towards: [0, 1], step: 100 }
const typed = (text: string): DrawEvent => ({ type: 'typed', text })

test('a room is drawn by typed lengths and arrow keys alone', () => {
  const west: DrawEvent = { type: 'arrow', towards: [-1, 0], step: 100 }
  const d = run({ type: 'place' }, typed('4200'), east, typed('3 m'), north, typed('4200'), west)
  assert.deepEqual(d.chain, [[0, 0], [4200, 0], [4200, 3000], [0, 3000]])
  assert.equal(d.typed, '')
})

test('arrow keys without a length move the pen along the grid', () => {
  const d = draw(start([1240, 30]), east, 'metric')
  assert.deepEqual(d.pen, [1300, 30])
})

test('typed lengths and angles say where the next point goes', () => {
  const at = (text: string) => target({ chain: [[1000, 1000]], pen: [2000, 1000], typed: text }, 'metric')?.map(Math.round)
  assert.deepEqual(at('500'), [1500, 1000])
  assert.deepEqual(at('500<90'), [1000, 1500])
  assert.deepEqual(at('500 < 180°'), [500, 1000])
  assert.deepEqual(at('<45'), [1500, 1500]) // the pen's foot on the ray
  assert.deepEqual(at('3000;2,5 m'), [3000, 2500])
  assert.equal(at('5oo'), undefined)
})

test('each placed point after the first gives a segment, and going back takes one', () => {
  const one = run({ type: 'place' }, { type: 'pen', at: [500, 0] })
  const two = draw(one, { type: 'place' }, 'metric')
  assert.deepEqual(added(one, two), [[0, 0], [500, 0]])
  assert.equal(added(two, draw(two, { type: 'place' }, 'metric')), null) // the same point again
  assert.deepEqual(draw(two, { type: 'back' }, 'metric').chain, [[0, 0]])
})
