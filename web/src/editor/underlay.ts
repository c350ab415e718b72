// The scan, photo or page beneath a level: loading it, and where it lies. Its
// scale comes from two points clicked on it and the length between them. It is
// no part of the plan, so that moving it is no edit.

import { effect, signal } from '@preact/signals'
import type { Placement } from '../api.ts'
import { api } from '../api.ts'
import type { Point } from '../geometry/vec.ts'
import { add, distance, scale, sub, turned } from '../geometry/vec.ts'
import { project } from '../state.ts'
import { failed } from '../sync.ts'
import type { Camera, Size } from './camera.ts'
import { toScreen } from './camera.ts'
import { fit, level } from './session.ts'

export interface Underlay {
  project: string
  level: string
  image: HTMLImageElement
  at: Placement
}

export const underlay = signal<Underlay | null>(null)
// The two points of the scale as they are clicked.
export const measure = signal<Point[]>([])

let wanted = ''

// Loads the underlay of the level that is shown.
effect(() => {
  const p = project.value?.id
  const l = level.value
  const key = p && l ? `${p} ${l}` : ''
  if (key === wanted) return
  wanted = key
  underlay.value = null
  measure.value = []
  if (p && l) void load(p, l).catch(failed)
})

async function load(p: string, l: string): Promise<void> {
  const at = await api.placement(p, l)
  if (!at) return
  const image = await decoded(`${api.underlayURL(p, l)}?v=${Date.now()}`)
  if (wanted === `${p} ${l}`) underlay.value = { project: p, level: l, image, at }
}

async function decoded(url: string): Promise<HTMLImageElement> {
  const image = new Image()
  image.src = url
  await image.decode()
  return image
}

// Puts a picture beneath the level. Until its scale is set it is taken to be
// 20 m wide, in the middle of what is seen.
export async function putPicture(picture: Blob, middle: Point): Promise<void> {
  const p = project.value?.id
  const l = level.value
  if (!p || !l) return
  await api.putUnderlay(p, l, picture)
  const url = URL.createObjectURL(picture)
  const image = await decoded(url)
  const mmPerPixel = 20000 / image.naturalWidth
  const [w, h] = [image.naturalWidth * mmPerPixel, image.naturalHeight * mmPerPixel]
  underlay.value = { project: p, level: l, image, at: { x: middle[0] - w / 2, y: middle[1] - h / 2, mmPerPixel, turn: 0, fade: 0.4 } }
  fit({ x0: middle[0] - w / 2, y0: middle[1] - h / 2, x1: middle[0] + w / 2, y1: middle[1] + h / 2 })
  await api.place(p, l, underlay.value.at)
}

let due: ReturnType<typeof setTimeout> | undefined

// Lays the underlay elsewhere at once; the server is told when it has come to rest.
export function place(change: Partial<Placement>): void {
  const u = underlay.value
  if (!u) return
  const at = { ...u.at, ...change }
  underlay.value = { ...u, at }
  clearTimeout(due)
  due = setTimeout(() => void api.place(u.project, u.level, at).catch(failed), 250)
}

// Moves the picture, and with it the points pressed on it.
export function slide(by: Point): void {
  const u = underlay.value
  if (!u) return
  measure.value = measure.value.map((p) => add(p, by))
  place({ x: u.at.x + by[0], y: u.at.y + by[1] })
}

export async function removePicture(): Promise<void> {
  const u = underlay.value
  if (!u) return
  underlay.value = null
  measure.value = []
  await api.removeUnderlay(u.project, u.level)
}

export function calibrate(p: Point): void {
  if (underlay.value) measure.value = measure.value.length >= 2 ? [p] : [...measure.value, p]
}

// Makes the two points clicked lie so far apart; the first stays where it is.
export function setScale(mm: number): void {
  const [a, b] = measure.value
  const u = underlay.value
  if (!a || !b || !u || mm <= 0 || distance(a, b) === 0) return
  const k = mm / distance(a, b)
  const corner = add(a, scale(sub([u.at.x, u.at.y], a), k))
  place({ x: corner[0], y: corner[1], mmPerPixel: u.at.mmPerPixel * k })
  measure.value = []
}

// Turns the underlay such that the two points lie level or upright, whichever is
// nearer; the first stays where it is.
export function setLevel(): void {
  const [a, b] = measure.value
  if (!a || !b) return
  const angle = (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI
  turnAbout(a, Math.round(angle / 90) * 90 - angle)
  measure.value = []
}

export function turnAbout(p: Point, degrees: number): void {
  const u = underlay.value
  if (!u) return
  const corner = turned([u.at.x, u.at.y], p, degrees)
  place({ x: corner[0], y: corner[1], turn: u.at.turn + degrees })
}

export function middleOf(u: Underlay): Point {
  const half: Point = [(u.image.naturalWidth * u.at.mmPerPixel) / 2, (u.image.naturalHeight * u.at.mmPerPixel) / 2]
  return turned(add([u.at.x, u.at.y], half), [u.at.x, u.at.y], u.at.turn)
}

// Pixel rows run down, the plan's y up; the picture's lower left corner is its
// place in the plan.
export function paintUnderlay(ctx: CanvasRenderingContext2D, ratio: number, camera: Camera, size: Size): void {
  const u = underlay.peek()
  if (!u) return
  const [x, y] = toScreen(camera, size, [u.at.x, u.at.y])
  const k = u.at.mmPerPixel * camera.scale
  ctx.save()
  ctx.setTransform(ratio, 0, 0, ratio, x * ratio, y * ratio)
  ctx.rotate((-u.at.turn * Math.PI) / 180)
  ctx.scale(k, k)
  ctx.globalAlpha = 1 - u.at.fade
  ctx.drawImage(u.image, 0, -u.image.naturalHeight)
  ctx.restore()
}
