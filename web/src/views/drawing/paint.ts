// Paints the drawing, faint, and over it what was recognised: how it stands is told
// by fill and stroke, not by colour alone, and its confidence by a number.

import type { Camera, Size } from '../../editor/camera.ts'
import { toScreen } from '../../editor/camera.ts'
import type { Theme } from '../../editor/theme.ts'
import { hatch } from '../../editor/theme.ts'
import type { Point, Segment } from '../../geometry/vec.ts'
import { boxOf, middleInside } from '../../geometry/vec.ts'
import { percent } from './words.ts'
import type { Item } from './items.ts'
import { shapes } from './items.ts'
import type { Reading } from './types.ts'

export interface Scene {
  items: readonly Item[]
  byKey: ReadonlyMap<string, Item>
  picked: string | null
  firstLine: Segment | null
  layer: string | null
  left: readonly Segment[]
}

export interface Inks {
  layers: { layer: string; lines: Path2D; filled: Path2D }[]
}

// The drawing as paths, made once.
export function inksOf(r: Reading): Inks {
  return {
    layers: r.picture.layers.map((s) => {
      const lines = new Path2D()
      for (let i = 0; i + 3 < s.lines.length; i += 4) {
        lines.moveTo(s.lines[i] as number, s.lines[i + 1] as number)
        lines.lineTo(s.lines[i + 2] as number, s.lines[i + 3] as number)
      }
      const filled = new Path2D()
      for (const o of s.filled) {
        for (let i = 0; i + 1 < o.length; i += 2) (i === 0 ? filled.moveTo : filled.lineTo).call(filled, o[i] as number, o[i + 1] as number)
        filled.closePath()
      }
      return { layer: s.layer, lines, filled }
    }),
  }
}

export function paint(ctx: CanvasRenderingContext2D, ratio: number, c: Camera, s: Size, inks: Inks, scene: Scene, theme: Theme): void {
  ctx.setTransform(ratio, 0, 0, ratio, 0, 0)
  ctx.fillStyle = theme.paper
  ctx.fillRect(0, 0, s.width, s.height)
  paintInks(ctx, ratio, c, s, inks, scene, theme)
  ctx.setTransform(ratio, 0, 0, ratio, 0, 0)
  const order = ['room', 'column', 'structure', 'wall', 'opening']
  for (const kind of order) for (const i of scene.items) if (i.kind === kind) paintItem(ctx, c, s, i, scene, theme)
  const taken: Seat[] = []
  const doubtful = scene.items.filter((i) => i.kind !== 'opening').sort((a, b) => a.confidence - b.confidence)
  for (const i of doubtful) label(ctx, c, s, i, theme, taken)
  paintMarks(ctx, c, s, scene, theme)
}

function paintInks(ctx: CanvasRenderingContext2D, ratio: number, c: Camera, s: Size, inks: Inks, scene: Scene, theme: Theme): void {
  const k = ratio * c.scale
  ctx.setTransform(k, 0, 0, -k, ratio * (s.width / 2 - c.at[0] * c.scale), ratio * (s.height / 2 + c.at[1] * c.scale))
  for (const l of inks.layers) {
    const lit = l.layer === scene.layer
    ctx.globalAlpha = lit ? 1 : 0.45
    ctx.strokeStyle = lit ? theme.focus : theme.soft
    ctx.lineWidth = (lit ? 2 : 0.8) / c.scale
    ctx.stroke(l.lines)
    ctx.globalAlpha = lit ? 0.5 : 0.15
    ctx.fillStyle = lit ? theme.focus : theme.soft
    ctx.fill(l.filled)
  }
  ctx.globalAlpha = 1
}

function trace(ctx: CanvasRenderingContext2D, c: Camera, s: Size, points: readonly Point[]): void {
  ctx.beginPath()
  points.forEach((p, i) => {
    const [x, y] = toScreen(c, s, p)
    if (i === 0) ctx.moveTo(x, y)
    else ctx.lineTo(x, y)
  })
  ctx.closePath()
}

function paintItem(ctx: CanvasRenderingContext2D, c: Camera, s: Size, i: Item, scene: Scene, theme: Theme): void {
  const bodies = shapes(i, scene.byKey.get(i.host ?? ''))
  const colour = i.kind === 'structure' || i.kind === 'column' ? theme.existing : i.kind === 'opening' ? theme.focus : theme.accent
  for (const b of bodies) {
    trace(ctx, c, s, b)
    ctx.setLineDash(i.standing === 'refused' ? [3, 4] : [])
    ctx.lineWidth = 1.2
    ctx.strokeStyle = i.standing === 'refused' ? theme.fail : colour
    if (i.kind === 'room') {
      if (i.standing === 'taken') fill(ctx, theme.room, 0.55)
    } else {
      if (i.kind === 'opening' && i.standing !== 'refused') fill(ctx, theme.paper, 0.9)
      if (i.standing === 'taken') fill(ctx, colour, i.kind === 'opening' ? 0.35 : 0.75)
      if (i.standing === 'open') fill(ctx, hatch(ctx, colour, 'slant'), 0.9)
      ctx.stroke()
    }
    ctx.setLineDash([])
    if (i.standing === 'refused' && i.kind !== 'room') strike(ctx, c, s, b, theme)
  }
}

function fill(ctx: CanvasRenderingContext2D, style: string | CanvasPattern, alpha: number): void {
  ctx.globalAlpha = alpha
  ctx.fillStyle = style
  ctx.fill()
  ctx.globalAlpha = 1
}

// A refused thing is crossed out.
function strike(ctx: CanvasRenderingContext2D, c: Camera, s: Size, b: readonly Point[], theme: Theme): void {
  const box = boxOf(b)
  const [x, y] = toScreen(c, s, [(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2])
  ctx.strokeStyle = theme.fail
  ctx.lineWidth = 2
  ctx.beginPath()
  ctx.moveTo(x - 5, y - 5)
  ctx.lineTo(x + 5, y + 5)
  ctx.moveTo(x - 5, y + 5)
  ctx.lineTo(x + 5, y - 5)
  ctx.stroke()
}

interface Seat {
  x: number
  y: number
  w: number
}

// The confidence beside a thing that is not decided, where there is room for it: what is
// in doubt comes first, and what would lie over another is left out.
function label(ctx: CanvasRenderingContext2D, c: Camera, s: Size, i: Item, theme: Theme, taken: Seat[]): void {
  const b = shapes(i)[0]
  if (!b || i.standing !== 'open') return
  const box = boxOf(b)
  const long = Math.max(box.x1 - box.x0, box.y1 - box.y0) * c.scale
  if (long < 44) return
  const at = i.kind === 'room' ? middleInside(b) : ([(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2] as Point)
  const [x, y] = toScreen(c, s, at)
  const text = i.kind === 'room' && i.words ? `${i.words} · ${percent(i.confidence)}` : percent(i.confidence)
  ctx.font = '11px system-ui, sans-serif'
  ctx.textAlign = 'center'
  ctx.textBaseline = 'middle'
  const w = ctx.measureText(text).width + 6
  if (taken.some((o) => Math.abs(o.x - x) < (o.w + w) / 2 && Math.abs(o.y - y) < 16)) return
  taken.push({ x, y, w })
  ctx.fillStyle = theme.paper
  ctx.globalAlpha = 0.88
  ctx.fillRect(x - w / 2, y - 8, w, 16)
  ctx.globalAlpha = 1
  ctx.fillStyle = theme.ink
  ctx.fillText(text, x, y)
}

function paintMarks(ctx: CanvasRenderingContext2D, c: Camera, s: Size, scene: Scene, theme: Theme): void {
  ctx.strokeStyle = theme.open
  ctx.lineWidth = 2
  ctx.setLineDash([2, 3])
  for (const l of scene.left) stroke(ctx, c, s, l)
  ctx.setLineDash([])
  if (scene.firstLine) {
    ctx.strokeStyle = theme.focus
    ctx.lineWidth = 4
    stroke(ctx, c, s, scene.firstLine)
  }
  const i = scene.picked === null ? undefined : scene.byKey.get(scene.picked)
  for (const b of i ? shapes(i, scene.byKey.get(i.host ?? '')) : []) {
    trace(ctx, c, s, b)
    ctx.strokeStyle = theme.focus
    ctx.lineWidth = 3
    ctx.stroke()
  }
}

function stroke(ctx: CanvasRenderingContext2D, c: Camera, s: Size, [a, b]: Segment): void {
  ctx.beginPath()
  ctx.moveTo(...(toScreen(c, s, a) as [number, number]))
  ctx.lineTo(...(toScreen(c, s, b) as [number, number]))
  ctx.stroke()
}
