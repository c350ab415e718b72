// Asking things of walls: by painting over them, and by the uses of the rooms that
// they part; and seeing at once what fails and by how much.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { click, drag, drawn, fill, stored, tool } from './drawing.mjs'
import { accessible, picture, start } from './harness.mjs'

test('demands', { timeout: 120_000 }, async (t) => {
  const site = await start({ demo: true })
  t.after(() => site.close())
  const page = await site.page()
  await site.visit(page, 'plan')
  await drawn(page)
  const wall = (plan, id) => plan.walls.find((w) => w.id === id)

  await t.test('painted over three walls in one stroke, as one edit', async () => {
    await tool(page, 'Demand')
    await fill(page, 'Sound', 'Rw 80')
    await drag(page, [2800, 1500], [3400, 1500], [6000, 1500], [6600, 1500], [9300, 1500], [9800, 1500])
    const plan = await stored(site, page)
    assert.deepEqual(['L0-02', 'L0-03', 'L0-04', 'L0-05'].map((id) => wall(plan, id).require?.sound), ['Rw 80', 'Rw 80', 'Rw 80', 'Rw 52'])
    await page.getByText('Saved, revision 2').waitFor()
  })

  await t.test('what fails is shaded, hatched and said, with by how much', async () => {
    await page.getByRole('combobox', { name: 'Show' }).selectOption('sound')
    await tool(page, 'Pick')
    await click(page, [3200, 1500])
    await page.locator('.wall-state').getByText(/Sound, Rw 80 asked/).waitFor()
    await page.locator('.wall-state .state-not_met').waitFor()
    await picture(page, 'demands-failing')
    await page.keyboard.press('Control+z')
    assert.equal(wall(await stored(site, page), 'L0-02').require.sound, 'Rw 50')
  })

  await t.test('between two uses of rooms', async () => {
    await page.locator('.drawing-over').press('Escape')
    await page.getByRole('button', { name: 'Demands by rooms …' }).click()
    const dialog = page.getByRole('dialog')
    await dialog.getByRole('button', { name: /^Between Consultation and Consultation: 3 walls/ }).click()
    await dialog.getByRole('combobox', { name: 'Fire' }).fill('EI 30')
    await dialog.getByRole('combobox', { name: 'Fire' }).press('Enter')
    await dialog.getByRole('button', { name: 'Ask it of 3 walls' }).click()
    await accessible(page)
    await dialog.getByRole('button', { name: 'Close' }).click()
    const plan = await stored(site, page)
    assert.deepEqual(['L0-02', 'L0-03', 'L0-04'].map((id) => wall(plan, id).require), Array(3).fill({ fire: 'EI 30', sound: 'Rw 50' }))
  })

  await t.test('by keyboard: of the walls selected', async () => {
    await page.locator('.drawing-over').focus()
    await page.keyboard.press('PageDown')
    await page.keyboard.press('d')
    await fill(page, 'Sound', 'Rw 51')
    await page.getByRole('button', { name: 'Ask it of the wall selected' }).press('Enter')
    assert.equal(wall(await stored(site, page), 'L0-01').require.sound, 'Rw 51')
  })
})
