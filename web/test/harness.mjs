// What every browser test needs: the real program on a free port with a fresh
// database, a browser that takes note of all that goes wrong, axe-core, and
// pictures of what was seen.
//
//   const site = await start({ demo: true })
//   const page = await site.page()
//   await site.visit(page, 'plan')
//   await accessible(page)
//   await picture(page, 'plan-light')
//   await site.close()      // fails if the page logged an error or asked another host
import assert from 'node:assert/strict'
import { spawn } from 'node:child_process'
import { mkdir, mkdtemp, readFile, rm } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { chromium } from 'playwright-core'

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..')
const program = process.env.NOGGING ?? join(root, 'bin', 'nogging')
const screens = join(root, 'out', 'screens')

// Without these a browser in a closed network, or run as root, does not start or
// tries many connections of its own.
const flags = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync', '--use-angle=swiftshader', '--enable-unsafe-swiftshader']

/** The size of a 13-inch laptop; a 10-inch tablet is {width: 1180, height: 820, hasTouch: true}. */
export const laptop = { width: 1280, height: 800 }

/** Starts the program: {demo} opens it on the demo, {data} on a database that is kept, {args} gives it more flags. */
export async function start({ demo = false, data, args = [] } = {}) {
  const dir = await mkdtemp(join(tmpdir(), 'nogging-'))
  const server = await serve(data ?? join(dir, 'test.db'), demo ? ['--demo', ...args] : args)
  const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: flags })
  return new Site(dir, server, browser)
}

/** Starts `nogging serve` and waits until it says where it is. */
async function serve(data, args) {
  const child = spawn(program, ['serve', '--listen', '127.0.0.1:0', '--data', data, ...args], { stdio: ['ignore', 'pipe', 'pipe'] })
  const log = []
  child.stderr.setEncoding('utf8').on('data', (text) => log.push(text))
  const address = await new Promise((found, failed) => {
    let said = ''
    child.stdout.setEncoding('utf8').on('data', (text) => {
      said += text
      const match = /nogging is at (\S+)/.exec(said)
      if (match) found(match[1])
    })
    child.on('error', (e) => failed(new Error(`${program} could not be started (make build): ${e.message}`)))
    child.on('exit', (code) => failed(new Error(`nogging serve ended with ${code}: ${log.join('')}`)))
  })
  const [url, project] = address.split('#/p/')
  return { child, log, url, project }
}

class Site {
  /** What went wrong on the pages: errors they logged, requests to other hosts. */
  errors = []
  /** What the pages may log as an error, as they do where a test asks for something that is refused. */
  expected = []

  constructor(dir, server, browser) {
    Object.assign(this, { dir, server, browser, url: server.url, project: server.project })
  }

  /** A page of its own, with no memory of others. */
  async page({ width, height, ...options } = laptop) {
    const context = await this.browser.newContext({ viewport: { width, height }, acceptDownloads: true, locale: 'en-GB', ...options })
    const page = await context.newPage()
    page.setDefaultTimeout(30_000)
    page.on('pageerror', (e) => this.errors.push(e.stack ?? String(e)))
    page.on('console', (m) => m.type() === 'error' && this.errors.push(`${m.text()} (${m.location().url})`))
    page.on('request', (r) => {
      if (!r.url().startsWith(this.url) && !/^(data|blob):/.test(r.url())) this.errors.push(`the page asked ${r.url()}`)
    })
    return page
  }

  /** Goes to a place of a project, of the demo's if none is given; with no place, to the list of projects. */
  async visit(page, place, project = this.project) {
    await page.goto(place === undefined ? this.url : `${this.url}#/p/${project}/${place}`)
  }

  /** Asks the server without the page: the answer's JSON, or an Error with its status. */
  async ask(path, { method = 'GET', json, body, headers = {} } = {}) {
    if (json !== undefined) [body, headers] = [JSON.stringify(json), { ...headers, 'content-type': 'application/json' }]
    const answer = await fetch(new URL(path, this.url), { method, body, headers })
    const text = await answer.text()
    if (!answer.ok) throw Object.assign(new Error(`${method} ${path}: ${answer.status} ${text}`), { status: answer.status })
    return text === '' ? undefined : JSON.parse(text)
  }

  /** Ends everything, and fails if a page had errors that were not expected. */
  async close() {
    await this.browser.close()
    this.server.child.kill()
    await rm(this.dir, { recursive: true, force: true })
    const bad = this.errors.filter((e) => !this.expected.some((x) => e.match(x)))
    assert.deepEqual(bad, [], 'errors of the page')
  }
}

const axe = readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

/** Fails if axe-core finds a serious or critical fault on the page. */
export async function accessible(page) {
  await page.evaluate(await axe) // as script of the test, not of the page, so that its policy stands
  const faults = await page.evaluate(async () => {
    const result = await globalThis.axe.run(document, { resultTypes: ['violations'] })
    return result.violations.filter((v) => v.impact === 'serious' || v.impact === 'critical')
      .map((v) => `${v.id}: ${v.help}: ${v.nodes.map((n) => n.target.join(' ')).join(', ')}`)
  })
  assert.deepEqual(faults, [])
}

/** Keeps a picture of the page in out/screens. */
export async function picture(page, name) {
  await mkdir(screens, { recursive: true })
  await page.screenshot({ path: join(screens, `${name}.png`) })
}
