// Helps browser tests to work on the drawing as a person does: by places on it,
// given in the plan's millimetres.

const over = '.drawing-over'

/** Waits until the plan is drawn. */
export async function drawn(page) {
  await page.locator('.drawing-plan[data-painted]').waitFor({ state: 'attached' })
}

/** Where a place of the plan is on the screen. */
export async function screen(page, [x, y]) {
  const box = await page.locator(over).boundingBox()
  const [cx, cy, scale] = await page.locator(over).evaluate((e) => [e.dataset.x, e.dataset.y, e.dataset.scale].map(Number))
  return [box.x + box.width / 2 + (x - cx) * scale, box.y + box.height / 2 - (y - cy) * scale]
}

export async function click(page, at, options) {
  const [x, y] = await screen(page, at)
  await page.mouse.move(x, y)
  await page.mouse.click(x, y, options)
}

export async function tap(page, at) {
  await page.touchscreen.tap(...(await screen(page, at)))
}

/** Drags from one place to another in a few steps, over the places between. */
export async function drag(page, ...places) {
  const [first, ...rest] = await Promise.all(places.map((p) => screen(page, p)))
  await page.mouse.move(...first)
  await page.mouse.down()
  for (const [x, y] of rest) await page.mouse.move(x, y, { steps: 6 })
  await page.mouse.up()
}

export const tool = (page, name) => page.getByRole('group', { name: 'Tools' }).getByRole('button', { name, exact: true }).click()

export const field = (page, name) => ['textbox', 'combobox'].map((role) => page.locator('.side').getByRole(role, { name, exact: true })).reduce((a, b) => a.or(b))

export async function fill(page, label, value) {
  await field(page, label).fill(value)
  await field(page, label).press('Enter')
}

/** The plan as the server has it, once all edits are stored. */
export async function stored(site, page) {
  await page.locator('.link', { hasText: /^(Saved|Gespeichert)/ }).waitFor()
  const id = /#\/p\/([^/]+)/.exec(page.url())[1]
  return (await site.ask(`/api/projects/${id}`)).plan
}

/** A level of square rooms with about so many walls. */
export function manyWalls(count) {
  const n = Math.ceil((Math.sqrt(1 + 2 * count) - 1) / 2)
  const walls = []
  const add = (line) => walls.push({ id: `L0-${String(walls.length + 1).padStart(2, '0')}`, level: 'L0', line, buildup: 'P75', openings: walls.length % 3 ? [] : [{ kind: 'door', at: 800, width: 885, height: 2130, leaf_mass: 25 }] })
  for (let i = 0; i <= n; i++) {
    for (let j = 0; j < n; j++) {
      add([[j * 3000, i * 3000], [j * 3000 + 3000, i * 3000]])
      add([[i * 3000, j * 3000], [i * 3000, j * 3000 + 3000]])
    }
  }
  return {
    nogging: 1,
    project: { name: 'Many walls' },
    practice: 'metric',
    levels: [{ id: 'L0', name: 'Ground floor', clear_height: 2750, floor: 'concrete', soffit: 'concrete' }],
    buildups: [{ id: 'P75', frame: { kind: 'single', stud: 'CW75' }, face_a: ['GKB-12.5', 'GKB-12.5'], insulation: [{ product: 'MW-60' }] }],
    walls,
  }
}

/** Starts a project from a plan. */
export async function imported(site, plan, name = 'plan.json') {
  const { id } = await site.ask(`/api/projects/import?name=${name}`, { method: 'POST', body: JSON.stringify(plan), headers: { 'content-type': 'application/octet-stream' } })
  return id
}
