import assert from 'node:assert/strict'
import { test } from 'node:test'
import type { Item } from '../../src/views/drawing/items.ts'
import { acceptFrom, addDoor, addWall, kept, stand } from '../../src/views/drawing/items.ts'
import { between, drawnOut } from '../../src/views/drawing/lines.ts'
import { objectsOf } from '../../src/views/drawing/takein.ts'
import type { Point } from '../../src/core/plan.ts'

const wall = (name: string, a: Point, b: Point): Item => ({ key: name, name, kind: 'wall', confidence: 0.9, signs: ['pair'], standing: 'open', line: [a, b], thickness: 100 })

// A room of 4 by 3 m.
const room = [wall('1', [0, 0], [4000, 0]), wall('2', [4000, 0], [4000, 3000]), wall('3', [4000, 3000], [0, 3000]), wall('4', [0, 3000], [0, 0])]

test('reading: two lines are a wall in the middle between them, as far as both run', () => {
  assert.deepEqual(between([[0, 0], [3000, 0]], [[3500, 120], [500, 120]]), { line: [[500, 60], [3000, 60]], thickness: 120 })
  assert.deepEqual(between([[0, 0], [3000, 0]], [[0, 20], [3000, 20]]), { why: 'drawing.why.apart' })
  assert.deepEqual(between([[0, 0], [3000, 0]], [[0, 100], [3000, 400]]), { why: 'drawing.why.angle' })
  assert.deepEqual(between([[0, 0], [1000, 0]], [[2000, 100], [3000, 100]]), { why: 'drawing.why.beside' })
})

test('reading: the ends of such a wall go on to the middles of walls that they meet', () => {
  assert.deepEqual(drawnOut([[2000, 50], [2000, 2950]], 100, room), [[2000, 0], [2000, 3000]])
})

test('reading: rooms follow walls, and keep their names', () => {
  const closed = stand(stand(room, new Set(['4']), 'refused'), new Set(['4']), 'open')
  assert.equal(closed.filter((i) => i.kind === 'room').length, 1)
  const named = closed.map((i) => (i.kind === 'room' ? { ...i, words: 'STORE' } : i))
  const { items } = addWall(named, [[3000, 0], [3000, 3000]], 100)
  assert.deepEqual(items.filter((i) => i.kind === 'room').map((i) => i.words).sort(), ['', 'STORE'])
  assert.equal(stand(named, new Set(['1']), 'refused').filter((i) => i.kind === 'room').length, 0)
})

test('reading: openings go with their wall', () => {
  const made = addDoor(room, room[0] as Item, 3900, 885)
  const door = made?.items.find((i) => i.key === made.key)
  assert.equal(door?.opening?.at, 3115) // not beyond its end
  const refused = stand(made?.items ?? [], new Set(['1']), 'refused')
  assert.deepEqual(refused.filter((i) => i.standing === 'refused').map((i) => i.kind).sort(), ['opening', 'wall'])
  const taken = stand(refused, new Set([made?.key ?? '']), 'taken')
  assert.equal(taken.find((i) => i.key === '1')?.standing, 'taken')
  assert.deepEqual(objectsOf(taken, 'L0', new Set()).walls.map((w) => [w.id, w.openings?.length]), [['L0-01', 1]])
})

test('reading: what was refused stays so, whatever is accepted from a confidence on or read anew', () => {
  const refused = stand(room, new Set(['2']), 'refused')
  assert.deepEqual(acceptFrom(refused, 0.9).filter((i) => i.kind === 'wall').map((i) => [i.name, i.standing]).sort(), [['1', 'taken'], ['2', 'refused'], ['3', 'taken'], ['4', 'taken']])
  assert.equal(kept(refused, room, true).find((i) => i.key === '2')?.standing, 'refused')
})
