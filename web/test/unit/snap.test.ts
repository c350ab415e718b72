import assert from 'node:assert/strict'
import { test } from 'node:test'
import fc from 'fast-check'
import type { Arc } from '../../src/geometry/arc.ts'
import { arcOf } from '../../src/geometry/arc.ts'
import type { SnapInput } from '../../src/geometry/snap.ts'
import { snap } from '../../src/geometry/snap.ts'
import { distance } from '../../src/geometry/vec.ts'
import { point } from './plans.ts'

const wall = [[0, 0], [4000, 0]] as const
const other = [[1000, -300], [1000, 500]] as const
const half = arcOf({ line: [[2000, 0], [-2000, 0]], via: [0, 2000] }) as Arc
const plain: SnapInput = { lines: [wall], reach: 50, grid: 0, angles: 0 }

test('points snap to ends, middles, lines, crossings, squares, extensions, angles and the grid', () => {
  const cases: [string, readonly [number, number], Partial<SnapInput>, readonly [number, number]][] = [
    ['end', [20, 30], {}, [0, 0]],
    ['middle', [2010, -20], {}, [2000, 0]],
    ['line', [1234, 30], {}, [1234, 0]],
    ['crossing', [1020, 15], { lines: [wall, other] }, [1000, 0]],
    ['square', [1520, 10], { from: [1500, 3000] }, [1500, 0]],
    ['extension', [5000, 30], {}, [5000, 0]],
    ['angle', [1020, 6000], { from: [1000, 3000], angles: 15 }, [1000, 6000]],
    ['crossing', [5000, 3020], { lines: [wall, [[5000, 8000], [5000, 9000]]], from: [1000, 3000], angles: 15 }, [5000, 3000]],
    ['end', [2010, 20], { lines: [], arcs: [half] }, [2000, 0]],
    ['middle', [10, 2020], { lines: [], arcs: [half] }, [0, 2000]],
    ['line', [1230, 1620], { lines: [], arcs: [half] }, [1230 / Math.hypot(1.23, 1.62) * 2, 1620 / Math.hypot(1.23, 1.62) * 2]],
    ['crossing', [1210, 1590], { lines: [[[1200, 0], [1200, 4000]]], arcs: [half] }, [1200, 1600]], // 3, 4, 5
    ['centre', [10, 20], { lines: [], arcs: [half] }, [0, 0]],
    ['extension', [2020, -900], { lines: [], arcs: [half] }, [2000, -900]],
    ['grid', [1240, 1260], { grid: 100 }, [1200, 1300]],
    ['none', [1240, 1260], {}, [1240, 1260]],
  ]
  for (const [kind, at, more, want] of cases) {
    const s = snap(at, { ...plain, ...more })
    assert.equal(s.kind, kind, `${kind} at ${at}`)
    assert.ok(distance(s.point, want) < 1e-6, `${kind}: ${s.point}`)
  }
})

const input: fc.Arbitrary<SnapInput> = fc.record({
  lines: fc.array(fc.tuple(point, point).filter(([a, b]) => distance(a, b) > 1), { maxLength: 8 }),
  arcs: fc.array(fc.tuple(point, point, point).map(([a, v, b]) => arcOf({ line: [a, b], via: v })).filter((a): a is Arc => a !== null && a.radius < 1e6 && Math.abs(a.sweep) > 1), { maxLength: 3 }),
  reach: fc.constantFrom(20, 100, 400),
  grid: fc.constantFrom(0, 100),
  angles: fc.constantFrom(0, 15, 45),
})

test('snapping a snapped point changes nothing', () => {
  fc.assert(
    fc.property(point, input, fc.option(point, { nil: undefined }), (p, i, from) => {
      const all = from ? { ...i, from } : i
      const once = snap(p, all)
      assert.ok(distance(snap(once.point, all).point, once.point) < 1e-3)
    }),
    { numRuns: 2000 },
  )
})
