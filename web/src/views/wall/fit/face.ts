// Where things of a wall are on its elevation: millimetres along the wall and above
// the floor to pixels and back.

import type { Point } from '../../../geometry/vec.ts'
import type { Face } from './things.ts'

export interface Frame {
  length: number // of the wall
  low: number // of what is shown, mm above the floor
  high: number
  scale: number // pixels per mm
  back: boolean // runs from right to left
}

export const edge = { x: 46, y: 30 } // pixels round the wall, for figures

// Who stands before face A, on the left from start to end, sees the wall run from right
// to left, as on the drawings of its boards.
export const runsBack = (face: Face): boolean => face === 'a'

export const width = (f: Frame): number => f.length * f.scale + 2 * edge.x
export const height = (f: Frame): number => (f.high - f.low) * f.scale + 2 * edge.y

export const toPixels = (f: Frame, [u, z]: Point): Point => [edge.x + (f.back ? f.length - u : u) * f.scale, edge.y + (f.high - z) * f.scale]

export function toPlace(f: Frame, [x, y]: Point): Point {
  const d = (x - edge.x) / f.scale
  return [f.back ? f.length - d : d, f.high - (y - edge.y) / f.scale]
}

// The scale at which a wall fits a pane.
export const fitting = (length: number, tall: number, pane: { width: number; height: number }): number =>
  Math.max(Math.min((pane.width - 2 * edge.x) / Math.max(length, 100), (pane.height - 2 * edge.y) / Math.max(tall, 100)), 0.01)

// A place in whole steps; a height near one that others have is taken as theirs.
export function stepped([u, z]: Point, step: number, heights: readonly number[], reach: number): Point {
  const near = heights.filter((h) => Math.abs(h - z) <= reach).sort((a, b) => Math.abs(a - z) - Math.abs(b - z))[0]
  const whole = (x: number) => Math.round(Math.round(x / step) * step * 1000) / 1000
  return [whole(u), near ?? whole(z)]
}
