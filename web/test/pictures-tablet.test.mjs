// Pictures of every view on a 10-inch tablet, light and dark, to be looked at.
import { after, before, test } from 'node:test'
import { start } from './harness.mjs'
import { pictures, tablet } from './views.mjs'

let site

before(async () => {
  site = await start({ demo: true })
})
after(() => site.close())

test('tablet, light', () => pictures(site, 'tablet-light', { size: tablet }))
test('tablet, dark', () => pictures(site, 'tablet-dark', { size: tablet, dark: true }))
