// Each main view of the plan, on a laptop and a tablet, light and dark: pictures to
// look at in out/screens, and axe-core on each.
import { test } from 'node:test'
import { click, drawn, tool } from './drawing.mjs'
import { accessible, laptop, picture, start } from './harness.mjs'

const sizes = { laptop, tablet: { width: 1024, height: 768, hasTouch: true } }

test('the plan and its dialogs', { timeout: 240_000 }, async (t) => {
  const site = await start({ demo: true })
  t.after(() => site.close())
  for (const [size, options] of Object.entries(sizes)) {
    for (const colorScheme of ['light', 'dark']) {
      await t.test(`${size}, ${colorScheme}`, async () => {
        const page = await site.page({ ...options, colorScheme })
        const seen = async (name) => {
          await page.waitForTimeout(250)
          await picture(page, `${name}-${size}-${colorScheme}`)
          await accessible(page)
        }
        await site.visit(page)
        await page.getByText('Harbour clinic').waitFor()
        await seen('list')
        await site.visit(page, 'plan')
        await drawn(page)
        await page.getByText(/To look at \([1-9]/).waitFor()
        await seen('plan')
        await click(page, [8000, 4800])
        await page.getByRole('heading', { name: 'Wall L0-01' }).waitFor()
        await seen('plan-wall')
        await page.getByRole('combobox', { name: 'Show' }).selectOption('sound')
        await seen('plan-sound')
        await page.getByRole('combobox', { name: 'Show' }).selectOption('all')
        await page.locator('.drawing-over').press('Escape')
        await seen('plan-checks')
        await page.getByRole('combobox', { name: 'Show' }).selectOption('plan')
        await page.getByRole('button', { name: 'Demands by rooms …' }).click()
        await page.getByRole('button', { name: /Between Corridor and Consultation|Between Consultation and Corridor/ }).click()
        await seen('rooms-demands')
        await page.getByRole('button', { name: 'Close' }).click()
        await page.getByRole('button', { name: 'Levels …' }).click()
        await seen('levels')
        await page.getByRole('button', { name: 'Close' }).click()
        await tool(page, 'Wall')
        await click(page, [20200, 4000])
        await page.mouse.move(...(await page.locator('.drawing-over').evaluate((e) => [e.getBoundingClientRect().width * 0.75, 400])))
        await seen('plan-drawing')
        await tool(page, 'Demand')
        await seen('plan-demand')
        await page.context().close()
      })
    }
  }
})
