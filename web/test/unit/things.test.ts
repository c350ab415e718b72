import assert from 'node:assert/strict'
import { test } from 'node:test'
import fc from 'fast-check'
import type { Wall } from '../../src/core/plan.ts'
import { fitting, stepped, toPixels, toPlace } from '../../src/views/wall/fit/face.ts'
import { addBox, addFixing, addHeight, addPipe, addStep, changed, heightAt, movedBy, plainTop, profileOf, without } from '../../src/views/wall/fit/things.ts'

const wall: Wall = { id: 'L0-01', level: 'L0', line: [[0, 0], [5000, 0]], height: 2600 }

test('a place on the elevation and on the screen are the same, seen from either face', () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 5000, noNaN: true }), fc.double({ min: 0, max: 3000, noNaN: true }), fc.boolean(), (u, z, back) => {
      const f = { length: 5000, low: -50, high: 2900, scale: fitting(5000, 2950, { width: 800, height: 500 }), back }
      const [x, y] = toPlace(f, toPixels(f, [u, z]))
      assert.ok(Math.abs(x - u) < 1e-6 && Math.abs(y - z) < 1e-6)
    }),
  )
})

test('places come in whole steps, and at the height of others near by', () => {
  assert.deepEqual(stepped([1004, 297], 10, [305], 20), [1000, 305])
  assert.deepEqual(stepped([1004, 297], 10, [400], 20), [1000, 300])
})

test('what is added, moved and taken away', () => {
  const box = addBox(wall, 'socket', 'a', [1000, 300])
  assert.deepEqual(movedBy(box.wall, box.ref, [50, -20]).boxes, [{ kind: 'socket', face: 'a', at: 1050, height: 280 }])
  assert.deepEqual(without(box.wall, box.ref), wall)
  const wc = addFixing(wall, 'wc', 'b', 4900) // within the wall, at the practice's height
  assert.deepEqual(wc.wall.fixings, [{ kind: 'wc', face: 'b', at: 4500, width: 500 }])
  assert.equal(movedBy(wc.wall, wc.ref, [0, 100]).fixings?.[0]?.height, undefined)
  const pipe = addPipe(wall, 'waste', [[0, 300], [1000, 300], [1000, 2000]])
  assert.deepEqual(movedBy(pipe.wall, { ...pipe.ref, point: 1 }, [10, 0]).pipes?.[0]?.path, [[0, 300], [1010, 300], [1000, 2000]])
  assert.equal(without(without(pipe.wall, { ...pipe.ref, point: 0 }), { ...pipe.ref, point: 0 }).pipes, undefined)
})

test('a profile stands instead of the height, and the height comes back with it gone', () => {
  const slope = addHeight(wall, 2750, [2000, 3000])
  assert.deepEqual(slope.wall.heights, [{ at: 0, height: 2600 }, { at: 2000, height: 3000 }, { at: 5000, height: 2600 }])
  assert.equal(slope.wall.height, undefined)
  assert.equal(heightAt(profileOf(slope.wall, 2750), 1000), 2800)
  assert.deepEqual(movedBy(slope.wall, slope.ref, [9000, 0]).heights?.[1], { at: 5000, height: 3000 }) // not past its neighbour
  assert.deepEqual(plainTop(slope.wall), { ...wall, height: 3000 })
  const step = addStep(wall, 2750, 2500, -300)
  assert.deepEqual(step.wall.heights?.map((h) => [h.at, h.height]), [[0, 2600], [2500, 2600], [2500, 2300], [5000, 2300]])
  assert.deepEqual(changed(step.wall, 'heights', 3, { height: 2500 }).heights?.[3], { at: 5000, height: 2500 })
})
