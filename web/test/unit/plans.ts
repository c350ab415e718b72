// Plans and changes for property tests, from few marks, so that edits often meet.
import fc from 'fast-check'
import type { Change, Plan, Point, Wall } from '../../src/core/plan.ts'

export const point: fc.Arbitrary<Point> = fc.tuple(fc.integer({ min: -20000, max: 20000 }), fc.integer({ min: -20000, max: 20000 }))

const mark = fc.constantFrom('L0-01', 'L0-02', 'L0-03', 'L0-04', 'L0-05')

export const wall: fc.Arbitrary<Wall> = fc
  .tuple(mark, point, point, fc.option(fc.constantFrom('EI 30', 'EI 60'), { nil: undefined }))
  .map(([id, a, b, fire]) => ({ id, level: 'L0', line: [a, b] as [Point, Point], ...(fire ? { require: { fire } } : {}) }))

export const plan: fc.Arbitrary<Plan> = fc
  .uniqueArray(wall, { selector: (w) => w.id })
  .map((walls) => ({ nogging: 1, practice: 'metric', levels: [{ id: 'L0', clear_height: 2750 }], walls }))

export const change: fc.Arbitrary<Change> = fc.oneof(
  wall.map((w) => ({ kind: 'walls', id: w.id, value: w })),
  mark.map((id) => ({ kind: 'walls', id, value: null })),
  fc.tuple(wall, fc.nat(3)).map(([w, at]) => ({ kind: 'walls', id: w.id, at, value: w })),
  fc.constantFrom('metric', 'us').map((value) => ({ kind: 'practice', id: '', value })),
  fc.constantFrom(400, 600, null).map((value) => ({ kind: 'overrides', id: 'stud_spacing', value })),
  fc.constantFrom('A', 'B').map((name) => ({ kind: 'rooms', id: name, value: { id: name, level: 'L0', outline: [] } })),
)

export const changes = fc.array(change, { maxLength: 8 })
