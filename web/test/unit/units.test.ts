import assert from 'node:assert/strict'
import { test } from 'node:test'
import fc from 'fast-check'
import { feetInches, parseAngle, parseLength, showLength } from '../../src/core/units.ts'

test('lengths are read in every form', () => {
  // 1 in = 25.4 mm exactly, 1 ft = 12 in (international yard and pound agreement, 1959).
  const cases: [string, 'metric' | 'imperial', number | null][] = [
    ['2750', 'metric', 2750],
    ['2.75 m', 'metric', 2750],
    ['2,75 m', 'metric', 2750],
    ['275cm', 'metric', 2750],
    [`9'-2"`, 'metric', 2794],
    [`9' 2 1/2"`, 'imperial', 2806.7],
    [`9'`, 'imperial', 2743.2],
    ['5/8 in', 'imperial', 15.875],
    ['3 5/8', 'imperial', 92.075],
    ['96', 'imperial', 2438.4],
    ['2400 mm', 'imperial', 2400],
    ['-100', 'metric', -100],
    ['', 'metric', null],
    ['door', 'metric', null],
    ['1/0 in', 'metric', null],
    ['12.5.3', 'metric', null],
  ]
  for (const [text, system, want] of cases) {
    const got = parseLength(text, system)
    if (want === null) assert.equal(got, null, text)
    else assert.ok(got !== null && Math.abs(got - want) < 1e-9, `${text}: ${got}`)
  }
})

test('lengths are shown in the language and units chosen', () => {
  assert.equal(showLength(2750, 'metric', 'en-GB'), '2750')
  assert.equal(showLength(12750.5, 'metric', 'en-GB'), '12,750.5')
  assert.equal(showLength(12750.5, 'metric', 'de-DE'), '12.750,5')
  assert.equal(showLength(-0.01, 'metric', 'en-GB'), '0')
  assert.equal(feetInches(2794), `9'-2"`)
  assert.equal(feetInches(92.075), `3 5/8"`)
  assert.equal(feetInches(15.875), `5/8"`)
  assert.equal(feetInches(304.8), `1'-0"`)
  assert.equal(feetInches(-304.8 - 12.7), `-1'-1/2"`)
  assert.equal(feetInches(0), `0"`)
})

test('what is shown in feet and inches is read back to a thirty-second of an inch', () => {
  fc.assert(
    fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (mm) => {
      const back = parseLength(feetInches(mm), 'imperial')
      assert.ok(back !== null && Math.abs(back - mm) <= 25.4 / 32 + 1e-6, `${mm} ${feetInches(mm)} ${back}`)
    }),
  )
})

test('what is shown in millimetres is read back to a twentieth', () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 9999, noNaN: true }), fc.constantFrom('en-GB', 'de-DE'), (mm, locale) => {
      const back = parseLength(showLength(mm, 'metric', locale), 'metric')
      assert.ok(back !== null && Math.abs(back - mm) <= 0.05 + 1e-9)
    }),
  )
})

test('angles', () => {
  assert.equal(parseAngle('45'), 45)
  assert.equal(parseAngle('22,5°'), 22.5)
  assert.equal(parseAngle('north'), null)
})
