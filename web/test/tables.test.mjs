// Proof, material and price, changes and print, as a person uses them.
import assert from 'node:assert/strict'
import { after, before, test } from 'node:test'
import { accessible, picture, start } from './harness.mjs'
import { at as visit } from './views.mjs'

let site

before(async () => {
  site = await start({ demo: true })
})
after(() => site.close())

const at = (place, options) => visit(site, place, options)

test('proof: filtered, sorted, and opened down to the source of a figure', async () => {
  const page = await at('proof')
  await page.getByRole('row').nth(30).waitFor()
  await page.getByLabel('Outcome').selectOption('passes')
  await page.getByLabel('Requirement').selectOption('sound')
  const rows = page.locator('tbody tr')
  const n = await rows.count()
  assert.ok(n > 0 && n < 65, `${n} rows`)
  for (const text of await page.locator('tbody tr td:nth-child(6)').allTextContents()) assert.match(text, /✓ passes/)
  await page.getByRole('button', { name: 'Wall', exact: true }).click()
  await page.getByRole('button', { name: 'Wall', exact: true }).click()
  assert.equal(await page.getByRole('columnheader', { name: /^Wall/ }).getAttribute('aria-sort'), 'descending')
  await page.locator('tbody tr').first().getByRole('button', { name: /passes/ }).first().click()
  const panel = page.getByRole('complementary', { name: 'How it was found' })
  await panel.locator('summary').first().click()
  await panel.getByText('Source').first().waitFor()
  await accessible(page)
  await picture(page, 'proof-open-laptop-light')
})

test('material: tables follow an edit; files come down', async () => {
  const page = await at('material')
  const row = page.locator('tbody tr', { hasText: 'Door opening, 885 x 2130' })
  const doors = Number(await row.locator('td').nth(2).textContent())
  const now = await site.ask(`api/projects/${site.project}`)
  const wall = now.plan.walls.find((w) => w.id === 'L0-05')
  wall.openings = [...(wall.openings ?? []), { kind: 'door', at: 3420, width: 885, height: 2130, leaf_mass: 30 }]
  await site.ask(`api/projects/${site.project}/edits`, { method: 'POST', json: { base: now.revision, client: 'test', label: 'door', changes: [{ kind: 'walls', id: 'L0-05', value: wall }] } })
  await row.locator('td').nth(2).filter({ hasText: String(doors + 1) }).waitFor()
  const [file] = await Promise.all([page.waitForEvent('download'), page.getByRole('link', { name: 'takeoff.csv' }).click()])
  assert.equal(file.suggestedFilename(), 'takeoff.csv')
  await accessible(page)

  await page.getByRole('link', { name: 'Order', exact: true }).click()
  await page.getByText('cutting plan', { exact: false }).first().waitFor({ timeout: 90_000 })
  await accessible(page)
  await page.getByRole('link', { name: 'Cutting', exact: true }).click()
  await page.locator('.bars svg').first().waitFor()
  await page.getByLabel('Product').selectOption('GKB-12.5')
  await page.locator('.way svg').first().waitFor()
  await accessible(page)
  await picture(page, 'cutting-laptop-light')
  await page.getByRole('link', { name: 'Price', exact: true }).click()
  await page.getByText('Net price').first().waitFor({ timeout: 90_000 })
  assert.match((await page.locator('.sums tr', { hasText: 'Total' }).textContent()) ?? '', /€[\d,]+\.\d\d/)
  await accessible(page)
})

test('changes: a revision is named, two are compared, and one is gone back to', async () => {
  const now = await site.ask(`api/projects/${site.project}`)
  const page = await at('changes')
  await page.getByRole('button', { name: 'Name revision 1', exact: true }).click()
  await page.getByLabel('Name, such as').fill('issue A')
  await page.getByRole('button', { name: 'Save' }).click()
  await page.locator('.revision-mark', { hasText: 'issue A' }).waitFor()
  await page.getByRole('radio', { name: 'Revision 1 as before', exact: true }).check()
  await page.getByRole('radio', { name: `Revision ${now.revision} as after`, exact: true }).check()
  await page.locator('.plan-changes .became.changed').first().waitFor({ state: 'attached', timeout: 90_000 })
  await page.locator('.became-word.changed').first().waitFor()
  await accessible(page)
  await picture(page, 'changes-laptop-light')
  await page.getByRole('button', { name: 'Go back to revision 1', exact: true }).click()
  await page.getByRole('button', { name: 'Go back to it' }).click()
  await page.getByText(`Saved, revision ${now.revision + 1}`).waitFor()
})

test('print: parts are chosen, progress is shown, the file comes; long work can be stopped', async () => {
  const page = await at('print')
  const part = (name) => page.getByRole('checkbox', { name: new RegExp(`^${name}`) })
  for (const name of ['Rules of practice', 'Details', 'Walls', 'Finish schedules', 'Proof', 'Beside block walls', 'Findings']) await part(name).uncheck()
  await accessible(page)
  await picture(page, 'print-laptop-light')
  await page.getByRole('button', { name: 'Make the pack' }).click()
  await page.getByText('Ready.').waitFor({ timeout: 60_000 })
  const [file] = await Promise.all([page.waitForEvent('download'), page.getByRole('link', { name: 'Download the pack' }).click()])
  assert.equal(file.suggestedFilename(), 'pack.pdf')
  for (const name of ['Details', 'Walls', 'Proof']) await part(name).check()
  await page.getByRole('button', { name: 'Make the pack' }).click()
  await page.getByRole('button', { name: 'Stop' }).click()
  await page.getByText('Stopped.').waitFor()
})

test('programme: from the first day on, with what each gang does and what has to come', async () => {
  const page = await at('programme?start=2027-01-11')
  await page.getByText('Last work').waitFor({ timeout: 60_000 })
  await page.locator('.programme-sheets svg text', { hasText: 'W02' }).first().waitFor()
  await page.getByRole('button', { name: 'Next three weeks' }).click()
  await page.getByRole('cell', { name: 'Mon 11 Jan 07:00' }).first().waitFor()
  await page.getByRole('button', { name: 'Deliveries' }).click()
  await page.getByRole('cell', { name: 'boards', exact: true }).first().waitFor()
  await accessible(page)
  await page.getByLabel('First day').fill('2027-02-01')
  await page.getByRole('button', { name: 'Next three weeks' }).click()
  await page.getByRole('cell', { name: 'Mon 1 Feb 07:00' }).first().waitFor({ timeout: 60_000 })
})
