// Pictures of every view on a 13-inch laptop, light and dark, to be looked at.
import { after, before, test } from 'node:test'
import { laptop, start } from './harness.mjs'
import { pictures } from './views.mjs'

let site

before(async () => {
  site = await start({ demo: true })
})
after(() => site.close())

test('laptop, light', () => pictures(site, 'laptop-light', { size: laptop }))
test('laptop, dark', () => pictures(site, 'laptop-dark', { size: laptop, dark: true }))
