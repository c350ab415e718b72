// What takes the server long is shown while it goes on: what it is, how far it has
// come, and a way to stop it. Walls are there before their proofs.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { drawn, imported, manyWalls } from './drawing.mjs'
import { accessible, picture, start } from './harness.mjs'

test('what is being reckoned', { timeout: 240_000 }, async (t) => {
  const site = await start({ demo: true })
  t.after(() => site.close())

  await t.test('the order: how far it is; stopped, gone on with, there', async () => {
    const page = await site.page()
    const id = await imported(site, manyWalls(1500)) // that take a while
    const t0 = Date.now()
    await site.visit(page, 'material?of=order', id)
    await page.getByText('Being reckoned: the order').waitFor()
    const told = Date.now() - t0
    const stop = page.getByRole('button', { name: 'Stop', exact: true })
    await stop.waitFor()
    await picture(page, 'reckoning-order')
    await accessible(page)
    await stop.click()
    await page.getByText('Stopped: the order').waitFor()
    await page.getByRole('button', { name: 'Go on' }).click()
    await page.locator('.reckoning progress[value]').waitFor({ timeout: 100_000 })
    const heard = Date.now() - t0
    await page.locator('table').first().waitFor({ timeout: 100_000 })
    console.log(`first opening of the order: said what is reckoned after ${told} ms, how far after ${heard} ms, there after ${Date.now() - t0} ms`)
    assert.equal(await page.locator('.reckoning').count(), 0)
  })

  await t.test('walls are drawn where they stand before their proofs are there', async () => {
    const page = await site.page()
    await site.visit(page, 'plan', await imported(site, manyWalls(1000)))
    await drawn(page)
    const { laid, proven } = await page.waitForFunction(() => {
      const at = (name) => performance.getEntriesByName(name)[0]?.startTime
      return at('proven') && { laid: at('laid'), proven: at('proven') }
    }).then((m) => m.jsonValue())
    assert.ok(laid < proven)
    console.log(`1,000 walls: where they stand after ${laid.toFixed(0)} ms, proofs after ${proven.toFixed(0)} ms`)
    await page.waitForFunction(() => document.querySelector('.reckoned')?.textContent === '')
  })
})
