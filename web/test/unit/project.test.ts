import assert from 'node:assert/strict'
import { test } from 'node:test'
import fc from 'fast-check'
import { apply, inverse, object } from '../../src/core/apply.ts'
import type { Plan } from '../../src/core/plan.ts'
import { opened, reduce } from '../../src/core/project.ts'
import type { ProjectEvent, ProjectState } from '../../src/core/project.ts'
import { change, changes, plan } from './plans.ts'

// Lists and overrides that an edit made and emptied again are as good as absent.
const bare = (p: Plan) => Object.fromEntries(Object.entries(p).filter(([, v]) => !(typeof v === 'object' && Object.keys(v).length === 0)))

test('the inverse of changes takes them back', () => {
  fc.assert(
    fc.property(plan, changes, (p, cs) => {
      assert.deepEqual(bare(apply(apply(p, cs), inverse(p, cs))), bare(p))
    }),
  )
})

test('changes leave the plan given as it is, and share what they do not touch', () => {
  fc.assert(
    fc.property(plan, changes, (p, cs) => {
      const was = structuredClone(p)
      const next = apply(p, cs)
      assert.deepEqual(p, was)
      for (const w of p.walls) {
        if (!cs.some((c) => c.kind === 'walls' && c.id === w.id)) assert.equal(object(next, 'walls', w.id).value, w)
      }
    }),
  )
})

const loaded = (p: Plan) => ({ id: 'p', name: 'P', revision: 1, canUndo: false, canRedo: false, plan: p })
const after = (s: ProjectState, ...events: ProjectEvent[]) => events.reduce(reduce, s)

test('an edit is shown at once, and stays when the server has it', () => {
  fc.assert(
    fc.property(plan, changes, (p, cs) => {
      const s = after(opened(loaded(p)), { type: 'edited', edit: { label: 'x', changes: cs } })
      assert.deepEqual(s.shown, apply(p, cs))
      assert.deepEqual(s.confirmed, p)
      const done = after(s, { type: 'acknowledged', key: 1, revision: 2, others: [], history: {} })
      assert.deepEqual([done.shown, done.waiting, done.revision], [s.shown, [], 2])
    }),
  )
})

// The server is a list of edits; the page hears of others' edits before or after
// the answers to its own, and must come out at the same plan either way.
test('however answers and events come, the page ends at the plan of the server', () => {
  const step = fc.record({ mine: fc.boolean(), changes: fc.array(change, { minLength: 1, maxLength: 3 }), eventFirst: fc.boolean() })
  fc.assert(
    fc.property(plan, fc.array(step, { maxLength: 6 }), (p, steps) => {
      let s = opened(loaded(p))
      let server = p
      let revision = 1
      for (const { mine, changes: cs, eventFirst } of steps) {
        server = apply(server, cs)
        revision += 1
        const event: ProjectEvent = { type: 'remote', revision, changes: cs, history: {} }
        if (!mine) {
          s = reduce(s, event)
          continue
        }
        s = reduce(s, { type: 'edited', edit: { label: 'x', changes: cs } })
        const answer: ProjectEvent = { type: 'acknowledged', key: s.nextKey - 1, revision, others: [], history: {} }
        s = eventFirst ? after(s, event, answer) : after(s, answer, event)
      }
      assert.deepEqual([s.shown, s.confirmed, s.revision, s.waiting.length], [server, server, revision, 0])
    }),
  )
})

test('others that came between are taken in with the answer', () => {
  const p: Plan = { nogging: 1, levels: [], walls: [] }
  const wall = (id: string) => ({ kind: 'walls', id, value: { id, level: 'L0', line: [[0, 0], [1, 0]] } })
  const s = after(
    opened(loaded(p)),
    { type: 'edited', edit: { label: 'mine', changes: [wall('b')] } },
    { type: 'acknowledged', key: 1, revision: 3, others: [wall('a')], history: { canUndo: true } },
  )
  assert.deepEqual(s.shown.walls.map((w) => w.id), ['a', 'b'])
  assert.equal(s.canUndo, true)
})

test('a conflict keeps the edit until the person has chosen', () => {
  const p: Plan = { nogging: 1, levels: [], walls: [] }
  const mine = { kind: 'walls', id: 'a', value: { id: 'a', note: 'mine' } }
  const s = after(
    opened(loaded(p)),
    { type: 'edited', edit: { label: 'mine', changes: [mine] } },
    { type: 'conflicted', key: 1, theirs: [{ kind: 'walls', id: 'a', value: { id: 'a', note: 'theirs' } }] },
  )
  assert.equal(s.waiting.length, 1)
  assert.equal(s.conflict?.edit.label, 'mine')
  const theirs = after(s, { type: 'dropped', key: 1 }, { type: 'settled' })
  assert.deepEqual([theirs.waiting, theirs.conflict, theirs.shown], [[], null, p])
})

test('an edit that is refused is taken back, and told', () => {
  const p: Plan = { nogging: 1, levels: [], walls: [] }
  const s = after(
    opened(loaded(p)),
    { type: 'edited', edit: { label: 'bad', changes: [{ kind: 'practice', id: '', value: 'mars' }] } },
    { type: 'refused', key: 1, detail: 'no such practice' },
  )
  assert.deepEqual([s.shown, s.waiting, s.refused?.detail], [p, [], 'no such practice'])
})
