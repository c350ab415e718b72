// A schedule and measured points are taken in: looked at first, columns mapped by
// hand and remembered, each one edit that undo takes back.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { drawn, imported, manyWalls, stored } from './drawing.mjs'
import { accessible, picture, start } from './harness.mjs'

const give = (page, name, text) => page.locator('.side input[type=file]').setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text) })
const undo = (page) => page.getByRole('button', { name: 'Undo' }).click()

test('schedules and surveys', { timeout: 180_000 }, async (t) => {
  const site = await start()
  t.after(() => site.close())
  const id = await imported(site, manyWalls(12))
  const page = await site.page()
  await site.visit(page, 'plan', id)
  await drawn(page)
  const dialog = page.getByRole('dialog')

  await t.test('a schedule with columns and words of its own', async () => {
    await give(page, 'walls.csv', 'Nr;FR class\nL0-01;Type 2\nL0-02;EI 30\n')
    await dialog.getByText('Nothing changes.').waitFor()
    await dialog.getByLabel('Wall number').selectOption('Nr')
    await dialog.getByRole('combobox', { name: 'Fire', exact: true }).selectOption('FR class')
    await dialog.getByText('1 value changes').first().waitFor()
    await dialog.getByLabel('Fire: Type 2 means').fill('EI 60')
    await dialog.getByRole('button', { name: 'Read it so' }).click()
    await dialog.getByText('2 values change').first().waitFor()
    await picture(page, 'intake-schedule')
    await accessible(page)
    await dialog.getByRole('button', { name: 'Change 2 objects' }).click()
    const plan = await stored(site, page)
    assert.deepEqual(plan.walls.slice(0, 2).map((w) => w.require?.fire), ['EI 60', 'EI 30'])
    await undo(page)
    await page.getByText('Undone: walls.csv taken in').waitFor()
    assert.ok((await stored(site, page)).walls.every((w) => !w.require))
  })

  await t.test('what was said of it is remembered', async () => {
    await give(page, 'more.csv', 'Nr;FR class\nL0-03;Type 2\n')
    await dialog.getByRole('button', { name: 'Change 1 object' }).click()
    assert.equal((await stored(site, page)).walls[2].require.fire, 'EI 60')
    assert.match(await (await fetch(new URL(`/api/projects/${id}/tables/columns.yaml`, site.url))).text(), /fire: FR class/i)
  })

  await t.test('measured points, with what differs', async () => {
    const points = ['point,x,y,z,on']
    for (const x of [0, 1, 2, 3]) points.push(`F${x},${x},0,0,floor`, `S${x},${x},0,${x < 2 ? 2.75 : 2.69},soffit`)
    await give(page, 'points.csv', points.join('\n'))
    await dialog.getByText('give the unit of the coordinates').first().waitFor()
    await dialog.getByLabel('Lengths without a unit are in').selectOption('m')
    await dialog.getByText(/places differ by more than/).first().waitFor()
    await picture(page, 'intake-survey')
    await accessible(page)
    await dialog.getByRole('button', { name: /^Change \d+ object/ }).click()
    const bent = (await stored(site, page)).walls.find((w) => w.id === 'L0-01')
    assert.ok(bent.heights.some((h) => Math.abs(h.height - 2690) < 1), JSON.stringify(bent.heights))
    await undo(page)
    await page.getByText('Undone: points.csv taken in').waitFor()
    assert.equal((await stored(site, page)).walls.find((w) => w.id === 'L0-01').heights, undefined)
  })

  await t.test('what cannot be read is told; in German and dark, too', async () => {
    site.expected.push(/Failed to load resource/)
    await page.getByText('Display').click()
    await page.getByLabel('Deutsch').check()
    await page.getByLabel('Dunkel').check()
    await page.locator('.display summary').click()
    await give(page, 'broken.xlsx', 'PK\x03\x04 nothing')
    await dialog.getByText('als Arbeitsmappe').waitFor()
    await dialog.getByRole('button', { name: 'Abbrechen' }).click()
    await give(page, 'türen.csv', 'Tür;Breite\n1;2\n')
    await dialog.getByText('eine Wand- oder Türliste').waitFor({ state: 'attached' })
    await picture(page, 'intake-dark-german')
    await accessible(page)
  })
})
