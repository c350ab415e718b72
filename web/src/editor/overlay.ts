// Paints what lies over the drawing: selection, what is being drawn or dragged,
// the snapped point and why it snapped.

import type { Line } from '../geometry/arc.ts'
import { body, linePoints } from '../geometry/body.ts'
import type { Wall } from '../core/plan.ts'
import type { Snap } from '../geometry/snap.ts'
import type { Point, Segment } from '../geometry/vec.ts'
import { direction, distance, left, middle } from '../geometry/vec.ts'
import type { Camera, Size } from './camera.ts'
import { toScreen } from './camera.ts'
import type { Theme } from './theme.ts'

export interface Overlay {
  selected: readonly (readonly Point[])[] // outlines
  handles: readonly Point[]
  hovered: readonly Point[] | null
  painted: readonly (readonly Point[])[] // walls under the brush
  dragged: readonly { wall: Wall; thickness: number }[]
  chain: readonly Point[]
  next: Line | null // what the next press would add
  bend: Point | null // the handle that bends the wall selected
  ghost: readonly Point[] | null // an opening or column that would be placed
  found: readonly (readonly Point[])[] // rooms not named yet
  box: readonly [Point, Point] | null
  snap: Snap | null
  pen: Point | null
  length: (w: Line) => string
  thickness: number
}

export function paintOverlay(ctx: CanvasRenderingContext2D, ratio: number, camera: Camera, size: Size, o: Overlay, theme: Theme): void {
  const at = (p: Point) => toScreen(camera, size, p)
  ctx.setTransform(ratio, 0, 0, ratio, 0, 0)
  ctx.clearRect(0, 0, size.width, size.height)
  ctx.lineJoin = 'round'
  for (const f of o.found) shape(ctx, f.map(at), { fill: theme.accent, alpha: 0.1, stroke: theme.accent, width: 1.5, dash: [6, 4] })
  if (o.hovered) shape(ctx, o.hovered.map(at), { stroke: theme.accent, width: 2 })
  for (const s of o.painted) shape(ctx, s.map(at), { fill: theme.accent, alpha: 0.5, stroke: theme.accent, width: 2 })
  for (const s of o.selected) shape(ctx, s.map(at), { fill: theme.accent, alpha: 0.28, stroke: theme.accent, width: 2.5 })
  for (const d of o.dragged) {
    shape(ctx, body(d.wall, d.thickness).map(at), { fill: theme.accent, alpha: 0.25, stroke: theme.accent, width: 1.5 })
    measured(ctx, d.wall, o, at, theme)
  }
  for (const h of o.handles) handle(ctx, at(h), theme)
  if (o.bend) bendMark(ctx, at(o.bend), theme)
  if (o.box) shape(ctx, corners(o.box).map(at), { fill: theme.focus, alpha: 0.1, stroke: theme.focus, width: 1, dash: [4, 3] })
  if (o.ghost) shape(ctx, o.ghost.map(at), { fill: theme.paper, alpha: 0.9, stroke: theme.accent, width: 2 })
  chain(ctx, o, at, theme)
  if (o.snap) snapMark(ctx, o.snap, at, theme)
  if (o.pen) cross(ctx, at(o.pen), theme)
}

interface Style {
  fill?: string
  alpha?: number
  stroke: string
  width: number
  dash?: number[]
}

function shape(ctx: CanvasRenderingContext2D, points: readonly Point[], s: Style): void {
  ctx.beginPath()
  points.forEach(([x, y], i) => (i === 0 ? ctx.moveTo(x, y) : ctx.lineTo(x, y)))
  ctx.closePath()
  if (s.fill) {
    ctx.globalAlpha = s.alpha ?? 1
    ctx.fillStyle = s.fill
    ctx.fill()
    ctx.globalAlpha = 1
  }
  ctx.setLineDash(s.dash ?? [])
  ctx.strokeStyle = s.stroke
  ctx.lineWidth = s.width
  ctx.stroke()
  ctx.setLineDash([])
}

const corners = ([a, b]: readonly [Point, Point]): Point[] => [a, [b[0], a[1]], b, [a[0], b[1]]]

function chain(ctx: CanvasRenderingContext2D, o: Overlay, at: (p: Point) => Point, theme: Theme): void {
  const last = o.chain.at(-1)
  if (!last) return
  for (const p of o.chain) handle(ctx, at(p), theme)
  if (!o.next || distance(...o.next.line) < 1) return
  const { line } = o.next
  if (o.next.via) handle(ctx, at(line[1]), theme)
  shape(ctx, body(o.next as Wall, o.thickness).map(at), { fill: theme.accent, alpha: 0.2, stroke: theme.accent, width: 1.5 })
  measured(ctx, o.next, o, at, theme)
}

// The length of a line beside it, of a curved one with radius and rise.
function measured(ctx: CanvasRenderingContext2D, w: Line, o: Overlay, at: (p: Point) => Point, theme: Theme): void {
  const points = linePoints(w)
  const i = Math.floor((points.length - 1) / 2)
  if (points.length === 2) dimension(ctx, [at(w.line[0]), at(w.line[1])], o.length(w), theme)
  else dimension(ctx, [at(points[i - 1] ?? w.line[0]), at(points[i + 1] ?? w.line[1])], o.length(w), theme, true)
}

// The length in figures beside a line.
function dimension(ctx: CanvasRenderingContext2D, [a, b]: Segment, text: string, theme: Theme, always = false): void {
  if (!always && distance(a, b) < 24) return
  const n = left(direction(a, b))
  const side = n[1] > 0 ? -1 : 1
  const [x, y] = middle(a, b)
  ctx.font = '600 12px system-ui, "Noto Sans", sans-serif'
  ctx.textAlign = 'center'
  ctx.textBaseline = 'middle'
  const w = ctx.measureText(text).width + 10
  const [cx, cy] = [x + n[0] * side * (16 + (w / 2) * Math.abs(n[0])), y + n[1] * side * 22]
  ctx.fillStyle = theme.paper
  ctx.globalAlpha = 0.9
  ctx.fillRect(cx - w / 2, cy - 9, w, 18)
  ctx.globalAlpha = 1
  ctx.fillStyle = theme.ink
  ctx.fillText(text, cx, cy)
}

function handle(ctx: CanvasRenderingContext2D, [x, y]: Point, theme: Theme): void {
  ctx.beginPath()
  ctx.arc(x, y, 5, 0, 7)
  ctx.fillStyle = theme.paper
  ctx.fill()
  ctx.lineWidth = 2
  ctx.strokeStyle = theme.accent
  ctx.stroke()
}

// A small bow, as what it does.
function bendMark(ctx: CanvasRenderingContext2D, [x, y]: Point, theme: Theme): void {
  ctx.beginPath()
  ctx.arc(x, y, 8, 0, 7)
  ctx.fillStyle = theme.paper
  ctx.fill()
  ctx.lineWidth = 1.5
  ctx.strokeStyle = theme.accent
  ctx.stroke()
  ctx.beginPath()
  ctx.arc(x, y + 4.5, 6, Math.PI * 1.2, Math.PI * 1.8)
  ctx.lineWidth = 2
  ctx.stroke()
}

// Each kind of snap has a shape of its own.
function snapMark(ctx: CanvasRenderingContext2D, s: Snap, at: (p: Point) => Point, theme: Theme): void {
  ctx.strokeStyle = theme.focus
  ctx.lineWidth = 1
  ctx.setLineDash([3, 3])
  for (const g of s.guides) {
    ctx.beginPath()
    ctx.moveTo(...(at(g[0]) as [number, number]))
    ctx.lineTo(...(at(g[1]) as [number, number]))
    ctx.stroke()
  }
  ctx.setLineDash([])
  if (s.kind === 'none' || s.kind === 'grid') return
  const [x, y] = at(s.point)
  ctx.lineWidth = 2
  ctx.beginPath()
  if (s.kind === 'end') ctx.rect(x - 6, y - 6, 12, 12)
  else if (s.kind === 'middle') ctx.roundRect(x - 7, y - 4, 14, 8, 4)
  else if (s.kind === 'crossing') {
    for (const k of [-1, 1]) {
      ctx.moveTo(x - 6, y - 6 * k)
      ctx.lineTo(x + 6, y + 6 * k)
    }
  } else ctx.arc(x, y, 6, 0, 7)
  ctx.stroke()
}

function cross(ctx: CanvasRenderingContext2D, [x, y]: Point, theme: Theme): void {
  ctx.strokeStyle = theme.ink
  ctx.lineWidth = 1
  ctx.beginPath()
  ctx.moveTo(x - 12, y + 0.5)
  ctx.lineTo(x + 12, y + 0.5)
  ctx.moveTo(x + 0.5, y - 12)
  ctx.lineTo(x + 0.5, y + 12)
  ctx.stroke()
}
