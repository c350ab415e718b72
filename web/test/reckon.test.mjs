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
    // However quick the server is: nothing reaches it before it is stopped.
    const order = /\/api\/projects\/[^/]+\/order(\?|$)/
    let keep = true
    await page.route(order, (route) => (keep ? undefined : route.continue()))
    // A bar that is there for a moment only is seen, too.
    await page.addInitScript(() => {
      new MutationObserver(() => {
        if (document.querySelector('.reckoning progress[value]')) window.heard ??= performance.now()
      }).observe(document, { subtree: true, childList: true, attributes: true })
    })
    await site.visit(page, 'material?of=order')
    await page.getByText('Being reckoned: the order').waitFor()
    const stop = page.getByRole('button', { name: 'Stop', exact: true })
    await stop.waitFor()
    await picture(page, 'reckoning-order')
    await accessible(page)
    await stop.click()
    await page.getByText('Stopped: the order').waitFor()
    keep = false
    const t0 = await page.evaluate(() => performance.now())
    await page.getByRole('button', { name: 'Go on' }).click()
    await page.locator('table').first().waitFor({ timeout: 100_000 })
    const [heard, there] = await page.evaluate(() => [window.heard, performance.now()])
    assert.ok(heard > t0, 'how far it has come was never shown')
    console.log(`first opening of the order: how far after ${Math.round(heard - t0)} ms, there after ${Math.round(there - t0)} ms`)
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
