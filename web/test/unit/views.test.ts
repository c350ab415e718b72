import assert from 'node:assert/strict'
import { readdirSync, readFileSync } from 'node:fs'
import { test } from 'node:test'
import fc from 'fast-check'
import { applied, freshName, sameAs } from '../../src/views/choice/apply.ts'
import type { Plan } from '../../src/core/plan.ts'
import { blocksOf, peeling, pieces } from '../../src/views/solid/model.ts'
import type { Model } from '../../src/views/solid/model.ts'
import { inkOf } from '../../src/views/wall/ink.ts'
import { density, fitted, most, moved, showing, zoomed } from '../../src/views/wall/viewport.ts'

test('texts: no two files have the same key', () => {
  const seen = new Map<string, string>()
  for (const dir of readdirSync('src/views')) {
    let text = ''
    try {
      text = readFileSync(`src/views/${dir}/text/en.json`, 'utf8')
    } catch {
      continue // a view without texts of its own
    }
    for (const key of Object.keys(JSON.parse(text) as object)) {
      assert.equal(seen.get(key), undefined, `${key} stands in ${dir} and in ${seen.get(key)}`)
      seen.set(key, dir)
    }
  }
})

const sheet = { width: 300, height: 120 }

test('viewport: enlarging keeps the point and the limits', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.2, max: 8, noNaN: true }), fc.double({ min: 0, max: 300, noNaN: true }), fc.double({ min: 0, max: 120, noNaN: true }), (factor, x, y) => {
      const w = zoomed(fitted(sheet), sheet, factor, { x, y })
      assert.ok(w.width <= sheet.width + 1e-9 && w.width >= sheet.width / most - 1e-9)
      assert.ok(Math.abs(w.width / w.height - sheet.width / sheet.height) < 1e-9)
      if (factor > 1) assert.ok(Math.abs((x - w.x) / w.width - x / sheet.width) < 1e-9)
    }),
  )
  assert.equal(density({ width: 300, height: 120 }, { width: 600, height: 600 }), 2)
})

test('viewport: moving never loses the sheet, and a box asked for is seen', () => {
  fc.assert(
    fc.property(fc.integer({ min: -5000, max: 5000 }), fc.integer({ min: 0, max: 280 }), (dx, x) => {
      const near = zoomed(fitted(sheet), sheet, 5, { x: 100, y: 50 })
      const w = moved(near, sheet, dx, 0)
      assert.ok(w.x < sheet.width && w.x + w.width > 0)
      const box = { x, y: 40, width: 6, height: 30 }
      const s = showing(w, sheet, box)
      assert.ok(s.x <= box.x && s.x + s.width >= box.x + box.width)
    }),
  )
})

test('ink: greys become shares of ink, colours do not', () => {
  assert.equal(inkOf('#000'), 100)
  assert.equal(inkOf('#ffffff'), 0)
  assert.equal(inkOf('#808080'), 50)
  assert.equal(inkOf('#f00'), null)
  assert.equal(inkOf('none'), null)
})

const area = (blocks: { u0: number; u1: number; z0: number; z1: number }[] | null) => (blocks ?? []).reduce((a, b) => a + (b.u1 - b.u0) * (b.z1 - b.z0), 0)

test('model: a board round a door and with a hole comes apart into blocks of its area', () => {
  const outline = [0, 10, 600, 10, 600, 2130, 1200, 2130, 1200, 3000, 0, 3000]
  const hole = [100, 300, 168, 300, 168, 368, 100, 368]
  // shoelace by hand: 600 × 2990 + 600 × 870, less 68 × 68
  assert.equal(area(blocksOf([outline, hole], false)), 600 * 2990 + 600 * 870 - 68 * 68)
  assert.equal(blocksOf([[0, 0, 1000, 0, 1000, 2500, 0, 2000]], false), null, 'a raked board is no block')
  assert.ok((blocksOf([[0, 0, 1000, 0, 1000, 2500, 0, 2500]], true) ?? []).length >= 6, 'a curved one comes in strips')
})

test('model: a curved wall lies on its arc', () => {
  const m: Model = {
    layers: ['frame'], products: [{ id: 'CW75', name: 'Stud', kind: 'steel', shape: 'stud' }], whats: ['stud'],
    walls: [{ id: 'L0-01', base: 0, at: [0, 0, 1, 0], arc: [0, 0, 2000, Math.PI / 2, -Math.PI / 2], parts: [['S01', 0, 0, 0, [-37.5, 37.5], [0, 0, 50, 2500]]] }],
  }
  const p = pieces(m)[0]
  assert.ok(p)
  // A quarter circle that turns right, from north to east: v to the left lies outside.
  const [x, y] = p.place.at((Math.PI / 2) * 2000, 100)
  assert.ok(Math.hypot(x - 2100, y) < 1e-6)
  const [dx, dy] = p.place.dir(0)
  assert.ok(Math.hypot(dx - 1, dy) < 1e-9)
})

test('model: layers come off from face A to face B', () => {
  assert.deepEqual(peeling(['frame', 'b1', 'a1', 'fill', 'a2', 'b2']), ['a2', 'a1', 'fill', 'frame', 'b1', 'b2'])
})

const plan: Plan = {
  nogging: 1, levels: [{ id: 'L0', clear_height: 2750 }], buildups: [{ id: 'chosen-100', frame: { kind: 'single', stud: 'CW75' }, face_a: ['GKB-12.5'], face_b: ['GKB-12.5'] }],
  walls: [
    { id: 'L0-01', level: 'L0', line: [[0, 0], [3000, 0]], thickness: 100 },
    { id: 'L0-02', level: 'L0', line: [[0, 2000], [3000, 2000]], buildup: 'chosen-100' },
  ],
}

test('choice: a build-up that the plan has is used, a new one is put with the walls', () => {
  const same = { id: 'W1', frame: { kind: 'single', stud: 'CW75' }, face_a: ['GKB-12.5'], face_b: ['GKB-12.5'] }
  assert.equal(sameAs(plan, same)?.id, 'chosen-100')
  assert.deepEqual(applied(plan, same, 'x', ['L0-01'], 'l').changes, [{ kind: 'walls', id: 'L0-01', value: { id: 'L0-01', level: 'L0', line: [[0, 0], [3000, 0]], buildup: 'chosen-100' } }])
  const other = { ...same, face_a: ['GKF-12.5'] }
  const name = freshName(plan, 100.4)
  assert.equal(name, 'chosen-100-2')
  const e = applied(plan, other, name, ['L0-01', 'L0-02'], 'l')
  assert.deepEqual(e.changes.map((c) => [c.kind, c.id]), [['buildups', 'chosen-100-2'], ['walls', 'L0-01'], ['walls', 'L0-02']])
})
