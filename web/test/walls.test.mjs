// Walls as a person looks at them: drawings, parts, in space, by keyboard alone, and the choice
// of what they are made of.
import assert from 'node:assert/strict'
import { after, before, test } from 'node:test'
import { accessible, picture, start } from './harness.mjs'
import { at as visit, drawn } from './views.mjs'

let site

before(async () => {
  site = await start({ demo: true })
})
after(() => site.close())

const at = (place, options) => visit(site, place, options)

test('a wall: parts pointed at in the drawing and in the list tell what they are and why', async () => {
  const page = await at('wall?wall=L0-05')
  await page.getByRole('heading', { name: 'Wall L0-05' }).waitFor()
  await drawn(page)
  await page.locator('.drawing-pane [data-part="S04"] path').first().hover()
  await page.getByRole('heading', { name: 'S04 stud' }).waitFor()
  await page.locator('.drawing-pane [data-part="S04"] path').first().click()
  const detail = page.getByRole('region', { name: 'Part', exact: true })
  await detail.getByText('3127 mm').waitFor()
  await detail.getByText('stud_spacing').waitFor()
  await detail.getByText('common practice').waitFor()
  assert.equal(await page.locator('.part-list tr.picked th').textContent(), 'S04')

  await page.locator('.part-list').getByText('N04', { exact: true }).click()
  await page.getByRole('heading', { name: 'N04 nogging' }).waitFor()
  await page.locator('.drawing-pane .picked[data-part="N04"]').waitFor()
  await accessible(page)

  await page.getByRole('checkbox', { name: 'Dimensions' }).uncheck()
  await page.locator('.drawing-pane [data-layer="dimensions"]').first().waitFor({ state: 'hidden' })

  await page.getByRole('link', { name: 'Face B, layer 2' }).click()
  await page.locator('.drawing-pane [data-part^="B2-"]').first().waitFor()
  await page.getByRole('link', { name: 'T junction: L0-01' }).click()
  await page.locator('.drawing-pane text', { hasText: 'layer 1' }).first().waitFor()
  await accessible(page)
  await page.getByRole('link', { name: 'Proof', exact: true }).last().click()
  await page.getByText('Not a certificate.', { exact: false }).waitFor()
})

test('a wall in space: layers come off, a part is picked', async () => {
  const page = await at('wall?wall=L0-02&show=solid')
  await page.locator('.stage-pane[aria-busy="false"] canvas').waitFor()
  await page.waitForTimeout(500)
  const pane = await page.locator('.stage-pane').boundingBox()
  await page.mouse.click(pane.x + pane.width / 2, pane.y + pane.height / 2)
  await page.getByRole('heading', { name: /^A2-\d+ board$/ }).waitFor()
  await page.getByRole('button', { name: 'Take a layer off face A' }).click()
  await page.getByRole('button', { name: 'Take a layer off face A' }).click()
  assert.equal(await page.getByRole('checkbox', { name: 'Face A, layer 1' }).isChecked(), false)
  await page.mouse.click(pane.x + pane.width / 2, pane.y + pane.height / 2)
  await page.getByRole('heading', { name: /^bay \d+ fill$/ }).waitFor()
  await page.locator('.stage-pane').focus()
  for (const key of ['ArrowLeft', 'ArrowUp', '+', 'Shift+ArrowRight', '0']) await page.keyboard.press(key)
  await accessible(page)
  await picture(page, 'solid-wall-laptop-light')
})

test('a whole level in space, and the drawing where there is no WebGL', async () => {
  const page = await at('solid?level=L0')
  await page.locator('.stage-pane[aria-busy="false"] canvas').waitFor()
  await page.waitForTimeout(800)
  await accessible(page)
  await picture(page, 'solid-level-laptop-light')

  const without = await site.page()
  await without.addInitScript(() => {
    HTMLCanvasElement.prototype.getContext = () => null
  })
  site.expected.push(/WebGL/)
  await site.visit(without, 'wall?wall=L0-02&show=solid')
  await without.getByText('cannot show 3-D', { exact: false }).waitFor()
  await drawn(without)
})

test('choice: what is asked is filled in, two are compared, one is given to a wall', async () => {
  const page = await at('wall?wall=L0-06&show=choice')
  const form = page.getByRole('form', { name: 'Asked of wall L0-06' })
  assert.equal(await form.getByLabel('Sound').inputValue(), 'Rw 48')
  await page.getByText('build-ups tried', { exact: false }).waitFor()
  await page.getByLabel('Ranked by').selectOption('mass')
  await page.locator('.choice[aria-busy="false"]').waitFor()
  const ticks = page.locator('.candidates').first().getByRole('checkbox')
  await ticks.nth(0).check()
  await ticks.nth(1).check()
  await page.getByRole('region', { name: 'Two build-ups side by side' }).waitFor()
  await accessible(page)
  await picture(page, 'choice-laptop-light')
  const before = (await site.ask(`api/projects/${site.project}`)).revision
  await page.getByRole('button', { name: 'Use …' }).first().click()
  const dialog = page.getByRole('dialog')
  const name = await dialog.getByLabel('Name of the build-up').inputValue()
  await accessible(page)
  await dialog.getByRole('button', { name: 'Give it to 1 wall' }).click()
  await page.locator('.facts b', { hasText: name }).first().waitFor()
  const after = await site.ask(`api/projects/${site.project}`)
  assert.equal(after.revision, before + 1)
  assert.equal(after.plan.walls.find((w) => w.id === 'L0-06').buildup, name)
})

test('by keyboard alone: from the plan to a wall, its parts, its face, its proof', async () => {
  const page = await at('plan?wall=L0-05')
  await page.getByRole('link', { name: 'Wall', exact: true }).waitFor()
  const tabTo = async (name, most = 60) => {
    for (let i = 0; i < most; i++) {
      await page.keyboard.press('Tab')
      if (await page.evaluate((n) => (document.activeElement?.getAttribute('aria-label') ?? document.activeElement?.textContent ?? '').trim().startsWith(n), name)) return
    }
    assert.fail(`no way to ${name} by Tab`)
  }
  await tabTo('Wall')
  await page.keyboard.press('Enter')
  await drawn(page)
  await tabTo('Wall L0-05, Frame')
  await page.keyboard.press('ArrowRight')
  await page.locator('.detail h3').waitFor()
  const first = await page.locator('.detail .mark').textContent()
  await page.keyboard.press('ArrowRight')
  assert.notEqual(await page.locator('.detail .mark').textContent(), first)
  for (const key of ['+', '+', '-', '0']) await page.keyboard.press(key)
  await tabTo('Parts')
  await page.keyboard.press('ArrowDown')
  await page.locator('.part-list tr.picked').waitFor()
  await page.evaluate(() => document.querySelector('.home')?.focus())
  await tabTo('Face A, layer 1')
  await page.keyboard.press('Enter')
  await page.locator('.drawing-pane [data-part^="A1-"]').first().waitFor()
})

test('German and feet and inches', async () => {
  const page = await at('wall?wall=L0-05&part=S04', { language: 'de', units: 'imperial' })
  await page.getByRole('heading', { name: 'Wand L0-05' }).waitFor()
  await page.getByRole('heading', { name: 'S04 Ständer' }).waitFor()
  await page.getByText(`10'-3 1/8"`).first().waitFor()
  await page.locator('.drawing-pane text', { hasText: `14'-5` }).first().waitFor()
  await picture(page, 'wall-de-imperial')
  for (const place of ['proof', 'material', 'changes', 'print', 'wall?wall=L0-05&show=choice', 'solid']) {
    await site.visit(page, place)
    await (place.includes('choice') ? page.locator('.candidates').first().waitFor({ timeout: 30_000 }) : page.waitForTimeout(1200))
    const texts = await page.locator('main').innerText()
    const key = /\b(wall|proof|material|order|cutting|price|changes|print|solid|choice|need|verdict|common|part|why|became|measure|standing)\.[a-z]/.exec(texts)
    assert.equal(key, null, `${place} shows the name of a text: ${key?.[0]}`)
    await picture(page, `${place.split('?')[0]}-${place.includes('choice') ? 'choice-' : ''}de`)
  }
})
