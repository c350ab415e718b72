// Many tabs on one project: they share one stream of events, so that none of them
// waits for a connection, and go on when the one that listens is closed.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { drawn, fill, click, imported } from './drawing.mjs'
import { start } from './harness.mjs'

const plan = {
  nogging: 1,
  project: { name: 'Many tabs' },
  practice: 'metric',
  levels: [{ id: 'L0', clear_height: 2750, floor: 'concrete', soffit: 'concrete' }],
  buildups: [{ id: 'P75', frame: { kind: 'single', stud: 'CW75' }, face_a: ['GKB-12.5'] }],
  walls: [{ id: 'L0-01', level: 'L0', line: [[0, 0], [5000, 0]], buildup: 'P75' }],
}

const shown = (page, revision) => page.locator('.link', { hasText: `Saved, revision ${revision}` }).waitFor()

test('eight tabs on one project', { timeout: 180_000 }, async (t) => {
  const site = await start()
  t.after(() => site.close())
  const id = await imported(site, plan)
  const first = await site.page()
  const context = first.context()
  const streaming = new Set() // tabs that have a stream of their own
  const stream = (r) => /\/events\?/.test(r.url())
  context.on('request', (r) => stream(r) && streaming.add(r.frame().page()))
  for (const end of ['requestfinished', 'requestfailed']) context.on(end, (r) => stream(r) && streaming.delete(r.frame().page()))

  const tabs = [first]
  for (let i = 1; i < 8; i++) tabs.push(await context.newPage())
  for (const tab of tabs) {
    await site.visit(tab, 'plan', id)
    await drawn(tab)
    await shown(tab, 1)
  }
  assert.equal(streaming.size, 1, 'one stream for all')

  // Each is answered by the server, and what one does is seen in all.
  await click(tabs[7], [2500, 0])
  await tabs[7].getByText('Ends, line, notes').click()
  await fill(tabs[7], 'Note for site', 'seen by all')
  await Promise.all(tabs.map((tab) => shown(tab, 2)))

  // The one that listens is closed; the next one takes over, and nothing is missed.
  await first.close()
  const rest = tabs.slice(1)
  await site.ask(`/api/projects/${id}/edits`, { method: 'POST', json: { base: 2, client: 'another', label: 'Wall L0-02 drawn', changes: [{ kind: 'walls', id: 'L0-02', value: { id: 'L0-02', level: 'L0', line: [[0, 2000], [5000, 2000]], buildup: 'P75' } }] } })
  await Promise.all(rest.map((tab) => shown(tab, 3)))
  streaming.delete(first)
  assert.equal(streaming.size, 1, 'one stream for the seven that are left')
  await rest[3].reload()
  await drawn(rest[3])
  await shown(rest[3], 3)
  await Promise.all(rest.map((tab) => tab.getByText('Saved, revision 3').waitFor()))
})
