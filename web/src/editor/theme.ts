// The colours of the drawing, taken from the style sheet's names so that light
// and dark follow it, and the hatches that tell states apart without colour.

export interface Theme {
  ground: string
  paper: string
  ink: string
  soft: string
  rule: string
  wall: string
  edge: string
  existing: string
  room: string
  accent: string
  met: string
  fail: string
  open: string
  focus: string
}

export function readTheme(): Theme {
  const style = getComputedStyle(document.documentElement)
  const v = (name: string) => style.getPropertyValue(`--${name}`).trim()
  return {
    ground: v('ground'), paper: v('paper'), ink: v('ink'), soft: v('ink-soft'), rule: v('rule'), wall: v('wall'), edge: v('wall-edge'),
    existing: v('existing'), room: v('room'), accent: v('accent'), met: v('met'), fail: v('fail'), open: v('open'), focus: v('focus'),
  }
}

const tile = 12

// Crossed lines for what is not met, slanting lines for what is not proven; what
// is met is plain. The same on screens without colour and in print.
export function hatch(ctx: CanvasRenderingContext2D, colour: string, kind: 'slant' | 'cross'): CanvasPattern | string {
  const c = document.createElement('canvas')
  c.width = c.height = tile
  const g = c.getContext('2d')
  if (!g) return colour
  g.strokeStyle = colour
  g.lineWidth = kind === 'cross' ? 2 : 1.6
  g.beginPath()
  for (const k of [-tile, 0, tile]) {
    g.moveTo(k - 1, tile + 1)
    g.lineTo(k + tile + 1, -1)
    if (kind === 'cross') {
      g.moveTo(k - 1, -1)
      g.lineTo(k + tile + 1, tile + 1)
    }
  }
  g.stroke()
  return ctx.createPattern(c, 'repeat') ?? colour
}
