// What is written on the drawing: names of rooms, marks of walls and what fails
// at them. A label that would lie upon another is left out; coming nearer makes
// room for it.

import { onWall, wallLength } from '../geometry/body.ts'
import type { Point, Segment } from '../geometry/vec.ts'
import { boxesMeet, distance } from '../geometry/vec.ts'
import type { Camera, Size } from './camera.ts'
import { seen, toScreen } from './camera.ts'
import type { Look, Painted, Shade } from './paint.ts'
import type { Scene, SceneWall } from './scene.ts'
import { lineHeight, seatAt, seatsIn } from './seats.ts'

const font = 'system-ui, "Noto Sans", sans-serif'
const roomSize = 12
const leastRoomSize = 9.5
const markSize = 10.5
// Width of a letter over its size, about.
const letter = 0.55

interface Room {
  x: number
  y: number
  w: number
  h: number
}

export function labels(ctx: CanvasRenderingContext2D, camera: Camera, size: Size, painted: Painted, look: Look): void {
  const view = seen(camera, size)
  const taken = new Taken()
  ctx.textAlign = 'center'
  ctx.textBaseline = 'middle'
  ctx.lineJoin = 'round'
  ctx.lineWidth = 3
  ctx.strokeStyle = look.theme.paper
  for (const w of painted.scene.walls) {
    const shade = painted.shades.get(w.wall.id) ?? 'plain'
    // What fails is written first, so that names make room for it.
    if (shade === 'not_met' && boxesMeet(w.box, view)) wallLabel(ctx, camera, size, w, shade, look, taken)
  }
  ctx.font = `${roomSize}px ${font}`
  ctx.fillStyle = look.theme.soft
  for (const r of painted.scene.rooms) {
    const wide = Math.max(r.box.x1 - r.box.x0, r.box.y1 - r.box.y0) * camera.scale
    if (boxesMeet(r.box, view) && wide > 3 * leastRoomSize) roomLabel(ctx, camera, size, painted.scene, r, look.roomLabel(r.room), taken)
  }
  for (const w of painted.scene.walls) {
    const shade = painted.shades.get(w.wall.id) ?? 'plain'
    if (shade !== 'not_met' && boxesMeet(w.box, view)) wallLabel(ctx, camera, size, w, shade, look, taken)
  }
}

// The name and beneath it what else there is room for: on one line, or a word on each.
function roomLabel(ctx: CanvasRenderingContext2D, camera: Camera, size: Size, scene: Scene, room: Scene['rooms'][number], [name = '', ...more]: readonly string[], taken: Taken): void {
  const words = name.split(' ')
  const ways = words.length > 1 ? [[name, ...more], [...words, ...more], [name], words] : [[name, ...more], [name]]
  const seat = seatAt(seatsIn(scene, room, ways, (text) => widthOf(ctx, text)), camera.scale, roomSize, leastRoomSize)
  if (!seat) return
  const letters = Math.min(roomSize, seat.size * camera.scale)
  const [w, h] = [Math.max(...seat.lines.map((l) => widthOf(ctx, l))) * letters + 8, seat.lines.length * lineHeight * letters]
  const [x, y] = toScreen(camera, size, seat.p)
  if (!taken.take(seat.turned ? { x, y, w: h, h: w } : { x, y, w, h })) return
  ctx.save()
  ctx.translate(x, y)
  if (seat.turned) ctx.rotate(-Math.PI / 2)
  ctx.font = `${letters}px ${font}`
  seat.lines.forEach((l, i) => ctx.fillText(l, 0, (i - (seat.lines.length - 1) / 2) * lineHeight * letters))
  ctx.restore()
}

// How wide a text is over the size of its letters.
const widths = new Map<string, number>()

function widthOf(ctx: CanvasRenderingContext2D, text: string): number {
  let w = widths.get(text)
  if (w === undefined) {
    const before = ctx.font
    ctx.font = `100px ${font}`
    w = ctx.measureText(text).width / 100
    ctx.font = before
    widths.set(text, w)
  }
  return w
}

// The mark stands beside the wall at its middle, read from below or from the
// right; with it what fails, where that is shown. Grave findings carry a sign.
function wallLabel(ctx: CanvasRenderingContext2D, camera: Camera, size: Size, w: SceneWall, shade: Shade, look: Look, taken: Taken): void {
  const [from, to] = chordOf(w.wall)
  const [a, b] = [toScreen(camera, size, from), toScreen(camera, size, to)]
  const length = distance(a, b)
  const width = (text: string) => text.length * markSize * letter
  const sign = shade === 'plain' ? { error: '■ ', warning: '▲ ', assumed: '', note: '', '': '' }[w.brief?.status.findings ?? ''] : ''
  if (length < width(w.wall.id)) return
  const full = sign + [w.wall.id, look.label(w)].filter((t) => t !== '').join(' · ')
  // What fails may stand out beyond the wall, so that it is seen by how much.
  const text = width(full) <= length * (shade === 'not_met' ? 1.9 : 1) ? full : sign + w.wall.id
  let angle = Math.atan2(b[1] - a[1], b[0] - a[0])
  if (angle > Math.PI / 2 + 0.01 || angle <= -Math.PI / 2 + 0.01) angle += Math.PI
  const off = ((w.brief?.thickness ?? 100) * camera.scale) / 2 + markSize * 0.75
  const [mx, my] = toScreen(camera, size, onWall(w.wall, wallLength(w.wall) / 2))
  const at: Point = [mx + Math.sin(angle) * off, my - Math.cos(angle) * off]
  const [c, s] = [Math.abs(Math.cos(angle)), Math.abs(Math.sin(angle))]
  if (!taken.take({ x: at[0], y: at[1], w: width(text) * c + markSize * s, h: width(text) * s + markSize * c })) return
  ctx.save()
  ctx.font = `${shade === 'not_met' || sign !== '' ? '600 ' : ''}${markSize}px ${font}`
  ctx.translate(at[0], at[1])
  ctx.rotate(angle)
  ctx.fillStyle = shade === 'not_met' || sign.startsWith('■') ? look.theme.fail : shade === 'not_proven' || sign !== '' ? look.theme.open : look.theme.ink
  ctx.strokeText(text, 0, 0)
  ctx.fillText(text, 0, 0)
  ctx.restore()
}

// The straight stretch beside which a wall's mark stands: of a curved wall the
// part about its middle.
function chordOf(w: SceneWall['wall']): Segment {
  const l = wallLength(w)
  return w.via ? [onWall(w, l * 0.35), onWall(w, l * 0.65)] : w.line
}

// The places on screen at which something is written, in cells for quick finding.
class Taken {
  private readonly cells = new Map<number, Room[]>()

  // Takes a place by its middle and size, or says that part of it is taken.
  take(r: Room): boolean {
    const keys = cellsOf(r)
    if (keys.some((k) => this.cells.get(k)?.some((o) => Math.abs(o.x - r.x) * 2 < o.w + r.w && Math.abs(o.y - r.y) * 2 < o.h + r.h))) return false
    for (const k of keys) {
      const list = this.cells.get(k)
      if (list) list.push(r)
      else this.cells.set(k, [r])
    }
    return true
  }
}

const cell = 80

function cellsOf(r: Room): number[] {
  const keys: number[] = []
  for (let i = Math.floor((r.x - r.w / 2) / cell); i <= Math.floor((r.x + r.w / 2) / cell); i++) {
    for (let j = Math.floor((r.y - r.h / 2) / cell); j <= Math.floor((r.y + r.h / 2) / cell); j++) keys.push(i * 4096 + j)
  }
  return keys
}
