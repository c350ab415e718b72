// Edits when two work on one plan, and when the server is away.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { click, drawn, fill, stored } from './drawing.mjs'
import { accessible, start } from './harness.mjs'

const lobby = [3200, 2400] // on wall L0-02 of the demo

test('nothing is lost', { timeout: 180_000 }, async (t) => {
  const site = await start({ demo: true })
  t.after(() => site.close())
  site.expected.push(/409|Failed to load resource|net::ERR/)

  const open = async () => {
    const page = await site.page()
    await site.visit(page, 'plan')
    await drawn(page)
    await click(page, lobby)
    await page.getByRole('heading', { name: 'Wall L0-02' }).waitFor()
    return page
  }
  const sound = (plan) => plan.walls.find((w) => w.id === 'L0-02').require.sound

  await t.test('what one does, the other sees', async () => {
    const [one, two] = [await open(), await open()]
    await fill(one, 'Sound', 'Rw 53')
    await two.waitForFunction(() => [...document.querySelectorAll('.side input')].some((i) => i.value === 'Rw 53'))
  })

  await t.test('two who change the same wall: both versions are shown, and one is chosen', async () => {
    const [one, two] = [await open(), await open()]
    await two.route('**/events**', (route) => route.abort()) // hears nothing more
    await two.reload()
    await drawn(two)
    await fill(one, 'Sound', 'Rw 48')
    await stored(site, one)
    await fill(two, 'Sound', 'Rw 60')
    const dialog = two.getByRole('dialog', { name: 'Somebody else changed the same' })
    await dialog.waitFor()
    assert.match(await dialog.innerText(), /Rw 60[\s\S]*Rw 48/)
    await accessible(two)
    await dialog.getByRole('button', { name: 'Take the other' }).click()
    assert.equal(sound(await stored(site, one)), 'Rw 48')
    await fill(one, 'Sound', 'Rw 50')
    await stored(site, one)
    await fill(two, 'Sound', 'Rw 62')
    await dialog.getByRole('button', { name: 'Keep mine' }).click()
    await one.waitForFunction(() => [...document.querySelectorAll('.side input')].some((i) => i.value === 'Rw 62'))
  })

  await t.test('without the server edits wait, also over a reload, and are stored when it is back', async () => {
    const page = await open()
    await page.route('**/edits', (route) => route.abort())
    await fill(page, 'Sound', 'Rw 55')
    await page.getByText('No connection: 1 edit waits').waitFor()
    await fill(page, 'Fire', 'EI 90')
    await page.getByText('No connection: 2 edits wait').waitFor()
    assert.match(await page.locator('.side').innerText(), /L0-02/)
    page.on('dialog', (d) => void d.accept())
    await page.reload()
    await drawn(page)
    await page.getByText('No connection: 2 edits wait').waitFor()
    await page.unroute('**/edits')
    const wall = (await stored(site, page)).walls.find((w) => w.id === 'L0-02')
    assert.deepEqual([wall.require.sound, wall.require.fire], ['Rw 55', 'EI 90'])
  })
})
