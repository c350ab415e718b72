// What the tests of the views share: pages at a place of the demo, and the pictures
// of every view.
import { accessible, laptop, picture } from './harness.mjs'

export const tablet = { width: 1180, height: 820, hasTouch: true }

/** A page of a site at a place, light or dark, in a language and in units. */
export async function at(site, place, { size = laptop, dark = false, language = 'en', units = 'metric' } = {}) {
  const page = await site.page({ ...size, colorScheme: dark ? 'dark' : 'light' })
  await page.addInitScript((o) => {
    for (const [key, value] of Object.entries(o)) if (!localStorage.getItem(`nogging.${key}`)) localStorage.setItem(`nogging.${key}`, value)
  }, { language, units, appearance: dark ? 'dark' : 'light' })
  await site.visit(page, place)
  return page
}

export const drawn = (page) => page.locator('.drawing-pane svg [data-part]').first().waitFor()

const views = {
  wall: 'wall?wall=L0-05&part=S04', 'wall-boards': 'wall?wall=L0-01&show=a2', section: 'wall?wall=L0-01&show=section12', 'solid-level': 'solid?level=L0',
  proof: 'proof?wall=L0-01&need=sound', takeoff: 'material', order: 'material?of=order', cutting: 'material?of=cutting', price: 'material?of=price', programme: 'programme?start=2027-01-11', changes: 'changes', print: 'print',
}

/** Keeps a picture of every view and holds it against the rules of accessibility. */
export async function pictures(site, name, options) {
  const page = await at(site, 'wall', options)
  for (const [view, place] of Object.entries(views)) {
    await site.visit(page, place)
    await page.locator('main [aria-busy="true"]').waitFor({ state: 'detached', timeout: 60_000 })
    await page.waitForTimeout(400)
    await accessible(page)
    await picture(page, `${view}-${name}`)
  }
}
