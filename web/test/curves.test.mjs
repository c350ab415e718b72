// Drawing and changing curved walls as a person does: by mouse, by keyboard alone, in
// feet and inches, and with fingers.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { click, drag, drawn, field, fill, screen, stored, tap, tool } from './drawing.mjs'
import { accessible, picture, start } from './harness.mjs'

async function empty(site, page) {
  await site.visit(page)
  await page.getByRole('button', { name: /^Empty/ }).click()
  await page.waitForURL(/#\/p\/.*\/plan/)
  await drawn(page)
}

const near = (a, b, within = 12) => assert.ok(Math.hypot(a[0] - b[0], a[1] - b[1]) <= within, `${a} is not ${b}`)
const curve = (page) => page.locator('.side').getByRole('checkbox', { name: 'Curved (C)' })

/** Where the handle is that bends the wall selected, 20 pixels beside the face at its middle. */
async function handle(page, middle, left, thickness = 100) {
  const [x, y] = await screen(page, [middle[0] + (left[0] * thickness) / 2, middle[1] + (left[1] * thickness) / 2])
  return [x + left[0] * 20, y - left[1] * 20]
}

test('curved walls', { timeout: 240_000 }, async (t) => {
  const site = await start()
  t.after(() => site.close())

  await t.test('by mouse: drawn by three points, with a door and a room; bent, split, joined, mirrored, made straight', async () => {
    const page = await site.page()
    await empty(site, page)
    await tool(page, 'Wall')
    for (const at of [[8000, 1000], [2000, 1000], [2000, 5000], [8000, 5000]]) await click(page, at)
    await curve(page).check()
    await click(page, [8000, 1000]) // the end of the curved wall
    await page.getByText('Through which point does it run?').waitFor()
    const [x, y] = await screen(page, [9500, 3000])
    await page.mouse.move(x, y)
    await page.locator('.statusline').getByText(/radius 2,?083.3 mm, rise 1,?500 mm/).waitFor()
    await picture(page, 'curve-drawn')
    await page.mouse.click(x, y)
    let plan = await stored(site, page)
    const bow = plan.walls[3]
    assert.deepEqual([bow.line, bow.via], [[[8000, 5000], [8000, 1000]], [9500, 3000]])

    await tool(page, 'Opening')
    await click(page, [9500, 3000])
    plan = await stored(site, page)
    // Half of the arc of radius 2083.3 mm over 4 m: its middle is 4 m off the start, or so.
    const angle = 2 * Math.atan2(1500, 2000) // half of the arc's, from rise and half chord
    assert.ok(Math.abs(plan.walls[3].openings[0].at + 885 / 2 - ((2000 ** 2 + 1500 ** 2) / 3000) * angle) <= 12, 'the door stands at the middle of the arc')

    await tool(page, 'Room')
    await click(page, [5000, 3000])
    plan = await stored(site, page)
    assert.ok(plan.rooms[0].outline.length > 10, 'the room follows the curved wall')
    assert.ok(plan.rooms[0].outline.some(([u]) => u > 9400))

    await tool(page, 'Pick')
    await click(page, [8458, 4804]) // on the arc, beside the door
    await page.getByRole('heading', { name: 'Wall L0-04' }).waitFor()
    await page.waitForTimeout(400) // the server's body of it
    await picture(page, 'curve-selected')
    await fill(page, 'Rise to face A (− to face B)', '1000')
    plan = await stored(site, page)
    near(plan.walls[3].via, [9000, 3000], 1)
    await page.getByRole('button', { name: 'Make it straight' }).click()
    plan = await stored(site, page)
    assert.equal(plan.walls[3].via, undefined)
    assert.ok(Math.abs(plan.walls[3].openings[0].at + 885 / 2 - 2000) < 12, 'the door is at the middle still')

    // Bent by its handle, to the side of face A, which is in the east.
    await page.waitForTimeout(400)
    const thickness = (await site.ask(`/api/projects/${page.url().match(/p\/([^/]+)/)[1]}/level/L0`)).walls.find((w) => w.id === 'L0-04').thickness
    const [hx, hy] = await handle(page, [8000, 3000], [1, 0], thickness)
    const scale = Number(await page.locator('.drawing-over').getAttribute('data-scale'))
    await page.mouse.move(hx, hy)
    await page.mouse.down()
    await page.mouse.move(hx + 700 * scale, hy, { steps: 6 })
    await page.mouse.up()
    plan = await stored(site, page)
    near(plan.walls[3].via, [8700, 3000], 101)

    await page.getByRole('button', { name: 'Split', exact: true }).click()
    plan = await stored(site, page)
    assert.equal(plan.walls.length, 5)
    assert.ok(plan.walls[3].via && plan.walls[4].via)
    await page.getByRole('button', { name: 'Join into one' }).click()
    plan = await stored(site, page)
    assert.equal(plan.walls.length, 4)
    near(plan.walls[3].via, [8700, 3000], 101)
    await page.getByRole('button', { name: 'To the east' }).click()
    plan = await stored(site, page)
    assert.equal(plan.walls.length, 5)
    assert.ok(plan.walls[4].via[0] < 8000 === false)
    for (let i = 0; i < 6; i++) await page.keyboard.press('Control+z')
    await page.getByText(/undone|Undone/).first().waitFor().catch(() => {})
    plan = await stored(site, page)
    assert.equal(plan.walls.length, 4)
    await accessible(page)
  })

  await t.test('new walls snap to a curved one: to its line and in its tangent', async () => {
    const page = await site.page()
    await empty(site, page)
    await tool(page, 'Wall')
    await curve(page).check()
    for (const at of [[2000, 2000], [8000, 2000], [5000, 5000]]) await click(page, at) // half a circle of 3 m about 5000, 2000
    await page.keyboard.press('Escape')
    await curve(page).uncheck()
    await click(page, [5000, 7000])
    const on = [5000 + 3000 * Math.cos(1.1), 2000 + 3000 * Math.sin(1.1)]
    await click(page, [on[0] + 15, on[1] + 15])
    const plan = await stored(site, page)
    const [x, y] = plan.walls[1].line[1]
    assert.ok(Math.abs(Math.hypot(x - 5000, y - 2000) - 3000) < 0.01, `${x}, ${y} is not on ${JSON.stringify(plan.walls)}`)
  })

  await t.test('by keyboard alone, in feet and inches: a rise by an arrow key, then a radius', async () => {
    const page = await site.page()
    await empty(site, page)
    await page.getByRole('button', { name: /Display/ }).click().catch(() => {})
    await page.evaluate(() => localStorage.setItem("nogging.units", "imperial"))
    await page.keyboard.press('Escape')
    await page.reload()
    await drawn(page)
    await page.locator('.drawing-over').focus()
    await page.keyboard.press('c')
    await page.keyboard.press('Enter')
    await page.keyboard.type("10'")
    await page.keyboard.press('ArrowRight')
    await page.keyboard.type('2\'-6"')
    await page.keyboard.press('ArrowDown')
    let plan = await stored(site, page)
    const length = ([[a, b], [c, d]]) => Math.hypot(c - a, d - b)
    assert.equal(plan.walls.length, 1)
    assert.ok(Math.abs(length(plan.walls[0].line) - 3048) < 0.01)
    assert.ok(Math.abs(plan.walls[0].line[0][1] - plan.walls[0].via[1] - 762) < 0.01, 'it is bent south by 2 ft 6 in')
    await page.keyboard.type("10'")
    await page.keyboard.press('ArrowRight')
    await page.keyboard.type("r 4'")
    await page.keyboard.press('Enter')
    await page.getByText(/a radius of at least half the distance/).waitFor()
    await page.keyboard.press('Backspace')
    await page.keyboard.press('Backspace')
    await page.keyboard.type("5'")
    await page.keyboard.press('Enter')
    plan = await stored(site, page)
    assert.equal(plan.walls.length, 2)
    assert.ok(Math.abs(Math.abs(plan.walls[1].via[1] - plan.walls[1].line[0][1]) - 1524) < 0.01, 'half a circle')
  })

  await t.test('with fingers, in German and in the dark', async () => {
    const page = await site.page({ width: 1180, height: 820, hasTouch: true, locale: 'de-DE', colorScheme: 'dark' })
    await site.visit(page)
    await page.getByRole('button', { name: /^Leer/ }).tap()
    await page.waitForURL(/#\/p\/.*\/plan/)
    await drawn(page)
    await page.getByRole('group', { name: 'Werkzeuge' }).getByRole('button', { name: 'Wand', exact: true }).tap()
    await page.locator('.side').getByRole('checkbox', { name: 'Gebogen (C)' }).check()
    await tap(page, [2000, 2000])
    await tap(page, [7000, 2000])
    await page.locator('.statusline').getByText('Durch welchen Punkt läuft sie?').waitFor()
    await tap(page, [4500, 3200])
    const id = page.url().match(/p\/([^/]+)/)[1]
    await page.locator('.link', { hasText: /^Gespeichert/ }).waitFor()
    const { plan } = await site.ask(`/api/projects/${id}`)
    near(plan.walls[0].via, [4500, 3200], 60)
    await accessible(page)
    await page.waitForTimeout(500)
    await picture(page, 'curve-tablet-de-dark')
  })
})
