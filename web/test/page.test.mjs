// The page as a whole: how heavy it is, how soon it shows something, and that it
// keeps to its policy.
import assert from 'node:assert/strict'
import { readdir, stat } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { after, before, test } from 'node:test'
import { fileURLToPath } from 'node:url'
import { accessible, laptop, picture, start } from './harness.mjs'

const dist = join(dirname(fileURLToPath(import.meta.url)), '..', 'dist')

let site
before(async () => { site = await start({ demo: true }) })
after(() => site.close())

test('the demo weighs less than 400 kB compressed until 3-D or a PDF is asked for', async (t) => {
  const page = await site.page()
  let weight = 0
  const files = []
  page.on('requestfinished', async (r) => {
    if (new URL(r.url()).pathname.startsWith('/api/')) return
    files.push(r.sizes().then((s) => { weight += s.responseBodySize }))
  })
  await site.visit(page, 'plan')
  await page.waitForSelector('main')
  await page.waitForTimeout(500) // what it loads of its own accord
  await Promise.all(files)
  t.diagnostic(`${files.length} files, ${(weight / 1000).toFixed(1)} kB compressed`)
  assert.ok(weight > 10_000 && weight < 400_000, `${weight} bytes`)
})

test('the first meaningful paint of the demo', async (t) => {
  const times = []
  for (let i = 0; i < 3; i++) {
    const page = await site.page()
    await site.visit(page, 'plan')
    await page.waitForSelector('main')
    times.push(await page.evaluate(() => new Promise((told) => {
      new PerformanceObserver((list) => told(list.getEntries().at(-1).startTime)).observe({ type: 'largest-contentful-paint', buffered: true })
    })))
    await page.context().close()
  }
  times.sort((a, b) => a - b)
  t.diagnostic(`largest paint after ${times.map((x) => x.toFixed(0)).join(', ')} ms`) // a figure, not a limit: the machine may be busy
})

test('assets have names that tell their content, and are kept', async () => {
  const page = await fetch(site.url)
  assert.equal(page.headers.get('cache-control'), 'no-cache')
  const text = await page.text()
  const [script] = text.match(/\/assets\/main-[A-Z0-9]{8}\.js/)
  const asset = await fetch(new URL(script, site.url), { headers: { 'accept-encoding': 'gzip' } })
  assert.equal(asset.headers.get('cache-control'), 'public, max-age=31536000, immutable')
  assert.equal(asset.headers.get('content-encoding'), 'gzip')
  for (const name of await readdir(join(dist, 'assets'))) {
    if (/\.(js|css)$/.test(name)) assert.ok((await stat(join(dist, 'assets', name))).size > 0)
  }
})

test('what would run a stranger\'s script is not run', async () => {
  const page = await site.page()
  site.expected.push(/Content Security Policy/, /violates the following/)
  await page.goto(site.url)
  const ran = await page.evaluate(() => new Promise((told) => {
    const script = document.createElement('script')
    script.textContent = 'globalThis.ran = true'
    document.head.append(script)
    const image = document.createElement('div')
    image.innerHTML = '<img src="data:," onerror="globalThis.ran = true">'
    document.body.append(image)
    setTimeout(() => told(globalThis.ran === true), 300)
  }))
  assert.equal(ran, false)
})

test('the list of projects', async () => {
  for (const colorScheme of ['light', 'dark']) {
    const page = await site.page({ ...laptop, colorScheme })
    await site.visit(page)
    await page.getByText('Harbour clinic').first().waitFor()
    await accessible(page)
    await picture(page, `projects-${colorScheme}`)
  }
})
