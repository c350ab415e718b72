import assert from 'node:assert/strict'
import { test } from 'node:test'
import fc from 'fast-check'
import type { Opening, Wall } from '../../src/core/plan.ts'
import { onWall, wallLength } from '../../src/geometry/body.ts'
import { distance } from '../../src/geometry/vec.ts'
import { joined, mirrored, moved, movedJoined, relined, reversed, split } from '../../src/geometry/walls.ts'

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
