// What of the plan is seen: the point in the middle and pixels per millimetre.
// Plan y runs up, screen y down.

import type { Box, Point } from '../geometry/vec.ts'

export interface Camera {
  at: Point
  scale: number
}

export interface Size {
  width: number
  height: number
}

export const toScreen = (c: Camera, s: Size, p: Point): Point => [s.width / 2 + (p[0] - c.at[0]) * c.scale, s.height / 2 - (p[1] - c.at[1]) * c.scale]

export const toPlan = (c: Camera, s: Size, q: Point): Point => [c.at[0] + (q[0] - s.width / 2) / c.scale, c.at[1] - (q[1] - s.height / 2) / c.scale]

export const panned = (c: Camera, dx: number, dy: number): Camera => ({ ...c, at: [c.at[0] - dx / c.scale, c.at[1] + dy / c.scale] })

// Zooms such that what is under the screen point q stays there.
export function zoomed(c: Camera, s: Size, q: Point, factor: number): Camera {
  const scale = Math.min(Math.max(c.scale * factor, 0.0005), 4)
  const p = toPlan(c, s, q)
  return { scale, at: [p[0] - (q[0] - s.width / 2) / scale, p[1] + (q[1] - s.height / 2) / scale] }
}

// Shows a box whole with a margin.
export function fitted(b: Box, s: Size): Camera {
  const [w, h] = [Math.max(b.x1 - b.x0, 1000), Math.max(b.y1 - b.y0, 1000)]
  const scale = Math.min(s.width / w, s.height / h) * 0.9
  return { at: [(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2], scale }
}

export function seen(c: Camera, s: Size): Box {
  const [x0, y1] = toPlan(c, s, [0, 0])
  const [x1, y0] = toPlan(c, s, [s.width, s.height])
  return { x0, y0, x1, y1 }
}

// A round spacing of the grid that shows about 20 pixels or more apart.
export function gridStep(scale: number, metric: boolean): number {
  const steps = metric ? [10, 50, 100, 500, 1000, 5000, 10000] : [1, 6, 12, 48, 120, 480].map((inches) => inches * 25.4)
  return steps.find((s) => s * scale >= 18) ?? (steps.at(-1) as number)
}
