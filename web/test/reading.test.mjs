// A drawing is read, looked at, mended and taken in, as a project and as a level.
import assert from 'node:assert/strict'
import { existsSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { test } from 'node:test'
import { click, drawn, stored } from './drawing.mjs'
import { rooms } from './dxf.mjs'
import { accessible, laptop, picture, start } from './harness.mjs'

export async function drop(page, target, name, content) {
  const data = await page.evaluateHandle(([name, content]) => {
    const d = new DataTransfer()
    d.items.add(new File([content], name))
    return d
  }, [name, content])
  await page.dispatchEvent(target, 'drop', { dataTransfer: data })
}

const row = (page, name) => page.locator('.read-row', { hasText: name })
const read = (page) => page.locator('.read-row').first().waitFor()

test('a drawing is read and taken in', { timeout: 240_000 }, async (t) => {
  const site = await start()
  t.after(() => site.close())
  const page = await site.page()
  await site.visit(page)

  await t.test('what was recognised lies over it, with its confidence', async () => {
    await drop(page, 'main.list', 'two rooms.dxf', rooms({ mm: 1, units: 4 }))
    await read(page)
    await page.getByRole('heading', { name: /things recognised/ }).waitFor()
    assert.equal(await page.getByRole('alert').count(), 0, 'the header is borne out')
    const door = row(page, 'Door')
    assert.match(await door.innerText(), /900 mm wide[\s\S]*95 % clear/)
    await door.locator('.read-pick').click()
    await page.getByText('the arc of a door leaf fits it').waitFor()
    await picture(page, 'reading')
    await accessible(page)
  })

  await t.test('accepted, refused, mended; undone', async () => {
    await page.getByLabel('Name').waitFor({ state: 'detached' })
    await page.getByRole('spinbutton').fill('60')
    await page.getByRole('button', { name: /^Accept \d+$/ }).click()
    await page.getByRole('button', { name: /^Take in \d+ …$/ }).waitFor()
    await click(page, [4050, 800]) // the wall between the rooms
    const thick = page.getByRole('textbox', { name: 'Thickness' })
    await thick.fill('125')
    await thick.press('Enter')
    await page.locator('.read-detail').getByText(/125 mm, /).waitFor()
    await page.getByRole('button', { name: 'Undo' }).click()
    await page.locator('.read-detail').getByText(/100 mm, /).waitFor()
    await page.getByRole('button', { name: 'Redo' }).click()
    await page.getByRole('button', { name: 'Refuse', exact: true }).click()
    await page.locator('.read-detail').getByText('refused').waitFor()
    await page.getByRole('button', { name: 'Undo' }).click()
  })

  await t.test('two lines are a wall; a door is marked', async () => {
    await page.getByRole('group', { name: 'Tools for the drawing' }).getByRole('button', { name: 'Two lines' }).click()
    await click(page, [6500, 2000])
    await page.getByText('Now press on').waitFor()
    await click(page, [6500, 2120])
    await page.locator('.read-detail').getByText(/120 mm, 1000 mm long · by hand/).waitFor()
    await page.getByRole('group', { name: 'Tools for the drawing' }).getByRole('button', { name: 'Door' }).click()
    await click(page, [2000, 50])
    await page.locator('.read-detail').getByText(/885 mm wide · by hand/).waitFor()
    await picture(page, 'reading-mended')
    await accessible(page)
  })

  await t.test('taken in as a project', async () => {
    await page.getByRole('button', { name: /^Take in/ }).click()
    await accessible(page)
    await page.getByRole('dialog').getByLabel('Clear height').fill('2.6 m')
    await page.getByRole('dialog').getByRole('button', { name: 'Take in' }).click()
    await page.getByRole('button', { name: 'Open the project' }).or(page.locator('.drawing-plan')).first().waitFor()
    const open = page.getByRole('button', { name: 'Open the project' })
    if (await open.isVisible()) await open.click()
    await drawn(page)
    const plan = await stored(site, page)
    assert.equal(plan.project.name, 'two rooms')
    assert.equal(plan.levels[0].clear_height, 2600)
    assert.deepEqual(plan.walls.map((w) => w.thickness).sort(), [100, 100, 100, 100, 120, 125])
    assert.equal(plan.walls.flatMap((w) => w.openings ?? []).length, 2)
    assert.deepEqual(plan.rooms.map((r) => r.name).sort(), ['OFFICE', 'STORE'])
  })

  await t.test('taken in as a level of the open project, in one step of undo', async () => {
    await drop(page, '.plan', 'upper.dxf', rooms({ mm: 1000, units: 6 }))
    await read(page)
    await page.getByRole('spinbutton').fill('0')
    await page.getByRole('button', { name: /^Accept \d+$/ }).click()
    await page.getByRole('button', { name: /^Take in/ }).click()
    await page.getByRole('dialog').getByRole('button', { name: 'Take in' }).click()
    await drawn(page)
    const plan = await stored(site, page)
    assert.deepEqual(plan.levels.map((l) => l.id), ['L0', 'L1'])
    assert.equal(plan.walls.filter((w) => w.level === 'L1').length, 5)
    await page.getByRole('button', { name: 'Undo' }).click()
    await page.getByText('Undone: upper.dxf taken in on L1').waitFor()
    assert.deepEqual((await stored(site, page)).levels.map((l) => l.id), ['L0'])
  })

  await t.test('the unit is asked for where the header is wrong, the layers mapped by hand and remembered', async () => {
    await site.visit(page)
    await drop(page, 'main.list', 'odd.dxf', rooms({ mm: 25.4, units: 4, walls: 'X1' }))
    await read(page)
    await page.getByText('The file says 1 mm, which the drawing does not bear out.').waitFor()
    assert.match(await page.getByLabel('One unit is').locator('option:checked').innerText(), /1 inch: 8.2 × 4.2 m/)
    await picture(page, 'reading-unit')
    await page.getByRole('button', { name: 'This one' }).click()
    await page.getByRole('alert').waitFor({ state: 'detached' })
    await page.getByText(/^Layers \(/).click()
    await page.getByLabel('What layer FURN shows').selectOption('other')
    await page.getByRole('button', { name: 'Forget' }).waitFor()
    await page.getByLabel('What layer X1 shows').selectOption('structure')
    await row(page, 'Existing wall').first().waitFor()
    const [file] = await Promise.all([page.waitForEvent('download'), page.getByRole('link', { name: 'Save as a file' }).click()])
    assert.match(await readFile(await file.path(), 'utf8'), /layer: X1\n\s+as: structure/)
    await accessible(page)
    await page.getByRole('button', { name: 'Leave it' }).click()
    await drop(page, 'main.list', 'again.dxf', rooms({ units: 4, walls: 'X1' }))
    await row(page, 'Existing wall').first().waitFor()
  })

  await t.test('by keyboard alone', async () => {
    await page.locator('.read-pick').first().focus()
    await page.keyboard.press('Enter')
    await page.keyboard.press('a')
    await page.locator('.read-row.taken').first().waitFor()
    await page.keyboard.press('ArrowDown')
    await page.keyboard.press('x')
    await page.locator('.read-row.refused').first().waitFor()
    await page.keyboard.press('Control+z')
    await page.locator('.read-row.refused').waitFor({ state: 'detached' })
  })

  await t.test('what is no drawing says why', async () => {
    site.expected.push(/Failed to load resource/)
    await site.visit(page)
    await drop(page, 'main.list', 'bad.dxf', 'not a drawing')
    await page.getByRole('heading', { name: 'bad.dxf could not be read' }).waitFor()
    await page.getByText('export the plan as .dxf').waitFor()
    await accessible(page)
  })

  const sample = new URL('../../../shared/data/plans/open/dxf2004_house_aia_layers.dxf', import.meta.url)
  await t.test('an open sample', { skip: !existsSync(sample) && process.env.CI !== 'true' && 'the sample drawings are not there' }, async () => {
    for (const [size, options] of Object.entries({ laptop, tablet: { width: 1024, height: 768, hasTouch: true } })) {
      for (const colorScheme of ['light', 'dark']) {
        const other = await site.page({ ...options, colorScheme })
        await site.visit(other)
        await other.locator('input[type=file]').setInputFiles(sample.pathname)
        await read(other)
        await other.locator('.read-row', { hasText: 'Door' }).first().locator('.read-pick').click()
        await other.waitForTimeout(300)
        await picture(other, `reading-${size}-${colorScheme}`)
        await accessible(other)
        await other.context().close()
      }
    }
  })
})
