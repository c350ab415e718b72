import assert from 'node:assert/strict'
import { test } from 'node:test'
import fc from 'fast-check'
import type { Opening, Wall } from '../../src/core/plan.ts'
import { onWall, wallLength } from '../../src/geometry/body.ts'
import { distance } from '../../src/geometry/vec.ts'
import { bent, joined, lengthened, mirrored, moved, movedJoined, relined, reversed, split } from '../../src/geometry/walls.ts'

const door: Opening = { id: 'D1', kind: 'door', at: 1000, width: 900, height: 2100 }
const wall: Wall = { id: 'L0-01', level: 'L0', line: [[0, 0], [5000, 0]], openings: [door], boxes: [{ face: 'a', at: 4000, height: 300 }], end: 'free', buildup: 'b' }
const doorway = (w: Wall) => onWall(w, (w.openings?.[0]?.at ?? 0) + 450)

test('what is moved, turned round or drawn out keeps its door in the building', () => {
  assert.deepEqual(doorway(moved(wall, [10, 20])), [1460, 20])
  assert.deepEqual(doorway(reversed(wall)), [1450, 0])
  assert.deepEqual(doorway(relined(wall, [[-700, 0], [6000, 0]])), [1450, 0])
  assert.equal(reversed(wall).boxes?.[0]?.face, 'b')
  assert.deepEqual(reversed(reversed(wall)), wall)
})

test('mirroring twice gives the wall again, and face A looks into the mirrored room', () => {
  const axis = [[6000, 0], [6000, 1]] as const
  const m = mirrored(wall, axis)
  assert.deepEqual(m.line, [[7000, 0], [12000, 0]])
  assert.deepEqual(doorway(m), [12000 - 1450, 0])
  assert.equal(m.start, 'free')
  assert.deepEqual(mirrored(m, axis), wall)
})

test('split walls join to the same again', () => {
  fc.assert(
    fc.property(fc.integer({ min: 2, max: 4998 }), (u) => {
      const [a, b] = split(wall, u, 'L0-02') as [Wall, Wall]
      assert.equal(wallLength(a) + wallLength(b), 5000)
      const whole = joined(a, b)
      assert.deepEqual(whole, wall)
    }),
  )
})

test('walls that cannot be joined say why', () => {
  const next = (line: Wall['line'], buildup = 'b'): Wall => ({ id: 'x', level: 'L0', line, buildup })
  const why = (w: Wall) => (joined(wall, w) as { why: string }).why
  assert.equal(why(next([[5000, 0], [5000, 900]])), 'plan.join.angle')
  assert.equal(why(next([[6000, 0], [7000, 0]])), 'plan.join.apart')
  assert.equal(why(next([[5000, 0], [7000, 0]], 'c')), 'plan.join.buildup')
  assert.equal(why(next([[7000, 0], [5000, 0]])), 'plan.join.opposed')
})

test('walls that meet a moved wall are drawn along', () => {
  const corner: Wall = { id: 'c', level: 'L0', line: [[5000, 0], [5000, 3000]], openings: [{ ...door, at: 500 }] }
  const tee: Wall = { id: 't', level: 'L0', line: [[2000, 4000], [2000, 0]] }
  const away: Wall = { id: 'z', level: 'L0', line: [[0, 9000], [1000, 9000]] }
  const after = new Map(movedJoined([wall, corner, tee, away], new Set(['L0-01']), [0, -600]).map((w) => [w.id, w]))
  assert.deepEqual(after.get('L0-01')?.line, [[0, -600], [5000, -600]])
  assert.deepEqual(after.get('c')?.line, [[5000, -600], [5000, 3000]])
  assert.equal(after.get('c')?.openings?.[0]?.at, 1100)
  assert.deepEqual(after.get('t')?.line, [[2000, 4000], [2000, -600]])
  assert.equal(after.has('z'), false)
})

test('places along an arc lie on its circle', () => {
  const arc: Wall = { id: 'r', level: 'L0', line: [[1000, 0], [0, 1000]], via: [1000 * Math.SQRT1_2, 1000 * Math.SQRT1_2] }
  assert.ok(Math.abs(wallLength(arc) - (Math.PI / 2) * 1000) < 1e-6)
  for (const k of [0, 0.3, 1]) assert.ok(Math.abs(distance(onWall(arc, k * wallLength(arc)), [0, 0]) - 1000) < 1e-6)
  assert.ok(Math.abs(distance(onWall(arc, 700, 50), [0, 0]) - 950) < 1e-6) // left of an anticlockwise arc is inside
})

// A quarter of a circle of 4 m about [0, 0], from east to north.
const quarter: Wall = { id: 'q', level: 'L0', line: [[4000, 0], [0, 4000]], via: [Math.SQRT1_2 * 4000, Math.SQRT1_2 * 4000], buildup: 'b', openings: [{ ...door, at: 2000 }] }
const onCircle = (w: Wall) => [0, 0.3, 0.7, 1].every((k) => Math.abs(distance(onWall(w, wallLength(w) * k), [0, 0]) - 4000) < 1)
const close = (a: readonly [number, number], b: readonly [number, number], within = 1) => assert.ok(distance(a, b) <= within, `${a} is not ${b}`)

test('a curved wall is as long as its arc, and openings stand on it', () => {
  assert.ok(Math.abs(wallLength(quarter) - 2000 * Math.PI) < 1e-6)
  close(doorway(quarter), [4000 * Math.cos(2450 / 4000), 4000 * Math.sin(2450 / 4000)])
})

test('split curved walls lie on the same arc and join to the same again', () => {
  fc.assert(
    fc.property(fc.integer({ min: 300, max: 6000 }), (u) => {
      const [a, b] = split(quarter, u, 'r') as [Wall, Wall]
      assert.ok(onCircle(a) && onCircle(b))
      assert.ok(Math.abs(wallLength(a) - u) < 0.01 && Math.abs(wallLength(a) + wallLength(b) - 2000 * Math.PI) < 0.01)
      const whole = joined(a, b) as Wall
      assert.deepEqual(whole.line, quarter.line)
      assert.ok(onCircle(whole))
      close(doorway(whole), doorway(quarter), 0.1)
    }),
  )
})

test('curved walls that cannot be joined say why', () => {
  const why = (w: Wall) => (joined(quarter, w) as { why: string }).why
  assert.equal(why({ ...quarter, line: [[0, 4000], [0, 9000]], via: undefined } as unknown as Wall), 'plan.join.curved')
  assert.equal(why({ ...quarter, line: [[0, 4000], [0, 9000]], via: [-2500, 6500] }), 'plan.join.arc')
  assert.equal(why({ ...quarter, line: [[0, 4000], [4000, 0]], via: [-2828.427, -2828.427] }), 'plan.join.ring')
})

test('a curved wall moves, turns round and mirrors with its door', () => {
  close(doorway(reversed(quarter)), doorway(quarter))
  const m = mirrored(quarter, [[0, 0], [0, 1]])
  close(doorway(m), [-doorway(quarter)[0], doorway(quarter)[1]])
  assert.ok(onCircle(m))
  const longer = lengthened(quarter, 4000 * Math.PI)
  close(longer.line[1], [-4000, 0])
  assert.ok(onCircle(longer))
})

test('bending and straightening keep what stands on a wall at its share of the length', () => {
  const bow = bent(wall, 700)
  assert.ok(Math.abs((doorway(bow)[0] - 1450)) < 100 && doorway(bow)[1] > 500)
  assert.ok(Math.abs((bow.openings?.[0]?.at ?? 0) + 450 - (1450 * wallLength(bow)) / 5000) < 0.01)
  close(doorway(bent(bow, 0)), [1450, 0], 0.01)
  assert.equal(bent(bow, 0).via, undefined)
})

test('a curved wall that meets a moved wall goes along and keeps its shape', () => {
  const end: Wall = { id: 'e', level: 'L0', line: [[0, 4000], [0, 9000]] }
  const [, q] = movedJoined([quarter, end], new Set(['e']), [-500, 0]) as [Wall, Wall]
  close(q.line[1], [-500, 4000])
  assert.ok(Math.abs(wallLength(q) / distance(...q.line) - wallLength(quarter) / distance(...quarter.line)) < 1e-4)
})
