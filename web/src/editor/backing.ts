// The canvas of the level is larger than what is seen, by a margin all round.
// While the view moves it is only shifted and scaled as a picture, which costs
// nothing however much stands on the level; it is painted anew when the view
// leaves what was painted, and when it has come to rest.

import type { Camera, Size } from './camera.ts'
import { toScreen } from './camera.ts'

export const margin = 240

const restAfter = 120 // ms
const blurred = 2.2 // scaled further than this, a picture is too coarse to look at

export const widened = (s: Size): Size => ({ width: s.width + 2 * margin, height: s.height + 2 * margin })

export interface Shift {
  x: number
  y: number
  k: number
}

// How the picture painted for one camera is to be laid for another, about its
// middle; null where it would not cover what is seen, or be too coarse.
export function shifted(painted: Camera, now: Camera, size: Size): Shift | null {
  const k = now.scale / painted.scale
  if (k > blurred || k < 1 / blurred) return null
  const [mx, my] = toScreen(now, size, painted.at)
  const [x, y] = [mx - size.width / 2, my - size.height / 2]
  const wide = widened(size)
  const covers = Math.abs(x) <= (wide.width * k - size.width) / 2 && Math.abs(y) <= (wide.height * k - size.height) / 2
  return covers ? { x, y, k } : null
}

export class Rest {
  private due: ReturnType<typeof setTimeout> | undefined

  constructor(private readonly then: () => void) {}

  // Waits anew with each call.
  wait(): void {
    clearTimeout(this.due)
    this.due = setTimeout(this.then, restAfter)
  }

  stop(): void {
    clearTimeout(this.due)
  }
}
