// The list of projects: from nothing, from a file dropped on the page, and the
// demo; what an import found is shown.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { drawn, manyWalls } from './drawing.mjs'
import { accessible, start } from './harness.mjs'

// Drops a file on the page as a person does.
async function drop(page, name, text) {
  const data = await page.evaluateHandle(([name, text]) => {
    const d = new DataTransfer()
    d.items.add(new File([text], name))
    return d
  }, [name, text])
  await page.dispatchEvent('main.list', 'drop', { dataTransfer: data })
}

test('the list of projects', { timeout: 120_000 }, async (t) => {
  const site = await start()
  t.after(() => site.close())
  const page = await site.page()
  await site.visit(page)
  await page.getByText('None yet.').waitFor()
  await accessible(page)

  await t.test('a file dropped anywhere opens as a project', async () => {
    const small = { ...manyWalls(12), project: { name: 'Dropped' } }
    await drop(page, 'small.json', JSON.stringify(small))
    await drawn(page)
    await page.locator('.bar-project', { hasText: 'Dropped' }).waitFor()
  })

  await t.test('findings of a file are shown, and the project opens all the same', async () => {
    await site.visit(page)
    const odd = { ...manyWalls(12), project: { name: 'Odd' } }
    odd.walls[0] = { ...odd.walls[0], openings: [{ kind: 'door', at: 9000, width: 885, height: 2130 }] }
    await drop(page, 'odd.json', JSON.stringify(odd))
    const dialog = page.getByRole('dialog', { name: 'odd.json was read' })
    await dialog.getByText('write at: 2115 or less').waitFor()
    await accessible(page)
    await dialog.getByRole('button', { name: 'Open the project' }).click()
    await drawn(page)
  })

  await t.test('what cannot be read says why', async () => {
    await site.visit(page)
    site.expected.push(/Failed to load resource/)
    await drop(page, 'bad.yaml', 'walls: [')
    await page.getByRole('dialog', { name: 'bad.yaml could not be read' }).waitFor()
    await page.getByRole('button', { name: 'Close' }).click()
    await drop(page, 'letter.docx', 'x')
    await page.getByText('letter.docx cannot be read').waitFor()
  })

  await t.test('the demo; renamed; deleted', async () => {
    await page.getByRole('button', { name: /^Demo/ }).click()
    await drawn(page)
    await site.visit(page)
    await page.getByRole('button', { name: 'Rename Harbour clinic' }).click()
    await page.getByRole('dialog').getByRole('textbox').fill('Quay')
    await page.getByRole('dialog').getByRole('button', { name: 'Rename' }).click()
    await page.getByRole('button', { name: 'Delete Quay' }).click()
    await page.getByRole('dialog').getByRole('button', { name: 'Delete' }).click()
    await page.getByRole('button', { name: 'Delete Quay' }).waitFor({ state: 'detached' })
    assert.equal((await site.ask('/api/projects')).length, 2)
  })
})
