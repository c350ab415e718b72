// Drawing a plan as a person does: with the mouse, by the keyboard alone, and with
// fingers.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { click, drag, drawn, field, fill, screen, stored, tap, tool } from './drawing.mjs'
import { accessible, start } from './harness.mjs'

async function empty(site, page) {
  await site.visit(page)
  await page.getByRole('button', { name: /^Empty/ }).click()
  await page.waitForURL(/#\/p\/.*\/plan/)
  await drawn(page)
}

async function addLevel(page) {
  await page.getByRole('button', { name: 'Levels …' }).click()
  await page.getByRole('button', { name: 'Add a level' }).click()
  await page.getByRole('button', { name: 'Show it' }).click()
}

// The walls of a plan as texts, in their order.
const lines = (plan) => plan.walls.map((w) => w.line.map((p) => p.join(',')).join(' '))

test('the plan', { timeout: 240_000 }, async (t) => {
  const site = await start()
  t.after(() => site.close())

  await t.test('by mouse: a room of four walls with a door, named; moved, split, undone', async () => {
    const page = await site.page()
    await empty(site, page)
    await tool(page, 'Wall')
    for (const at of [[1000, 1000], [7000, 1000], [7000, 5000], [1000, 5000], [1000, 1000]]) await click(page, at)
    let plan = await stored(site, page)
    assert.deepEqual(lines(plan), ['1000,1000 7000,1000', '7000,1000 7000,5000', '7000,5000 1000,5000', '1000,5000 1000,1000'])

    await tool(page, 'Opening')
    await click(page, [4000, 1000])
    plan = await stored(site, page)
    assert.equal(plan.walls[0].openings.length, 1)
    assert.ok(Math.abs(plan.walls[0].openings[0].at + 885 / 2 - 3000) <= 10, 'the door stands where it was dropped')

    await tool(page, 'Room')
    await click(page, [3000, 3000])
    await fill(page, 'Name', 'Office 1')
    await fill(page, 'Use', 'office')
    plan = await stored(site, page)
    assert.deepEqual([plan.rooms[0].name, plan.rooms[0].use, plan.rooms[0].outline.length], ['Office 1', 'office', 4])

    await tool(page, 'Pick')
    await drag(page, [7000, 3000], [7300, 3000], [7500, 3000])
    plan = await stored(site, page)
    assert.ok(plan.walls[1].line.every(([x]) => x > 7300 && x === plan.walls[1].line[0][0]), 'the wall was moved')
    assert.equal(plan.walls[0].line[1][0], plan.walls[1].line[0][0], 'the wall that met it was drawn along')

    await page.getByRole('button', { name: 'Split', exact: true }).click()
    assert.equal((await stored(site, page)).walls.length, 5)
    await page.getByRole('button', { name: 'Join into one' }).click()
    assert.equal((await stored(site, page)).walls.length, 4)
    for (let i = 0; i < 3; i++) await page.keyboard.press('Control+z')
    plan = await stored(site, page)
    assert.equal(plan.walls[1].line[0][0], 7000)
    await page.keyboard.press('Control+y')
    assert.ok((await stored(site, page)).walls[1].line[0][0] > 7300)
  })

  await t.test('by mouse: several walls by a box; demands, heights and build-up for all', async () => {
    const page = await site.page()
    await empty(site, page)
    await tool(page, 'Wall')
    for (const y of [1000, 3000, 5000]) {
      await click(page, [1000, y])
      await click(page, [6000, y])
      await page.keyboard.press('Escape')
    }
    await tool(page, 'Pick')
    await drag(page, [3000, 500], [4500, 5500])
    await page.getByRole('heading', { name: '3 walls' }).waitFor()
    await fill(page, 'Fire', 'EI 60')
    await fill(page, 'Height', '2.5 m')
    const plan = await stored(site, page)
    assert.deepEqual(plan.walls.map((w) => [w.require.fire, w.height]), [['EI 60', 2500], ['EI 60', 2500], ['EI 60', 2500]])
    await page.getByRole('button', { name: 'To the north' }).click()
    assert.equal((await stored(site, page)).walls.length, 6)
    await page.locator('.drawing-over').focus()
    await page.keyboard.press('Delete')
    assert.equal((await stored(site, page)).walls.length, 3)
  })

  await t.test('by keyboard alone: walls, a door, a room, a demand', async () => {
    const page = await site.page()
    await site.visit(page)
    await page.getByRole('button', { name: /^Empty/ }).focus()
    await page.keyboard.press('Enter')
    await page.waitForURL(/plan/)
    await drawn(page)
    // The drawing is reached with the tab key.
    for (let i = 0; i < 40; i++) {
      if (await page.evaluate(() => document.activeElement?.classList.contains('drawing-over'))) break
      await page.keyboard.press('Tab')
    }
    await page.keyboard.press('w')
    await page.keyboard.press('Enter')
    for (const [text, arrow] of [['4200', 'ArrowRight'], ['3 m', 'ArrowUp'], ['4200', 'ArrowLeft']]) {
      await page.keyboard.type(text)
      await page.keyboard.press(arrow)
    }
    await page.keyboard.type('3000')
    await page.keyboard.press('ArrowDown')
    let plan = await stored(site, page)
    assert.equal(plan.walls.length, 4)
    const length = ([[a, b], [c, d]]) => Math.hypot(c - a, d - b)
    assert.deepEqual(plan.walls.map((w) => Math.round(length(w.line))), [4200, 3000, 4200, 3000])

    await page.keyboard.press('Escape')
    await page.keyboard.press('PageDown')
    await page.keyboard.press('o')
    await page.keyboard.type('1200')
    await page.keyboard.press('Enter')
    plan = await stored(site, page)
    assert.equal(plan.walls.flatMap((w) => w.openings ?? [])[0].at, 1200)

    await page.keyboard.press('r')
    await page.keyboard.press('Enter')
    assert.equal((await stored(site, page)).rooms.length, 1)
    await page.keyboard.press('Escape')
    await page.keyboard.press('Control+a')
    await page.keyboard.press('ArrowRight')
    const moved = await stored(site, page)
    assert.notDeepEqual(lines(moved), lines(plan))
  })

  await t.test('by fingers: a wall by two taps, selected, and the view dragged', async () => {
    const page = await site.page({ width: 1024, height: 768, hasTouch: true })
    await empty(site, page)
    await page.getByRole('button', { name: 'Wall', exact: true }).tap()
    await tap(page, [2000, 2000])
    await tap(page, [6000, 2000])
    let plan = await stored(site, page)
    assert.deepEqual(lines(plan), ['2000,2000 6000,2000'])
    await page.getByRole('button', { name: 'Pick', exact: true }).tap()
    await tap(page, [4000, 2000])
    await page.getByRole('heading', { name: 'Wall L0-01' }).waitFor()
    for (const button of await page.locator('.toolbar button, .corner button').all()) {
      const box = await button.boundingBox()
      assert.ok(box.height >= 43.5, `${await button.innerText()} is ${box.height} px high`)
    }
  })

  await t.test('existing structure, levels, and copies to another level', async () => {
    const page = await site.page()
    await empty(site, page)
    await tool(page, 'Existing')
    await page.locator('.side').getByRole('combobox', { name: 'Kind' }).selectOption('column')
    await click(page, [2000, 2000])
    await tool(page, 'Wall')
    await click(page, [3000, 3000])
    await click(page, [6000, 3000])
    await page.keyboard.press('Escape')
    await addLevel(page)
    await page.locator('.toolbar select').first().selectOption({ index: 0 })
    await tool(page, 'Pick')
    await click(page, [4500, 3000])
    await page.locator('.inline', { hasText: 'Copy to another level' }).getByRole('button', { name: 'Copy' }).click()
    const plan = await stored(site, page)
    assert.equal(plan.structure[0].kind, 'column')
    assert.deepEqual(plan.walls.map((w) => w.level), [plan.levels[0].id, plan.levels[1].id])
    await accessible(page)
  })

  await t.test('feet and inches, and German', async () => {
    const page = await site.page({ width: 1280, height: 800, locale: 'de-DE' })
    await site.visit(page)
    await page.getByRole('button', { name: /^Leer/ }).click()
    await page.waitForURL(/plan/)
    await drawn(page)
    await page.getByText('Anzeige').click()
    await page.getByLabel('Fuß und Zoll').check()
    await page.keyboard.press('Escape')
    await page.getByRole('button', { name: 'Wand', exact: true }).click()
    const at = await screen(page, [0, 0])
    await page.mouse.click(...at)
    await page.locator('.drawing-over').focus()
    await page.keyboard.type(`9'-2"`)
    await page.keyboard.press('ArrowRight')
    const plan = await stored(site, page)
    assert.equal(Math.round(plan.walls[0].line[1][0] - plan.walls[0].line[0][0]), 2794)
    assert.equal(await page.evaluate(() => document.documentElement.lang), 'de')
  })
})
