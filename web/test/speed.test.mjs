// How quickly the drawing follows on a level with 2,000 walls. The figures are
// printed; the test fails only where something does not happen at all, because
// they depend on the machine.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { click, drawn, imported, manyWalls, screen } from './drawing.mjs'
import { start } from './harness.mjs'

// Times between frames while something is moved, in ms.
async function frames(page, during) {
  await page.evaluate(() => {
    globalThis.times = []
    let last
    const tick = (now) => {
      if (last !== undefined) globalThis.times.push(now - last)
      last = now
      globalThis.frame = requestAnimationFrame(tick)
    }
    globalThis.frame = requestAnimationFrame(tick)
  })
  await during()
  return page.evaluate(() => {
    cancelAnimationFrame(globalThis.frame)
    return globalThis.times
  })
}

function told(name, times) {
  const sorted = [...times].sort((a, b) => a - b)
  const at = (k) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * k))].toFixed(1)
  console.log(`${name}: ${times.length} frames, middle ${at(0.5)} ms, 95 % within ${at(0.95)} ms, longest ${at(1)} ms`)
}

// The pointer goes round and round for so many moves.
async function round(page, [x, y], n = 90) {
  for (let i = 0; i < n; i++) await page.mouse.move(x + 90 * Math.cos(i / 8), y + 60 * Math.sin(i / 8))
}

test('a level with 2,000 walls follows the hand', { timeout: 180_000 }, async (t) => {
  const site = await start()
  t.after(() => site.close())
  const plan = manyWalls(2000)
  const page = await site.page()
  await site.visit(page, 'plan', await imported(site, plan))
  await drawn(page)
  const marks = await page.waitForFunction(() => {
    const at = (name) => performance.getEntriesByName(name)[0]?.startTime
    return at('proven') && { drawn: performance.getEntriesByName('first-contentful-paint')[0]?.startTime, laid: at('laid'), proven: at('proven') }
  }).then((m) => m.jsonValue())
  console.log(`first opening: page after ${marks.drawn?.toFixed(0)} ms, walls where they stand after ${marks.laid.toFixed(0)} ms, proofs after ${marks.proven.toFixed(0)} ms`)
  await page.waitForTimeout(2000)
  console.log(`${plan.walls.length} walls on the level`)

  const middle = await screen(page, [46500, 46500])
  told('whole level, panning', await frames(page, async () => {
    await page.mouse.move(...middle)
    await page.mouse.down({ button: 'middle' })
    await round(page, middle)
    await page.mouse.up({ button: 'middle' })
  }))
  told('zooming', await frames(page, async () => {
    for (let i = 0; i < 30; i++) await page.mouse.wheel(0, i < 20 ? -100 : 40)
  }))
  const near = await screen(page, [46500, 46500])
  told('near, panning', await frames(page, async () => {
    await page.mouse.move(...near)
    await page.mouse.down({ button: 'middle' })
    await round(page, near)
    await page.mouse.up({ button: 'middle' })
  }))

  await page.getByRole('button', { name: 'All', exact: true }).click()
  await page.waitForTimeout(200)
  await click(page, [46500, 48000])
  assert.match(await page.locator('.side h2').innerText(), /Wall L0-/)
  const on = await screen(page, [46500, 48000])
  told('whole level, dragging a wall', await frames(page, async () => {
    await page.mouse.move(...on)
    await page.mouse.down()
    await round(page, on, 60)
    await page.mouse.move(on[0] + 2, on[1] - 16)
  }))
  // From letting go to the frame that shows it, and to the totals that follow.
  await page.evaluate(() => void (globalThis.answered = new Promise((done) => {
    const plan = document.querySelector('.drawing-plan')
    let released
    addEventListener('pointerup', () => (released = performance.now()), { capture: true, once: true })
    const watch = new MutationObserver(() => {
      if (released === undefined || Number(plan.dataset.painted) < released) return
      watch.disconnect()
      done(Number(plan.dataset.painted) - released)
    })
    watch.observe(plan, { attributes: true, attributeFilter: ['data-painted'] })
  })))
  await page.mouse.up()
  const answered = await page.evaluate(() => globalThis.answered)
  console.log(`after letting go: drawn anew after ${answered.toFixed(1)} ms`)
  assert.ok(answered >= 0)
  await page.locator('.bar[data-stored][data-result][data-totals]').waitFor()
  console.log(await page.locator('.bar').evaluate((e) => `stored ${e.dataset.stored} ms, laid out ${e.dataset.laid} ms, proven ${e.dataset.result} ms, totals ${e.dataset.totals} ms after the edit`))
})
