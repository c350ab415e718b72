// Boxes, fixings, pipes and the height profile of a wall, placed and changed on its
// elevation: by mouse, by keyboard alone, and with fingers.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { imported } from './drawing.mjs'
import { accessible, picture, start } from './harness.mjs'

const plan = () => ({
  nogging: 1,
  project: { name: 'One wall' },
  practice: 'metric',
  levels: [{ id: 'L0', clear_height: 2750, floor: 'concrete', soffit: 'concrete' }],
  buildups: [{ id: 'P75', frame: { kind: 'single', stud: 'CW75' }, face_a: ['GKB-12.5', 'GKB-12.5'], insulation: [{ product: 'MW-60' }] }],
  walls: [{ id: 'L0-01', level: 'L0', line: [[0, 0], [5000, 0]], buildup: 'P75', openings: [{ id: 'D1', kind: 'door', at: 3500, width: 885, height: 2130, leaf_mass: 25 }] }],
})

/** Where a place on the elevation is on the screen. */
async function at(page, [u, z]) {
  const face = page.locator('.fit-face')
  const box = await face.boundingBox()
  const [scale, high, length] = await face.evaluate((e) => [e.dataset.scale, e.dataset.high, e.dataset.length].map(Number))
  const back = (await face.getAttribute('data-back')) === 'true'
  return [box.x + 46 + (back ? length - u : u) * scale, box.y + 30 + (high - z) * scale]
}

async function press(page, place) {
  const [x, y] = await at(page, place)
  await page.mouse.move(x, y)
  await page.mouse.click(x, y)
}

async function drag(page, from, to) {
  await page.mouse.move(...(await at(page, from)))
  await page.mouse.down()
  await page.mouse.move(...(await at(page, to)), { steps: 6 })
  await page.mouse.up()
}

const side = (page) => page.locator('.fit-side')
const fill = async (page, label, value) => {
  const f = side(page).getByRole('textbox', { name: label, exact: true })
  await f.fill(value)
  await f.press('Enter')
}
const tool = (page, name, group = 'What to place') => page.getByRole('group', { name: group }).getByRole('button', { name, exact: true }).click()

async function wall(site, page, id) {
  await page.locator('.link', { hasText: /^(Saved|Gespeichert)/ }).waitFor()
  return (await site.ask(`/api/projects/${id}`)).plan.walls[0]
}

const near = (a, b, within) => assert.ok(Math.abs(a - b) <= within, `${a} is not ${b}`)

test('what is on a wall', { timeout: 240_000 }, async (t) => {
  const site = await start()
  t.after(() => site.close())

  await t.test('by mouse: boxes, a basin, a pipe with a bend and a stepped top; each undone by one step', async () => {
    const id = await imported(site, plan())
    const page = await site.page()
    await site.visit(page, 'wall?wall=L0-01&show=fit', id)
    await page.locator('.fit-face').waitFor()
    await tool(page, 'Box')
    await press(page, [1000, 306])
    let w = await wall(site, page, id)
    assert.deepEqual([w.boxes[0].kind, w.boxes[0].face, w.boxes[0].at, w.boxes[0].height], ['socket', 'a', 1000, 310])
    await fill(page, 'Above the floor', '300')
    await fill(page, 'Side by side', '2')
    await press(page, [1800, 304]) // beside it: at the same height
    w = await wall(site, page, id)
    assert.deepEqual([w.boxes[0].gangs, w.boxes[1].height], [2, 300])

    await tool(page, 'Pick')
    await drag(page, [1800, 300], [2100, 1050])
    w = await wall(site, page, id)
    near(w.boxes[1].at, 2100, 15)
    near(w.boxes[1].height, 1050, 15)

    await tool(page, 'Face B', 'Side')
    await tool(page, 'Fixing')
    await press(page, [2500, 850])
    await fill(page, 'Mass', '18')
    w = await wall(site, page, id)
    assert.deepEqual([w.fixings[0].kind, w.fixings[0].face, w.fixings[0].width, w.fixings[0].mass], ['basin', 'b', 600, 18])
    near(w.fixings[0].at, 2200, 10)

    await tool(page, 'Pipe')
    for (const place of [[200, 400], [1500, 400], [1500, 2000]]) await press(page, place)
    await page.locator('.fit-face').focus()
    await page.keyboard.press('Enter')
    w = await wall(site, page, id)
    assert.equal(w.pipes[0].path.length, 3)
    await fill(page, 'Outside diameter', '50')
    await fill(page, 'Point 3, above the floor', '1.9 m')
    w = await wall(site, page, id)
    assert.deepEqual([w.pipes[0].diameter, w.pipes[0].path[2][1]], [50, 1900])

    await tool(page, 'Top')
    await side(page).getByRole('button', { name: 'Add a step' }).click()
    w = await wall(site, page, id)
    assert.deepEqual(w.heights, [{ at: 0, height: 2750 }, { at: 2500, height: 2750 }, { at: 2500, height: 2450 }, { at: 5000, height: 2450 }])
    await drag(page, [5000, 2450], [5000, 2600])
    w = await wall(site, page, id)
    near(w.heights[3].height, 2600, 15)
    await page.waitForTimeout(600)
    await picture(page, 'fit-laptop')
    await accessible(page)

    await page.keyboard.press('Control+z')
    await page.keyboard.press('Control+z')
    await page.locator('.fit-face .handle').first().waitFor({ state: 'detached' })
    w = await wall(site, page, id)
    assert.deepEqual([w.heights, w.pipes.length], [undefined, 1])
  })

  await t.test('what is wrong is told of the thing, as of the plan file', async () => {
    const id = await imported(site, plan())
    const page = await site.page()
    await site.visit(page, 'wall?wall=L0-01&show=fit', id)
    await page.locator('.fit-face').waitFor()
    await tool(page, 'Box')
    await press(page, [3900, 1000])
    await side(page).getByText('it lies in the opening D1').waitFor()
    await page.locator('.fit-face .thing.wrong').waitFor()
    await fill(page, 'Start to its middle', '3000')
    await page.locator('.fit-face .thing.wrong').waitFor({ state: 'detached' })
    // The part of the drawing that the box makes is there as well.
    await page.getByRole('link', { name: 'Face A, layer 2' }).click()
    await page.locator('.drawing-pane svg').waitFor()
  })

  await t.test('by keyboard alone', async () => {
    const id = await imported(site, plan())
    const page = await site.page()
    await site.visit(page, 'wall?wall=L0-01&show=fit', id)
    await page.locator('.fit-face').focus()
    await page.keyboard.press('b')
    await page.keyboard.press('Enter')
    await page.keyboard.press('Shift+ArrowLeft')
    await page.keyboard.press('ArrowUp')
    let w = await wall(site, page, id)
    assert.deepEqual([w.boxes[0].at, w.boxes[0].height], [2600, 310]) // face A runs from right to left
    await page.keyboard.press('i')
    await page.keyboard.press('Enter')
    await page.keyboard.press('h')
    await page.keyboard.press('Enter')
    w = await wall(site, page, id)
    assert.equal(w.pipes.length, 1)
    assert.deepEqual(w.heights.map((h) => h.at), [0, 2500, 5000])
    await page.keyboard.press('Delete')
    await page.keyboard.press('PageDown')
    await page.keyboard.press('Delete')
    w = await wall(site, page, id)
    assert.equal(w.boxes, undefined)
  })

  await t.test('with fingers, in German and in the dark; heights are mended where the wall is sloped', async () => {
    const id = await imported(site, { ...plan(), walls: [{ ...plan().walls[0], heights: [{ at: 0, height: 2400 }, { at: 5000, height: 3000 }] }] })
    const page = await site.page({ width: 1180, height: 820, hasTouch: true, locale: 'de-DE', colorScheme: 'dark' })
    await site.visit(page, 'wall?wall=L0-01&show=fit', id)
    await page.locator('.fit-face').waitFor()
    await page.getByRole('group', { name: 'Was gesetzt wird' }).getByRole('button', { name: 'Dose', exact: true }).tap()
    await page.touchscreen.tap(...(await at(page, [1200, 1050])))
    const w = await wall(site, page, id)
    near(w.boxes[0].at, 1200, 25)
    await page.waitForTimeout(500)
    await picture(page, 'fit-tablet-de-dark')
    await accessible(page)
  })
})
