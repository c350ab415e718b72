// A scan or a PDF page beneath the plan: laid there, scaled by two presses and a
// length, turned, faded, still there after a reload.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { deflateSync } from 'node:zlib'
import { click, drawn, tool } from './drawing.mjs'
import { accessible, picture, start } from './harness.mjs'

// A white picture with a black frame 100 pixels in from its edges.
function png(width, height) {
  const chunk = (type, data) => {
    const body = Buffer.concat([Buffer.from(type), data])
    const out = Buffer.alloc(body.length + 8)
    out.writeUInt32BE(data.length)
    body.copy(out, 4)
    out.writeUInt32BE(crc(body), body.length + 4)
    return out
  }
  const rows = Buffer.alloc((width + 1) * height, 255)
  for (let y = 0; y < height; y++) {
    rows[y * (width + 1)] = 0
    for (let x = 0; x < width; x++) {
      const d = Math.min(x - 100, y - 100, width - 101 - x, height - 101 - y)
      if (d >= 0 && d < 4) rows[y * (width + 1) + 1 + x] = 0
    }
  }
  const head = Buffer.alloc(13)
  head.writeUInt32BE(width)
  head.writeUInt32BE(height, 4)
  head.set([8, 0, 0, 0, 0], 8)
  return Buffer.concat([Buffer.from('89504e470d0a1a0a', 'hex'), chunk('IHDR', head), chunk('IDAT', deflateSync(rows)), chunk('IEND', Buffer.alloc(0))])
}

// CRC 32 of the PNG standard (ISO/IEC 15948, annex D).
function crc(data) {
  let c = ~0
  for (const b of data) {
    c ^= b
    for (let k = 0; k < 8; k++) c = c & 1 ? (c >>> 1) ^ 0xedb88320 : c >>> 1
  }
  return ~c >>> 0
}

// A PDF of two A4 pages, each with a square of 200 points.
function pdf() {
  const content = '2 w 100 100 200 200 re S'
  const page = (kids) => `<</Type/Page/Parent 2 0 R/MediaBox[0 0 595 842]/Contents ${kids} 0 R>>`
  const objects = ['<</Type/Catalog/Pages 2 0 R>>', '<</Type/Pages/Kids[3 0 R 4 0 R]/Count 2>>', page(5), page(5), `<</Length ${content.length}>>stream\n${content}\nendstream`]
  let text = '%PDF-1.4\n'
  const at = objects.map((o, i) => {
    const offset = text.length
    text += `${i + 1} 0 obj${o}endobj\n`
    return offset
  })
  const table = text.length
  text += `xref\n0 6\n0000000000 65535 f \n${at.map((o) => `${String(o).padStart(10, '0')} 00000 n \n`).join('')}`
  return Buffer.from(`${text}trailer<</Size 6/Root 1 0 R>>\nstartxref\n${table}\n%%EOF`)
}

test('a picture beneath the plan', { timeout: 120_000 }, async (t) => {
  const site = await start()
  t.after(() => site.close())
  const page = await site.page()
  await site.visit(page)
  await page.getByRole('button', { name: /^Empty/ }).click()
  await drawn(page)
  const placement = async () => {
    await page.waitForTimeout(500) // it is sent when it has come to rest
    return site.ask(`/api/projects/${/#\/p\/([^/]+)/.exec(page.url())[1]}/underlays/L0/placement`)
  }

  await t.test('laid there, and scaled by two presses and a length', async () => {
    await tool(page, 'Underlay')
    await page.locator('.side input[type=file]').setInputFiles({ name: 'scan.png', mimeType: 'image/png', buffer: png(1200, 900) })
    await page.getByText('Press on two points').waitFor()
    const before = await placement()
    // The frame is 1000 pixels wide; say that it is 12.5 m.
    const corner = (k) => [before.x + (100 + 1000 * k) * before.mmPerPixel, before.y + 800 * before.mmPerPixel]
    await click(page, corner(0))
    await click(page, corner(1))
    await page.getByLabel('Their distance').fill('12.5 m')
    await page.getByRole('button', { name: 'Set the scale' }).click()
    const after = await placement()
    assert.ok(Math.abs(after.mmPerPixel - 12.5) < 0.15, `${after.mmPerPixel} mm a pixel`)
  })

  await t.test('turned and faded; there again after a reload', async () => {
    await page.getByRole('button', { name: 'Turn by 90°' }).click()
    await page.getByRole('slider').fill('0.7')
    const at = await placement()
    assert.deepEqual([at.turn, at.fade], [90, 0.7])
    await accessible(page)
    await picture(page, 'underlay')
    await page.reload()
    await drawn(page)
    await tool(page, 'Underlay')
    await page.getByText('Faded by 70 %').waitFor()
  })

  await t.test('a page of a PDF', async () => {
    await page.locator('.side input[type=file]').setInputFiles({ name: 'plan.pdf', mimeType: 'application/pdf', buffer: pdf() })
    await page.getByRole('dialog', { name: '2 pages' }).waitFor()
    await page.getByLabel('Which page?').fill('2')
    await page.getByRole('button', { name: 'Take it', exact: true }).click()
    await page.getByText('Faded by 40 %').waitFor({ timeout: 30_000 })
    const at = await placement()
    assert.ok(Math.abs(at.mmPerPixel * Math.round((5000 * 595) / 842) - 20000) < 10)
  })
})
