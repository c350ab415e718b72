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
  const at = (text: string) => target({ ...start([2000, 1000]), chain: [[1000, 1000]], typed: text }, 'metric')?.map(Math.round)
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
  assert.deepEqual(added(one, two), { line: [[0, 0], [500, 0]] })
  assert.equal(added(two, draw(two, { type: 'place' }, 'metric')), null) // the same point again
  assert.deepEqual(draw(two, { type: 'back' }, 'metric').chain, [[0, 0]])
})

const curved: DrawEvent = { type: 'curved', on: true }
const pen = (x: number, y: number): DrawEvent => ({ type: 'pen', at: [x, y] })
const place: DrawEvent = { type: 'place' }

test('a curved line takes start, end and a third point, and the next goes on from its end', () => {
  const ended = run(curved, place, pen(2000, 0), place)
  assert.deepEqual([ended.chain, ended.end], [[[0, 0]], [2000, 0]])
  const bent = draw(draw(ended, pen(1000, 400), 'metric'), place, 'metric')
  assert.deepEqual(added(ended, bent), { line: [[0, 0], [2000, 0]], via: [1000, 400] })
  assert.deepEqual([bent.chain.at(-1), bent.end], [[2000, 0], null])
  assert.deepEqual(draw(ended, { type: 'back' }, 'metric').end, null)
  const flat = draw(draw(ended, pen(900, 0.5), 'metric'), place, 'metric')
  assert.deepEqual(added(ended, flat), { line: [[0, 0], [2000, 0]] }) // third point in line: straight
})

test('a rise or a radius is typed; the pen, an arrow key or a sign say to which side', () => {
  const at = (text: string, y = 100, x = 1000) => target(run(curved, place, pen(2000, 0), place, pen(x, y), typed(text)), 'metric')?.map(Math.round)
  assert.deepEqual(at('300'), [1000, 300])
  assert.deepEqual(at('300', -100), [1000, -300])
  assert.deepEqual(at('-300'), [1000, -300])
  assert.deepEqual(at('r1000'), [1000, 1000]) // half a circle over 2 m
  assert.deepEqual(at('r 1250'), [1000, 500]) // 1250² = 1000² + 750²
  assert.deepEqual(at('r 1250', 1500), [1000, 2000]) // the pen is more than half round
  assert.equal(at('r 900'), undefined)
  const south = draw(run(curved, place, pen(2000, 0), place, typed('300')), { type: 'arrow', towards: [0, -1], step: 100 }, 'metric')
  assert.deepEqual(south.via, [1000, -300])
})
