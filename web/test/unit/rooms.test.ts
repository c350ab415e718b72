import assert from 'node:assert/strict'
import { test } from 'node:test'
import type { Plan, Wall } from '../../src/core/plan.ts'
import { findRooms, roomArea, unnamedRooms } from '../../src/geometry/rooms.ts'
import type { Point } from '../../src/geometry/vec.ts'

const wall = (id: string, a: Point, b: Point): Wall => ({ id, level: 'L0', line: [a, b] })
const box = [wall('1', [0, 0], [8000, 0]), wall('2', [8000, 0], [8000, 4000]), wall('3', [8000, 4000], [0, 4000]), wall('4', [0, 4000], [0, 0])]
const plan = (walls: Wall[], more: Partial<Plan> = {}): Plan => ({ nogging: 1, levels: [], walls, ...more })
const areas = (p: Plan) => findRooms(p, 'L0').map((outline) => roomArea({ outline }) / 1e6).sort((a, b) => a - b)

test('walls enclose rooms; a wall across makes two; one that ends free makes none', () => {
  assert.deepEqual(areas(plan(box)), [32])
  assert.deepEqual(areas(plan([...box, wall('5', [3000, 0], [3000, 4000])])), [12, 20])
  assert.deepEqual(areas(plan([...box, wall('5', [3000, 0], [3000, 2500])])), [32])
  assert.deepEqual(areas(plan(box.slice(1))), [])
})

test('a wall that ends at the face of another still closes the room', () => {
  assert.deepEqual(areas(plan([...box, wall('5', [3000, 60], [3000, 3940])])), [12, 20])
})

test('a curved wall bounds a room', () => {
  const bay: Wall = { id: '2', level: 'L0', line: [[8000, 0], [8000, 4000]], via: [10000, 2000] } // half a circle of 2 m
  const [area = 0] = areas(plan([box[0]!, bay, box[2]!, box[3]!]))
  assert.ok(Math.abs(area - 32 - (Math.PI * 4) / 2) < 0.05, `${area}`)
})

test('structure bounds rooms and is none itself', () => {
  const s = (id: string, line: Point[]) => ({ id, level: 'L0', line, thickness: 200 })
  const shell = [s('s', [[-100, -100], [6100, -100]]), s('e', [[6100, -200], [6100, 4200]]), s('n', [[6100, 4100], [-100, 4100]]), s('w', [[-100, 4200], [-100, -200]])]
  assert.deepEqual(areas(plan([], { structure: shell })), [24])
  assert.deepEqual(areas(plan([wall('1', [2000, 0], [2000, 4000])], { structure: shell })), [8, 16])
})

test('rooms that have a name are not found again', () => {
  const named = { id: 'R', level: 'L0', outline: [[100, 100], [2900, 100], [2900, 3900], [100, 3900]] as Point[] }
  const p = plan([...box, wall('5', [3000, 0], [3000, 4000])], { rooms: [named] })
  assert.equal(unnamedRooms(p, 'L0').length, 1)
})
