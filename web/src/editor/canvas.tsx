// The drawing: two canvases one upon the other, the pointer and the keyboard on
// them. Draws at most once a frame, and only what has changed.

import { effect } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { dark, units } from '../preferences.ts'
import { length, t } from '../show.ts'
import { plan, selection } from '../state.ts'
import type { Point } from '../geometry/vec.ts'
import { key } from './keys.ts'
import { lookInputs, lookOf } from './look.ts'
import { overlayNow } from './overlaystate.ts'
import { paintOverlay } from './overlay.ts'
import type { Painted } from './paint.ts'
import { paint, prepare } from './paint.ts'
import { cancel, down, ghost, hovered, move, up, wheel } from './pointer.ts'
import { camera, fit, level, scene, size, tool } from './session.ts'
import { readTheme } from './theme.ts'
import type { Theme } from './theme.ts'
import { findRoomsNow } from './tools.ts'
import { paintUnderlay, underlay } from './underlay.ts'

export function Drawing() {
  const below = useRef<HTMLCanvasElement>(null)
  const above = useRef<HTMLCanvasElement>(null)
  useEffect(() => (below.current && above.current ? attach(below.current, above.current) : undefined), [])
  const c = camera.value
  return (
    <div class={`drawing tool-${tool.value}`}>
      <canvas ref={below} class="drawing-plan" aria-hidden="true" />
      <canvas
        ref={above}
        class="drawing-over"
        tabIndex={0}
        role="application"
        aria-label={t('plan.drawing')}
        aria-describedby="drawing-keys"
        data-x={c.at[0]}
        data-y={c.at[1]}
        data-scale={c.scale}
      />
      <p id="drawing-keys" class="hidden-text">
        {t('plan.keys')}
      </p>
      <p class="hidden-text" role="status" aria-live="polite">
        {spoken()}
      </p>
    </div>
  )
}

// What a screen reader says of the selection.
function spoken(): string {
  const n = selection.value.length
  const w = n === 1 ? plan.value?.walls.find((x) => x.id === selection.value[0]) : undefined
  if (w) return t('plan.selected.wall', { id: w.id, buildup: w.buildup ?? '', length: length(Math.hypot(w.line[1][0] - w.line[0][0], w.line[1][1] - w.line[0][1])) })
  return n > 0 ? t('plan.selected', { n }) : ''
}

function attach(below: HTMLCanvasElement, above: HTMLCanvasElement): () => void {
  const lower = below.getContext('2d') as CanvasRenderingContext2D
  const upper = above.getContext('2d') as CanvasRenderingContext2D
  const ratio = () => Math.min(devicePixelRatio || 1, 2)
  let painted: Painted | null = null
  let theme: Theme = readTheme()
  let [lowerDue, upperDue, frame] = [true, true, 0]

  const tick = () => {
    frame = 0
    if (lowerDue) {
      const look = lookOf(theme)
      painted ??= prepare(scene.peek(), look)
      lower.setTransform(1, 0, 0, 1, 0, 0)
      paint(lower, ratio(), camera.peek(), size.peek(), painted, look, () => paintUnderlay(lower, ratio(), camera.peek(), size.peek()))
      below.dataset.painted = String(performance.now())
    }
    if (upperDue) paintOverlay(upper, ratio(), camera.peek(), size.peek(), overlayNow.peek(), theme)
    lowerDue = upperDue = false
  }
  const due = () => {
    if (frame === 0) frame = requestAnimationFrame(tick)
  }

  const stops: (() => void)[] = [
    effect(() => {
      // All that the bodies and their shading depend on.
      void [scene.value, lookInputs.value, dark.value]
      theme = readTheme()
      painted = null
      lowerDue = upperDue = true
      due()
    }),
    effect(() => {
      void [camera.value, size.value, units.value, underlay.value]
      lowerDue = upperDue = true
      due()
    }),
    effect(() => {
      void overlayNow.value
      upperDue = true
      due()
    }),
    effect(() => {
      void [level.value, size.value.width > 0]
      const box = scene.peek().box
      if (box) fit(box)
    }),
    effect(() => {
      void [tool.value, scene.value]
      findRoomsNow()
    }),
  ]

  const resize = new ResizeObserver(() => {
    const { width, height } = above.getBoundingClientRect()
    if (width === 0) return
    for (const c of [below, above]) {
      c.width = Math.round(width * ratio())
      c.height = Math.round(height * ratio())
    }
    size.value = { width, height }
  })
  resize.observe(above)

  const place = (e: PointerEvent | WheelEvent): Point => {
    const r = above.getBoundingClientRect()
    return [e.clientX - r.left, e.clientY - r.top]
  }
  const on = <K extends keyof HTMLElementEventMap>(name: K, f: (e: HTMLElementEventMap[K]) => void, options?: AddEventListenerOptions) => {
    above.addEventListener(name, f, options)
    stops.push(() => above.removeEventListener(name, f))
  }
  on('pointerdown', (e) => {
    above.setPointerCapture(e.pointerId)
    above.focus({ preventScroll: true })
    down(place(e), e)
  })
  on('pointermove', (e) => move(place(e), e))
  on('pointerup', (e) => up(place(e), e))
  on('pointercancel', cancel)
  on('pointerleave', () => {
    hovered.value = null
    ghost.value = null
  })
  on('contextmenu', (e) => e.preventDefault())
  on('wheel', (e) => (e.preventDefault(), wheel(place(e), e)), { passive: false })
  on('keydown', (e) => {
    if (key(e)) e.preventDefault()
  })
  return () => {
    stops.forEach((stop) => stop())
    resize.disconnect()
    cancelAnimationFrame(frame)
  }
}
