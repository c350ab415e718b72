// Paints a level: what changes with each edit or camera move. Selection, drawing
// and snapping lie on a second canvas (overlay.ts), so that they cost little.
//
// Bodies are gathered into a few Path2D in plan millimetres when the scene
// changes; a frame then fills and strokes these under the camera's transform.

import type { ProofState } from '../api.ts'
import type { Point } from '../geometry/vec.ts'
import type { Camera, Size } from './camera.ts'
import { gridStep, seen, toScreen } from './camera.ts'
import { labels } from './labels.ts'
import type { Scene, SceneWall } from './scene.ts'
import type { Theme } from './theme.ts'
import { hatch } from './theme.ts'

export type Shade = 'plain' | 'met' | 'not_met' | 'not_proven' | 'not_asked'

export interface Look {
  theme: Theme
  metric: boolean
  // How a wall is shaded, and what is written at it besides its mark.
  shade: (w: SceneWall) => Shade
  label: (w: SceneWall) => string
  roomLabel: (room: Scene['rooms'][number]['room']) => string[]
}

interface Paths {
  rooms: Path2D
  structure: Path2D
  walls: Map<Shade, Path2D>
  edges: Path2D
  gaps: Path2D
  leaves: Path2D
}

export interface Painted {
  scene: Scene
  paths: Paths
  shades: Map<string, Shade>
}

export function prepare(scene: Scene, look: Look): Painted {
  const paths: Paths = { rooms: new Path2D(), structure: new Path2D(), walls: new Map(), edges: new Path2D(), gaps: new Path2D(), leaves: new Path2D() }
  const shades = new Map<string, Shade>()
  for (const r of scene.rooms) ring(paths.rooms, r.room.outline)
  for (const s of scene.structure) ring(paths.structure, s.outline)
  for (const w of scene.walls) {
    const shade = look.shade(w)
    shades.set(w.wall.id, shade)
    let path = paths.walls.get(shade)
    if (!path) paths.walls.set(shade, (path = new Path2D()))
    ring(path, w.outline)
    ring(paths.edges, w.outline)
    for (const o of w.openings) opening(paths, o)
  }
  return { scene, paths, shades }
}

// Goes back to the first corner by a line: closePath takes longer the more the
// path holds, 150 ms in all for 2,000 walls.
function ring(path: Path2D, outline: readonly Point[]): void {
  outline.forEach(([x, y], i) => (i === 0 ? path.moveTo(x, y) : path.lineTo(x, y)))
  const first = outline[0]
  if (first) path.lineTo(first[0], first[1])
}

// An opening is a gap in the wall; a door has one line across it in the middle,
// a window two lines along the faces' thirds, the others a diagonal.
function opening(paths: Paths, o: { kind: string; outline: readonly Point[] }): void {
  ring(paths.gaps, o.outline)
  const n = o.outline.length / 2
  const a = o.outline.slice(0, n)
  const b = o.outline.slice(n).reverse()
  const between = (i: number, k: number): Point => {
    const [p, q] = [a[i] as Point, b[i] as Point]
    return [p[0] + (q[0] - p[0]) * k, p[1] + (q[1] - p[1]) * k]
  }
  const line = (points: readonly Point[]) => points.forEach(([x, y], i) => (i === 0 ? paths.leaves.moveTo(x, y) : paths.leaves.lineTo(x, y)))
  const lengthwise = (k: number) => line(a.map((_, i) => between(i, k)))
  if (o.kind === 'door') lengthwise(0.5)
  else if (o.kind === 'window') for (const k of [1 / 3, 2 / 3]) lengthwise(k)
  else if (o.kind !== 'bare') line([between(0, 0), between(n - 1, 1)])
}

export function paint(ctx: CanvasRenderingContext2D, ratio: number, camera: Camera, size: Size, painted: Painted, look: Look, beneath: () => void): void {
  const { theme } = look
  ctx.setTransform(ratio, 0, 0, ratio, 0, 0)
  ctx.fillStyle = theme.paper
  ctx.fillRect(0, 0, size.width, size.height)
  beneath()
  grid(ctx, camera, size, look)
  const s = camera.scale * ratio
  const origin = toScreen(camera, size, [0, 0])
  ctx.setTransform(s, 0, 0, -s, origin[0] * ratio, origin[1] * ratio)
  const px = 1 / camera.scale
  const { paths } = painted
  ctx.globalAlpha = 0.55
  ctx.fillStyle = theme.room
  ctx.fill(paths.rooms)
  ctx.globalAlpha = 1
  ctx.fillStyle = theme.existing
  ctx.fill(paths.structure)
  for (const [shade, path] of paths.walls) fillWalls(ctx, shade, path, theme, px)
  ctx.lineCap = 'square'
  ctx.lineWidth = 1.1 * px
  ctx.strokeStyle = theme.edge
  ctx.stroke(paths.edges)
  ctx.fillStyle = theme.paper
  ctx.fill(paths.gaps)
  ctx.lineWidth = px
  ctx.stroke(paths.gaps)
  ctx.stroke(paths.leaves)
  ctx.setTransform(ratio, 0, 0, ratio, 0, 0)
  labels(ctx, camera, size, painted, look)
}

function fillWalls(ctx: CanvasRenderingContext2D, shade: Shade, path: Path2D, theme: Theme, px: number): void {
  ctx.fillStyle = { plain: theme.wall, not_asked: theme.wall, met: theme.met, not_met: theme.fail, not_proven: theme.open }[shade]
  ctx.globalAlpha = shade === 'not_asked' ? 0.5 : shade === 'met' ? 0.75 : 1
  if (shade === 'not_met' || shade === 'not_proven') {
    ctx.globalAlpha = 0.25
    ctx.fill(path)
    ctx.globalAlpha = 1
    const pattern = hatch(ctx, shade === 'not_met' ? theme.fail : theme.open, shade === 'not_met' ? 'cross' : 'slant')
    if (typeof pattern !== 'string') pattern.setTransform(new DOMMatrix([px * 0.6, 0, 0, px * 0.6, 0, 0]))
    ctx.fillStyle = pattern
  }
  ctx.fill(path)
  ctx.globalAlpha = 1
}

function grid(ctx: CanvasRenderingContext2D, camera: Camera, size: Size, look: Look): void {
  const step = gridStep(camera.scale, look.metric)
  const b = seen(camera, size)
  ctx.strokeStyle = look.theme.rule
  ctx.globalAlpha = 0.5
  ctx.lineWidth = 1
  ctx.beginPath()
  for (let x = Math.ceil(b.x0 / step) * step; x <= b.x1; x += step) {
    const sx = Math.round(toScreen(camera, size, [x, 0])[0]) + 0.5
    ctx.moveTo(sx, 0)
    ctx.lineTo(sx, size.height)
  }
  for (let y = Math.ceil(b.y0 / step) * step; y <= b.y1; y += step) {
    const sy = Math.round(toScreen(camera, size, [0, y])[1]) + 0.5
    ctx.moveTo(0, sy)
    ctx.lineTo(size.width, sy)
  }
  ctx.stroke()
  ctx.globalAlpha = 1
}

export const shadeOf = (state: ProofState): Shade => (state === '' ? 'plain' : state)
